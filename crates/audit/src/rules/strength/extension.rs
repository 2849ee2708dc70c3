//! Strength of an extension or bridle.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-extension",
    title: "Strength of an extension or bridle",
    checks: "A strap or rope that lengthens the line or a strap, or the bridle to two points, against its load at work and at stall.",
    why: "It is in the line like a connector. The leg of a bridle carries more than half, the more so the wider its angle.",
    example: "Stall 5 t: an extension fails at no less than 10 t. A bridle with 60 degrees between its legs carries 0.58 of the pull in each, so that a leg fails at no less than 5.8 t.",
    to_do: "Take a stronger one, or a longer bridle with a smaller angle.",
    grade: Grade::Published,
    sources: &["whsq-2018", "statics"],
    look: Look::Strength(PartKind::Extension),
};
