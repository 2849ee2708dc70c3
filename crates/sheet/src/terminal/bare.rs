//! A bare rig: where its points settle, the tension in each leg, the force on each fixed point.
//!
//! What is given exactly may be shown exactly: five figures to the nearest, no rounding to the careful side, for nothing
//! is judged here.

use super::page::{Page, Paint, kept};
use super::table::{Cell, Column, table};
use unmire_model::quantity::show::{Round, Units, significant};
use unmire_model::{Force, Length};
use unmire_planner::report::{Plan, Report};

pub(super) fn write(page: &mut Page, r: &Report, u: Units) {
    page.flow(0, 0, &[(&r.title, Paint::Strong)]);
    for plan in &r.plans {
        let out = significant(plan.residual.as_n(), 2, Round::Up);
        page.para(0, &format!("It balances; the greatest out-of-balance force is {out} N. Nothing is judged."));
        points(page, plan, u);
        legs(page, plan, u);
        forces(page, plan, u);
    }
}

fn length(u: Units, metres: f64) -> String {
    let l = Length::from_m(metres);
    match u {
        Units::Metric => format!("{} m", significant(l.as_m(), 5, Round::Nearest)),
        Units::Us => format!("{} ft", significant(l.as_foot(), 5, Round::Nearest)),
    }
}
fn force(u: Units, f: Force) -> String {
    match u {
        Units::Metric => format!("{} kN", significant(f.as_kn(), 5, Round::Nearest)),
        Units::Us => format!("{} lbf", significant(f.as_lbf(), 5, Round::Nearest)),
    }
}

fn points(page: &mut Page, plan: &Plan, u: Units) {
    page.heading("Points");
    let columns = [
        Column::words("Point", 8),
        Column::words("Kind", 6),
        Column::number("Ahead"),
        Column::number("Left"),
        Column::number("Up"),
    ];
    let rows: Vec<Vec<Cell>> = plan
        .points
        .iter()
        .map(|p| {
            let mut row = vec![Cell::new(p.name.clone()), Cell::new(p.kind.clone())];
            row.extend([p.at.x, p.at.y, p.at.z].map(|c| Cell::new(length(u, c))));
            row
        })
        .collect();
    listed(page, &columns, &rows);
}

fn legs(page: &mut Page, plan: &Plan, u: Units) {
    if plan.legs.is_empty() {
        return;
    }
    page.heading("Tension in every leg");
    let columns = [
        Column::words("Member", 8),
        Column::words("From", 8),
        Column::words("To", 8),
        Column::number("Length"),
        Column::number("Tension"),
    ];
    let rows: Vec<Vec<Cell>> = plan
        .legs
        .iter()
        .map(|l| {
            let words = [&l.member, &l.from, &l.to].map(|w| Cell::new(w.clone()));
            let mut row = words.to_vec();
            row.extend([length(u, l.length.as_m()), force(u, l.tension_work)].map(Cell::new));
            row
        })
        .collect();
    listed(page, &columns, &rows);
}

fn forces(page: &mut Page, plan: &Plan, u: Units) {
    if plan.anchors.is_empty() {
        return;
    }
    page.heading("Force of the rig on its fixed points");
    let columns = [
        Column::words("Point", 8),
        Column::number("Ahead"),
        Column::number("Left"),
        Column::number("Up"),
        Column::number("In all"),
    ];
    let rows: Vec<Vec<Cell>> = plan
        .anchors
        .iter()
        .map(|a| {
            let mut row = vec![Cell::new(a.point.clone())];
            row.extend([a.work.x, a.work.y, a.work.z, a.work.norm()].map(|f| Cell::new(force(u, Force::from_n(f)))));
            row
        })
        .collect();
    listed(page, &columns, &rows);
}

/// The table, or one item a row where the page is too narrow for it.
fn listed(page: &mut Page, columns: &[Column], rows: &[Vec<Cell>]) {
    if table(page, columns, rows) {
        return;
    }
    for row in rows {
        let cells = row.iter().zip(columns);
        let text: Vec<String> = cells
            .map(|(cell, column)| match column.number {
                true => kept(&format!("{} {}", column.head.to_lowercase(), cell.text)),
                false => cell.text.clone(),
            })
            .collect();
        page.item(0, "-", &[(&text.join(", "), Paint::Plain)]);
    }
}
