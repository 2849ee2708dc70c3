//! Broken files and exactly what is said of them. A file dropped into `examples/errors` is a test;
//! `UPDATE_EXPECT=1` writes what is said now, to be reviewed as a difference.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use unmire_casefile::{Known, read_bytes, render};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/errors")
}

/// Words that the tables know, so that a wrong one is told of; a stand-in for the real tables.
const KNOWN: Known<'static> = Known {
    surfaces: &["hard_road", "wet_grass", "mud_shallow"],
    soils: &[],
    species: &["oak", "scots_pine"],
    anchor_soils: &["loam", "firm_clay", "dry_sand", "unknown"],
    rocks: &["granite_or_basalt", "limestone", "unknown"],
    foundations: &["sound_rock", "gravel_coarse_sand", "unknown"],
    policies: &["regulator-stall", "trade"],
};

fn said(path: &Path) -> String {
    let name = path.file_name().unwrap().to_str().unwrap();
    // A fixed reason: the system's own words differ between systems.
    let mut resolve = |p: &str| fs::read_to_string(folder().join(p)).map_err(|_| "there is no such file".to_owned());
    match read_bytes(&fs::read(path).unwrap(), &mut resolve, &KNOWN) {
        Ok(_) => panic!("{name} reads"),
        Err(told) => render(&told, name, 88),
    }
}

#[test]
fn regress_each_broken_file_gets_its_message() {
    let update = std::env::var_os("UPDATE_EXPECT").is_some();
    let mut files: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    assert!(files.len() >= 40, "{}", files.len());
    let mut wrong = Vec::new();
    for path in &files {
        let now = said(path);
        let expected = path.with_extension("txt");
        if update {
            fs::write(&expected, &now).unwrap();
        }
        let before = fs::read_to_string(&expected).unwrap_or_default();
        if before != now {
            wrong.push(format!("{}: said now:\n{now}", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn regress_no_line_is_wider_than_the_terminal() {
    for path in fs::read_dir(folder())
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
    {
        let mut resolve = |p: &str| fs::read_to_string(folder().join(p)).map_err(|_| String::new());
        let told = read_bytes(&fs::read(&path).unwrap(), &mut resolve, &KNOWN).unwrap_err();
        for width in [40, 60] {
            for line in render(&told, "case.toml", width).lines() {
                let n = line.chars().count();
                // A single word may be longer than what is left.
                assert!(
                    n <= width
                        || !line.trim_start()[..].contains(' ')
                        || line.split_whitespace().any(|w| w.chars().count() > width - 14),
                    "{n}: {line}"
                );
            }
        }
    }
}
