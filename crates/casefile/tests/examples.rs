//! Every example reads, and says what it is meant to say.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use unmire_casefile::{Document, read, render};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

fn open(name: &str) -> Document {
    let text = fs::read_to_string(folder().join(name)).unwrap();
    let mut resolve = |path: &str| fs::read_to_string(folder().join(path)).map_err(|e| e.to_string());
    read(&text, &mut resolve).unwrap_or_else(|d| panic!("{}", render(&d, name, 100)))
}

fn files() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .filter(|n| n.ends_with(".toml"))
        .collect();
    names.sort();
    names
}

#[test]
fn regress_every_example_reads() {
    let names = files();
    assert!(names.len() >= 9, "{names:?}");
    let cases = names.iter().filter(|n| matches!(open(n), Document::Case(_))).count();
    assert!(cases >= 8, "{cases}");
    assert!(matches!(open("kit/club-bag.toml"), Document::Kit(p) if p.len() == 22));
}

#[test]
fn regress_an_example_says_what_it_means() {
    let Document::Case(c) = open("wheel-deep-mud.toml") else { panic!("a case") };
    let far = c.anchor("far").unwrap();
    // 35 paces of 0.75 m from the winch, 3 deg to the right of the heading, 2 m up.
    let level = (26.25_f64 * 26.25 - 4.0).sqrt();
    let a = 3.0_f64.to_radians();
    assert!((far.position.x - (2.3 + level * libm::cos(a))).abs() < 1e-9, "{:?}", far.position);
    assert!((far.position.y + level * libm::sin(a)).abs() < 1e-9, "{:?}", far.position);
    assert!((far.position.z - 2.0).abs() < 1e-12);
    assert_eq!(c.kit.iter().filter(|p| p.id.starts_with("bow-")).count(), 2);
    let Document::Case(c) = open("check-double-line.toml") else { panic!("a case") };
    assert_eq!(c.rig.unwrap().stations.len(), 2);
}
