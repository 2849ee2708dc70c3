//! Rows of `checks/`: whole, told apart, and never more than their source is.

use crate::util;
use std::collections::BTreeSet;
use std::path::Path;
use toml::{Table, Value};

/// What every row states; a row of `[[row]]` names its formula too, an `[[example]]` is judged by its own test.
const NEEDED: &[&str] = &["id", "source", "how", "kind"];
/// How a row must be known to count as published.
const PUBLISHED: &[&str] = &["read", "secondary"];

/// Findings over every file of `checks/` and over its accepted disagreements.
pub fn find(root: &Path) -> Vec<String> {
    let (mut out, mut ids, mut accepted) = (Vec::new(), BTreeSet::new(), Vec::new());
    for path in util::files_below(&root.join("checks"), &["toml"]) {
        let file = util::relative(root, &path);
        let doc: Table = match util::read(&path).and_then(|t| t.parse().map_err(|e| format!("{file}: {e}"))) {
            Ok(doc) => doc,
            Err(e) => {
                out.push(e);
                continue;
            }
        };
        if file == "checks/accepted.toml" {
            accepted = rows(&doc, "accepted").cloned().collect();
        } else {
            out.extend(check(&file, &doc, &mut ids));
        }
    }
    out.extend(check_accepted(&accepted, &ids));
    out
}

fn rows<'a>(doc: &'a Table, list: &str) -> impl Iterator<Item = &'a Table> {
    doc.get(list).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table)
}

fn text<'a>(row: &'a Table, key: &str) -> &'a str {
    row.get(key).and_then(Value::as_str).unwrap_or_default()
}

fn check(file: &str, doc: &Table, ids: &mut BTreeSet<String>) -> Vec<String> {
    let mut out = Vec::new();
    for row in rows(doc, "row") {
        if text(row, "formula").is_empty() {
            out.push(format!("{file}: row `{}`: `formula` is missing", text(row, "id")));
        }
    }
    for row in rows(doc, "row").chain(rows(doc, "example")) {
        let id = text(row, "id");
        for key in NEEDED.iter().filter(|k| text(row, k).is_empty()) {
            out.push(format!("{file}: row `{id}`: `{key}` is missing"));
        }
        if text(row, "kind") == "published" && !PUBLISHED.contains(&text(row, "how")) {
            out.push(format!("{file}: row `{id}` is `{}` and can't count as published", text(row, "how")));
        }
        if !ids.insert(id.to_owned()) {
            out.push(format!("{file}: the id `{id}` stands twice"));
        }
    }
    out
}

fn check_accepted(accepted: &[Table], ids: &BTreeSet<String>) -> Vec<String> {
    let mut out = Vec::new();
    for row in accepted {
        let id = text(row, "id");
        if !ids.contains(id) {
            out.push(format!("checks/accepted.toml: no row has the id `{id}`"));
        }
        for key in ["exact", "reason"]
            .iter()
            .filter(|k| !row.contains_key(**k) || row.get(**k).and_then(Value::as_str) == Some(""))
        {
            out.push(format!("checks/accepted.toml: `{id}` has no `{key}`"));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(row: &str) -> usize {
        let doc: Table = format!("[[row]]\n{row}").parse().unwrap();
        check("checks/a.toml", &doc, &mut BTreeSet::new()).len()
    }

    #[test]
    fn a_row_from_memory_that_calls_itself_published_is_refused() {
        assert_eq!(found("id='A'\nformula='f'\nsource='s'\nhow='read'\nkind='published'"), 0);
        assert_eq!(found("id='A'\nformula='f'\nsource='s'\nhow='memory'\nkind='published'"), 1);
    }
    #[test]
    fn a_row_without_formula_is_refused() {
        assert_eq!(found("id='A'\nsource='s'\nhow='read'\nkind='published'"), 1);
    }
    #[test]
    fn a_row_without_source_or_with_an_id_twice_is_refused() {
        assert_eq!(found("id='A'\nformula='f'\nhow='read'\nkind='published'"), 1);
        let row = "id='A'\nformula='f'\nsource='s'\nhow='read'\nkind='published'";
        assert_eq!(found(&format!("{row}\n[[row]]\n{row}")), 1);
    }
    #[test]
    fn an_accepted_disagreement_without_reason_or_row_is_refused() {
        let one: Table = "id = 'A'\nexact = '1.0'".parse().unwrap();
        assert_eq!(check_accepted(&[one], &BTreeSet::new()).len(), 2);
    }
}
