//! Rolling over and running away, for one solved rig.

use crate::context::Context;
use crate::evaluate::Solved;
use crate::loads::force_at;
use crate::parked::tie_end;
use crate::rigging::{Rigging, Tie};
use unmire_audit::facts::StabilityFact;
use unmire_mechanics::ground::can_run_away;
use unmire_mechanics::rig::Equilibrium;
use unmire_mechanics::stability::{GroundAxes, Pull, Roll, ground_axes, hold_tension, roll};
use unmire_model::{Force, Silent};

/// Share of the restoring moment that a holding line must leave unused: our own judgement. Tyres, springs and sinking
/// wheels eat the rest of a rigid reckoning.
pub const ALLOWED_SHARE: f64 = 0.35;

/// Share above which a holding line is put before time: our own judgement, below what the rule about rolling over allows.
const WISHED_SHARE: f64 = 0.4;

/// Whether a rig leaves the vehicle less steady than is wished for: much of its restoring moment used up, or a steep way
/// on which it can run away, without a holding line that mends it.
#[must_use]
pub fn is_unsteady(ctx: &Context<'_>, fact: Option<&StabilityFact>) -> bool {
    let Some(s) = fact else { return true };
    let used = if s.has_holding { s.used_with_holding } else { s.used };
    let rolls = s.matters && used.is_none_or(|u| u.high() > WISHED_SHARE);
    rolls || (s.can_run_away && !s.has_holding && crate::holding::is_needed(ctx))
}

fn axes(ctx: &Context<'_>) -> GroundAxes {
    ground_axes(&ctx.case.way_out, ctx.case.way_out.grade.value.likely())
}

/// The rig's forces on the stuck vehicle.
fn pulls(solved: &Solved, eq: &Equilibrium) -> Vec<Pull> {
    let nodes = &solved.built.structure.nodes;
    let on = |i: &usize| Some(Pull { at: nodes.get(*i)?.at, force: force_at(eq, *i) });
    solved.built.stuck.iter().filter_map(on).collect()
}

fn worst(ctx: &Context<'_>, solved: &Solved, extra: Option<Pull>) -> Option<Roll> {
    let axes = axes(ctx);
    let mut out: Option<Roll> = None;
    // Slack lines too: before the pull and after it the slope is there alone, and a pull uphill must not hide it.
    for eq in [None, Some(&solved.loads.poor), Some(&solved.loads.good)] {
        let mut all = eq.map_or_else(Vec::new, |e| pulls(solved, e));
        all.extend(extra);
        let mut found = roll(&ctx.case.vehicle, &axes, &all, &mut Silent).ok()?;
        let high = |r: &Roll| r.used.map_or(f64::INFINITY, |u| u.high());
        if let Some(o) = &out {
            // The greatest sideways pull and whether it matters are told whichever of them uses up most.
            let (sideways, matters) = (found.sideways, found.matters || o.matters);
            let most = if o.sideways.abs() > sideways.abs() { o.sideways } else { sideways };
            if high(&found) <= high(o) {
                found = o.clone();
            }
            (found.sideways, found.matters) = (most, matters);
        }
        out = Some(found);
    }
    out
}

/// Rolling over under this rig, with and without its holding line.
#[must_use]
pub fn of(ctx: &Context<'_>, solved: &Solved, rigging: &Rigging<'_>) -> Option<StabilityFact> {
    let plain = worst(ctx, solved, None);
    let mut fact = StabilityFact {
        used: plain.as_ref().and_then(|r| r.used),
        // If it can't even be asked, it matters.
        matters: plain.as_ref().is_none_or(|r| r.matters),
        sideways_pull: plain.as_ref().map_or(Force::ZERO, |r| r.sideways),
        used_with_holding: None,
        can_run_away: can_run_away(&ctx.case.way_out),
        has_holding: rigging.holding.is_some(),
    };
    if let Some(tie) = &rigging.holding {
        let force = holding_force(ctx, solved, tie);
        let along = (tie_end(tie) - tie.point.position).unit()?;
        let extra = Pull { at: tie.point.position, force: along * force.as_n() };
        fact.used_with_holding = worst(ctx, solved, Some(extra)).and_then(|r| r.used);
    }
    Some(fact)
}

/// What a holding line must take: enough to bring the vehicle back to the allowed share of its restoring moment, and at
/// least all of the weight's part along the fall line, so that it also keeps the freed vehicle. Nothing is credited to tyres.
#[must_use]
pub fn holding_force(ctx: &Context<'_>, solved: &Solved, tie: &Tie<'_>) -> Force {
    let axes = axes(ctx);
    let unknown = Force::from_n(f64::NAN);
    let Some(along) = (tie_end(tie) - tie.point.position).unit() else { return unknown };
    let mut most = Force::ZERO;
    for eq in [None, Some(&solved.loads.poor), Some(&solved.loads.good)] {
        let all = eq.map_or_else(Vec::new, |e| pulls(solved, e));
        let found = hold_tension(&ctx.case.vehicle, &axes, &all, tie.point.position, along, ALLOWED_SHARE, &mut Silent);
        match found {
            Ok(Some(t)) => most = most.max(t),
            Ok(None) | Err(_) => return unknown,
        }
    }
    // Once free it may roll or slide down the fall line.
    let weight = ctx.case.vehicle.moving_mass().high().weight();
    let downhill = axes.up.level().norm();
    let along_fall = axes.up.level().unit().map_or(0.0, |d| -(d.dot(along)));
    // A line nearly across the fall line keeps nothing; the choice of anchors leaves it out.
    if along_fall > 0.1 {
        most = most.max(weight * (downhill / along_fall));
    }
    most
}
