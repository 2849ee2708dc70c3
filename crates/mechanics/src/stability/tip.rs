//! How much harder the lines may pull before a vehicle begins to tip, and which way it would go.

use super::axes::GroundAxes;
use super::roll::Pull;
use crate::error::{MechanicsError, positive};
use unmire_model::trail::{Dimension, Input, Origin, Recorder, Step};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Length, Range, Vec3};

/// Over what it would go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TipOver {
    /// Over the left tyres.
    Left,
    /// Over the right tyres.
    Right,
    /// Over the front axle.
    Nose,
    /// Over the rear axle.
    Tail,
}
impl TipOver {
    /// The stable word.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Nose => "nose",
            Self::Tail => "tail",
        }
    }
}

/// The static tip limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tip {
    /// By what the present pulls may be multiplied until it begins to tip, low, likely, high: under 1 it tips already, at 0 by
    /// itself. None: no pull in this direction tips it over a line that could be checked.
    pub factor: Option<Range<f64>>,
    /// Which way it would go first.
    pub over: TipOver,
    /// Why a line of wheels that these pulls turn it over was not checked, if one wasn't; it may then tip before.
    pub reason: Option<&'static str>,
}

/// By what the present pulls may be multiplied until the vehicle begins to tip over a side or an axle. With O the slope's moment,
/// R the restoring one, P that of the pulls about the same line: `k = (R − O) / P`, the least of the four lines. On the level,
/// for one level pull, `T = W x / h` as [`crate::anchor::parked::tipping_pull`].
///
/// # Source
/// `statics` (moments about the tyre or axle line), derived; judged over weight and height of the centre of gravity.
///
/// # Errors
/// If the track, the wheelbase or the height is not greater than zero, or a force is not an ordinary number.
///
/// # Assumes
/// A rigid vehicle standing still, its centre of gravity midway between tyres and axles; no sinking of the lower wheels.
pub fn tip(
    vehicle: &Vehicle,
    axes: &GroundAxes,
    pulls: &[Pull],
    rec: &mut impl Recorder,
) -> Result<Tip, MechanicsError> {
    for p in pulls {
        if !(p.force.is_finite() && p.at.is_finite()) {
            return Err(MechanicsError::BadInput {
                what: "a pull on the vehicle",
                got: p.force.norm(),
                expected: "ordinary numbers",
            });
        }
    }
    let half = |l: &Option<Input<Length>>, what, expected| {
        l.as_ref().map(|l| positive(what, l.value.as_m(), expected).map(|m| 0.5 * m)).transpose()
    };
    let long = half(&vehicle.wheelbase, "the wheelbase", "greater than zero, for example 2.8 m")?;
    let wide = half(&vehicle.track, "the track", "greater than zero, for example 1.6 m")?;
    if let Some(h) = &vehicle.cg_height {
        positive("the height of the centre of gravity", h.value.low().as_m(), "greater than zero, for example 0.8 m")?;
    }
    let weight = vehicle.moving_mass().increasing(unmire_model::Mass::weight);
    let down = axes.parts(-Vec3::UP);
    let mut out = Tip { factor: None, over: TipOver::Left, reason: None };
    for (over, side, arm, untold) in [
        (TipOver::Left, Vec3::new(0.0, 1.0, 0.0), wide, "the track is not told"),
        (TipOver::Right, Vec3::new(0.0, -1.0, 0.0), wide, "the track is not told"),
        (TipOver::Nose, Vec3::new(1.0, 0.0, 0.0), long, "the wheelbase is not told"),
        (TipOver::Tail, Vec3::new(-1.0, 0.0, 0.0), long, "the wheelbase is not told"),
    ] {
        let slopes = down.dot(side);
        // Whatever the arm is, a pull that neither leans to that side nor lifts does not turn it over.
        let Some(arm) = arm else {
            let leans = |p: &Pull| {
                let f = axes.parts(p.force);
                let least = 1e-9 * f.norm();
                f.dot(side) > least || f.z > least
            };
            if slopes > 1e-12 || pulls.iter().any(leans) {
                out.reason = out.reason.or(Some(untold));
            }
            continue;
        };
        let of = |p: &Pull| {
            let f = axes.parts(p.force);
            f.dot(side) * p.at.z + f.z * (arm - p.at.dot(side))
        };
        let by_pulls: f64 = pulls.iter().map(of).sum();
        let turned = by_pulls > 1e-9 * weight.high().as_n() * arm;
        // On ground that is level to that side the height of the centre of gravity does not matter.
        let heights = match &vehicle.cg_height {
            Some(h) => h.value.values().map(|l| l.as_m()),
            None if slopes.abs() <= 1e-12 => [0.0; 3],
            None => {
                if turned || slopes > 0.0 {
                    out.reason = out.reason.or(Some("the height of the centre of gravity is not told"));
                }
                continue;
            }
        };
        let [low, likely, high] = heights;
        let left = |w: f64, h: f64| w * (-down.z * arm - slopes * h);
        // The slope alone tips it over this line.
        let alone = heights.iter().any(|h| left(1.0, *h) <= 0.0);
        if !turned && !alone {
            continue;
        }
        let times = |w: f64, h: f64| if turned { (left(w, h) / by_pulls).max(0.0) } else { 0.0 };
        let [light, heavy] = [weight.low(), weight.high()].map(|w| [times(w.as_n(), low), times(w.as_n(), high)]);
        let all = [light[0], light[1], heavy[0], heavy[1]];
        let found = Range::hull(
            all.iter().copied().fold(f64::INFINITY, f64::min),
            times(weight.likely().as_n(), likely),
            all.iter().copied().fold(0.0, f64::max),
        );
        if out.factor.is_none_or(|f| found.low() < f.low()) {
            (out.factor, out.over) = (Some(found), over);
        }
    }
    if let Some(factor) = &out.factor {
        rec.record(|| {
            let mut step = Step::range(
                "by what the pulls may grow until it tips",
                "k",
                "k = (R − O) / P about the tyre or axle line",
                factor,
                "statics",
            )
            .input_range("W", &weight, Origin::Earlier);
            for (symbol, length) in [("b", &vehicle.wheelbase), ("t", &vehicle.track)] {
                if let Some(l) = length {
                    step = step.input(symbol, l.value.as_m(), Dimension::Length, l.origin.clone());
                }
            }
            if let Some(h) = &vehicle.cg_height {
                step = step.given("h", h);
            }
            step.note(format!("it would go over the {}", out.over.word()))
        });
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::anchor::parked::tipping_pull;
    use crate::stability::roll;
    use unmire_model::trail::Trail;
    use unmire_model::{Angle, Mass, Silent};

    fn vehicle() -> Vehicle {
        Vehicle {
            name: "v".into(),
            mass: Input::assumed(Range::exact(Mass::from_kg(2000.0)).unwrap(), "test"),
            payload: None,
            wheelbase: Some(Input::assumed(Length::from_m(2.8), "test")),
            track: Some(Input::assumed(Length::from_m(1.6), "test")),
            cg_height: Some(Input::assumed(Range::exact(Length::from_m(0.8)).unwrap(), "test")),
            points: vec![],
            winch: None,
            tyres: None,
        }
    }
    /// Ground that rises ahead by one angle and to the left by another.
    fn ground(ahead: f64, left: f64) -> GroundAxes {
        let (a, l) = (Angle::from_deg(ahead), Angle::from_deg(left));
        let x = Vec3::new(a.cos(), 0.0, a.sin());
        let y = Vec3::new(0.0, l.cos(), l.sin());
        let up = x.cross(y).unit().unwrap();
        GroundAxes { ahead: x, left: up.cross(x), up }
    }
    fn pull(at: (f64, f64, f64), force: Vec3) -> [Pull; 1] {
        [Pull { at: Vec3::new(at.0, at.1, at.2), force }]
    }
    fn of(v: &Vehicle, axes: &GroundAxes, pulls: &[Pull]) -> Tip {
        tip(v, axes, pulls, &mut Silent).unwrap()
    }

    #[test]
    fn closed_form_on_the_level_it_tips_at_weight_times_arm_over_height() {
        let w = Mass::from_kg(2000.0).weight();
        for (force, arm, over) in [
            (Vec3::new(5e3, 0.0, 0.0), 1.4, TipOver::Nose),
            (Vec3::new(-5e3, 0.0, 0.0), 1.4, TipOver::Tail),
            (Vec3::new(0.0, 5e3, 0.0), 0.8, TipOver::Left),
            (Vec3::new(0.0, -5e3, 0.0), 0.8, TipOver::Right),
        ] {
            let found = of(&vehicle(), &ground(0.0, 0.0), &pull((2.2, 0.0, 0.7), force));
            let (times, line) = (found.factor.unwrap(), found.over);
            let want = tipping_pull(w, Length::from_m(arm), Length::from_m(0.7)).unwrap();
            assert!((times.likely() * 5e3 - want.as_n()).abs() < 1e-6);
            assert_eq!(line, over);
        }
    }

    #[test]
    fn closed_form_a_rising_line_at_the_tail_lifts_it_over_its_nose() {
        // Straight up, 3.6 m behind the front wheels' line: W · 1.4 = T · 3.6.
        let t = of(&vehicle(), &ground(0.0, 0.0), &pull((-2.2, 0.0, 0.7), Vec3::UP * 1e3));
        let (times, over) = (t.factor.unwrap(), t.over);
        assert!((times.likely() * 1e3 - 2000.0 * unmire_model::STANDARD_GRAVITY * 1.4 / 3.6).abs() < 1e-6);
        assert_eq!(over, TipOver::Nose);
    }

    #[test]
    fn balance_at_that_many_times_the_roll_is_used_up() {
        let axes = ground(0.0, 12.0);
        let one = pull((0.3, 0.4, 0.9), Vec3::new(1e3, -4e3, 800.0));
        let found = of(&vehicle(), &axes, &one);
        let (times, over) = (found.factor.unwrap(), found.over);
        assert_eq!(over, TipOver::Right);
        let all = [Pull { at: one[0].at, force: one[0].force * times.likely() }];
        let r = roll(&vehicle(), &axes, &all, &mut Silent).unwrap();
        assert!((r.used.unwrap().likely() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn closed_form_what_is_not_told_is_not_checked_where_it_matters() {
        let sideways = pull((0.0, 0.0, 0.7), Vec3::new(0.0, 4e3, 0.0));
        let along = pull((0.0, 0.0, 0.7), Vec3::new(4e3, 0.0, 0.0));
        let bare = Vehicle { track: None, wheelbase: None, cg_height: None, ..vehicle() };
        assert_eq!(of(&bare, &ground(0.0, 0.0), &sideways).reason, Some("the track is not told"));
        assert_eq!(of(&bare, &ground(0.0, 0.0), &along).reason, Some("the wheelbase is not told"));
        // Without the centre of gravity's height it is checked on the level and not on a slope.
        let no_cg = Vehicle { cg_height: None, ..vehicle() };
        let flat = of(&no_cg, &ground(0.0, 0.0), &along);
        assert!(flat.reason.is_none() && flat.factor.is_some());
        let steep = of(&no_cg, &ground(-8.0, 0.0), &along);
        assert_eq!(steep.reason, Some("the height of the centre of gravity is not told"));
    }

    #[test]
    fn closed_form_on_a_slope_that_tips_it_alone_it_bears_nothing() {
        // tan 46° · 0.8 > 0.8.
        let found = of(&vehicle(), &ground(0.0, 46.0), &pull((0.0, 0.0, 0.5), Vec3::new(1e3, 0.0, 0.0)));
        let (times, over) = (found.factor.unwrap(), found.over);
        assert_eq!((times.low(), over), (0.0, TipOver::Right));
    }

    #[test]
    fn balance_recording_changes_no_bit_and_not_a_number_is_an_error() {
        let mut trail = Trail::default();
        let p = pull((2.0, 0.4, 0.6), Vec3::new(3e3, 2e3, 100.0));
        let a = tip(&vehicle(), &ground(5.0, 3.0), &p, &mut trail).unwrap();
        assert_eq!(a, of(&vehicle(), &ground(5.0, 3.0), &p));
        assert_eq!(trail.steps.len(), 1);
        let bad = pull((2.0, 0.4, 0.6), Vec3::new(f64::NAN, 0.0, 0.0));
        assert!(tip(&vehicle(), &ground(0.0, 0.0), &bad, &mut Silent).is_err());
        let flat = Vehicle { track: Some(Input::assumed(Length::ZERO, "test")), ..vehicle() };
        assert!(tip(&flat, &ground(0.0, 0.0), &p, &mut Silent).is_err());
    }
}
