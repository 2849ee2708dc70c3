//! The drawing is well-formed, holds what it must show, and cannot be broken by names in a case file.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod common;

use unmire_model::quantity::show::Units;
use unmire_sheet::svg;

/// A small reader: every element closed in order, every attribute quoted, no stray `<` or `&`.
fn well_formed(text: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        let (before, after) = rest.split_at(at);
        for (i, _) in before.match_indices('&') {
            let entity = before[i..].split(';').next().unwrap();
            assert!(["&amp", "&lt", "&gt", "&quot", "&#39"].contains(&entity), "{entity}");
        }
        let end = after.find('>').unwrap();
        let tag = &after[1..end];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.starts_with('?') && !tag.ends_with('/') {
            open.push(tag.split_whitespace().next().unwrap());
        }
        assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
        rest = &after[end + 1..];
    }
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn regress_the_drawing_is_well_formed_and_as_reviewed() {
    for (name, r) in [("pass", common::passing()), ("fail", common::failing()), ("bare", common::bare())] {
        let text = svg::draw(&r, Units::Metric);
        well_formed(&text);
        assert!(!text.contains("NaN") && !text.contains("inf"), "{name}");
        common::expect(&format!("{name}.svg"), &text);
    }
}

#[test]
fn regress_the_drawing_shows_what_it_must() {
    let text = svg::draw(&common::passing(), Units::Metric);
    for word in
        ["19.5 / 48 kN", "17.6 / 48 kN", "37 / 92 kN", "weakest: A1", "magnetic", "holds below a stop load", "not used"]
    {
        assert!(text.contains(word), "{word}");
    }
    assert!(text.contains("class=\"keep\"") && text.contains("way out"));
    assert!(svg::draw(&common::passing(), Units::Us).contains(" ft"));
}

#[test]
fn regress_names_cannot_break_the_drawing() {
    let mut r = common::passing();
    r.title = "</svg><script>alert(1)</script>".into();
    r.site.anchors[0].1 = "a\"b<c&d\u{0}".into();
    let text = svg::draw(&r, Units::Metric);
    well_formed(&text);
    assert!(!text.contains("<script"));
}

#[test]
fn regress_a_report_without_a_rig_draws_the_site() {
    let mut r = common::passing();
    r.plans.clear();
    let text = svg::draw(&r, Units::Metric);
    well_formed(&text);
    assert!(text.contains("No rig could be made") && text.contains("A1"));
}

#[test]
fn regress_numbers_that_are_none_do_not_reach_the_drawing() {
    let mut r = common::passing();
    r.plans[0].points[1].at.x = f64::NAN;
    r.plans[0].keep_out.rings[0][3].0 = f64::INFINITY;
    let text = svg::draw(&r, Units::Metric);
    well_formed(&text);
    assert!(!text.contains("NaN") && !text.contains("inf"));
}
