//! The chain between the two vehicles: the best of the kit, what it allows in the rope, and how it is judged at a peak.

use crate::choices::{self, Ground};
use crate::context::Context;
use crate::evaluate::{Solved, facts, solve_rigging};
use crate::fill::Filler;
use crate::present::{add_beside, check_in_words};
use crate::report::PlanCheck;
use crate::rigging::{Pull, Rigging};
use unmire_audit::facts::Facts;
use unmire_audit::judge::{Judgement, judge};
use unmire_audit::verdict::{Check, Effect, Finding, Verdict};
use unmire_mechanics::kinetic::{ChainPart, Loaded, chain_limit};
use unmire_mechanics::rig::Solver;
use unmire_model::case::Case;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::layout::Family;
use unmire_model::trail::Recorder;
use unmire_model::vehicle::Helper;
use unmire_model::{Force, Range};

/// A pull to find proportions with; every force of the chain goes with the tension of the rope.
const TRIAL: Force = Force::from_kn(20.0);

/// Rules that ask about a steady pull on static gear, and so are not asked here: the rope is meant to stretch, the run-up is meant, and
/// the puller's motion does what its tyres alone can't.
const NOT_ASKED: [&str; 3] = ["kinetic-in-static", "static-gear-no-run-up", "puller-ability"];

/// The case with no steel to connect with; none if that leaves nothing to connect with, or takes nothing away.
pub(super) fn without_steel(case: &Case) -> Option<Case> {
    let steel = |p: &Piece| matches!(p.kind, PieceKind::Shackle { .. } | PieceKind::Hook { .. } | PieceKind::LoadCell);
    let soft = case.kit.iter().any(|p| matches!(p.kind, PieceKind::SoftShackle));
    if !soft || !case.kit.iter().any(steel) {
        return None;
    }
    let mut out = case.clone();
    out.kit.retain(|p| !steel(p));
    Some(out)
}

/// The best chain of a helper and a rope: over its points, the stuck vehicle's points and bridles, and the connectors of the kit.
///
/// # Errors
/// Why there is none.
pub(super) fn chain<'a>(ctx: &Context<'a>, helper: &'a Helper, rope: &'a Piece) -> Result<Rigging<'a>, String> {
    let mut solver = Solver::default();
    let mut best: Option<(f64, f64, Rigging<'a>)> = None;
    let mut trouble: Option<String> = None;
    for mut choice in choices::tows_of(&Ground::of(ctx.case, false), helper) {
        choice.family = Family::SteadyTow;
        if let Pull::Tow { line, .. } = &mut choice.pull {
            line.push(rope);
        }
        let need = Range::hull(TRIAL, TRIAL, TRIAL);
        let mut filler = Filler::new(ctx, &mut solver, need);
        let Some(filled) = filler.best(&choice) else {
            let why = filler.trouble.map_or_else(|| "the kit lacks connectors for it".to_owned(), |t| t.to_string());
            trouble.get_or_insert(why);
            continue;
        };
        // Nothing known is less than nothing.
        let (margin, per_pull) = match at(ctx, &mut solver, &filled.rigging, TRIAL) {
            Ok(j) if j.judged.checks.iter().all(|c| c.verdict != Verdict::Unknown) => {
                let least = j.judged.checks.iter().filter_map(Check::margin).fold(f64::INFINITY, f64::min);
                (least, j.per_pull)
            }
            Ok(j) => (-1.0, j.per_pull),
            Err(why) => {
                trouble.get_or_insert(why);
                continue;
            }
        };
        // Of chains that allow the same, to the rounding, the one nearer to the way out.
        let better = best.as_ref().is_none_or(|(m, p, _)| {
            let same = (margin - m).abs() <= 1e-9 * m.abs();
            if same { per_pull < *p * (1.0 - 1e-9) } else { margin > *m }
        });
        if better {
            best = Some((margin, per_pull, filled.rigging));
        }
    }
    let (_, _, mut rigging) = best.ok_or_else(|| {
        trouble.unwrap_or_else(|| {
            "no recovery points of the two vehicles look at each other within 60 degrees of the way out".to_owned()
        })
    })?;
    add_beside(ctx.case, &mut rigging);
    Ok(rigging)
}

/// The chain at one tension of the rope.
pub(super) struct AtTension {
    pub solved: Solved,
    pub judged: Judgement,
    /// Every check in words, worst first.
    pub checks: Vec<PlanCheck>,
    /// Names of the parts, in the order of the judgement's checks, and the share of the rope's tension that each carries.
    pub parts: Vec<(String, f64)>,
    /// Tension of the rope ÷ pull along the way out.
    pub per_pull: f64,
    /// Whether steel is in the chain, and which.
    pub steel: Vec<String>,
}
impl AtTension {
    /// The worst of the checks and of what the rules say.
    pub fn verdict(&self) -> Verdict {
        let parts = self.judged.checks.iter().map(|c| c.verdict).max().unwrap_or(Verdict::Unknown);
        self.judged.findings.iter().fold(parts, |v, f| {
            v.worse(match f.effect {
                Effect::Bars => Verdict::Overloaded,
                Effect::Unknown => Verdict::Unknown,
                Effect::Note | Effect::Caution => Verdict::Holds,
            })
        })
    }
}

