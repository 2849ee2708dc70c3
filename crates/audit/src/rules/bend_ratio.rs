//! How sharply the line is bent.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};

const CODE: &str = "bend-ratio";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "How sharply the line is bent",
    checks: "Diameter of sheave or ring over diameter of the line, where the line turns.",
    why: "Wire over a small sheave loses strength at once and breaks up soon; fibre takes sharper bends. The loss is in the line's capacity; this says that the sheave is small.",
    example: "A 10 mm wire over a sheave of 60 mm: 6.",
    to_do: "Take a block with a larger sheave.",
    grade: Grade::CommonPractice,
    sources: &["recollection", "wire-rope-users-manual-dd"],
    look: Look::Condition(check),
};

/// From memory: 8 to 10 for wire, 5 to 8 for fibre; the lower ends.
const LEAST_WIRE: f64 = 8.0;
/// See [`LEAST_WIRE`].
const LEAST_FIBRE: f64 = 5.0;

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for t in &facts.turns {
        let least = if t.line_is_wire { LEAST_WIRE } else { LEAST_FIBRE };
        let Some(ratio) = t.bend_ratio.filter(|r| find::below(*r, least)) else { continue };
        out.add(CODE, Effect::Caution, || {
            let line = if t.line_is_wire { "wire" } else { "fibre line" };
            Words::new(
                &t.piece.id,
                format!(
                    "{} bends the line at {} times its diameter; {line} should have {least} or more.",
                    t.piece.id,
                    say::less(ratio)
                ),
                "Take a block with a larger sheave.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;

    fn with(ratio: Option<f64>, wire: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("B1", block());
        said(super::RULE, |f| {
            f.turns.push(turn_of(&p));
            (f.turns[0].bend_ratio, f.turns[0].line_is_wire) = (ratio, wire);
        })
    }
    #[test]
    fn a_small_sheave_is_told() {
        cautions(&with(Some(7.9), true));
        cautions(&with(Some(4.0), false));
        cautions(&with(Some(f64::NAN), false));
    }
    #[test]
    fn a_large_or_unknown_one_is_not() {
        nothing(&with(Some(8.0), true));
        nothing(&with(Some(5.0), false));
        nothing(&with(None, true));
    }
}
