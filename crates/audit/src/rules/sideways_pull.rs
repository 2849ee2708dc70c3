//! Sideways part of the pull.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "sideways-pull";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Sideways part of the pull",
    checks: "The part of the pull on the stuck vehicle that is across its way out.",
    why: "It slews the vehicle, loads wheels and points across, and on a slope it can roll it.",
    example: "A pull of 20 kN at 30 degrees to the way out: 10 kN of it sideways.",
    to_do: "Pick an anchor nearer to the way out, or turn the line with a block.",
    grade: Grade::OwnJudgement,
    sources: &["statics", "own-judgement"],
    look: Look::Condition(check),
};

/// Under this share of the need it is not worth a word: about 3 degrees. Own judgement.
const SLIGHT: f64 = 0.05;
/// Above this share it is a caution: about 17 degrees. Own judgement.
const MUCH: f64 = 0.3;

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(s) = &facts.stability else { return };
    let side = s.sideways_pull;
    let share = side.abs() / facts.need.high();
    if share <= SLIGHT {
        return;
    }
    out.add(CODE, if share <= MUCH { Effect::Note } else { Effect::Caution }, || {
        let way = if side.as_n() >= 0.0 { "left" } else { "right" };
        Words::new(
            "stuck vehicle",
            format!("{} of the pull goes to the {way} of the way out.", say::load(side.abs())),
            "Pick an anchor nearer to the way out, or turn the line with a block.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::facts::StabilityFact;
    use crate::testkit::*;

    fn with(side: f64) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            f.stability = Some(StabilityFact {
                used: None,
                matters: false,
                sideways_pull: kn(side),
                used_with_holding: None,
                can_run_away: false,
                has_holding: false,
            });
        })
    }
    #[test]
    fn a_sideways_part_is_told_and_a_large_one_is_a_caution() {
        notes(&with(2.0));
        cautions(&with(-4.0));
        assert!(with(-4.0)[0].text.contains("right"));
        cautions(&with(f64::NAN));
    }
    #[test]
    fn a_slight_one_is_not() {
        nothing(&with(0.4));
    }
}
