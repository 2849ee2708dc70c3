//! A number without its kind.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::RatingKind;

const CODE: &str = "rating-kind-unstated";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A number without its kind",
    checks: "Labels that give a force and do not say whether it is a working load limit or a breaking strength.",
    why: "The two differ by a factor of four to eight. Taken for a working load limit, a breaking strength would be overrun by as much.",
    example: "A block marked `8 t` and nothing more: it counts as failing at 8 t.",
    to_do: "Ask the maker or look for its paper; then state the kind. Until then the lower meaning counts.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let bare = || {
        facts.parts.iter().enumerate().filter(|(i, p)| {
            find::label(facts, *i, p).and_then(|(l, _)| l.rating()).is_some_and(|r| r.kind == RatingKind::Unstated)
        })
    };
    if bare().next().is_some() {
        out.add(CODE, Effect::Caution, || {
            let mut names: Vec<&str> = bare().map(|(_, p)| p.name.as_str()).collect();
            names.dedup();
            Words::new(
                names.join(", "),
                format!(
                    "The label of {} gives a force and not its kind; it counts as a breaking strength.",
                    say::list(&names)
                ),
                "Find out whether it is a working load limit or a breaking strength, and state it.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::RatingKind;

    fn with(kind: RatingKind) -> Vec<crate::verdict::Finding> {
        let mut p = piece("B1", block());
        p.label = label(8.0, kind, None);
        said(super::RULE, |f| f.parts.push(of_piece(PartKind::Block, &p)))
    }
    #[test]
    fn a_bare_number_is_told() {
        cautions(&with(RatingKind::Unstated));
    }
    #[test]
    fn a_kind_that_is_printed_is_not() {
        nothing(&with(RatingKind::Working));
        nothing(&with(RatingKind::Breaking));
    }
}
