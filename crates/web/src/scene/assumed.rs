//! What nobody measured, and what knowing it could change: the assumption that matters most comes first.

use super::Rigged;
use crate::document::{CaseText, EditError};
use unmire_casefile::keys::case::DEPTH;
use unmire_planner::report::Report;

/// Something that is assumed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// Where it stands.
    pub path: String,
    /// What is assumed.
    pub value: String,
    /// Why.
    pub why: String,
}

/// The tables of a case in which something may be assumed, in the order in which the file has them.
const TABLES: [&str; 9] = ["vehicle", "stuck", "ground", "way_out", "anchor", "obstacle", "helper", "kinetic", "piece"];

/// Everything that a case marks as assumed, in its order.
#[must_use]
pub fn list(case: &CaseText) -> Vec<Assumption> {
    let mut out = Vec::new();
    TABLES.iter().for_each(|t| walk(case, t, &mut out));
    out
}

fn walk(case: &CaseText, path: &str, out: &mut Vec<Assumption>) {
    if let Some(why) = case.assumed(path) {
        out.push(Assumption { path: path.to_owned(), value: case.get(path).unwrap_or_default(), why });
        return;
    }
    for key in case.keys(path) {
        walk(case, &format!("{path}.{key}"), out);
    }
    // Lists of plain values have no assumptions in them.
    if case.list(path).is_none() {
        for i in 0..case.count(path) {
            walk(case, &format!("{path}[{i}]"), out);
        }
    }
}

/// How an assumption could turn out: the ends of its range; for one value a fifth less and a fifth more (our own
/// judgement, used for nothing but the order of a list); for a depth every depth.
#[must_use]
pub fn ends(a: &Assumption) -> Vec<String> {
    if a.path.ends_with(".depth") {
        return DEPTH.iter().map(|d| (*d).to_owned()).collect();
    }
    let parts: Vec<&str> = a.value.split("..").map(str::trim).collect();
    let is_number = |c: char| c.is_ascii_digit() || ".,-+".contains(c);
    let unit = |part: &str| part.trim_start_matches(is_number).trim().to_owned();
    match parts[..] {
        [one] => {
            let (number, unit) = (one.trim_end_matches(|c: char| !is_number(c)), unit(one));
            match number.replace(',', "").parse::<f64>() {
                Ok(n) if n != 0.0 => [0.8, 1.2].iter().map(|k| format!("{} {unit}", n * k)).collect(),
                _ => Vec::new(),
            }
        }
        [first, .., last] => {
            let whole = |part: &str| match unit(part).is_empty() {
                true => format!("{part} {}", unit(last)),
                false => part.to_owned(),
            };
            vec![whole(first), whole(last)]
        }
        [] => Vec::new(),
    }
}

/// Says how deep it is in. A share of the mire that was assumed because nobody told the depth goes with that.
///
/// # Errors
/// If nothing can stand there.
pub fn set_depth(case: &mut CaseText, word: &str) -> Result<(), EditError> {
    if case.assumed("stuck.depth").is_some() && case.assumed("stuck.mire_share").is_some() {
        case.remove("stuck.mire_share");
    }
    case.set("stuck.depth", word)
}

/// How much of the rig's lowest margin, or of the need, hangs on an assumption: the logarithm of the ratio between the
/// worst and the best that could come of it. Zero where nothing can be told.
#[must_use]
pub fn weight(case: &CaseText, kits: &[(String, String)], rig: Option<&Rigged>, a: &Assumption) -> f64 {
    let outcome = |value: &str| {
        let mut case = case.clone();
        match a.path.as_str() {
            "stuck.depth" => set_depth(&mut case, value).ok()?,
            path => case.set(path, value).ok()?,
        }
        let case = super::read(&case.text(), kits)?;
        match rig {
            Some(rig) => measures(&rig.judge(&case).ok()?),
            None => need(&case),
        }
    };
    let all: Vec<[Option<f64>; 2]> = ends(a).iter().filter_map(|v| outcome(v)).collect();
    let spread = |i: usize| {
        let known = all.iter().filter_map(|m| m.get(i).copied().flatten()).filter(|m| *m > 0.0 && m.is_finite());
        let (low, high) = known.fold((f64::INFINITY, 0.0_f64), |(l, h), m| (l.min(m), h.max(m)));
        if high > 0.0 && low.is_finite() { libm::log(high / low) } else { 0.0 }
    };
    spread(0).max(spread(1))
}

/// Lowest margin, and the high end of the need.
fn measures(report: &Report) -> Option<[Option<f64>; 2]> {
    let plan = report.plans.first()?;
    Some([plan.lowest_margin, Some(plan.demand.force.high().as_n())])
}

fn need(case: &unmire_model::case::Case) -> Option<[Option<f64>; 2]> {
    let need = unmire_planner::demand::need_for(case, &[], &mut unmire_model::trail::Silent).ok()?;
    Some([None, Some(unmire_planner::demand::words(&need).force.high().as_n())])
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn new() -> CaseText {
        CaseText::parse(&unmire_casefile::case_from_answers(&BTreeMap::new()).unwrap()).unwrap()
    }
    fn at(path: &str, value: &str) -> Assumption {
        Assumption { path: path.into(), value: value.into(), why: String::new() }
    }

    #[test]
    fn regress_every_assumption_of_a_file_is_listed() {
        let text = unmire_casefile::case_from_answers(&BTreeMap::new()).unwrap();
        let all = list(&CaseText::parse(&text).unwrap());
        let marks = text.lines().filter(|l| l.contains("assumed = ")).count();
        assert_eq!(all.len(), marks, "{all:#?}");
        assert!(all.iter().any(|a| a.path == "vehicle.mass" && a.value == "1.2 t .. 2.2 t .. 3.5 t"));
        for example in crate::examples::cases() {
            let marks = example.text.matches("assumed = ").count();
            assert_eq!(list(&CaseText::parse(example.text).unwrap()).len(), marks, "{}", example.file);
        }
    }
    #[test]
    fn regress_ends_of_what_is_assumed() {
        assert_eq!(ends(&at("vehicle.mass", "1.2 .. 2.2 .. 3.5 t")), ["1.2 t", "3.5 t"]);
        assert_eq!(ends(&at("way_out.grade", "5 deg down .. 15 deg up")), ["5 deg down", "15 deg up"]);
        assert_eq!(ends(&at("vehicle.track", "1.5 m")), ["1.2000000000000002 m", "1.7999999999999998 m"]);
        assert_eq!(ends(&at("stuck.depth", "wheel arch")).len(), 4);
        assert!(ends(&at("ground.surface", "unknown")).is_empty());
    }
    #[test]
    fn regress_what_moves_the_need_most_weighs_most() {
        let case = new();
        let weight = |path: &str| {
            let a = list(&case).into_iter().find(|a| a.path == path).unwrap();
            super::weight(&case, &[], None, &a)
        };
        assert!(weight("stuck.mire_share") > weight("way_out.grade"), "the mire holds up to three times the weight");
        assert!(weight("vehicle.mass") > 0.5);
        assert_eq!(weight("vehicle.track"), 0.0, "the need does not go by the track");
    }
}
