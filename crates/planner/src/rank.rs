//! The order of rigs for the reader: what passes first, then room before the stop load, then what is done soonest.

use crate::demand::time_of;
use crate::fill::Filled;
use crate::rigging::{Grip, Rigging};
use core::cmp::Ordering;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::ground::ActionKind;
use unmire_model::{Range, Time};

/// Room that is wanted between the pull at work and the stop load: our own judgement. Below it the crew will meet
/// the stop load in an ordinary pull.
const ROOM: f64 = 1.15;

/// What rigs are ordered by; smaller is better.
#[derive(Clone, Debug, PartialEq)]
pub struct Rank {
    verdict: Verdict,
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
        let margin = |r: &Self| r.margin.unwrap_or(f64::NEG_INFINITY);
        self.verdict
            .cmp(&o.verdict)
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
            .then(self.length.total_cmp(&o.length))
            .then(self.ids.cmp(&o.ids))
    }
}

/// Ranks a rig under a set of actions.
#[must_use]
pub fn rank(filled: &Filled<'_>, actions: &[ActionKind]) -> Rank {
    let cramped = filled.stop_load.is_some_and(|s| s.as_n() < ROOM * filled.pull_work.as_n());
    Rank {
        verdict: filled.key.verdict,
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
/// station for walking, placing and checking, 5 to 20 for the pull, doubled with each part of line beyond the first.
#[must_use]
pub fn minutes(r: &Rigging<'_>, actions: &[ActionKind]) -> Range<Time> {
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
    let parts = r.stops.len().max(1) as f64;
    let rig = |per_piece: f64, per_station: f64, pull: f64| {
        Time::from_min(per_piece * pieces + per_station * stations + pull * parts)
    };
    let own = Range::hull(rig(2.0, 3.0, 5.0), rig(3.0, 5.0, 10.0), rig(6.0, 10.0, 20.0));
    own.plus(&time_of(actions))
}
