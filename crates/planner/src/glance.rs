//! A rig at a glance: what a page shows while a finger moves something. The same structure, loads and rules as for a report,
//! where the rig stands now; the whole pull is not played and nothing is put into sentences.

use crate::context::{Context, Known};
use crate::demand;
use crate::evaluate::{facts, solve_rigging_near};
use crate::plan::{Options, PlanError};
use crate::present::{legs, points, ties, with_tie_legs, with_tie_points};
use crate::report::{PlanLeg, PlanPoint};
use crate::rigging::{NoSuch, resolve};
use std::rc::Rc;
use unmire_audit::judge::judge_without_findings;
use unmire_audit::policy::Policy;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::ground::{ActionKind, Need};
use unmire_mechanics::rig::{Equilibrium, Solver};
use unmire_model::case::Case;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::layout::Layout;
use unmire_model::{Force, Silent};

/// What is seen at a glance. A report may say worse of the same rig: it plays the whole pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// The worst of all checks and rules, where it stands.
    pub verdict: Verdict,
    /// The part with the lowest margin.
    pub weakest: Option<String>,
    /// That margin: capacity ÷ load ÷ what is asked.
    pub lowest_margin: Option<f64>,
    /// Line pull at the winch not to go past; none if nothing needs one.
    pub stop: Option<Force>,
    /// The points with their places at work.
    pub points: Vec<PlanPoint>,
    /// The legs with their tensions.
    pub legs: Vec<PlanLeg>,
}

/// Judges a rig that stands beside the case where it stands now, after some actions.
///
/// # Errors
/// As [`check_layout`](crate::check_layout).
pub fn glance(case: &Case, layout: &Layout, actions: &[&str], options: &Options) -> Result<Glance, PlanError> {
    Glancer::of(case, actions, options)?.glance(case, layout)
}

/// Looks again and again while anchors, helpers or obstacles are moved: what does not hang on where they stand is worked out
/// once.
pub struct Glancer {
    policy: Policy,
    need: Need,
    known: Rc<Known>,
    solver: Solver,
    /// The rig at work when it was last looked at: from there the next look is mostly not far.
    last: Equilibrium,
}

impl Glancer {
    /// For a case, after some actions.
    ///
    /// # Errors
    /// As [`check_layout`](crate::check_layout).
    pub fn of(case: &Case, actions: &[&str], options: &Options) -> Result<Self, PlanError> {
        let need = demand::need_for(case, &actions_named(actions)?, &mut Silent).map_err(PlanError::Need)?;
        let known = Context::of(case, &options.policy).known();
        Ok(Self {
            policy: options.policy.clone(),
            need,
            known,
            solver: Solver::default(),
            last: Equilibrium::default(),
        })
    }
    /// Judges a rig where it stands now. The case must be the one from before, but for where its anchors, helpers and obstacles
    /// stand.
    ///
    /// # Errors
    /// As [`check_layout`](crate::check_layout).
    pub fn glance(&mut self, case: &Case, layout: &Layout) -> Result<Glance, PlanError> {
        let Self { policy, need, known, solver, last } = self;
        let ctx = Context::moved(case, policy, known.clone());
        let rigging = resolve(case, layout).map_err(PlanError::NoSuch)?;
        let solved = solve_rigging_near(&ctx, solver, &rigging, need.total.high(), core::mem::take(last))
            .map_err(|e| PlanError::Rig(e.to_string()))?;
        if crate::sharing::shares(&rigging) {
            solved.share_out(&ctx, &rigging);
        }
        let layout = rigging.layout();
        let cell: Option<&Piece> = rigging.beside.iter().copied().find(|p| matches!(p.kind, PieceKind::LoadCell));
        let facts = facts(&ctx, &rigging, &layout, &solved, need.total, cell);
        let judgement = judge_without_findings(&facts, ctx.policy);
        let part = |i: usize| facts.parts.get(judgement.checks.get(i)?.part).map(|p| p.name.clone());
        let ties = ties(&ctx, &rigging, &facts);
        let seen = Glance {
            verdict: judgement.verdict,
            weakest: judgement.weakest.and_then(part),
            lowest_margin: judgement.lowest_margin,
            stop: judgement.stop_load,
            points: with_tie_points(points(&solved), &ties),
            legs: with_tie_legs(legs(&solved), &ties),
        };
        *last = solved.loads.poor;
        Ok(seen)
    }
}

/// Actions by their words.
pub(crate) fn actions_named(words: &[&str]) -> Result<Vec<ActionKind>, PlanError> {
    let action = |word: &&str| {
        let found = ActionKind::ALL.into_iter().find(|a| a.word() == *word);
        found.ok_or_else(|| PlanError::NoSuch(NoSuch { what: "action", name: (*word).to_owned() }))
    };
    words.iter().map(action).collect()
}
