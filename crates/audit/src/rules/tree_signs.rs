//! Signs that rule a tree or a stump out.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_mechanics::anchor::{Signs, sign_words};

const CODE: &str = "tree-signs";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Signs that rule a tree or a stump out",
    checks: "Of a tree: dead, leaning, fungus, a cavity. Of a stump: rotten, split. Of both: lifted roots, the edge of a bank, flooded soil, a frozen crust over wet soil. Any yes bars it; one that nobody looked for leaves it unknown.",
    why: "Such trees held far less than their size says in pulling tests, and fall over on people. A hollow one fell beside a child during a winch pull. On frozen soil the stem breaks instead of the roots giving way, and a thin crust holds until it breaks.",
    example: "A willow with decay at its base: barred, however thick it is. A spruce whose foot nobody looked at: unknown.",
    to_do: "Walk round it, look up, look at the base, knock, push a knife into the wood. Answer each sign with yes or no. Pick another anchor at any doubt.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "fm-5-125", "peltola-2000"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for anchor in find::anchors(facts) {
        let words = |signs: &[&'static str]| say::list(signs.iter().map(|s| sign_words(s)));
        match Signs::of(&anchor.kind) {
            Signs::Clear => {}
            Signs::RulesOut(there) => out.add(CODE, Effect::Bars, || {
                Words::new(
                    &anchor.id,
                    format!("{} is ruled out: {}.", anchor.id, words(&there)),
                    "Pick another anchor.",
                )
            }),
            Signs::NotLookedAt(open) => out.add(CODE, Effect::Unknown, || {
                Words::new(
                    &anchor.id,
                    format!("Nobody has looked at {} for this yet: {}.", anchor.id, words(&open)),
                    "Walk round it, look up and at its base, and answer yes or no.",
                )
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::anchor::{AnchorKind, Stump, StumpSigns};

    fn with(dead: Option<bool>, which: usize) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |c| {
                if let AnchorKind::Tree(t) = &mut c.anchors[which].kind {
                    t.signs.dead = dead;
                }
            },
            |_| {},
            |_| {},
        )
    }
    #[test]
    fn a_sign_bars_and_an_open_question_never_passes() {
        bars(&with(Some(true), 0));
        unknowns(&with(None, 0));
    }
    #[test]
    fn a_stump_is_asked_for_its_own_signs() {
        let with = |signs: StumpSigns| {
            told(
                super::RULE,
                |c| {
                    let AnchorKind::Tree(t) = &c.anchors[0].kind else { panic!("a tree") };
                    c.anchors[0].kind = AnchorKind::Stump(Stump {
                        species: None,
                        conifer: None,
                        diameter: t.diameter.clone(),
                        height: None,
                        felled_ago: None,
                        soil: t.soil,
                        rooting: t.rooting,
                        signs: signs.clone(),
                    });
                },
                |_| {},
                |_| {},
            )
        };
        nothing(&with(StumpSigns::all(false)));
        bars(&with(StumpSigns { rotten: Some(true), ..StumpSigns::default() }));
        let open = with(StumpSigns { split: None, ..StumpSigns::all(false) });
        unknowns(&open);
        assert!(open[0].text.contains("split where the strap would lie"));
    }
    #[test]
    fn a_sound_tree_or_one_that_is_not_used_is_not() {
        nothing(&with(Some(false), 0));
        nothing(&with(Some(true), 1));
    }
}
