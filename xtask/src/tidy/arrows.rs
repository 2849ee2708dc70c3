//! Which crate may name which. No arrow runs back.

use super::CORE;
use crate::util;
use std::path::Path;
use toml::{Table, Value};

/// Each room and the rooms that it may name: the arrows of the design and what lies beneath them.
const ARROWS: &[(&str, &[&str])] = &[
    ("model", &[]),
    ("tables", &["model"]),
    ("mechanics", &["tables", "model"]),
    ("audit", &["mechanics", "tables", "model"]),
    ("planner", &["audit", "mechanics", "tables", "model"]),
    ("casefile", &["model"]),
    ("sheet", &["planner", "audit", "mechanics", "tables", "model"]),
    ("store", &["model"]),
    ("web", &["markup", "casefile", "planner", "sheet", "audit", "mechanics", "tables", "model"]),
    ("cli", &["web", "store", "casefile", "planner", "sheet", "audit", "mechanics", "tables", "model"]),
];

/// The libraries that a core room may use.
const CORE_LIBRARIES: &[&str] = &["libm"];

/// Findings over every crate.
pub fn find(root: &Path) -> Vec<String> {
    let mut out = Vec::new();
    for dir in std::fs::read_dir(root.join("crates")).into_iter().flatten().filter_map(Result::ok) {
        let room = dir.file_name().to_string_lossy().into_owned();
        match util::read(&dir.path().join("Cargo.toml")) {
            Ok(text) => out.extend(check(&room, &text)),
            Err(e) => out.push(e),
        }
    }
    out.sort();
    out
}

fn check(room: &str, manifest: &str) -> Vec<String> {
    let at = format!("crates/{room}/Cargo.toml");
    let doc: Table = match manifest.parse() {
        Ok(doc) => doc,
        Err(e) => return vec![format!("{at}: {e}")],
    };
    let Some((_, allowed)) = ARROWS.iter().find(|(r, _)| *r == room) else {
        return vec![format!("{at}: the room `{room}` is not in the design; add it to ARCHITECTURE.md and to tidy")];
    };
    let mut out = Vec::new();
    for name in dependencies(&doc) {
        match name.strip_prefix("unmire-") {
            Some(to) if !allowed.contains(&to) => out.push(format!("{at}: {room} may not name {to}")),
            None if CORE.contains(&room) && !CORE_LIBRARIES.contains(&name.as_str()) => {
                out.push(format!("{at}: a core room uses no library but {}; found {name}", CORE_LIBRARIES.join(", ")));
            }
            _ => {}
        }
    }
    out
}

/// Names under `[dependencies]` and `[build-dependencies]`, those of single targets included; `[dev-dependencies]` are free.
fn dependencies(doc: &Table) -> Vec<String> {
    let of = |t: &Table| -> Vec<String> {
        ["dependencies", "build-dependencies"]
            .iter()
            .filter_map(|k| t.get(*k).and_then(Value::as_table))
            .flat_map(|d| d.keys().cloned())
            .collect()
    };
    let mut out = of(doc);
    for target in doc.get("target").and_then(Value::as_table).into_iter().flat_map(Table::values) {
        out.extend(target.as_table().map(of).unwrap_or_default());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::check;

    #[test]
    fn an_arrow_that_runs_back_is_refused() {
        let back = "[dependencies]\nunmire-planner.workspace = true\n";
        assert_eq!(check("mechanics", back).len(), 1);
        assert_eq!(check("sheet", back).len(), 0);
    }
    #[test]
    fn an_arrow_of_one_target_is_refused_too() {
        assert_eq!(check("model", "[target.'cfg(unix)'.dependencies]\nunmire-tables = '1'\n").len(), 1);
    }
    #[test]
    fn a_library_in_the_core_is_refused() {
        assert_eq!(check("audit", "[dependencies]\nserde = '1'\n").len(), 1);
        assert_eq!(check("audit", "[dependencies]\nlibm = '0.2'\n[dev-dependencies]\nserde = '1'\n").len(), 0);
    }
    #[test]
    fn a_room_without_a_place_in_the_design_is_refused() {
        assert_eq!(check("misc", "").len(), 1);
    }
}
