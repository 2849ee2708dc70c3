//! Height of the strap on the trunk.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::Length;
use unmire_model::anchor::AnchorKind;

const CODE: &str = "attachment-height";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Height of the strap on the trunk",
    checks: "How high above the ground the strap lies on a tree or a stump.",
    why: "Height is the lever that turns the tree out of the ground. Regulations for logging ask for the base of the tree.",
    example: "A strap at 1.2 m: twice the lever of one at 0.6 m on the stem.",
    to_do: "Move it down to the lowest sound part of the trunk.",
    grade: Grade::Regulation,
    sources: &["wac-296-54-569", "fm-5-125", "own-judgement"],
    look: Look::Condition(check),
};

/// A strap up to here counts as low: the upper end of what crews call low on the trunk. Own judgement; the sources say
/// `at the base` and `as near the ground as possible`.
const LOW: Length = Length::from_m(0.6);

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let stump = |id: &str| find::anchors(facts).any(|a| a.id == id && matches!(a.kind, AnchorKind::Stump(_)));
    for h in facts.hitches.iter().filter(|h| (h.living || stump(h.anchor)) && find::above(h.height, LOW)) {
        out.add(CODE, Effect::Caution, || {
            Words::new(
                h.anchor,
                format!("{} lies {} up on {}; it should be at the base.", h.piece.id, say::length(h.height), h.anchor),
                "Move the strap down to the lowest sound part of the trunk.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::Length;
    use unmire_model::gear::StrapUse;

    fn at(height: f64, living: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(StrapUse::TreeStrap, 75.0));
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            (f.hitches[0].height, f.hitches[0].living) = (Length::from_m(height), living);
        })
    }
    #[test]
    fn a_high_strap_is_told() {
        cautions(&at(1.2, true));
        cautions(&at(f64::NAN, true));
    }
    #[test]
    fn a_low_one_is_not() {
        nothing(&at(0.6, true));
        nothing(&at(1.2, false));
    }
}
