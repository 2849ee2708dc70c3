//! Vehicles that hold or pull by their tyres, and how far straps and ropes must reach.

use crate::build::{Built, length_of};
use crate::context::Context;
use crate::evaluate::Solved;
use crate::loads::force_at;
use crate::parts::{Collector, Demand};
use crate::rigging::{Grip, Pull, Rigging, Tie, Veh};
use unmire_audit::facts::{Capacity, ParkedFact, PartFact, PartKind};
use unmire_mechanics::anchor::{AnchorCapacity, AnchorMode, parked};
use unmire_mechanics::hitch::hitch;
use unmire_mechanics::rig::Equilibrium;
use unmire_mechanics::stability::Pull as OnVehicle;
use unmire_mechanics::tow::{TowPull, tow_pull};
use unmire_model::vehicle::{Helper, PointKind};
use unmire_model::{Force, Length, Range, Recorder, Silent, Vec3};

/// Rolling resistance of a towing helper's own ground, as a share of its weight, where nobody described it: our own
/// judgement, from firm track to soft field.
const HELPER_ROLLING: (f64, f64, f64) = (0.02, 0.05, 0.10);

/// The rig's pulls on a vehicle, at its fairlead and its points.
#[must_use]
pub fn pulls_on(on: Veh<'_>, eq: &Equilibrium, built: &Built, rigging: &Rigging<'_>) -> Vec<OnVehicle> {
    let mut out = Vec::new();
    if let Pull::Winch { on: puller, winch } = &rigging.pull
        && puller.vehicle().name == on.vehicle().name
        && puller.is_stuck() == on.is_stuck()
    {
        out.push(OnVehicle { at: winch.position, force: force_at(eq, built.start) });
    }
    let suffix = format!(" of {}", on.vehicle().name);
    for (node, stuck, id) in &built.points {
        let mine = if on.is_stuck() {
            *stuck
        } else {
            !*stuck && built.structure.nodes.get(*node).is_some_and(|n| n.name.ends_with(&suffix))
        };
        // A point that is not found has no place; not a number then makes its vehicle unknown.
        let at = on.vehicle().points.iter().find(|p| p.id == *id);
        if mine {
            let nowhere = Vec3::new(f64::NAN, f64::NAN, f64::NAN);
            out.push(OnVehicle { at: at.map_or(nowhere, |p| p.position), force: force_at(eq, *node) });
        }
    }
    out
}

/// Force of the rig on a vehicle: its fairlead and its points.
#[must_use]
pub fn force_on(on: Veh<'_>, eq: &Equilibrium, built: &Built, rigging: &Rigging<'_>) -> Vec3 {
    pulls_on(on, eq, built, rigging).iter().fold(Vec3::ZERO, |sum, p| sum + p.force)
}

/// A pull at the highest place of a vehicle where gear could be attached on that side: none of the others tips it sooner. Without
/// such a place it is taken at twice the height of the centre of gravity, or at 2 m: our own judgement, higher than any.
#[must_use]
pub fn at_the_highest_point(helper: &Helper, direction: Vec3) -> OnVehicle {
    let v = &helper.vehicle;
    let looks = |p: &Vec3| helper.direction_to_case(*p).level().dot(direction.level()) > 0.0;
    let points = v.points.iter().filter(|p| p.kind == PointKind::RecoveryPoint).map(|p| p.position);
    let all = points.chain(v.winch.as_ref().map(|w| w.position)).filter(looks);
    let highest = all.reduce(|a, b| if b.z > a.z { b } else { a });
    let cg = v.cg_height.as_ref().map_or(Length::from_m(1.0), |h| h.value.high());
    OnVehicle { at: highest.unwrap_or(Vec3::new(0.0, 0.0, 2.0 * cg.as_m())), force: direction }
}

/// Every helper that the rig pulls on and that nothing but its tyres holds.
pub(crate) fn collect<'a>(
    collector: &mut Collector<'_, 'a>,
    ctx: &Context<'a>,
    rigging: &Rigging<'a>,
    solved: &Solved,
) {
    for helper in &ctx.case.helpers {
        let on = Veh::Helper(helper);
        let pulls = matches!(&rigging.pull, Pull::Winch { on: Veh::Helper(h), .. } if core::ptr::eq(*h, helper));
        // A tied-back helper is judged by its tie-back; a towing one by what its tyres give.
        if (pulls && rigging.tie_back.is_some())
            || matches!(&rigging.pull, Pull::Tow { helper: h, .. } if core::ptr::eq(*h, helper))
        {
            continue;
        }
        let on_it = |eq: &Equilibrium| pulls_on(on, eq, &solved.built, rigging);
        let force = |eq: &Equilibrium| on_it(eq).iter().fold(Vec3::ZERO, |sum, p| sum + p.force).norm();
        if force(&solved.loads.poor) > 0.0 {
            let demand = Demand { work: solved.loads.work(force), stall: solved.loads.at_stall(force) };
            let cases: Vec<Vec<OnVehicle>> = solved.loads.all().map(on_it).collect();
            held_by_tyres(collector, helper, &cases, demand);
        }
    }
}

