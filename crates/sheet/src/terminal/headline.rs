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

/// The actions in one paragraph.
pub(super) fn first(plan: &Plan, u: Units) -> String {
    let each = plan.actions.iter().map(|a| {
        format!(
            "{} The need falls from {} to {}; about {}.",
            stopped(&a.text),
            loads(u, &a.before),
            loads(u, &a.after),
            times(&a.time)
        )
    });
    let all: Vec<String> = each.collect();
    if all.is_empty() {
        "answer the questions below. No digging, unloading or other lessening of the need is counted in this rig."
            .into()
    } else {
        all.join(" Then: ")
    }
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

/// The stop load in a sentence. A stop load is a capacity: rounded down.
pub(super) fn stop_rule(plan: &Plan, u: Units) -> String {
    match plan.stop.line_pull {
        Some(f) => {
            let cell = plan
                .stop
                .cell_reading
                .map_or_else(String::new, |c| format!(" (the load cell then shows {})", capacity(u, c)));
            format!("Stop at {} line pull at the winch{cell}.", capacity(u, f))
        }
        None if plan.verdict == Verdict::Holds => "No stop load is asked for.".into(),
        None => String::new(),
    }
}
