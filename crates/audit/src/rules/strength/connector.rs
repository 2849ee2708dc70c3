//! Strength of a connector in the line.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-connector",
    title: "Strength of a connector in the line",
    checks: "A shackle, soft shackle, hook or load cell in the line or at its dead end, against its own load at work and at stall.",
    why: "Metal in a line that fails is thrown. Connectors are cheap to choose stronger.",
    example: "Stall 5 t, one leg: the connector fails at no less than 10 t. A shackle of 3.25 t working load limit and a design factor of 5 fails at 16 t or more: it holds.",
    to_do: "Take a connector with a higher rating, or spread the load over two points with a bridle.",
    grade: Grade::Published,
    sources: &["whsq-2018", "asme-b30-26"],
    look: Look::Strength(PartKind::Connector),
};
