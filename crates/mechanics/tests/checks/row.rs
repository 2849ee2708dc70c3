//! Rows as they stand in the files.

use crate::units;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use toml::{Table, Value};

/// One row.
#[derive(Clone, Debug)]
pub struct Row {
    /// File name.
    pub file: String,
    /// Its id; unique over all files.
    pub id: String,
    /// The function.
    pub formula: String,
    /// Which part of its result, or what is done with it; empty for the plain result.
    pub out: String,
    /// Its inputs.
    pub input: Table,
    /// The value as printed.
    pub expect: String,
    /// Its unit.
    pub unit: String,
    /// Key of the source.
    pub source: String,
    /// How it is known.
    pub how: String,
    /// What kind of evidence it is.
    pub kind: String,
}

impl Row {
    /// An input with a unit, in SI, or a plain number.
    pub fn num(&self, key: &str) -> Result<f64, String> {
        match self.input.get(key) {
            Some(Value::Float(v)) => Ok(*v),
            #[allow(clippy::cast_precision_loss)]
            Some(Value::Integer(v)) => Ok(*v as f64),
            Some(Value::String(s)) => units::quantity(s),
            Some(other) => Err(format!("input {key} is {other}")),
            None => Err(format!("input {key} is missing")),
        }
    }
    /// A count.
    pub fn count(&self, key: &str) -> Result<u32, String> {
        match self.input.get(key) {
            Some(Value::Integer(v)) => u32::try_from(*v).map_err(|e| format!("input {key}: {e}")),
            other => Err(format!("input {key} is {other:?}, not a count")),
        }
    }
    /// A text.
    pub fn text(&self, key: &str) -> Result<&str, String> {
        self.input.get(key).and_then(Value::as_str).ok_or_else(|| format!("input {key} is not a text"))
    }
    /// A yes or no.
    pub fn flag(&self, key: &str) -> Result<bool, String> {
        self.input.get(key).and_then(Value::as_bool).ok_or_else(|| format!("input {key} is not true or false"))
    }
    /// Whether an input is there.
    pub fn has(&self, key: &str) -> bool {
        self.input.contains_key(key)
    }
}

/// A known disagreement.
#[derive(Clone, Debug)]
pub struct Accepted {
    /// The exact value, in the row's unit.
    pub exact: String,
    /// Why the source prints something else.
    pub reason: String,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../checks")
}

fn table(path: &Path) -> Table {
    let text = std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    text.parse().unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Every row of every file, in the order of the file names.
pub fn rows() -> Vec<Row> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder())
        .unwrap_or_else(|e| panic!("checks/: {e}"))
        .filter_map(|e| e.ok().map(|e| e.path()))
        .filter(|p| p.extension().is_some_and(|x| x == "toml") && !p.ends_with("accepted.toml"))
        .collect();
    paths.sort();
    let mut out = Vec::new();
    for path in paths {
        let file = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        for v in table(&path).get("row").and_then(Value::as_array).into_iter().flatten() {
            let get = |key: &str| v.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
            out.push(Row {
                file: file.clone(),
                id: get("id"),
                formula: get("formula"),
                out: get("out"),
                input: v.get("in").and_then(Value::as_table).cloned().unwrap_or_default(),
                expect: get("expect"),
                unit: get("unit"),
                source: get("source"),
                how: get("how"),
                kind: get("kind"),
            });
        }
    }
    out
}

/// The known disagreements by id.
pub fn accepted() -> BTreeMap<String, Accepted> {
    table(&folder().join("accepted.toml"))
        .get("accepted")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .map(|v| {
            let get = |key: &str| v.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
            (get("id"), Accepted { exact: get("exact"), reason: get("reason") })
        })
        .collect()
}
