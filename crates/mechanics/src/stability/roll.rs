//! Roll: the moments that turn the vehicle over its tyre line against those that hold it down.

use super::axes::GroundAxes;
use crate::error::{MechanicsError, positive};
use crate::standing::Warning;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Angle, Force, Length, Range, Vec3};

/// A force of the rig on the vehicle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Where, in the vehicle's own frame: ahead, left, above the ground.
    pub at: Vec3,
    /// The force in the case's frame, N.
    pub force: Vec3,
}

/// Over which tyres it would go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RollSide {
    /// Over the left ones.
    Left,
    /// Over the right ones.
    Right,
}

/// How far the vehicle is from rolling over.
#[derive(Clone, Debug, PartialEq)]
pub struct Roll {
    /// Share of the restoring moment that is used up, low, likely, high: 1 is the tipping point. None: not known.
    pub used: Option<Range<f64>>,
    /// Over which side it would go first.
    pub side: RollSide,
    /// The slope that would use up as much without any line, likely. None where nothing is known.
    pub effective_angle: Option<Angle>,
    /// The sideways part of the pull, left being positive, along the ground.
    pub sideways: Force,
    /// Whether a side slope or a sideways pull makes the question matter.
    pub matters: bool,
    /// Why it is not known, if it isn't.
    pub reason: Option<&'static str>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// Side slope under which the question does not matter: 2°, own judgement (it uses up a twentieth of the restoring moment at most).
const SLOPE_THAT_MATTERS_DEG: f64 = 2.0;
/// Sideways pull, as a share of the weight, under which the question does not matter: a twentieth, own judgement.
const PULL_THAT_MATTERS: f64 = 0.05;

/// Moments about one tyre line. The weight's own hold is what restores; the slope and the lines, taken together with their
/// signs, are what overturns. A line that helps to hold is counted against the overturning and never as more weight.
#[derive(Clone, Copy, Debug, Default)]
struct Moments {
    overturning: f64,
    restoring: f64,
}
impl Moments {
    fn used(self) -> f64 {
        self.overturning / self.restoring
    }
}

/// Moments about the tyre line on one side. `sign` is 1 for the left tyres, −1 for the right ones.
fn moments(axes: &GroundAxes, sign: f64, track: f64, cg: Vec3, weight: f64, pulls: &[Pull]) -> Moments {
    let mut m = Moments::default();
    // A force F at p, by the vehicle's axes: towards the side with arm z, and up with the arm to the line.
    let over = |p: Vec3, f: Vec3| (sign * f.y * p.z, f.z * (track * 0.5 - sign * p.y));
    let (slope, hold) = over(cg, axes.parts(Vec3::UP * -weight));
    m.overturning += slope;
    m.restoring -= hold;
    for pull in pulls {
        let (sideways, lift) = over(pull.at, axes.parts(pull.force));
        m.overturning += sideways + lift;
    }
    m
}

/// Share of the restoring moment that a side slope uses up without any line: `2 h tan φ / t`. h height of the centre of gravity,
/// t track, φ side slope. 1 ÷ it is the margin.
///
/// # Source
/// `statics`, closed form.
///
/// # Errors
/// If height or track are not greater than zero.
pub fn roll_ratio(cg_height: Length, track: Length, side_slope: Angle) -> Result<f64, MechanicsError> {
    let h = positive("the height of the centre of gravity", cg_height.as_m(), "greater than zero, for example 0.8 m")?;
    let t = positive("the track", track.as_m(), "greater than zero, for example 1.6 m")?;
    Ok(2.0 * h * side_slope.abs().tan() / t)
}

/// The side slope that would use up this share without any line: `atan(used · t / (2 h))`.
///
/// # Source
/// `statics`, closed form.
///
/// # Errors
/// As [`roll_ratio`].
pub fn effective_angle(used: f64, cg_height: Length, track: Length) -> Result<Angle, MechanicsError> {
    let h = positive("the height of the centre of gravity", cg_height.as_m(), "greater than zero, for example 0.8 m")?;
    let t = positive("the track", track.as_m(), "greater than zero, for example 1.6 m")?;
    Ok(Angle::from_rad(libm::atan(used * t / (2.0 * h))))
}

/// How far the vehicle is from rolling over under these pulls: overturning ÷ restoring moment about each tyre line, the worse
/// side, over weight and height of the centre of gravity.
///
/// # Source
/// `statics` (moments about the tyre line), derived. When it matters: `own-judgement`.
///
/// # Errors
/// If the track or a height is not greater than zero, or a force is not an ordinary number.
///
/// # Assumes
/// A rigid vehicle standing still, its centre of gravity midway between the tyres; no sinking of the lower wheels, no swing.
pub fn roll(
    vehicle: &Vehicle,
    axes: &GroundAxes,
    pulls: &[Pull],
    rec: &mut impl Recorder,
) -> Result<Roll, MechanicsError> {
    for p in pulls {
        if !(p.force.is_finite() && p.at.is_finite()) {
            return Err(MechanicsError::BadInput {
                what: "a pull on the vehicle",
                got: p.force.norm(),
                expected: "ordinary numbers",
            });
        }
    }
    let weight = vehicle.moving_mass().increasing(unmire_model::Mass::weight);
    let sideways = Force::from_n(pulls.iter().map(|p| p.force.dot(axes.left)).sum());
    let slope = axes.side_slope();
    let matters = slope.abs().as_deg() > SLOPE_THAT_MATTERS_DEG || sideways.abs() > weight.low() * PULL_THAT_MATTERS;
    let towards_left = slope.as_rad() < 0.0 || (slope.as_rad() == 0.0 && sideways.as_n() > 0.0);
    let likely_side = if towards_left { RollSide::Left } else { RollSide::Right };
    let unknown = |reason: &'static str| Roll {
        used: None,
        side: likely_side,
        effective_angle: None,
        sideways,
        matters,
        reason: Some(reason),
        warnings: Vec::new(),
    };
    let Some(track) = &vehicle.track else {
        return Ok(unknown("the track is not told"));
    };
    let Some(cg) = &vehicle.cg_height else {
        return Ok(unknown("the height of the centre of gravity is not told"));
    };
    let t = positive("the track", track.value.as_m(), "greater than zero, for example 1.6 m")?;
    positive("the height of the centre of gravity", cg.value.low().as_m(), "greater than zero, for example 0.8 m")?;

