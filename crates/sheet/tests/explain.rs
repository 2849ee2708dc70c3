//! The working is printed as it was recorded: formula, numbers, value, origin, source.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod common;

use unmire_model::trail::{Dimension, Origin, Recorder, Step, Trail};
use unmire_sheet::explain::report;
use unmire_sheet::terminal::{Options, page::width_of};

fn title(key: &str) -> Option<String> {
    (key == "doctrine-mire").then(|| "A field manual (read in the source)".into())
}

#[test]
fn regress_the_working_is_as_reviewed() {
    let mut r = common::passing();
    r.plans.truncate(1);
    for width in [40, 80] {
        let text = report(&r, &Options { width, ..Options::default() }, &title);
        assert!(text.lines().all(|l| width_of(l) <= width), "{text}");
        common::expect(&format!("explain.{width}.txt"), &text);
    }
}

#[test]
fn regress_numbers_stand_for_symbols_and_never_within_words() {
    let mut trail = Trail::default();
    let step = |formula: &'static str| {
        Step::new("a load", "D", formula, 6.0, Dimension::Ratio, "statics")
            .input("L", 2.0, Dimension::Ratio, Origin::Earlier)
            .input("L with stretch", 3.0, Dimension::Ratio, Origin::Earlier)
    };
    trail.record(|| step("D = max(1.5 · L with stretch, L)"));
    trail.record(|| step("D = the worse of L and something"));
    let mut r = common::passing();
    r.plans.truncate(1);
    r.plans[0].trail = trail;
    let text = report(&r, &Options::default(), &title);
    assert!(text.contains("= max(1.5 · 3, 2)"), "{text}");
    assert!(!text.contains("worse of 2"), "{text}");
}
