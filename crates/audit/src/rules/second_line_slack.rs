//! Slack in a tie-back or holding line.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "second-line-slack";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Slack in a tie-back or holding line",
    checks: "Rigs with a tie-back behind the helper or a holding line on the stuck vehicle.",
    why: "Slack turns into a jolt the moment it is needed, and a holding line that hangs loose while the vehicle moves holds nothing.",
    example: "A helper slides 30 cm before its tie-back comes taut.",
    to_do: "Take up its slack before the pull. Keep a holding line just tight as the vehicle moves, from a place outside all lines.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "fm-5-125"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let lines = [("tie-back", &facts.layout.tie_back), ("holding line", &facts.layout.holding)];
    for (what, _) in lines.iter().filter(|(_, l)| l.is_some()) {
        out.add(CODE, Effect::Caution, || {
            Words::new(
                *what,
                format!("Slack in the {what} turns into a jolt; it is reckoned as taut."),
                "Take up its slack before the pull and keep it just tight.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::layout::{Hold, HoldingLine};

    #[test]
    fn a_holding_line_is_told() {
        cautions(&said_of(super::RULE, |l| {
            let hold = Hold::Anchors(vec![leg("A2", "S2")]);
            l.holding = Some(HoldingLine { point: "R1".into(), connectors: vec![], line: vec![], hold });
        }));
    }
    #[test]
    fn a_rig_without_one_is_not() {
        nothing(&said(super::RULE, |_| {}));
    }
}
