//! Angle of a choke.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::layout::Hitch;
use unmire_tables::generated::choke_angle;

const CODE: &str = "choke-angle";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Angle of a choke",
    checks: "The angle at which a choker's free end leaves its own eye.",
    why: "The sharper the choke, the less the strap takes: the table goes from 100 % of the choker rating above 120 degrees to 49 % below 30.",
    example: "A choke pulled down to 80 degrees: 74 % of the choker rating counts.",
    to_do: "Let the choke find its own angle, about 135 degrees. Don't hammer or force it tighter.",
    grade: Grade::Published,
    sources: &["asme-b30-9-choke"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in facts.hitches.iter().filter(|h| h.hitch == Hitch::Choker) {
        let row = choke_angle::ROWS.iter().find(|r| h.angle > r.above || (r.inclusive && h.angle == r.above));
        let Some(row) = row else {
            out.add(CODE, Effect::Unknown, || {
                Words::new(
                    &h.piece.id,
                    format!("The choke angle of {} round {} is not known.", h.piece.id, h.anchor),
                    "Take a basket hitch.",
                )
            });
            continue;
        };
        if row.factor < 1.0 {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    &h.piece.id,
                    format!(
                        "{} is choked round {} at {}: {:.0} % of its choker rating counts.",
                        h.piece.id,
                        h.anchor,
                        say::angle(h.angle),
                        row.factor * 100.0
                    ),
                    "Let the choke find its own angle, or rig a basket.",
                )
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::Angle;
    use unmire_model::layout::Hitch;

    fn at(degrees: f64, hitch: Hitch) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(unmire_model::gear::StrapUse::TreeStrap, 80.0));
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            f.hitches[0].angle = Angle::from_deg(degrees);
            f.hitches[0].hitch = hitch;
        })
    }
    #[test]
    fn published_a_sharp_choke_loses() {
        let found = at(80.0, Hitch::Choker);
        cautions(&found);
        assert!(found[0].text.contains("74 %"), "{}", found[0].text);
        cautions(&at(120.0, Hitch::Choker));
        unknowns(&at(f64::NAN, Hitch::Choker));
    }
    #[test]
    fn a_natural_choke_does_not() {
        nothing(&at(135.0, Hitch::Choker));
        nothing(&at(80.0, Hitch::Basket));
    }
}
