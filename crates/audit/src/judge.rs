//! One rig under one policy: every check, every finding, the verdict and the stop load.

use crate::assess::{Fitting, Pulls, assess, check_of};
use crate::facts::Facts;
use crate::findings::Findings;
use crate::policy::Policy;
use crate::rules;
use crate::verdict::{Check, Effect, Finding, Verdict};
use unmire_model::Force;

/// What comes out for one rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// One check for every part, in the order of the facts.
    pub checks: Vec<Check>,
    /// What the rules have to say besides, the worst first.
    pub findings: Vec<Finding>,
    /// The worst of all of them.
    pub verdict: Verdict,
    /// Line pull at the winch not to go past: the least over the parts that are short at stall, if the rig holds below it.
    pub stop_load: Option<Force>,
    /// Index into `checks` of the part with the lowest margin among those whose margin is known.
    pub weakest: Option<usize>,
    /// That margin: capacity ÷ load ÷ what is asked.
    pub lowest_margin: Option<f64>,
}
impl Judgement {
    /// Indices into `checks` of the parts that nobody knows enough about; named before the weakest.
    pub fn unknown_parts(&self) -> impl Iterator<Item = usize> {
        self.checks.iter().enumerate().filter(|(_, c)| c.verdict == Verdict::Unknown).map(|(i, _)| i)
    }
}

/// The same without its texts: nothing is allocated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// The verdict.
    pub verdict: Verdict,
    /// The stop load, as in [`Judgement`].
    pub stop_load: Option<Force>,
    /// The lowest margin.
    pub lowest_margin: Option<f64>,
}

/// Judges a rig.
#[must_use]
pub fn judge(facts: &Facts, policy: &Policy) -> Judgement {
    judged(facts, policy, Findings::loud())
}

/// The same, without what the rules have to say besides: for a rig that changes with every frame of a page.
#[must_use]
pub fn judge_without_findings(facts: &Facts, policy: &Policy) -> Judgement {
    judged(facts, policy, Findings::quiet())
}

fn judged(facts: &Facts, policy: &Policy, mut findings: Findings) -> Judgement {
    let pulls = Pulls::of(facts);
    let mut checks = Vec::with_capacity(facts.parts.len());
    let mut tally = Tally::default();
    let mut weakest = None;
    for (i, part) in facts.parts.iter().enumerate() {
        let detector = Fitting::of(part, facts).is_in(&facts.detectors);
        let check = check_of(i, part, policy, &pulls, detector);
        if tally.take(check.verdict, check.margin(), check.stop_load) {
            weakest = Some(i);
        }
        checks.push(check);
    }
    rules::run(facts, policy, &mut findings);
    let s = tally.summary(facts, findings.worst());
    Judgement {
        checks,
        findings: findings.into_list(),
        verdict: s.verdict,
        stop_load: s.stop_load,
        weakest,
        lowest_margin: s.lowest_margin,
    }
}

/// Judges a rig without making texts: what the search ranks by.
#[must_use]
pub fn judge_quietly(facts: &Facts, policy: &Policy) -> Summary {
    let strength = strength_tally(facts, policy);
    let mut findings = Findings::quiet();
    rules::run(facts, policy, &mut findings);
    strength.summary(facts, findings.worst())
}

/// Judges the strength of the parts alone; no condition rule is asked.
#[must_use]
pub fn judge_strength(facts: &Facts, policy: &Policy) -> Summary {
    strength_tally(facts, policy).summary(facts, None)
}

fn strength_tally(facts: &Facts, policy: &Policy) -> Tally {
    let pulls = Pulls::of(facts);
    let mut tally = Tally::default();
    for part in &facts.parts {
        let detector = Fitting::of(part, facts).is_in(&facts.detectors);
        match policy.row(part.kind) {
            Some(row) => {
                let a = assess(part, row, &pulls, detector);
                tally.take(a.verdict, a.margin, a.stop_load);
            }
            None => {
                tally.take(Verdict::Unknown, None, None);
            }
        }
    }
    tally
}

#[derive(Default)]
struct Tally {
    worst: Option<Verdict>,
    margin: Option<f64>,
    stop: Option<Force>,
}
impl Tally {
    /// Takes a part; tells whether it is the weakest so far.
    fn take(&mut self, verdict: Verdict, margin: Option<f64>, stop: Option<Force>) -> bool {
        self.worst = self.worst.max(Some(verdict));
        if let Some(s) = stop {
            self.stop = Some(self.stop.map_or(s, |o| o.min(s)));
        }
        let weaker = margin.is_some_and(|m| self.margin.is_none_or(|o| m < o));
        if weaker {
            self.margin = margin;
        }
        weaker
    }
    fn summary(self, facts: &Facts, effect: Option<Effect>) -> Summary {
        // A rig without parts, or whose pull is no ordinary number, has not been judged: unknown, never passed.
        let known = facts.pull_work.is_finite() && facts.pull_stall.is_none_or(Force::is_finite);
        let parts = self.worst.filter(|_| known).unwrap_or(Verdict::Unknown);
        let verdict = parts.worse(match effect {
            Some(Effect::Bars) => Verdict::Overloaded,
            Some(Effect::Unknown) => Verdict::Unknown,
            Some(Effect::Note | Effect::Caution) | None => Verdict::Holds,
        });
        let stop_load = self.stop.filter(|_| verdict == Verdict::HoldsBelowStopLoad);
        Summary { verdict, stop_load, lowest_margin: self.margin }
    }
}
