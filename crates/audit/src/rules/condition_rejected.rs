//! A piece that is out of use.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::Condition;

const CODE: &str = "condition-rejected";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A piece that is out of use",
    checks: "Pieces of the rig on which a look before use found something.",
    why: "A cut, a melted spot, a bent pin or worn stitching takes away more than any table knows.",
    example: "A strap with an edge cut longer than its thickness: barred.",
    to_do: "Leave it out. Mark it, or cut it up, so that nobody takes it by mistake.",
    grade: Grade::Regulation,
    sources: &["cfr-29-1926-251", "asme-b30-26", "wac-296-155-55820"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for piece in find::pieces(facts) {
        if let Condition::Reject { reason } = &piece.condition {
            out.add(CODE, Effect::Bars, || {
                Words::new(
                    &piece.id,
                    format!("{} is out of use: {reason}.", piece.id),
                    "Take another piece and mark this one.",
                )
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::Condition;

    fn with(condition: Condition) -> Vec<crate::verdict::Finding> {
        let mut p = piece("B1", block());
        p.condition = condition;
        said(super::RULE, |f| {
            f.parts.push(of_piece(PartKind::Block, &p));
            f.parts.push(of_piece(PartKind::Block, &p));
        })
    }
    #[test]
    fn a_rejected_piece_bars_once() {
        let found = with(Condition::Reject { reason: "side plate bent".into() });
        bars(&found);
        assert!(found[0].text.contains("side plate bent"));
    }
    #[test]
    fn a_checked_one_does_not() {
        nothing(&with(Condition::Checked));
        nothing(&with(Condition::NotChecked));
    }
}
