//! The case as a whole.

use super::kit::{self, label, material, pick};
use super::{Out, amount, anchor, drive, exact, kinetic, layout, place, quoted, vector};
use crate::keys::case::{BARS, DEPTH, METHOD, NORTH, SEASONS};
use crate::keys::vehicle::POINT_KINDS;
use unmire_model::case::{Bars, Case, North};
use unmire_model::ground::{Depth, Ground, NeedMethod, Season, Stuck, WayOut};
use unmire_model::quantity::slope::Way;
use unmire_model::vehicle::{Helper, PointKind, RecoveryPoint, Vehicle, Winch};

/// Words of a table key as a person writes them.
pub(super) fn spoken(key: &str) -> String {
    quoted(&key.replace('_', " "))
}
pub(super) fn flag(out: &mut Out, name: &str, value: bool) {
    out.key(name, if value { "true" } else { "false" });
}

/// Everything.
pub(super) fn case(out: &mut Out, c: &Case) {
    out.key("schema", &quoted(crate::CASE_SCHEMA));
    out.key("title", &quoted(&c.title));
    if let Some(p) = &c.policy {
        out.key("policy", &quoted(p));
    }
    if let Some((heading, north)) = c.heading {
        out.header("[survey]");
        out.key("heading", &exact(heading));
        out.key("north", &pick(&[North::True, North::Magnetic, North::Grid], north, NORTH));
    }
    out.header("[vehicle]");
    vehicle(out, &c.vehicle, "vehicle");
    stuck(out, &c.stuck);
    ground(out, &c.ground);
    way_out(out, &c.way_out);
    drive::stretches(out, &c.path);
    for a in &c.anchors {
        anchor::anchor(out, a);
    }
    for o in &c.obstacles {
        out.header("[[obstacle]]");
        out.key("id", &quoted(&o.id));
        out.key("what", &quoted(&o.what));
        out.key("bars", &pick(&[Bars::Lines, Bars::EscapePath], o.bars, BARS));
        let corners: Vec<String> = o.outline.iter().map(|p| place(*p)).collect();
        out.key("outline", &format!("[{}]", corners.join(", ")));
    }
    for h in &c.helpers {
        helper(out, h);
    }
    out.header("[people]");
    out.key("total", &c.people.total.to_string());
    out.key("trained", &c.people.trained.to_string());
    kit::pieces(out, &c.kit);
    if let Some(r) = &c.run_up {
        kinetic::run_up(out, r);
    }
    if let Some(rig) = &c.rig {
        layout::layout(out, rig);
    }
}

/// The keys of a vehicle, then its tables under the given name.
fn vehicle(out: &mut Out, v: &Vehicle, under: &str) {
    vehicle_keys(out, v);
    vehicle_tables(out, v, under);
}

fn vehicle_keys(out: &mut Out, v: &Vehicle) {
    out.key("name", &quoted(&v.name));
    out.key("mass", &amount::range(&v.mass));
    if let Some(p) = &v.payload {
        out.key("payload", &amount::range(p));
    }
    if let Some(x) = &v.wheelbase {
        out.key("wheelbase", &amount::one(x));
    }
    if let Some(x) = &v.track {
        out.key("track", &amount::one(x));
    }
    if let Some(x) = &v.cg_height {
        out.key("cg_height", &amount::range(x));
    }
    if let Some(t) = &v.tyres {
        out.key("tyres", &format!("{{ diameter = {}, width = {} }}", exact(t.diameter), exact(t.width)));
    }
}

fn vehicle_tables(out: &mut Out, v: &Vehicle, under: &str) {
    for p in &v.points {
        out.header(&format!("[[{under}.point]]"));
        point(out, p);
    }
    if let Some(w) = &v.winch {
        out.header(&format!("[{under}.winch]"));
        winch(out, w);
    }
}

fn point(out: &mut Out, p: &RecoveryPoint) {
    let all = [
        PointKind::RecoveryPoint,
        PointKind::TowBall,
        PointKind::TieDown,
        PointKind::Suspension,
        PointKind::UnratedBar,
        PointKind::Unidentified,
    ];
    out.key("id", &quoted(&p.id));
    out.key("kind", &pick(&all, p.kind, POINT_KINDS));
    out.key("position", &place(p.position));
    if let Some(d) = p.direction {
        out.key("direction", &vector(d));
    }
    if let Some(c) = p.cone {
        out.key("cone", &exact(c));
    }
    out.key("label", &label(&p.label));
}

