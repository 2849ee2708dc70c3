//! Every public function of `mechanics` that gives a number says where its formula comes from.

use crate::scan::{self, Function};
use crate::util;
use std::path::Path;

/// Names of functions that only read, make or list what is there; they are no formulas.
const ACCESSORS: &[&str] = &[
    "new", "default", "key", "name", "word", "words", "text", "doc", "parse", "from_key", "each", "iter", "len", "get",
];

/// Return types that can't carry a physical quantity.
const NO_QUANTITY: &[&str] = &[
    "",
    "Self",
    "bool",
    "usize",
    "u32",
    "String",
    "&str",
    "&'static str",
    "Option<Self>",
    "Option<&'static str>",
    "core::fmt::Result",
    "fmt::Result",
];

/// Whether a function of `mechanics` is held to the rule.
pub fn needs_source(f: &Function) -> bool {
    f.public && !f.in_tests && !ACCESSORS.contains(&f.name.as_str()) && !NO_QUANTITY.contains(&f.returns.as_str())
}

/// Findings over the whole room.
pub fn find(root: &Path) -> Vec<String> {
    let mut out = Vec::new();
    for path in util::files_below(&root.join("crates/mechanics/src"), &["rs"]) {
        match util::read(&path) {
            Ok(text) => out.extend(check(&util::relative(root, &path), &text)),
            Err(e) => out.push(e),
        }
    }
    out
}

fn check(file: &str, text: &str) -> Vec<String> {
    let mut out = Vec::new();
    for f in scan::functions(text).iter().filter(|f| needs_source(f)) {
        match scan::section(&f.docs, "# Source") {
            Some(s) if !s.trim().is_empty() => {}
            Some(_) => out.push(format!("{file}:{}: `{}` has an empty `# Source`", f.line, f.name)),
            None => out.push(format!("{file}:{}: `{}` has no `# Source` in its doc comment", f.line, f.name)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::check;

    #[test]
    fn a_formula_without_source_is_refused() {
        assert_eq!(check("f.rs", "/// Gives a force.\npub fn pull(x: f64) -> Force { Force::from_n(x) }").len(), 1);
        assert_eq!(check("f.rs", "/// Gives.\n///\n/// # Source\npub fn pull(x: f64) -> f64 { x }").len(), 1);
    }
    #[test]
    fn a_formula_with_source_an_accessor_and_a_private_function_pass() {
        assert!(
            check("f.rs", "/// Gives.\n///\n/// # Source\n/// `statics`.\npub fn pull(x: f64) -> f64 { x }").is_empty()
        );
        assert!(check("f.rs", "/// Its word.\npub const fn word(self) -> &'static str { \"a\" }").is_empty());
        assert!(check("f.rs", "pub(crate) fn pull(x: f64) -> f64 { x }\nfn other() -> f64 { 0.0 }").is_empty());
    }
}
