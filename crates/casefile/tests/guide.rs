//! The guide in the docs is the one that the tables make. `UPDATE_EXPECT=1` writes it.

#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::Path;

#[test]
fn regress_the_guide_is_current() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/documents.md");
    let now = unmire_casefile::guide();
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        fs::write(&path, &now).unwrap();
    }
    assert_eq!(fs::read_to_string(&path).unwrap_or_default(), now, "run with UPDATE_EXPECT=1");
}
