//! No run-up on static gear.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::layout::Puller;

const CODE: &str = "static-gear-no-run-up";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "No run-up on static gear",
    checks: "A steady tow on static gear: straps and ropes that stretch by less than about 5 %.",
    why: "Static gear gives way by a few hundredths of its length. A run-up turns into a peak that no label covers.",
    example: "A 9 m polyester strap between two vehicles: 0.3 m of stretch at its rating.",
    to_do: "Take up the slack at walking pace until the strap is taut, stop, look, then pull. Never snatch.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "nylon-sling-page", "tm-9-2320-260-10"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    if let Puller::Tow { helper, .. } = &facts.layout.puller {
        out.add(CODE, Effect::Caution, || {
            Words::new(
                helper,
                format!(
                    "{helper} pulls on static gear: the loads here are those of a steady pull, without any run-up."
                ),
                "Take up the slack at walking pace, stop when it is taut, look at every part, then pull. Never snatch.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::layout::Puller;

    #[test]
    fn a_tow_is_cautioned() {
        cautions(&said_of(super::RULE, |l| {
            l.puller =
                Puller::Tow { helper: "H".into(), point: "R1".into(), connectors: vec![], line: vec!["S1".into()] };
        }));
    }
    #[test]
    fn a_winch_is_not() {
        nothing(&said(super::RULE, |_| {}));
    }
}
