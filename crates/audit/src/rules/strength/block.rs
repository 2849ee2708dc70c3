//! Strength of a block or ring.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-block",
    title: "Strength of a block or ring",
    checks: "The block's or ring's strength, against the whole force on it at work and at stall.",
    why: "The number on a block is for the whole force on it and its head fitting, which is up to twice the line's tension.",
    example: "A block marked 8 t without a kind counts as failing at 8 t. With a winch that stalls at 5 t it is asked for 20 t: overloaded.",
    to_do: "Take a block with a higher rating whose label prints what it means. A maker's paper that states the breaking strength settles a bare number.",
    grade: Grade::Published,
    sources: &["whsq-2018", "as-2089-sheet"],
    look: Look::Strength(PartKind::Block),
};
