//! A block pulls with both parts of the line.

use crate::facts::Facts;
use crate::facts::PartKind;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "block-load-doubled";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A block pulls with both parts of the line",
    checks: "Straps that hold a block: their load beside the line's own pull.",
    why: "The rule of thumb sizes a strap by the winch. At a block the strap sees 2 T cos(A/2), up to twice the line's pull, and the anchor behind it the same.",
    example: "A line at 50 kN that turns right round: the strap and the tree see 100 kN.",
    to_do: "Nothing, if its check holds: the rule of thumb alone would not be enough here.",
    grade: Grade::Published,
    sources: &["statics", "whsq-2018"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for part in facts.parts.iter().filter(|p| p.kind == PartKind::BlockStrap) {
        let (when, pull, station) = match (facts.pull_stall, part.station_stall, part.demand_work) {
            (Some(t), Some(f), _) => ("at stall", t, f),
            (_, _, Some(d)) => ("at work", facts.pull_work, d / part.share),
            _ => continue,
        };
        out.add(CODE, Effect::Note, || {
            Words::new(
                &part.name,
                format!(
                    "{} holds a block: {when} the line pulls {}, and the block pulls {} on what holds it.",
                    part.name,
                    say::load(pull),
                    say::load(station)
                ),
                "Size what holds a block by this force; twice the winch's rated pull is not enough as a rule here.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;

    #[test]
    fn a_block_strap_is_told_both_numbers() {
        let found = said(super::RULE, |f| {
            f.parts.push(part(PartKind::BlockStrap, Some(300.0), None));
            f.parts[0].station_stall = Some(kn(100.0));
        });
        notes(&found);
        assert!(found[0].text.contains("50 kN") && found[0].text.contains("100 kN"), "{}", found[0].text);
    }
    #[test]
    fn an_end_strap_is_not() {
        nothing(&said(super::RULE, |f| f.parts.push(part(PartKind::EndStrap, Some(300.0), None))));
    }
}