fn winch(out: &mut Out, w: &Winch) {
    out.key("id", &quoted(&w.id));
    out.key("position", &place(w.position));
    out.key("direction", &vector(w.direction));
    out.key("rated_pull", &amount::one(&w.rated_pull));
    if let Some(s) = &w.stall {
        out.key("stall", &amount::range(s));
    }
    if let Some(d) = &w.drum {
        out.key("drum", &format!("{{ diameter = {}, width = {} }}", exact(d.diameter), exact(d.width)));
    }
    out.key(
        "line",
        &format!(
            "{{ material = {}, diameter = {}, length = {}, label = {} }}",
            material(w.line.material),
            exact(w.line.diameter),
            exact(w.line.length),
            label(&w.line.label)
        ),
    );
    if let Some(n) = w.min_wraps {
        out.key("min_wraps", &n.to_string());
    }
    out.key("mount", &label(&w.mount));
    if let Some(a) = w.fairlead_limit {
        out.key("fairlead_limit", &exact(a));
    }
    flag(out, "current_calibrated", w.current_calibrated);
    if let Some(d) = &w.drive {
        out.key("drive", &drive::drive(d));
    }
}

fn stuck(out: &mut Out, s: &Stuck) {
    out.header("[stuck]");
    let depth = pick(&[Depth::NotMired, Depth::Wheel, Depth::WheelArch, Depth::Cab], s.depth.value, DEPTH);
    out.key("depth", &amount::marked(depth, &s.depth.origin));
    if let Some(x) = &s.mire_share {
        out.key("mire_share", &amount::range(x));
    }
    if let Some(x) = &s.obstacle {
        out.key("obstacle", &amount::range(x));
    }
    if let Some(x) = &s.locked_share {
        out.key("locked_share", &amount::range(x));
    }
    flag(out, "drive_helps", s.drive_helps);
    flag(out, "bellied", s.bellied);
    if let Some(x) = &s.unloadable {
        out.key("unloadable", &amount::range(x));
    }
    flag(out, "overturned", s.overturned);
}

fn ground(out: &mut Out, g: &Ground) {
    out.header("[ground]");
    out.key("surface", &amount::marked(spoken(&g.surface.value), &g.surface.origin));
    if let Some(s) = &g.soil {
        out.key("soil", &amount::marked(spoken(&s.value), &s.origin));
    }
    out.key("method", &pick(&[NeedMethod::Doctrine, NeedMethod::Terramechanics], g.method, METHOD));
    flag(out, "saturated", g.saturated);
    if let Some(s) = &g.season {
        let word = pick(&[Season::Growing, Season::Dormant], s.value, SEASONS);
        out.key("season", &amount::marked(word, &s.origin));
    }
}

fn way_out(out: &mut Out, w: &WayOut) {
    out.header("[way_out]");
    out.key("direction", &amount::marked(amount::heading(w.bearing.value), &w.bearing.origin));
    out.key("grade", &amount::slopes(&w.grade, Way::Along));
    out.key("side_slope", &amount::slope(&w.side_slope, Way::Across));
    out.key("distance", &amount::range(&w.distance));
}

fn helper(out: &mut Out, h: &Helper) {
    out.header("[[helper]]");
    vehicle_keys(out, &h.vehicle);
    out.key("position", &place(h.position));
    out.key("heading", &amount::heading(h.heading));
    if let Some(f) = &h.friction {
        out.key("friction", &amount::range(f));
    }
    out.key("slope", &amount::slope(&h.slope, Way::Nose));
    out.key("braked_share", &amount::range(&h.braked_share));
    if let Some(c) = h.chocked {
        flag(out, "chocked", c);
    }
    if let Some(b) = &h.backed_by {
        out.key("backed_by", &format!("{{ to = {}, with = {} }}", quoted(&b.to), quoted(&b.with)));
    }
    flag(out, "can_tow", h.can_tow);
    vehicle_tables(out, &h.vehicle, "helper");
}
