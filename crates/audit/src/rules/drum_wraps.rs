//! Turns left on the drum.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "drum-wraps";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Turns left on the drum",
    checks: "How many turns stay on the drum when the line is out as far as this rig takes it.",
    why: "The line's fixing on the drum does not hold the pull; the turns do, by friction. Wire needs about five, slippery fibre more.",
    example: "Three turns left of a fibre line that needs ten: barred.",
    to_do: "Use an extension or a nearer anchor. Where the drum's size is not known, count the turns and mark the line.",
    grade: Grade::Regulation,
    sources: &["alberta-ohs-code-299", "tm-9-2320-279-10-2", "cfr-30-75-1436", "recollection"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(w) = &facts.winch else { return };
    match w.wraps_left {
        Some(left) if left >= w.wraps_required => {}
        Some(left) => out.add(CODE, Effect::Bars, || {
            Words::new(
                &w.id,
                format!(
                    "{} turns are left on the drum of {}; {} must stay.",
                    crate::rules::say::less(left),
                    w.id,
                    w.wraps_required
                ),
                "Use an extension or a nearer anchor.",
            )
        }),
        None => out.add(CODE, Effect::Caution, || {
            Words::new(
                &w.id,
                format!("How many turns stay on the drum of {} is not known; {} must.", w.id, w.wraps_required),
                "Count them before the pull, or state the drum's diameter and width.",
            )
        }),
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;

    fn with(left: Option<f64>) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            if let Some(w) = &mut f.winch {
                w.wraps_left = left;
            }
        })
    }
    #[test]
    fn too_few_turns_are_barred_and_unknown_ones_a_caution() {
        bars(&with(Some(9.9)));
        bars(&with(Some(f64::NAN)));
        cautions(&with(None));
    }
    #[test]
    fn enough_are_not() {
        nothing(&with(Some(10.0)));
    }
}
