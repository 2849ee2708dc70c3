//! The register of sources, and what a row may claim of its source.

use super::schema::{HOW, Table};
use toml::{Table as Toml, Value};

/// A source.
pub struct Source {
    /// Its key.
    pub key: String,
    /// Title.
    pub title: String,
    /// Who stands behind it.
    pub body: String,
    /// Edition or year; empty if not known.
    pub year: String,
    /// Where in it.
    pub place: String,
    /// How we had it before us.
    pub access: String,
    /// Anything the reader must know.
    pub note: String,
}

/// Reads the register.
pub fn parse(file: &str) -> Result<Vec<Source>, Vec<String>> {
    let doc: Toml = file.parse().map_err(|e| vec![format!("data/sources.toml: {e}")])?;
    let mut faults = Vec::new();
    let mut out: Vec<Source> = Vec::new();
    let list = doc.get("source").and_then(Value::as_array).cloned().unwrap_or_default();
    for (i, s) in list.iter().enumerate() {
        let get = |k: &str| s.get(k).and_then(Value::as_str).unwrap_or_default().trim().to_owned();
        let source = Source {
            key: get("key"),
            title: get("title"),
            body: get("body"),
            year: get("year"),
            place: get("where"),
            access: get("access"),
            note: get("note"),
        };
        let at = format!("data/sources.toml: source {} ({})", i + 1, source.key);
        for (what, value) in [("key", &source.key), ("title", &source.title), ("body", &source.body)] {
            if value.is_empty() {
                faults.push(format!("{at}: `{what}` is missing"));
            }
        }
        if !HOW.contains(&source.access.as_str()) {
            faults.push(format!("{at}: access = `{}` is not one of {}", source.access, HOW.join(", ")));
        }
        if let Some(keys) = s.as_table().map(Toml::keys) {
            for k in keys.filter(|k| !["key", "title", "body", "year", "where", "access", "note"].contains(&k.as_str()))
            {
                faults.push(format!("{at}: unknown key `{k}`"));
            }
        }
        if out.iter().any(|o| o.key == source.key) {
            faults.push(format!("{at}: this key stands twice"));
        }
        out.push(source);
    }
    if out.is_empty() {
        faults.push("data/sources.toml: no source".to_owned());
    }
    if faults.is_empty() { Ok(out) } else { Err(faults) }
}

/// Rows whose source is unknown, or that claim to be better known than their source.
pub fn check_rows(table: &Table, sources: &[Source]) -> Vec<String> {
    let mut faults = Vec::new();
    for row in &table.rows {
        let at = format!("data/{}.toml: row {}", table.name, row.key);
        match sources.iter().find(|s| s.key == row.source) {
            None => faults.push(format!("{at}: source `{}` is not in data/sources.toml", row.source)),
            Some(s) if !may_claim(&row.how, &s.access) => {
                faults.push(format!("{at}: how = `{}`, but `{}` is known as `{}`", row.how, s.key, s.access));
            }
            Some(_) => {}
        }
    }
    faults
}

/// Whether a row of a source that is known as `access` may say that it is known as `how`.
fn may_claim(how: &str, access: &str) -> bool {
    match how {
        "read" => access == "read",
        "secondary" => access == "read" || access == "secondary",
        "common-practice" => access != "memory" && access != "own-judgement",
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::{may_claim, parse};

    #[test]
    fn memory_never_claims_to_be_published() {
        assert!(!may_claim("read", "memory"));
        assert!(!may_claim("secondary", "memory"));
        assert!(may_claim("memory", "read"));
        assert!(may_claim("derived", "read"));
    }
    #[test]
    fn a_source_twice_or_without_access_is_refused() {
        let one = "[[source]]\nkey='a'\ntitle='t'\nbody='b'\naccess='read'\n";
        assert!(parse(one).is_ok());
        assert!(parse(&format!("{one}{one}")).is_err());
        assert!(parse("[[source]]\nkey='a'\ntitle='t'\nbody='b'\n").is_err());
    }
}
