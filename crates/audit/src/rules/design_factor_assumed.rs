//! A design factor from a table.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Basis;
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::strength::{Strength, label_strength};
use crate::verdict::{Effect, Grade};
use unmire_model::gear::RatingKind;

const CODE: &str = "design-factor-assumed";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A design factor from a table",
    checks: "Parts whose label prints one meaning of strength while the policy asks for the other, and prints no design factor.",
    why: "The factor then comes from a table: the least published one on the way up, the greatest on the way down. The maker's own may be kinder.",
    example: "A shackle marked with 4.75 t working load limit: it counts as failing at 23.75 t, the least factor in print being 5.",
    to_do: "If the maker prints a design factor, state it.",
    grade: Grade::Published,
    sources: &["asme-b30-26", "doe-std-1090-96", "as-sling-sheet", "own-judgement"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, policy: &Policy, out: &mut Findings) {
    let assumed = || {
        facts.parts.iter().enumerate().filter_map(|(i, p)| {
            let (label, class) = find::label(facts, i, p)?;
            let basis = policy.row(p.kind)?.basis;
            let printed_working = label.rating()?.kind == RatingKind::Working;
            let turned = matches!((basis, printed_working), (Basis::Breaking, true) | (Basis::Working, false));
            let s: Strength = label_strength(label, class);
            let factor = s.factor.filter(|_| turned && s.factor_assumed())?;
            Some((p.name.as_str(), factor))
        })
    };
    if assumed().next().is_some() {
        out.add(CODE, Effect::Note, || {
            let mut all: Vec<_> = assumed().collect();
            all.dedup_by_key(|(name, _)| *name);
            let each = all.iter().map(|(n, f)| format!("{n} {} ({})", f.value, f.source));
            let names: Vec<&str> = all.iter().map(|(n, _)| *n).collect();
            Words::new(
                names.join(", "),
                format!("No design factor is printed; taken from the table: {}.", say::list(each)),
                "State the design factor where the maker prints one.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;
    use unmire_model::gear::{PieceKind, RatingKind};

    fn with(kind: RatingKind, factor: Option<f64>) -> Vec<crate::verdict::Finding> {
        let mut p = piece("K1", PieceKind::Shackle { bow: true, pin: None });
        p.label = label(4.75, kind, factor);
        said(super::RULE, |f| f.parts.push(of_piece(PartKind::Connector, &p)))
    }
    #[test]
    fn a_factor_from_the_table_is_told_with_its_source() {
        let found = with(RatingKind::Working, None);
        notes(&found);
        assert!(found[0].text.contains("K1 5 (asme-b30-26)"), "{}", found[0].text);
    }
    #[test]
    fn a_printed_factor_or_meaning_is_not() {
        nothing(&with(RatingKind::Working, Some(6.0)));
        nothing(&with(RatingKind::Breaking, None));
    }
}
