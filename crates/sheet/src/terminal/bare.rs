//! A bare rig: where its points settle, the tension in each leg, the force on each fixed point.

use super::loads;
use super::page::{Page, Paint};
use super::table::{Cell, Column, table};
use super::words::load;
use unmire_model::Vec3;
use unmire_model::quantity::show::{Round, Units, significant};
use unmire_model::{Force, Length};
use unmire_planner::report::Report;

pub(super) fn write(page: &mut Page, r: &Report, u: Units) {
    page.flow(0, 0, &[(&r.title, Paint::Strong)]);
    for plan in &r.plans {
        let out = significant(plan.residual.as_n(), 2, Round::Up);
        page.para(0, &format!("It balances; the greatest out-of-balance force is {out} N. Nothing is judged."));
        page.heading("Points");
        // What is given exactly may be shown exactly: four figures, always in one unit.
        let number = |m: f64| {
            let l = Length::from_m(m);
            match u {
                Units::Metric => format!("{} m", significant(l.as_m(), 4, Round::Nearest)),
                Units::Us => format!("{} ft", significant(l.as_foot(), 4, Round::Nearest)),
            }
        };
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
                let Vec3 { x, y, z } = p.at;
                vec![
                    Cell::new(p.name.clone()),
                    Cell::new(p.kind.clone()),
                    Cell::new(number(x)),
                    Cell::new(number(y)),
                    Cell::new(number(z)),
                ]
            })
            .collect();
        if !table(page, &columns, &rows) {
            for p in &plan.points {
                let at = format!("{} ({}): {}, {}, {}", p.name, p.kind, number(p.at.x), number(p.at.y), number(p.at.z));
                page.item(0, "-", &[(&at, Paint::Plain)]);
            }
        }
        loads::legs(page, plan, u);
        if !plan.anchors.is_empty() {
            page.heading("Force of the rig on its fixed points");
        }
        for a in &plan.anchors {
            let text = format!("{}: {}", a.point, load(u, Force::from_n(a.work.norm())));
            page.item(0, "-", &[(&text, Paint::Plain)]);
        }
    }
}
