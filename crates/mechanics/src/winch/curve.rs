//! Something that a winch does against its pull on the first layer: straight between the points of its data sheet, or one straight
//! line through all of them.

use crate::error::MechanicsError;
use unmire_model::range::Scalar;
use unmire_model::{Force, Range};

/// Which way a curve goes with rising pull. The other way round is a fault of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Course {
    /// As current does: it never falls.
    Rises,
    /// As speed does: it never rises.
    Falls,
}

/// A curve of ranges over pull, by rising pull; at least two points.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve<Q> {
    points: Vec<(Force, Range<Q>)>,
}

/// What a curve says at a pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading<Q> {
    /// The value, never below zero.
    pub value: Range<Q>,
    /// Whether the pull lies beyond the first or the last point: the last straight piece was drawn on.
    pub outside: bool,
}

/// A straight line through points by least squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Value at no pull.
    pub at_zero: f64,
    /// Change for each newton of pull.
    pub slope: f64,
    /// The greatest distance of a point from it, in the unit of the values.
    pub worst: f64,
}

impl<Q: Scalar> Curve<Q> {
    /// Straight from point to point.
    ///
    /// # Source
    /// `own-judgement`: straight pieces need no more than the sheet says. For an electric motor current is nearly linear in pull
    /// (`winch-current-page`, read: three points on one line within their rounding).
    ///
    /// # Errors
    /// If there are fewer than two points, a number is none, pulls do not rise, or values go the wrong way.
    pub fn through(points: Vec<(Force, Range<Q>)>, course: Course) -> Result<Self, MechanicsError> {
        let bad = |what, got, expected| Err(MechanicsError::BadInput { what, got, expected });
        if points.len() < 2 {
            return bad("the number of points of the data sheet", points.len() as f64, "two or more");
        }
        for (f, r) in &points {
            if !(f.is_finite() && f.as_n() >= 0.0) {
                return bad("a pull of the data sheet", f.as_n(), "zero or more, for example 18 kN");
            }
            if !(r.low().si().is_finite() && r.high().si().is_finite() && r.low().si() >= 0.0) {
                return bad("a value of the data sheet", r.low().si(), "zero or more");
            }
        }
        for (a, b) in points.iter().zip(points.iter().skip(1)) {
            if a.0 >= b.0 {
                return bad("a pull of the data sheet", b.0.as_n(), "a greater pull than the one before it");
            }
            let (one, two) = match course {
                Course::Rises => (&a.1, &b.1),
                Course::Falls => (&b.1, &a.1),
            };
            if one.likely().si() > two.likely().si() {
                return bad(
                    "a value of the data sheet",
                    b.1.likely().si(),
                    "current that rises with the pull, speed that falls with it",
                );
            }
        }
        Ok(Self { points })
    }

    /// What it says at a pull.
    ///
    /// # Source
    /// `own-judgement`: straight between points, the last piece drawn on beyond the ends, and that is told.
    #[must_use]
    pub fn at(&self, pull: Force) -> Reading<Q> {
        let after = self.points.iter().position(|(f, _)| *f >= pull).unwrap_or(self.points.len());
        let upper = after.clamp(1, self.points.len() - 1);
        let (Some(a), Some(b)) = (self.points.get(upper - 1), self.points.get(upper)) else {
            // Two points at least are there: `through` refuses fewer.
            let none = Q::of_si(f64::NAN);
            return Reading { value: Range::hull(none, none, none), outside: true };
        };
        let t = (pull - a.0) / (b.0 - a.0);
        let mid = |x: Q, y: Q| Q::of_si((x.si() + t * (y.si() - x.si())).max(0.0));
        let value =
            Range::hull(mid(a.1.low(), b.1.low()), mid(a.1.likely(), b.1.likely()), mid(a.1.high(), b.1.high()));
        Reading { value, outside: !(0.0..=1.0).contains(&t) }
    }

