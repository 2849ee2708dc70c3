//! The rules that a machine can hold. Each gives its findings as texts; none means that it holds.

mod arrows;
mod checks;
mod formulas;
mod keys;
mod layout;
mod purity;
mod screens;

pub use formulas::needs_source;
pub use screens::SCREENS;

use crate::util::Outcome;
use crate::{docs, tables};
use std::path::Path;

/// The rooms of the core: no library but `libm`, no files, no clock, no printing, no threads, no chance.
pub const CORE: &[&str] = &["model", "tables", "mechanics", "audit", "planner"];

/// A rule: its name and what it finds.
type Rule = (&'static str, fn(&Path) -> Vec<String>);

/// Every rule.
const RULES: &[Rule] = &[
    ("arrows between crates", arrows::find),
    ("a source for every formula", formulas::find),
    ("keys of sources resolve and are used", keys::find),
    ("rows of checks/ are whole", checks::find),
    ("the core is pure", purity::find),
    ("no machine paths", layout::machine_paths),
    ("files open with what they answer, and stay short", layout::find),
    ("every screen is pictured and shown", screens::find),
    ("generated tables are current", tables::stale),
    ("generated documents are current", docs::stale),
];

/// `cargo xtask tidy`.
pub fn run(root: &Path) -> Outcome {
    let mut findings = 0;
    for (name, find) in RULES {
        let found = find(root);
        if !found.is_empty() {
            eprintln!("tidy: {name}");
            for f in &found {
                eprintln!("  {f}");
            }
            findings += found.len();
        }
    }
    if findings == 0 {
        println!("tidy: {} rules hold", RULES.len());
        Ok(())
    } else {
        Err(format!("tidy: {findings} findings"))
    }
}
