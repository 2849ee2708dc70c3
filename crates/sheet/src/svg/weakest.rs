//! Where on the drawing the weakest part is, found by the names that the report gives.

use unmire_audit::facts::PartKind;
use unmire_model::{Force, Vec3};
use unmire_planner::report::{Plan, PlanCheck};

/// The check of the weakest part.
pub(super) fn check(plan: &Plan) -> Option<&PlanCheck> {
    plan.weakest.and_then(|i| plan.checks.get(i))
}

/// Where that part is, if the names tell.
pub(super) fn place(plan: &Plan) -> Option<Vec3> {
    let c = check(plan)?;
    let at_point = |name: &str| plan.points.iter().find(|p| p.name == name).map(|p| p.at);
    let ends_with =
        |name: &str, part: &str| name == part || name.strip_suffix(part).is_some_and(|before| before.ends_with(' '));
    let anchor = || plan.points.iter().find(|p| p.kind == "anchor" && ends_with(&p.name, &c.part)).map(|p| p.at);
    let named = || plan.points.iter().find(|p| ends_with(&p.name, &c.part)).map(|p| p.at);
    let member = || plan.legs.iter().find(|l| l.member == c.part);
    let told = || plan.points.iter().filter(|p| c.what.contains(&p.name)).max_by_key(|p| p.name.len()).map(|p| p.at);
    let most_loaded = || {
        let load = |f: Option<Force>, g: Force| f.unwrap_or(g).as_n();
        plan.legs
            .iter()
            .filter(|l| l.member == "line")
            .max_by(|a, b| load(a.tension_stall, a.tension_work).total_cmp(&load(b.tension_stall, b.tension_work)))
    };
    let middle = |from: &str, to: &str| Some((at_point(from)? + at_point(to)?) * 0.5);
    let by_kind = || match c.kind {
        PartKind::Line => most_loaded().and_then(|l| middle(&l.from, &l.to)),
        PartKind::WinchMount => plan.points.iter().find(|p| p.kind == "winch").map(|p| p.at),
        _ => None,
    };
    let anchor = if c.kind.is_anchor() { anchor() } else { None };
    anchor.or_else(named).or_else(|| member().and_then(|l| middle(&l.from, &l.to))).or_else(told).or_else(by_kind)
}
