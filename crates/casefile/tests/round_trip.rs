//! What is written reads back to the same document.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{Dice, pieces_unlined, read_case, unlined};
use proptest::prelude::*;
use std::fs;
use std::path::Path;
use unmire_casefile::{Document, read, render, write_case, write_kit, write_rig};

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn regress_a_case_reads_back(seed in any::<u64>()) {
        let case = Dice(seed).case();
        let text = write_case(&case);
        let back = unlined(read_case(&text));
        prop_assert_eq!(&back, &case, "\n{}", text);
        // What was read is written the same again: the text has settled.
        prop_assert_eq!(write_case(&back), text);
    }

    #[test]
    fn regress_a_bag_reads_back(seed in any::<u64>()) {
        let mut kit = Dice(seed).kit();
        kit.extend(Dice(seed ^ 1).kit().into_iter().map(|mut p| { p.id = format!("x{}", p.id); p }));
        prop_assume!(!kit.is_empty());
        let text = write_kit(&kit);
        match read(&text, &mut |_| Err(String::new())) {
            Ok(Document::Kit(mut back)) => {
                pieces_unlined(&mut back);
                prop_assert_eq!(back, kit, "\n{}", text);
            }
            Ok(_) => prop_assert!(false, "not a kit"),
            Err(d) => prop_assert!(false, "{}\n{}", render(&d, "kit", 120), text),
        }
    }
}

#[test]
fn regress_every_example_reads_back() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut rigs = 0;
    let mut cases = 0;
    for entry in fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let mut resolve = |p: &str| fs::read_to_string(folder.join(p)).map_err(|e| e.to_string());
        match read(&text, &mut resolve).unwrap_or_else(|d| panic!("{}", render(&d, &path.display().to_string(), 100))) {
            Document::Case(c) => {
                cases += 1;
                let again = write_case(&c);
                assert_eq!(unlined(read_case(&again)), unlined(*c), "{again}");
            }
            Document::Rig(r) => {
                rigs += 1;
                let again = write_rig(&r);
                assert_eq!(read(&again, &mut |_| Err(String::new())), Ok(Document::Rig(r)), "{again}");
            }
            Document::Kit(_) => {}
        }
    }
    assert!(cases >= 8 && rigs >= 1, "{cases} {rigs}");
}
