//! The parts of a rig in the order in which they hang on each other, from the line outwards to what holds.

use super::members::Members;
use crate::build::GripMap;
use crate::context::Context;
use crate::evaluate::Solved;
use crate::present::TieLine;
use crate::rigging::{Grip, Leg, Pull, Rigging, Veh};
use crate::words;
use unmire_audit::facts::PartKind;
use unmire_audit::strength::piece_strength;
use unmire_mechanics::recoil::{Flying, flying_mass};
use unmire_mechanics::rig::Equilibrium;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::{Mass, Range, Vec3};

/// One part in its place.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    /// As in the checks.
    pub name: String,
    /// What it does there.
    pub role: String,
    /// Its kind.
    pub kind: PartKind,
    /// Its mass, and whether nobody weighed it; or why it is not known.
    pub mass: Result<(Range<Mass>, bool), String>,
    /// Which member it is, if it stretches.
    pub member: Option<usize>,
    /// Whether it is a part that can fail: the end of a line only adds its mass.
    pub fails: bool,
}

/// One way from where the line ends or turns to what holds it.
#[derive(Clone, Debug)]
pub(crate) struct Branch {
    pub items: Vec<Item>,
    /// From the station to what holds it, of length one.
    pub toward: Vec3,
    /// What holds it, in words.
    pub far: String,
}

/// Where the line begins, turns or ends.
#[derive(Clone, Debug)]
pub(crate) struct Station {
    /// The point's name.
    pub point: String,
    /// Where it is.
    pub at: Vec3,
    /// The way it is thrown when it is let go: where the line pulls it, of length one.
    pub thrown: Vec3,
    /// That way in words.
    pub way: String,
    /// Whether two parts of the line pull on it.
    pub turns: bool,
    /// Force of the line on it ÷ tension of the line.
    pub ratio: f64,
    /// What all branches hang on.
    pub trunk: Vec<Item>,
    pub branches: Vec<Branch>,
}

/// Mass of a piece that does not stretch, or of one that does by its member.
fn mass_of(p: &Piece, member: Option<usize>, members: &Members) -> Result<(Range<Mass>, bool), String> {
    match Flying::of_piece(&p.kind) {
        Some(what) => flying_mass(what, p.mass, piece_strength(p).working).map_err(|e| format!("{}: {e}", p.id)),
        None => {
            let m = member.and_then(|i| members.all.get(i));
            let known = m.and_then(super::members::Member::mass);
            known.map(|r| (r, p.mass.is_none())).ok_or_else(|| format!("the mass of {} is not known", p.id))
        }
    }
}

fn banded(what: Flying) -> Result<(Range<Mass>, bool), String> {
    flying_mass(what, None, None).map_err(|e| e.to_string())
}

fn item(p: &Piece, role: String, kind: PartKind, member: Option<usize>, members: &Members) -> Item {
    Item { name: p.id.clone(), role, kind, mass: mass_of(p, member, members), member, fails: true }
}

fn point_item(on: Veh<'_>, id: &str) -> Item {
    let name = if on.is_stuck() { format!("point {id}") } else { format!("point {id} of {}", on.vehicle().name) };
    let role = format!("recovery point of {}", on.vehicle().name);
    Item { name, role, kind: PartKind::RecoveryPoint, mass: banded(Flying::Point), member: None, fails: true }
}

fn mount_item(winch: &str) -> Item {
    Item {
        name: format!("mount of {winch}"),
        role: "winch mount".to_owned(),
        kind: PartKind::WinchMount,
        mass: banded(Flying::Winch),
        member: None,
        fails: true,
    }
}

fn anchor_item(leg: &Leg<'_>) -> Item {
    let made = leg.anchor.kind.is_made();
    // A tree or a boulder gives way as a whole and does not fly; what hangs on it does.
    let mass =
        if made { banded(Flying::MadeAnchor) } else { Ok((Range::hull(Mass::ZERO, Mass::ZERO, Mass::ZERO), false)) };
    Item {
        name: leg.anchor.id.clone(),
        role: words::anchor(leg.anchor),
        kind: if made { PartKind::MadeAnchor } else { PartKind::NaturalAnchor },
        mass,
        member: None,
        fails: true,
    }
}

