//! Wheels that turn: rolling and grade resistance, exact and by the rules of thumb.

use crate::error::{MechanicsError, between, not_negative};
use crate::lookup;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Force, Length, Range, Recorder};
use unmire_tables::How;

/// Rolling resistance of a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rolling {
    /// Its key.
    pub key: &'static str,
    /// Its name for people.
    pub name: &'static str,
    /// Share of the weight.
    pub share: Range<f64>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
}

/// Rolling resistance of a surface as a share of the weight.
///
/// # Source
/// Table `rolling`; each row has its own.
///
/// # Errors
/// If the surface is in no row.
pub fn rolling(surface: &str) -> Result<Rolling, MechanicsError> {
    lookup::rolling(surface)
}

/// Weight along the slope: `W sin θ`. W weight N, θ slope (uphill positive).
///
/// # Source
/// `statics`, exact.
pub fn grade_resistance(weight: Force, slope: Angle, rec: &mut impl Recorder) -> Force {
    let f = weight * slope.sin();
    rec.record(|| {
        Step::new("weight along the slope", "F", "F = W sin θ", f.as_n(), Dimension::Force, "statics")
            .input("W", weight.as_n(), Dimension::Force, Origin::Earlier)
            .input("θ", slope.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    f
}

/// Resistance of wheels that turn, and the weight along the slope: `W (r cos θ + sin θ)`.
///
/// # Source
/// `statics`, exact; r by surface.
pub fn rolling_resistance(weight: Force, share: f64, slope: Angle, rec: &mut impl Recorder) -> Force {
    let f = weight * (share * slope.cos() + slope.sin());
    rec.record(|| {
        Step::new(
            "rolling resistance and weight along the slope",
            "F",
            "F = W (r cos θ + sin θ)",
            f.as_n(),
            Dimension::Force,
            "statics",
        )
        .input("W", weight.as_n(), Dimension::Force, Origin::Earlier)
        .input("r", share, Dimension::Ratio, Origin::Earlier)
        .input("θ", slope.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    f
}

/// Rule of thumb: grade resistance is grade times weight, grade as rise over run. Always high: 0.5 % at 10 %, 12 % at 50 %.
///
/// # Source
/// `ce417-notes` and `hydraulics-page`, read.
#[must_use]
pub fn grade_by_degrees(weight: Force, rise_over_run: f64) -> Force {
    weight * rise_over_run
}

/// Rule of thumb: degrees ÷ 60 of the weight, up to 45°. Up to 4.5 % low below 30°.
///
/// # Source
/// `commonwealth-ground-factors`, memory.
#[must_use]
pub fn grade_by_sixty(weight: Force, slope: Angle) -> Force {
    weight * (slope.as_deg() / 60.0)
}

/// Rule of thumb: a quarter of the weight for every 15 degrees of slope.
///
/// # Source
/// `4x4-australia-2016`, read; `trade-faq`, secondary.
#[must_use]
pub fn slope_by_fifteen(weight: Force, slope: Angle) -> Force {
    weight * (0.25 * slope.as_deg() / 15.0)
}

/// Rule of thumb of haul roads: (grade + rolling) ÷ 100 of the weight, both in per cent; exact for small slopes.
///
/// # Source
/// `mine-haulage-text`, read.
#[must_use]
pub fn haul_road_resistance(weight: Force, grade_pct: f64, rolling_pct: f64) -> Force {
    weight * ((grade_pct + rolling_pct) / 100.0)
}

/// A weight times a factor: how most field rules are printed.
///
/// # Source
/// None: the printed form of a rule; the factor has its own source.
#[must_use]
pub fn body_factor(weight: Force, factor: f64) -> Force {
    weight * factor
}

/// Rolling share where the tyre sinks but rolls: `0.02 + 0.015 p`, p the penetration in inches.
///
/// # Source
/// `ce417-notes`, read (40 lb a ton, and 30 lb a ton and inch). Valid for wheels that still roll.
///
/// # Errors
/// If the depth is negative or above 0.5 m.
pub fn penetration_share(depth: Length) -> Result<f64, MechanicsError> {
    let d = not_negative("the depth of the track", depth.as_m(), "zero or more, for example 10 cm")?;
    between("the depth of the track", d, 0.0, 0.5, "up to 0.5 m; deeper is bogged")?;
    let row = lookup::tyre_penetration();
    Ok(row.0 + row.1 * depth.as_inch())
}

/// Drawbar pull: gross traction less motion resistance.
///
/// # Source
/// `crrel-cr-95-1` Table A5, read.
#[must_use]
pub fn drawbar(gross_traction: Force, motion_resistance: Force) -> Force {
    gross_traction - motion_resistance
}

/// Resistance by a ground factor: `W / GF`.
///
/// # Source
/// `commonwealth-ground-factors` (memory) for the form; `offroad-reference-page` (secondary) for three of the factors.
///
/// # Errors
/// If the factor is not greater than zero.
pub fn ground_factor_resistance(weight: Force, ground_factor: f64) -> Result<Force, MechanicsError> {
    let gf = crate::error::positive("the ground factor", ground_factor, "greater than zero, for example 6")?;
    Ok(weight / gf)
}
