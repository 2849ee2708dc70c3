//! `unmire pull` on every example: text, JSON against its schema, CSV, charts.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use common::{cases, examples, expect, unmire};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Examples that hold a case.
fn pulled() -> Vec<String> {
    let bare = |c: &String| std::fs::read_to_string(examples().join(c)).unwrap().contains("unmire.rig/1");
    cases().into_iter().filter(|c| !bare(c)).collect()
}
fn reviewed(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/expected").join(name)
}

#[test]
fn regress_a_pull_is_as_reviewed() {
    for case in ["wheel-deep-mud", "side-slope", "helper-on-wet-grass"] {
        let r = unmire(&["pull", &format!("{case}.toml"), "--width", "80"]);
        let text = format!("$ unmire pull {case}.toml\n{}exit status {}\n", r.stdout, r.status);
        expect(&reviewed(&format!("pull-{case}.txt")), &text);
    }
}

#[test]
fn regress_every_pull_fits_its_schema_and_tells_the_status() {
    let schema: Value = serde_json::from_str(&unmire(&["schema", "pull"]).stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for case in pulled() {
        let r = unmire(&["pull", &case, "--json", "--steps", "20"]);
        if r.status == 2 {
            // No rig can be made at all: told, not drawn.
            assert!(r.stderr.contains("rig"), "{case}: {}", r.stderr);
            continue;
        }
        let v: Value = serde_json::from_str(&r.stdout).unwrap();
        let errors: Vec<String> = validator.iter_errors(&v).map(|e| format!("{e} at {}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{case}: {errors:#?}");
        assert_eq!(r.status, i32::from(!v["passes"].as_bool().unwrap()), "{case}");
        let history = v["history"].as_array().unwrap();
        assert!(history.len() > 1, "{case}");
        let of = |r: &Value, key: &str| r[key].as_f64();
        for pair in history.windows(2) {
            assert!(of(&pair[1], "travel_m") >= of(&pair[0], "travel_m"), "{case}");
            // Where the winch may stall no time is known, and no charge: it stays so from there on.
            match (of(&pair[0], "charge_ah"), of(&pair[1], "charge_ah")) {
                (Some(a), Some(b)) => assert!(b >= a, "{case}"),
                (None, Some(_)) => panic!("{case}: a charge that was not known is known again"),
                _ => {}
            }
        }
        assert!(history.iter().all(|r| !r["legs"].as_array().unwrap().is_empty()), "{case}");
    }
}

#[test]
fn regress_a_pull_as_csv_has_one_row_a_place_and_as_svg_is_one_picture() {
    let csv = unmire(&["pull", "wet-grass.toml", "--csv", "-", "--steps", "20"]);
    let json: Value =
        serde_json::from_str(&unmire(&["pull", "wet-grass.toml", "--json", "--steps", "20"]).stdout).unwrap();
    let lines: Vec<&str> = csv.stdout.lines().collect();
    assert_eq!(lines.len(), 1 + json["history"].as_array().unwrap().len());
    let columns = lines[0].split(',').count();
    assert!(lines[0].starts_with("stage,travel_m,") && columns > 25);
    assert!(lines.iter().all(|l| l.split(',').count() == columns), "{}", lines[1]);
    let svg = unmire(&["pull", "wet-grass.toml", "--svg", "-", "--steps", "20"]);
    assert!(svg.stdout.starts_with("<?xml") && svg.stdout.trim_end().ends_with("</svg>"));
    assert_eq!(svg.stdout.matches("<svg").count(), svg.stdout.matches("</svg>").count());
    assert!(svg.stdout.contains("Line pull on the way") && svg.stdout.contains("Current on the way"));
}

#[test]
fn regress_no_pull_uses_the_word_that_promises_too_much() {
    for case in pulled() {
        let text = unmire(&["pull", &case, "--steps", "20"]).stdout.to_lowercase();
        let found = text.lines().find(|l| l.split(|c: char| !c.is_alphabetic()).any(|w| w == "safe" || w == "safely"));
        assert_eq!(found, None, "{case}");
        assert!(text.lines().all(|l| l.chars().count() <= 80), "{case}");
    }
}

#[test]
fn regress_a_bare_rig_and_a_rig_that_is_not_there_are_told() {
    let bare = unmire(&["pull", "bare-redirect.toml"]);
    assert!(bare.status == 2 && bare.stderr.contains("bare rig"), "{}", bare.stderr);
    let none = unmire(&["pull", "wet-grass.toml", "--rig", "90"]);
    assert!(none.status == 2 && none.stderr.contains("ranking"), "{}", none.stderr);
}
