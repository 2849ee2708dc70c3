//! Signs that rule a tree out.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};

const CODE: &str = "tree-signs";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Signs that rule a tree out",
    checks: "Dead, leaning, fungus at the base, a cavity, lifted roots, the edge of a bank, flooded soil: any yes bars the tree; what nobody looked at is told.",
    why: "Such trees held far less than their size says in pulling tests, and fall over on people. A hollow one fell beside a child during a winch pull.",
    example: "A willow with decay at its base: barred, however thick it is.",
    to_do: "Walk round the tree, look up, look at the base, knock. Pick another one at any doubt.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "fm-5-125"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for (anchor, tree) in find::trees(facts) {
        let signs = tree.signs.each();
        let with = |state: Option<bool>| signs.iter().filter(move |s| s.1 == state).map(|s| in_words(s.0));
        if with(Some(true)).next().is_some() {
            out.add(CODE, Effect::Bars, || {
                Words::new(
                    &anchor.id,
                    format!("{} is ruled out: {}.", anchor.id, say::list(with(Some(true)))),
                    "Pick another anchor.",
                )
            });
        } else if with(None).next().is_some() {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    &anchor.id,
                    format!("Nobody has looked at {} for this yet: {}.", anchor.id, say::list(with(None))),
                    "Walk round the tree, look up and at its base, and answer yes or no.",
                )
            });
        }
    }
}

fn in_words(sign: &'static str) -> &'static str {
    match sign {
        "fungus" => "fungus at the base or on the stem",
        "cavity" => "a cavity or decay",
        "lifted_roots" => "roots lifted, cut or undercut",
        "bank_edge" => "on the edge of a bank",
        "flooded" => "flooded or saturated soil",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::anchor::AnchorKind;

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
    fn a_sign_bars_and_an_open_question_is_a_caution() {
        bars(&with(Some(true), 0));
        cautions(&with(None, 0));
    }
    #[test]
    fn a_sound_tree_or_one_that_is_not_used_is_not() {
        nothing(&with(Some(false), 0));
        nothing(&with(Some(true), 1));
    }
}
