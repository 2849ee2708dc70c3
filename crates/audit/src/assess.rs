//! Is this part strong enough? Capacity against load, at work and at stall, by one row of a policy. No allocation:
//! the search asks this thousands of times.

use crate::facts::{Detectors, Facts, PartFact, PartKind};
use crate::policy::{Basis, Counts, Policy, PolicyRow};
use crate::verdict::{Check, Verdict};
use unmire_model::anchor::AnchorKind;
use unmire_model::layout::{Puller, Who};
use unmire_model::{Force, vehicle};

/// Room for rounding in comparisons: a part that is exactly at what is asked holds. A thousand times finer than any
/// number that is printed.
pub const ROUNDING: f64 = 1e-9;

/// The pulls at the winch (or other puller) that ratios are counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulls {
    /// At work, high end.
    pub work: Force,
    /// At stall, high end; none where nothing can stall.
    pub stall: Option<Force>,
    /// The winch's rated first-layer pull, if a winch pulls.
    pub rated: Option<Force>,
}
impl Pulls {
    /// Those of a rig.
    #[must_use]
    pub fn of(facts: &Facts) -> Self {
        let rated = pulling_winch(facts).map(|w| w.rated_pull.value);
        Self { work: facts.pull_work, stall: facts.pull_stall, rated }
    }
}

/// The winch that pulls, if a vehicle's winch does.
#[must_use]
pub fn pulling_winch<'a>(facts: &Facts<'a>) -> Option<&'a vehicle::Winch> {
    match &facts.layout.puller {
        Puller::Winch { on: Who::Stuck } => facts.case.vehicle.winch.as_ref(),
        Puller::Winch { on: Who::Helper(name) } => {
            facts.case.helpers.iter().find(|h| h.vehicle.name == *name)?.vehicle.winch.as_ref()
        }
        Puller::Tow { .. } | Puller::HandWinch { .. } => None,
    }
}

/// What kind of detector fits a part: what notices in time that it nears its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fitting {
    /// Hardware: a load in the line, read off a load cell or a current that was calibrated on this winch.
    Load,
    /// A tree: the turning of its base.
    Tilt,
    /// Any other anchor, a parked vehicle included: movement against a mark.
    Movement,
}
impl Fitting {
    /// What fits this part.
    #[must_use]
    pub fn of(part: &PartFact, facts: &Facts) -> Self {
        match part.kind {
            PartKind::NaturalAnchor if is_tree(part, facts) => Self::Tilt,
            kind if kind.is_anchor() => Self::Movement,
            _ => Self::Load,
        }
    }
    /// Whether such a detector is there.
    #[must_use]
    pub const fn is_in(self, detectors: &Detectors) -> bool {
        match self {
            Self::Load => detectors.load_cell.is_some() || detectors.current,
            Self::Tilt => detectors.tilt_meter.is_some(),
            Self::Movement => detectors.movement_marker.is_some(),
        }
    }
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Load => "a load cell, or a current meter on a winch that was calibrated with it,",
            Self::Tilt => "a tilt meter at the base of the tree",
            Self::Movement => "stakes and a string line that show movement",
        }
    }
}
fn is_tree(part: &PartFact, facts: &Facts) -> bool {
    facts.case.anchor(&part.name).is_some_and(|a| matches!(a.kind, AnchorKind::Tree(_)))
}

/// A part judged; everything a [`Check`] holds but its index.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assessment {
    /// Capacity by the policy's basis.
    pub capacity: Option<Force>,
    /// What that is.
    pub basis: Basis,
    /// The ratio asked at work, on the part's own load.
    pub required_work: Option<f64>,
    /// The ratio asked at stall, on the part's own load.
    pub required_stall: Option<f64>,
    /// Line pull at the winch where the part reaches what is asked, if it is short at stall.
    pub stop_load: Option<Force>,
    /// The word.
    pub verdict: Verdict,
    /// How many times what is asked there is, at the worse of work and stall; none if not known or not loaded.
    pub margin: Option<f64>,
}

