//! How much harder the lines may pull before the vehicle begins to tip, and which way it would go.

use super::axes::GroundAxes;
use super::roll::Pull;
use crate::error::{MechanicsError, positive};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Range, Recorder, Vec3};

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
    /// By what the present pulls may be multiplied until it begins to tip, low, likely, high: under 1 it tips already. None: no
    /// pull in this direction tips it, or it is not known.
    pub factor: Option<Range<f64>>,
    /// Which way it would go first.
    pub over: TipOver,
    /// Why it is not known, if it isn't.
    pub reason: Option<&'static str>,
}

/// By what the present pulls may be multiplied until the vehicle begins to tip over a side or an axle. With O the slope's moment, R
/// the restoring one, P that of the pulls about the same line: `k = (R − O) / P`, the least of the four lines.
///
/// # Source
/// `statics` (moments about the tyre or axle line), derived; judged over weight and height of the centre of gravity.
///
/// # Errors
/// If the track, the wheelbase or the height is not greater than zero, or a force is not an ordinary number.
///
/// # Assumes
/// A rigid vehicle standing still, its centre of gravity midway between tyres and axles; no sinking of the lower wheels. A wheelbase
/// that is not told leaves nose and tail out.
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
    let unknown = |reason| Ok(Tip { factor: None, over: TipOver::Left, reason: Some(reason) });
    let Some(track) = &vehicle.track else { return unknown("the track is not told") };
    let Some(cg) = &vehicle.cg_height else { return unknown("the height of the centre of gravity is not told") };
    let t = positive("the track", track.value.as_m(), "greater than zero, for example 1.6 m")?;
    let b = match &vehicle.wheelbase {
        Some(w) => Some(positive("the wheelbase", w.value.as_m(), "greater than zero, for example 2.8 m")?),
        None => None,
    };
    positive("the height of the centre of gravity", cg.value.low().as_m(), "greater than zero, for example 0.8 m")?;
    let weight = vehicle.moving_mass().increasing(unmire_model::Mass::weight);
    let lines = [
        (TipOver::Left, Some(t), Vec3::new(0.0, 1.0, 0.0)),
        (TipOver::Right, Some(t), Vec3::new(0.0, -1.0, 0.0)),
        (TipOver::Nose, b, Vec3::new(1.0, 0.0, 0.0)),
        (TipOver::Tail, b, Vec3::new(-1.0, 0.0, 0.0)),
    ];
    // Moment of a force at a point about the line on one side; turning over it is positive.
    let over = |side: Vec3, base: f64, p: Vec3, f: Vec3| f.dot(side) * p.z + f.z * (0.5 * base - p.dot(side));
    let least = |w: f64, h: f64| {
        let mut found: Option<(f64, TipOver)> = None;
        for (which, base, side) in lines {
            let Some(base) = base else { continue };
            let by_pulls: f64 = pulls.iter().map(|p| over(side, base, p.at, axes.parts(p.force))).sum();
            let by_weight = over(side, base, Vec3::new(0.0, 0.0, h), axes.parts(Vec3::UP * -w));
            if by_pulls > 1e-9 * w * h {
                let k = (-by_weight / by_pulls).max(0.0);
                if found.is_none_or(|(f, _)| k < f) {
                    found = Some((k, which));
                }
            } else if by_weight > 0.0 {
                // The slope alone tips it over this line.
                found = Some((0.0, which));
            }
        }
        found
    };
    let Some((likely, which)) = least(weight.likely().as_n(), cg.value.likely().as_m()) else {
        return Ok(Tip { factor: None, over: TipOver::Left, reason: None });
    };
    let mut factor = Range::hull(likely, likely, likely);
    for w in [weight.low().as_n(), weight.high().as_n()] {
        for h in [cg.value.low().as_m(), cg.value.high().as_m()] {
            if let Some((k, _)) = least(w, h) {
                factor = Range::hull(factor.low().min(k), likely, factor.high().max(k));
            }
        }
    }
    rec.record(|| {
        Step::range(
            "by what the pulls may grow until it tips",
            "k",
            "k = (R − O) / P about the tyre or axle line",
            &factor,
            "statics",
        )
        .input_range("W", &weight, Origin::Earlier)
        .input("t", t, Dimension::Length, track.origin.clone())
        .given("h", cg)
        .note(format!("it would go over the {}", which.word()))
    });
    Ok(Tip { factor: Some(factor), over: which, reason: None })
}
