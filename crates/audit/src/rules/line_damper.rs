//! No damper on the line.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::PieceKind;

const CODE: &str = "line-damper";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "No damper on the line",
    checks: "Whether a damper lies on the line.",
    why: "A weight on the line brings it down if it parts. It makes no ground safe to stand on and never shrinks the ground to keep clear.",
    example: "A straight pull with no damper in the bag.",
    to_do: "Lay one in the middle of each part of line, or a heavy bag or coat. Move it as the line shortens, with the line slack.",
    grade: Grade::CommonPractice,
    sources: &["dewnr-2016", "common-practice"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    if find::beside(facts).any(|p| p.kind == PieceKind::Damper) {
        return;
    }
    out.add(CODE, Effect::Caution, || {
        Words::new(
            "line",
            "No damper lies on the line.",
            "Lay a damper, a heavy bag or a coat in its middle. It does not shrink the ground to keep clear.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;

    #[test]
    fn a_line_without_a_damper_is_told() {
        cautions(&said_of(super::RULE, |l| l.beside.clear()));
    }
    #[test]
    fn one_with_it_is_not() {
        nothing(&said(super::RULE, |_| {}));
    }
}
