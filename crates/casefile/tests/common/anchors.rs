//! Invented anchors of every kind, with whatever of their keys chance gives them.

use super::{Dice, input, maybe};
use unmire_model::anchor::{
    AnchorKind, Boulder, BoulderSigns, Deadman, DeadmanShape, Earth, Pickets, Plates, RockBolts, Rooting, SoilGroup,
    Stakes, Stump, StumpSigns, Tree, TreeSigns,
};
use unmire_model::trail::Input;
use unmire_model::{Angle, Force, Length, Mass, Pressure, Range, Time};

fn earth_unlined(e: &mut Earth) {
    input(&mut e.soil);
    maybe(&mut e.friction_angle);
    maybe(&mut e.cohesion);
}

/// Every line number zero.
pub fn unlined(kind: &mut AnchorKind) {
    match kind {
        AnchorKind::Tree(t) => {
            input(&mut t.diameter);
            maybe(&mut t.height);
        }
        AnchorKind::Stump(s) => {
            input(&mut s.diameter);
            maybe(&mut s.height);
            maybe(&mut s.felled_ago);
        }
        AnchorKind::Boulder(b) => {
            maybe(&mut b.mass);
            b.size.iter_mut().flatten().for_each(input);
            maybe(&mut b.on);
            maybe(&mut b.buried);
            b.earth.iter_mut().for_each(earth_unlined);
        }
        AnchorKind::RockBolts(b) => {
            input(&mut b.rock);
            input(&mut b.hole);
            input(&mut b.bond);
            maybe(&mut b.bar);
            maybe(&mut b.proof);
        }
        AnchorKind::Pickets(p) => {
            input(&mut p.driven);
            maybe(&mut p.spacing);
            earth_unlined(&mut p.earth);
        }
        AnchorKind::Deadman(d) => {
            match &mut d.shape {
                DeadmanShape::Log { diameter, length } => {
                    input(diameter);
                    input(length);
                }
                DeadmanShape::Beam { face, length } => {
                    input(face);
                    input(length);
                }
                DeadmanShape::Wheel { diameter } => input(diameter),
            }
            input(&mut d.depth);
            input(&mut d.line_rise);
            earth_unlined(&mut d.earth);
            maybe(&mut d.own_strength);
        }
        AnchorKind::Plates(p) => {
            maybe(&mut p.proof);
            maybe(&mut p.depth);
            p.earth.iter_mut().for_each(earth_unlined);
        }
        AnchorKind::Made { .. } | AnchorKind::Other { .. } => {}
    }
}

/// How high a strap may lie on it, metres; what has no top says infinity.
pub fn top(kind: &AnchorKind) -> f64 {
    let top = match kind {
        AnchorKind::Tree(t) => t.height.as_ref().map(|h| h.value.high()),
        AnchorKind::Stump(s) => s.height.as_ref().map(|h| h.value),
        AnchorKind::Boulder(b) => b
            .size
            .as_ref()
            .map(|[.., height]| height.value.high() - b.buried.as_ref().map_or(Length::ZERO, |d| d.value.low())),
        _ => None,
    };
    top.map_or(f64::INFINITY, Length::as_m)
}

fn earth(d: &mut Dice) -> Earth {
    let soil = d.pick(&["loam", "firm_clay", "wet_sand", "gravel", "unknown"]);
    let clay = soil.contains("clay");
    let loose = soil.contains("sand") || soil.contains("gravel");
    Earth {
        soil: d.input(soil.to_owned()),
        friction_angle: if clay { None } else { d.maybe(|d| d.range::<Angle>(0.3, 0.7)) },
        cohesion: if loose { None } else { d.maybe(|d| d.range::<Pressure>(5_000.0, 200_000.0)) },
    }
}

fn force(d: &mut Dice, low: f64, high: f64) -> Input<Force> {
    let v = Force::from_n(d.between(low, high));
    d.input(v)
}
fn length(d: &mut Dice, low: f64, high: f64) -> Input<Length> {
    let v = d.length(low, high);
    d.input(v)
}

fn roots(d: &mut Dice) -> (SoilGroup, Rooting) {
    let soils = [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat, SoilGroup::Unknown];
    (d.pick(&soils), d.pick(&[Rooting::Shallow, Rooting::Medium, Rooting::Deep]))
}

fn tree(d: &mut Dice) -> Tree {
    let (soil, rooting) = roots(d);
    Tree {
        species: d.maybe(|d| d.pick(&["oak", "scots_pine"]).to_owned()),
        conifer: d.maybe(Dice::yes),
        diameter: d.range::<Length>(0.1, 1.2),
        height: d.maybe(|d| d.range::<Length>(3.0, 40.0)),
        soil,
        rooting,
        signs: TreeSigns {
            dead: d.maybe(Dice::yes),
            leaning: d.maybe(Dice::yes),
            fungus: d.maybe(Dice::yes),
            cavity: d.maybe(Dice::yes),
            lifted_roots: d.maybe(Dice::yes),
            bank_edge: d.maybe(Dice::yes),
            flooded: d.maybe(Dice::yes),
            frozen_top: d.maybe(Dice::yes),
        },
    }
}

