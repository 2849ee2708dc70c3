//! Where the line leaves: fleet angle at the drum, angle at the fairlead.

use crate::error::{MechanicsError, between, positive};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Length, Recorder, Vec3};

/// Angle of the line from square to the drum when it is at the end of the drum: `atan(w / x)`, w half of the drum's width (or
/// the distance from its middle to the flange), x the distance to the first block or fairlead.
///
/// # Source
/// `statics`, derived; rules of 1.5° to 2°: `navedtra-14081`, `fleet-angle-texts` (read).
///
/// # Errors
/// If a length is not greater than zero.
pub fn fleet_angle(half_width: Length, lead: Length) -> Result<Angle, MechanicsError> {
    let w = positive("half of the drum's width", half_width.as_m(), "greater than zero")?;
    let x = positive("the distance to the first block", lead.as_m(), "greater than zero")?;
    Ok(Angle::from_rad(libm::atan(w / x)))
}

/// Distance that keeps the fleet angle at this value: `w / tan(angle)`.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If the width is not greater than zero or the angle not between 0° and 90°.
pub fn fleet_lead(half_width: Length, angle: Angle) -> Result<Length, MechanicsError> {
    let w = positive("half of the drum's width", half_width.as_m(), "greater than zero")?;
    let a = between("the fleet angle", angle.as_rad(), 1e-6, 1.57, "above 0° and under 90°, for example 1.5°")?;
    Ok(Length::from_m(w / libm::tan(a)))
}

/// Angle at which the line leaves the fairlead away from square to the drum. A limit on it is the maker's, or the trade's 15°
/// (memory).
///
/// # Source
/// `statics`: the angle between two directions.
///
/// # Errors
/// If one of the directions has no length.
pub fn fairlead_angle(square: Vec3, line: Vec3, rec: &mut impl Recorder) -> Result<Angle, MechanicsError> {
    let a = square.angle_to(line).ok_or(MechanicsError::BadInput {
        what: "the direction of the line at the fairlead",
        got: line.norm(),
        expected: "a direction with a length",
    })?;
    rec.record(|| {
        Step::new(
            "angle of the line at the fairlead",
            "φ",
            "angle between two directions",
            a.as_rad(),
            Dimension::Angle,
            "statics",
        )
        .input("line", line.norm(), Dimension::Length, Origin::Earlier)
    });
    Ok(a)
}
