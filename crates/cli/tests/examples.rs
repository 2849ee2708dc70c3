//! Every example, as text, as JSON and as a drawing, against what was reviewed. Dropping in a case file makes a test.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use common::{cases, examples, expect, unmire, unmire_fed, verb};
use serde_json::Value;

#[test]
fn regress_every_example_is_as_reviewed() {
    assert!(cases().len() >= 6);
    for case in cases() {
        let name = case.trim_end_matches(".toml");
        let verb = verb(&case);
        let r = unmire(&[verb, &case, "--width", "80"]);
        assert!(r.status == 0 || r.status == 1, "{case}: {}", r.stderr);
        let text = format!("$ unmire {verb} {case}\n{}exit status {}\n", r.stdout, r.status);
        expect(&examples().join(format!("{name}.expected.txt")), &text);
        let j = unmire(&[verb, &case, "--json"]);
        assert_eq!(j.status, r.status, "{case}");
        expect(&examples().join(format!("{name}.expected.json")), &j.stdout);
        let s = unmire(&[verb, &case, "--svg", "-"]);
        assert_eq!(s.status, r.status, "{case}");
        expect(&examples().join(format!("{name}.expected.svg")), &s.stdout);
    }
}

#[test]
fn regress_every_example_fits_the_schema_of_the_output() {
    let schema: Value = serde_json::from_str(&unmire(&["schema", "plan"]).stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for case in cases() {
        for explain in [&[][..], &["--explain"]] {
            let mut arguments = vec![verb(&case), &case, "--json"];
            arguments.extend_from_slice(explain);
            let v: Value = serde_json::from_str(&unmire(&arguments).stdout).unwrap();
            let errors: Vec<String> =
                validator.iter_errors(&v).map(|e| format!("{e} at {}", e.instance_path())).collect();
            assert!(errors.is_empty(), "{case}: {errors:#?}");
            let passes = v["passes"].as_bool().unwrap();
            assert_eq!(unmire(&arguments).status, i32::from(!passes), "{case}");
        }
    }
}

#[test]
fn regress_the_worst_check_of_a_rig_is_its_verdict() {
    let words = ["holds", "holds below a stop load", "unknown", "overloaded"];
    let rank = |v: &Value| words.iter().position(|w| v.as_str() == Some(w));
    let worst_is_verdict = |v: &Value, case: &str| {
        for plan in v["plans"].as_array().unwrap() {
            let Some(verdict) = rank(&plan["verdict"]) else { continue };
            let worst = plan["checks"].as_array().unwrap().iter().filter_map(|c| rank(&c["verdict"])).max();
            assert_eq!(worst, Some(verdict), "{case}: {}", plan["summary"]);
        }
    };
    for case in cases() {
        worst_is_verdict(&serde_json::from_str(&unmire(&[verb(&case), &case, "--json"]).stdout).unwrap(), &case);
    }
    // Refused before any force: the line's end on a tow ball.
    let text = std::fs::read_to_string(examples().join("check-double-line.toml")).unwrap();
    let ball = text.replace("kind = \"recovery point\"", "kind = \"tow ball\"");
    let r = unmire_fed(&examples(), &["check", "-", "--json"], &ball);
    let v: Value = serde_json::from_str(&r.stdout).unwrap();
    assert_eq!(r.status, 1);
    worst_is_verdict(&v, "tow ball");
    assert!(v["plans"][0]["weakest"].as_str().unwrap().contains("point"), "{}", v["plans"][0]["weakest"]);
}

#[test]
fn balance_every_rig_of_every_example_is_in_equilibrium() {
    for case in cases() {
        let v: Value = serde_json::from_str(&unmire(&[verb(&case), &case, "--json"]).stdout).unwrap();
        for plan in v["plans"].as_array().unwrap() {
            let greatest = plan["legs"]
                .as_array()
                .unwrap()
                .iter()
                .flat_map(|l| [l["tension_work_n"].as_f64(), l["tension_stall_n"].as_f64()])
                .flatten()
                .fold(1.0, f64::max);
            let residual = plan["residual_n"].as_f64().unwrap();
            assert!(residual <= 1e-9 * greatest, "{case}: {residual} N of {greatest} N");
        }
    }
}

#[test]
fn regress_explaining_changes_no_number() {
    for case in cases() {
        let without: Value = serde_json::from_str(&unmire(&[verb(&case), &case, "--json"]).stdout).unwrap();
        let out = unmire(&[verb(&case), &case, "--json", "--explain"]).stdout;
        let mut with: Value = serde_json::from_str(&out).unwrap();
        for p in with["plans"].as_array_mut().unwrap() {
            p["trail"] = Value::Array(Vec::new());
        }
        let mut without = without;
        for p in without["plans"].as_array_mut().unwrap() {
            p["trail"] = Value::Array(Vec::new());
        }
        assert_eq!(with, without, "{case}");
    }
}

#[test]
fn regress_no_output_uses_the_word_that_promises_too_much() {
    for case in cases() {
        for arguments in [&["--explain"][..], &["--json"], &["--svg", "-"]] {
            let mut all = vec![verb(&case), &case];
            all.extend_from_slice(arguments);
            let text = unmire(&all).stdout.to_lowercase();
            let found =
                text.lines().find(|l| l.split(|c: char| !c.is_alphabetic()).any(|w| w == "safe" || w == "safely"));
            assert_eq!(found, None, "{case}");
        }
    }
}
