//! What may not stand in the core, and in the other rooms that must run inside a web page.

use super::CORE;
use crate::{scan, util};
use std::path::Path;

/// Rooms beside the core that hold to the same bans: they read and write texts, never files.
const ALSO: &[&str] = &["casefile", "sheet"];

/// What is banned, and why.
const BANNED: &[(&str, &str)] = &[
    ("std::fs", "no files: the ends read and write"),
    ("std::time", "no clock: the ends know the time"),
    ("std::env", "no environment: the ends read it"),
    ("std::thread", "no threads"),
    ("std::net", "no network"),
    ("std::process", "no processes"),
    ("println!", "no printing: hand the text back"),
    ("print!", "no printing: hand the text back"),
    ("dbg!", "no printing: hand the text back"),
    ("HashMap", "its order is by chance; use BTreeMap"),
    ("HashSet", "its order is by chance; use BTreeSet"),
];

/// Findings over those rooms.
pub fn find(root: &Path) -> Vec<String> {
    let mut out = Vec::new();
    for room in CORE.iter().chain(ALSO) {
        for path in util::files_below(&root.join("crates").join(room).join("src"), &["rs"]) {
            match util::read(&path) {
                Ok(text) => out.extend(check(&util::relative(root, &path), &text)),
                Err(e) => out.push(e),
            }
        }
    }
    out
}

fn check(file: &str, text: &str) -> Vec<String> {
    let masked = scan::mask(text);
    let code = masked.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let mut out = Vec::new();
    for (i, line) in code.lines().enumerate() {
        if let Some((what, why)) = BANNED.iter().find(|(what, _)| stands_in(line, what)) {
            out.push(format!("{file}:{}: `{what}`: {why}", i + 1));
        }
    }
    out
}

/// Whether a word stands in a line, not as the end of a longer one.
fn stands_in(line: &str, what: &str) -> bool {
    line.match_indices(what).any(|(i, _)| !line[..i].ends_with(|c: char| c.is_alphanumeric() || c == '_'))
}

#[cfg(test)]
mod tests {
    use super::check;

    #[test]
    fn files_clocks_and_printing_are_refused() {
        assert_eq!(check("f.rs", "use std::fs;\nuse std::time::Instant;\nfn f() { println!(\"a\"); }").len(), 3);
    }
    #[test]
    fn comments_texts_and_tests_are_free() {
        assert!(
            check("f.rs", "// std::fs\nconst A: &str = \"println!\";\n#[cfg(test)]\nmod tests { use std::fs; }")
                .is_empty()
        );
    }
}
