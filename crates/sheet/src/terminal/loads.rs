//! The loads as tables, and as short records where the screen is too narrow for a table.

use super::page::{Page, Paint, width_of};
use super::table::{Cell, Column, table};
use super::words::{self, NONE, UNKNOWN, asked, capacity, load, load_or, margin};
use unmire_audit::verdict::Verdict;
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Plan, PlanCheck};

/// Every check, worst first: one row each if the page is wide, two if it is narrower, else a short record.
pub(super) fn write(page: &mut Page, plan: &Plan, heading: &str, u: Units) {
    if plan.checks.is_empty() {
        return;
    }
    page.heading(heading);
    page.flow(
        0,
        0,
        &[(
            "Work: the high end of the need, every part at its own worse end of sheave friction, so that the loads of one column \
             need not balance. Stall: the winch's button held. Ratio: capacity over load, and in brackets \
             what the policy asks. Loads are rounded up, capacities and ratios down.",
            Paint::Faint,
        )],
    );
    let columns = [
        Column::words("Part", 26),
        Column::number("Work"),
        Column::number("Stall"),
        Column::words("Capacity", 12),
        Column::number("At work"),
        Column::number("At stall"),
        Column::words("Verdict", 11),
    ];
    let rows: Vec<Vec<Cell>> = plan.checks.iter().map(|c| cells(c, u)).collect();
    if !table(page, &columns, &rows) && !two_rows(page, plan, u) {
        plan.checks.iter().for_each(|c| record(page, c, u));
    }
    for c in plan.checks.iter().filter(|c| c.verdict == Verdict::Unknown) {
        let why = c.unknown_because.as_deref().unwrap_or("its load or its capacity is not known");
        page.item(0, "?", &[(&format!("{} is unknown: {why}.", c.part), Paint::Plain)]);
    }
}

/// The name and the verdict on one row, the numbers in columns below.
fn two_rows(page: &mut Page, plan: &Plan, u: Units) -> bool {
    const HEADS: [&str; 5] = ["Work", "Stall", "Capacity", "At work", "At stall"];
    let all: Vec<(&PlanCheck, [String; 5])> = plan.checks.iter().map(|c| (c, numbers(c, u))).collect();
    let widths: Vec<usize> = (0..HEADS.len())
        .map(|i| {
            let head = HEADS.get(i).map_or(0, |h| width_of(h));
            all.iter().filter_map(|(_, n)| n.get(i)).map(|t| width_of(t)).max().unwrap_or(0).max(head)
        })
        .collect();
    let line = |texts: &[String]| {
        let mut out = String::from(" ");
        for (t, w) in texts.iter().zip(&widths) {
            out.push_str("  ");
            out.push_str(&" ".repeat(w.saturating_sub(width_of(t))));
            out.push_str(t);
        }
        out
    };
    let numbers_wide = 1 + widths.iter().map(|w| w + 2).sum::<usize>();
    if numbers_wide > page.width() {
        return false;
    }
    page.raw_line(&[(&line(&HEADS.map(str::to_owned)), Paint::Strong)]);
    for (c, n) in &all {
        page.item(
            0,
            &c.verdict.shape().to_string(),
            &[(&format!("{}, {}: ", c.part, c.what), Paint::Strong), (c.verdict.word(), words::paint(c.verdict))],
        );
        let kind = format!("  {}", c.capacity_kind);
        let room = numbers_wide + width_of(&kind) <= page.width();
        let row = if room { line(n) + &kind } else { line(n) };
        page.raw_line(&[(&row, Paint::Plain)]);
        if !room && !c.capacity_kind.is_empty() {
            page.flow(3, 3, &[(&format!("(capacity: {})", c.capacity_kind), Paint::Faint)]);
        }
    }
    true
}

fn numbers(c: &PlanCheck, u: Units) -> [String; 5] {
    let stall_applies = c.demand_stall.is_some() || c.required_stall.is_some();
    [
        load_or(u, c.demand_work, UNKNOWN),
        load_or(u, c.demand_stall, NONE),
        c.capacity.map_or_else(|| UNKNOWN.into(), |cap| capacity(u, cap)),
        ratio(c.ratio_work, c.required_work),
        if stall_applies { ratio(c.ratio_stall, c.required_stall) } else { NONE.into() },
    ]
}

fn cells(c: &PlanCheck, u: Units) -> Vec<Cell> {
    let [work, stall, cap, at_work, at_stall] = numbers(c, u);
    vec![
        Cell::new(format!("{} {}, {}", c.verdict.shape(), c.part, c.what)),
        Cell::new(work),
        Cell::new(stall),
        Cell::new(format!("{cap} {}", c.capacity_kind)),
        Cell::new(at_work),
        Cell::new(at_stall),
        Cell::painted(c.verdict.word(), words::paint(c.verdict)),
    ]
}

/// `1.2 (2)`: there is, and in brackets what is asked.
fn ratio(has: Option<f64>, asks: Option<f64>) -> String {
    match (has, asks) {
        (None, None) => NONE.into(),
        (has, Some(k)) => format!("{} ({})", has.map_or_else(|| "?".into(), |r| margin(Some(r))), asked(k)),
        (Some(r), None) => margin(Some(r)),
    }
}

fn record(page: &mut Page, c: &PlanCheck, u: Units) {
    let head = format!("{}, {}: ", c.part, c.what);
    page.item(
        0,
        &c.verdict.shape().to_string(),
        &[(&head, Paint::Strong), (c.verdict.word(), words::paint(c.verdict))],
    );
    let mut t = format!("load {} at work", load_or(u, c.demand_work, UNKNOWN));
    if let Some(d) = c.demand_stall {
        t += &format!(", {} at stall", load(u, d));
    }
    t += &match c.capacity {
        Some(cap) => format!("; {} {}", c.capacity_kind, capacity(u, cap)),
        None => "; capacity unknown".into(),
    };
    t += &format!("; ratio at work {}", ratio(c.ratio_work, c.required_work));
    if c.demand_stall.is_some() {
        t += &format!(", at stall {}", ratio(c.ratio_stall, c.required_stall));
    }
    page.para(2, &t);
}

/// Tension in every leg.
pub(super) fn legs(page: &mut Page, plan: &Plan, u: Units) {
    if plan.legs.is_empty() {
        return;
    }
    let when = if plan.pull.is_some() { " at the start of the pull" } else { "" };
    page.heading(&format!("Tension in every leg{when}"));
    let columns = [
        Column::words("Member", 10),
        Column::words("From", 8),
        Column::words("To", 8),
        Column::number("Length"),
        Column::number("Work"),
        Column::number("Stall"),
    ];
    let rows: Vec<Vec<Cell>> = plan
        .legs
        .iter()
        .map(|l| {
            vec![
                Cell::new(l.member.clone()),
                Cell::new(l.from.clone()),
                Cell::new(l.to.clone()),
                Cell::new(u.show_length(l.length)),
                Cell::new(load(u, l.tension_work)),
                Cell::new(load_or(u, l.tension_stall, NONE)),
            ]
        })
        .collect();
    if !table(page, &columns, &rows) {
        for l in &plan.legs {
            let stall = l.tension_stall.map_or_else(String::new, |f| format!(", {} at stall", load(u, f)));
            let text = format!(
                "{}, {} to {}, {}: {} at work{stall}",
                l.member,
                l.from,
                l.to,
                words_length(u, l.length),
                load(u, l.tension_work)
            );
            page.item(0, "-", &[(&text, Paint::Plain)]);
        }
    }
}
fn words_length(u: Units, l: unmire_model::Length) -> String {
    super::page::kept(&u.show_length(l))
}