fn stump(d: &mut Dice) -> Stump {
    let (soil, rooting) = roots(d);
    Stump {
        species: d.maybe(|d| d.pick(&["oak", "scots_pine"]).to_owned()),
        conifer: d.maybe(Dice::yes),
        diameter: d.range::<Length>(0.1, 1.0),
        height: d.maybe(|d| length(d, 0.3, 2.0)),
        felled_ago: d.maybe(|d| {
            // Whole years half of the time, so that these are written as such.
            let years = Time::from_year(d.below(30) as f64);
            if d.yes() { d.input(Range::exact(years).unwrap()) } else { d.range::<Time>(0.0, 1e9) }
        }),
        soil,
        rooting,
        signs: StumpSigns {
            rotten: d.maybe(Dice::yes),
            split: d.maybe(Dice::yes),
            lifted_roots: d.maybe(Dice::yes),
            bank_edge: d.maybe(Dice::yes),
            flooded: d.maybe(Dice::yes),
            frozen_top: d.maybe(Dice::yes),
        },
    }
}

fn boulder(d: &mut Dice) -> Boulder {
    Boulder {
        radius: d.length(0.2, 2.0),
        mass: d.maybe(|d| d.range::<Mass>(200.0, 4000.0)),
        size: d.maybe(|d| [(); 3].map(|()| d.range::<Length>(0.9, 3.0))),
        on: d.maybe(|d| {
            let on = d.pick(&["gravel_coarse_sand", "sound_rock"]).to_owned();
            d.input(on)
        }),
        buried: d.maybe(|d| d.range::<Length>(0.0, 0.6)),
        earth: d.maybe(earth),
        signs: BoulderSigns { rocks: d.maybe(Dice::yes), cracked: d.maybe(Dice::yes), undercut: d.maybe(Dice::yes) },
    }
}

fn rock_bolts(d: &mut Dice) -> RockBolts {
    let rock = d.pick(&["limestone", "granite_or_basalt"]).to_owned();
    RockBolts {
        count: 1 + d.below(6) as u32,
        rock: d.input(rock),
        hole: d.range::<Length>(0.02, 0.1),
        bond: d.range::<Length>(0.2, 2.0),
        bar: d.maybe(|d| force(d, 60_000.0, 300_000.0)),
        grouted: d.maybe(Dice::yes),
        proof: d.maybe(|d| force(d, 1_000.0, 60_000.0)),
    }
}

fn deadman(d: &mut Dice) -> Deadman {
    let shape = match d.below(3) {
        0 => DeadmanShape::Log { diameter: d.range::<Length>(0.1, 0.6), length: d.range::<Length>(0.5, 3.0) },
        1 => DeadmanShape::Beam { face: d.range::<Length>(0.1, 0.6), length: d.range::<Length>(0.5, 3.0) },
        _ => DeadmanShape::Wheel { diameter: d.range::<Length>(0.6, 1.2) },
    };
    let rise = d.between(0.0, 60.0);
    let rise = d.pick(&[Angle::ZERO, Angle::from_deg(rise), Angle::of_grade(0.25)]);
    Deadman {
        shape,
        depth: d.range::<Length>(0.6, 3.0),
        line_rise: d.input(rise),
        earth: earth(d),
        own_strength: d.maybe(|d| force(d, 1_000.0, 100_000.0)),
    }
}

/// One anchor's kind.
pub fn kind(d: &mut Dice) -> AnchorKind {
    match d.below(9) {
        0 => AnchorKind::Tree(tree(d)),
        1 => AnchorKind::Stump(stump(d)),
        2 => AnchorKind::Boulder(boulder(d)),
        3 => AnchorKind::RockBolts(rock_bolts(d)),
        4 => AnchorKind::Pickets(Pickets {
            stakes: d.pick(&[Stakes::Wood, Stakes::Steel]),
            rows: (0..1 + d.below(5)).map(|_| 1 + d.below(9) as u32).collect(),
            driven: d.range::<Length>(0.4, 1.2),
            spacing: d.maybe(|d| length(d, 0.5, 2.0)),
            earth: earth(d),
        }),
        5 => AnchorKind::Deadman(deadman(d)),
        6 => AnchorKind::Plates(Plates {
            what: d.text(),
            count: 1 + d.below(8) as u32,
            proof: d.maybe(|d| force(d, 1_000.0, 60_000.0)),
            depth: d.maybe(|d| length(d, 0.2, 2.0)),
            earth: d.maybe(earth),
        }),
        7 => AnchorKind::Made { what: d.text() },
        _ => AnchorKind::Other { what: d.text(), radius: d.maybe(|d| d.length(0.2, 2.0)) },
    }
}
