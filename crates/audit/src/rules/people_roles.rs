//! Enough people for the roles.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::layout::{Puller, Who};

const CODE: &str = "people-roles";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Enough people for the roles",
    checks: "How many people the rig needs against how many are there, and whether one of them was trained for this.",
    why: "One person runs the winch, one gives signals and watches, and does nothing else. A helper's driver and someone at a holding line come on top.",
    example: "Two people and a rig with a holding line: one short.",
    to_do: "Wait for more people, or pick a rig with fewer roles. Anyone may call stop.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "4wd-victoria-guide"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let layout = facts.layout;
    let helper = matches!(&layout.puller, Puller::Tow { .. } | Puller::Winch { on: Who::Helper(_) });
    let needed = 2 + u32::from(helper) + u32::from(layout.holding.is_some());
    let people = facts.case.people;
    if people.total < needed {
        out.add(CODE, Effect::Caution, || {
            Words::new(
                "people",
                format!("{} people are there, and this rig has {needed} roles.", people.total),
                "Wait for more people or pick a simpler rig; the signaller does nothing else.",
            )
        });
    }
    if people.trained == 0 {
        out.add(CODE, Effect::Caution, || {
            Words::new(
                "people",
                "Nobody there was trained for this.",
                "Call somebody who was. Until then dig, unload and use boards rather than pull.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::case::People;

    fn with(total: u32, trained: u32) -> Vec<crate::verdict::Finding> {
        told(super::RULE, |c| c.people = People { total, trained }, |_| {}, |_| {})
    }
    #[test]
    fn too_few_or_untrained_people_are_told() {
        cautions(&with(1, 1));
        cautions(&with(2, 0));
        assert_eq!(with(1, 0).len(), 2);
    }
    #[test]
    fn enough_are_not() {
        nothing(&with(2, 1));
    }
}
