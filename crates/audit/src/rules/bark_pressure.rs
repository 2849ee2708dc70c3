//! Pressure on living bark.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::Pressure;
use unmire_tables::generated::bark_limit;

const CODE: &str = "bark-pressure";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Pressure on living bark",
    checks: "The pressure of the strap on the bark at work and at stall, against what the bond of bark and wood stands if the strap drags the bark with it.",
    why: "In spring and early summer the bark peels at about half the shear of winter. The season is not asked, so that the growing one counts.",
    example: "20 kN in a basket of 75 mm round a trunk of 200 mm: 1.3 MPa, over the 0.9 MPa suggested for a conifer in growth.",
    to_do: "Take a wider strap, a thicker trunk or two trees. Keep the strap from slipping: the direction of pull should not swing.",
    grade: Grade::Published,
    sources: &["vilkovsky-2022", "own-judgement"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in facts.hitches.iter().filter(|h| h.living) {
        let broadleaf = find::trees(facts).any(|(a, t)| a.id == h.anchor && t.conifer == Some(false));
        let key = if broadleaf { "broadleaf" } else { "conifer_growing" };
        let Some(limit) = bark_limit::ROWS.iter().find(|r| r.key == key).map(|r| r.pressure) else { continue };
        let over = |p: Option<Pressure>| p.filter(|p| find::above(*p, limit));
        let (effect, p, when) = match (over(h.pressure_work), over(h.pressure_stall)) {
            (Some(p), _) => (Effect::Caution, p, "at work"),
            (None, Some(p)) => (Effect::Note, p, "at stall"),
            (None, None) => continue,
        };
        out.add(CODE, effect, || {
            Words::new(
                &h.piece.id,
                format!(
                    "{} presses the bark of {} with {} {when}; {} is suggested where a strap may slip.",
                    h.piece.id,
                    h.anchor,
                    say::pressure(p),
                    say::pressure(limit)
                ),
                "Take a wider strap, a thicker trunk or two trees; keep the direction of pull steady.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::Pressure;
    use unmire_model::gear::StrapUse;

    fn with(work: f64, stall: f64, living: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", strap(StrapUse::TreeStrap, 75.0));
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            let h = &mut f.hitches[0];
            (h.living, h.pressure_work, h.pressure_stall) =
                (living, Some(Pressure::from_mpa(work)), Some(Pressure::from_mpa(stall)));
        })
    }
    #[test]
    fn too_much_at_work_is_a_caution_and_at_stall_a_note() {
        cautions(&with(1.0, 3.0, true));
        notes(&with(0.5, 3.0, true));
    }
    #[test]
    fn little_pressure_or_dead_wood_say_nothing() {
        nothing(&with(0.3, 0.8, true));
        nothing(&with(3.0, 5.0, false));
    }
}
