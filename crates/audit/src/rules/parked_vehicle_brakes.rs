//! A parked vehicle as an anchor.

use crate::facts::{Facts, ParkedFact, PartKind};
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use core::fmt::Write as _;
use unmire_model::gear::PieceKind;

const CODE: &str = "parked-vehicle-brakes";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "A parked vehicle as an anchor",
    checks: "Vehicles that hold a pull by their tyres: whether they are chocked, whether tipping was checked, and whether it comes before sliding.",
    why: "The parking brake works on one axle, wet grass gives little, and a vehicle that is moved while it holds adds to the line's load. A high line tips a vehicle on ground that grips.",
    example: "A 2.9 t vehicle on wet grass: dragged off at about 10 kN on the level.",
    to_do: "All wheels braked, chocks dug in before the wheels, the line low, tied back to an anchor where that is not enough. Nobody between the vehicles.",
    grade: Grade::Published,
    sources: &["tree-rescue-manual", "navedtra-14081", "statics"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let parts = facts.parts.iter().enumerate().filter(|(_, p)| p.kind == PartKind::ParkedVehicle);
    for (i, part) in parts {
        let known = facts.parked.iter().find(|p| p.part == i);
        let chocks_there = find::beside(facts).any(|p| p.kind == PieceKind::Chock);
        let chocked = known.and_then(|k| k.chocked);
        let effect = match chocked {
            Some(true) => Effect::Note,
            Some(false) => Effect::Caution,
            None if chocks_there => Effect::Note,
            None => Effect::Caution,
        };
        out.add(CODE, effect, || {
            let chocks = match chocked {
                Some(true) => ", with a chock before every wheel",
                Some(false) => ", and its wheels are not chocked",
                None if chocks_there => ", and nobody said whether its wheels are chocked",
                None => ", and the rig has no chocks",
            };
            Words::new(
                &part.name,
                format!("{} holds by its tyres alone{chocks}{}.", part.name, known.map_or_else(String::new, ways)),
                "Brake all wheels, chock them, tie it back where it can slide, and keep people from between the vehicles.",
            )
        });
        let Some(known) = known else { continue };
        if let Some(why) = &known.not_checked {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    &part.name,
                    why.clone(),
                    "Give its wheelbase, its track and the height of its centre of gravity; keep the line low until then.",
                )
            });
        }
        if let (Some(tips), Some(slides)) = (known.tips_at, known.slides_at)
            && find::below(tips.low(), slides.high())
        {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    &part.name,
                    format!("{} may tip before it slides: from {} on.", part.name, say::capacity(tips.low())),
                    "Attach the line lower, turn the vehicle to stand in line with the pull, or use another anchor.",
                )
            });
        }
    }
}

/// At which pulls it slides and tips.
fn ways(known: &ParkedFact) -> String {
    let mut out = String::new();
    for (what, at) in [("slides", known.slides_at), ("tips", known.tips_at)] {
        if let Some(f) = at {
            let _ = write!(out, "; it {what} from {} on, likely {}", say::capacity(f.low()), say::capacity(f.likely()));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::facts::{ParkedFact, PartKind};
    use crate::testkit::*;
    use unmire_model::Range;
    use unmire_model::gear::PieceKind;

    fn parked(chocked: Option<bool>, slides: (f64, f64), tips: Option<(f64, f64)>, told: bool) -> ParkedFact {
        let range = |(a, b): (f64, f64)| Range::new(kn(a), kn(0.5 * (a + b)), kn(b)).unwrap();
        let not_checked =
            (!told).then(|| "Whether the pull tips it over was not checked: the track is not told.".to_owned());
        ParkedFact { part: 0, chocked, slides_at: Some(range(slides)), tips_at: tips.map(range), not_checked }
    }
    fn with(kind: PartKind, chocks: bool, fact: Option<ParkedFact>) -> Vec<crate::verdict::Finding> {
        told(
            super::RULE,
            |c| c.kit.push(piece("X1", PieceKind::Chock)),
            |l| {
                if chocks {
                    l.beside.push("X1".into());
                }
            },
            |f| {
                f.parts.push(anchor_part(kind, "H", 5.0, 8.0));
                f.parked.extend(fact);
            },
        )
    }
    #[test]
    fn a_parked_vehicle_is_told() {
        cautions(&with(PartKind::ParkedVehicle, false, None));
        notes(&with(PartKind::ParkedVehicle, true, None));
    }
    #[test]
    fn what_the_case_says_of_its_chocks_comes_first() {
        let is = |chocked| Some(parked(chocked, (5.0, 8.0), Some((20.0, 25.0)), true));
        notes(&with(PartKind::ParkedVehicle, false, is(Some(true))));
        cautions(&with(PartKind::ParkedVehicle, true, is(Some(false))));
        notes(&with(PartKind::ParkedVehicle, true, is(None)));
        let said = with(PartKind::ParkedVehicle, false, is(Some(true)));
        assert!(
            said[0].text.contains("it slides from 5 kN on") && said[0].text.contains("it tips from"),
            "{}",
            said[0].text
        );
    }
    #[test]
    fn what_was_not_checked_is_a_caution_of_its_own() {
        let said = with(PartKind::ParkedVehicle, true, Some(parked(Some(true), (5.0, 8.0), None, false)));
        assert_eq!(said.len(), 2);
        // The gravest comes first.
        cautions(&said[..1]);
        assert!(said[0].text.contains("the track is not told"));
    }
    #[test]
    fn tipping_that_may_come_before_sliding_is_a_caution() {
        let said =
            with(PartKind::ParkedVehicle, true, Some(parked(Some(true), (12.0, 20.0), Some((15.0, 16.0)), true)));
        cautions(&said[..1]);
        assert!(said[0].text.contains("may tip before it slides"));
    }
    #[test]
    fn a_tree_is_not() {
        nothing(&with(PartKind::NaturalAnchor, false, None));
    }
}
