//! A parked vehicle as an anchor.

use crate::facts::Facts;
use crate::facts::PartKind;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::PieceKind;

const CODE: &str = "parked-vehicle-brakes";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A parked vehicle as an anchor",
    checks: "Vehicles that hold a pull by their tyres.",
    why: "The parking brake works on one axle, wet grass gives little, and a vehicle that is moved while it holds adds to the line's load.",
    example: "A 2.9 t vehicle on wet grass: dragged off at about 10 kN on the level.",
    to_do: "All wheels braked, chocks dug in before the wheels, tied back to an anchor where that is not enough. Nobody between the vehicles.",
    grade: Grade::Published,
    sources: &["tree-rescue-manual", "navedtra-14081"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for part in facts.parts.iter().filter(|p| p.kind == PartKind::ParkedVehicle) {
        let chocked = find::beside(facts).any(|p| p.kind == PieceKind::Chock);
        out.add(CODE, if chocked { Effect::Note } else { Effect::Caution }, || {
            let chocks = if chocked { "" } else { ", and the rig has no chocks" };
            Words::new(
                &part.name,
                format!("{} holds by its tyres alone{chocks}.", part.name),
                "Brake all wheels, chock them, tie it back where it can slide, and keep people from between the vehicles.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::PieceKind;

    fn with(kind: PartKind, chocks: bool) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |c| c.kit.push(piece("X1", PieceKind::Chock)),
            |l| {
                if chocks {
                    l.beside.push("X1".into());
                }
            },
            |f| f.parts.push(anchor_part(kind, "H", 5.0, 8.0)),
        )
    }
    #[test]
    fn a_parked_vehicle_is_told() {
        cautions(&with(PartKind::ParkedVehicle, false));
        notes(&with(PartKind::ParkedVehicle, true));
    }
    #[test]
    fn a_tree_is_not() {
        nothing(&with(PartKind::NaturalAnchor, false));
    }
}
