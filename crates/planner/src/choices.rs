//! Which rigs the ground and the vehicles allow, before any piece is chosen: family, anchors, hitch, attachment.
//!
//! A choice is a [`Rigging`] whose piece slots are still empty. `fill` puts real pieces into them.

use crate::rigging::{Grip, Leg, Pull, Rigging, Stop, Veh};
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::case::Case;
use unmire_model::gear::{Condition, Piece, PieceKind, StrapUse};
use unmire_model::layout::{Family, Hitch};
use unmire_model::vehicle::{Helper, PointKind, RecoveryPoint, Winch};
use unmire_model::{Angle, Vec3};

/// Widest angle between a pull and the way out: beyond it less than half of the line's force does work. Our own judgement.
pub const WIDEST_PULL: Angle = Angle::from_deg(60.0);
/// Widest included angle between shared anchors seen from where their legs meet. Published: 120°, `asme-b30-26`.
pub const WIDEST_SHARE: Angle = Angle::from_deg(120.0);

/// What the generator needs to look up again and again.
pub(crate) struct Ground<'a> {
    pub case: &'a Case,
    /// The way out, level, unit length.
    pub out: Vec3,
    /// Anchors that no sign rules out.
    pub anchors: Vec<&'a Anchor>,
    /// Whether the kit has a bridle.
    pub bridle: bool,
    /// How many blocks and rings the kit has.
    pub blocks: usize,
    /// How many straps for trunks.
    pub straps: usize,
}