/// A helper held by its tyres under this demand; the least that it holds in any of these cases of pulls on it.
pub(crate) fn held_by_tyres<'a>(
    collector: &mut Collector<'_, 'a>,
    helper: &'a Helper,
    cases: &[Vec<OnVehicle>],
    demand: Demand,
) {
    let mut known: Option<AnchorCapacity> = None;
    let mut worst: &[OnVehicle] = &[];
    let mut failed = None;
    for pulls in cases {
        match parked::parked(helper, pulls, &mut Silent) {
            Ok(found) => {
                let low = |c: &AnchorCapacity| c.ultimate.map_or(f64::NEG_INFINITY, |u| u.low().as_n());
                if known.as_ref().is_none_or(|k| low(&found) < low(k)) {
                    known = Some(found);
                    worst = pulls;
                }
            }
            Err(_) => failed = Some("what it holds can't be reckoned for this pull"),
        }
    }
    let holding = if failed.is_some() { None } else { known.as_ref().and_then(|k| k.ultimate) };
    let unknown_because = match (holding, failed) {
        (Some(_), _) => None,
        (None, Some(why)) => Some(why),
        (None, None) => Some("the friction of its tyres on its ground is not told"),
    };
    let part = collector.out.parts.len();
    collector.out.parts.push(PartFact {
        name: helper.vehicle.name.clone(),
        role: "parked vehicle held by its tyres".to_owned(),
        kind: PartKind::ParkedVehicle,
        piece: None,
        demand_work: Some(demand.work),
        demand_stall: demand.stall,
        share: 1.0,
        station_stall: demand.stall,
        capacity: Capacity { breaking: None, working: None, holding, stated: false, reduction: 1.0, unknown_because },
    });
    let way = |mode| known.as_ref().and_then(|k| k.ways.iter().find(|w| w.mode == mode)).map(|w| w.holds);
    let told = |code| known.as_ref().and_then(|k| k.warnings.iter().find(|w| w.code == code)).map(|w| w.text.clone());
    collector.out.parked.push(ParkedFact {
        part,
        chocked: helper.chocked,
        slides_at: way(AnchorMode::TyresSlide),
        tips_at: way(AnchorMode::Tipping),
        not_checked: told("parked-tipping-not-checked").map(|t| crate::demand::sentence(&t)),
    });
    let pull = cases.first().map_or(Vec3::ZERO, |p| p.iter().fold(Vec3::ZERO, |sum, p| sum + p.force));
    let known = if failed.is_some() { None } else { known };
    let behind = crate::backed::helper(collector.ctx, helper, part, pull, known.as_ref(), demand);
    collector.out.backed.extend(behind);
    collector.out.held.push((helper, worst.to_vec()));
}

/// What a towing helper's tyres can give along the line.
#[must_use]
pub fn tow(_ctx: &Context<'_>, helper: &Helper, eq: &Equilibrium, built: &Built) -> Option<Range<Force>> {
    towed(helper, eq, built, &mut Silent).ok()?.pull
}

/// The same with what must be told beside it.
///
/// # Errors
/// If a number of the helper is not in order.
pub(crate) fn towed(
    helper: &Helper,
    eq: &Equilibrium,
    built: &Built,
    rec: &mut impl Recorder,
) -> Result<TowPull, String> {
    let at = |i: usize| eq.positions.get(i).copied();
    let ends = eq.legs.first().and_then(|leg| at(leg.to).zip(at(built.start)));
    let (to, from) = ends.ok_or("the line between the two vehicles has no place")?;
    let (low, likely, high) = HELPER_ROLLING;
    tow_pull(helper, to - from, None, &Range::hull(low, likely, high), rec).map_err(|e| e.to_string())
}

/// Where a tie ends: the middle of its anchors, or its point.
#[must_use]
pub fn tie_end(tie: &Tie<'_>) -> Vec3 {
    match &tie.grip {
        Grip::Anchors(legs) => {
            legs.iter().fold(Vec3::ZERO, |sum, l| sum + l.anchor.attachment() * (1.0 / legs.len().max(1) as f64))
        }
        Grip::Point { on, point, .. } => on.place(point.position),
        Grip::Bridle { on, points, .. } => on.place((points[0].position + points[1].position) * 0.5),
        Grip::Winch { on, winch } => on.place(winch.position),
    }
}

