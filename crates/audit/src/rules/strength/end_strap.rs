//! Strength of a strap at a dead end or tie-back.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-end-strap",
    title: "Strength of a strap at a dead end or tie-back",
    checks: "The strap in its hitch, after hitch, angle and bend, against its load at work and at stall.",
    why: "It holds one leg of the line, or the puller itself.",
    example: "Stall 5 t on one leg: the strap's hitch fails at no less than 10 t.",
    to_do: "Rig a basket instead of a choker, or take a stronger strap.",
    grade: Grade::Published,
    sources: &["whsq-2018"],
    look: Look::Strength(PartKind::EndStrap),
};