/// Whether a sign rules an anchor out, whatever its strength.
#[must_use]
pub fn ruled_out(anchor: &Anchor) -> Option<&'static str> {
    let there = |each: &[(&'static str, Option<bool>)]| each.iter().find(|s| s.1 == Some(true)).map(|s| s.0);
    match &anchor.kind {
        AnchorKind::Tree(t) => there(&t.signs.each()),
        AnchorKind::Stump(s) => there(&s.signs.each()),
        AnchorKind::Boulder(b) => there(&b.signs.each()),
        _ => None,
    }
}

/// Whether a piece may be used at all.
#[must_use]
pub fn usable(piece: &Piece) -> bool {
    !matches!(piece.condition, Condition::Reject { .. })
}

impl<'a> Ground<'a> {
    /// With every anchor, or only with those that no sign rules out.
    pub fn of(case: &'a Case, with_ruled_out: bool) -> Self {
        let count = |f: &dyn Fn(&PieceKind) -> bool| case.kit.iter().filter(|p| usable(p) && f(&p.kind)).count();
        Self {
            case,
            out: Vec3::new(1.0, 0.0, 0.0).turned(case.way_out.bearing.value),
            anchors: case.anchors.iter().filter(|a| with_ruled_out || ruled_out(a).is_none()).collect(),
            bridle: count(&|k| matches!(k, PieceKind::Strap(s) if s.made_for == StrapUse::Bridle)) > 0,
            blocks: count(&|k| matches!(k, PieceKind::Block { .. } | PieceKind::Ring { .. })),
            straps: count(
                &|k| matches!(k, PieceKind::Strap(s) if matches!(s.made_for, StrapUse::TreeStrap | StrapUse::RoundSling)),
            ),
        }
    }
    /// Level angle between the way out and the direction from a point to another.
    fn off(&self, from: Vec3, to: Vec3) -> Option<Angle> {
        (to - from).level().angle_to(self.out)
    }
    fn ahead(&self, from: Vec3, to: Vec3) -> bool {
        self.off(from, to).is_some_and(|a| a <= WIDEST_PULL)
    }
    /// Recovery points of the stuck vehicle on the side of the way out.
    fn facing(&self) -> Vec<&'a RecoveryPoint> {
        let v = &self.case.vehicle;
        let good = |p: &&RecoveryPoint| p.kind == PointKind::RecoveryPoint;
        let ahead: Vec<_> = v
            .points
            .iter()
            .filter(good)
            .filter(|p| p.position.level().dot(self.out) > 0.3 * p.position.level().norm())
            .collect();
        if ahead.is_empty() { v.points.iter().filter(good).collect() } else { ahead }
    }
    /// Ways to attach to the stuck vehicle on the side of the way out.
    pub fn attachments(&self) -> Vec<Grip<'a>> {
        let on = Veh::Stuck(&self.case.vehicle);
        let facing = self.facing();
        let mut out: Vec<Grip<'a>> =
            facing.iter().map(|&point| Grip::Point { on, point, connectors: Vec::new() }).collect();
        if self.bridle {
            for (i, &a) in facing.iter().enumerate() {
                for &b in &facing[i + 1..] {
                    let level_with = (a.position - b.position).dot(self.out).abs() < 0.5;
                    if level_with && (a.position - b.position).norm() > 0.2 {
                        out.push(Grip::Bridle { on, points: [a, b], strap: None, connectors: Vec::new() });
                    }
                }
            }
        }
        out
    }
    fn leg(anchor: &'a Anchor, hitch: Hitch) -> Leg<'a> {
        Leg { anchor, hitch, strap: None, extensions: Vec::new(), connectors: Vec::new() }
    }
    fn hitch_of(anchor: &Anchor) -> Hitch {
        if anchor.kind.radius().is_some() { Hitch::Basket } else { Hitch::Straight }
    }
    /// A grip on one or more anchors, in a basket where a strap goes round them.
    pub fn grip(anchors: &[&'a Anchor]) -> Grip<'a> {
        Grip::Anchors(anchors.iter().map(|a| Self::leg(a, Self::hitch_of(a))).collect())
    }
    /// Pairs and, where pairs can't be enough, triples of anchors ahead that may share.
    pub fn shares(&self, from: Vec3, most: usize) -> Vec<Vec<&'a Anchor>> {
        let near: Vec<_> = self.anchors.iter().copied().filter(|a| self.ahead(from, a.position)).collect();
        let mut out = Vec::new();
        for (i, &a) in near.iter().enumerate() {
            for (j, &b) in near.iter().enumerate().skip(i + 1) {
                let spread = (a.position - from).level().angle_to((b.position - from).level());
                if !spread.is_some_and(|s| s <= WIDEST_SHARE) {
                    continue;
                }
                out.push(vec![a, b]);
                if most >= 3 {
                    for &c in &near[j + 1..] {
                        out.push(vec![a, b, c]);
                    }
                }
            }
        }
        out.retain(|set| set.len() <= self.straps + set.iter().filter(|a| a.kind.radius().is_none()).count());
        out
    }
}

fn turn(grip: Grip<'_>) -> Stop<'_> {
    Stop { block: None, extensions: Vec::new(), connectors: Vec::new(), grip }
}

/// A choice: every stop but the last needs a block.
pub(crate) fn rigging<'a>(family: Family, pull: Pull<'a>, grips: Vec<Grip<'a>>) -> Rigging<'a> {
    Rigging {
        family,
        pull,
        stops: grips.into_iter().map(turn).collect(),
        tie_back: None,
        holding: None,
        beside: Vec::new(),
    }
}

/// All choices of a case. Anchors that a sign rules out are left out; only if that leaves no choice at all are they taken, so
/// that the reader sees by how much the best attempt fails.
#[must_use]
pub fn choices(case: &Case) -> Vec<Rigging<'_>> {
    let sound = choices_on(&Ground::of(case, false));
    if sound.is_empty() { choices_on(&Ground::of(case, true)) } else { sound }
}

fn choices_on<'a>(ground: &Ground<'a>) -> Vec<Rigging<'a>> {
    let case = ground.case;
    let mut out = Vec::new();
    if let Some(winch) = &case.vehicle.winch {
        own_winch(ground, winch, &mut out);
    }
    for helper in &case.helpers {
        if let Some(winch) = &helper.vehicle.winch {
            helper_winch(ground, helper, winch, &mut out);
        }
        if helper.can_tow {
            tows(ground, helper, &mut out);
        }
    }
    hand_winches(ground, &mut out);
    out.retain(|r| !in_two_places(case, r));
    out
}

/// Whether something stands in a rig that holds another part of it from behind.
pub(crate) fn in_two_places(case: &Case, r: &Rigging<'_>) -> bool {
    let ties = case.anchors.iter().filter_map(|a| Some((&a.id, &a.tied_back.as_ref()?.to, false)));
    let backs = case.helpers.iter().filter_map(|h| Some((&h.vehicle.name, &h.backed_by.as_ref()?.to, true)));
    ties.chain(backs).any(|(front, back, vehicle)| stands(r, front, vehicle) && stands(r, back, vehicle))
}

