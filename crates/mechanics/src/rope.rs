//! Ropes, straps and chain: how much they stretch, what bends, ends, water and knots take, what they weigh.

use crate::error::{MechanicsError, positive};
use crate::lookup;
use unmire_model::gear::{Material, StrapUse};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Force, Length, Mass, Range, Recorder};
use unmire_tables::hardware::{self, Within};

/// Share of its straight strength that wet nylon keeps. Source keys `ufc-4-159-03` Table 6-8 note and `tb-55-1900-232-10`
/// Table 5-4 note 4, read.
pub const WET_NYLON: f64 = 0.85;

/// Relative fatigue life of wire rope by D/d. Source key `sheave-strength-page`, secondary.
const FATIGUE_LIFE: [(f64, f64); 7] =
    [(30.0, 10.0), (25.0, 6.6), (20.0, 3.8), (18.0, 2.9), (16.0, 2.1), (14.0, 1.5), (12.0, 1.1)];

/// A knot in a rope or strap: refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KnotRefused;

/// What a knot leaves of a rope: nothing is granted. Published figures (45 to 75 per cent) are from natural and older fibres;
/// high-modulus rope may slip out before it breaks.
///
/// # Source
/// `knot-handbook` (secondary) for the figures; refusing them: `own-judgement`.
///
/// # Errors
/// Always: a knotted rope is out.
pub fn knot_factor() -> Result<f64, KnotRefused> {
    Err(KnotRefused)
}

/// Stiffness EA ÷ least breaking strength of a rope or a strap by its material: force at which it would be stretched by its own
/// length, as a multiple of its strength.
///
/// # Source
/// Tables `rope_stiffness` and `strap_stretch` (a fifth of the strength ÷ stretch there); each row has its own.
///
/// # Errors
/// For chain and unknown materials: there is no such row.
///
/// # Assumes
/// Linear response; nylon is far from linear, so its band is wide.
pub fn stiffness_ratio(material: Material, use_of: Option<StrapUse>) -> Result<Range<f64>, MechanicsError> {
    lookup::stiffness_ratio(material, use_of).ok_or(MechanicsError::Missing {
        what: "the stiffness of this material",
        help: "state the stretch at the rating, for example stretch = 3 %",
    })
}

/// Stiffness EA of a rope or a strap: from its printed stretch (`rating / stretch`) if it is known, else from its material
/// and strength.
///
/// # Source
/// `statics` with the label's stretch; else as [`stiffness_ratio`].
///
/// # Errors
/// If strength or stretch is not greater than zero, or the material has no row.
pub fn stiffness(
    material: Material,
    use_of: Option<StrapUse>,
    breaking: Force,
    printed_stretch: Option<(Force, f64)>,
    rec: &mut impl Recorder,
) -> Result<Range<Force>, MechanicsError> {
    if let Some((rating, stretch)) = printed_stretch {
        let e = positive("the stretch at the rating", stretch, "a fraction greater than zero, for example 3 %")?;
        let f = positive("the rating", rating.as_n(), "a force greater than zero")?;
        let ea = Force::from_n(f / e);
        rec.record(|| {
            Step::new("stiffness", "EA", "EA = rating / stretch", ea.as_n(), Dimension::Force, "statics")
                .input("rating", f, Dimension::Force, Origin::Earlier)
                .input("stretch", e, Dimension::Ratio, Origin::Earlier)
        });
        return Range::exact(ea).map_err(|_| MechanicsError::BadInput {
            what: "the stiffness",
            got: ea.as_n(),
            expected: "an ordinary number",
        });
    }
    let b = positive("the breaking strength", breaking.as_n(), "a force greater than zero")?;
    let ratio = stiffness_ratio(material, use_of)?;
    let ea = ratio.increasing(|k| Force::from_n(k * b));
    rec.record(|| {
        Step::range("stiffness", "EA", "EA = k · breaking strength, k by material", &ea, "derived")
            .input_range("k", &ratio, Origin::Constant("derived"))
            .input("MBS", b, Dimension::Force, Origin::Earlier)
    });
    Ok(ea)
}

