//! Anchors that share a pull.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::layout::Hold;

const CODE: &str = "shared-anchors";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Anchors that share a pull",
    checks: "Places where two or more anchors hold one block or dead end together.",
    why: "They share by their lengths and stiffness. A slack leg carries nothing, and a buried log creeps before it bites, so that another anchor takes its part.",
    example: "Three birches on one shackle, one strap 20 cm too long: two birches carry all.",
    to_do: "Set the lengths so that all legs come taut together, pull gently, look, and set them again.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "statics"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for hold in find::holds(facts.layout) {
        let Hold::Anchors(legs) = hold else { continue };
        if legs.len() < 2 {
            continue;
        }
        out.add(CODE, Effect::Caution, || {
            let names = || legs.iter().map(|l| l.anchor.as_str());
            Words::new(
                names().collect::<Vec<_>>().join(", "),
                format!(
                    "{} share one pull only while all legs are taut; one that slips gives its part to the others.",
                    say::list(names())
                ),
                "Set the lengths so that all come taut together, pull gently, look, and set them again.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::layout::Hold;

    #[test]
    fn two_anchors_that_share_are_told() {
        cautions(&said_of(super::RULE, |l| {
            l.stations[0].hold = Hold::Anchors(vec![leg("A1", "S1"), leg("A2", "S2")]);
        }));
    }
    #[test]
    fn one_alone_is_not() {
        nothing(&said(super::RULE, |_| {}));
    }
}
