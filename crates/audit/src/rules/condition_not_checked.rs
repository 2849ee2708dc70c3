//! Nobody looked.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::Condition;

const CODE: &str = "condition-not-checked";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Nobody looked",
    checks: "Pieces of the rig that nobody looked at before use.",
    why: "Ratings are for pieces without damage. A look takes a minute each.",
    example: "A shackle straight from the bag.",
    to_do: "Look at each: label readable, no cuts, no melted or stiff spots, stitching whole, pins straight and seated, sheave free.",
    grade: Grade::Regulation,
    sources: &["cfr-29-1926-251", "asme-b30-26", "wac-296-155-55820"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let unseen = || find::pieces(facts).filter(|p| p.condition == Condition::NotChecked).map(|p| p.id.as_str());
    if unseen().next().is_some() {
        out.add(CODE, Effect::Caution, || {
            let ids: Vec<&str> = unseen().collect();
            Words::new(
                ids.join(", "),
                format!("Nobody has looked at {} yet.", say::list(&ids)),
                "Look at each before it is loaded: label, cuts, melted or stiff spots, stitching, pins, sheave.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::Condition;

    fn with(condition: Condition) -> Vec<crate::verdict::Finding> {
        let (mut p, mut q) = (piece("B1", block()), piece("B2", block()));
        (p.condition, q.condition) = (condition.clone(), condition);
        said(super::RULE, |f| {
            f.parts.push(of_piece(PartKind::Block, &p));
            f.parts.push(of_piece(PartKind::Block, &q));
        })
    }
    #[test]
    fn unseen_pieces_are_told_together() {
        let found = with(Condition::NotChecked);
        cautions(&found);
        assert!(found[0].text.contains("B1 and B2"));
    }
    #[test]
    fn checked_ones_are_not() {
        nothing(&with(Condition::Checked));
    }
}
