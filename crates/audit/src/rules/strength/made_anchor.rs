//! Holding of a made anchor.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-made-anchor",
    title: "Holding of a made anchor",
    checks: "Pickets, a buried log, a plate or a bolt: half of the likely holding force (or the low end of a stated range), against the whole force on it.",
    why: "Tables for made anchors hold for one soil and careful work; wet ground halves them.",
    example: "Pickets that likely hold 17 kN, with 8 kN at work: twice, enough at work.",
    to_do: "Add pickets in line, bury it deeper, or share the pull. Set stakes and a string line beside it and stop when it moves.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement", "navfac-dm-7"],
    look: Look::Strength(PartKind::MadeAnchor),
};
