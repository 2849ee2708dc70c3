//! Whether the winch can do the work.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "winch-ability";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Whether the winch can do the work",
    checks: "The pull that the work asks of the winch, at its high end, against what the winch can pull on that layer, at its low end.",
    why: "A winch that stalls has not moved the vehicle, and every part stands at its greatest load.",
    example: "27 kN to be pulled on a layer that gives 25 kN.",
    to_do: "Lessen the need first: dig, unload, air down. Then more parts of line, or more line out for a lower layer.",
    grade: Grade::Published,
    sources: &["navedtra-14081", "tb-9-2350-292-10"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(w) = &facts.winch else { return };
    match w.ability {
        Some(a) if w.pull_work <= a => {}
        Some(a) => out.add(CODE, Effect::Bars, || {
            Words::new(
                &w.id,
                format!(
                    "The work asks {} of {}, which can pull {} on that layer.",
                    say::load(w.pull_work),
                    w.id,
                    say::capacity(a)
                ),
                "Lessen the need first: dig, unload, air down. Then more parts of line, or more line out.",
            )
        }),
        None => out.add(CODE, Effect::Unknown, || {
            Words::new(
                &w.id,
                format!("What {} can pull here is not known; the work asks {}.", w.id, say::load(w.pull_work)),
                "State its rated pull and its drum.",
            )
        }),
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;

    fn with(ability: Option<f64>) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            if let Some(w) = &mut f.winch {
                w.ability = ability.map(kn);
            }
        })
    }
    #[test]
    fn a_winch_that_is_too_weak_is_barred_and_an_unknown_one_unknown() {
        bars(&with(Some(9.9)));
        bars(&with(Some(f64::NAN)));
        unknowns(&with(None));
    }
    #[test]
    fn one_that_can_is_not() {
        nothing(&with(Some(10.0)));
    }
}
