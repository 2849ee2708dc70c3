//! Vehicles, their points and winches.

use super::drive::drive;
use super::kit::MATERIAL;
use crate::walk::{Mistake, Node, Walk};
use std::collections::BTreeSet;
use unmire_model::vehicle::{Drum, PointKind, RecoveryPoint, Tyres, Vehicle, Winch, WinchLine};
use unmire_model::{Angle, Force, Length, Mass, Vec3};

const POINT_KIND: [PointKind; 6] = [
    PointKind::RecoveryPoint,
    PointKind::TowBall,
    PointKind::TieDown,
    PointKind::Suspension,
    PointKind::UnratedBar,
    PointKind::Unidentified,
];

/// Everything of a vehicle.
pub(super) fn vehicle(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Vehicle> {
    let name = n.id(w, "name");
    let mass = n.input_range::<Mass>(w, "mass");
    let payload = n.input_range::<Mass>(w, "payload");
    let wheelbase = n.input_one::<Length>(w, "wheelbase");
    let track = n.input_one::<Length>(w, "track");
    let cg_height = n.input_range::<Length>(w, "cg_height");
    let points = points(w, n);
    let winch = n.has("winch").then(|| n.table(w, "winch").and_then(|t| winch(w, &t))).flatten();
    let tyres = n.has("tyres").then(|| n.table(w, "tyres").and_then(|t| tyres(w, &t))).flatten();
    Some(Vehicle { name: name?, mass: mass?, payload, wheelbase, track, cg_height, points, winch, tyres })
}

/// The unit vector; one that is already of unit length keeps its bits.
fn unit(v: Vec3) -> Option<Vec3> {
    if (v.norm() - 1.0).abs() < 1e-12 { Some(v) } else { v.unit() }
}

fn points(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Vec<RecoveryPoint> {
    let nodes = n.tables(w, "point").unwrap_or_default();
    let mut seen = BTreeSet::new();
    let mut out = Vec::new();
    for p in &nodes {
        let id = p.id(w, "id");
        if let Some(id) = &id
            && !seen.insert(id.clone())
        {
            w.tell(
                Mistake::new(
                    "duplicate-id",
                    p.span_of("id"),
                    format!("the point \"{id}\" is given twice on this vehicle"),
                )
                .expected("an id of its own for each point"),
            );
        }
        let kind = p.word(w, "kind").and_then(|i| POINT_KIND.get(i).copied());
        let position = p.position(w, "position");
        let direction = if p.has("direction") { p.vector(w, "direction") } else { None };
        let cone = p.one::<Angle>(w, "cone");
        let label = p.label(w, "label");
        if cone.is_some() && !p.has("direction") {
            p.miss(w, "direction", "a cone is round a direction");
        }
        let line = p.line(w);
        if let (Some(id), Some(kind), Some(position), Some(label)) = (id, kind, position, label) {
            out.push(RecoveryPoint { id, kind, position, direction: direction.and_then(unit), cone, label, line });
        }
    }
    out
}

fn winch(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Winch> {
    let id = n.id(w, "id");
    let position = n.position(w, "position");
    let direction = n.vector(w, "direction").and_then(unit);
    let rated_pull = n.input_one::<Force>(w, "rated_pull");
    let stall = n.input_range::<Force>(w, "stall");
    let drum = if n.has("drum") { n.table(w, "drum").and_then(|t| drum(w, &t)) } else { None };
    let line = n.table(w, "line").and_then(|t| winch_line(w, &t));
    let min_wraps = n.whole(w, "min_wraps");
    let mount = n.label(w, "mount");
    let fairlead_limit = n.one::<Angle>(w, "fairlead_limit");
    let current_calibrated = n.flag(w, "current_calibrated").unwrap_or(false);
    let drive = if n.has("drive") { n.table(w, "drive").and_then(|t| drive(w, &t)) } else { None };
    let line_no = n.line(w);
    if let (Some(rated), Some(stall)) = (&rated_pull, &stall)
        && stall.value.high() < rated.value
    {
        w.tell(
            Mistake::new("contradiction", n.span_of("stall"), "this winch would stop below its own rated pull")
                .expected("a stall at or above the rated pull")
                .hint("stall is what it pulls on the first layer before it stops"),
        );
    }
    Some(Winch {
        id: id?,
        position: position?,
        direction: direction?,
        rated_pull: rated_pull?,
        stall,
        drum,
        line: line?,
        min_wraps,
        mount: mount?,
        fairlead_limit,
        current_calibrated,
        drive,
        line_no,
    })
}

fn drum(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Drum> {
    let (diameter, width) = (n.one::<Length>(w, "diameter"), n.one::<Length>(w, "width"));
    Some(Drum { diameter: diameter?, width: width? })
}

fn winch_line(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<WinchLine> {
    let material = n.word(w, "material").and_then(|i| MATERIAL.get(i).copied());
    let diameter = n.one::<Length>(w, "diameter");
    let length = n.one::<Length>(w, "length");
    let label = n.label(w, "label");
    Some(WinchLine { material: material?, diameter: diameter?, length: length?, label: label? })
}

fn tyres(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Tyres> {
    let (diameter, width) = (n.one::<Length>(w, "diameter"), n.one::<Length>(w, "width"));
    Some(Tyres { diameter: diameter?, width: width? })
}
