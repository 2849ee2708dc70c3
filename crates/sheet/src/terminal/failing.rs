//! What is said when no rig passes: that first, then every best attempt with the checks that it fails, and by how much.

use super::page::{Page, Paint};
use super::words::{self, asked, capacity, load, margin, stopped};
use super::{headline, loads, rest, site_need};
use unmire_audit::verdict::{Effect, Finding, Verdict};
use unmire_model::Force;
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Plan, PlanCheck, Report};

pub(super) fn write(page: &mut Page, r: &Report, u: Units) {
    let policy = r.policy.as_ref().map_or("", |p| p.name.as_str());
    let Some(best) = r.plans.first() else {
        page.item(
            0,
            "■",
            &[
                ("No rig passes. ", Paint::Bad),
                ("None could be made from this kit, these anchors and this ground.", Paint::Plain),
            ],
        );
        rest::title(page, r);
        rest::gate(page, r);
        if let Some(d) = &r.demand {
            page.heading("The need along the way out");
            site_need::parts(page, d, u);
        }
        return;
    };
    let (head, rest) = if r.plans.len() == 1 && r.looked_at <= 1 {
        ("The rig does not pass. ", format!("Do not pull with it. Policy: {policy}."))
    } else {
        ("No rig passes. ", format!("Do not pull with any of them. Looked at: {}; policy: {policy}.", r.looked_at))
    };
    page.item(0, "■", &[(head, Paint::Bad), (&rest, Paint::Plain)]);
    if !best.actions.is_empty() {
        let first = headline::first(best, u);
        page.item(0, "1", &[("What lessens the need: ", Paint::Strong), (&first, Paint::Plain)]);
    }
    rest::title(page, r);
    for (n, plan) in r.plans.iter().enumerate() {
        attempt(page, n, plan, r.plans.len(), u);
    }
    rest::gate(page, r);
    site_need::write(page, r, best, u);
    if r.plans.len() == 1 {
        loads::write(page, best, "Loads, worst first", u);
        loads::legs(page, best, u);
        rest::winch(page, best, u);
        rest::stability(page, best, u);
        rest::keep_out(page, best, u);
        rest::cautions(page, best);
        rest::other_policies(page, best);
    } else {
        loads::write(page, best, "Loads of the first attempt, worst first", u);
    }
}

fn attempt(page: &mut Page, n: usize, plan: &Plan, of: usize, u: Units) {
    let head = if of == 1 { "What it lacks".to_owned() } else { format!("Attempt {} of {of}", n + 1) };
    page.heading(&head);
    let (verdict, summary) = (words::verdict(plan.verdict), format!(": {}", stopped(&plan.summary)));
    page.flow(0, 2, &[(&verdict, words::paint(plan.verdict)), (&summary, Paint::Plain)]);
    if !plan.why.is_empty() {
        page.para(2, &words::sentence(&stopped(&plan.why)));
    }
    for c in plan.checks.iter().filter(|c| !c.verdict.passes()) {
        let text = format!("{}, {}: {}", c.part, c.what, lacks(c, u));
        page.item(2, &c.verdict.shape().to_string(), &[(&text, Paint::Plain)]);
    }
    // A part that is listed as unknown need not be named once more.
    let listed = |f: &Finding| {
        f.effect == Effect::Unknown && plan.checks.iter().any(|c| c.verdict == Verdict::Unknown && c.part == f.subject)
    };
    // Up to which stop load it would do, and the detector that is missing: often the least thing that would change the word.
    let near = |f: &Finding| plan.lacks_detector && f.code == "stop-load";
    let barred =
        plan.findings.iter().filter(|f| (matches!(f.effect, Effect::Bars | Effect::Unknown) && !listed(f)) || near(f));
    for f in barred {
        let text = format!("{}: {} {}", f.subject, stopped(&f.text), stopped(&f.remedy));
        page.item(
            2,
            match f.effect {
                Effect::Bars => "■",
                Effect::Unknown => "?",
                Effect::Caution | Effect::Note => "-",
            },
            &[(&text, Paint::Plain), (&format!(" [{}]", f.code), Paint::Faint)],
        );
    }
}

/// What a check lacks, in numbers.
fn lacks(c: &PlanCheck, u: Units) -> String {
    if c.verdict == Verdict::Unknown {
        return format!(
            "unknown, {}.",
            c.unknown_because.as_deref().unwrap_or("its load or its capacity is not known")
        );
    }
    let cap =
        c.capacity.map_or_else(|| "capacity unknown".into(), |f| format!("{} {}", c.capacity_kind, capacity(u, f)));
    let mut short = Vec::new();
    let ends = [
        ("at work", c.demand_work, c.ratio_work, c.required_work),
        ("at stall", c.demand_stall, c.ratio_stall, c.required_stall),
    ];
    for (when, demand, has, asks) in ends {
        let (Some(demand), Some(has), Some(asks)) = (demand, has, asks) else { continue };
        if has < asks {
            let by = shortfall(demand, asks, c.capacity);
            let by = by.map_or_else(String::new, |f| format!(", {} short", load(u, f)));
            short.push(format!("{} {when}, ratio {} of {}{by}", load(u, demand), margin(Some(has)), asked(asks)));
        }
    }
    if short.is_empty() { format!("{cap}.") } else { format!("{cap}; {}.", short.join("; ")) }
}

/// How much capacity is wanting. For the reader alone; the verdict was reached without it.
fn shortfall(demand: Force, asks: f64, capacity: Option<Force>) -> Option<Force> {
    Some(demand * asks - capacity?).filter(|f| f.as_n() > 0.0)
}
