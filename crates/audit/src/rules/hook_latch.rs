//! A hook without its latch.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::PieceKind;

const CODE: &str = "hook-latch";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A hook without its latch",
    checks: "Hooks in the rig whose latch is missing.",
    why: "The latch carries nothing; it keeps the hook on while the line is slack. A hook that has fallen off unseen is found out at full pull.",
    example: "A winch hook with a broken latch, on a shackle.",
    to_do: "Use a shackle instead, or fit the latch. Open side up, load in the bowl.",
    grade: Grade::Published,
    sources: &["asme-b30-10"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for piece in find::pieces(facts) {
        if matches!(piece.kind, PieceKind::Hook { latch: false }) {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    &piece.id,
                    format!("{} has no latch: it can fall off while the line is slack.", piece.id),
                    "Use a shackle instead, or fit the latch; look at it again when the line is taut.",
                )
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::PieceKind;

    fn with(latch: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("H1", PieceKind::Hook { latch });
        said(super::RULE, |f| f.parts.push(of_piece(PartKind::Connector, &p)))
    }
    #[test]
    fn a_hook_without_latch_is_told() {
        cautions(&with(false));
    }
    #[test]
    fn one_with_it_is_not() {
        nothing(&with(true));
    }
}
