//! The stem: when it breaks in bending, when it shears.

use crate::error::{MechanicsError, between, not_negative, positive};
use unmire_model::{Angle, Force, Length, Moment, Pressure};

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
