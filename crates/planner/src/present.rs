//! One rig as a plan in the reader's words. Everything a view prints is worked out here.

use crate::context::Context;
use crate::demand;
use crate::evaluate::{NoRig, Solved, facts, solve_rigging};
use crate::explain::explain;
use crate::fill::Filled;
use crate::keep_out::{self, Second};
use crate::pull::{Brief, brief};
use crate::rank::{minutes, rigging_minutes};
use crate::recoil::members::{Pulled, tie_members};
use crate::report::{AnchorForce, Plan, PlanCheck, PlanLeg, PlanPoint, PlanStability, PlanWinch};
use crate::rigging::{Grip, Pull, Rigging, Tie, Veh};
use crate::steps::{cautions, steps, stop_rule};
use crate::words;
use unmire_audit::facts::Facts;
use unmire_audit::judge::{Judgement, judge, judge_quietly};
use unmire_audit::policy::Policy;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::ground::{ActionKind, Need};
use unmire_mechanics::rig::{Equilibrium, Solver};
use unmire_model::case::Case;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::trail::Trail;
use unmire_model::{Angle, Force, Length, Silent, Vec3};

/// A rig that the search found, and its pull.
pub(crate) fn present(
    ctx: &Context<'_>,
    solver: &mut Solver,
    filled: &Filled<'_>,
    actions: &[ActionKind],
    need: &Need,
    brief: Option<&Brief>,
    keep_working: bool,
) -> Option<Plan> {
    let mut rigging = filled.rigging.clone();
    add_beside(ctx.case, &mut rigging);
    present_played(ctx, solver, &rigging, actions, need, brief, keep_working).ok()
}

/// A rig that is given with all its pieces; its pull is played if it passes at its start.
pub(crate) fn present_given(
    ctx: &Context<'_>,
    solver: &mut Solver,
    rigging: &Rigging<'_>,
    actions: &[ActionKind],
    need: &Need,
    keep_working: bool,
) -> Result<Plan, NoRig> {
    let played = brief(ctx, rigging, &rigging.layout(), actions);
    present_played(ctx, solver, rigging, actions, need, played.as_ref(), keep_working)
}

fn present_played(
    ctx: &Context<'_>,
    solver: &mut Solver,
    rigging: &Rigging<'_>,
    actions: &[ActionKind],
    need: &Need,
    brief: Option<&Brief>,
    keep_working: bool,
) -> Result<Plan, NoRig> {
    let solved = solve_rigging(ctx, solver, rigging, need.total.high())?;
    if crate::sharing::shares(rigging) {
        solved.share_out(ctx, rigging);
    }
    let layout = rigging.layout();
    let cell: Option<&Piece> = rigging.beside.iter().copied().find(|p| matches!(p.kind, PieceKind::LoadCell));
    let facts = facts(ctx, rigging, &layout, &solved, need.total, cell);
    let mut judgement = judge(&facts, ctx.policy);
    // What fails at its start is not made to look worse by where it would fail later.
    let brief = brief.filter(|_| judgement.verdict.passes());
    if let Some(b) = brief {
        b.worsen(&mut judgement);
    }
    let judgement = judgement;
    let time = match brief {
        Some(b) => rigging_minutes(rigging, actions).plus(&b.pull.pulling).plus(&b.pull.resting),
        None => minutes(rigging, actions),
    };
    let actions_in_words = demand::actions_in_words(ctx.case, actions).map_err(|e| NoRig::Winch(e.to_string()))?;
    let share = |e: &Equilibrium| crate::loads::last_tension(e) / crate::loads::first_tension(e);
    let (poor, good) = (share(&solved.loads.poor), share(&solved.loads.good));
    let least_share = if poor.is_finite() && good.is_finite() { poor.min(good).min(1.0) } else { f64::NAN };
    let lacks_detector = !judgement.verdict.passes() && crate::fill::watched(&facts, ctx.policy).passes();
    let stop = stop_rule(&facts, &judgement, least_share);
    let mut order: Vec<usize> = (0..judgement.checks.len()).collect();
    let urgency = |i: &usize| {
        let c = judgement.checks.get(*i);
        (
            core::cmp::Reverse(c.map(|c| c.verdict)),
            c.and_then(unmire_audit::verdict::Check::margin).map_or(f64::INFINITY, |m| m),
        )
    };
    unmire_model::order::sort_by(&mut order, |a, b| {
        let (x, y) = (urgency(a), urgency(b));
        x.0.cmp(&y.0).then(x.1.total_cmp(&y.1)).then(a.cmp(b))
    });
    let checks: Vec<PlanCheck> = order.iter().filter_map(|&i| check_in_words(&facts, &judgement, i)).collect();
    let weakest = judgement.weakest.and_then(|w| order.iter().position(|&i| i == w));
    let mut trail = Trail::default();
    if keep_working {
        explain(ctx, rigging, &solved, actions, &facts, &mut trail);
    }
    let others = Policy::all().into_iter().filter(|p| p.name != ctx.policy.name).map(|p| {
        let s = judge_quietly(&facts, &p);
        (p.name.to_owned(), s.verdict, s.lowest_margin)
    });
    let ties = ties(ctx, rigging, &facts);
    let ground = keep_out::of(ctx, &solved, rigging, &seconds(&ties), &mut Silent);
    let steps = steps(ctx.case, rigging, &actions_in_words, &facts, &stop);
    Ok(Plan {
        verdict: judgement.verdict,
        family: rigging.family,
        lacks_detector,
        why: why(&judgement, &facts, lacks_detector),
        summary: words::summary(rigging),
        demand: demand::words(need),
        actions: actions_in_words,
        pieces: words::places(rigging),
        points: with_tie_points(points(&solved), &ties),
        legs: with_tie_legs(legs(&solved), &ties),
        anchors: with_tie_forces(anchor_forces(&solved), &ties),
        weakest,
        lowest_margin: judgement.lowest_margin,
        residual: solved.loads.residual(),
        winch: winch(&facts),
        stability: stability(ctx, &facts, &solved),
        pull: brief.map(|b| b.pull.clone()),
        time,
        cautions: cautions(ctx.case, rigging, &facts),
        keep_out: ground.keep_out,
        other_policies: others.collect(),
        findings: judgement.findings.into_iter().chain(ground.findings).collect(),
        layout: Some(layout.clone()),
        steps,
        stop,
        checks,
        trail,
    })
}

