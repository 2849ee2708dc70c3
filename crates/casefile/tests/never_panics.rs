//! Whatever the bytes: an answer or diagnostics that point into the text, never a panic.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::Dice;
use proptest::prelude::*;
use std::fs;
use std::path::Path;
use unmire_casefile::{Diagnostic, Known, read_bytes, render};

fn examples() -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut all: Vec<_> = ["", "errors", "kit"]
        .iter()
        .flat_map(|sub| fs::read_dir(folder.join(sub)).unwrap().map(|e| e.unwrap().path()))
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    all.iter().map(|p| fs::read(p).unwrap()).collect()
}

fn check(bytes: &[u8]) -> Result<(), TestCaseError> {
    let read = read_bytes(bytes, &mut |_| Ok("schema = \"unmire.kit/1\"\n[[piece]]\nid = 3".into()), &Known::default());
    if let Err(told) = read {
        prop_assert!(!told.is_empty());
        for Diagnostic { line, column, span, message, .. } in &told {
            prop_assert!(*line >= 1 && *column >= 1 && !message.is_empty());
            prop_assert!(span.start <= span.end);
        }
        for width in [10, 40, 100] {
            prop_assert!(!render(&told, "x.toml", width).is_empty());
        }
    }
    Ok(())
}

/// A document with a few bytes, lines or words changed.
fn damaged(dice: &mut Dice, all: &[Vec<u8>]) -> Vec<u8> {
    let mut b = dice.pick(all);
    let words: [&[u8]; 16] = [
        b"\"",
        b"[",
        b"]",
        b"{",
        b"}",
        b"=",
        b"\n",
        b"nan",
        b"-inf",
        b"1e999",
        b"\xff\xfe",
        b"[[anchor]]",
        b"..",
        b"\0",
        b"'''",
        "ü°".as_bytes(),
    ];
    for _ in 0..1 + dice.below(4) {
        let len = b.len().max(1) as u64;
        let at = (dice.below(len) as usize).min(b.len());
        let to = (at + dice.below(60) as usize).min(b.len());
        match dice.below(5) {
            0 => drop(b.drain(at..to)),
            1 => {
                let part = b[at..to].to_vec();
                b.splice(at..at, part);
            }
            2 => drop(b.splice(at..at, dice.pick(&words).iter().copied()).count()),
            3 => drop(b.splice(at..to, dice.pick(&words).iter().copied()).count()),
            _ => {
                if let Some(x) = b.get_mut(at) {
                    *x = (dice.below(256)) as u8;
                }
            }
        }
    }
    b
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn regress_any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        check(&bytes)?;
    }

    #[test]
    fn regress_any_text(text in "\\PC{0,200}") {
        check(text.as_bytes())?;
        check(format!("schema = \"unmire.case/1\"\n{text}").as_bytes())?;
    }

    #[test]
    fn regress_a_damaged_example(seed in any::<u64>()) {
        let mut dice = Dice(seed);
        check(&damaged(&mut dice, &examples()))?;
    }
}

#[test]
fn regress_large_and_deep() {
    let million = "[[anchor]]\nid = \"A\"\n".repeat(1_000_000);
    let too_many = format!("schema = \"unmire.case/1\"\n{}", "[[anchor]]\n".repeat(50_000));
    let deep = format!("schema = \"unmire.case/1\"\nx = {}", "[".repeat(100_000));
    let dotted = format!("schema = \"unmire.case/1\"\n{} = 1", vec!["a"; 100_000].join("."));
    let tables = format!("schema = \"unmire.case/1\"\n[{}]", vec!["a"; 100_000].join("."));
    let inline = format!("schema = \"unmire.case/1\"\nx = {}", "{a=".repeat(100_000));
    for (text, code) in [
        (million, "too-large"),
        (too_many, "too-many"),
        (deep, "toml"),
        (dotted, "toml"),
        (tables, "toml"),
        (inline, "toml"),
    ] {
        let told = read_bytes(text.as_bytes(), &mut |_| Err(String::new()), &Known::default()).unwrap_err();
        assert!(told.iter().any(|d| d.code == code), "{code}: {}", render(&told, "x", 100));
        assert!(told.len() <= 100);
    }
}
