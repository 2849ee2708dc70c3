//! Holding of a tree, stump or boulder.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-natural-anchor",
    title: "Holding of a tree, stump or boulder",
    checks: "What the anchor holds, against the whole force on it: at work a third of the likely value (or the low end of a stated range), at stall a third of the likely value or the low end, whichever lets more.",
    why: "Nobody knows what a tree holds; test results scatter widely. A pulley halves the line's tension and never the anchor's load.",
    example: "A tree that likely holds 84 kN, 43 kN at its low end, with 17 kN at work and 59 kN at stall: enough at work, short at stall. With a tilt meter at its base it holds below a stop load.",
    to_do: "Lessen the need first. Share the pull over two trees, tie the tree back to another, or fix a tilt meter at its base and stop at a quarter of a degree. A load cell does not tell what a tree can stand.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement", "detter-2023", "dundee-2025"],
    look: Look::Strength(PartKind::NaturalAnchor),
};