/// An anchor's leg from the station outwards: connectors, extensions and strap in turn, then the anchor.
fn leg_items(leg: &Leg<'_>, own: &[usize], members: &Members, block: bool, what: &str) -> Vec<Item> {
    let (connector, strap_kind) = if block {
        (PartKind::BlockConnector, PartKind::BlockStrap)
    } else {
        (PartKind::Connector, PartKind::EndStrap)
    };
    let extension_kind = if block { PartKind::BlockStrap } else { PartKind::Extension };
    let mut inward = vec![anchor_item(leg)];
    // Members stand from the station outwards: the strap is the last.
    let mut stretchy = own.iter().rev().copied();
    if let Some(strap) = leg.strap {
        let role = format!("strap in {} round {} for {what}", leg.hitch.word(), leg.anchor.id);
        inward.push(item(strap, role, strap_kind, stretchy.next(), members));
    }
    let mut connectors = leg.connectors.iter();
    let role = format!("connector at {} for {what}", leg.anchor.id);
    inward.extend(connectors.next().map(|c| item(c, role.clone(), connector, None, members)));
    for extension in &leg.extensions {
        let longer = format!("lengthens the strap at {}", leg.anchor.id);
        inward.push(item(extension, longer, extension_kind, stretchy.next(), members));
        inward.extend(connectors.next().map(|c| item(c, role.clone(), connector, None, members)));
    }
    inward.extend(connectors.map(|c| item(c, role.clone(), connector, None, members)));
    inward.reverse();
    inward
}

/// A point's name, without saying 'block' twice.
pub(crate) fn name_of(solved: &Solved, i: usize) -> String {
    let name = solved.built.structure.nodes.get(i).map_or("", |n| n.name.as_str());
    name.strip_prefix("block ").map_or_else(|| name.to_owned(), |id| words::named("block", id))
}

/// A grip as branches, and what belongs to the trunk.
#[allow(clippy::too_many_arguments)]
fn branches(
    grip: &Grip<'_>,
    map: &GripMap,
    own: &[Vec<usize>],
    members: &Members,
    solved: &Solved,
    eq: &Equilibrium,
    block: bool,
    what: &str,
) -> (Vec<Item>, Vec<Branch>) {
    let at = |i: usize| eq.positions.get(i).copied().unwrap_or(Vec3::ZERO);
    let here = at(map.node);
    let connector = if block { PartKind::BlockConnector } else { PartKind::Connector };
    match grip {
        Grip::Anchors(legs) => {
            let all = legs.iter().zip(&map.legs).enumerate().map(|(i, (leg, l))| Branch {
                items: leg_items(leg, own.get(i).map_or(&[], Vec::as_slice), members, block, what),
                toward: (at(l.anchor_node) - here).unit().unwrap_or(Vec3::ZERO),
                far: format!("{} ({})", leg.anchor.id, words::anchor(leg.anchor)),
            });
            (Vec::new(), all.collect())
        }
        Grip::Point { on, point, connectors } => {
            let role = format!("connector at point {} for {what}", point.id);
            let mut items: Vec<Item> =
                connectors.iter().map(|c| item(c, role.clone(), connector, None, members)).collect();
            items.push(point_item(*on, &point.id));
            let far = words::grip(grip);
            (Vec::new(), vec![Branch { items, toward: Vec3::ZERO, far }])
        }
        Grip::Bridle { on, points, strap, connectors } => {
            let middle = connectors.iter().skip(2);
            let trunk = middle
                .map(|c| item(c, format!("connector in the middle of the bridle, {what}"), connector, None, members));
            let legs = points.iter().enumerate().map(|(i, point)| {
                let mut items = Vec::new();
                if let Some(strap) = strap {
                    let kind = if block { PartKind::BlockStrap } else { PartKind::Extension };
                    let member = own.get(i).and_then(|o| o.first()).copied();
                    items.push(item(
                        strap,
                        format!("bridle for {what}, leg to point {}", point.id),
                        kind,
                        member,
                        members,
                    ));
                }
                if let Some(c) = connectors.get(i) {
                    items.push(item(
                        c,
                        format!("connector at point {} for the bridle", point.id),
                        connector,
                        None,
                        members,
                    ));
                }
                items.push(point_item(*on, &point.id));
                let end = map.bridle.and_then(|b| b.get(i).copied());
                let end = end.and_then(|s| solved.built.structure.slings.get(s)).map(|s| at(s.a));
                Branch {
                    items,
                    toward: end.and_then(|e| (e - here).unit()).unwrap_or(Vec3::ZERO),
                    far: format!("point {} of {}", point.id, on.vehicle().name),
                }
            });
            let legs = legs.collect();
            (trunk.collect(), legs)
        }
        Grip::Winch { .. } => (Vec::new(), Vec::new()),
    }
}