/// Whether an anchor or a helper stands in a rig.
fn stands(r: &Rigging<'_>, id: &str, vehicle: bool) -> bool {
    let is = |on: &Veh<'_>| vehicle && !on.is_stuck() && on.vehicle().name == id;
    let grip = |g: &Grip<'_>| match g {
        Grip::Anchors(legs) => !vehicle && legs.iter().any(|l| l.anchor.id == id),
        Grip::Point { on, .. } | Grip::Bridle { on, .. } | Grip::Winch { on, .. } => is(on),
    };
    let pulls = match &r.pull {
        Pull::Hand { held_by, .. } => grip(held_by),
        Pull::Winch { on, .. } => is(on),
        Pull::Tow { helper, .. } => is(&Veh::Helper(helper)),
    };
    pulls || r.stops.iter().any(|s| grip(&s.grip)) || r.tie_back.iter().chain(&r.holding).any(|t| grip(&t.grip))
}

fn own_winch<'a>(g: &Ground<'a>, winch: &'a Winch, out: &mut Vec<Rigging<'a>>) {
    let on = Veh::Stuck(&g.case.vehicle);
    let pull = || Pull::Winch { on, winch };
    let towards_out = winch.direction.level().angle_to(g.out).is_some_and(|a| a <= WIDEST_PULL);
    if !towards_out {
        reverse(g, winch, out);
        return;
    }
    let ahead: Vec<_> = g.anchors.iter().copied().filter(|a| g.ahead(winch.position, a.position)).collect();
    let ends = g.attachments();
    for &a in &ahead {
        out.push(rigging(Family::StraightPull, pull(), vec![Ground::grip(&[a])]));
        if g.blocks == 0 {
            continue;
        }
        for end in &ends {
            out.push(rigging(Family::DoubleLine, pull(), vec![Ground::grip(&[a]), end.clone()]));
        }
        if g.blocks < 2 {
            continue;
        }
        for end in &ends {
            for &b in &ahead {
                out.push(rigging(
                    Family::TripleLine,
                    pull(),
                    vec![Ground::grip(&[a]), end.clone(), Ground::grip(&[b])],
                ));
            }
        }
    }
    for set in g.shares(winch.position, 3) {
        out.push(rigging(Family::SharedAnchors, pull(), vec![Ground::grip(&set)]));
        if g.blocks > 0 {
            for end in &ends {
                out.push(rigging(Family::SharedAnchors, pull(), vec![Ground::grip(&set), end.clone()]));
            }
        }
    }
    // A helper's vehicle as the anchor of the stuck vehicle's own winch.
    for helper in &g.case.helpers {
        for grip in helper_points(helper, winch.position) {
            if !g.ahead(winch.position, helper.position) {
                continue;
            }
            out.push(rigging(Family::StraightPull, pull(), vec![grip.clone()]));
            if g.blocks > 0 {
                for end in &ends {
                    out.push(rigging(Family::DoubleLine, pull(), vec![grip.clone(), end.clone()]));
                }
            }
        }
    }
}

/// The winch looks away from the way out. The line is turned at one of the vehicle's own points next to the winch and
/// goes back past the vehicle: to an anchor there (one part), or round a block there and back to a rear point (two).
///
/// A block in front on an anchor can't replace the turn on the vehicle: the winch would pull itself towards it.
fn reverse<'a>(g: &Ground<'a>, winch: &'a Winch, out: &mut Vec<Rigging<'a>>) {
    let on = Veh::Stuck(&g.case.vehicle);
    if g.blocks == 0 {
        return;
    }
    let near_winch: Vec<_> = g
        .case
        .vehicle
        .points
        .iter()
        .filter(|p| p.kind == PointKind::RecoveryPoint && (p.position - winch.position).level().norm() < 1.2)
        .collect();
    for &point in &near_winch {
        for &a in g.anchors.iter().filter(|a| g.ahead(Vec3::ZERO, a.position)) {
            let own_turn = Grip::Point { on, point, connectors: Vec::new() };
            let pull = || Pull::Winch { on, winch };
            out.push(rigging(Family::ReversePull, pull(), vec![own_turn.clone(), Ground::grip(&[a])]));
            if g.blocks >= 2 {
                for end in g.attachments() {
                    out.push(rigging(Family::ReversePull, pull(), vec![own_turn.clone(), Ground::grip(&[a]), end]));
                }
            }
        }
    }
}

