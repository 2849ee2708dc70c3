//! Wire over a plain ring.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::PieceKind;

const CODE: &str = "wire-in-ring";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Wire over a plain ring",
    checks: "Steel wire that turns over a smooth ring.",
    why: "A ring is made for fibre line. Wire bends over too small a diameter, saws into the ring, and its friction is not that of the model.",
    example: "A winch with wire rope and a recovery ring as a redirect.",
    to_do: "Use a snatch block with a sheave for wire.",
    grade: Grade::CommonPractice,
    sources: &["common-practice"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for t in facts.turns.iter().filter(|t| t.line_is_wire && matches!(t.piece.kind, PieceKind::Ring { .. })) {
        out.add(CODE, Effect::Bars, || {
            Words::new(
                &t.piece.id,
                format!("{} is a ring for fibre line, and the line is of steel wire.", t.piece.id),
                "Use a snatch block with a sheave for wire.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::gear::PieceKind;

    fn with(wire: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("G1", PieceKind::Ring { groove: None, friction: None });
        said(super::RULE, |f| {
            f.turns.push(turn_of(&p));
            f.turns[0].line_is_wire = wire;
        })
    }
    #[test]
    fn wire_in_a_ring_is_barred() {
        bars(&with(true));
    }
    #[test]
    fn fibre_is_not() {
        nothing(&with(false));
    }
}