/// Solves and judges the chain with this tension in the rope, all of it counted as work: nothing of it can be noticed in time.
///
/// # Errors
/// Why it has no balance.
pub(super) fn at<'a>(
    ctx: &Context<'a>,
    solver: &mut Solver,
    rigging: &Rigging<'a>,
    tension: Force,
) -> Result<AtTension, String> {
    let solve = |solver: &mut Solver, need: Force| solve_rigging(ctx, solver, rigging, need).map_err(|e| e.to_string());
    let trial = solve(solver, TRIAL)?;
    let per_pull = trial.loads.pull_work() / TRIAL;
    if !(per_pull.is_finite() && per_pull > 0.0) {
        return Err("the line between the two vehicles has no pull along the way out".to_owned());
    }
    let need = tension * (1.0 / per_pull);
    let mut solved = solve(solver, need)?;
    // Nothing stalls here: the peak is what comes.
    solved.loads.stall = None;
    solved.loads.stall_unknown = false;
    let layout = rigging.layout();
    let (judged, checks, parts) = {
        let mut f: Facts<'_> = facts(ctx, rigging, &layout, &solved, Range::hull(need, need, need), None);
        f.pull_stall = None;
        for p in &mut f.parts {
            p.demand_stall = None;
            p.station_stall = None;
        }
        let mut judged = judge(&f, ctx.policy);
        judged.findings.retain(|x| !NOT_ASKED.contains(&x.code));
        let mut order: Vec<usize> = (0..judged.checks.len()).collect();
        let key = |i: &usize| judged.checks.get(*i).map(|c| (c.verdict, c.margin().unwrap_or(f64::INFINITY)));
        unmire_model::order::sort_by(&mut order, |a, b| match (key(a), key(b)) {
            (Some(x), Some(y)) => y.0.cmp(&x.0).then(x.1.total_cmp(&y.1)).then(a.cmp(b)),
            _ => a.cmp(b),
        });
        let checks: Vec<PlanCheck> = order.iter().filter_map(|&i| check_in_words(&f, &judged, i)).collect();
        let pull = f.pull_work;
        let parts = judged
            .checks
            .iter()
            .filter_map(|c| f.parts.get(c.part))
            .map(|p| (p.name.clone(), p.demand_work.map_or(f64::NAN, |d| d / pull)))
            .collect();
        (judged, checks, parts)
    };
    let steel = rigging
        .pieces()
        .into_iter()
        .filter(|p| matches!(p.kind, PieceKind::Shackle { .. } | PieceKind::Hook { .. } | PieceKind::LoadCell))
        .map(|p| p.id.clone())
        .collect();
    Ok(AtTension { solved, judged, checks, parts, per_pull, steel })
}

/// What the chain allows in the rope.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Allows {
    /// So much, and the part that sets it.
    Known(Force, String),
    /// A part that nobody knows enough about.
    Unknown(String),
}

/// What the chain allows in the rope, by the ratios of the policy.
pub(super) fn limit(at: &AtTension, tension: Force, rec: &mut impl Recorder) -> Result<Allows, String> {
    let parts: Vec<ChainPart> = at
        .parts
        .iter()
        .zip(&at.judged.checks)
        .map(|((name, _), c)| {
            let known = c.verdict != Verdict::Unknown;
            // Every part's margin goes with the tension: it allows in the rope so many times what is in it.
            let allows = c.margin().filter(|m| known && m.is_finite() && *m > 0.0).map(|m| tension * m);
            ChainPart { name: name.clone(), loaded: Loaded::Whole, allows }
        })
        .collect();
    let name = |i: usize| parts.get(i).map_or_else(String::new, |p| p.name.clone());
    match chain_limit(&parts, rec).map_err(|e| e.to_string())? {
        Ok(l) => Ok(Allows::Known(l.limit, name(l.part))),
        Err(i) => Ok(Allows::Unknown(name(i))),
    }
}

/// Findings of the chain, and of the steel in it.
pub(super) fn findings(at: &AtTension) -> Vec<Finding> {
    let mut out = at.judged.findings.clone();
    out.push(super::inputs::note(
        "kinetic-policy-steady",
        "chain",
        "The ratios of every policy here were written for slow, steady pulls. No published ratio for kinetic pulls was found: these are held against the high end of the peak, as the least that can be asked.",
        "Where a maker gives a rating for kinetic pulls, that counts.",
    ));
    if !at.steel.is_empty() {
        out.push(Finding {
            code: "kinetic-steel-in-line",
            effect: Effect::Caution,
            subject: at.steel.join(", "),
            text: "Steel between the vehicles: if it or what it holds lets go, it flies with the rope.".to_owned(),
            remedy: "Soft shackles that are rated for the peak, with no edge to lie on.".to_owned(),
        });
    }
    out
}