/// By how much a tie-back or a holding line is short; none if all reach. Longer gear than the distance is no trouble: the
/// helper moves up, the holding line is taken in.
#[must_use]
pub fn reach_short(rigging: &Rigging<'_>) -> Option<Length> {
    let mut worst: Option<Length> = None;
    let mut check = |from: Vec3, tie: &Tie<'_>| {
        let distance = (tie_end(tie) - from).norm();
        let mut reach: f64 = tie.line.iter().filter_map(|p| length_of(p)).map(Length::as_m).sum();
        if let Grip::Anchors(legs) = &tie.grip
            && let Some(leg) = legs.first()
            && let Some(strap) = leg.strap.and_then(length_of)
        {
            reach += hitch(leg.hitch, leg.anchor.kind.radius(), strap, &mut Silent).map_or(0.0, |h| h.reach.as_m());
        }
        if let Grip::Winch { winch, .. } = &tie.grip {
            // Least turns stay on the drum; where it is not measured, a tenth of the line is left there.
            let (turns, _) = unmire_mechanics::winch::turns_required(winch);
            let around = winch.drum.map_or(winch.line.length.as_m() * 0.1 / turns, |d| {
                core::f64::consts::PI * (d.diameter + winch.line.diameter).as_m()
            });
            reach += winch.line.length.as_m() - turns * around;
        }
        if reach < distance {
            let short = Length::from_m(distance - reach);
            worst = Some(worst.map_or(short, |w| w.max(short)));
        }
    };
    if let (Some(tie), Pull::Winch { on, .. }) = (&rigging.tie_back, &rigging.pull) {
        check(on.place(tie.point.position), tie);
    }
    if let Some(tie) = &rigging.holding {
        // Its point is on the stuck vehicle, whose frame is the case's.
        check(tie.point.position, tie);
    }
    worst
}

/// By how much a winch's line is too short however the blocks settle; none if it may reach. Cheap: nothing is solved.
///
/// A block can come no nearer to its neighbour than the anchors stand apart, less what the straps between them reach.
#[must_use]
pub fn surely_short(rigging: &Rigging<'_>) -> Option<Length> {
    let Pull::Winch { on, winch } = &rigging.pull else { return None };
    let mut least = 0.0;
    let mut previous = (on.place(winch.position), 0.0);
    for stop in &rigging.stops {
        let here = around(&stop.grip)?;
        least += ((here.0 - previous.0).norm() - here.1 - previous.1).max(0.0);
        previous = here;
    }
    let lengthened: f64 =
        rigging.stops.iter().flat_map(|s| &s.extensions).filter_map(|p| length_of(p)).map(Length::as_m).sum();
    let short = least - lengthened - usable_line(winch).as_m();
    (short > 0.0).then(|| Length::from_m(short))
}

/// Whether a block or a dead end must be pulled into its neighbours: both lie nearer to its anchor than its strap reaches, so
/// that the line's pull on it can only slacken the strap. Cheap and certain.
#[must_use]
pub fn surely_closes_up(rigging: &Rigging<'_>) -> bool {
    let start = match &rigging.pull {
        Pull::Winch { on, winch } => Some((on.place(winch.position), 0.0)),
        Pull::Hand { held_by, .. } => around(held_by),
        Pull::Tow { .. } => None,
    };
    let mut places = vec![start];
    places.extend(rigging.stops.iter().map(|s| around(&s.grip)));
    rigging.stops.iter().enumerate().any(|(i, stop)| {
        let Grip::Anchors(legs) = &stop.grip else { return false };
        let ([_], Some((at, reach))) = (legs.as_slice(), places.get(i + 1).copied().flatten()) else { return false };
        let slack_reach = reach / (1.0 + STRETCH);
        let inside = |p: Option<&Option<(Vec3, f64)>>| match p {
            Some(Some((q, r))) => (*q - at).norm() + r < slack_reach,
            // No neighbour on that side: nothing pulls outwards there.
            None => true,
            Some(None) => false,
        };
        reach > 0.0 && inside(places.get(i)) && inside(places.get(i + 2))
    })
}

/// A place and how far from it a station can be at most; none while a piece that tells is not chosen.
fn around(grip: &Grip<'_>) -> Option<(Vec3, f64)> {
    match grip {
        Grip::Point { on, point, .. } => Some((on.place(point.position), 0.0)),
        Grip::Bridle { on, points, strap, .. } => {
            let middle = on.place((points[0].position + points[1].position) * 0.5);
            Some((middle, length_of((*strap)?)?.as_m() * 0.5 * (1.0 + STRETCH)))
        }
        Grip::Anchors(legs) => {
            let leg = legs.first()?;
            let Some(strap) = leg.strap else { return Some((leg.anchor.attachment(), 0.0)) };
            let hitched = hitch(leg.hitch, leg.anchor.kind.radius(), length_of(strap)?, &mut Silent).ok()?;
            let more: f64 = leg.extensions.iter().filter_map(|p| length_of(p)).map(Length::as_m).sum();
            Some((leg.anchor.attachment(), (hitched.reach.as_m() + more) * (1.0 + STRETCH)))
        }
        Grip::Winch { .. } => None,
    }
}

/// More than any static strap stretches: room so that the quick look never refuses what reaches.
const STRETCH: f64 = 0.2;

/// A winch's line less the turns that must stay on the drum; all of it where the drum is not measured.
fn usable_line(winch: &unmire_model::vehicle::Winch) -> Length {
    let (turns, _) = unmire_mechanics::winch::turns_required(winch);
    match winch.drum {
        Some(d) => winch.line.length - (d.diameter + winch.line.diameter) * (core::f64::consts::PI * turns),
        None => winch.line.length,
    }
}
