//! The working of one rig: the same formulas again, with a recorder that keeps every step.

use crate::build::GripMap;
use crate::context::Context;
use crate::demand::need_for;
use crate::evaluate::Solved;
use crate::keep_out;
use crate::loads::rise_of;
use crate::parked;
use crate::rigging::{Grip, Pull, Rigging, Veh};
use unmire_audit::facts::{Facts, PartFact};
use unmire_mechanics::anchor::capacity;
use unmire_mechanics::anchor::parked::parked as parked_vehicle;
use unmire_mechanics::ground::ActionKind;
use unmire_mechanics::hitch::hitch;
use unmire_mechanics::rig;
use unmire_mechanics::sheave::efficiency_recorded;
use unmire_mechanics::winch::winch_at;
use unmire_model::gear::PieceKind;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force};

/// Records everything that led to a rig's loads and capacities.
pub fn explain(
    ctx: &Context<'_>,
    rigging: &Rigging<'_>,
    solved: &Solved,
    actions: &[ActionKind],
    facts: &Facts<'_>,
    rec: &mut impl Recorder,
) {
    // What failed here failed before with the same error; the working then simply ends earlier.
    let _ = need_for(ctx.case, actions, rec);
    // Each grip with how steeply the line rises from each of its anchors, as the parts were judged.
    let nodes = |map: &GripMap| map.legs.iter().map(|l| solved.loads.rise_at(l.anchor_node)).collect();
    let mut grips: Vec<(&Grip<'_>, Vec<Angle>)> =
        rigging.stops.iter().zip(&solved.built.stops).map(|(s, map)| (&s.grip, nodes(map))).collect();
    if let (Pull::Hand { held_by, .. }, Some(map)) = (&rigging.pull, &solved.built.start_grip) {
        grips.push((held_by, nodes(map)));
    }
    let helper =
        if let Pull::Winch { on, .. } = &rigging.pull { rigging.tie_back.as_ref().map(|t| (*on, t)) } else { None };
    let held = rigging.holding.as_ref().map(|t| (Veh::Stuck(&ctx.case.vehicle), t));
    for (on, tie) in helper.into_iter().chain(held) {
        let back = on.place(tie.point.position) - parked::tie_end(tie);
        let Grip::Anchors(legs) = &tie.grip else { continue };
        grips.push((&tie.grip, vec![rise_of(back); legs.len()]));
    }
    for (grip, rises) in grips {
        let Grip::Anchors(legs) = grip else { continue };
        for (leg, rise) in legs.iter().zip(rises) {
            let _ = capacity(leg.anchor, &ctx.pulled(rise), rec);
            if let Some(length) = leg.strap.and_then(crate::build::length_of) {
                let _ = hitch(leg.hitch, leg.anchor.kind.radius(), length, rec);
            }
        }
    }
    for block in rigging.stops.iter().filter_map(|s| s.block) {
        if let PieceKind::Block { bearing, .. } = block.kind {
            let _ = efficiency_recorded(bearing, rec);
        }
    }
    crate::sharing::explain(ctx, rigging, &solved.built, &solved.loads, rec);
    let parts = crate::evaluate::parts(ctx, rigging, solved, None);
    for (helper, pulls) in &parts.held {
        let _ = parked_vehicle(helper, pulls, rec);
    }
    crate::backed::explain(&parts.backed, rec);
    let mut structure = solved.built.structure.clone();
    crate::loads::at_work(&mut structure, rigging, facts.need.high(), ctx.way_out, &solved.built.stuck);
    rig::explain(&structure, &solved.loads.poor, rec);
    if let (Pull::Winch { winch, .. }, Some(at)) = (&rigging.pull, &solved.winch) {
        let _ = winch_at(winch, at.line_out, rec);
    }
    for part in &facts.parts {
        part_steps(part, rec);
    }
    let ties = crate::present::ties(ctx, rigging, facts);
    let _ = keep_out::of(ctx, solved, rigging, &crate::present::seconds(&ties), rec);
}

fn part_steps(part: &PartFact<'_>, rec: &mut impl Recorder) {
    let reduced = |what: &str, force: Force, rec: &mut dyn FnMut(Step)| {
        let label = part.piece.and_then(|p| p.label.rating());
        let line = part.piece.map_or(0, |p| p.line);
        let mut step = Step::new(
            format!("{what} of {}, {}", part.name, part.role),
            "C",
            "C = label · design factor (if the label states the other meaning) · reductions",
            force.as_n(),
            Dimension::Force,
            "statics",
        );
        if let Some(r) = label {
            step = step.input("label", r.force.as_n(), Dimension::Force, Origin::File { line });
        }
        step = step.input("reductions", part.capacity.reduction, Dimension::Ratio, Origin::Earlier);
        rec(step);
    };
    let mut steps = Vec::new();
    if let Some(b) = part.capacity.breaking {
        reduced("breaking strength", b, &mut |s| steps.push(s));
    }
    if let Some(w) = part.capacity.working {
        reduced("working load limit", w, &mut |s| steps.push(s));
    }
    for s in steps {
        rec.record(|| s);
    }
    if let Some(d) = part.demand_work {
        rec.record(|| {
            Step::new(
                format!("load on {}, {}, at work", part.name, part.role),
                "D",
                "the worse of poor and good sheaves at the high end of the need",
                d.as_n(),
                Dimension::Force,
                "statics",
            )
        });
    }
    if let Some(d) = part.demand_stall {
        rec.record(|| {
            Step::new(
                format!("load on {}, {}, at stall", part.name, part.role),
                "D",
                "winch at the high end of its stall, no relief by friction",
                d.as_n(),
                Dimension::Force,
                "statics",
            )
        });
    }
}
