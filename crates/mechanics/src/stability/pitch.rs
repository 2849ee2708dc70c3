//! Pitch: whether the pulls turn the vehicle over its front or rear axle.

use super::axes::GroundAxes;
use super::roll::Pull;
use crate::error::{MechanicsError, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Range, Vec3};

/// How far the vehicle is from pitching over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pitch {
    /// Share of the restoring moment that is used up; 1 is the tipping point. None: not known.
    pub used: Option<Range<f64>>,
    /// Whether it would go over its nose (true) or its tail.
    pub over_nose: bool,
    /// Why it is not known.
    pub reason: Option<&'static str>,
}

/// How far the vehicle is from turning over an axle under these pulls.
///
/// # Source
/// `statics` (moments about the axle's contact line), derived.
///
/// # Errors
/// If the wheelbase or the height is not greater than zero.
///
/// # Assumes
/// The centre of gravity midway between the axles; a rigid vehicle standing still.
pub fn pitch(
    vehicle: &Vehicle,
    axes: &GroundAxes,
    pulls: &[Pull],
    rec: &mut impl Recorder,
) -> Result<Pitch, MechanicsError> {
    let unknown = |reason| Ok(Pitch { used: None, over_nose: true, reason: Some(reason) });
    let Some(wheelbase) = &vehicle.wheelbase else { return unknown("the wheelbase is not told") };
    let Some(cg) = &vehicle.cg_height else { return unknown("the height of the centre of gravity is not told") };
    let b = positive("the wheelbase", wheelbase.value.as_m(), "greater than zero, for example 2.8 m")?;
    positive("the height of the centre of gravity", cg.value.low().as_m(), "greater than zero, for example 0.8 m")?;
    let weight = vehicle.moving_mass().increasing(unmire_model::Mass::weight);
    let share = |sign: f64, w: f64, h: f64| {
        let (mut over, mut back) = (0.0, 0.0);
        let mut add = |m: f64| if m > 0.0 { over += m } else { back -= m };
        let mut put = |p: Vec3, f: Vec3| {
            add(sign * f.x * p.z);
            add(f.z * (b * 0.5 - sign * p.x));
        };
        put(Vec3::new(0.0, 0.0, h), axes.parts(Vec3::UP * -w));
        for p in pulls {
            put(p.at, axes.parts(p.force));
        }
        over / back
    };
    let worse = |w: f64, h: f64| {
        let (nose, tail) = (share(1.0, w, h), share(-1.0, w, h));
        if tail > nose { (tail, false) } else { (nose, true) }
    };
    let (likely, over_nose) = worse(weight.likely().as_n(), cg.value.likely().as_m());
    let (mut low, mut high) = (likely, likely);
    for w in [weight.low().as_n(), weight.high().as_n()] {
        for h in [cg.value.low().as_m(), cg.value.high().as_m()] {
            let (u, _) = worse(w, h);
            low = low.min(u);
            if u > high || u.is_nan() {
                high = u;
            }
        }
    }
    if !(low.is_finite() && high.is_finite()) {
        return unknown("nothing holds the vehicle down, or a pull is not an ordinary number");
    }
    let used = Range::hull(low, likely, high);
    rec.record(|| {
        Step::range(
            "share of the moment against pitching that is used up",
            "u",
            "u = overturning ÷ restoring moment about the axle",
            &used,
            "statics",
        )
        .input_range("W", &weight, Origin::Earlier)
        .input("wheelbase", b, Dimension::Length, wheelbase.origin.clone())
        .given("h", cg)
    });
    Ok(Pitch { used: Some(used), over_nose, reason: None })
}