/// Share of its straight strength that a wire rope keeps over a sheave or a pin of this diameter ÷ rope diameter. Between rows
/// linear; under the first row (1) nothing is granted; above the last (40) the last row.
///
/// # Source
/// Table `wire_bend`: `wire-rope-users-manual-dd` (secondary, three reprints); interpolation: derived.
///
/// # Errors
/// If the ratio is under 1 or not an ordinary number.
pub fn wire_bend_factor(d_over_d: f64, rec: &mut impl Recorder) -> Result<f64, MechanicsError> {
    let (factor, within) = hardware::bend_strength(d_over_d).ok_or(MechanicsError::BadInput {
        what: "sheave diameter ÷ rope diameter",
        got: d_over_d,
        expected: "1 or more, for example 10",
    })?;
    rec.record(|| {
        let s = Step::new(
            "strength left of a wire rope in the bend",
            "b",
            "b by D/d, linear between rows",
            factor,
            Dimension::Ratio,
            "wire-rope-users-manual-dd",
        )
        .input("D/d", d_over_d, Dimension::Ratio, Origin::Earlier);
        match within {
            Within::Kept => s.note("above the table: its greatest row is kept"),
            Within::Inside | Within::Unknown => s,
        }
    });
    Ok(factor)
}

/// Fatigue life of a wire rope at one D/d ÷ that at another, from the relative-life table, linear between rows.
///
/// # Source
/// `sheave-strength-page` (secondary, three suppliers); interpolation: derived.
///
/// # Errors
/// Outside 12 to 30.
pub fn wire_fatigue_ratio(better: f64, worse: f64) -> Result<f64, MechanicsError> {
    Ok(fatigue_life(better)? / fatigue_life(worse)?)
}

fn fatigue_life(d_over_d: f64) -> Result<f64, MechanicsError> {
    for pair in FATIGUE_LIFE.windows(2) {
        if let [(r1, life1), (r0, life0)] = *pair
            && d_over_d <= r1
            && d_over_d >= r0
        {
            return Ok(life0 + (d_over_d - r0) / (r1 - r0) * (life1 - life0));
        }
    }
    Err(MechanicsError::BadInput { what: "sheave diameter ÷ rope diameter", got: d_over_d, expected: "12 to 30" })
}

/// The least bend that a fibre rope should have: pin or sheave diameter ÷ rope diameter.
///
/// # Source
/// Table `dd_fibre`: static `trade-winch-texts` (secondary), running `recollection` (memory). No strength table was found.
#[must_use]
pub fn fibre_least_bend(running: bool) -> f64 {
    lookup::fibre_least_bend(running)
}

/// Share of its strength that nylon keeps when wet; other materials keep all.
///
/// # Source
/// [`WET_NYLON`]: `ufc-4-159-03`, `tb-55-1900-232-10`, read. Other materials: no figure was found.
#[must_use]
pub fn wet_factor(material: Material, wet: bool) -> f64 {
    if wet && material == Material::Nylon { WET_NYLON } else { 1.0 }
}

/// Share of a rope's nominal strength that its end keeps.
///
/// # Source
/// Table `termination`: `tm-5-3810-305-10` Table 4 (read) and others.
///
/// # Errors
/// If the key is in no row, or the row has no figure for that core.
pub fn termination_factor(key: &str, fibre_core: bool) -> Result<f64, MechanicsError> {
    let r = lookup::termination(key)?;
    let share = if fibre_core { r.fibre_core } else { r.steel_core };
    share.ok_or(MechanicsError::Missing {
        what: "the share that this end keeps on this rope",
        help: "take another row of the table of rope terminations",
    })
}

/// Stiffness EA of steel wire rope from its diameter: `EA = k d²`.
///
/// # Source
/// Table `rope_stiffness` row `wire_6x19`: `seamanship-page` (secondary); high end from memory.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn wire_stiffness(diameter: Length) -> Result<Range<Force>, MechanicsError> {
    let d = positive("the diameter", diameter.as_m(), "greater than zero, for example 10 mm")?;
    Ok(lookup::wire_stiffness().increasing(|k| Force::from_n(k * d * d)))
}

/// Mass of one metre of rope by its diameter: a coefficient times d². Fibre ropes have one coefficient; steel wire spans the
/// fibre-core tables up to a tenth more for a steel core.
///
/// # Source
/// Table `fibre_fit`: `moorprops` (read). Wire: `api-9a` (read) and `wire-handbook-site` (secondary); a tenth for a steel core:
/// `recollection` (memory).
///
/// # Errors
/// If the diameter is not greater than zero or the material has no row.
pub fn mass_per_metre(material: Material, diameter: Length) -> Result<Range<Mass>, MechanicsError> {
    let d = positive("the diameter", diameter.as_m(), "greater than zero, for example 10 mm")?;
    let k = lookup::mass_coefficient(material)
        .ok_or(MechanicsError::Missing { what: "the mass of this material", help: "weigh it and state its mass" })?;
    Ok(k.increasing(|k| Mass::from_kg(k * d * d)))
}

/// Stretch of a member under a pull, linear: `δ = F L / EA`.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If EA is not greater than zero.
pub fn elongation(pull: Force, length: Length, ea: Force) -> Result<Length, MechanicsError> {
    let k = positive("the stiffness", ea.as_n(), "a force greater than zero")?;
    Ok(length * (pull.as_n() / k))
}

