//! The stem: when it breaks in bending, when it shears.

use super::kind::{Kind, constant};
use crate::error::{MechanicsError, between, not_negative, positive};
use crate::standing::Warning;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Moment, Pressure, Range};

const PI: f64 = core::f64::consts::PI;

/// Section modulus of a round stem in m³: `Z = π d³ / 32`, d inside the bark.
///
/// # Source
/// `statics` (beam theory), closed form.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn section_modulus(diameter: Length) -> Result<f64, MechanicsError> {
    let d = positive("the stem's diameter", diameter.as_m(), "greater than zero, for example 300 mm")?;
    Ok(PI * d * d * d / 32.0)
}

/// Moment at which a stem breaks: `M = (π / 32) f_knot MOR d³`. MOR green modulus of rupture, f_knot factor for knots.
///
/// # Source
/// `fgr-vignette` (read), used there with the diameter at breast height.
///
/// # Errors
/// If diameter or strength are not greater than zero, or the knot factor is not above 0 and up to 1.
pub fn stem_breaking_moment(diameter: Length, rupture: Pressure, knot_factor: f64) -> Result<Moment, MechanicsError> {
    let z = section_modulus(diameter)?;
    let mor = positive("the modulus of rupture", rupture.as_pa(), "greater than zero, for example 41 MPa")?;
    let f = between("the knot factor", knot_factor, 1e-6, 1.0, "above 0 and up to 1, for example 0.85")?;
    Ok(Moment::from_nm(z * mor * f))
}

/// Level pull at height h that breaks the stem at the ground: `F = M / h`.
///
/// # Source
/// `statics`: the moment is greatest at the ground line; the diameter there is at least the one at breast height.
///
/// # Errors
/// If the height is not greater than zero.
pub fn stem_bending_force(moment: Moment, height: Length) -> Result<Force, MechanicsError> {
    let h = positive("the height of the strap", height.as_m(), "greater than zero, for example 0.5 m")?;
    Ok(Force::from_n(moment.as_nm() / h))
}

/// Pull at which the stem shears along the grain: `V = (3/4) τ π d² / 4`.
///
/// # Source
/// `statics` (beam theory: greatest shear stress of a round section is 4 V / 3 A), derived.
///
/// # Errors
/// If diameter or strength are not greater than zero.
pub fn stem_shear_force(diameter: Length, shear: Pressure) -> Result<Force, MechanicsError> {
    let d = positive("the stem's diameter", diameter.as_m(), "greater than zero, for example 300 mm")?;
    let tau = positive("the shear strength", shear.as_pa(), "greater than zero, for example 6 MPa")?;
    Ok(Force::from_n(0.75 * tau * PI * d * d / 4.0))
}

/// Strength of a hollow stem ÷ that of a sound one: `1 − (d_i / D)⁴`. For the record: a tree with a cavity is not used.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If a diameter is not in order.
pub fn hollow_ratio(outer: Length, inner: Length) -> Result<f64, MechanicsError> {
    let o = positive("the stem's diameter", outer.as_m(), "greater than zero")?;
    let i = between("the hollow's diameter", inner.as_m(), 0.0, o, "between zero and the stem's diameter")?;
    let q = i / o;
    Ok(1.0 - q * q * q * q)
}

/// The arborists' formula for the most that a stem takes before the first fibres yield in compression:
/// `F = (π/4) d² (σ − (H − 1) ρ g) / (cos α + 8 sin α (H − 1) / d)`. d diameter at 1 m, H height of the anchor point, α angle of
/// the load from the stem's axis, σ green compression yield, ρ green density. Not for anchors at 1 m or lower.
///
/// # Source
/// `hse-rr668`, reprinted in `tree-rescue-manual` p. 136 (secondary); the full form, not the printed short one.
///
/// # Errors
/// If the height is not above 1 m, or another input is not in order.
pub fn arborist_stem_force(
    diameter: Length,
    height: Length,
    load_from_axis: Angle,
    compression: Pressure,
    density_kg_m3: f64,
) -> Result<Force, MechanicsError> {
    let d = positive("the stem's diameter at 1 m", diameter.as_m(), "greater than zero")?;
    let h = between("the height of the anchor point", height.as_m(), 1.0 + 1e-9, 100.0, "above 1 m, for example 2 m")?;
    let a = between("the angle from the stem's axis", load_from_axis.as_rad(), 0.0, PI * 0.5 + 1e-9, "0° to 90°")?;
    let s = positive("the compression strength", compression.as_pa(), "greater than zero, for example 20 MPa")?;
    let rho = not_negative("the density", density_kg_m3, "zero or more, for example 1000 kg/m³")?;
    let lever = h - 1.0;
    let own = lever * rho * unmire_model::STANDARD_GRAVITY;
    Ok(Force::from_n(PI / 4.0 * d * d * (s - own) / (libm::cos(a) + 8.0 * libm::sin(a) * lever / d)))
}

