//! The need: how much pull, by which method, what it is made of, and what other methods say.

use super::page::{Page, Paint};
use super::words::loads;
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Demand, Plan, Report};

pub(super) fn write(page: &mut Page, r: &Report, best: &Plan, u: Units) {
    page.heading("The need along the way out");
    if let Some(found) = r.demand.as_ref().filter(|d| d.force != best.demand.force) {
        let text =
            format!("As found: {}. After the actions: {}.", loads(u, &found.force), loads(u, &best.demand.force));
        page.para(0, &text);
        for a in &best.actions {
            let text = format!("{}: from {} to {}", a.word, loads(u, &a.before), loads(u, &a.after));
            page.item(2, "-", &[(&text, Paint::Plain), (&format!(" [{}, {}]", a.source, a.how), Paint::Faint)]);
        }
        parts(page, found, u);
    } else {
        parts(page, &best.demand, u);
    }
}

/// The parts and the alternatives of one need.
pub(super) fn parts(page: &mut Page, d: &Demand, u: Units) {
    page.para(0, &format!("{}, by {}:", loads(u, &d.force), d.method));
    for p in &d.parts {
        let text = format!("{}: {}", p.name, loads(u, &p.force));
        page.item(2, "-", &[(&text, Paint::Plain), (&format!(" [{}, {}]", p.source, p.how), Paint::Faint)]);
    }
    if !d.alternatives.is_empty() {
        page.para(0, "What other ways of estimating it say:");
    }
    for a in &d.alternatives {
        let used = if a.used { ", the one used" } else { "" };
        let text = format!("{}: {}", a.name, loads(u, &a.force));
        page.item(2, "-", &[(&text, Paint::Plain), (&format!(" [{}, {}{used}]", a.source, a.how), Paint::Faint)]);
    }
}
