//! Ground that no line may cross.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::case::Bars;

const CODE: &str = "obstacle-crossing";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Ground that no line may cross",
    checks: "Legs of the line that cross what they must not: a rock edge, a fence, a road, or people's only way out.",
    why: "An edge cuts, a road brings people into the line, and nobody may have to step over a loaded line to get away.",
    example: "A leg across the only footpath between bank and water.",
    to_do: "Pick another anchor, turn the line with a block, or close and clear that ground and take it out of the case.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "offroadsafety-pages"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for c in &facts.crossings {
        out.add(CODE, Effect::Bars, || {
            let why = match c.obstacle.bars {
                Bars::Lines => "no line may cross it",
                Bars::EscapePath => "it is people's only way out",
            };
            Words::new(
                &c.obstacle.id,
                format!("{} crosses {} ({}): {why}.", c.leg, c.obstacle.id, c.obstacle.what),
                "Pick another anchor or turn the line with a block.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::CrossingFact;
    use crate::testkit::*;
    use unmire_model::case::{Bars, Obstacle};

    #[test]
    fn a_crossing_is_barred() {
        for b in [Bars::Lines, Bars::EscapePath] {
            let o = Obstacle { id: "O1".into(), what: "rock edge".into(), bars: b, outline: vec![], line: 1 };
            bars(&said(super::RULE, |f| {
                f.crossings.push(CrossingFact { leg: "the line from W to A1".into(), obstacle: &o });
            }));
        }
    }
    #[test]
    fn a_clear_line_is_not() {
        nothing(&said(super::RULE, |_| {}));
    }
}
