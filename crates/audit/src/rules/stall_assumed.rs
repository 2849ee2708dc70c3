//! Stall that nobody measured.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "stall-assumed";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Stall that nobody measured",
    checks: "Whether the winch's stall is stated, or taken as a band on its rated pull.",
    why: "Everything is judged at stall. The band's high end is well above the rated pull, so that a measured figure often helps.",
    example: "A winch rated at 42 kN: judged as if it could make 59 kN.",
    to_do: "State the maker's or a measured stall: a load cell, a fixed anchor and a few seconds tell.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(w) = facts.winch.as_ref().filter(|w| w.stall_assumed) else { return };
    out.add(CODE, Effect::Note, || {
        Words::new(
            &w.id,
            format!(
                "The stall of {} is not stated; {} is assumed, the high end of our own band.",
                w.id,
                say::load(w.stall)
            ),
            "State what its maker says or what was measured.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;

    fn with(assumed: bool) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            if let Some(w) = &mut f.winch {
                w.stall_assumed = assumed;
            }
        })
    }
    #[test]
    fn an_assumed_stall_is_told() {
        notes(&with(true));
    }
    #[test]
    fn a_stated_one_is_not() {
        nothing(&with(false));
    }
}
