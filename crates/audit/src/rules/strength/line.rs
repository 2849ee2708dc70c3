//! Strength of the line.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-line",
    title: "Strength of the line",
    checks: "The line's least breaking strength after its reductions, against its greatest tension at work and at winch stall.",
    why: "The line sees all that the winch can make. When it parts, both ends fly, and what is fixed to them flies with them.",
    example: "A line of 88 kN on a winch that stalls at 59 kN: 1.4 times. The default policy asks 1.1 at stall and 2 at work: it holds up to a pull of 44 kN at work.",
    to_do: "Use a stronger line, halve its tension with a block, or stop at a load that a load cell in the line shows. State the winch's measured stall if it is known: an assumed one is high on purpose.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement", "whsq-2018"],
    look: Look::Strength(PartKind::Line),
};
