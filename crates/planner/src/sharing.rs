//! Legs that share: the most that each anchor of a station may get, over what nobody knows of anchors, straps and lengths.
//!
//! The equilibrium of the whole rig takes anchors as rigid and every number at its likely value. Where legs meet, that is only
//! one of many cases. Here the station's pull is shared out again over all corners ([`share`]), and each leg takes the greatest
//! of them. The station's own force stays what it was: the ring moves by decimetres at most, the line is metres long.
//!
//! A stop load is counted in proportion from stall. What a leg gets of a small pull is more than its part of a great one, for
//! a difference of length counts more then; so a leg's load at stall is its greatest share, at work or at stall, of the pull
//! at stall.

use crate::build::{Built, GripMap, LegMap};
use crate::context::Context;
use crate::loads::{Loads, sling_tension};
use crate::parts::Demand;
use crate::rigging::{Grip, Leg, Pull, Rigging};
use unmire_audit::facts::SharingFact;
use unmire_mechanics::anchor::sharing::{Joined, Sharing, SharingLeg, share};
use unmire_mechanics::anchor::stiffness;
use unmire_mechanics::rig::Equilibrium;
use unmire_model::{Angle, Force, Length, Range, Recorder, Silent, Vec3};

/// How far a leg may be from the length at which all come taut together, after a crew has set them, pulled gently, looked and set
/// them again: our own judgement.
const LENGTH_ERROR: Length = Length::from_cm(5.0);
/// Stiffness of a strap whose label does not help, as shares of what the structure took: our own judgement.
const UNKNOWN_STRAP: (f64, f64) = (0.5, 2.0);

/// What the legs of one station get.
#[derive(Clone, Debug)]
pub struct StationShare {
    /// The most of each leg; none where the likely case is all that is known.
    pub(crate) legs: Option<Vec<Demand>>,
    /// What the reader is told.
    pub(crate) fact: SharingFact,
}

/// What the legs of every station get: one a stop, and what holds a hand winch. None where one leg holds.
#[derive(Clone, Debug, Default)]
pub struct Shares {
    pub(crate) stops: Vec<Option<StationShare>>,
    pub(crate) start: Option<StationShare>,
}

impl Shares {
    /// By how much more than in the likely case an anchor may be pulled, over all its legs that share.
    pub(crate) fn more_at(&self, node: usize, built: &Built, loads: &Loads) -> Demand {
        let none = Demand { work: Force::ZERO, stall: loads.stall.as_ref().map(|_| Force::ZERO) };
        let stations = self.stops.iter().zip(&built.stops).filter_map(|(s, m)| Some((s.as_ref()?, m)));
        let held = self.start.as_ref().zip(built.start_grip.as_ref());
        let mut sum = none;
        for (station, map) in stations.chain(held) {
            let legs = station.legs.iter().flatten().zip(&map.legs);
            for (most, m) in legs.filter(|(_, m)| m.anchor_node == node) {
                let Some(sling) = m.sling else { continue };
                let plain = Demand::of(loads, |e| sling_tension(e, sling));
                let stall = most.stall.map(|s| s - plain.stall.unwrap_or(Force::ZERO));
                sum = sum.plus(Demand { work: most.work - plain.work, stall });
            }
        }
        sum
    }
    /// What the reader is told of each station.
    pub(crate) fn facts(&self) -> Vec<SharingFact> {
        self.stops.iter().flatten().chain(&self.start).map(|s| s.fact.clone()).collect()
    }
}

/// Whether any station of a rigging has legs that share.
#[must_use]
pub fn shares(rigging: &Rigging<'_>) -> bool {
    let several = |g: &Grip<'_>| matches!(g, Grip::Anchors(legs) if legs.len() > 1);
    let held = matches!(&rigging.pull, Pull::Hand { held_by, .. } if several(held_by));
    held || rigging.stops.iter().any(|s| several(&s.grip))
}

/// Shares out the pulls of a solved rigging.
#[must_use]
pub fn of(ctx: &Context<'_>, rigging: &Rigging<'_>, built: &Built, loads: &Loads) -> Shares {
    let one = |grip: &Grip<'_>, map: &GripMap| match grip {
        Grip::Anchors(legs) if legs.len() > 1 => Some(station(ctx, legs, map, built, loads)),
        _ => None,
    };
    let start = match (&rigging.pull, &built.start_grip) {
        (Pull::Hand { held_by, .. }, Some(map)) => one(held_by, map),
        _ => None,
    };
    Shares { stops: rigging.stops.iter().zip(&built.stops).map(|(s, m)| one(&s.grip, m)).collect(), start }
}

/// The working of every station whose legs share, at work: how far each anchor gives, and what it gets.
pub(crate) fn explain(ctx: &Context<'_>, rigging: &Rigging<'_>, built: &Built, loads: &Loads, rec: &mut impl Recorder) {
    let held = match (&rigging.pull, &built.start_grip) {
        (Pull::Hand { held_by, .. }, Some(map)) => Some((held_by, map)),
        _ => None,
    };
    for (grip, map) in rigging.stops.iter().map(|s| &s.grip).zip(&built.stops).chain(held) {
        let Grip::Anchors(legs) = grip else { continue };
        if legs.len() < 2 {
            continue;
        }
        for leg in legs {
            if let Some(known) = ctx.anchor(leg.anchor, Angle::ZERO) {
                let _ = stiffness(leg.anchor, &known, rec);
            }
        }
        if let Some((model, slings)) = model(ctx, legs, map, built) {
            let _ = share(work(loads, built, &slings), &model, &Joined::Fixed, rec);
        }
    }
}

