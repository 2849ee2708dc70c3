//! Pressure on living bark.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_mechanics::anchor::{BarkGives, bark_limit};
use unmire_model::gear::PieceKind;
use unmire_model::ground::Season;
use unmire_model::{Length, Pressure, Silent};

const CODE: &str = "bark-pressure";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Pressure on living bark",
    checks: "The pressure of the strap on the bark at work and at stall, against what the bark stands at this time of the year: the bond of bark and wood where the strap may slip, and the wood under it.",
    why: "Bark that is dragged off the wood or crushed kills the tree above it. From spring to early summer it peels most easily; in one series of beech at half of the winter's strength. A season that nobody told counts as the growing one.",
    example: "20 kN in a basket of 75 mm round a spruce of 200 mm in May: 1.3 MPa, over the 0.87 MPa at which its bark may peel.",
    to_do: "Take a wider strap, a thicker trunk or two trees. Keep the strap from slipping: the direction of pull should not swing.",
    grade: Grade::Published,
    sources: &["vilkovsky-2022", "own-judgement"],
    look: Look::Condition(check),
};

/// Wider straps than this are not made for trunks. Own judgement.
const WIDEST: Length = Length::from_mm(300.0);

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    let season = facts.case.ground.season.as_ref().map(|s| s.value);
    for h in facts.hitches.iter().filter(|h| h.living) {
        let Some((_, tree)) = find::trees(facts).find(|(a, _)| a.id == h.anchor) else { continue };
        let Ok(limit) = bark_limit(tree, season, &mut Silent) else {
            out.add(CODE, Effect::Caution, || {
                Words::new(
                    h.anchor,
                    format!("What the bark of {} stands is not known.", h.anchor),
                    "Name a listed species, or say whether it is a conifer.",
                )
            });
            continue;
        };
        let over = |p: Option<Pressure>| p.filter(|p| find::above(*p, limit.pressure));
        let (effect, p, when) = match (over(h.pressure_work), over(h.pressure_stall)) {
            (Some(p), _) => (Effect::Caution, p, "at work"),
            (None, Some(p)) => (Effect::Note, p, "at stall"),
            (None, None) => continue,
        };
        out.add(CODE, effect, || {
            let why = match limit.gives {
                BarkGives::Peels => "over that it may peel where the strap slips",
                BarkGives::WoodCrushed => "over that the wood under it may be crushed",
            };
            let season = match (limit.season_known, limit.season) {
                (false, _) => ", the season not being known",
                (true, Season::Growing) => " in the growing season",
                (true, Season::Dormant) => " in the dormant season",
            };
            let width = match &h.piece.kind {
                PieceKind::Strap(s) => s.width,
                _ => None,
            };
            let needed = width.map(|w| w * (p / limit.pressure));
            let wider = match needed {
                Some(w) if w <= WIDEST => format!("a strap of {}", say::length_up(w)),
                Some(_) => "two trees: no strap is wide enough for one".to_owned(),
                None => "a wider strap".to_owned(),
            };
            Words::new(
                &h.piece.id,
                format!(
                    "{} presses the bark of {} with {} {when}; the bark stands {}{season}: {why}.",
                    h.piece.id,
                    h.anchor,
                    say::pressure(p),
                    say::pressure_down(limit.pressure)
                ),
                format!("Take {wider}, or a thicker trunk; keep the direction of pull steady."),
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::gear::StrapUse;
    use unmire_model::ground::Season;
    use unmire_model::{Input, Pressure};

    fn with(work: f64, stall: f64, living: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(StrapUse::TreeStrap, 75.0));
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            let h = &mut f.hitches[0];
            (h.living, h.pressure_work, h.pressure_stall) =
                (living, Some(Pressure::from_mpa(work)), Some(Pressure::from_mpa(stall)));
        })
    }
    fn in_season(season: Option<Season>, work: f64) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(StrapUse::TreeStrap, 75.0));
        told(
            super::RULE,
            |c| c.ground.season = season.map(|s| Input::assumed(s, "test")),
            |_| {},
            |f| {
                f.hitches.push(hitch_of(&p));
                f.hitches[0].pressure_work = Some(Pressure::from_mpa(work));
            },
        )
    }
    #[test]
    fn too_much_at_work_is_a_caution_and_at_stall_a_note() {
        cautions(&with(1.0, 3.0, true));
        notes(&with(0.5, 3.0, true));
    }
    #[test]
    fn the_season_counts_and_an_unknown_one_is_the_growing_one() {
        // Conifer: 0.87 MPa in growth, 1.2 MPa dormant.
        cautions(&in_season(None, 1.0));
        cautions(&in_season(Some(Season::Growing), 1.0));
        nothing(&in_season(Some(Season::Dormant), 1.0));
        cautions(&in_season(Some(Season::Dormant), 1.3));
        let told = in_season(None, 1.3);
        // 75 mm · 1.3 / 0.8667.
        assert!(
            told[0].text.contains("season not being known") && told[0].remedy.contains("a strap of 0.12 m"),
            "{told:?}"
        );
        assert!(in_season(None, 9.0)[0].remedy.contains("no strap is wide enough"));
    }
    #[test]
    fn little_pressure_or_dead_wood_say_nothing() {
        nothing(&with(0.3, 0.8, true));
        nothing(&with(3.0, 5.0, false));
    }
}
