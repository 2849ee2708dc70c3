//! Invented cases for the planner's tests.

use unmire_casefile::Document;
use unmire_model::case::Case;

/// A case of `tests/cases` by its name.
#[allow(dead_code, reason = "each test file has its own copy of this module and may not need all of it")]
pub fn case(name: &str) -> Case {
    let path = format!("{}/tests/cases/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    parse(&text)
}

/// A case from its text.
pub fn parse(text: &str) -> Case {
    match unmire_casefile::read(text, &mut |_: &str| Err("no kit files here".to_owned())) {
        Ok(Document::Case(case)) => *case,
        Ok(_) => panic!("not a case"),
        Err(found) => panic!("{}", found.iter().map(|d| d.message.clone()).collect::<Vec<_>>().join("\n")),
    }
}
