//! Where policies differ on this rig: published rules disagree by a factor of two, and the reader should see it.

use crate::facts::Facts;
use crate::judge::{Judgement, judge};
use crate::policy::Policy;
use crate::verdict::Verdict;

/// What one policy says of the rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Opinion {
    /// The policy's name.
    pub policy: &'static str,
    /// Its verdict.
    pub verdict: Verdict,
    /// The lowest margin under it.
    pub lowest_margin: Option<f64>,
    /// Index of the weakest part in the facts.
    pub weakest: Option<usize>,
}

/// A part about which the policies do not say the same.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Index of the part in the facts.
    pub part: usize,
    /// The word of each policy, in the order in which they were given.
    pub verdicts: Vec<Verdict>,
    /// The margin under each.
    pub margins: Vec<Option<f64>>,
}

/// Policies side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// What each says of the whole rig.
    pub opinions: Vec<Opinion>,
    /// Parts on which they differ in the word, in the order of the facts.
    pub differences: Vec<Difference>,
}

/// Judges the rig under every policy and says where they differ.
#[must_use]
pub fn compare(facts: &Facts, policies: &[Policy]) -> Comparison {
    let judged: Vec<Judgement> = policies.iter().map(|p| judge(facts, p)).collect();
    let opinions = policies
        .iter()
        .zip(&judged)
        .map(|(p, j)| Opinion {
            policy: p.name,
            verdict: j.verdict,
            lowest_margin: j.lowest_margin,
            weakest: j.weakest,
        })
        .collect();
    let differences = (0..facts.parts.len())
        .filter_map(|part| {
            let checks: Vec<_> = judged.iter().filter_map(|j| j.checks.get(part)).collect();
            let first = checks.first()?.verdict;
            checks.iter().any(|c| c.verdict != first).then(|| Difference {
                part,
                verdicts: checks.iter().map(|c| c.verdict).collect(),
                margins: checks.iter().map(|c| c.margin()).collect(),
            })
        })
        .collect();
    Comparison { opinions, differences }
}
