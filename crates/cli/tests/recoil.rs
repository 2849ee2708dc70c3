//! `unmire recoil`: some examples as they were reviewed, the shape of its JSON, its exit status, and what it says of wrong input.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use common::{cases, examples, expect, unmire};
use serde_json::Value;

/// The ones that are reviewed whole: a rig that is given, a holding line, a lever puller.
const REVIEWED: &[&str] = &["check-double-line", "side-slope", "hand-winch-and-neighbour"];

/// Cases, without bare rigs.
fn whole() -> Vec<String> {
    let bare = |c: &String| std::fs::read_to_string(examples().join(c)).unwrap().contains("unmire.rig/1");
    cases().into_iter().filter(|c| !bare(c)).collect()
}
fn json(case: &str) -> Value {
    serde_json::from_str(&unmire(&["recoil", case, "--json"]).stdout).unwrap()
}

#[test]
fn regress_some_examples_are_as_reviewed() {
    for name in REVIEWED {
        let case = format!("{name}.toml");
        let file = |end: &str| examples().join("recoil").join(format!("{name}.expected.{end}"));
        let r = unmire(&["recoil", &case, "--width", "80"]);
        assert!(r.status == 0 || r.status == 1, "{case}: {}", r.stderr);
        expect(&file("txt"), &format!("$ unmire recoil {case}\n{}exit status {}\n", r.stdout, r.status));
        let j = unmire(&["recoil", &case, "--json"]);
        assert_eq!(j.status, r.status);
        expect(&file("json"), &j.stdout);
        let s = unmire(&["recoil", &case, "--svg", "-"]);
        assert_eq!(s.status, r.status);
        expect(&file("svg"), &s.stdout);
    }
}

#[test]
fn regress_every_example_fits_the_schema_and_its_exit_status() {
    let schema: Value = serde_json::from_str(&unmire(&["schema", "recoil"]).stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut answered = 0;
    for case in whole() {
        let r = unmire(&["recoil", &case, "--json", "--explain"]);
        if r.status == 2 {
            assert!(r.stderr.contains("no rig"), "{case}: {}", r.stderr);
            continue;
        }
        answered += 1;
        let v: Value = serde_json::from_str(&r.stdout).unwrap();
        let errors: Vec<String> = validator.iter_errors(&v).map(|e| format!("{e} at {}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{case}: {errors:#?}");
        assert_eq!(v["schema"], "unmire.recoil/1");
        assert_eq!(r.status, i32::from(!v["passes"].as_bool().unwrap()), "{case}");
        assert!(!v["trail"].as_array().unwrap().is_empty());
        for f in v["failures"].as_array().unwrap() {
            assert!(f["part"].is_string() && !f["flies"].as_array().unwrap().is_empty(), "{case}: {f}");
            if let (Some(u), Some(most)) = (f["energy_j"].as_f64(), f["speed_bound_m_s"].as_f64()) {
                assert!(u > 0.0 && most > 0.0);
                for fly in f["flies"].as_array().unwrap() {
                    assert!(fly["speed_bound_m_s"].as_f64().unwrap() <= most);
                }
            }
        }
    }
    assert!(answered >= 5, "{answered}");
}

#[test]
fn the_ground_is_that_of_plan_and_check() {
    for case in whole() {
        let other: Value = serde_json::from_str(&unmire(&[common::verb(&case), &case, "--json"]).stdout).unwrap();
        let Some(plan) = other["plans"].get(0) else { continue };
        let v = json(&case);
        assert_eq!(v["keep_out"], plan["keep_out"], "{case}");
        assert_eq!(v["rig"], plan["summary"], "{case}");
        let ring = v["keep_out"]["rings"][0].as_array().unwrap();
        assert!(ring.len() >= 24 && ring.iter().all(|p| p[0].is_number() && p[1].is_number()), "{case}");
    }
}

#[test]
fn regress_the_words_are_blunt_and_promise_nothing() {
    for case in whole() {
        let r = unmire(&["recoil", &case, "--explain"]);
        if r.status == 2 {
            continue;
        }
        let text = r.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        for word in [
            "becomes a projectile",
            "never on a tow ball",
            "Who stands where",
            "Training, the makers' instructions and local rules come first",
            "none shrinks this ground",
            "3 to 4 unstretched lengths",
        ] {
            assert!(text.contains(word), "{case}: {word}");
        }
        for arguments in [&["--explain"][..], &["--json"], &["--svg", "-"], &["--units", "us"]] {
            let mut all = vec!["recoil", case.as_str()];
            all.extend_from_slice(arguments);
            let text = unmire(&all).stdout.to_lowercase();
            let found =
                text.lines().find(|l| l.split(|c: char| !c.is_alphabetic()).any(|w| w == "safe" || w == "safely"));
            assert_eq!(found, None, "{case}");
            let nan = text.split(|c: char| !c.is_alphabetic()).any(|w| w == "nan" || w == "inf");
            assert!(!nan, "{case}");
        }
    }
}

#[test]
fn regress_every_code_that_is_named_can_be_explained() {
    for case in whole() {
        let v = json(&case);
        for f in v["findings"].as_array().unwrap() {
            let code = f["code"].as_str().unwrap();
            assert_eq!(unmire(&["explain", code]).status, 0, "{code}");
        }
    }
}

#[test]
fn regress_no_line_is_wider_than_asked_for() {
    for width in ["40", "80", "120"] {
        let most: usize = width.parse().unwrap();
        for case in REVIEWED {
            let text = unmire(&["recoil", &format!("{case}.toml"), "--width", width]).stdout;
            for line in text.lines() {
                assert!(line.chars().count() <= most, "{case} at {width}: {line}");
            }
        }
    }
}

#[test]
fn regress_wrong_usage_is_told() {
    for (arguments, hint) in [
        (&["recoil"][..], "<CASE>"),
        (&["recoil", "bare-redirect.toml"], "bare rig"),
        (&["recoil", "kit/club-bag.toml"], "kit"),
        (&["recoil", "wet-gras.toml"], "did you mean wet-grass.toml"),
        (&["recoil", "wet-grass.toml", "--policy", "regulator-stal"], "'regulator-stall'"),
    ] {
        let r = unmire(arguments);
        assert_eq!((r.status, r.stdout.as_str()), (2, ""), "{arguments:?}: {}", r.stderr);
        assert!(r.stderr.contains(hint), "{arguments:?}: {}", r.stderr);
    }
}
