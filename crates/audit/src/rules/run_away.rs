//! Running away when it comes free.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::Angle;

const CODE: &str = "run-away";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Running away when it comes free",
    checks: "Whether the freed vehicle can roll off, and whether a holding line or chocks stop it.",
    why: "A vehicle that comes free on a slope overruns the line and whoever stands before it.",
    example: "A way out downhill at 15 degrees on wet grass: braked wheels slide there.",
    to_do: "Set a holding line, or chocks that move with the wheels, and keep the brake manned. Say before the pull what holds it afterwards.",
    grade: Grade::OwnJudgement,
    sources: &["noon-1994", "statics", "own-judgement"],
    look: Look::Condition(check),
};

/// Braked tyres slide on wet grass beyond atan 0.20. `noon-1994` (secondary): friction 0.20 on a wet grassy field.
const BRAKES_SLIDE: Angle = Angle::from_deg(11.3);

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    if !facts.stability.as_ref().is_some_and(|s| s.can_run_away && !s.has_holding) {
        return;
    }
    let downhill = -facts.case.way_out.grade.value.low();
    let effect = if downhill > BRAKES_SLIDE { Effect::Bars } else { Effect::Caution };
    out.add(CODE, effect, || {
        let text = if effect == Effect::Bars {
            format!(
                "The way out falls {}: braked wheels may slide there, and nothing holds the freed vehicle.",
                say::angle(downhill)
            )
        } else {
            "It can roll off when it comes free, and no holding line is set.".to_owned()
        };
        Words::new(
            "stuck vehicle",
            text,
            "Set a holding line, keep the brake manned, and have chocks at hand for every stop.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::facts::StabilityFact;
    use crate::testkit::*;
    use unmire_model::{Angle, Force};

    fn with(can: bool, held: bool, grade: f64) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |c| c.way_out.grade.value = exact(Angle::from_deg(grade)),
            |_| {},
            |f| {
                f.stability = Some(StabilityFact {
                    used: None,
                    matters: false,
                    sideways_pull: Force::ZERO,
                    used_with_holding: None,
                    can_run_away: can,
                    has_holding: held,
                });
            },
        )
    }
    #[test]
    fn a_steep_way_down_is_barred_and_any_other_a_caution() {
        bars(&with(true, false, -15.0));
        cautions(&with(true, false, -5.0));
        cautions(&with(true, false, 15.0));
    }
    #[test]
    fn a_held_vehicle_or_level_ground_is_not() {
        nothing(&with(true, true, -15.0));
        nothing(&with(false, false, -15.0));
    }
}
