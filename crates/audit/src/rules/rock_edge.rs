//! A strap on rock.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::anchor::AnchorKind;
use unmire_model::gear::PieceKind;

const CODE: &str = "rock-edge";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A strap on rock",
    checks: "Straps round boulders that carry no wear sleeve.",
    why: "A webbing edge that rubs on rock is cut through at a fraction of its strength, and the label knows nothing of it.",
    example: "A strap without sleeve round a split boulder.",
    to_do: "Pad every edge, slide on a sleeve, and look at the strap after each pull.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "cfr-29-1926-251"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in &facts.hitches {
        let rock = facts.case.anchor(h.anchor).is_some_and(|a| matches!(a.kind, AnchorKind::Boulder(_)));
        let bare = !matches!(&h.piece.kind, PieceKind::Strap(s) if s.sleeve);
        if rock && bare {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    &h.piece.id,
                    format!("{} lies on rock at {} without a sleeve.", h.piece.id, h.anchor),
                    "Pad every edge, or slide on a sleeve.",
                )
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::gear::{PieceKind, StrapUse};

    fn with(sleeve: bool, anchor: &'static str) -> Vec<crate::verdict::Finding> {
        let mut kind = strap(StrapUse::TreeStrap, 75.0);
        if let PieceKind::Strap(s) = &mut kind {
            s.sleeve = sleeve;
        }
        let p = piece("S1", kind);
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            f.hitches[0].anchor = anchor;
        })
    }
    #[test]
    fn a_bare_strap_on_rock_is_told() {
        cautions(&with(false, "R1"));
    }
    #[test]
    fn a_sleeve_or_a_tree_is_not() {
        nothing(&with(true, "R1"));
        nothing(&with(false, "A1"));
    }
}