/// Breaking force of a steel wire rope by the European form: `MBF = K d² R / 1000` kN, d in mm, R the grade in MPa.
///
/// # Source
/// `en-12385-formula` (memory, agrees with `en-13414-1` Table 4 within −2.3 and +1.3 %).
///
/// # Errors
/// If an input is not greater than zero.
pub fn wire_breaking_force(diameter: Length, grade_mpa: f64, k: f64) -> Result<Force, MechanicsError> {
    let d = positive("the diameter", diameter.as_mm(), "greater than zero, for example 10 mm")?;
    let r = positive("the grade", grade_mpa, "greater than zero, for example 1770")?;
    let k = positive("the factor K", k, "greater than zero, for example 0.356")?;
    Ok(Force::from_n(k * d * d * r))
}

/// Breaking force of chain from its grade: `MBF = grade · 2 · π d² / 4`, the grade number ÷ 10 being MPa ÷ 100.
///
/// # Source
/// `chain-supplier-chart` (secondary); agrees with the printed limits.
///
/// # Errors
/// If an input is not greater than zero.
pub fn chain_breaking_force(grade: f64, diameter: Length) -> Result<Force, MechanicsError> {
    let g = positive("the grade", grade, "greater than zero, for example 80")?;
    let d = positive("the diameter", diameter.as_mm(), "greater than zero, for example 10 mm")?;
    Ok(Force::from_n(g * 10.0 * 2.0 * core::f64::consts::PI * d * d / 4.0))
}

/// The field rule for chain: 8 D² short tons, D the link's diameter in inches; implies a factor of six on breaking.
///
/// # Source
/// `fm-5-125` p. 3-2, read.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn chain_field_rule(diameter: Length) -> Result<Force, MechanicsError> {
    let d = positive("the link's diameter", diameter.as_inch(), "greater than zero, for example 3/4 in")?;
    Ok(Force::from_short_tonf(8.0 * d * d))
}

/// Circumference of fibre line for a lift, in inches: √(15 P), P in short tons.
///
/// # Source
/// `navedtra-14043`, read.
///
/// # Errors
/// If the load is not greater than zero.
pub fn fibre_line_circumference(load: Force) -> Result<Length, MechanicsError> {
    let p = positive("the load", load.as_short_tonf(), "greater than zero")?;
    Ok(Length::from_inch((15.0 * p).sqrt()))
}

/// Rule of thumb for the breaking strength of natural or nylon line: 900 C² pounds for manila, 2,400 C² for nylon, C the
/// circumference in inches.
///
/// # Source
/// `navedtra-builder`, strength of fibre line, read.
///
/// # Errors
/// If the circumference is not greater than zero.
pub fn fibre_line_strength(circumference: Length, nylon: bool) -> Result<Force, MechanicsError> {
    let c = positive("the circumference", circumference.as_inch(), "greater than zero, for example 3 in")?;
    Ok(Force::from_lbf(if nylon { 2400.0 } else { 900.0 } * c * c))
}

/// Wire rope clips for an eye: 3 D + 1, D in inches, rounded up, never under three.
///
/// # Source
/// `navedtra-14026` p. 1-8, read; the least of three: derived.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn wire_clips(diameter: Length) -> Result<u32, MechanicsError> {
    let d = positive("the diameter", diameter.as_inch(), "greater than zero, for example 1/2 in")?;
    if d > 10.0 {
        return Err(MechanicsError::BadInput { what: "the diameter", got: d, expected: "not over 10 in" });
    }
    let mut n = 3_u32;
    while f64::from(n) < 3.0 * d + 1.0 - 1e-9 {
        n += 1;
    }
    Ok(n)
}

/// Shell length of a wooden block for fibre line: three times the circumference.
///
/// # Source
/// `fm-55-501` 20-2, read.
#[must_use]
pub fn fibre_block_shell(circumference: Length) -> Length {
    circumference * 3.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    #[test]
    fn closed_form_printed_stretch_gives_the_stiffness() {
        let ea = stiffness(
            Material::Polyester,
            None,
            Force::from_kn(200.0),
            Some((Force::from_kn(40.0), 0.03)),
            &mut Silent,
        )
        .unwrap();
        assert!((ea.likely().as_kn() - 40.0 / 0.03).abs() < 1e-9);
    }

    #[test]
    fn closed_form_a_bend_under_one_is_refused_and_a_knot_too() {
        assert!(wire_bend_factor(0.9, &mut Silent).is_err());
        assert!(wire_bend_factor(f64::NAN, &mut Silent).is_err());
        assert!(knot_factor().is_err());
    }
}
