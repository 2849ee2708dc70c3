//! Strength of a recovery point.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-recovery-point",
    title: "Strength of a recovery point",
    checks: "The rating of the vehicle's point, against the load on it at work and at stall.",
    why: "Points that tear off have killed people inside the vehicles. No published design factor for them was found, so a bare working load limit counts as failing at twice that.",
    example: "A point of 31 kN working load limit at the dead end of a line that stalls at 59 kN: short at stall. Two such points through a bridle: it holds.",
    to_do: "Use two points through a bridle, or the rated point with the higher rating.",
    grade: Grade::Published,
    sources: &["whsq-2018", "own-judgement"],
    look: Look::Strength(PartKind::RecoveryPoint),
};
