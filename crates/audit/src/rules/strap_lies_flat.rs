//! Strap flat and untwisted.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::{EyeStyle, PieceKind, Stitching};
use unmire_model::layout::Hitch;

const CODE: &str = "strap-lies-flat";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Strap flat and untwisted",
    checks: "Straps round an anchor: how they should lie, and eyes that are made with a twist.",
    why: "A twisted or folded strap carries on its edge, and cuts itself.",
    example: "A flat strap with half a turn in it behind the trunk.",
    to_do: "Lay it flat all the way round, stitching and label away from the bearing surface, eyes centred in the connector.",
    grade: Grade::CommonPractice,
    sources: &["common-practice"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in &facts.hitches {
        let PieceKind::Strap(s) = &h.piece.kind else { continue };
        if s.width.is_none() {
            continue;
        }
        let twisted = matches!(s.eyes, EyeStyle::Twisted | EyeStyle::FoldedTwisted) && h.hitch == Hitch::Basket;
        out.add(CODE, if twisted { Effect::Caution } else { Effect::Note }, || {
            let eyes = if twisted {
                " Its eyes are twisted, which suits a choker: both in one connector they press on their edges."
            } else if s.stitching == Stitching::Across {
                " Its load stitching runs across the webbing; no published figure for that was found, and none is counted."
            } else {
                ""
            };
            Words::new(
                &h.piece.id,
                format!("Lay {} flat and untwisted round {}.{eyes}", h.piece.id, h.anchor),
                "Turn it until it lies flat all the way round, with the eyes centred in the connector.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::gear::{EyeStyle, PieceKind, StrapUse};

    fn with(kind: PieceKind) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", kind);
        said(super::RULE, |f| f.hitches.push(hitch_of(&p)))
    }
    #[test]
    fn a_flat_strap_is_reminded_of_and_twisted_eyes_are_a_caution() {
        notes(&with(strap(StrapUse::TreeStrap, 75.0)));
        let mut twisted = strap(StrapUse::TreeStrap, 75.0);
        if let PieceKind::Strap(s) = &mut twisted {
            s.eyes = EyeStyle::Twisted;
        }
        cautions(&with(twisted));
    }
    #[test]
    fn a_round_sling_has_no_flat_side() {
        let mut round = strap(StrapUse::RoundSling, 0.0);
        if let PieceKind::Strap(s) = &mut round {
            s.width = None;
        }
        nothing(&with(round));
    }
}