/// Judges one part.
///
/// Not known what it can take, or what it sees: unknown. Short at work: overloaded. Enough at stall, or nothing can
/// stall: holds. Short at stall: holds below a stop load, if a detector that fits the part is there (`detector`) and
/// the stop load is not under the pull at work; else overloaded. With every ratio counted on the part's own load,
///
/// - part load: required = n
/// - winch stalls: required = max(n T / F, floor), T the line pull and F the whole force at the station, so that
///   capacity must reach n T times the part's share of F
/// - rated pull: required at stall = n `T_rated` / `T_stall`; at work n
/// - an anchor at work: the greater of n and n₁ × likely ÷ low, so that the load is never above the low end
/// - an anchor at stall: the lesser of n and n₂ × likely ÷ low, so that the low end alone may do; never
///   less than n₃ × likely ÷ low, so that a wide range lets the load no further above its low end
///
/// and stop load = `T_stall` (capacity / load at stall) / n', where n' is what is asked before it is scaled to the
/// rated pull: friction helps nothing on the way there, since loads at stall are counted without it.
///
/// # Source
/// `statics` (proportionality of loads and line pull); the ratios from the policy's row.
///
/// # Assumes
/// Loads grow in proportion to the line pull; weights of blocks and straps, which do not, are small beside it.
#[must_use]
pub fn assess(part: &PartFact, row: &PolicyRow, pulls: &Pulls, detector: bool) -> Assessment {
    let stated = row.stated_ratio.filter(|_| part.capacity.stated);
    let basis = if stated.is_some() { Basis::LowHolding } else { row.basis };
    let row_stall = row.required_stall.map(|n| stated.unwrap_or(n));
    let ask = Ask { counts: row.counts, floor: row.floor, share: part.share };

    let capacity = basis.of(&part.capacity);
    let work = part.demand_work.filter(|d| d.is_finite() && d.as_n() >= 0.0);
    let station_work = work.map(|d| d / part.share);
    let required_work =
        work.and_then(|d| ask.on_own_load(stated.unwrap_or(row.required_work), pulls.work, d, station_work));
    // A wide range must not lift the load above its own low end.
    let required_work = required_work.map(|n| n.max(low_end_must(part, row.work_low_ratio, basis).unwrap_or(n)));
    let stall_broken = part.demand_stall.is_some_and(|d| !(d.is_finite() && d.as_n() >= 0.0) || pulls.stall.is_none());
    let stall = part.demand_stall.zip(pulls.stall).zip(row_stall);
    let required_plain =
        stall.and_then(|((d, t), n)| ask.on_own_load(n, t, d, part.station_stall.or(Some(d / part.share))));
    let required_plain = required_plain.map(|n| n.min(low_end_must(part, row.stall_low_ratio, basis).unwrap_or(n)));
    let required_plain = required_plain.map(|n| n.max(low_end_must(part, row.stall_low_least, basis).unwrap_or(n)));
    let required_stall = required_plain.map(|n| n * ask.rated_share(pulls));

    let mut out = Assessment {
        capacity,
        basis,
        required_work,
        required_stall,
        stop_load: None,
        verdict: Verdict::Unknown,
        margin: None,
    };
    let (Some(c), Some(w), Some(rw)) = (capacity, work, required_work) else { return out };
    if stall_broken || stall.is_some() != required_stall.is_some() {
        return out;
    }
    let margin_work = margin(c, w, rw);
    let margin_stall = stall.zip(required_stall).and_then(|(((d, _), _), r)| margin(c, d, r));
    out.margin = match (margin_work, margin_stall) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    };
    let short_stall = margin_stall.is_some_and(|m| m < 1.0 - ROUNDING);
    if short_stall && let (Some(((d, t), _)), Some(n)) = (stall, required_plain) {
        out.stop_load = Some(t * (c / d / n));
    }
    let in_time = out.stop_load.is_some_and(|s| s.as_n() >= pulls.work.as_n() * (1.0 - ROUNDING));
    out.verdict = if margin_work.is_some_and(|m| m < 1.0 - ROUNDING) {
        Verdict::Overloaded
    } else if !short_stall {
        Verdict::Holds
    } else if detector && in_time {
        Verdict::HoldsBelowStopLoad
    } else {
        Verdict::Overloaded
    };
    out
}

