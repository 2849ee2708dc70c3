//! The page fits its width, says the four words, leads with what to do, and never calls a rig by the word it must not.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod common;

use unmire_model::quantity::show::Units;
use unmire_planner::report::Report;
use unmire_sheet::terminal::{Options, page::width_of, report};

fn page(r: &Report, width: usize, colour: bool) -> String {
    report(r, &Options { width, units: Units::Metric, colour })
}
fn all() -> [(&'static str, Report); 3] {
    [("pass", common::passing()), ("fail", common::failing()), ("bare", common::bare())]
}

#[test]
fn regress_no_line_is_wider_than_asked_for() {
    for (name, r) in all() {
        for width in [40, 60, 80, 100, 120] {
            for line in page(&r, width, false).lines() {
                assert!(width_of(line) <= width, "{name} at {width}: {line}");
            }
        }
    }
}

#[test]
fn regress_colour_adds_nothing_but_escape_codes() {
    for (name, r) in all() {
        let plain = page(&r, 80, false);
        assert!(!plain.contains('\x1b'), "{name}");
        let mut painted = page(&r, 80, true);
        for code in ["\x1b[0m", "\x1b[1m", "\x1b[2m", "\x1b[1;31m", "\x1b[1;32m", "\x1b[1;33m", "\x1b[1;35m"] {
            painted = painted.replace(code, "");
        }
        let trimmed: String = painted.lines().map(|l| format!("{}\n", l.trim_end())).collect();
        assert_eq!(trimmed, plain, "{name}");
    }
}

#[test]
fn regress_three_things_lead_when_a_rig_passes() {
    let text = page(&common::passing(), 200, false);
    let mut lines = text.lines();
    assert!(lines.next().unwrap().starts_with("1 Do this first: Dig the wheels out"));
    assert!(lines.next().unwrap().starts_with("2 The rig: ◐ holds below a stop load: Double line"));
    let third = lines.next().unwrap();
    assert!(third.starts_with("3 Weakest part: A1"), "{third}");
    assert!(third.contains("Stop at 24 kN line pull at the winch"), "{third}");
    assert_eq!(lines.next(), Some(""));
}

#[test]
fn regress_nothing_passes_is_said_first_with_what_is_wanting() {
    let text = page(&common::failing(), 200, false);
    assert!(text.starts_with("■ No rig passes."));
    assert!(
        text.contains("■ A1, oak as an anchor: breaking strength 23 kN; 37 kN at work, ratio 0.62 of 1, 14 kN short"),
        "{text}"
    );
    assert!(text.contains("? K7, shackle at F2: unknown, the label gives no unit."), "{text}");
}

#[test]
fn regress_no_output_uses_the_word_that_promises_too_much() {
    for (name, r) in all() {
        let text = page(&r, 80, false).to_lowercase();
        assert!(!text.split(|c: char| !c.is_alphabetic()).any(|w| w == "safe" || w == "safely"), "{name}");
    }
}

#[test]
fn regress_units_are_the_readers() {
    let us = report(&common::passing(), &Options { width: 80, units: Units::Us, colour: false });
    assert!(us.contains("lbf") && us.contains(" ft"));
    assert!(!us.contains(" m "), "lengths in feet");
}

#[test]
fn regress_the_pages_are_as_reviewed() {
    for (name, r) in all() {
        for width in [40, 80, 120] {
            common::expect(&format!("{name}.{width}.txt"), &page(&r, width, false));
        }
    }
}
