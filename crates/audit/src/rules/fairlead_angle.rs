//! Angle of the line at the fairlead.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "fairlead-angle";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Angle of the line at the fairlead",
    checks: "How far the line stands away from square to the drum, against the maker's limit or the trade's 15 degrees.",
    why: "A line from the side heaps up at one flange, jams, and loads fairlead and mount across.",
    example: "A tree 8 m ahead and 3 m to the side: 21 degrees.",
    to_do: "Turn the line with a block straight ahead, pick another anchor, or turn the vehicle.",
    grade: Grade::CommonPractice,
    sources: &["recollection"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(w) = &facts.winch else { return };
    let (limit, by_maker) = w.fairlead_limit;
    if w.fairlead_angle <= limit {
        return;
    }
    out.add(CODE, if by_maker { Effect::Bars } else { Effect::Caution }, || {
        let whose = if by_maker { "the maker's limit" } else { "the trade's rule" };
        Words::new(
            &w.id,
            format!(
                "The line leaves {} at {} from square; {whose} is {}.",
                w.id,
                say::angle(w.fairlead_angle),
                say::angle(limit)
            ),
            "Turn the line with a block straight ahead of the winch, or pick another anchor. Watch the line pile up at one side.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::Angle;

    fn with(degrees: f64, by_maker: bool) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            if let Some(w) = &mut f.winch {
                w.fairlead_angle = Angle::from_deg(degrees);
                w.fairlead_limit.1 = by_maker;
            }
        })
    }
    #[test]
    fn beyond_the_makers_limit_is_barred_and_beyond_the_trades_a_caution() {
        bars(&with(16.0, true));
        cautions(&with(16.0, false));
        bars(&with(f64::NAN, true));
    }
    #[test]
    fn within_it_nothing_is_said() {
        nothing(&with(15.0, true));
        nothing(&with(3.0, false));
    }
}
