//! Chosen moments of a pull, each judged as a rig of its own: the site is moved to where the vehicle sees it, and everything that
//! judges a plan judges it there.

use super::path::Path;
use super::peaks::greater;
use super::report::Worst;
use super::walk::towing;
use crate::context::Context;
use crate::evaluate::{NoRig, Solved, facts, solve_rigging};
use crate::loads::force_at;
use crate::rigging::{Rigging, resolve};
use unmire_audit::facts::{Facts, PartKind};
use unmire_audit::judge::{Judgement, judge};
use unmire_audit::policy::Policy;
use unmire_audit::verdict::{Check, Finding, Verdict};
use unmire_mechanics::rig::Solver;
use unmire_mechanics::stability::{Pull, Tip, ground_axes, pitch, tip};
use unmire_model::case::Case;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::layout::Layout;
use unmire_model::{Force, Length, Mass, Range, Silent};

/// Room for what is no ordinary height of slope: under this sine nothing runs away. The least rolling share of firm ground,
/// `carvill-1993`.
const LEAST_ROLLING: f64 = 0.01;

/// One part at one moment.
#[derive(Clone, Debug)]
pub(crate) struct PartThen {
    pub name: String,
    pub what: String,
    pub kind: PartKind,
    pub check: Check,
}

/// How steady it stands.
#[derive(Clone, Debug)]
pub(crate) struct SteadyThen {
    pub roll_used: Option<Range<f64>>,
    pub pitch_used: Option<Range<f64>>,
    pub tip: Option<Tip>,
    pub tip_pull: Option<Range<Force>>,
    pub sideways: Force,
    pub holding: Option<Force>,
    pub can_run_away: bool,
}

/// A judged moment.
#[derive(Clone, Debug)]
pub(crate) struct Moment {
    pub s: f64,
    pub verdict: Verdict,
    pub margin: Option<f64>,
    pub stop_load: Option<Force>,
    pub parts: Vec<PartThen>,
    pub findings: Vec<Finding>,
    pub steady: SteadyThen,
}

/// What is needed to judge moments of one stage.
pub(crate) struct Judge<'j> {
    pub case: &'j Case,
    pub policy: &'j Policy,
    pub path: &'j Path,
    pub layout: &'j Layout,
    /// Whether the gear is wet.
    pub wet: bool,
    /// Whether texts and steadiness are wanted.
    pub full: bool,
}

impl Judge<'_> {
    /// The rig at this place of the way, judged.
    pub fn at(&self, solver: &mut Solver, rigging: &Rigging<'_>, s: f64, ahead: bool) -> Result<Moment, NoRig> {
        let case = self.path.moved(self.case, s, ahead, towing(rigging));
        let ctx = Context::with_gear(&case, self.policy, self.wet);
        let there = resolve(&case, self.layout).map_err(|e| NoRig::Winch(e.to_string()))?;
        let leg = self.path.leg(s, ahead);
        let need = self.path.legs.get(leg).map_or_else(none, |l| l.need);
        // A need of nothing has no balance; a newton asks nothing of anybody.
        let least = Force::from_n(1.0);
        let need = need.increasing(|f: Force| f.max(least));
        let solved = solve_rigging(&ctx, solver, &there, need.high())?;
        let cell: Option<&Piece> = there.beside.iter().copied().find(|p| matches!(p.kind, PieceKind::LoadCell));
        let facts = facts(&ctx, &there, self.layout, &solved, need, cell);
        let judgement = judge(&facts, self.policy);
        let steady = self.steady(&ctx, &there, &solved, &facts);
        Ok(moment(s, &facts, judgement, steady))
    }

    fn steady(&self, ctx: &Context<'_>, rigging: &Rigging<'_>, solved: &Solved, facts: &Facts<'_>) -> SteadyThen {
        let fact = facts.stability.as_ref();
        let mut out = SteadyThen {
            roll_used: fact.and_then(|f| f.used_with_holding.or(f.used)),
            pitch_used: None,
            tip: None,
            tip_pull: None,
            sideways: fact.map_or(Force::ZERO, |f| f.sideways_pull),
            holding: None,
            can_run_away: fact.is_none_or(|f| f.can_run_away),
        };
        if !self.full {
            return out;
        }
        let axes = ground_axes(&ctx.case.way_out, ctx.case.way_out.grade.value.likely());
        let nodes = &solved.built.structure.nodes;
        let eq = &solved.loads.poor;
        let pulls: Vec<Pull> = solved
            .built
            .stuck
            .iter()
            .filter_map(|i| Some(Pull { at: nodes.get(*i)?.at, force: force_at(eq, *i) }))
            .collect();
        let vehicle = &ctx.case.vehicle;
        out.pitch_used = pitch(vehicle, &axes, &pulls, &mut Silent).ok().and_then(|p| p.used);
        out.tip = tip(vehicle, &axes, &pulls, &mut Silent).ok();
        let line = solved.loads.pull_work();
        out.tip_pull = out.tip.and_then(|t| t.factor).map(|k| k.increasing(|k: f64| line * k));
        out.holding = match (&rigging.holding, fact) {
            (Some(tie), _) => Some(crate::steadiness::holding_force(ctx, solved, tie)).filter(|f| f.is_finite()),
            // Without one: what the slope asks of it, if it is needed at all.
            (None, Some(f)) if f.can_run_away || f.used.is_none_or(|u| u.high() > crate::steadiness::ALLOWED_SHARE) => {
                let weight = vehicle.moving_mass().increasing(Mass::weight).high();
                let downhill = axes.up.level().norm();
                Some((weight * (downhill - LEAST_ROLLING * axes.up.z)).max(Force::ZERO))
            }
            (None, Some(_)) => Some(Force::ZERO),
            (None, None) => None,
        };
        out
    }
}

