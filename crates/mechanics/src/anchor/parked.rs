//! A parked vehicle as an anchor: its tyres' friction against its weight on the slope, and its weight against tipping over
//! its wheels.
//!
//! Friction is that of tyres that slide, which is less than just before: a vehicle that has begun to move goes on. A wheel
//! that is neither braked nor chocked counts for nothing.

use super::capacity::{AnchorCapacity, AnchorMode, Way};
use crate::error::{MechanicsError, between, positive};
use crate::stability::{GroundAxes, Pull, tip};
use crate::standing::Warning;
use unmire_model::trail::{Dimension, Input, Origin, Recorder, Step};
use unmire_model::vehicle::Helper;
use unmire_model::{Angle, Force, Length, Range, Vec3};

/// Friction of tyres that don't turn, on one ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreFriction {
    /// Its key.
    pub key: &'static str,
    /// Its name for people.
    pub name: &'static str,
    /// The coefficient, sliding where that is published, else just before it.
    pub friction: Range<f64>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: unmire_tables::How,
    /// What must be told beside it.
    pub note: &'static str,
}

/// Friction of tyres on a ground by its key.
///
/// # Source
/// Table `tyre_ground`; each row has its own.
///
/// # Errors
/// If the ground is in no row.
pub fn tyre_friction(ground: &str) -> Result<TyreFriction, MechanicsError> {
    crate::lookup::tyre_friction(ground)
}

/// Pull in line with the slope that makes a parked vehicle slide: `T = W (n μ cos θ ± sin θ) / (cos β + μ sin β)`. n share of the
/// weight on braked or chocked wheels, θ slope, β rise of the line from the surface; plus where it is pulled up the slope,
/// minus where it is pulled down. Negative: it slides by itself.
///
/// # Source
/// `statics`, derived; for a level pull it agrees with the one published anchor test, `tree-rescue-manual` p. 214 (read).
///
/// # Errors
/// If share, friction or angles are not in order.
///
/// # Assumes
/// The rising line takes load off the braked wheels: μ and not n μ in the denominator, the cautious form for a rising line. For
/// a falling one n μ is the cautious form and is used.
pub fn sliding_pull(
    weight: Force,
    braked_share: f64,
    friction: f64,
    slope: Angle,
    rise: Angle,
    pulled_uphill: bool,
) -> Result<Force, MechanicsError> {
    let w = positive("the weight", weight.as_n(), "greater than zero")?;
    let n =
        between("the share on braked wheels", braked_share, 0.0, 1.0, "0 to 1, for example 1 with all wheels chocked")?;
    let mu = between("the friction of the tyres", friction, 0.0, 2.0, "0 to 2, for example 0.35")?;
    let th =
        between("the slope", slope.as_rad(), 0.0, 1.5, "0° up to less than 86°; say which way by the other input")?;
    let b = between("the rise of the line", rise.as_rad(), -1.5, 1.5, "between −86° and 86°")?;
    let along = if pulled_uphill { libm::sin(th) } else { -libm::sin(th) };
    let lift = if b >= 0.0 { mu } else { n * mu };
    let below = libm::cos(b) + lift * libm::sin(b);
    if below <= 1e-9 {
        return Err(MechanicsError::BadInput {
            what: "the rise of the line",
            got: b,
            expected: "not so steep downwards that it only presses the vehicle onto the ground",
        });
    }
    Ok(Force::from_n(w * (n * mu * libm::cos(th) + along) / below))
}

