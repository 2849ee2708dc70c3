//! The JSON Schema takes what the reader takes and refuses what any schema can refuse.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::Dice;
use serde_json::{Map, Value, json};
use std::fs;
use std::path::Path;
use toml::de::{DeTable, DeValue};
use unmire_casefile::{guide, schema, write_case};

fn value(v: &DeValue<'_>) -> Value {
    match v {
        DeValue::String(s) => Value::String(s.to_string()),
        DeValue::Integer(i) => json!(i.as_str().parse::<i64>().unwrap()),
        DeValue::Float(f) => json!(f.as_str().parse::<f64>().unwrap()),
        DeValue::Boolean(b) => Value::Bool(*b),
        DeValue::Datetime(d) => Value::String(d.to_string()),
        DeValue::Array(a) => Value::Array(a.iter().map(|x| value(x.get_ref())).collect()),
        DeValue::Table(t) => table(t),
    }
}
fn table(t: &DeTable<'_>) -> Value {
    Value::Object(t.iter().map(|(k, v)| (k.get_ref().to_string(), value(v.get_ref()))).collect::<Map<_, _>>())
}
fn json_of(text: &str) -> Value {
    table(DeTable::parse(text).unwrap().get_ref())
}
fn complaints(v: &jsonschema::Validator, doc: &Value) -> Vec<String> {
    v.iter_errors(doc).map(|e| format!("{}: {e}", e.instance_path())).collect()
}

#[test]
fn other_program_the_schema_takes_every_example_and_every_written_case() {
    let v = jsonschema::validator_for(&schema()).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut n = 0;
    for sub in ["", "kit", "kinetic"] {
        for path in fs::read_dir(folder.join(sub)).unwrap().map(|e| e.unwrap().path()) {
            if path.extension().is_some_and(|e| e == "toml") {
                let told = complaints(&v, &json_of(&fs::read_to_string(&path).unwrap()));
                assert!(told.is_empty(), "{}: {told:#?}", path.display());
                n += 1;
            }
        }
    }
    assert!(n >= 10, "{n}");
    for seed in 0..60 {
        let text = write_case(&Dice(seed).case());
        let told = complaints(&v, &json_of(&text));
        assert!(told.is_empty(), "{told:#?}\n{text}");
    }
}

#[test]
fn other_program_the_schema_refuses_wrong_keys_words_and_types() {
    let v = jsonschema::validator_for(&schema()).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/errors");
    for name in [
        "missing-mass",
        "missing-sections",
        "missing-schema",
        "other-version",
        "unknown-keys",
        "wrong-words",
        "wrong-types",
        "no-unit",
        "too-many-anchors",
        "anchor-list-as-table",
        "wrong-keys-for-kind",
        "assumed-without-why",
        "wrong-keys-for-kind",
        "anchor-kind-unknown",
        "pickets-rows",
        "season-and-chocks",
        "kinetic-problem-half-told",
    ] {
        let doc = json_of(&fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap());
        assert!(!v.is_valid(&doc), "{name}");
    }
}

#[test]
fn regress_the_guide_names_every_key_of_the_schema() {
    fn names(v: &Value, out: &mut Vec<String>) {
        match v {
            Value::Object(o) => {
                if let Some(Value::Object(p)) = o.get("properties") {
                    out.extend(p.keys().cloned());
                }
                o.values().for_each(|x| names(x, out));
            }
            Value::Array(a) => a.iter().for_each(|x| names(x, out)),
            _ => {}
        }
    }
    let text = guide();
    let mut all = Vec::new();
    names(&schema(), &mut all);
    assert!(all.len() > 150, "{}", all.len());
    for name in all {
        assert!(
            text.contains(&format!("`{name}`")) || name == "value" || name == "assumed" || name == "ring",
            "{name}"
        );
    }
}
