//! Wet ground at an anchor.

use crate::facts::Facts;
use crate::facts::PartKind;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "saturated-ground";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Wet ground at an anchor",
    checks: "Anchors in the ground while it is saturated.",
    why: "Wet soil holds pickets and buried logs about half as well (field tables), and gives way without much warning. Roots: no figure was found; a root plate counts with three quarters by our own judgement. In tests the soil mattered as much as the tree.",
    example: "A spruce on waterlogged peat.",
    to_do: "Stay far below what the anchor holds on paper, pull gently first, and watch the ground behind it.",
    grade: Grade::Published,
    sources: &["dundee-2025", "tm-5-5420-278-10", "own-judgement"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    if !facts.case.ground.saturated {
        return;
    }
    for part in facts.parts.iter().filter(|p| matches!(p.kind, PartKind::NaturalAnchor | PartKind::MadeAnchor)) {
        out.add(CODE, Effect::Caution, || {
            let how_much = if part.kind == PartKind::MadeAnchor {
                "may hold about half of what dry ground gives"
            } else {
                "may hold much less than in dry ground"
            };
            Words::new(
                &part.name,
                format!("The ground is saturated: {} {how_much}.", part.name),
                "Pull gently first, watch the ground behind it, and share the pull over more anchors.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;

    fn with(wet: bool, kind: PartKind) -> Vec<crate::verdict::Finding> {
        told(super::RULE, |c| c.ground.saturated = wet, |_| {}, |f| f.parts.push(anchor_part(kind, "A1", 30.0, 60.0)))
    }
    #[test]
    fn an_anchor_in_wet_ground_is_told() {
        cautions(&with(true, PartKind::NaturalAnchor));
    }
    #[test]
    fn firm_ground_or_hardware_is_not() {
        nothing(&with(false, PartKind::NaturalAnchor));
        nothing(&with(true, PartKind::Connector));
    }
}
