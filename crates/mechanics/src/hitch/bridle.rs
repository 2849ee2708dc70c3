//! Legs that meet in one connector: bridles, slings at an angle, two legs at different angles.

use crate::error::{MechanicsError, between, positive};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Force, Length, Recorder};

/// Tensions of a two-leg bridle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BridleLegs {
    /// The leg whose angle was given first.
    pub first: Force,
    /// The other leg.
    pub second: Force,
}

/// Tensions of two legs that hold one pull, at angles a₁ and a₂ from the line of the pull on either side:
/// `T₁ = P sin a₂ / sin(a₁ + a₂)`, `T₂ = P sin a₁ / sin(a₁ + a₂)`.
///
/// # Source
/// `statics` (sine rule of three forces), derived.
///
/// # Errors
/// If an angle is negative, both are zero, or together they make half a turn or more.
pub fn bridle_legs(
    pull: Force,
    first: Angle,
    second: Angle,
    rec: &mut impl Recorder,
) -> Result<BridleLegs, MechanicsError> {
    let (a, b) = (first.as_rad(), second.as_rad());
    let half_turn = core::f64::consts::PI;
    between("the angle of the first leg", a, 0.0, half_turn, "0° up to less than 180° from the line of pull")?;
    between("the angle of the second leg", b, 0.0, half_turn, "0° up to less than 180° from the line of pull")?;
    let s = libm::sin(a + b);
    if !(a + b > 0.0 && a + b < half_turn && s > 1e-12) {
        return Err(MechanicsError::BadInput {
            what: "the angle between the two legs",
            got: a + b,
            expected: "more than 0° and less than 180°, for example 60°",
        });
    }
    let legs = BridleLegs { first: pull * (libm::sin(b) / s), second: pull * (libm::sin(a) / s) };
    rec.record(|| {
        Step::new(
            "tension in the first leg of the bridle",
            "T₁",
            "T₁ = P sin a₂ / sin(a₁ + a₂)",
            legs.first.as_n(),
            Dimension::Force,
            "statics",
        )
        .input("P", pull.as_n(), Dimension::Force, Origin::Earlier)
        .input("a₁", a, Dimension::Angle, Origin::Earlier)
        .input("a₂", b, Dimension::Angle, Origin::Earlier)
    });
    Ok(legs)
}

/// Tension in each of two equal legs with this angle between them: `T = F / (2 cos(A / 2))`.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If the angle is not between 0° and less than 180°.
pub fn included_angle_leg(pull: Force, included: Angle) -> Result<Force, MechanicsError> {
    let a = between(
        "the included angle",
        included.as_rad(),
        0.0,
        core::f64::consts::PI * (1.0 - 1e-9),
        "0° up to less than 180°, at most 120° in use",
    )?;
    Ok(pull / (2.0 * libm::cos(0.5 * a)))
}

/// Tension in each of n equal legs at this angle from the horizontal, sharing evenly: `T = W / (n sin a)`. For two legs
/// see [`level_leg`].
///
/// # Source
/// `statics`, derived. A rigid load may hang on two of three or four legs: `navedtra-14080` p. 3-23 (read) asks to count two.
///
/// # Errors
/// If there is no leg or the angle is not above 0° and up to 90°.
pub fn shared_level_leg(weight: Force, legs: u32, from_horizontal: Angle) -> Result<Force, MechanicsError> {
    if legs == 0 {
        return Err(MechanicsError::BadInput { what: "the number of legs", got: 0.0, expected: "one or more" });
    }
    let a = between(
        "the angle from the horizontal",
        from_horizontal.as_rad(),
        1e-9,
        core::f64::consts::FRAC_PI_2 + 1e-12,
        "above 0° and up to 90°; not under 30° in use",
    )?;
    Ok(weight / (f64::from(legs) * libm::sin(a)))
}

/// Tension in each of two equal legs at this angle from the horizontal: `T = W / (2 sin a)`.
///
/// # Source
/// `statics`, derived; printed by `navedtra-14080` p. 3-23 (read).
///
/// # Errors
/// As [`shared_level_leg`].
pub fn level_leg(weight: Force, from_horizontal: Angle) -> Result<Force, MechanicsError> {
    shared_level_leg(weight, 2, from_horizontal)
}

/// Tension in a leg ÷ its share of the weight, from the length of the leg and the height of its head: L / H.
///
/// # Source
/// `statics`, derived; printed by a sling instruction sheet (`sling-instruction-sheet`, secondary).
///
/// # Errors
/// If a length is not greater than zero or the height is greater than the length.
pub fn level_leg_by_length(height: Length, length: Length) -> Result<f64, MechanicsError> {
    let h = positive("the height", height.as_m(), "a length greater than zero, for example 1.5 m")?;
    let l = positive("the length", length.as_m(), "a length greater than zero, for example 3 m")?;
    if h > l {
        return Err(MechanicsError::BadInput {
            what: "the height",
            got: h,
            expected: "not more than the length of the sling",
        });
    }
    Ok(l / h)
}

/// Tensions of two slings from one hook to picks at horizontal distances a and b on either side of it, the hook h above them:
/// `T_A = W b L_A / ((a + b) h)`, and the other way round. L the slant lengths.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If a length is not greater than zero.
pub fn pair_lift_legs(weight: Force, a: Length, b: Length, height: Length) -> Result<BridleLegs, MechanicsError> {
    let a = positive("the distance of the first pick", a.as_m(), "a length greater than zero")?;
    let b = positive("the distance of the second pick", b.as_m(), "a length greater than zero")?;
    let h = positive("the height of the hook", height.as_m(), "a length greater than zero")?;
    let (la, lb) = (libm::hypot(a, h), libm::hypot(b, h));
    Ok(BridleLegs { first: weight * (b * la / ((a + b) * h)), second: weight * (a * lb / ((a + b) * h)) })
}

/// Share of a weight on the first of two upright slings, by the lever: `b / (a + b)`, a and b the distances of the centre of
/// gravity from the first and the second.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If a distance is negative or both are zero.
pub fn vertical_share(a: Length, b: Length) -> Result<f64, MechanicsError> {
    let a = crate::error::not_negative("the distance from the first sling", a.as_m(), "zero or more")?;
    let b = crate::error::not_negative("the distance from the second sling", b.as_m(), "zero or more")?;
    positive("the distance between the slings", a + b, "more than zero")?;
    Ok(b / (a + b))
}
