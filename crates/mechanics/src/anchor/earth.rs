//! The earth that an anchor is built in: what the field tables and the earth pressure grant it, with the range that ignorance makes.

use crate::error::{MechanicsError, between, not_negative, positive};
use crate::standing::Warning;
use unmire_model::anchor::Earth;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Pressure, Range};
use unmire_tables::generated as g;
use unmire_tables::{How, row};

/// What an earth grants to anchors in it.
#[derive(Clone, Debug, PartialEq)]
pub struct EarthStrength {
    /// Key of its soil.
    pub key: &'static str,
    /// Its name for people.
    pub name: &'static str,
    /// Factor on what pickets hold in loam.
    pub picket: Range<f64>,
    /// Factor on a deadman's holding power in loam.
    pub deadman: Range<f64>,
    /// Angle of internal friction, where it resists by friction.
    pub friction: Option<Range<Angle>>,
    /// Undrained shear strength, where it resists by cohesion.
    pub cohesion: Option<Range<Pressure>>,
    /// Weight of a cubic metre, newtons.
    pub weight: Range<f64>,
    /// Row of the foundation friction for what stands on it.
    pub foundation: &'static str,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// A number of the rules for anchors of rock and earth.
pub(crate) fn rule(key: &'static str) -> Result<f64, MechanicsError> {
    row(g::made_rule::ROWS, key).map(|r| r.value).ok_or_else(|| MechanicsError::UnknownKey {
        table: "rules for made anchors",
        key: key.to_owned(),
        known: g::made_rule::ROWS.iter().map(|r| r.key).collect(),
    })
}

/// The factors at the low and at the high end on a figure, one unless it is recalled only.
pub(crate) fn doubt(how: How) -> Result<(f64, f64), MechanicsError> {
    if how == How::Memory { Ok((rule("memory_low")?, rule("memory_high")?)) } else { Ok((1.0, 1.0)) }
}

/// A factor of a soil: as printed, and how it is known.
type Factor = (f64, How);

fn picket_factor(key: &str) -> Result<Factor, MechanicsError> {
    row(g::picket_soil::ROWS, key).map(|r| (r.factor, r.how)).ok_or_else(|| MechanicsError::UnknownKey {
        table: "picket soils",
        key: key.to_owned(),
        known: g::picket_soil::ROWS.iter().map(|r| r.key).collect(),
    })
}

fn deadman_factor(key: &str) -> Result<Factor, MechanicsError> {
    row(g::deadman_soil::ROWS, key).map(|r| (r.factor, r.how)).ok_or_else(|| MechanicsError::UnknownKey {
        table: "deadman soils",
        key: key.to_owned(),
        known: g::deadman_soil::ROWS.iter().map(|r| r.key).collect(),
    })
}

/// From the worst to the best row; likely is their middle, but never better than loam, and a recalled factor never makes the high end
/// better than loam. Saturated: no better than wet soil, but at the high end.
fn factor_range(low: Factor, high: Factor, wet: Factor, saturated: bool) -> Result<Range<f64>, MechanicsError> {
    let at_low = |f: Factor| Ok::<f64, MechanicsError>(f.0 * doubt(f.1)?.0);
    let (mut worst, mut likely) = (at_low(low)?, 0.5 * (low.0 + high.0.min(1.0)));
    if saturated {
        worst = worst.min(at_low(wet)?);
        likely = likely.min(wet.0);
    }
    let best = (high.0 * doubt(high.1)?.1).min(high.0.max(1.0));
    Ok(Range::hull(worst, likely, best))
}

/// What an earth grants. A friction angle or a shear strength that somebody measured goes before the soil's row, and says at the
/// same time how the soil resists; both measured: the weaker counts. Saturated ground weighs what it weighs under water and has no
/// more than the low end of its undrained strength, but at the high end.
///
/// # Source
/// Table `anchor_soil`, each row its own; factors from `picket_soil` and `deadman_soil`. A factor from memory counts with less at
/// the low end and more at the high end (`own-judgement`, table `made_rule`).
///
/// # Errors
/// If the soil is in no row, or a measured value is not in order: friction 10° to 50°, strength 1 to 500 kPa.
pub fn earth_strength(
    earth: &Earth,
    saturated: bool,
    rec: &mut impl Recorder,
) -> Result<EarthStrength, MechanicsError> {
    let key = earth.soil.value.as_str();
    let r = row(g::anchor_soil::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "soils for anchors",
        key: key.to_owned(),
        known: g::anchor_soil::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let mut warnings = Vec::new();
    if r.key == "unknown" {
        warnings.push(Warning::new("anchor-soil-unknown", "the soil is not known: the poorest counts at the low end"));
    }
    if saturated {
        warnings.push(Warning::new(
            "anchor-soil-saturated",
            "the ground is saturated: the soil counts with its weight under water and with the factors of wet soil",
        ));
    }
    let pickets = [picket_factor(r.picket_low)?, picket_factor(r.picket_high)?, picket_factor("river_clay_or_sand")?];
    let picket = factor_range(pickets[0], pickets[1], pickets[2], saturated)?;
    let buried =
        [deadman_factor(r.deadman_low)?, deadman_factor(r.deadman_high)?, deadman_factor("fine_wet_or_sandy")?];
    let deadman = factor_range(buried[0], buried[1], buried[2], saturated)?;

    let of_row = earth.friction_angle.is_none() && earth.cohesion.is_none();
    let friction = match (&earth.friction_angle, r.friction_low, r.friction_likely, r.friction_high) {
        (Some(measured), ..) => Some(measured.value),
        (None, Some(low), Some(likely), Some(high)) if of_row => Some(Range::hull(low, likely, high)),
        _ => None,
    };
    for a in friction.iter().flat_map(Range::values) {
        between("the friction angle", a.as_deg(), 10.0, 50.0, "10° to 50°, for example 30°")?;
    }
    let cohesion = match (&earth.cohesion, r.cohesion_low, r.cohesion_likely, r.cohesion_high) {
        (Some(measured), ..) => Some(measured.value),
        (None, Some(low), Some(likely), Some(high)) if of_row => Some(Range::hull(low, likely, high)),
        _ => None,
    }
    .map(|c| if saturated { Range::hull(c.low(), c.low(), c.high()) } else { c });
    for c in cohesion.iter().flat_map(Range::values) {
        between("the undrained strength", c.as_kpa(), 1.0, 500.0, "1 to 500 kPa, for example 25 kPa")?;
    }
    let kilo = 1000.0;
    let under_water = r.weight_under_water * kilo;
    let (low, high) = (r.weight_low * kilo, r.weight_high * kilo);
    let weight = if saturated {
        Range::hull(under_water.min(low), under_water.min(low), high)
    } else {
        Range::hull(low, 0.5 * (low + high), high)
    };
    let origin = || Origin::Table { table: "anchor_soil", row: r.key.to_owned(), source: r.source };
    rec.record(|| {
        let step =
            Step::range("weight of the soil, N/m³", "γ", "from its row; under water if saturated", &weight, r.source)
                .input("saturated", f64::from(u8::from(saturated)), Dimension::Count, Origin::Earlier);
        let step = match &friction {
            Some(f) => {
                step.input_range("φ", f, earth.friction_angle.as_ref().map_or_else(origin, |i| i.origin.clone()))
            }
            None => step,
        };
        match &cohesion {
            Some(c) => step.input_range("c", c, earth.cohesion.as_ref().map_or_else(origin, |i| i.origin.clone())),
            None => step,
        }
        .note(r.note)
    });
    Ok(EarthStrength {
        key: r.key,
        name: r.name,
        picket,
        deadman,
        friction,
        cohesion,
        weight,
        foundation: r.foundation,
        warnings,
    })
}

/// Coefficient of passive earth pressure: `Kp = tan²(45° + φ/2)`.
///
/// # Source
/// `rankine`.
///
/// # Errors
/// If the friction angle is not between 0° and 50°.
pub fn passive_coefficient(friction: Angle) -> Result<f64, MechanicsError> {
    let t = libm::tan(core::f64::consts::FRAC_PI_4 + 0.5 * in_reach(friction)?);
    Ok(t * t)
}

/// Coefficient of active earth pressure: `Ka = tan²(45° − φ/2)`.
///
/// # Source
/// `rankine`.
///
/// # Errors
/// If the friction angle is not between 0° and 50°.
pub fn active_coefficient(friction: Angle) -> Result<f64, MechanicsError> {
    let t = libm::tan(core::f64::consts::FRAC_PI_4 - 0.5 * in_reach(friction)?);
    Ok(t * t)
}

fn in_reach(friction: Angle) -> Result<f64, MechanicsError> {
    between("the friction angle", friction.as_deg(), 0.0, 50.0, "0° to 50°, for example 30°")?;
    Ok(friction.as_rad())
}

/// Pull at which a strip in soil with friction gives: `T = ½ γ (Kp − Ka)(d₂² − d₁²) B`. γ weight of the soil in N/m³, d₁ and d₂
/// depth of its upper and lower edge, B its breadth across the pull. With d₁ = 0 it is a plate that reaches the surface.
///
/// # Source
/// `rankine`; level ground, smooth wall, level pull, no gain at the ends.
///
/// # Errors
/// If weight or breadth are not greater than zero, the upper edge is above the ground or not above the lower one, or the friction
/// angle is out of reach.
pub fn strip_in_sand(
    weight: f64,
    friction: Angle,
    top: Length,
    bottom: Length,
    breadth: Length,
) -> Result<Force, MechanicsError> {
    let w = positive("the weight of the soil", weight, "greater than zero, for example 17 000 N/m³")?;
    let (d1, d2) = edges(top, bottom)?;
    let b = positive("the breadth of the face", breadth.as_m(), "greater than zero")?;
    let k = passive_coefficient(friction)? - active_coefficient(friction)?;
    Ok(Force::from_n(0.5 * w * k * (d2 * d2 - d1 * d1) * b))
}

/// Whether a plate counts as reaching the surface: its upper edge not deeper than half of its lower one.
///
/// # Source
/// `plate-anchor-rules`, memory.
#[must_use]
pub fn counts_as_full_height(top: Length, bottom: Length) -> bool {
    top <= bottom * 0.5
}

/// Pull at which a plate in clay gives, undrained: `T = k c B h`, with k = 4 for a strip near the surface, 9 deep down. c undrained
/// strength, B breadth, h height of the face.
///
/// # Source
/// `plate-anchor-rules`, memory.
///
/// # Errors
/// If an input is not greater than zero.
pub fn plate_in_clay(
    factor: f64,
    cohesion: Pressure,
    breadth: Length,
    height: Length,
) -> Result<Force, MechanicsError> {
    let k = positive("the factor of the plate", factor, "4 near the surface, 9 deep down")?;
    let c = positive("the undrained strength", cohesion.as_pa(), "greater than zero, for example 25 kPa")?;
    let b = positive("the breadth of the face", breadth.as_m(), "greater than zero")?;
    let h = positive("the height of the face", height.as_m(), "greater than zero")?;
    Ok(Force::from_n(k * c * b * h))
}

/// The edges of a face under the ground, in metres.
fn edges(top: Length, bottom: Length) -> Result<(f64, f64), MechanicsError> {
    let d1 = not_negative("the depth of the upper edge", top.as_m(), "zero or more: the face lies under the ground")?;
    let d2 = positive("the depth of the lower edge", bottom.as_m(), "greater than zero")?;
    if d2 > d1 {
        Ok((d1, d2))
    } else {
        Err(MechanicsError::BadInput {
            what: "the depth of the lower edge",
            got: d2,
            expected: "deeper than the upper edge",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;
    use unmire_model::trail::{Input, Trail};

    fn earth(soil: &str) -> Earth {
        Earth { soil: Input::assumed(soil.to_owned(), "test"), friction_angle: None, cohesion: None }
    }

    #[test]
    fn closed_form_every_soil_resolves_and_is_no_stronger_when_saturated() {
        for r in g::anchor_soil::ROWS {
            assert!(row(g::foundation_friction::ROWS, r.foundation).is_some(), "{}", r.key);
            let dry = earth_strength(&earth(r.key), false, &mut Silent).unwrap();
            let wet = earth_strength(&earth(r.key), true, &mut Silent).unwrap();
            assert!(dry.picket.high() <= 1.0, "{}", r.key);
            assert!(dry.friction.is_some() || dry.cohesion.is_some(), "{}", r.key);
            for (d, w) in [(&dry.picket, &wet.picket), (&dry.deadman, &wet.deadman), (&dry.weight, &wet.weight)] {
                assert!(w.low() <= d.low() && w.likely() <= d.likely() && w.high() <= d.high(), "{}", r.key);
            }
        }
    }

    #[test]
    fn closed_form_factors_from_memory_are_wider_than_printed() {
        let sand = earth_strength(&earth("dry_sand"), false, &mut Silent).unwrap();
        assert_eq!(sand.picket.values(), [0.4, 0.5, 0.625]);
        let loam = earth_strength(&earth("loam"), false, &mut Silent).unwrap();
        assert_eq!(loam.picket.values(), [1.0; 3]);
        let hard = earth_strength(&earth("hardpan_or_rock"), false, &mut Silent).unwrap();
        assert_eq!(hard.deadman.values(), [1.0, 1.0, 5.0]);
    }

    #[test]
    fn closed_form_a_measured_strength_says_how_the_soil_resists() {
        let mut e = earth("loam");
        e.cohesion = Some(Input::assumed(Range::exact(Pressure::from_kpa(30.0)).unwrap(), "test"));
        let s = earth_strength(&e, false, &mut Silent).unwrap();
        assert!(s.friction.is_none() && s.cohesion.unwrap().low() == Pressure::from_kpa(30.0));
        e.cohesion = Some(Input::assumed(Range::exact(Pressure::from_kpa(600.0)).unwrap(), "test"));
        assert!(earth_strength(&e, false, &mut Silent).is_err());
        assert!(earth_strength(&earth("moon dust"), false, &mut Silent).is_err());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_earth() {
        let mut trail = Trail::default();
        let silent = earth_strength(&earth("unknown"), true, &mut Silent).unwrap();
        assert_eq!(earth_strength(&earth("unknown"), true, &mut trail).unwrap(), silent);
        assert_eq!(trail.steps.len(), 1);
    }
}