/// Every station of a rig: the puller first, the dead end last.
pub(crate) fn stations(
    _ctx: &Context<'_>,
    rigging: &Rigging<'_>,
    solved: &Solved,
    eq: &Equilibrium,
    members: &Members,
) -> Vec<Station> {
    let Some(line) = solved.built.structure.lines.first() else { return Vec::new() };
    let at = |i: usize| eq.positions.get(i).copied().unwrap_or(Vec3::ZERO);
    let toward = |from: usize, to: usize| (at(to) - at(from)).unit().unwrap_or(Vec3::ZERO);
    let mut out = Vec::new();
    if let [start, next, ..] = line.path.as_slice() {
        let (trunk, all) = match &rigging.pull {
            Pull::Winch { winch, .. } => (vec![mount_item(&winch.id)], Vec::new()),
            Pull::Tow { helper, point, connectors, .. } => {
                let on = Veh::Helper(helper);
                let role = format!("connector at point {} of {}", point.id, helper.vehicle.name);
                let mut items: Vec<Item> =
                    connectors.iter().map(|c| item(c, role.clone(), PartKind::Connector, None, members)).collect();
                items.push(point_item(on, &point.id));
                let far = format!("point {} of {}", point.id, helper.vehicle.name);
                (Vec::new(), vec![Branch { items, toward: Vec3::ZERO, far }])
            }
            Pull::Hand { piece, held_by } => {
                let body = item(piece, "hand winch with its own line".to_owned(), PartKind::HandWinch, None, members);
                match &solved.built.start_grip {
                    Some(map) => {
                        let (more, all) =
                            branches(held_by, map, &members.start, members, solved, eq, false, "the hand winch");
                        (core::iter::once(body).chain(more).collect(), all)
                    }
                    None => (vec![body], Vec::new()),
                }
            }
        };
        let thrown = toward(*start, *next);
        out.push(Station {
            point: name_of(solved, *start),
            at: at(*start),
            thrown,
            way: format!("along the line toward {} and past it", name_of(solved, *next)),
            turns: false,
            ratio: 1.0,
            trunk,
            branches: all,
        });
    }
    let n = rigging.stops.len();
    for (i, (stop, map)) in rigging.stops.iter().zip(&solved.built.stops).enumerate() {
        let last = i + 1 == n;
        let block = stop.block.is_some();
        let what = stop.block.map_or_else(|| "the line's end".to_owned(), words::block);
        let kind = if block { PartKind::BlockConnector } else { PartKind::Connector };
        let mut trunk = Vec::new();
        if let Some(b) = stop.block {
            trunk.push(item(b, format!("block, station {}", i + 1), PartKind::Block, None, members));
        } else if !matches!(&rigging.pull, Pull::Tow { .. }) {
            trunk.push(Item {
                name: "the end of the line".to_owned(),
                role: "thimble or hook".to_owned(),
                kind: PartKind::Line,
                mass: banded(Flying::LineEnd),
                member: None,
                fails: false,
            });
        }
        if last && let Some(cell) = rigging.beside.iter().find(|p| matches!(p.kind, PieceKind::LoadCell)) {
            trunk.push(item(cell, "load cell at the line's end".to_owned(), PartKind::Connector, None, members));
        }
        let role = |meets: bool| {
            if meets { format!("connector where the legs meet, {what}") } else { format!("connector at {what}") }
        };
        let mut connectors = stop.connectors.iter();
        for (extension, member) in stop.extensions.iter().zip(&members.extensions) {
            trunk.extend(connectors.next().map(|c| item(c, role(false), kind, None, members)));
            let longer = "lengthens the line".to_owned();
            trunk.push(item(extension, longer, PartKind::Extension, Some(*member), members));
        }
        let meets = matches!(&stop.grip, Grip::Anchors(legs) if legs.len() > 1);
        trunk.extend(connectors.map(|c| item(c, role(meets), kind, None, members)));
        let own = members.grips.get(i).map_or(&[] as &[Vec<usize>], Vec::as_slice);
        let (more, mut all) = branches(&stop.grip, map, own, members, solved, eq, block, &what);
        trunk.extend(more);
        // The line's force on it: both parts at a turn, the last leg at the end.
        let before = line.path.get(i).copied().unwrap_or(map.node);
        let (force, tension) = if last {
            let leg = eq.legs.iter().rev().find(|l| l.line == 0);
            let t = leg.map_or(0.0, |l| l.tension.as_n());
            (toward(map.node, before) * t, t)
        } else {
            let turn = eq.turns.iter().filter(|t| t.line == 0).nth(i);
            let t = eq.legs.iter().filter(|l| l.line == 0).nth(i).map_or(0.0, |l| l.tension.as_n());
            (turn.map_or(Vec3::ZERO, |t| t.resultant), t)
        };
        let thrown = force.unit().unwrap_or(Vec3::ZERO);
        for b in &mut all {
            if b.toward == Vec3::ZERO {
                b.toward = -thrown;
            }
        }
        let way = if last {
            format!("back along the line toward {} and past it", name_of(solved, before))
        } else {
            let after = line.path.get(i + 2).copied().unwrap_or(map.node);
            let (a, b) = (name_of(solved, before), name_of(solved, after));
            let open = toward(map.node, before).angle_to(toward(map.node, after)).map_or(0.0, |x| x.as_deg());
            if open < 30.0 {
                format!("back along both parts of the line, toward {a} and {b}")
            } else {
                format!("sideways, into the inside of the angle between {a} and {b}")
            }
        };
        out.push(Station {
            point: name_of(solved, map.node),
            at: at(map.node),
            thrown,
            way,
            turns: !last,
            ratio: if tension > 0.0 { force.norm() / tension } else { 0.0 },
            trunk,
            branches: all,
        });
    }
    // What holds the puller lies against its pull.
    if let Some(start) = out.first_mut() {
        let away = -start.thrown;
        for b in &mut start.branches {
            if b.toward == Vec3::ZERO {
                b.toward = away;
            }
        }
    }
    out
}

