//! What is written reads back to the same document.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{Dice, pieces_unlined, read_case, unlined};
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use unmire_casefile::key::{Key, Kind};
use unmire_casefile::keys::anchor::{ANCHOR, ANCHOR_KINDS, KINDS};
use unmire_casefile::keys::kinetic::{ASKED, PROBLEM, PULLER, ROPE, STUCK};
use unmire_casefile::{Document, read, render, write_case, write_kinetic, write_kit, write_rig};

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

/// Every key of a bare problem is written by chance, and reads back.
#[test]
fn regress_a_bare_problem_reads_back() {
    let mut seen = BTreeSet::new();
    for seed in 0..300 {
        let problem = Dice(seed).bare_pull();
        let text = write_kinetic(&problem);
        match read(&text, &mut |_| Err(String::new())) {
            Ok(Document::Kinetic(back)) => assert_eq!(*back, problem, "\n{text}"),
            Ok(_) => panic!("not a problem"),
            Err(d) => panic!("{}\n{text}", render(&d, "problem", 120)),
        }
        seen.extend(text.lines().filter_map(|l| l.split_once(" = ")).map(|(k, _)| k.to_owned()));
    }
    for s in [&PROBLEM, &PULLER, &STUCK, &ROPE, &ASKED] {
        for k in s.keys.iter().filter(|k| !matches!(k.kind, Kind::Table(_))) {
            assert!(seen.contains(k.name), "{} was never written", k.name);
        }
    }
}

/// The chance above leaves no key of any kind of anchor out.
#[test]
fn regress_chance_writes_every_key_of_every_kind() {
    let mut seen = BTreeSet::new();
    for seed in 0..400 {
        let text = write_case(&Dice(seed).case());
        for table in text.split("\n\n").filter(|t| t.starts_with("[[anchor]]")) {
            let kind = ANCHOR_KINDS.iter().find(|k| table.contains(&format!("\nkind = \"{k}\"\n"))).unwrap();
            seen.extend(table.lines().filter_map(|l| l.split_once(" = ")).map(|(k, _)| format!("{kind}: {k}")));
            // What stands in a table on one line.
            let inner = table.split(['{', ',']).filter_map(|p| p.split_once(" = ")).map(|(k, _)| k.trim());
            seen.extend(inner.map(|k| format!("{kind}: .{k}")));
        }
    }
    let mut wanted = 0;
    for kind in KINDS {
        for key in kind.keys.iter().chain(ANCHOR.keys.iter().filter(|k| ["holds", "tied_back"].contains(&k.name))) {
            let inner: &[Key] = if let Kind::Table(s) = key.kind { s.keys } else { &[] };
            // A girth is written as the diameter.
            let own = [format!("{}: {}", kind.name, key.name)].into_iter().filter(|_| key.name != "girth");
            for name in own.chain(inner.iter().map(|k| format!("{}: .{}", kind.name, k.name))) {
                assert!(seen.contains(&name), "{name} was never written");
                wanted += 1;
            }
        }
    }
    assert!(wanted > 100, "{wanted}");
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
            Document::Kinetic(_) => panic!("{}: bare problems stand in their own folder", path.display()),
        }
    }
    assert!(cases >= 8 && rigs >= 1, "{cases} {rigs}");
}
