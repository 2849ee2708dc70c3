//! Stretching gear in a static rig.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::{PieceKind, StrapUse};

const CODE: &str = "kinetic-in-static";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Stretching gear in a static rig",
    checks: "Kinetic straps and ropes in a place that carries a winch's pull or a steady tow.",
    why: "They stretch by a quarter and more and store energy like a spring: the line's length and the stored energy of this rig were reckoned without that, and what breaks flies further.",
    example: "A kinetic rope as the extension of a winch line: barred.",
    to_do: "Use a static strap or rope of low stretch.",
    grade: Grade::CommonPractice,
    sources: &["4wd-victoria-guide", "common-practice"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for piece in find::pieces(facts) {
        let kinetic = match &piece.kind {
            PieceKind::Strap(s) => s.made_for == StrapUse::Kinetic,
            PieceKind::Rope(r) => r.kinetic,
            _ => false,
        };
        if kinetic {
            out.add(CODE, Effect::Bars, || {
                Words::new(
                    &piece.id,
                    format!(
                        "{} is made to stretch for kinetic pulls; this rig was reckoned for static gear.",
                        piece.id
                    ),
                    "Use a static strap or rope in its place.",
                )
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::StrapUse;

    fn with(made_for: StrapUse) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(made_for, 75.0));
        said(super::RULE, |f| f.parts.push(of_piece(PartKind::Extension, &p)))
    }
    #[test]
    fn a_kinetic_strap_is_barred() {
        bars(&with(StrapUse::Kinetic));
    }
    #[test]
    fn a_static_one_is_not() {
        nothing(&with(StrapUse::Extension));
    }
}