/// Capacity ÷ load ÷ what is asked; none where nothing is carried.
fn margin(capacity: Force, load: Force, required: f64) -> Option<f64> {
    (load.as_n() > 0.0).then(|| capacity / load / required)
}

/// For an anchor: what is asked of the likely holding force when the low end is asked for a ratio of its own.
fn low_end_must(part: &PartFact, ratio: Option<f64>, basis: Basis) -> Option<f64> {
    let (n, holding) = (ratio?, part.capacity.holding?);
    let likely_per_low = holding.likely() / holding.low();
    // A low end of nothing asks for what nothing can give.
    let asked = if holding.low().as_n() > 0.0 { n * likely_per_low } else { f64::INFINITY };
    (basis == Basis::LikelyHolding && asked >= n).then_some(asked)
}

/// How a row's ratio turns into one on the part's own load.
struct Ask {
    counts: Counts,
    floor: Option<f64>,
    share: f64,
}
impl Ask {
    fn on_own_load(&self, n: f64, line_pull: Force, own: Force, station: Option<Force>) -> Option<f64> {
        if !(n.is_finite() && n > 0.0) {
            return None;
        }
        if self.counts != Counts::WinchStalls || own.as_n() == 0.0 {
            return Some(n);
        }
        let share_known = self.share.is_finite() && self.share > 0.0;
        let station = station.filter(|f| share_known && f.is_finite() && f.as_n() > 0.0)?;
        let counted = n * (line_pull / station);
        (counted.is_finite() && counted > 0.0).then(|| self.floor.map_or(counted, |f| counted.max(f)))
    }
    /// Rated pull ÷ stall, where a row counts by the rated pull and both are known; else all of the stall counts.
    fn rated_share(&self, pulls: &Pulls) -> f64 {
        match (self.counts, pulls.rated, pulls.stall) {
            (Counts::RatedPull, Some(r), Some(s)) if r.as_n() > 0.0 && s.as_n() > 0.0 => (r / s).min(1.0),
            _ => 1.0,
        }
    }
}

/// The word about one part and its margin, for the search. An unknown part has no margin.
#[must_use]
pub fn margin_of(part: &PartFact, policy: &Policy, pulls: &Pulls, detector: bool) -> (Verdict, Option<f64>) {
    match policy.row(part.kind) {
        Some(row) => {
            let a = assess(part, row, pulls, detector);
            (a.verdict, a.margin)
        }
        None => (Verdict::Unknown, None),
    }
}

/// The check of one part as outputs show it.
#[must_use]
pub fn check_of(index: usize, part: &PartFact, policy: &Policy, pulls: &Pulls, detector: bool) -> Check {
    let code = crate::rules::strength::code(part.kind);
    let mut check = Check {
        code,
        part: index,
        demand_work: part.demand_work,
        demand_stall: part.demand_stall,
        capacity: None,
        capacity_kind: "",
        required_work: None,
        required_stall: None,
        stop_load: None,
        verdict: Verdict::Unknown,
        source: "",
    };
    if let Some(row) = policy.row(part.kind) {
        let a = assess(part, row, pulls, detector);
        check.capacity = a.capacity;
        check.capacity_kind = a.basis.words();
        check.required_work = a.required_work;
        check.required_stall = a.required_stall;
        check.stop_load = a.stop_load;
        check.verdict = a.verdict;
        check.source = row.source;
    }
    check
}
