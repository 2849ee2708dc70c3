//! Turns `data/*.toml` into `crates/tables/src/generated/*.rs`.

pub mod emit;
pub mod register;
pub mod schema;

use crate::util::{self, Outcome};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Files of `data/` that are not tables.
pub const NOT_TABLES: &[&str] = &["sources.toml"];

/// Everything that stands in `data/`.
pub struct Data {
    /// The register of sources.
    pub sources: Vec<register::Source>,
    /// The tables, by name.
    pub tables: BTreeMap<String, schema::Table>,
}

/// Reads and checks the register and every table; reports all faults at once.
pub fn load(root: &Path) -> Result<Data, Vec<String>> {
    let mut faults = Vec::new();
    let data = root.join("data");
    let sources = match util::read(&data.join("sources.toml")).map_err(|e| vec![e]).and_then(|t| register::parse(&t)) {
        Ok(sources) => sources,
        Err(more) => {
            faults.extend(more);
            Vec::new()
        }
    };
    let mut tables = BTreeMap::new();
    for path in util::files_in(&data, "toml") {
        let file = util::file_name(&path);
        if NOT_TABLES.contains(&file.as_str()) {
            continue;
        }
        let stem = file.trim_end_matches(".toml");
        match util::read(&path).map_err(|e| vec![e]).and_then(|text| schema::parse(stem, &text)) {
            Ok(table) => {
                faults.extend(register::check_rows(&table, &sources));
                tables.insert(stem.to_owned(), table);
            }
            Err(more) => faults.extend(more),
        }
    }
    if faults.is_empty() { Ok(Data { sources, tables }) } else { Err(faults) }
}

/// The generated files, path from the root and content.
pub fn generate(data: &Data) -> Vec<(PathBuf, String)> {
    let dir = PathBuf::from("crates/tables/src/generated");
    let mut out: Vec<(PathBuf, String)> =
        data.tables.values().map(|t| (dir.join(format!("{}.rs", t.name)), emit::table(t))).collect();
    out.push((dir.join("sources.rs"), emit::sources(&data.sources)));
    out.push((dir.join("mod.rs"), emit::index(data.tables.values())));
    out
}

/// `cargo xtask tables`: writes the generated files and removes those without a table.
pub fn run(root: &Path) -> Outcome {
    let data = load(root).map_err(|f| f.join("\n"))?;
    let files = generate(&data);
    let dir = root.join("crates/tables/src/generated");
    for old in util::files_in(&dir, "rs") {
        if !files.iter().any(|(p, _)| root.join(p) == old) {
            std::fs::remove_file(&old).map_err(|e| format!("{}: {e}", old.display()))?;
        }
    }
    for (path, text) in &files {
        util::write_if_changed(&root.join(path), text)?;
    }
    println!("{} tables, {} sources", data.tables.len(), data.sources.len());
    Ok(())
}

/// What differs between the tables and the generated files; empty when they agree.
pub fn stale(root: &Path) -> Vec<String> {
    match load(root) {
        Err(faults) => faults,
        Ok(data) => {
            let files = generate(&data);
            let mut out = Vec::new();
            for (path, text) in &files {
                if std::fs::read_to_string(root.join(path)).ok().as_deref() != Some(text) {
                    out.push(format!("{}: stale; run `cargo xtask tables`", path.display()));
                }
            }
            for old in util::files_in(&root.join("crates/tables/src/generated"), "rs") {
                if !files.iter().any(|(p, _)| root.join(p) == old) {
                    out.push(format!("{}: belongs to no table; run `cargo xtask tables`", util::relative(root, &old)));
                }
            }
            out
        }
    }
}
