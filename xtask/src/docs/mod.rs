//! Generated documents: `docs/data.md` and `VALIDATION.md`.

mod data;
mod validation;

use crate::util::{self, Outcome};
use std::path::Path;

fn all(root: &Path) -> Result<Vec<(&'static str, String)>, String> {
    Ok(vec![("docs/data.md", data::page(root)?), ("VALIDATION.md", validation::page(root)?)])
}

/// `cargo xtask docs`.
pub fn run(root: &Path) -> Outcome {
    for (path, text) in all(root)? {
        util::write_if_changed(&root.join(path), &text)?;
        println!("{path}");
    }
    Ok(())
}

/// Which generated documents are not what they would be if written now.
pub fn stale(root: &Path) -> Vec<String> {
    match all(root) {
        Err(e) => vec![e],
        Ok(pages) => pages
            .into_iter()
            .filter(|(path, text)| std::fs::read_to_string(root.join(path)).ok().as_ref() != Some(text))
            .map(|(path, _)| format!("{path}: stale; run `cargo xtask docs`"))
            .collect(),
    }
}
