//! The trade's rule for straps.

use crate::assess::pulling_winch;
use crate::facts::Facts;
use crate::facts::PartKind;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::strength::piece_strength;
use crate::verdict::{Effect, Grade};

const CODE: &str = "strap-twice-rated";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "The trade's rule for straps",
    checks: "Straps whose own breaking strength is under twice the winch's rated pull.",
    why: "It is what most people size straps by. It is no substitute for the strap's check: it knows nothing of hitch, angle, block or stall.",
    example: "A strap that breaks at 60 kN with a winch rated at 42 kN: under twice.",
    to_do: "Take a stronger strap. A strap that meets this rule may still fail its check at a block.",
    grade: Grade::CommonPractice,
    sources: &["common-practice"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(rated) = pulling_winch(facts).map(|w| w.rated_pull.value) else { return };
    for part in &facts.parts {
        let (PartKind::BlockStrap | PartKind::EndStrap | PartKind::Extension, Some(piece)) = (part.kind, part.piece)
        else {
            continue;
        };
        let Some(breaking) = piece_strength(piece).breaking.filter(|b| *b < rated * 2.0) else { continue };
        out.add(CODE, Effect::Caution, || {
            Words::new(
                &piece.id,
                format!(
                    "{} breaks at {}, under twice the winch's rated pull of {}.",
                    piece.id,
                    say::capacity(breaking),
                    say::load(rated)
                ),
                "Take a stronger strap; its own check in this rig decides.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::{RatingKind, StrapUse};

    fn with(tonnes: f64) -> Vec<crate::verdict::Finding> {
        let mut p = piece("S1", strap(StrapUse::TreeStrap, 75.0));
        p.label = label(tonnes, RatingKind::Breaking, None);
        said(super::RULE, |f| f.parts.push(of_piece(PartKind::EndStrap, &p)))
    }
    #[test]
    fn under_twice_the_rated_pull_is_told() {
        cautions(&with(6.0));
    }
    #[test]
    fn above_it_is_not() {
        nothing(&with(10.0));
    }
}
