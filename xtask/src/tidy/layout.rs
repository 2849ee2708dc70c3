//! How files look: they open with what they answer, they stay short, and they name no machine.

use crate::util;
use std::path::Path;

/// Most lines of a hand-written file before its tests.
const LONGEST: usize = 600;

/// Findings over every hand-written Rust file.
pub fn find(root: &Path) -> Vec<String> {
    let mut out = Vec::new();
    for dir in ["crates", "tests", "xtask"] {
        for path in util::files_below(&root.join(dir), &["rs"]) {
            let file = util::relative(root, &path);
            if file.contains("/generated/") {
                continue;
            }
            match util::read(&path) {
                Ok(text) => out.extend(check(&file, &text)),
                Err(e) => out.push(e),
            }
        }
    }
    out
}

fn check(file: &str, text: &str) -> Vec<String> {
    let mut out = Vec::new();
    if !text.starts_with("//! ") {
        out.push(format!("{file}: does not open with `//!` and what it answers"));
    }
    let lines = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default().lines().count();
    if lines > LONGEST && !format!("/{file}").contains("/tests/") {
        out.push(format!("{file}: {lines} lines; over {LONGEST} it hides something that wants its own file"));
    }
    out
}

/// Paths of somebody's machine in any text of the repository.
pub fn machine_paths(root: &Path) -> Vec<String> {
    let mut out = Vec::new();
    for path in util::files_below(root, &["rs", "toml", "md", "txt", "json", "svg", "yml", "sh", "run", "schema"]) {
        let file = util::relative(root, &path);
        if let Ok(text) = util::read(&path) {
            out.extend(paths_in(&file, &text));
        }
    }
    out
}

fn paths_in(file: &str, text: &str) -> Vec<String> {
    // Written in two halves so that this file does not find itself.
    let banned = [["/ho", "me/"], ["/ro", "ot/"], ["/wo", "rk/"], ["/tm", "p/"], ["C:\\", "Users"], ["/Use", "rs/"]];
    let banned: Vec<String> = banned.iter().map(|halves| halves.concat()).collect();
    let mut out = Vec::new();
    for (i, line) in text.lines().enumerate() {
        for b in banned.iter().filter(|b| line.contains(b.as_str())) {
            out.push(format!("{file}:{}: names a path of a machine: {b}", i + 1));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{check, paths_in};

    #[test]
    fn a_file_that_does_not_say_what_it_answers_is_refused() {
        assert_eq!(check("f.rs", "fn f() {}\n").len(), 1);
        assert!(check("f.rs", "//! What.\nfn f() {}\n").is_empty());
    }
    #[test]
    fn a_long_file_is_refused_and_its_tests_do_not_count() {
        let long = format!("//! What.\n{}", "fn f() {}\n".repeat(600));
        assert_eq!(check("f.rs", &long).len(), 1);
        assert!(check("f.rs", &format!("//! What.\n#[cfg(test)]\nmod tests {{\n{long}}}")).is_empty());
    }
    #[test]
    fn a_path_of_a_machine_is_refused() {
        let line = ["see /ho", "me/somebody/notes"].concat();
        assert_eq!(paths_in("a.md", &line).len(), 1);
        assert!(paths_in("a.md", "see docs/data.md").is_empty());
    }
}
