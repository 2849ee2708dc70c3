//! Every key of a source that is named anywhere stands in the register, and every key of the register is named somewhere.

use crate::tables::{self, register::Source};
use crate::{scan, util};
use std::collections::BTreeSet;
use std::path::Path;
use toml::Value;

/// What is known: keys of sources, and names of tables.
struct Known {
    sources: BTreeSet<String>,
    tables: BTreeSet<String>,
}

/// Findings over the repository.
pub fn find(root: &Path) -> Vec<String> {
    let data = match tables::load(root) {
        Ok(data) => data,
        Err(faults) => return faults,
    };
    let known = Known {
        sources: data.sources.iter().map(|s| s.key.clone()).collect(),
        tables: data.tables.keys().cloned().collect(),
    };
    let mut out = Vec::new();
    let mut everything = String::new();
    for path in util::files_below(&root.join("crates"), &["rs"]) {
        let file = util::relative(root, &path);
        let Ok(text) = util::read(&path) else { continue };
        if file.contains("/generated/") {
            continue;
        }
        if !file.contains("/tests/") {
            out.extend(in_code(&file, &text, &known));
        }
        everything.push_str(&text);
    }
    for dir in ["checks", "data"] {
        for path in util::files_below(&root.join(dir), &["toml"]) {
            let file = util::relative(root, &path);
            if file == "data/sources.toml" {
                continue;
            }
            let Ok(text) = util::read(&path) else { continue };
            out.extend(in_rows(&file, &text, &known));
            everything.push_str(&text);
        }
    }
    out.extend(unused(&data.sources, &everything));
    out
}

/// Keys in `# Source` sections, in `Source key` remarks and in recorded steps.
fn in_code(file: &str, text: &str, known: &Known) -> Vec<String> {
    let mut out = Vec::new();
    for f in scan::functions(text) {
        let Some(section) = scan::section(&f.docs, "# Source") else { continue };
        let ticked: Vec<&str> = section.split('`').skip(1).step_by(2).collect();
        for key in ticked.iter().filter(|k| looks_like_a_key(k) && !known.sources.contains(**k)) {
            out.push(format!("{file}:{}: `{}` names the source `{key}`, which is not in the register", f.line, f.name));
        }
        let named = ticked.iter().any(|k| known.sources.contains(*k) || known.tables.contains(*k));
        if !named && !section.trim_start().starts_with("None") {
            out.push(format!(
                "{file}:{}: `# Source` of `{}` names no key of the register and no table (or says `None: why`)",
                f.line, f.name
            ));
        }
    }
    for call in ["Step::new(", "Step::range("] {
        for (line, key) in scan::last_literals(text, call) {
            if !known.sources.contains(&key) && !known.tables.contains(&key) {
                out.push(format!("{file}:{line}: a step names the source `{key}`, which is not in the register"));
            }
        }
    }
    out
}

/// Small letters, digits and dots joined by hyphens, with at least one hyphen: `fm-5-125`.
fn looks_like_a_key(s: &str) -> bool {
    s.contains('-')
        && s.split('-').all(|p| !p.is_empty() && p.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit()))
        && s.starts_with(|c: char| c.is_ascii_alphanumeric())
}

/// Every `source = "…"` of a data or check file.
fn in_rows(file: &str, text: &str, known: &Known) -> Vec<String> {
    let doc: toml::Table = match text.parse() {
        Ok(doc) => doc,
        Err(e) => return vec![format!("{file}: {e}")],
    };
    let mut out = Vec::new();
    walk(&Value::Table(doc), &mut |key| {
        if !known.sources.contains(key) {
            out.push(format!("{file}: source `{key}` is not in data/sources.toml"));
        }
    });
    out
}

fn walk(v: &Value, see: &mut impl FnMut(&str)) {
    match v {
        Value::Table(t) => {
            for (k, v) in t {
                match v {
                    Value::String(s) if k == "source" => see(s),
                    _ => walk(v, see),
                }
            }
        }
        Value::Array(a) => a.iter().for_each(|v| walk(v, see)),
        _ => {}
    }
}

fn unused(sources: &[Source], everything: &str) -> Vec<String> {
    let named = |key: &str| ['"', '`'].iter().any(|q| everything.contains(&format!("{q}{key}{q}")));
    let fault = |s: &Source| format!("data/sources.toml: `{}` is named nowhere; take it out or use it", s.key);
    sources.iter().filter(|s| !named(&s.key)).map(fault).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known() -> Known {
        Known { sources: ["statics".to_owned(), "fm-5-125".to_owned()].into(), tables: ["mire_band".to_owned()].into() }
    }
    fn formula(source: &str) -> String {
        format!("/// Gives.\n///\n/// # Source\n/// {source}\npub fn pull(x: f64) -> f64 {{ x }}")
    }

    #[test]
    fn an_unknown_key_in_a_doc_comment_is_refused() {
        assert!(in_code("f.rs", &formula("`fm-5-125` p. 4-1, read."), &known()).is_empty());
        assert!(in_code("f.rs", &formula("Table `mire_band`."), &known()).is_empty());
        assert!(in_code("f.rs", &formula("None: naming."), &known()).is_empty());
        assert_eq!(in_code("f.rs", &formula("`statics` and `fm-9-99`."), &known()).len(), 1);
        assert_eq!(in_code("f.rs", &formula("A well known textbook."), &known()).len(), 1);
    }
    #[test]
    fn an_unknown_key_in_a_step_is_refused() {
        assert_eq!(in_code("f.rs", "Step::new(\"w\", \"s\", \"f\", x, D, \"nobody\")", &known()).len(), 1);
        assert!(in_code("f.rs", "Step::new(\"w\", \"s\", \"f\", x, D, \"statics\")", &known()).is_empty());
    }
    #[test]
    fn an_unknown_key_in_a_check_row_is_refused() {
        assert_eq!(in_rows("checks/a.toml", "[[row]]\nsource='nobody'\n", &known()).len(), 1);
        assert!(in_rows("checks/a.toml", "[[row]]\nsource='statics'\n", &known()).is_empty());
    }
    #[test]
    fn a_source_that_nobody_names_is_refused() {
        let file = "[[source]]\nkey='lonely'\ntitle='t'\nbody='b'\naccess='read'\n";
        let sources = tables::register::parse(file).unwrap();
        assert_eq!(unused(&sources, "source = \"other\"").len(), 1);
        assert!(unused(&sources, "source = \"lonely\"").is_empty());
    }
}
