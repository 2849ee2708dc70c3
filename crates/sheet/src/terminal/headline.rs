//! The three lines that somebody in a hurry reads: what to do first, the rig, and the weakest part with its stop rule.

use super::page::{Page, Paint};
use super::words::{self, capacity, load, loads, stopped, times};
use unmire_audit::verdict::Verdict;
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Plan, PlanCheck};

pub(super) fn write(page: &mut Page, plan: &Plan, u: Units) {
    page.item(0, "1", &[("Do this first: ", Paint::Strong), (&first(plan, u), Paint::Plain)]);
    let (verdict, summary) = (words::verdict(plan.verdict), format!(": {}", stopped(&plan.summary)));
    page.item(
        0,
        "2",
        &[("The rig: ", Paint::Strong), (&verdict, words::paint(plan.verdict)), (&summary, Paint::Plain)],
    );
    page.item(0, "3", &[("Weakest part: ", Paint::Strong), (&weakest(plan, u), Paint::Plain)]);
}

/// The actions in one paragraph, with what they bring together.
pub(super) fn first(plan: &Plan, u: Units) -> String {
    let (Some(one), Some(last)) = (plan.actions.first(), plan.actions.last()) else {
        return "answer the questions below. No digging, unloading or other lessening of the need is counted in this rig."
            .into();
    };
    let told: Vec<String> = plan
        .actions
        .iter()
        .map(|a| format!("{} ({})", a.text.trim_end().trim_end_matches('.'), times(&a.time)))
        .collect();
    format!("{}. The need falls from {} to {}.", told.join(". Then: "), loads(u, &one.before), loads(u, &last.after))
}

pub(super) fn weakest(plan: &Plan, u: Units) -> String {
    let Some(c) = plan.weakest.and_then(|i| plan.checks.get(i)) else {
        return "unknown: no part has both a known load and a known capacity.".into();
    };
    format!("{} {}", describe(c, u), stop_rule(plan, u))
}

fn describe(c: &PlanCheck, u: Units) -> String {
    let mut t = format!("{} ({})", c.part, c.what);
    if let Some(d) = c.demand_work {
        t += &format!(": {} at work", load(u, d));
    }
    if let Some(d) = c.demand_stall {
        t += &format!(", {} at stall", load(u, d));
    }
    match c.capacity {
        Some(cap) => t += &format!("; {} {}.", c.capacity_kind, capacity(u, cap)),
        None => t += "; capacity unknown.",
    }
    t
}

/// The stop load in a sentence, with what tells of it. A stop load is a capacity: rounded down.
pub(super) fn stop_rule(plan: &Plan, u: Units) -> String {
    match (plan.stop.line_pull, plan.stop.cell_reading) {
        (Some(f), Some(c)) => {
            format!("Stop at {} line pull at the winch (the load cell then shows {}).", capacity(u, f), capacity(u, c))
        }
        (Some(f), None) => {
            let sign = plan.stop.when.first().map_or_else(String::new, |w| format!(" {}", stopped(w)));
            format!("The stop load is {} line pull at the winch.{sign}", capacity(u, f))
        }
        (None, _) if plan.verdict == Verdict::Holds => "No stop load is asked for.".into(),
        (None, _) => String::new(),
    }
}
