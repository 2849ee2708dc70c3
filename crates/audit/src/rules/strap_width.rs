//! Width of a strap on living bark.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::Length;
use unmire_model::gear::{Material, PieceKind};

const CODE: &str = "strap-width";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Width of a strap on living bark",
    checks: "Straps round living trees that are narrower than 75 mm (3 in), and slings and ropes without a flat width. Wire rope and chain on living bark are refused.",
    why: "Under the bark lies what feeds the tree; a narrow strap crushes it, and damage all round kills. No standard with a figure was found: 75 mm and 100 mm are what the trade uses, not traced to any. The pressure of the strap is checked besides.",
    example: "A 50 mm strap round a birch.",
    to_do: "Take a wider strap, pad the trunk, or use another anchor. Never bare wire or chain.",
    grade: Grade::CommonPractice,
    sources: &["common-practice"],
    look: Look::Condition(check),
};

/// 75 mm, which people who think in inches call three. Common practice.
const LEAST: Length = Length::from_mm(75.0);

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for h in facts.hitches.iter().filter(|h| h.living) {
        let width = match &h.piece.kind {
            PieceKind::Strap(s) => s.width,
            _ => None,
        };
        let metal = match &h.piece.kind {
            PieceKind::Strap(s) => matches!(s.material, Material::SteelWire | Material::Chain),
            PieceKind::Rope(r) => matches!(r.material, Material::SteelWire | Material::Chain),
            _ => false,
        };
        if metal {
            out.add(CODE, Effect::Bars, || {
                Words::new(
                    &h.piece.id,
                    format!(
                        "{} is wire or chain on the living bark of {}: it cuts to the wood all round.",
                        h.piece.id, h.anchor
                    ),
                    "Take a flat strap of textile. A sleeve does not make wire wide.",
                )
            });
            continue;
        }
        if width.is_some_and(|w| w >= LEAST) {
            continue;
        }
        out.add(CODE, Effect::Caution, || {
            let how = width.map_or_else(|| "has no flat width".to_owned(), |w| format!("is {} wide", say::length(w)));
            Words::new(
                &h.piece.id,
                format!(
                    "{} {how} on the living bark of {}; the trade uses at least 75 mm (3 in).",
                    h.piece.id, h.anchor
                ),
                "Take a wider strap or pad the trunk.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::testkit::*;
    use unmire_model::gear::{Material, PieceKind, StrapUse};

    fn with(kind: PieceKind, living: bool) -> Vec<crate::verdict::Finding> {
        let p = piece("S1", kind);
        said(super::RULE, |f| {
            f.hitches.push(hitch_of(&p));
            f.hitches[0].living = living;
        })
    }
    #[test]
    fn a_narrow_strap_on_living_bark_is_told() {
        cautions(&with(strap(StrapUse::TreeStrap, 50.0), true));
        let mut round = strap(StrapUse::RoundSling, 0.0);
        if let PieceKind::Strap(s) = &mut round {
            s.width = None;
        }
        cautions(&with(round, true));
    }
    #[test]
    fn wire_and_chain_are_refused_on_living_bark_only() {
        for material in [Material::SteelWire, Material::Chain] {
            let mut wire = strap(StrapUse::TreeStrap, 100.0);
            if let PieceKind::Strap(s) = &mut wire {
                s.material = material;
            }
            bars(&with(wire.clone(), true));
            nothing(&with(wire, false));
        }
    }
    #[test]
    fn three_inches_or_dead_wood_are_not() {
        nothing(&with(strap(StrapUse::TreeStrap, 75.0), true));
        nothing(&with(strap(StrapUse::TreeStrap, 50.0), false));
    }
}
