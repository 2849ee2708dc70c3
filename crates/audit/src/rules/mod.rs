//! The register of rules: each in its own file with code, title, doc and check. `explain` prints the doc.

pub mod strength;

use crate::facts::{Facts, PartKind};
use crate::findings::Findings;
use crate::policy::Policy;
use crate::verdict::Grade;
use core::fmt::Write as _;

/// How a rule looks at a rig.
#[derive(Clone, Copy)]
pub enum Look {
    /// The strength of every part of this kind: [`crate::assess::assess`] by the policy's row.
    Strength(PartKind),
    /// A condition with findings of its own.
    Condition(fn(&Facts, &Policy, &mut Findings)),
}

/// One rule.
#[derive(Clone, Copy)]
pub struct Rule {
    /// Stable, in kebab-case.
    pub code: &'static str,
    /// A short title.
    pub title: &'static str,
    /// What it checks.
    pub checks: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// An invented example.
    pub example: &'static str,
    /// What to do.
    pub to_do: &'static str,
    /// How sure the advice is.
    pub grade: Grade,
    /// Keys of its sources.
    pub sources: &'static [&'static str],
    /// How it looks at a rig.
    pub look: Look,
}

/// All of them, in the order in which findings are told.
pub const RULES: &[Rule] = &[
    strength::line::RULE,
    strength::connector::RULE,
    strength::block_connector::RULE,
    strength::block::RULE,
    strength::block_strap::RULE,
    strength::end_strap::RULE,
    strength::extension::RULE,
    strength::recovery_point::RULE,
    strength::winch_mount::RULE,
    strength::hand_winch::RULE,
    strength::natural_anchor::RULE,
    strength::made_anchor::RULE,
    strength::parked_vehicle::RULE,
];

/// Asks every condition rule.
pub fn run(facts: &Facts, policy: &Policy, findings: &mut Findings) {
    for rule in RULES {
        if let Look::Condition(check) = rule.look {
            check(facts, policy, findings);
        }
    }
}

/// The rule with this code.
#[must_use]
pub fn rule(code: &str) -> Option<&'static Rule> {
    RULES.iter().find(|r| r.code == code)
}

/// The doc of a rule as text; none if there is no such code.
#[must_use]
pub fn explain(code: &str) -> Option<String> {
    let r = rule(code)?;
    let mut out = format!("{}: {}\n", r.code, r.title);
    for (head, text) in
        [("What it checks", r.checks), ("Why", r.why), ("Example (invented)", r.example), ("What to do", r.to_do)]
    {
        let _ = write!(out, "\n{head}\n  {text}\n");
    }
    if let Look::Strength(kind) = r.look {
        out.push_str("\nWhat each policy asks\n");
        for p in Policy::all() {
            if let Some(row) = p.row(kind) {
                let _ = writeln!(out, "  {}: {}", p.name, row.in_words());
            }
        }
    }
    let _ = write!(out, "\nGrade\n  {}\n\nSource\n", r.grade.word());
    for key in r.sources {
        match unmire_tables::source(key) {
            Some(s) => {
                let _ = writeln!(out, "  {key}: {}, {} ({})", s.title, s.body, s.access.words());
            }
            None => {
                let _ = writeln!(out, "  {key}");
            }
        }
    }
    Some(out)
}

/// The code nearest to a mistyped one, if any is near.
#[must_use]
pub fn nearest(code: &str) -> Option<&'static str> {
    let wanted = code.trim().to_lowercase().replace(['_', ' '], "-");
    let (rule, distance) =
        RULES.iter().map(|r| (r.code, distance(&wanted, r.code))).min_by_key(|&(_, distance)| distance)?;
    (distance <= 2.max(wanted.len() / 3)).then_some(rule)
}

/// Letters to change, drop or add (Levenshtein).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut corner = i;
        let mut left = i + 1;
        for (j, y) in b.iter().enumerate() {
            let above = row.get(j + 1).copied().unwrap_or(usize::MAX - 1);
            let here = (corner + usize::from(x != *y)).min(above + 1).min(left + 1);
            corner = above;
            if let Some(cell) = row.get_mut(j) {
                *cell = left;
            }
            left = here;
        }
        if let Some(cell) = row.last_mut() {
            *cell = left;
        }
    }
    row.last().copied().unwrap_or(usize::MAX)
}