/// A tie-back or a holding line for the outputs: it is no part of the solved structure, its tension stands in its parts.
pub(crate) struct TieLine<'r> {
    pub member: &'static str,
    pub from: (String, &'static str, Vec3),
    pub to: (String, &'static str, Vec3),
    pub work: Force,
    pub stall: Option<Force>,
    pub tie: &'r Tie<'r>,
}

pub(crate) fn ties<'r>(ctx: &Context<'_>, rigging: &'r Rigging<'r>, facts: &Facts<'_>) -> Vec<TieLine<'r>> {
    let mut out = Vec::new();
    let mut add = |tie: &'r Tie<'r>, on: Veh<'_>, member: &'static str| {
        let from_name = if on.is_stuck() {
            format!("point {}", tie.point.id)
        } else {
            format!("point {} of {}", tie.point.id, on.vehicle().name)
        };
        let to = match &tie.grip {
            Grip::Anchors(legs) => {
                let ids: Vec<&str> = legs.iter().map(|l| l.anchor.id.as_str()).collect();
                (format!("anchor {}", ids.join(" and ")), "anchor")
            }
            Grip::Point { on, point, .. } => (format!("point {} of {}", point.id, on.vehicle().name), "recovery-point"),
            Grip::Bridle { on, .. } => (format!("bridle of {}", on.vehicle().name), "recovery-point"),
            Grip::Winch { winch, .. } => (format!("fairlead of {}", winch.id), "winch"),
        };
        // Every part of a tie carries its whole tension; the last point of that name is the tie's own.
        let Some(part) = facts.parts.iter().rev().find(|p| p.name == from_name) else { return };
        out.push(TieLine {
            member,
            from: (from_name, "recovery-point", on.place(tie.point.position)),
            to: (to.0, to.1, crate::parked::tie_end(tie)),
            work: part.demand_work.unwrap_or(Force::from_n(f64::NAN)),
            stall: part.demand_stall,
            tie,
        });
    };
    if let (Some(tie), Pull::Winch { on, .. }) = (&rigging.tie_back, &rigging.pull) {
        add(tie, *on, "tie-back");
    }
    if let Some(tie) = &rigging.holding {
        add(tie, Veh::Stuck(&ctx.case.vehicle), "holding line");
    }
    out
}

/// The second lines as the ground sees them.
pub(crate) fn seconds(ties: &[TieLine<'_>]) -> Vec<Second> {
    let of = |t: &TieLine<'_>| {
        let ends = [t.from.2, t.to.2];
        let length = Length::from_m((ends[1] - ends[0]).norm());
        let pull = Pulled { work: t.work, stall: t.stall };
        Second { ends, members: tie_members(t.tie, t.member, length, pull) }
    };
    ties.iter().map(of).collect()
}
pub(crate) fn with_tie_points(mut points: Vec<PlanPoint>, ties: &[TieLine<'_>]) -> Vec<PlanPoint> {
    for (name, kind, at) in ties.iter().flat_map(|t| [&t.from, &t.to]) {
        if !points.iter().any(|p| p.name == *name) {
            points.push(PlanPoint { name: name.clone(), kind: (*kind).to_owned(), at: *at });
        }
    }
    points
}
pub(crate) fn with_tie_legs(mut legs: Vec<PlanLeg>, ties: &[TieLine<'_>]) -> Vec<PlanLeg> {
    legs.extend(ties.iter().map(|t| PlanLeg {
        member: t.member.to_owned(),
        from: t.from.0.clone(),
        to: t.to.0.clone(),
        length: Length::from_m((t.to.2 - t.from.2).norm()),
        tension_work: t.work,
        tension_stall: t.stall,
    }));
    legs
}
fn with_tie_forces(mut forces: Vec<AnchorForce>, ties: &[TieLine<'_>]) -> Vec<AnchorForce> {
    for t in ties {
        let along = (t.to.2 - t.from.2).unit().unwrap_or(Vec3::UP);
        for (name, sign) in [(&t.from.0, 1.0), (&t.to.0, -1.0)] {
            let (work, stall) = (along * (sign * t.work.as_n()), t.stall.map(|s| along * (sign * s.as_n())));
            match forces.iter_mut().find(|f| f.point == *name) {
                // The rig already pulls there: both together.
                Some(f) => {
                    f.work += work;
                    f.stall = match (f.stall, stall) {
                        (Some(a), Some(b)) => Some(a + b),
                        (a, b) => a.or(b),
                    };
                }
                None => forces.push(AnchorForce { point: name.clone(), work, stall }),
            }
        }
    }
    forces
}

/// What lies beside the rig: dampers on the line, and what watches the anchors.
pub(crate) fn add_beside<'a>(case: &'a Case, rigging: &mut Rigging<'a>) {
    let on_anchor = rigging.stops.iter().any(|s| matches!(s.grip, Grip::Anchors(_)));
    for p in &case.kit {
        let wanted = match p.kind {
            PieceKind::Damper => true,
            PieceKind::TiltMeter | PieceKind::MovementMarker => on_anchor,
            PieceKind::Chock => !matches!(&rigging.pull, Pull::Hand { .. }),
            _ => false,
        };
        if wanted && crate::choices::usable(p) && !rigging.beside.iter().any(|q| core::ptr::eq(*q, p)) {
            rigging.beside.push(p);
        }
    }
}

pub(crate) fn check_in_words(facts: &Facts<'_>, judgement: &Judgement, i: usize) -> Option<PlanCheck> {
    let c = judgement.checks.get(i)?;
    let part = facts.parts.get(c.part)?;
    Some(PlanCheck {
        code: c.code.to_owned(),
        part: part.name.clone(),
        kind: part.kind,
        what: part.role.clone(),
        demand_work: c.demand_work,
        demand_stall: c.demand_stall,
        capacity: c.capacity,
        capacity_kind: c.capacity_kind.to_owned(),
        ratio_work: c.ratio_work(),
        ratio_stall: c.ratio_stall(),
        required_work: c.required_work,
        required_stall: c.required_stall,
        stop_load: c.stop_load,
        verdict: c.verdict,
        source: c.source.to_owned(),
        unknown_because: part.capacity.unknown_because.map(str::to_owned),
    })
}

pub(crate) fn points(solved: &Solved) -> Vec<PlanPoint> {
    let b = &solved.built;
    b.structure
        .nodes
        .iter()
        .enumerate()
        .map(|(i, n)| {
            let kind = if i == b.start && b.start_grip.is_none() && n.fixed && n.name.starts_with("fairlead") {
                "winch"
            } else if n.name.starts_with("anchor") {
                "anchor"
            } else if n.name.starts_with("point") {
                "recovery-point"
            } else if n.name.starts_with("block") {
                "block"
            } else if n.name.starts_with("hand winch") {
                "winch"
            } else {
                "line-end"
            };
            let at = solved.loads.poor.positions.get(i).copied().unwrap_or(n.at);
            PlanPoint { name: n.name.clone(), kind: kind.to_owned(), at }
        })
        .collect()
}

pub(crate) fn legs(solved: &Solved) -> Vec<PlanLeg> {
    let nodes = &solved.built.structure.nodes;
    let name = |i: usize| nodes.get(i).map_or_else(String::new, |n| n.name.clone());
    let loads = &solved.loads;
    let leg_at = |e: &Equilibrium, i: usize| e.legs.get(i).map_or(f64::NAN, |l| l.tension.as_n());
    let mut out = Vec::new();
    for (i, l) in loads.poor.legs.iter().enumerate() {
        out.push(PlanLeg {
            member: "line".to_owned(),
            from: name(l.from),
            to: name(l.to),
            length: l.length,
            tension_work: loads.work(|e| leg_at(e, i)),
            tension_stall: loads.at_stall(|e| leg_at(e, i)),
        });
    }
    for (i, s) in solved.built.structure.slings.iter().enumerate() {
        let tension = |e: &Equilibrium| crate::loads::sling_tension(e, i);
        out.push(PlanLeg {
            member: s.name.clone(),
            from: name(s.a),
            to: name(s.b),
            length: loads.poor.slings.get(i).map_or(s.rest_length, |l| l.length),
            tension_work: loads.work(tension),
            tension_stall: loads.at_stall(tension),
        });
    }
    out
}

fn anchor_forces(solved: &Solved) -> Vec<AnchorForce> {
    let loads = &solved.loads;
    let worse = |i: usize| {
        let (p, g) = (crate::loads::force_at(&loads.poor, i), crate::loads::force_at(&loads.good, i));
        if g.norm() > p.norm() { g } else { p }
    };
    solved
        .built
        .structure
        .nodes
        .iter()
        .enumerate()
        .filter(|(_, n)| n.fixed)
        .map(|(i, n)| AnchorForce {
            point: n.name.clone(),
            work: worse(i),
            stall: loads.stall.as_ref().map(|e| crate::loads::force_at(e, i)),
        })
        .collect()
}

fn winch(facts: &Facts<'_>) -> Option<PlanWinch> {
    let w = facts.winch.as_ref()?;
    Some(PlanWinch {
        id: w.id.clone(),
        layer: w.layer,
        ability: w.ability,
        pull: w.pull_work,
        stall: w.stall,
        stall_assumed: w.stall_assumed,
        line_out: w.line_out,
        wraps_left: w.wraps_left,
    })
}

fn stability(ctx: &Context<'_>, facts: &Facts<'_>, solved: &Solved) -> Option<PlanStability> {
    let s = facts.stability.as_ref()?;
    let force = solved
        .built
        .stuck
        .iter()
        .fold(unmire_model::Vec3::ZERO, |sum, &i| sum + crate::loads::force_at(&solved.loads.poor, i));
    let off_line = force.level().angle_to(ctx.way_out.level()).unwrap_or(Angle::ZERO);
    Some(PlanStability {
        used: s.used,
        used_with_holding: s.used_with_holding,
        sideways_pull: s.sideways_pull,
        off_line,
    })
}

/// Why this rig, or why it fails, in one sentence; the numbers stand in the checks.
fn why(judgement: &Judgement, facts: &Facts<'_>, lacks_detector: bool) -> String {
    let names = |wanted: Verdict| {
        let mut found: Vec<String> = Vec::new();
        for c in judgement.checks.iter().filter(|c| c.verdict == wanted) {
            if let Some(p) = facts.parts.get(c.part) {
                let name = format!("{} ({})", p.name, p.role);
                if !found.contains(&name) {
                    found.push(name);
                }
            }
        }
        found.join("; ")
    };
    let barred: Vec<&str> = judgement
        .findings
        .iter()
        .filter(|f| f.effect == unmire_audit::verdict::Effect::Bars)
        .map(|f| f.text.as_str())
        .collect();
    match judgement.verdict {
        Verdict::Holds => {
            "Every part has what the policy asks, at the high end of the need and when the winch stalls.".to_owned()
        }
        Verdict::HoldsBelowStopLoad => {
            format!(
                "Enough at the high end of the need; short at stall, so that it holds only below the stop load: {}.",
                names(Verdict::HoldsBelowStopLoad)
            )
        }
        Verdict::Unknown => format!("Not known well enough: {}.", names(Verdict::Unknown)),
        Verdict::Overloaded => {
            let short = names(Verdict::Overloaded);
            match (short.is_empty(), barred.is_empty()) {
                (false, true) if lacks_detector => format!(
                    "Short of what the policy asks at stall alone: {short}. With a detector that shows it in time it would hold below a stop load."
                ),
                (false, true) => format!("Short of what the policy asks: {short}."),
                (true, _) => barred.join(" "),
                (false, false) => format!("Short of what the policy asks: {short}. {}", barred.join(" ")),
            }
        }
    }
}