/// Widest angle of the first leg from square to the drum that is looked at: our own judgement; the rule about fairleads is
/// narrower and tells.
const WIDEST_FIRST_LEG: Angle = Angle::from_deg(60.0);

/// Whether a line from a winch round one anchor to another is a way that a second block is for: it leaves the winch not too
/// far from square, and it is turned enough at the first block that one block alone would not do.
fn turns_well(fairlead: Vec3, forward: Vec3, first: &Anchor, second: &Anchor) -> bool {
    let leg = (first.position - fairlead).level();
    let next = (second.position - first.position).level();
    leg.angle_to(forward).is_some_and(|a| a <= WIDEST_FIRST_LEG)
        && leg.angle_to(next).is_some_and(|a| a.as_deg() >= 15.0)
}

/// Points of a helper that look towards a place.
fn helper_points(helper: &Helper, towards: Vec3) -> Vec<Grip<'_>> {
    let on = Veh::Helper(helper);
    let good = helper.vehicle.points.iter().filter(|p| p.kind == PointKind::RecoveryPoint);
    let looks = |p: &&RecoveryPoint| {
        let arm = helper.direction_to_case(p.position).level();
        arm.norm() < 0.3 || arm.dot((towards - helper.position).level()) > 0.0
    };
    good.filter(looks).map(|point| Grip::Point { on, point, connectors: Vec::new() }).collect()
}

fn helper_winch<'a>(g: &Ground<'a>, helper: &'a Helper, winch: &'a Winch, out: &mut Vec<Rigging<'a>>) {
    let on = Veh::Helper(helper);
    let pull = || Pull::Winch { on, winch };
    let fairlead = helper.to_case(winch.position);
    let ends = g.attachments();
    let forward = helper.direction_to_case(winch.direction).level();
    let straight_ahead = g.ahead(Vec3::ZERO, fairlead);
    let mut plain = Vec::new();
    for end in &ends {
        if straight_ahead {
            plain.push(rigging(Family::StraightPull, pull(), vec![end.clone()]));
            if g.blocks > 0 {
                for back in helper_points(helper, Vec3::ZERO) {
                    plain.push(rigging(Family::DoubleLine, pull(), vec![end.clone(), back.clone()]));
                    if g.blocks > 1 {
                        for last in ends.iter().filter(|e| !same_point(e, end)) {
                            plain.push(rigging(
                                Family::TripleLine,
                                pull(),
                                vec![end.clone(), back.clone(), last.clone()],
                            ));
                        }
                    }
                }
                for &a in g.anchors.iter().filter(|a| g.ahead(Vec3::ZERO, a.position)) {
                    plain.push(rigging(Family::DoubleLine, pull(), vec![end.clone(), Ground::grip(&[a])]));
                }
            }
        }
        if g.blocks == 0 {
            continue;
        }
        for &a in g.anchors.iter().filter(|a| g.ahead(Vec3::ZERO, a.position)) {
            plain.push(rigging(Family::Redirect, pull(), vec![Ground::grip(&[a]), end.clone()]));
            if g.blocks >= 2 {
                for &first in g.anchors.iter().filter(|f| f.id != a.id && turns_well(fairlead, forward, f, a)) {
                    plain.push(rigging(
                        Family::Redirect,
                        pull(),
                        vec![Ground::grip(&[first]), Ground::grip(&[a]), end.clone()],
                    ));
                }
                let first_leg = (a.position - fairlead).level().angle_to(forward);
                let reachable = first_leg.is_some_and(|x| x <= WIDEST_FIRST_LEG);
                for &b in g.anchors.iter().filter(|b| reachable && g.ahead(Vec3::ZERO, b.position)) {
                    // Redirect, then a block on the vehicle and back to an anchor: two parts pull.
                    plain.push(rigging(
                        Family::DoubleLine,
                        pull(),
                        vec![Ground::grip(&[a]), end.clone(), Ground::grip(&[b])],
                    ));
                }
            }
        }
        for set in g.shares(Vec3::ZERO, 2) {
            plain.push(rigging(Family::FloatingRedirect, pull(), vec![Ground::grip(&set), end.clone()]));
        }
    }
    for choice in plain {
        for tie in tie_backs(g, helper, winch) {
            let mut tied = choice.clone();
            if choice.family == Family::StraightPull || choice.family == Family::DoubleLine {
                tied.family = Family::AnchoredHelper;
                tied.tie_back = Some(tie);
                out.push(tied);
            }
        }
        out.push(choice);
    }
}