/// What breaks the wood of a stem or a stump: bending at the ground, shear along the grain.
pub(super) struct StemWays {
    /// Pull that breaks it in bending.
    pub bending: Range<Force>,
    /// Pull that shears it.
    pub shear: Range<Force>,
}

/// Bending and shear of a stem with this diameter inside the bark. The low end takes the fifth percentile of the wood, what
/// is recalled of it, and `sound`, the share of its strength that is left.
pub(super) fn stem_ways(
    kind: &Kind,
    inside: &Range<Length>,
    height: Length,
    sound: f64,
    rec: &mut impl Recorder,
) -> Result<StemWays, MechanicsError> {
    let fifth = constant("mor_fifth_percentile")?;
    let (low_mor, low_shear) = (fifth * kind.rupture_low * sound, fifth * kind.shear_low * sound);
    let bend = |d: Length, k: f64| {
        let m = stem_breaking_moment(d, kind.rupture, kind.knot)?;
        stem_bending_force(Moment::from_nm(m.as_nm() * k), height)
    };
    let bending =
        Range::hull(bend(inside.low(), low_mor)?, bend(inside.likely(), 1.0)?, bend(inside.high(), 2.0 - fifth)?);
    let slide = |d: Length, k: f64| stem_shear_force(d, kind.shear).map(|f| f * k);
    let shear =
        Range::hull(slide(inside.low(), low_shear)?, slide(inside.likely(), 1.0)?, slide(inside.high(), 2.0 - fifth)?);
    rec.record(|| {
        let s = Step::range("pull that breaks the stem", "F_stem", "F = (π/32) f MOR d³ / h", &bending, "fgr-vignette")
            .input_range("d", inside, Origin::Earlier)
            .input("MOR", kind.rupture.as_pa(), Dimension::Pressure, Origin::Constant("norforestgales"))
            .input("f", kind.knot, Dimension::Ratio, Origin::Constant("norforestgales"))
            .input("h", height.as_m(), Dimension::Length, Origin::Earlier)
            .input("low", low_mor, Dimension::Ratio, Origin::Constant("astm-d2555"));
        if kind.rupture_low < 1.0 {
            s.note("the strength of this wood is recalled: the low end is reduced for it")
        } else {
            s
        }
    });
    rec.record(|| {
        let s = Step::range("pull that shears the stem", "F_shear", "F = (3/4) τ π d² / 4", &shear, "statics")
            .input_range("d", inside, Origin::Earlier)
            .input("τ", kind.shear.as_pa(), Dimension::Pressure, Origin::Constant("wood-handbook"))
            .input("low", low_shear, Dimension::Ratio, Origin::Constant("astm-d2555"));
        if kind.shear_low < 1.0 {
            s.note("the shear strength of this wood is recalled: the low end is reduced for it")
        } else {
            s
        }
    });
    Ok(StemWays { bending, shear })
}

/// The height that the bending of a stem is reckoned with, and a word if the strap lies lower.
pub(super) fn bending_height(height: Length, warnings: &mut Vec<Warning>) -> Result<Length, MechanicsError> {
    let asked = not_negative("the height of the strap", height.as_m(), "zero or more, for example 0.4 m")?;
    let least = constant("least_height")?;
    if asked < least {
        warnings.push(Warning::new(
            "strap-height-raised",
            format!("a strap at {asked:.2} m is reckoned as at {least:.1} m for the stem"),
        ));
        return Ok(Length::from_m(least));
    }
    Ok(height)
}
