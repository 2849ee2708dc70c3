//! Strength of a strap that holds a block.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-block-strap",
    title: "Strength of a strap that holds a block",
    checks: "The strap in its hitch, after hitch, angle and bend, against the force of the block on it.",
    why: "Rules of thumb size a strap by the winch and forget that a block doubles the pull. The strap at the block is often the weakest part.",
    example: "Stall 5 t, line turned right round: the strap's hitch fails at no less than 20 t. A strap that breaks at 10 t does that in a wide basket (two legs), and not in a choker.",
    to_do: "Rig a basket instead of a choker, take a longer strap for a smaller angle between its legs, or a stronger one.",
    grade: Grade::Published,
    sources: &["whsq-2018"],
    look: Look::Strength(PartKind::BlockStrap),
};
