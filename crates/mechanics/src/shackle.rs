//! What is left of a shackle's rating under side load and heat, and the old rule of thumb for one without a label.

use crate::error::{MechanicsError, positive};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Force, Length, Recorder};
use unmire_tables::hardware;

/// Why a shackle may not be used so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShackleRefusal {
    /// The load lies more than 90° out of the plane of the bow.
    SideLoadNotPermitted,
    /// Hotter or colder than any row of the table.
    OutsideTemperature,
    /// Two legs in the bow open past 120°.
    SpreadTooWide,
    /// The number is not an ordinary one.
    NotANumber,
}

/// Share of the working load limit that is left when the load lies this far out of the plane of the bow. A step by bands, not
/// interpolated: up to 5° all of it, up to 45° 0.70, up to 90° 0.50, beyond that not permitted.
///
/// # Source
/// Bands: `wac-296-155-33905` fig. 17 (read); shares: `shackle-side-tables`, three tables (secondary).
///
/// # Errors
/// Beyond 90°, or if it is not a number.
pub fn side_load_factor(out_of_plane: Angle, rec: &mut impl Recorder) -> Result<f64, ShackleRefusal> {
    let a = out_of_plane.abs();
    if !a.is_finite() {
        return Err(ShackleRefusal::NotANumber);
    }
    // A hair of slack, so that 45° written in degrees is 45°.
    let row =
        hardware::side_load(Angle::from_rad(a.as_rad() * (1.0 - 1e-12))).ok_or(ShackleRefusal::SideLoadNotPermitted)?;
    rec.record(|| {
        Step::new(
            "share of the shackle's rating under side load",
            "s",
            "s by bands",
            row.factor,
            Dimension::Ratio,
            row.source,
        )
        .input("a", a.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    Ok(row.factor)
}

/// Share of the working load limit that is left at a temperature in °C.
///
/// # Source
/// `shackle-sheet` (secondary); the cold limit: `asme-b30-26` 26-1.6.1 (read).
///
/// # Errors
/// Below −40 °C or above 400 °C.
pub fn temperature_factor(celsius: f64) -> Result<f64, ShackleRefusal> {
    if !celsius.is_finite() {
        return Err(ShackleRefusal::NotANumber);
    }
    if celsius < -40.0 {
        return Err(ShackleRefusal::OutsideTemperature);
    }
    hardware::shackle_heat(celsius).map(|r| r.factor).ok_or(ShackleRefusal::OutsideTemperature)
}

/// Whether two legs may meet in the bow with this angle between them: up to 120° with the full rating, symmetric.
///
/// # Source
/// `asme-b30-26` 26-1.9.4(k), read.
///
/// # Errors
/// Past 120°.
pub fn spread_allowed(included: Angle) -> Result<(), ShackleRefusal> {
    if !included.is_finite() {
        Err(ShackleRefusal::NotANumber)
    } else if included.as_deg() > 120.0 + 1e-9 {
        Err(ShackleRefusal::SpreadTooWide)
    } else {
        Ok(())
    }
}

/// The old rule of thumb for a shackle without a label: 3 D² short tons, D the diameter of the bow in inches. It gives about a third
/// of what a marked one of that size carries; a cross-check, never a label.
///
/// # Source
/// `navedtra-14251` ch. 6, read.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn rule_of_thumb(bow_diameter: Length) -> Result<Force, MechanicsError> {
    let d = positive("the diameter of the bow", bow_diameter.as_inch(), "greater than zero, for example 19 mm")?;
    Ok(Force::from_short_tonf(3.0 * d * d))
}

/// The same rule as printed for metric measures: 0.417 D² tonnes, D in centimetres.
///
/// # Source
/// `navedtra-14251` ch. 6, read.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn rule_of_thumb_metric(bow_diameter: Length) -> Result<Force, MechanicsError> {
    let d = positive("the diameter of the bow", bow_diameter.as_cm(), "greater than zero, for example 19 mm")?;
    Ok(Force::from_tonnef(0.417 * d * d))
}