fn same_point(a: &Grip<'_>, b: &Grip<'_>) -> bool {
    let ids = |g: &Grip<'_>| match g {
        Grip::Point { point, .. } => vec![point.id.clone()],
        Grip::Bridle { points, .. } => points.iter().map(|p| p.id.clone()).collect(),
        Grip::Anchors(_) | Grip::Winch { .. } => Vec::new(),
    };
    let (a, b) = (ids(a), ids(b));
    a.iter().any(|x| b.contains(x))
}

/// Ways to tie a helper back: a point on the far side from its winch, and an anchor behind it.
fn tie_backs<'a>(g: &Ground<'a>, helper: &'a Helper, winch: &'a Winch) -> Vec<crate::rigging::Tie<'a>> {
    let mut out = Vec::new();
    let forward = helper.direction_to_case(winch.direction).level();
    for point in helper.vehicle.points.iter().filter(|p| p.kind == PointKind::RecoveryPoint) {
        let at = helper.to_case(point.position);
        if (at - helper.position).level().dot(forward) > 0.0 {
            continue;
        }
        for &anchor in &g.anchors {
            let back = (anchor.position - at).level();
            if back.angle_to(-forward).is_some_and(|a| a <= Angle::from_deg(30.0)) {
                out.push(crate::rigging::Tie {
                    point,
                    connectors: Vec::new(),
                    line: Vec::new(),
                    grip: Ground::grip(&[anchor]),
                });
            }
        }
    }
    out
}

/// Every way for a helper to drive away with a line, its line not chosen yet.
pub(crate) fn tows_of<'a>(g: &Ground<'a>, helper: &'a Helper) -> Vec<Rigging<'a>> {
    let mut out = Vec::new();
    tows(g, helper, &mut out);
    out.retain(|r| !in_two_places(g.case, r));
    out
}

fn tows<'a>(g: &Ground<'a>, helper: &'a Helper, out: &mut Vec<Rigging<'a>>) {
    if !g.ahead(Vec3::ZERO, helper.position) {
        return;
    }
    for from in helper_points(helper, Vec3::ZERO) {
        let Grip::Point { point, .. } = from else { continue };
        for end in g.attachments() {
            let pull = Pull::Tow { helper, point, connectors: Vec::new(), line: Vec::new() };
            out.push(rigging(Family::SteadyTow, pull, vec![end]));
        }
    }
}

fn hand_winches<'a>(g: &Ground<'a>, out: &mut Vec<Rigging<'a>>) {
    let pieces = g.case.kit.iter().filter(|p| usable(p) && matches!(p.kind, PieceKind::HandWinch { .. }));
    for piece in pieces {
        let ahead: Vec<_> = g.anchors.iter().copied().filter(|a| g.ahead(Vec3::ZERO, a.position)).collect();
        let mut grips: Vec<Vec<&Anchor>> = ahead.iter().map(|a| vec![*a]).collect();
        grips.extend(g.shares(Vec3::ZERO, 2));
        for set in grips {
            for end in g.attachments() {
                let pull = || Pull::Hand { piece, held_by: Ground::grip(&set) };
                out.push(rigging(Family::HandWinch, pull(), vec![end.clone()]));
                if g.blocks > 0 && set.len() == 1 {
                    // A block on the vehicle, the dead end back at an anchor: two parts pull.
                    for &b in &ahead {
                        out.push(rigging(Family::HandWinch, pull(), vec![end.clone(), Ground::grip(&[b])]));
                    }
                }
            }
        }
    }
}
