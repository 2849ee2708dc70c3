//! A line thicker than its block takes.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::PieceKind;

const CODE: &str = "line-too-thick";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A line thicker than its block takes",
    checks: "The diameter of the line against the thickest that the block is made for.",
    why: "A line that rides on the edges of the groove is cut, or jams between sheave and cheek.",
    example: "A 12 mm line in a block for 10 mm.",
    to_do: "Take a block that is made for this line.",
    grade: Grade::CommonPractice,
    sources: &["common-practice"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for t in &facts.turns {
        let PieceKind::Block { line_max: Some(most), .. } = &t.piece.kind else { continue };
        let Some(line) = t.line_diameter.filter(|d| find::above(*d, *most)) else { continue };
        out.add(CODE, Effect::Bars, || {
            Words::new(
                &t.piece.id,
                format!("{} takes lines up to {}; this one is {}.", t.piece.id, say::length(*most), say::length(line)),
                "Take a block that is made for this line.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::Length;

    fn with(mm: Option<f64>) -> Vec<crate::verdict::Finding> {
        let p = piece("B1", block());
        said(super::RULE, |f| {
            f.turns.push(turn_of(&p));
            f.turns[0].line_diameter = mm.map(Length::from_mm);
        })
    }
    #[test]
    fn a_thicker_line_is_barred() {
        bars(&with(Some(12.1)));
    }
    #[test]
    fn one_that_fits_is_not() {
        nothing(&with(Some(12.0)));
        nothing(&with(None));
    }
}
