//! Strength of a hand winch.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-hand-winch",
    title: "Strength of a hand winch",
    checks: "The body and hooks of the hand winch, against its line's pull.",
    why: "A long lever, or two people on it, makes more than its rating.",
    example: "A hand winch of 20 kN working load limit, counted as failing at 40 kN, at 18 kN of pull: 2.2 times, it holds.",
    to_do: "Use the maker's lever and one person's hands. Add a block for more pull.",
    grade: Grade::Published,
    sources: &["whsq-2018", "own-judgement"],
    look: Look::Strength(PartKind::HandWinch),
};
