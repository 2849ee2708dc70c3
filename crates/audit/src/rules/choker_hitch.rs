//! A choker round an anchor.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::layout::Hitch;

const CODE: &str = "choker-hitch";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A choker round an anchor",
    checks: "Straps that are choked round an anchor.",
    why: "A choker takes about three quarters of a straight pull and less than half of a basket, presses the bark twice as hard, and slips round the trunk when the direction of pull changes. It closes all the way round: bark that is damaged all round kills the tree above it.",
    example: "A strap of 2 t working load limit: 1.5 to 1.6 t choked, up to 4 t in a basket.",
    to_do: "Rig a basket if the strap is long enough. If it is choked: the pin of a shackle in the eye and the running part against the bow, and the free end leaving from the side of the trunk toward the pull.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "navedtra-14081", "en-1492-1-modes", "asme-b30-26"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in facts.hitches.iter().filter(|h| h.hitch == Hitch::Choker) {
        out.add(CODE, if h.living { Effect::Caution } else { Effect::Note }, || {
            let ring = if h.living { " It closes all round the living stem, and a ring of damaged bark kills the tree." } else { "" };
            Words::new(
                &h.piece.id,
                format!(
                    "{} is choked round {}: it takes less than in a basket and presses twice as hard.{ring}",
                    h.piece.id, h.anchor
                ),
                "Let the free end leave from the side of the trunk toward the pull; a shackle's pin goes in the eye that chokes.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::layout::Hitch;

    fn with(hitch: Hitch, living: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(unmire_model::gear::StrapUse::TreeStrap, 80.0));
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            (f.hitches[0].hitch, f.hitches[0].living) = (hitch, living);
        })
    }
    #[test]
    fn a_choker_is_told() {
        notes(&with(Hitch::Choker, false));
        let living = with(Hitch::Choker, true);
        cautions(&living);
        assert!(living[0].text.contains("ring of damaged bark"));
    }
    #[test]
    fn a_basket_is_not() {
        nothing(&with(Hitch::Basket, true));
    }
}
