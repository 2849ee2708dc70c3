//! What an anchor may be given under a policy, alone and shared.

use super::Load;
use super::together::greatest_share;
use unmire_audit::assess::{Pulls, assess};
use unmire_audit::facts::{Capacity, PartFact, PartKind};
use unmire_audit::policy::{Policy, PolicyRow};
use unmire_audit::verdict::{Grade, Verdict};
use unmire_mechanics::anchor::AnchorCapacity;
use unmire_model::{Force, Range};

/// The most that it may be given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// At work.
    pub work: Force,
    /// At stall; none where the policy does not judge it there.
    pub stall: Option<Force>,
    /// What counts: `likely holding force` or `low holding force`.
    pub basis: &'static str,
    /// Times the load at work that is asked.
    pub required_work: f64,
    /// Times the load at stall that is asked.
    pub required_stall: Option<f64>,
    /// Key of the source of what is asked.
    pub source: &'static str,
}

/// What several like it may be given together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shared {
    /// How many.
    pub anchors: u32,
    /// The most that one of them may get, as a share of the pull.
    pub greatest_share: f64,
    /// The most at work, together.
    pub work: Force,
    /// The most at stall, together.
    pub stall: Option<Force>,
}

/// A capacity before a policy.
pub(super) struct Judged<'a> {
    part: PartKind,
    capacity: Capacity,
    row: Option<&'a PolicyRow>,
    detector: bool,
    known: bool,
}
impl<'a> Judged<'a> {
    pub(super) fn new(capacity: &AnchorCapacity, part: PartKind, policy: &'a Policy, detector: bool) -> Self {
        let holding = capacity.ultimate;
        Self {
            part,
            capacity: Capacity {
                breaking: None,
                working: None,
                holding,
                stated: capacity.stated,
                reduction: 1.0,
                unknown_because: if holding.is_some() { None } else { Some("what it holds is not known") },
            },
            row: policy.row(part),
            detector,
            known: holding.is_some() && !capacity.ruled_out,
        }
    }
    pub(super) fn grade(&self) -> Grade {
        self.row.map_or(Grade::OwnJudgement, |r| r.grade)
    }
    fn fact(&self, work: Force, stall: Option<Force>) -> PartFact<'static> {
        PartFact {
            name: String::new(),
            role: String::new(),
            kind: self.part,
            piece: None,
            demand_work: Some(work),
            demand_stall: stall,
            share: 1.0,
            station_stall: stall,
            capacity: self.capacity.clone(),
        }
    }
    /// The word on a load of which it gets this share, and the pull at which to stop.
    pub(super) fn verdict(&self, load: Load, share: f64) -> (Verdict, Option<Force>) {
        let Some(row) = self.row.filter(|_| self.known) else { return (Verdict::Unknown, None) };
        let pulls = Pulls { work: load.work, stall: load.stall, rated: None };
        let a = assess(&self.fact(load.work * share, load.stall.map(|s| s * share)), row, &pulls, self.detector);
        (a.verdict, a.stop_load)
    }
    /// The pull at which to stop, if it does not pass alone as it is and would with somebody watching it.
    pub(super) fn if_watched(&self, load: Load) -> Option<Force> {
        if self.detector || self.verdict(load, 1.0).0.passes() {
            return None;
        }
        let watched = Self { detector: true, capacity: self.capacity.clone(), ..*self };
        let (verdict, stop) = watched.verdict(load, 1.0);
        stop.filter(|_| verdict == Verdict::HoldsBelowStopLoad)
    }
    /// What it may be given: the ratios asked are those on a load of one newton, since they do not depend on its size.
    pub(super) fn limits(&self) -> Option<Limits> {
        let row = self.row.filter(|_| self.known)?;
        let one = Force::from_n(1.0);
        let a = assess(&self.fact(one, Some(one)), row, &Pulls { work: one, stall: Some(one), rated: None }, false);
        let c = a.capacity?;
        let required_work = a.required_work?;
        Some(Limits {
            work: c / required_work,
            stall: a.required_stall.map(|r| c / r),
            basis: a.basis.words(),
            required_work,
            required_stall: a.required_stall,
            source: row.source,
        })
    }
    /// Two and three like it, each as stiff as this range says. What has no balance is left out: nothing then advises it.
    pub(super) fn shared(&self, stiffness: Option<Range<f64>>) -> Vec<Shared> {
        let (Some(l), Some(stiffness)) = (self.limits(), stiffness) else { return Vec::new() };
        let one = |anchors: u32| {
            let share = greatest_share(anchors, &stiffness, l.work)?;
            Some(Shared { anchors, greatest_share: share, work: l.work / share, stall: l.stall.map(|s| s / share) })
        };
        [2, 3].into_iter().filter_map(one).collect()
    }
}