    /// The greatest pull that it has a point for.
    ///
    /// # Source
    /// None: it reads the curve.
    #[must_use]
    pub fn end(&self) -> Force {
        self.points.last().map_or(Force::from_n(f64::NAN), |p| p.0)
    }
}

/// The straight line that lies best through points, by least squares of the values.
///
/// # Source
/// `statics`: the normal equations of a straight line, closed form; derived.
///
/// # Errors
/// If there are fewer than two points, a number is none, or all pulls are the same.
pub fn fit_line(points: &[(Force, f64)]) -> Result<Fit, MechanicsError> {
    let bad = |what, got, expected| Err(MechanicsError::BadInput { what, got, expected });
    if points.len() < 2 {
        return bad("the number of points of the data sheet", points.len() as f64, "two or more");
    }
    let n = points.len() as f64;
    let mean_x = points.iter().map(|p| p.0.as_n()).sum::<f64>() / n;
    let mean_y = points.iter().map(|p| p.1).sum::<f64>() / n;
    let (mut xx, mut xy) = (0.0, 0.0);
    for (x, y) in points {
        xx += (x.as_n() - mean_x) * (x.as_n() - mean_x);
        xy += (x.as_n() - mean_x) * (y - mean_y);
    }
    let slope = xy / xx;
    let at_zero = mean_y - slope * mean_x;
    if !(slope.is_finite() && at_zero.is_finite()) {
        return bad("the spread of the pulls", xx, "ordinary numbers, at least two of them different");
    }
    let worst = points.iter().fold(0.0_f64, |w, (x, y)| w.max((at_zero + slope * x.as_n() - y).abs()));
    Ok(Fit { at_zero, slope, worst })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Current;

    fn amps(v: f64) -> Range<Current> {
        let a = Current::from_a(v);
        Range::hull(a, a, a)
    }
    fn kn(v: f64) -> Force {
        Force::from_kn(v)
    }

    #[test]
    fn closed_form_straight_between_points_and_on_beyond_them() {
        let c = Curve::through(
            vec![(kn(0.0), amps(60.0)), (kn(10.0), amps(160.0)), (kn(20.0), amps(360.0))],
            Course::Rises,
        )
        .unwrap();
        let at = |x: f64| c.at(kn(x)).value.likely().as_a();
        assert!((at(5.0) - 110.0).abs() < 1e-9);
        assert!((at(10.0) - 160.0).abs() < 1e-9);
        assert!((at(30.0) - 560.0).abs() < 1e-9);
        assert!(c.at(kn(30.0)).outside && !c.at(kn(20.0)).outside && !c.at(Force::ZERO).outside);
    }

    #[test]
    fn closed_form_a_sheet_that_goes_the_wrong_way_is_refused() {
        let up = vec![(kn(0.0), amps(60.0)), (kn(10.0), amps(50.0))];
        assert!(Curve::through(up.clone(), Course::Rises).is_err());
        assert!(Curve::through(up, Course::Falls).is_ok());
        assert!(Curve::through(vec![(kn(0.0), amps(1.0))], Course::Rises).is_err());
        assert!(Curve::through(vec![(kn(5.0), amps(1.0)), (kn(5.0), amps(2.0))], Course::Rises).is_err());
        assert!(Curve::through(vec![(kn(0.0), amps(f64::NAN)), (kn(5.0), amps(2.0))], Course::Rises).is_err());
    }

    #[test]
    fn closed_form_the_line_through_points_on_a_line_is_that_line() {
        let f = fit_line(&[(kn(0.0), 3.0), (kn(1.0), 5.0), (kn(4.0), 11.0)]).unwrap();
        assert!((f.at_zero - 3.0).abs() < 1e-12 && (f.slope - 2e-3).abs() < 1e-15 && f.worst < 1e-12);
        assert!(fit_line(&[(kn(1.0), 3.0), (kn(1.0), 5.0)]).is_err());
    }
}
