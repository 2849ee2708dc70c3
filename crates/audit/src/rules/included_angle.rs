//! Angle between the legs of a strap.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::Angle;
use unmire_model::layout::Hitch;

const CODE: &str = "included-angle";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Angle between the legs of a strap",
    checks: "The angle between the two legs of a strap that goes round something in a basket.",
    why: "Each leg carries F / (2 cos(A/2)): at 120 degrees as much as the whole pull, beyond that more.",
    example: "A short strap round a thick trunk stands at 130 degrees: barred. At 100 degrees each leg carries 0.78 of the pull: a caution.",
    to_do: "Take a longer strap, or lengthen it at one connector. A choker with its own rating is the other way.",
    grade: Grade::Published,
    sources: &["asme-b30-26", "en-1492-1-modes", "statics"],
    look: Look::Condition(check),
};

/// `asme-b30-26`, 26-1.9.4(k); the same as 60 degrees from the middle in `en-1492-1-modes`.
const MOST: Angle = Angle::from_deg(120.0);
/// Each leg carries 0.71 of the pull here. Common practice.
const WIDE: Angle = Angle::from_deg(90.0);

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in facts.hitches.iter().filter(|h| h.hitch == Hitch::Basket) {
        let effect = if find::above(h.angle, MOST) {
            Effect::Bars
        } else if h.angle > WIDE {
            Effect::Caution
        } else {
            continue;
        };
        out.add(CODE, effect, || {
            let limit = if effect == Effect::Bars { "; 120 deg is the most that is allowed" } else { "" };
            Words::new(
                &h.piece.id,
                format!(
                    "The legs of {} round {} stand at {} to each other, so that each carries {} times the pull{limit}.",
                    h.piece.id,
                    h.anchor,
                    say::angle(h.angle),
                    say::more(0.5 / (h.angle * 0.5).cos())
                ),
                "Take a longer strap, so that the angle falls under 90 degrees.",
            )
        });
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
    fn published_beyond_120_degrees_is_barred() {
        bars(&at(120.5, Hitch::Basket));
        bars(&at(f64::NAN, Hitch::Basket));
        cautions(&at(120.0, Hitch::Basket));
        cautions(&at(91.0, Hitch::Basket));
    }
    #[test]
    fn a_small_angle_or_a_choker_says_nothing() {
        nothing(&at(90.0, Hitch::Basket));
        nothing(&at(150.0, Hitch::Choker));
    }
}