/// The legs of a station with what is not known of them, and their slings; none if nobody can tell.
fn model(ctx: &Context<'_>, legs: &[Leg<'_>], map: &GripMap, built: &Built) -> Option<(Vec<SharingLeg>, Vec<usize>)> {
    let of = |(l, m): (&Leg<'_>, &LegMap)| Some((leg(ctx, l, m.sling?, m.anchor_node, built)?, m.sling?));
    legs.iter().zip(&map.legs).map(of).collect::<Option<Vec<_>>>().map(|all| all.into_iter().unzip())
}

/// The greater pull on a ring at work, of poor and good sheaves.
fn work(loads: &Loads, built: &Built, slings: &[usize]) -> Vec3 {
    let (poor, good) = (pull_of(&loads.poor, built, slings), pull_of(&loads.good, built, slings));
    if good.norm() > poor.norm() { good } else { poor }
}

fn station(ctx: &Context<'_>, legs: &[Leg<'_>], map: &GripMap, built: &Built, loads: &Loads) -> StationShare {
    let mut fact = SharingFact {
        anchors: legs.iter().map(|l| l.anchor.id.clone()).collect(),
        unevenness: None,
        most: None,
        slack: Vec::new(),
        may_hang_slack: Vec::new(),
        ring_moves: None,
    };
    let Some((model, slings)) = model(ctx, legs, map, built) else {
        return StationShare { legs: None, fact };
    };
    let pull = |e: &Equilibrium| pull_of(e, built, &slings);
    let work = work(loads, built, &slings);
    let shared = |pull: Vec3| share(pull, &model, &Joined::Fixed, &mut Silent).ok();
    let at_work = shared(work);
    let at_stall = loads.stall.as_ref().map(|e| (pull(e), shared(pull(e))));
    // What has no certified balance at some corner is no ordinary number, and its parts are unknown.
    let nothing = Force::from_n(f64::NAN);
    let share_high = |s: &Option<Sharing>, i: usize| s.as_ref().and_then(|s| s.anchors.get(i)).map(|a| a.share.high());
    let mut out = Vec::with_capacity(slings.len());
    for (i, &sling) in slings.iter().enumerate() {
        let plain = |e: &Equilibrium| sling_tension(e, sling);
        let of_work = share_high(&at_work, i);
        let most = of_work.map_or(nothing, |s| loads.work(plain).max(Force::from_n(s * work.norm())));
        let stall = at_stall.as_ref().map(|(p, s)| match (share_high(s, i), of_work) {
            (Some(a), Some(b)) => loads.at_stall(plain).unwrap_or(nothing).max(Force::from_n(a.max(b) * p.norm())),
            _ => nothing,
        });
        out.push(Demand { work: most, stall });
    }
    if let Some(s) = &at_work {
        tell(&mut fact, s);
    }
    StationShare { legs: Some(out), fact }
}

/// What the reader is told, of the pull at work.
fn tell(fact: &mut SharingFact, s: &Sharing) {
    let name = |i: usize| fact.anchors.get(i).cloned().unwrap_or_default();
    let greatest = s.anchors.iter().enumerate().max_by(|a, b| a.1.share.high().total_cmp(&b.1.share.high()));
    let most = greatest.map(|(i, a)| (name(i), a.share.high()));
    let slack: Vec<String> = s.slack().map(name).collect();
    let may = s.anchors.iter().enumerate().filter(|(_, a)| a.may_hang_slack).map(|(i, _)| name(i)).collect();
    fact.most = most;
    fact.may_hang_slack = may;
    fact.slack = slack;
    fact.unevenness = Some(s.unevenness);
    fact.ring_moves = Some(s.ring_moves);
}

/// A leg of the structure with what is not known of it.
fn leg(ctx: &Context<'_>, leg: &Leg<'_>, sling: usize, anchor: usize, built: &Built) -> Option<SharingLeg> {
    let (sling, node) = (built.structure.slings.get(sling)?, built.structure.nodes.get(anchor)?);
    let (mut low, mut high) = (1.0_f64, 1.0_f64);
    for piece in leg.strap.iter().chain(&leg.extensions) {
        let (a, b) =
            ctx.stiffness_range(piece).map_or(UNKNOWN_STRAP, |r| (r.low() / r.likely(), r.high() / r.likely()));
        (low, high) = (low.min(a), high.max(b));
    }
    Some(SharingLeg {
        anchor: node.at,
        length: sling.rest_length,
        error: LENGTH_ERROR.min(sling.rest_length * 0.2),
        ea: Range::new(sling.ea * low, sling.ea, sling.ea * high).ok()?,
        stiffness: ctx.anchor_stiffness(leg.anchor)?,
    })
}

/// The pull on the ring, from its anchors towards the load.
fn pull_of(e: &Equilibrium, built: &Built, slings: &[usize]) -> Vec3 {
    let nowhere = Vec3::new(f64::NAN, f64::NAN, f64::NAN);
    let mut sum = Vec3::ZERO;
    for &i in slings {
        let Some(s) = built.structure.slings.get(i) else { return nowhere };
        let (Some(anchor), Some(ring)) = (e.positions.get(s.a), e.positions.get(s.b)) else { return nowhere };
        let along = (*ring - *anchor).unit().unwrap_or(nowhere);
        sum += along * sling_tension(e, i);
    }
    sum
}
