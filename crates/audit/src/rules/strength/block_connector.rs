//! Strength of a connector that holds a block.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-block-connector",
    title: "Strength of a connector that holds a block",
    checks: "The connector between a block and its strap or point, against the whole force on the block, counted in stalls of line pull by the default policy.",
    why: "A block that turns the line right round is pulled by twice the line's tension. The accident behind the regulator's rule was a chain that held a block.",
    example: "Stall 5 t, line turned right round: the block sees 10 t, and the connector fails at no less than 20 t.",
    to_do: "Put the strongest connector of the bag at the block. Lessen the turn, or the tension with another part of line.",
    grade: Grade::Published,
    sources: &["whsq-2018"],
    look: Look::Strength(PartKind::BlockConnector),
};
