//! What a part can take is not known.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};

const CODE: &str = "capacity-unknown";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "What a part can take is not known",
    checks: "Parts whose strength or holding force is not known in the meaning that the policy asks for: no label, a label that can't be read, an anchor that nothing was said of, no published factor to turn one meaning into the other.",
    why: "Unknown is a value of its own here. It never passes.",
    example: "A shackle without any marking: unknown, and so is every rig with it.",
    to_do: "Use a marked piece, ask its maker, or state what an anchor holds as a range with its reason.",
    grade: Grade::Published,
    sources: &["asme-b30-26", "cfr-29-1926-251"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, policy: &Policy, out: &mut Findings) {
    for part in &facts.parts {
        let stated = part.capacity.stated;
        let basis = policy.row(part.kind).map(|r| r.basis_for(stated));
        if basis.is_some_and(|b| b.of(&part.capacity).is_some()) {
            continue;
        }
        out.add(CODE, Effect::Unknown, || {
            let because = part.capacity.unknown_because.map_or_else(String::new, |b| format!(": {b}"));
            let what = basis.map_or("strength", crate::policy::Basis::words);
            let remedy = if part.kind.is_anchor() {
                "State what it holds as a range, describe it so that it can be reckoned, or use another anchor."
            } else {
                "Use a piece with a readable label, or state what its maker's paper says."
            };
            Words::new(
                &part.name,
                format!("The {what} of {} ({}) is not known{because}.", part.name, part.role),
                remedy,
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;

    #[test]
    fn a_part_without_a_capacity_is_named() {
        let found = said(super::RULE, |f| {
            f.parts.push(part(PartKind::Connector, None, Some(10.0)));
            f.parts[0].capacity.unknown_because = Some("it has no label");
        });
        unknowns(&found);
        assert!(found[0].text.contains("breaking strength") && found[0].text.contains("it has no label"));
        unknowns(&said(super::RULE, |f| f.parts.push(part(PartKind::NaturalAnchor, None, None))));
    }
    #[test]
    fn a_known_one_is_not() {
        nothing(&said(super::RULE, |f| {
            f.parts.push(part(PartKind::Connector, Some(100.0), None));
            f.parts.push(anchor_part(PartKind::NaturalAnchor, "A1", 10.0, 20.0));
        }));
    }
}