/// Pull along a direction that makes a parked vehicle slide, whatever the direction: the largest T with
/// `|T p + W g| ≤ n μ N`, where p and g are the parts of pull and gravity along the ground and N what presses on it. In line with the
/// slope it is [`sliding_pull`]. Zero and a mark if it slides by itself.
///
/// # Source
/// `statics` (friction cone), derived.
///
/// # Errors
/// If share or friction are not in order or the direction has no length.
pub fn sliding_pull_any(
    weight: Force,
    braked_share: f64,
    friction: f64,
    ground_normal: Vec3,
    direction: Vec3,
) -> Result<(Force, bool), MechanicsError> {
    let w = positive("the weight", weight.as_n(), "greater than zero")?;
    let n =
        between("the share on braked wheels", braked_share, 0.0, 1.0, "0 to 1, for example 1 with all wheels chocked")?;
    let mu = between("the friction of the tyres", friction, 0.0, 2.0, "0 to 2, for example 0.35")?;
    let no_direction = MechanicsError::BadInput {
        what: "the direction of the pull",
        got: direction.norm(),
        expected: "a direction with a length",
    };
    let up = ground_normal.unit().ok_or(no_direction.clone())?;
    let pull = direction.unit().ok_or(no_direction)?;
    let gravity = -Vec3::UP;
    let (p_n, g_n) = (pull.dot(up), gravity.dot(up));
    let p = pull - up * p_n;
    let g = gravity - up * g_n;
    let lift = if p_n >= 0.0 { mu } else { n * mu };
    // |a T + b|² = (c − e T)² with c − e T ≥ 0.
    let (a, b) = (p, g * w);
    let (c, e) = (n * mu * w * -g_n, lift * p_n);
    if b.norm() > c {
        return Ok((Force::ZERO, true));
    }
    let (qa, qb, qc) = (a.dot(a) - e * e, a.dot(b) + c * e, b.dot(b) - c * c);
    // qa T² + 2 qb T + qc = 0, qc ≤ 0.
    let t = if qa.abs() < 1e-12 {
        if qb <= 0.0 { f64::INFINITY } else { -qc / (2.0 * qb) }
    } else {
        let disc = qb * qb - qa * qc;
        if qa < 0.0 && (disc < 0.0 || qb <= 0.0) {
            f64::INFINITY
        } else {
            // The smallest root that is not negative, in the form without loss of digits.
            let root = disc.sqrt();
            if qb >= 0.0 { -qc / (qb + root) } else { (root - qb) / qa }
        }
    };
    if t.is_finite() {
        Ok((Force::from_n(t), false))
    } else {
        Err(MechanicsError::BadInput {
            what: "the direction of the pull",
            got: p_n,
            expected: "a pull along the ground, not one that only presses the vehicle onto it",
        })
    }
}

/// Pull at which a parked vehicle tips: `T = W x / h`, x level distance from its centre of gravity to the wheels on the side of
/// the pull, h height of the line above the ground.
///
/// # Source
/// `statics`, derived; level ground, level pull.
///
/// # Errors
/// If an input is not greater than zero.
pub fn tipping_pull(weight: Force, arm: Length, height: Length) -> Result<Force, MechanicsError> {
    let x = positive("the distance to the wheels", arm.as_m(), "greater than zero")?;
    let h = positive("the height of the line", height.as_m(), "greater than zero")?;
    Ok(Force::from_n(weight.as_n() * x / h))
}

/// The normal of a helper's ground in the case's frame: level across, its slope along its own heading.
pub(crate) fn helper_normal(helper: &Helper) -> Vec3 {
    let s = helper.slope.value;
    Vec3::new(-s.sin(), 0.0, s.cos()).turned(helper.heading)
}

/// A helper's axes on its ground.
fn helper_axes(helper: &Helper) -> GroundAxes {
    let s = helper.slope.value;
    let ahead = Vec3::new(s.cos(), 0.0, s.sin()).turned(helper.heading);
    let left = Vec3::new(0.0, 1.0, 0.0).turned(helper.heading);
    GroundAxes { ahead, left, up: helper_normal(helper) }
}

/// Share of the weight on wheels that do not turn: all of it where every wheel stands against a chock, else as the case says.
///
/// # Source
/// The case; chocks: table `parking_brake`, row `chocked` (own judgement; nothing was found on what a chock adds).
///
/// # Errors
/// If the table lacks the row.
pub fn braked_share(helper: &Helper) -> Result<Input<Range<f64>>, MechanicsError> {
    if helper.chocked != Some(true) {
        return Ok(helper.braked_share.clone());
    }
    let rows = unmire_tables::parking_brake::ROWS;
    let row = rows.iter().find(|r| r.key == "chocked").ok_or_else(|| MechanicsError::UnknownKey {
        table: "braked shares",
        key: "chocked".to_owned(),
        known: rows.iter().map(|r| r.key).collect(),
    })?;
    let origin = Origin::Table { table: "parking_brake", row: row.key.to_owned(), source: row.source };
    Ok(Input::new(row.band(), origin))
}

