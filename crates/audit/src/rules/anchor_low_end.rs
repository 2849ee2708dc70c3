//! A load over the low end of what a tree or a stump holds.

use crate::facts::{Facts, PartKind};
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::anchor::AnchorKind;

const CODE: &str = "anchor-low-end";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A load over the low end of what a tree or a stump holds",
    checks: "The load at work against the low end of what a tree or a stump holds by its model. A policy may ask for a third of the likely value; where the range is wider than that, the load may lie over its low end.",
    why: "The low end is what one tree in twenty of its kind falls short of, or what the lower of two studies found. Of stumps no pull test was read: their likely value is a judgement, and only the low end counts.",
    example: "A western hemlock whose likely holding force is 90 kN, the low end 17 kN, under 25 kN: a third of the likely value, and over the low end.",
    to_do: "Share the pull between two anchors, bring the need down, tie it back, or watch the base and stop at 0.25 degrees.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement", "byrne-2005", "detter-2023"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for part in facts.parts.iter().filter(|p| p.kind == PartKind::NaturalAnchor && !p.capacity.stated) {
        let (Some(holds), Some(work)) = (part.capacity.holding, part.demand_work) else { continue };
        if !find::above(work, holds.low()) {
            continue;
        }
        let Some(anchor) = find::anchors(facts).find(|a| a.id == part.name) else { continue };
        let effect = match anchor.kind {
            AnchorKind::Stump(_) => Effect::Unknown,
            AnchorKind::Tree(_) => Effect::Caution,
            _ => continue,
        };
        out.add(CODE, effect, || {
            Words::new(
                &part.name,
                format!(
                    "{} may hold as little as {}; the work may ask {} of it.",
                    part.name,
                    say::capacity(holds.low()),
                    say::load(work)
                ),
                "Share the pull, bring the need down, or tie it back; watch its base and stop at the first movement.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::anchor::{AnchorKind, Stump, StumpSigns};

    /// 10 kN of work on something that holds from here on.
    fn with(low: f64, stump: bool, stated: bool) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |c| {
                let AnchorKind::Tree(t) = &c.anchors[0].kind else { panic!("a tree") };
                let (diameter, soil, rooting) = (t.diameter.clone(), t.soil, t.rooting);
                if stump {
                    c.anchors[0].kind = AnchorKind::Stump(Stump {
                        species: None,
                        conifer: None,
                        diameter,
                        height: None,
                        felled_ago: None,
                        soil,
                        rooting,
                        signs: StumpSigns::all(false),
                    });
                }
            },
            |_| {},
            |f| {
                let mut p = anchor_part(PartKind::NaturalAnchor, "A1", low, 60.0);
                (p.demand_work, p.capacity.stated) = (Some(kn(10.0)), stated);
                f.parts.push(p);
            },
        )
    }
    #[test]
    fn over_the_low_end_a_tree_is_a_caution_and_a_stump_never_passes() {
        cautions(&with(9.0, false, false));
        unknowns(&with(9.0, true, false));
    }
    #[test]
    fn under_the_low_end_or_with_a_stated_range_it_says_nothing() {
        nothing(&with(10.0, false, false));
        nothing(&with(10.0, true, false));
        nothing(&with(9.0, true, true));
    }
}
