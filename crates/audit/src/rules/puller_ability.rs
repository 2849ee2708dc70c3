//! Whether the puller can do the work.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::layout::Puller;

const CODE: &str = "puller-ability";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Whether the puller can do the work",
    checks: "Where no vehicle's winch pulls: the hand winch's rating, or what the towing vehicle's tyres can pull at their low end, against the pull that the work asks.",
    why: "A tow that spins digs the helper in as well.",
    example: "A helper of 2 t on wet grass pulls about 4 kN; the work asks 9 kN.",
    to_do: "Lessen the need first. Put the helper on firm ground, or use a winch.",
    grade: Grade::Published,
    sources: &["noon-1994", "statics"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let name = match &facts.layout.puller {
        Puller::Winch { .. } => return,
        Puller::Tow { helper, .. } => helper,
        Puller::HandWinch { piece, .. } => piece,
    };
    match facts.puller_ability {
        Some(a) if facts.pull_work <= a => {}
        Some(a) => out.add(CODE, Effect::Bars, || {
            Words::new(
                name,
                format!("The work asks {} of {name}, which can pull {}.", say::load(facts.pull_work), say::capacity(a)),
                "Lessen the need first: dig, unload, air down. Or put the puller on firmer ground, or use a winch.",
            )
        }),
        None => out.add(CODE, Effect::Unknown, || {
            Words::new(
                name,
                format!("What {name} can pull is not known; the work asks {}.", say::load(facts.pull_work)),
                "State its rating, or the friction of its tyres.",
            )
        }),
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::layout::Puller;

    fn with(ability: Option<f64>, tow: bool) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |_| {},
            |l| {
                if tow {
                    let (helper, point) = ("H".into(), "R1".into());
                    l.puller = Puller::Tow { helper, point, connectors: vec![], line: vec![] };
                }
            },
            |f| f.puller_ability = ability.map(kn),
        )
    }
    #[test]
    fn a_weak_puller_is_barred_and_an_unknown_one_unknown() {
        bars(&with(Some(9.0), true));
        unknowns(&with(None, true));
    }
    #[test]
    fn one_that_can_is_not_and_a_winch_has_its_own_rule() {
        nothing(&with(Some(10.0), true));
        nothing(&with(None, false));
    }
}
