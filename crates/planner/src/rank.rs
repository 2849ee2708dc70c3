//! The order of rigs for the reader: what passes first, then room before the stop load, then what is done soonest.

use crate::demand::time_of;
use crate::fill::Filled;
use crate::report::PlanPull;
use crate::rigging::{Grip, Rigging};
use core::cmp::Ordering;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::ground::ActionKind;
use unmire_model::{Force, Range, Time};

/// Room that is wanted between the pull at work and the stop load: our own judgement. Below it the crew will meet
/// the stop load in an ordinary pull.
pub const ROOM: f64 = 1.15;

/// What rigs are ordered by; smaller is better.
#[derive(Clone, Debug, PartialEq)]
pub struct Rank {
    verdict: Verdict,
    /// Where it does not pass: whether more is missing than a detector.
    beyond_detector: bool,
    /// About how many such stages the way takes: one if the rig brings it to the last metre, or if its pull was not played.
    stages: u32,
    /// Whether the vehicle stands less steady than is wished for.
    unsteady: bool,
    /// Whether the stop load leaves too little room above the work.
    cramped: bool,
    minutes: f64,
    /// Pull at work: where nothing passes, the least need comes first.
    pull: f64,
    pieces: usize,
    margin: Option<f64>,
    length: f64,
    ids: Vec<usize>,
}
impl Rank {
    /// The order.
    #[must_use]
    pub fn compare(&self, o: &Self) -> Ordering {
        self.by_merit(o).then(self.length.total_cmp(&o.length)).then(self.ids.cmp(&o.ids))
    }
    /// The order without what only decides between equals: length and ids.
    #[must_use]
    pub(crate) fn by_merit(&self, o: &Self) -> Ordering {
        // To nine digits: what lies beyond is rounding, and must not decide before time and pieces do.
        let margin = |r: &Self| (r.margin.unwrap_or(f64::NEG_INFINITY) * 1e9).round();
        self.verdict
            .cmp(&o.verdict)
            .then(self.beyond_detector.cmp(&o.beyond_detector))
            .then(self.stages.cmp(&o.stages))
            .then(self.unsteady.cmp(&o.unsteady))
            .then(self.cramped.cmp(&o.cramped))
            .then(if self.verdict.passes() {
                self.minutes.total_cmp(&o.minutes)
            } else {
                // Nothing passes: what comes nearest, first.
                margin(o).total_cmp(&margin(self)).then(self.pull.total_cmp(&o.pull))
            })
            .then(self.pieces.cmp(&o.pieces))
            .then(margin(o).total_cmp(&margin(self)))
    }
}

impl Rank {
    /// The best rank that a rig of this shape could have: what the first look gives.
    #[must_use]
    pub(crate) fn bound(
        verdict: Verdict,
        unsteady: bool,
        cramped: bool,
        shape: &Rigging<'_>,
        pull: Force,
        margin: Option<f64>,
    ) -> Self {
        Self {
            verdict,
            beyond_detector: false,
            stages: 1,
            unsteady,
            cramped,
            pull: pull.as_n(),
            minutes: minutes(shape, &[]).likely().as_min(),
            pieces: shape.pieces().len(),
            margin: margin.or(Some(f64::INFINITY)),
            length: 0.0,
            ids: Vec::new(),
        }
    }
    /// The same with so many minutes more.
    #[must_use]
    pub(crate) fn later(mut self, minutes: f64) -> Self {
        self.minutes += minutes;
        self
    }
    /// Whether it passes, steady and with room before any stop load: less need would only cost time.
    #[must_use]
    pub(crate) fn wants_nothing(&self) -> bool {
        self.verdict.passes() && !self.unsteady && !self.cramped
    }
    /// The same by the worst moment of its whole pull, with the time that the pull takes.
    #[must_use]
    pub(crate) fn over_the_pull(&self, pull: &PlanPull, minutes: f64) -> Self {
        let mut out = self.clone();
        out.verdict = out.verdict.worse(pull.verdict);
        if !pull.arrives {
            // Rounding and a rig that gets nowhere both count as many.
            let many = (pull.length / pull.reaches).ceil();
            out.stages = if (2.0..99.0).contains(&many) { many as u32 } else { 99 };
        }
        out.margin = pull.lowest_margin.or(out.margin);
        out.pull = out.pull.max(pull.pull_work.as_n());
        out.cramped |= pull.stop_load.is_some_and(|s| s.as_n() < ROOM * out.pull);
        out.minutes = minutes;
        out
    }
    /// The word.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.verdict
    }
}

/// Ranks a rig under a set of actions.
#[must_use]
pub fn rank(filled: &Filled<'_>, actions: &[ActionKind]) -> Rank {
    let cramped = filled.stop_load.is_some_and(|s| s.as_n() < ROOM * filled.pull_work.as_n());
    Rank {
        verdict: filled.key.verdict,
        beyond_detector: !filled.key.verdict.passes() && !filled.lacks_detector,
        stages: 1,
        unsteady: filled.unsteady,
        cramped,
        pull: filled.pull_work.as_n(),
        minutes: minutes(&filled.rigging, actions).likely().as_min(),
        pieces: filled.key.pieces + actions.len(),
        margin: filled.key.margin,
        length: filled.key.length.as_m(),
        ids: filled.key.ids.clone(),
    }
}

/// About how long it takes: actions, rigging and the pull. Our own judgement: 2 to 6 minutes a piece, 3 to 10 a
/// station for walking, placing and checking, 5 to 20 for the pull, doubled with each part of line beyond the first. Where the
/// pull was played its own time stands in: see [`rigging_minutes`].
#[must_use]
pub fn minutes(r: &Rigging<'_>, actions: &[ActionKind]) -> Range<Time> {
    let parts = r.stops.len().max(1) as f64;
    let pull = Range::hull(5.0, 10.0, 20.0).increasing(|m: f64| Time::from_min(m * parts));
    rigging_minutes(r, actions).plus(&pull)
}

/// The same without the pull.
#[must_use]
pub fn rigging_minutes(r: &Rigging<'_>, actions: &[ActionKind]) -> Range<Time> {
    let pieces = r.pieces().len() as f64;
    let stations = r.stops.len() as f64
        + f64::from(u8::from(r.tie_back.is_some()))
        + f64::from(u8::from(r.holding.is_some()))
        + r.stops
            .iter()
            .map(|s| match &s.grip {
                Grip::Anchors(legs) => legs.len().saturating_sub(1) as f64,
                _ => 0.0,
            })
            .sum::<f64>();
    let rig = |per_piece: f64, per_station: f64| Time::from_min(per_piece * pieces + per_station * stations);
    Range::hull(rig(2.0, 3.0), rig(3.0, 5.0), rig(6.0, 10.0)).plus(&time_of(actions))
}
