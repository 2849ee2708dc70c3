//! Holding lines: where a vehicle could roll over or run away, a second line keeps it.

use crate::choices::{Ground, WIDEST_PULL};
use crate::context::Context;
use crate::rigging::{Grip, Pull, Rigging, Tie, Veh};
use unmire_mechanics::stability::ground_axes;
use unmire_model::layout::Hitch;
use unmire_model::vehicle::PointKind;
use unmire_model::{Angle, Vec3};

/// Slope across or along above which a holding line is looked for: our own judgement.
const STEEP: Angle = Angle::from_deg(8.0);

/// Whether a holding line is worth looking for.
#[must_use]
pub fn is_needed(ctx: &Context<'_>) -> bool {
    let out = &ctx.case.way_out;
    out.side_slope.value.abs() > STEEP || out.grade.value.high().abs() > STEEP || out.grade.value.low().abs() > STEEP
}

/// The same rig with each holding line that the site allows: from a point on the uphill side to an anchor or a helper uphill.
#[must_use]
pub fn variants<'a>(ctx: &Context<'a>, choice: &Rigging<'a>) -> Vec<Rigging<'a>> {
    let axes = ground_axes(&ctx.case.way_out, ctx.case.way_out.grade.value.likely());
    let Some(uphill) = (-axes.up.level()).unit() else { return Vec::new() };
    let mut out = Vec::new();
    let used = anchors_of(choice);
    for point in ctx.case.vehicle.points.iter().filter(|p| p.kind == PointKind::RecoveryPoint) {
        // A point on the low side would pull the vehicle over itself.
        if point.position.level().dot(uphill) < -0.3 {
            continue;
        }
        let goes_up = |to: Vec3| (to - point.position).level().angle_to(uphill).is_some_and(|a| a <= WIDEST_PULL);
        let mut grips = Vec::new();
        for a in ctx.case.anchors.iter().filter(|a| crate::choices::ruled_out(a).is_none()) {
            if goes_up(a.position) && !used.contains(&a.id.as_str()) {
                grips.push(Ground::grip(&[a]));
            }
        }
        for h in &ctx.case.helpers {
            let on = Veh::Helper(h);
            let pulls = matches!(&choice.pull, Pull::Winch { on: Veh::Helper(p), .. } if core::ptr::eq(*p, h));
            if let (Some(winch), false) = (&h.vehicle.winch, pulls)
                && goes_up(on.place(winch.position))
            {
                grips.push(Grip::Winch { on, winch });
            }
            for p in h.vehicle.points.iter().filter(|p| p.kind == PointKind::RecoveryPoint) {
                if goes_up(on.place(p.position)) {
                    grips.push(Grip::Point { on, point: p, connectors: Vec::new() });
                }
            }
        }
        for grip in grips {
            let mut held = choice.clone();
            held.holding = Some(Tie { point, connectors: Vec::new(), line: Vec::new(), grip });
            if !crate::choices::in_two_places(ctx.case, &held) {
                out.push(held);
            }
        }
    }
    out
}

fn anchors_of<'a>(r: &Rigging<'a>) -> Vec<&'a str> {
    let mut out = Vec::new();
    for stop in &r.stops {
        if let Grip::Anchors(legs) = &stop.grip {
            out.extend(
                legs.iter().filter(|l| l.hitch != Hitch::Straight || l.strap.is_none()).map(|l| l.anchor.id.as_str()),
            );
        }
    }
    out
}
