//! The JSON keeps its shape, fits its schema, and turns what is not a number into null.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod common;

use serde_json::Value;
use unmire_model::Force;
use unmire_planner::report::Report;
use unmire_sheet::json;

fn value(r: &Report) -> Value {
    serde_json::from_str(&json::to_text(r).unwrap()).unwrap()
}
fn keys(v: &Value) -> Vec<&str> {
    v.as_object().unwrap().keys().map(String::as_str).collect()
}
fn starts_with(v: &Value, fields: &[&str]) {
    assert_eq!(keys(v)[..fields.len()], *fields);
}

#[test]
fn regress_the_documented_fields_come_first_and_in_order() {
    let v = value(&common::passing());
    starts_with(&v, &["schema", "policy", "demand", "findings", "plans"]);
    starts_with(&v["demand"], &["low_n", "likely_n", "high_n", "method", "parts"]);
    let p = &v["plans"][0];
    starts_with(
        p,
        &[
            "verdict",
            "stop_load_n",
            "family",
            "why",
            "demand",
            "actions",
            "pieces",
            "points",
            "legs",
            "anchors",
            "checks",
            "weakest",
            "residual_n",
            "winch",
            "steps",
            "cautions",
            "keep_out",
        ],
    );
    starts_with(&p["points"][0], &["name", "kind", "x_m", "y_m", "z_m"]);
    starts_with(&p["legs"][0], &["member", "from", "to", "length_m", "tension_work_n", "tension_stall_n"]);
    starts_with(&p["anchors"][0], &["point", "force_work_n", "force_stall_n"]);
    starts_with(
        &p["checks"][0],
        &[
            "code",
            "part",
            "what",
            "demand_work_n",
            "demand_stall_n",
            "capacity_n",
            "capacity_kind",
            "ratio_work",
            "ratio_stall",
            "required_work",
            "required_stall",
            "verdict",
            "source",
        ],
    );
    starts_with(&p["winch"], &["layer", "pull_n", "line_out_m"]);
    starts_with(&p["keep_out"], &["rule", "rings"]);
    assert_eq!(v["schema"], "unmire.plan/1");
    assert_eq!(p["verdict"], "holds below a stop load");
    assert_eq!(p["stop_load_n"], 24_000.0);
    assert_eq!(p["weakest"], "A1");
}

#[test]
fn regress_every_output_fits_the_schema() {
    let schema = json::schema_plan();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for (name, report) in [("pass", common::passing()), ("fail", common::failing()), ("bare", common::bare())] {
        let v = value(&report);
        let errors: Vec<String> = validator.iter_errors(&v).map(|e| format!("{e} at {}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{name}: {errors:#?}");
    }
    let mut wrong = value(&common::passing());
    wrong["plans"][0]["verdict"] = "fine".into();
    assert!(!validator.is_valid(&wrong), "the schema must refuse a fifth verdict word");
    wrong = value(&common::passing());
    wrong["plans"][0].as_object_mut().unwrap().remove("residual_n");
    assert!(!validator.is_valid(&wrong), "the schema must ask for every field");
}

#[test]
fn regress_a_bare_rig_gives_its_solution_and_null_elsewhere() {
    let v = value(&common::bare());
    let p = &v["plans"][0];
    assert_eq!(v["policy"], Value::Null);
    assert_eq!(v["demand"], Value::Null);
    for field in ["verdict", "stop_load_n", "family", "why", "demand", "weakest", "winch", "keep_out"] {
        assert_eq!(p[field], Value::Null, "{field}");
    }
    assert_eq!(p["legs"][0]["tension_work_n"], 19_500.0);
    assert_eq!(p["legs"][0]["tension_stall_n"], Value::Null);
    assert_eq!(p["anchors"][0]["force_stall_n"], Value::Null);
    assert_eq!(p["anchors"][0]["force_work_n"][0], -36_200.0);
}

#[test]
fn regress_what_is_not_a_number_becomes_null_and_nothing_is_rounded() {
    let mut r = common::passing();
    let third = Force::from_n(10_000.0 / 3.0);
    r.plans[0].legs[0].tension_work = third;
    r.plans[0].legs[1].tension_work = Force::from_n(f64::NAN);
    r.plans[0].checks[0].ratio_work = Some(f64::INFINITY);
    let v = value(&r);
    assert_eq!(v["plans"][0]["legs"][0]["tension_work_n"].as_f64(), Some(third.as_n()));
    assert_eq!(v["plans"][0]["legs"][1]["tension_work_n"], Value::Null);
    assert_eq!(v["plans"][0]["checks"][0]["ratio_work"], Value::Null);
}

#[test]
fn regress_the_json_reads_back_bit_for_bit() {
    for r in [common::passing(), common::failing()] {
        let text = json::to_text(&r).unwrap();
        let read: json::Document = serde_json::from_str(&text).unwrap();
        let mut again = serde_json::to_string_pretty(&read).unwrap();
        again.push('\n');
        assert_eq!(again, text);
    }
}