fn none() -> Range<Force> {
    Range::hull(Force::ZERO, Force::ZERO, Force::ZERO)
}

fn moment(s: f64, facts: &Facts<'_>, j: Judgement, steady: SteadyThen) -> Moment {
    let parts = facts
        .parts
        .iter()
        .zip(&j.checks)
        .map(|(p, c)| PartThen { name: p.name.clone(), what: p.role.clone(), kind: p.kind, check: c.clone() })
        .collect();
    Moment {
        s,
        verdict: j.verdict,
        margin: j.lowest_margin,
        stop_load: j.stop_load,
        parts,
        findings: j.findings,
        steady,
    }
}

/// The worst moment of every part, the least margin first.
pub(crate) fn worst(stage: usize, offset: f64, moments: &[Moment]) -> Vec<Worst> {
    let mut out: Vec<Worst> = Vec::new();
    let travel = |s: f64| Length::from_m(offset + s);
    for m in moments {
        for (i, p) in m.parts.iter().enumerate() {
            let c = &p.check;
            // The same rig at every moment: its parts stand in the same order.
            if out.len() <= i {
                out.push(Worst {
                    stage,
                    part: p.name.clone(),
                    what: p.what.clone(),
                    kind: p.kind,
                    travel: travel(m.s),
                    demand: None,
                    ratio: None,
                    required: c.required_work,
                    travel_stall: None,
                    demand_stall: None,
                    ratio_stall: None,
                    required_stall: c.required_stall,
                    travel_margin: travel(m.s),
                    margin: None,
                    capacity: c.capacity,
                    capacity_kind: c.capacity_kind.to_owned(),
                    verdict: c.verdict,
                });
            }
            let Some(w) = out.get_mut(i) else { continue };
            if w.part != p.name {
                continue;
            }
            let more = |new: Option<Force>, old: Option<Force>| {
                new.is_some_and(|n| {
                    old.is_none_or(|o| greater(n.as_n(), o.as_n()) || (!n.is_finite() && o.is_finite()))
                })
            };
            if more(c.demand_work, w.demand) {
                (w.travel, w.demand, w.ratio) = (travel(m.s), c.demand_work, c.ratio_work());
            }
            if more(c.demand_stall, w.demand_stall) {
                (w.travel_stall, w.demand_stall, w.ratio_stall) = (Some(travel(m.s)), c.demand_stall, c.ratio_stall());
            }
            if let Some(k) = c.margin()
                && w.margin.is_none_or(|o| greater(o, k))
            {
                (w.margin, w.travel_margin) = (Some(k), travel(m.s));
            }
            w.capacity = match (w.capacity, c.capacity) {
                (Some(a), Some(b)) => Some(a.min(b)),
                _ => None,
            };
            w.verdict = w.verdict.worse(c.verdict);
        }
    }
    let key = |w: &Worst| (core::cmp::Reverse(w.verdict), w.margin.unwrap_or(f64::INFINITY));
    unmire_model::order::sort_by(&mut out, |a, b| {
        let (x, y) = (key(a), key(b));
        x.0.cmp(&y.0).then(x.1.total_cmp(&y.1))
    });
    out
}
