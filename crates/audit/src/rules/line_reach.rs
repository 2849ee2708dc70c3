//! Line that does not reach.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "line-reach";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Line that does not reach",
    checks: "The length of line that the rig takes off the drum, against the line that is there.",
    why: "A line that ends before the anchor is no rig, and one that is pulled off the drum to its fixing tears out there.",
    example: "A path of 31 m and a line of 28 m.",
    to_do: "Use an extension, a nearer anchor, or fewer parts of line.",
    grade: Grade::Published,
    sources: &["derived"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let Some(w) = &facts.winch else { return };
    if w.line_out >= w.line_length || !w.line_out.is_finite() {
        out.add(CODE, Effect::Bars, || {
            Words::new(
                &w.id,
                format!(
                    "The rig takes {} of line, and {} has {}.",
                    say::length_up(w.line_out),
                    w.id,
                    say::length_down(w.line_length)
                ),
                "Use an extension, a nearer anchor, or fewer parts of line.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::Length;

    fn with(out: f64) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            if let Some(w) = &mut f.winch {
                w.line_out = Length::from_m(out);
            }
        })
    }
    #[test]
    fn too_little_line_is_barred() {
        bars(&with(28.0));
        bars(&with(f64::NAN));
    }
    #[test]
    fn enough_is_not() {
        nothing(&with(27.9));
    }
}
