//! Metal that joins two straps.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::find;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "metal-between-straps";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Metal that joins two straps",
    checks: "Steel connectors between two straps or ropes in line.",
    why: "What sits in the middle of a line is thrown when either side fails. Guidance on recovery straps forbids joining them with shackles; people have been hit by them inside a vehicle.",
    example: "Two extension straps joined with a bow shackle.",
    to_do: "Join them eye through eye or with a soft shackle, or take one longer strap. Where a shackle must stay, tie a damper beside it and keep the ground clear on both sides.",
    grade: Grade::Published,
    sources: &["dewnr-2016", "4wd-victoria-guide"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    // A leg has one connector after its strap and one after each extension: the last of them holds the block or line.
    let in_legs = find::legs(facts.layout)
        .flat_map(|l| l.connectors.iter().take(l.extensions.len().min(l.connectors.len().saturating_sub(1))));
    let in_line = facts.layout.stations.iter().filter(|s| s.extensions.len() >= 2).flat_map(|s| &s.connectors);
    for id in in_legs.chain(in_line).filter(|id| find::is_metal(facts, id)) {
        out.add(CODE, Effect::Caution, || {
            Words::new(
                id,
                format!("{id} is metal and joins two straps: it is thrown if either fails."),
                "Join them eye through eye or with a soft shackle, or take one longer strap.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::gear::PieceKind;

    fn with(middle: PieceKind, extended: bool) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |c| {
                c.kit.push(piece("K1", middle));
                c.kit.push(piece("K2", PieceKind::Shackle { bow: true, pin: None }));
            },
            |l| {
                let mut g = leg("A1", "S1");
                if extended {
                    g.extensions = vec!["E1".into()];
                    g.connectors = vec!["K1".into(), "K2".into()];
                } else {
                    g.connectors = vec!["K2".into()];
                }
                l.stations[0].hold = unmire_model::layout::Hold::Anchors(vec![g]);
            },
            |_| {},
        )
    }
    #[test]
    fn a_shackle_between_two_straps_is_told_once() {
        let found = with(PieceKind::Shackle { bow: true, pin: None }, true);
        cautions(&found);
        assert_eq!(found[0].subject, "K1");
    }
    #[test]
    fn a_soft_shackle_or_a_single_strap_is_not() {
        nothing(&with(PieceKind::SoftShackle, true));
        nothing(&with(PieceKind::SoftShackle, false));
    }
}
