//! Holding of a parked vehicle.

use crate::facts::PartKind;
use crate::rules::{Look, Rule};
use crate::verdict::Grade;

/// The rule.
pub const RULE: Rule = Rule {
    code: "strength-parked-vehicle",
    title: "Holding of a parked vehicle",
    checks: "What tyres and slope hold, at the low end of the friction range, against the pull on the vehicle.",
    why: "On wet grass a braked vehicle slides at about a third of its weight, and less if the line pulls it downhill.",
    example: "A vehicle of 2.9 t on wet grass, facing 5 degrees downhill, holds about 7 kN: less than most pulls.",
    to_do: "Tie it back to an anchor, chock all wheels, or park it on firm ground. Mark its wheels and stop when it moves.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement", "statics", "noon-1994"],
    look: Look::Strength(PartKind::ParkedVehicle),
};
