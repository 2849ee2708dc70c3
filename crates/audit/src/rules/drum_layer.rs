//! Layer of the drum not known.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "drum-layer";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Layer of the drum not known",
    checks: "Whether it is known on which layer of line the winch works.",
    why: "Each layer outward loses about a tenth of the pull; the top may have half of the rating left. Stall is judged on the lowest layer.",
    example: "A winch whose drum nobody measured.",
    to_do: "State the drum's diameter and width.",
    grade: Grade::Published,
    sources: &["navedtra-14081", "tm-9-2320-279-10-2"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(w) = facts.winch.as_ref().filter(|w| w.layer.is_none()) else { return };
    out.add(CODE, Effect::Caution, || {
        Words::new(
            &w.id,
            format!("On which layer {} works is not known, so that its pull is not known well.", w.id),
            "State the drum's diameter and width.",
        )
    });
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;

    fn with(layer: Option<u32>) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            if let Some(w) = &mut f.winch {
                w.layer = layer;
            }
        })
    }
    #[test]
    fn an_unknown_layer_is_told() {
        cautions(&with(None));
    }
    #[test]
    fn a_known_one_is_not() {
        nothing(&with(Some(3)));
    }
}