    let used_on =
        |sign: f64, w: Force, h: Length| moments(axes, sign, t, Vec3::new(0.0, 0.0, h.as_m()), w.as_n(), pulls).used();
    let worse = |w: Force, h: Length| {
        let (l, r) = (used_on(1.0, w, h), used_on(-1.0, w, h));
        if r > l { (r, RollSide::Right) } else { (l, RollSide::Left) }
    };
    let (likely, side) = worse(weight.likely(), cg.value.likely());
    let (mut low, mut high) = (likely, likely);
    for w in [weight.low(), weight.high()] {
        for h in [cg.value.low(), cg.value.high()] {
            let (u, _) = worse(w, h);
            low = low.min(u);
            if u > high || u.is_nan() {
                high = u;
            }
        }
    }
    if !(high.is_finite() && low.is_finite()) {
        return Ok(unknown("nothing holds the vehicle down: the lines lift it"));
    }
    let used = Range::hull(low, likely, high);
    let angle = effective_angle(likely, cg.value.likely(), track.value)?;
    let mut warnings = Vec::new();
    if high >= 1.0 {
        warnings.push(Warning::new("rolls-over", "under this pull the vehicle can roll over"));
    }
    rec.record(|| {
        Step::range(
            "share of the restoring moment that is used up",
            "u",
            "u = (overturning by slope and lines) ÷ (restoring by the weight), about the tyre line",
            &used,
            "statics",
        )
        .input_range("W", &weight, Origin::Earlier)
        .input("t", t, Dimension::Length, track.origin.clone())
        .given("h", cg)
        .input("φ", slope.as_rad(), Dimension::Angle, Origin::Earlier)
        .input("sideways pull", sideways.as_n(), Dimension::Force, Origin::Earlier)
    });
    Ok(Roll { used: Some(used), side, effective_angle: Some(angle), sideways, matters, reason: None, warnings })
}

