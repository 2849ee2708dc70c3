//! The rows of `checks/`: values as their sources print them, against the functions that are meant to give them.
//!
//! Tolerance: half a unit of the last printed digit, worked out in one place ([`tolerance`]). A row that disagrees must stand in
//! `accepted.toml` with the exact value and the reason, and must go on disagreeing.

#![allow(clippy::panic)] // a test that cannot read its rows has to fail loudly

#[path = "checks/dispatch.rs"]
mod dispatch;
#[path = "checks/kinetic.rs"]
mod kinetic;
#[path = "checks/made.rs"]
mod made;
#[path = "checks/pull.rs"]
mod pull;
#[path = "checks/row.rs"]
mod row;
#[path = "checks/sharing.rs"]
mod sharing;
#[path = "checks/trees.rs"]
mod trees;
#[path = "checks/units.rs"]
mod units;

use row::Accepted;
use std::collections::BTreeMap;

/// Rows that must have run at least: a run that found none of them would prove nothing.
const LEAST_ROWS: usize = 640;

/// Half a unit of the last printed digit.
fn tolerance(printed: &str) -> f64 {
    let decimals = printed.split_once('.').map_or(0, |(_, d)| d.len());
    let mut unit = 1.0;
    for _ in 0..decimals {
        unit /= 10.0;
    }
    0.5 * unit
}

/// Whether a value rounds to what is printed. A hair of slack for binary fractions: a millionth of the tolerance.
fn agrees(value: f64, printed: &str) -> bool {
    let want: f64 = printed.parse().unwrap_or(f64::NAN);
    (value - want).abs() <= tolerance(printed) * (1.0 + 1e-6)
}

/// Runs the rows of these kinds; gives back what went wrong.
fn run(kinds: &[&str]) -> (usize, Vec<String>) {
    let accepted: BTreeMap<String, Accepted> = row::accepted();
    let mut faults = Vec::new();
    let mut ran = 0;
    for r in row::rows().iter().filter(|r| kinds.contains(&r.kind.as_str())) {
        ran += 1;
        let value = match dispatch::value(r) {
            Ok(v) => v,
            Err(e) => {
                faults.push(format!("{}: {}: {e}", r.file, r.id));
                continue;
            }
        };
        match (agrees(value, &r.expect), accepted.get(&r.id)) {
            (true, None) => {}
            (true, Some(_)) => faults.push(format!("{}: {} agrees now: take it out of accepted.toml", r.file, r.id)),
            (false, None) => {
                faults.push(format!("{}: {}: printed {} {}, computed {value:.9}", r.file, r.id, r.expect, r.unit));
            }
            (false, Some(a)) if agrees(value, &a.exact) => {}
            (false, Some(a)) => faults.push(format!(
                "{}: {}: accepted.toml has {} as the exact value, computed {value:.9}",
                r.file, r.id, a.exact
            )),
        }
    }
    (ran, faults)
}

fn report(faults: &[String]) {
    assert!(faults.is_empty(), "{} rows are wrong:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn published_values_are_met_as_printed() {
    let (ran, faults) = run(&["published"]);
    report(&faults);
    assert!(ran >= 260, "only {ran} published rows ran");
}

#[test]
fn closed_form_values_are_met() {
    let (ran, faults) = run(&["closed_form"]);
    report(&faults);
    assert!(ran >= 155, "only {ran} rows of closed forms ran");
}

#[test]
fn closed_form_worked_examples_of_our_own_are_met() {
    let (ran, faults) = run(&["derived"]);
    report(&faults);
    assert!(ran >= 190, "only {ran} derived rows ran");
}

/// Rules that are known from memory only: the arithmetic is held, nothing is proven about the rule.
#[test]
fn regress_arithmetic_of_rules_from_memory() {
    let (ran, faults) = run(&["arithmetic"]);
    report(&faults);
    assert!(ran >= 20, "only {ran} rows ran");
}

#[test]
fn no_row_is_left_out_and_none_is_called_what_it_is_not() {
    let rows = row::rows();
    assert!(rows.len() >= LEAST_ROWS, "{} rows", rows.len());
    let mut seen = BTreeMap::new();
    for r in &rows {
        if let Some(other) = seen.insert(r.id.clone(), r.file.clone()) {
            panic!("{} stands in {} and in {other}", r.id, r.file);
        }
        assert!(
            ["published", "closed_form", "derived", "arithmetic"].contains(&r.kind.as_str()),
            "{}: kind {}",
            r.id,
            r.kind
        );
        assert!(r.expect.parse::<f64>().is_ok_and(f64::is_finite), "{}: expect {}", r.id, r.expect);
        let source = unmire_tables::source(&r.source).unwrap_or_else(|| panic!("{}: source {}", r.id, r.source));
        if r.kind == "published" {
            assert!(["read", "secondary"].contains(&r.how.as_str()), "{} is published and known by {}", r.id, r.how);
            assert!(source.access.is_published(), "{} is published, its source {} is not", r.id, r.source);
        }
        if r.how == "memory" {
            assert_eq!(r.kind, "arithmetic", "{} is from memory", r.id);
        }
    }
    for (id, a) in row::accepted() {
        assert!(seen.contains_key(&id), "accepted.toml names {id}, which is no row");
        assert!(a.reason.len() > 20, "accepted.toml: {id} needs a reason");
    }
}

#[test]
fn tolerance_is_half_a_unit_of_the_last_printed_digit() {
    assert_eq!(tolerance("14254"), 0.5);
    assert!((tolerance("0.309") - 0.0005).abs() < 1e-15);
    assert!(agrees(1.0050, "1.00") && !agrees(1.0051, "1.00") && !agrees(f64::NAN, "1.00"));
}