/// A tie-back or a holding line from the vehicle's point to what holds it; its members stand at `own`, in the same order.
pub(crate) fn tie_items(on: Veh<'_>, tie: &TieLine<'_>, own: &[usize], members: &Members) -> Vec<Item> {
    let mut stretchy = own.iter().copied();
    let what = format!("the {}", tie.member);
    let t = tie.tie;
    let mut out = vec![point_item(on, &t.point.id)];
    for c in &t.connectors {
        out.push(item(c, format!("connector at point {} for {what}", t.point.id), PartKind::Connector, None, members));
    }
    for p in &t.line {
        out.push(item(p, what.clone(), PartKind::Extension, stretchy.next(), members));
    }
    match &t.grip {
        Grip::Anchors(legs) => {
            for leg in legs {
                let count = leg.extensions.len() + usize::from(leg.strap.is_some());
                let mine: Vec<usize> = stretchy.by_ref().take(count).collect();
                out.extend(leg_items(leg, &mine, members, false, &what));
            }
        }
        Grip::Point { on, point, connectors } => {
            let role = format!("connector at point {} for {what}", point.id);
            out.extend(connectors.iter().map(|c| item(c, role.clone(), PartKind::Connector, None, members)));
            out.push(point_item(*on, &point.id));
        }
        Grip::Winch { winch, .. } => {
            out.push(Item {
                name: format!("line of {}", winch.id),
                role: format!("winch line as {what}"),
                kind: PartKind::Line,
                mass: Ok((Range::hull(Mass::ZERO, Mass::ZERO, Mass::ZERO), false)),
                member: stretchy.next(),
                fails: true,
            });
            out.push(mount_item(&winch.id));
        }
        Grip::Bridle { .. } => {}
    }
    out
}
