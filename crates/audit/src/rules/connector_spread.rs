//! Angle between what meets in one connector.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::Angle;

const CODE: &str = "connector-spread";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Angle between what meets in one connector",
    checks: "Where two or more legs pull on a connector, the angle between the outermost two.",
    why: "A shackle keeps its full rating for a load that is symmetric and not wider than 120 degrees in its bow. Legs on the pin or out of the middle load it from the side, which takes up to half of its rating; how it lies is not known to the program.",
    example: "Two legs of a shared anchor at 130 degrees in one bow: barred.",
    to_do: "Bring the legs nearer together with longer straps. Put legs in the bow and never on the pin, and centre the load.",
    grade: Grade::Published,
    sources: &["asme-b30-26", "wac-296-155-33905"],
    look: Look::Condition(check),
};

/// `asme-b30-26`, 26-1.9.4(k).
const MOST: Angle = Angle::from_deg(120.0);
/// From here on it is worth a word: the eyes no longer lie at the bottom of the bow. Own judgement.
const WIDE: Angle = Angle::from_deg(90.0);

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for c in &facts.connectors {
        let Some(spread) = c.spread.filter(|s| find::above(*s, WIDE)) else { continue };
        let too_wide = find::above(spread, MOST);
        out.add(CODE, if too_wide { Effect::Bars } else { Effect::Note }, || {
            let limit = if too_wide { "; 120 deg is the most that is allowed" } else { "" };
            Words::new(
                &c.piece.id,
                format!("Legs meet in {} at {} to each other{limit}.", c.piece.id, say::angle(spread)),
                "Put the legs in the bow, never on the pin, and keep the load in the middle. Longer straps make the angle smaller.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::ConnectorFact;
    use crate::testkit::*;
    use unmire_model::Angle;
    use unmire_model::gear::PieceKind;

    fn at(spread: Option<f64>) -> Vec<crate::verdict::Finding> {
        let p = piece("K1", PieceKind::Shackle { bow: true, pin: None });
        said(super::RULE, |f| {
            f.connectors.push(ConnectorFact { part: 0, piece: &p, spread: spread.map(Angle::from_deg) });
        })
    }
    #[test]
    fn published_beyond_120_degrees_is_barred() {
        bars(&at(Some(121.0)));
        bars(&at(Some(f64::NAN)));
        notes(&at(Some(120.0)));
    }
    #[test]
    fn one_leg_has_no_spread() {
        nothing(&at(None));
    }
}
