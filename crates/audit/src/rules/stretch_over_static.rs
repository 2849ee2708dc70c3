//! Stretch in a static rig.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::PieceKind;
use unmire_model::quantity::show::{Round, show_share};

const CODE: &str = "stretch-over-static";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Stretch in a static rig",
    checks: "Straps in the rig whose stretch at their rating is stated and is more than about 5 %.",
    why: "Gear under 5 % counts as static. What stretches more stores more energy and creeps while the vehicle hangs on it; keep-out ground grows with it.",
    example: "A nylon tow strap that stretches by 10 %, as the extension of a winch line.",
    to_do: "Use a polyester strap or a low-stretch rope in its place.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "nylon-sling-page"],
    look: Look::Condition(check),
};

/// The trade's line between static and stretching gear. Common practice.
const STATIC: f64 = 0.05;

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for piece in find::pieces(facts) {
        let PieceKind::Strap(s) = &piece.kind else { continue };
        let Some(stretch) = s.stretch.filter(|x| find::above(*x, STATIC)) else { continue };
        out.add(CODE, Effect::Caution, || {
            Words::new(
                &piece.id,
                format!(
                    "{} stretches by {} at its rating; static gear stays under 5 %.",
                    piece.id,
                    show_share(stretch, Round::Up)
                ),
                "Use a strap or rope of low stretch in its place.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::{PieceKind, StrapUse};

    fn with(stretch: Option<f64>) -> Vec<crate::verdict::Finding> {
        let mut kind = strap(StrapUse::Extension, 75.0);
        if let PieceKind::Strap(s) = &mut kind {
            s.stretch = stretch;
        }
        let p = piece("S1", kind);
        said(super::RULE, |f| f.parts.push(of_piece(PartKind::Extension, &p)))
    }
    #[test]
    fn a_stretchy_strap_is_told() {
        cautions(&with(Some(0.1)));
        cautions(&with(Some(f64::NAN)));
    }
    #[test]
    fn a_static_or_unknown_one_is_not() {
        nothing(&with(Some(0.05)));
        nothing(&with(None));
    }
}
