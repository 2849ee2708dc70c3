//! `unmire new`: asked through pipes, written once, ready to be planned.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use common::{Folder, unmire_fed, unmire_in};

const ANSWERS: &str = "2.2 t .. 2.6 t\nwheel\n4 deg up, 6 deg left high\n6 m .. 10 m\n22 m ahead, 1 m up\n1.9 m\n9,500 lb\n\
                       28 m; 10 mm; synthetic; MBS 88 kN\n3, 1\ntree strap, WLL 3 t (7:1), 3 m, 75 mm; 2 bow shackle, WLL 4.75 t (6:1); shovel\n";

#[test]
fn regress_answers_make_a_case_that_can_be_planned() {
    let f = Folder::new("new");
    let r = unmire_fed(&f.0, &["new", "mine.toml"], ANSWERS);
    assert_eq!((r.status, r.stdout.as_str()), (0, ""), "{}", r.stderr);
    assert!(r.stderr.contains("unmire plan mine.toml"), "{}", r.stderr);
    let text = std::fs::read_to_string(f.0.join("mine.toml")).unwrap();
    assert!(text.contains("assumed"), "what was not asked is marked");
    let p = unmire_in(&f.0, &["plan", "mine.toml", "--json"]);
    assert!(p.status == 0 || p.status == 1, "{}", p.stderr);
    let v: serde_json::Value = serde_json::from_str(&p.stdout).unwrap();
    assert!(v["demand"]["high_n"].as_f64().unwrap() > 0.0);
}

#[test]
fn regress_the_case_may_go_to_standard_output() {
    let f = Folder::new("new-stdout");
    let r = unmire_fed(&f.0, &["new"], ANSWERS);
    assert_eq!(r.status, 0, "{}", r.stderr);
    assert!(r.stdout.contains("unmire.case/1"));
    let p = unmire_fed(&f.0, &["plan", "-", "--json"], &r.stdout);
    assert!(p.status == 0 || p.status == 1, "{}", p.stderr);
    assert_eq!(unmire_fed(&f.0, &["new", "-"], ANSWERS).stdout, r.stdout);
    assert_eq!(std::fs::read_dir(&f.0).unwrap().count(), 0);
}

#[test]
fn regress_a_file_that_is_there_stays() {
    let f = Folder::new("new-there");
    std::fs::write(f.0.join("mine.toml"), "mine").unwrap();
    let r = unmire_fed(&f.0, &["new", "mine.toml"], ANSWERS);
    assert_eq!(r.status, 2);
    assert!(r.stderr.contains("--force") && !r.stderr.contains("1/10"), "told before the first question: {}", r.stderr);
    assert_eq!(std::fs::read_to_string(f.0.join("mine.toml")).unwrap(), "mine");
    assert_eq!(unmire_fed(&f.0, &["new", "mine.toml", "--force"], ANSWERS).status, 0);
    assert!(std::fs::read_to_string(f.0.join("mine.toml")).unwrap().contains("unmire.case/1"));
}

#[test]
fn regress_input_that_ends_early_writes_nothing() {
    let f = Folder::new("new-early");
    for input in ["", "2.4 t\n", "2 tons\n2 tons\n"] {
        let r = unmire_fed(&f.0, &["new", "mine.toml"], input);
        assert_eq!(r.status, 2);
        assert!(r.stderr.contains("the input ended"), "{}", r.stderr);
        assert!(!f.0.join("mine.toml").exists());
    }
}

#[test]
fn regress_nobody_knows_anything_still_makes_a_case() {
    let f = Folder::new("new-empty");
    let r = unmire_fed(&f.0, &["new"], &"\n".repeat(10));
    assert_eq!(r.status, 0, "{}", r.stderr);
    let p = unmire_fed(&f.0, &["plan", "-"], &r.stdout);
    assert_eq!(p.status, 1, "what nobody knows never passes: {}{}", p.stdout, p.stderr);
}
