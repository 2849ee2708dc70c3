//! Strength of the winch mount.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-winch-mount",
    title: "Strength of the winch mount",
    checks: "What holds the winch on its vehicle, against the line's pull at work and at stall.",
    why: "The winch's rated pull says nothing of the bar and the bolts that it stands on.",
    example: "A winch that stalls at 59 kN on a mount of 45 kN working load limit, counted as failing at 90 kN: short at stall, 119 kN asked.",
    to_do: "State the mount's rating from its maker or fitter. Halve the line's pull with a block where the mount is weak.",
    grade: Grade::Published,
    sources: &["whsq-2018", "own-judgement"],
    look: Look::Strength(PartKind::WinchMount),
};
