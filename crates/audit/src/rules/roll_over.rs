//! Rolling over.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::quantity::show::{Round, show_share};

const CODE: &str = "roll-over";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Rolling over",
    checks: "How much of the moment that keeps the pulled vehicle upright is used up by slope, load and line, at its high end.",
    why: "The model is a rigid one. Springs and tyres lean, the lower wheels sink, and the pull jerks: each takes its part of what is left.",
    example: "A loaded vehicle on a side slope with 52 % used up and no holding line: barred until one is set uphill.",
    to_do: "Unload the roof, pull in another direction, dig the upper wheels down, and set a holding line uphill at a low, rated point before any pull. Nobody inside on the low side, nobody below.",
    grade: Grade::OwnJudgement,
    sources: &["statics", "own-judgement"],
    look: Look::Condition(check),
};

const NAME: &str = "stuck vehicle";
/// From here on the reader is told. Own judgement.
const LOOK_CLOSER: f64 = 0.4;
/// Beyond this nothing is pulled without a holding line. Own judgement: of what is left, springs and tyres take about a
/// tenth of the whole, the low wheels that have sunk already, which a slope does not show, about a tenth, a further 0.1 m of
/// sinking another, and a jerk of the line as much as two of them.
const MOST_ALONE: f64 = 0.5;
/// Beyond this a holding line does not mend it: what is left is less than springs, tyres and sinking take, so that it may
/// already be tipping before the line is tight. Own judgement.
const MOST_EVEN_HELD: f64 = 0.8;

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(s) = &facts.stability else { return };
    let used = if s.has_holding { s.used_with_holding.or(s.used) } else { s.used };
    let Some(used) = used else {
        if s.matters {
            out.add(CODE, Effect::Unknown, || {
                Words::new(
                    NAME,
                    "Whether it rolls over is not known: the slope or the pull is sideways, and its measures are missing.",
                    "State its track and the height of its centre of gravity as loaded.",
                )
            });
        }
        return;
    };
    let high = used.high();
    let alone_too_much = s.used.is_some_and(|u| u.high() > MOST_EVEN_HELD);
    let effect = if high >= 1.0 || alone_too_much || (!s.has_holding && high > MOST_ALONE) {
        Effect::Bars
    } else if high > LOOK_CLOSER {
        Effect::Caution
    } else {
        return;
    };
    out.add(CODE, effect, || {
        let held = if s.has_holding { " with the holding line" } else { "" };
        if alone_too_much && s.has_holding {
            return Words::new(
                NAME,
                "It stands so near to tipping that it may go before a holding line is tight.",
                "Unload what is high, dig the upper wheels down, get help that is licensed for it; nobody near it.",
            );
        }
        Words::new(
            NAME,
            format!(
                "Up to {} of what keeps it upright is used up{held}; at 100 % it tips, and the model has no springs or sinking wheels.",
                show_share(high, Round::Up)
            ),
            "Set a holding line uphill at a low, rated point first, unload what is high, or pull in another direction.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::facts::StabilityFact;
    use crate::testkit::*;
    use unmire_model::{Force, Range};

    fn with(alone: Option<f64>, held: Option<f64>, has_holding: bool, matters: bool) -> Vec<crate::verdict::Finding> {
        let range = |v: f64| Range::new(v * 0.8, v * 0.9, v).unwrap();
        said(super::RULE, |f| {
            f.stability = Some(StabilityFact {
                used: alone.map(range),
                matters,
                sideways_pull: Force::ZERO,
                used_with_holding: held.map(range),
                can_run_away: false,
                has_holding,
            });
        })
    }
    #[test]
    fn tipping_is_barred_with_or_without_a_holding_line() {
        bars(&with(Some(1.0), None, false, true));
        bars(&with(Some(1.4), Some(1.0), true, true));
        bars(&with(Some(1.4), None, true, true));
    }
    #[test]
    fn much_used_up_is_barred_without_a_holding_line_and_a_caution_with_it() {
        bars(&with(Some(0.62), None, false, true));
        cautions(&with(Some(0.45), None, false, true));
        cautions(&with(Some(0.75), Some(0.62), true, true));
        nothing(&with(Some(0.75), Some(0.3), true, true));
    }
    #[test]
    fn what_may_tip_before_the_line_is_tight_is_barred_with_it_too() {
        bars(&with(Some(0.9), Some(0.3), true, true));
    }
    #[test]
    fn unknown_is_unknown_where_it_matters() {
        unknowns(&with(None, None, false, true));
        nothing(&with(None, None, false, false));
    }
    #[test]
    fn an_upright_vehicle_says_nothing() {
        nothing(&with(Some(0.3), None, false, true));
        nothing(&said(super::RULE, |_| {}));
    }
}