/// What a helper's vehicle holds as an anchor against these pulls of the rig on it, as their resultant when it gives: its
/// tyres slide, or it tips over a line of its wheels.
///
/// # Source
/// `statics`: [`sliding_pull_any`] and [`tip`]; friction and braked share from the case, chocks: [`braked_share`].
///
/// # Errors
/// If a number of the helper is not in order or the pulls have no resultant.
///
/// # Assumes
/// All pulls grow alike. It does not turn on the spot: a pull at a corner drags that corner first.
pub fn parked(helper: &Helper, pulls: &[Pull], rec: &mut impl Recorder) -> Result<AnchorCapacity, MechanicsError> {
    let whole = pulls.iter().fold(Vec3::ZERO, |sum, p| sum + p.force);
    let mut warnings = vec![Warning::new(
        "parked-by-friction",
        "tyres on soft ground let go without warning: chock all wheels, tie it back if the pull comes near",
    )];
    match helper.chocked {
        Some(true) => warnings.push(Warning::new(
            "parked-chocked",
            "every chocked wheel counts as one that does not turn, and as no more: a chock that is not dug in slides with it",
        )),
        Some(false) => warnings.push(Warning::new("parked-not-chocked", "its wheels stand against no chocks")),
        None => warnings.push(Warning::new("parked-not-chocked", "nobody said whether its wheels are chocked")),
    }
    let tipping = tip(&helper.vehicle, &helper_axes(helper), pulls, rec)?;
    if let Some(why) = tipping.reason {
        warnings.push(Warning::new(
            "parked-tipping-not-checked",
            format!("whether the pull tips it over was not checked: {why}"),
        ));
    }
    let mut ways = Vec::with_capacity(2);
    if let Some(times) = tipping.factor {
        let holds = times.increasing(|t| Force::from_n(t * whole.norm()));
        if holds.low() == Force::ZERO {
            let text = "at the low end it tips over by itself on its slope";
            warnings.push(Warning::new("parked-tips", text));
        }
        ways.push(Way { mode: AnchorMode::Tipping, holds });
    }
    let Some(mu) = &helper.friction else {
        let reason = "the friction of its tyres on its ground is not told";
        return Ok(AnchorCapacity::unknown(reason, ways, warnings));
    };
    let weight = helper.vehicle.moving_mass().increasing(unmire_model::Mass::weight);
    let up = helper_normal(helper);
    let share = braked_share(helper)?;
    let n = share.value;
    let mut slides = false;
    let mut at = |w: Force, n: f64, mu: f64| -> Result<Force, MechanicsError> {
        let (f, by_itself) = sliding_pull_any(w, n, mu, up, whole)?;
        slides |= by_itself;
        Ok(f)
    };
    let range = Range::hull(
        at(weight.low(), n.low(), mu.value.low())?,
        at(weight.likely(), n.likely(), mu.value.likely())?,
        at(weight.high(), n.high(), mu.value.high())?,
    );
    if slides {
        warnings.push(Warning::new("parked-slides", "at the low end it slides down its slope by itself"));
    }
    rec.record(|| {
        Step::range("what the parked vehicle holds", "T", "|T p + W g| = n μ N, solved for T", &range, "statics")
            .input_range("W", &weight, Origin::Earlier)
            .given("n", &share)
            .given("μ", mu)
            .input("θ", helper.slope.value.as_rad(), Dimension::Angle, helper.slope.origin.clone())
    });
    ways.push(Way { mode: AnchorMode::TyresSlide, holds: range });
    Ok(AnchorCapacity::weakest(ways, warnings))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_any_direction_agrees_with_the_line_of_the_slope() {
        let w = Force::from_kn(24.0);
        for deg in [0.0, 5.0, 10.0] {
            for rise in [-8.0, 0.0, 12.0] {
                for uphill in [true, false] {
                    let (th, b) = (Angle::from_deg(deg), Angle::from_deg(rise));
                    // Slope rising towards +x.
                    let up = Vec3::new(-th.sin(), 0.0, th.cos());
                    let along = Vec3::new(th.cos(), 0.0, th.sin()) * if uphill { 1.0 } else { -1.0 };
                    let pull = along * b.cos() + up * b.sin();
                    let (any, itself) = sliding_pull_any(w, 0.8, 0.5, up, pull).unwrap();
                    let line = sliding_pull(w, 0.8, 0.5, th, b, uphill).unwrap();
                    assert!(
                        !itself && (any.as_n() - line.as_n()).abs() < 1e-6,
                        "{deg} {rise} {uphill}: {any:?} {line:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn closed_form_a_vehicle_on_a_slope_too_steep_for_its_tyres_holds_nothing() {
        let up = Vec3::new(-Angle::from_deg(20.0).sin(), 0.0, Angle::from_deg(20.0).cos());
        let (f, itself) = sliding_pull_any(Force::from_kn(20.0), 1.0, 0.2, up, Vec3::new(-1.0, 0.0, 0.0)).unwrap();
        assert!(itself && f == Force::ZERO);
    }

    #[test]
    fn closed_form_a_pull_across_the_slope_holds_by_the_friction_circle() {
        // tan θ = μ / 2: across, √(μ² cos² − sin²) = μ cos · √3 / 2.
        let mu = 0.4;
        let th = Angle::of_grade(0.2);
        let up = Vec3::new(-th.sin(), 0.0, th.cos());
        let (f, _) = sliding_pull_any(Force::from_n(1000.0), 1.0, mu, up, Vec3::new(0.0, 1.0, 0.0)).unwrap();
        assert!((f.as_n() - 1000.0 * mu * th.cos() * libm::sqrt(3.0) / 2.0).abs() < 1e-9);
    }
}