/// Tension that a holding line needs so that no more than this share of the restoring moment is used up. `along` is the
/// direction from the vehicle to what holds the line. Zero if nothing is needed; none if no tension in that line can do it.
///
/// With m the allowed share, O and R the moments and r what one newton of the line takes off O on the endangered side:
/// `T = (O − m R) / r`.
///
/// # Source
/// `statics`, derived; judged at the low weight and the high centre of gravity.
///
/// # Errors
/// If track or height of the centre of gravity are not told, the share is not above 0, or the direction has no length.
pub fn hold_tension(
    vehicle: &Vehicle,
    axes: &GroundAxes,
    pulls: &[Pull],
    at: Vec3,
    along: Vec3,
    allowed_share: f64,
    rec: &mut impl Recorder,
) -> Result<Option<Force>, MechanicsError> {
    let track = vehicle.track.as_ref().ok_or(MechanicsError::Missing {
        what: "the track",
        help: "measure from the middle of a left tyre to the middle of the right one",
    })?;
    let cg = vehicle.cg_height.as_ref().ok_or(MechanicsError::Missing {
        what: "the height of the centre of gravity",
        help: "give a range as loaded, for example 0.7 m .. 0.9 m",
    })?;
    let t = positive("the track", track.value.as_m(), "greater than zero, for example 1.6 m")?;
    let m = positive("the share that may be used up", allowed_share, "above 0, for example 0.5")?;
    let along = along.unit().ok_or(MechanicsError::BadInput {
        what: "the direction of the holding line",
        got: along.norm(),
        expected: "a direction with a length",
    })?;
    let w = vehicle.moving_mass().low().weight().as_n();
    let h = cg.value.high().as_m();
    let mut need = 0.0_f64;
    for sign in [1.0, -1.0] {
        let now = moments(axes, sign, t, Vec3::new(0.0, 0.0, h), w, pulls);
        let unit = moments(axes, sign, t, Vec3::ZERO, 0.0, &[Pull { at, force: along }]);
        let (short, gain) = (now.overturning - m * now.restoring, -unit.overturning);
        if short > 0.0 {
            if gain <= 0.0 {
                return Ok(None);
            }
            need = need.max(short / gain);
        }
    }
    // What saves one side must not turn it over the other.
    for sign in [1.0, -1.0] {
        let mut all = moments(axes, sign, t, Vec3::new(0.0, 0.0, h), w, pulls);
        let unit = moments(axes, sign, t, Vec3::ZERO, 0.0, &[Pull { at, force: along }]);
        all.overturning += unit.overturning * need;
        if all.overturning > m * all.restoring * (1.0 + 1e-9) + 1e-9 {
            return Ok(None);
        }
    }
    rec.record(|| {
        Step::new("tension of the holding line", "T", "T = (O − m R) / r", need, Dimension::Force, "statics")
            .input("m", m, Dimension::Ratio, Origin::Earlier)
            .given("h", cg)
    });
    Ok(Some(Force::from_n(need)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stability::ground_axes;
    use unmire_model::ground::WayOut;
    use unmire_model::trail::{Input, Trail};
    use unmire_model::{Mass, Silent};

    fn vehicle(cg: Option<f64>) -> Vehicle {
        Vehicle {
            name: "v".into(),
            mass: Input::assumed(Range::exact(Mass::from_kg(2900.0)).unwrap(), "test"),
            payload: None,
            wheelbase: None,
            track: Some(Input::assumed(Length::from_m(1.6), "test")),
            cg_height: cg.map(|h| Input::assumed(Range::exact(Length::from_m(h)).unwrap(), "test")),
            points: vec![],
            winch: None,
            tyres: None,
        }
    }

    fn side(deg: f64, bearing_deg: f64) -> GroundAxes {
        let w = WayOut {
            bearing: Input::assumed(Angle::from_deg(bearing_deg), "test"),
            grade: Input::assumed(Range::exact(Angle::ZERO).unwrap(), "test"),
            side_slope: Input::assumed(Angle::from_deg(deg), "test"),
            distance: Input::assumed(Range::exact(Length::from_m(5.0)).unwrap(), "test"),
        };
        ground_axes(&w, Angle::ZERO)
    }

    #[test]
    fn closed_form_a_side_slope_alone_uses_twice_h_tan_phi_over_t() {
        let r = roll(&vehicle(Some(0.9)), &side(24.0, 0.0), &[], &mut Silent).unwrap();
        let want = roll_ratio(Length::from_m(0.9), Length::from_m(1.6), Angle::from_deg(24.0)).unwrap();
        assert!((r.used.unwrap().likely() - want).abs() < 1e-12);
        // The left side is high: it would go over the right tyres.
        assert_eq!(r.side, RollSide::Right);
        assert!((r.effective_angle.unwrap().as_deg() - 24.0).abs() < 1e-9);
        assert!(r.matters);
    }

    #[test]
    fn closed_form_backwards_out_the_left_of_the_way_is_the_right_of_the_vehicle() {
        assert!((side(24.0, 180.0).side_slope().as_deg() + 24.0).abs() < 1e-9);
        assert!((side(24.0, 0.0).side_slope().as_deg() - 24.0).abs() < 1e-9);
    }

    #[test]
    fn closed_form_a_level_pull_to_the_side_tips_at_half_the_track_over_its_height() {
        let w = 2900.0 * unmire_model::STANDARD_GRAVITY;
        let tipping = w * 0.8 / 1.2;
        let pulls = [Pull { at: Vec3::new(0.0, 0.0, 1.2), force: Vec3::new(0.0, -tipping, 0.0) }];
        let r = roll(&vehicle(Some(0.9)), &side(0.0, 0.0), &pulls, &mut Silent).unwrap();
        assert!((r.used.unwrap().likely() - 1.0).abs() < 1e-12);
        assert_eq!(r.side, RollSide::Right);
        assert!((r.sideways.as_n() + tipping).abs() < 1e-9);
    }

    #[test]
    fn balance_the_holding_line_brings_the_share_to_what_was_asked() {
        let (v, axes) = (vehicle(Some(1.2)), side(24.0, 0.0));
        let at = Vec3::new(0.0, 0.5, 0.6);
        let along = Vec3::new(0.0, 1.0, 0.3);
        let t = hold_tension(&v, &axes, &[], at, along, 0.5, &mut Silent).unwrap().unwrap();
        assert!(t > Force::ZERO);
        let held = [Pull { at, force: along.unit().unwrap() * t.as_n() }];
        let r = roll(&v, &axes, &held, &mut Silent).unwrap();
        assert!((r.used.unwrap().likely() - 0.5).abs() < 1e-9);
        // A line that pulls downhill can't help.
        assert_eq!(hold_tension(&v, &axes, &[], at, -along, 0.5, &mut Silent).unwrap(), None);
    }

    #[test]
    fn closed_form_without_the_height_of_the_centre_of_gravity_it_is_unknown() {
        let r = roll(&vehicle(None), &side(10.0, 0.0), &[], &mut Silent).unwrap();
        assert!(r.used.is_none() && r.matters && r.reason.is_some());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_roll() {
        let mut trail = Trail::default();
        let pulls = [Pull { at: Vec3::new(2.0, 0.4, 0.5), force: Vec3::new(9000.0, -2000.0, 500.0) }];
        let a = roll(&vehicle(Some(0.9)), &side(12.0, 0.0), &pulls, &mut Silent).unwrap();
        let b = roll(&vehicle(Some(0.9)), &side(12.0, 0.0), &pulls, &mut trail).unwrap();
        assert_eq!(a, b);
        assert_eq!(trail.steps.len(), 1);
    }
}
