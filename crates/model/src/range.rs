//! Ranges: what is known of a number at a mud hole is a low end, a likely value and a high end.

use crate::trail::Dimension;

/// A quantity that a range can hold.
pub trait Scalar: Copy + PartialOrd {
    /// The bare SI value.
    fn si(self) -> f64;
    /// From a bare SI value.
    fn of_si(v: f64) -> Self;
    /// The dimension, for printing.
    const DIMENSION: Dimension;
}
impl Scalar for f64 {
    fn si(self) -> f64 {
        self
    }
    fn of_si(v: f64) -> Self {
        v
    }
    const DIMENSION: Dimension = Dimension::Ratio;
}

/// Why three numbers do not make a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RangeError {
    /// One of them is not an ordinary number.
    NotFinite,
    /// They are not in the order low, likely, high.
    OutOfOrder,
}

/// Low, likely, high; always finite and in that order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range<Q> {
    low: Q,
    likely: Q,
    high: Q,
}

impl<Q: Scalar> Range<Q> {
    /// From its three values.
    ///
    /// # Errors
    /// If one is not finite or they are out of order.
    pub fn new(low: Q, likely: Q, high: Q) -> Result<Self, RangeError> {
        if !(low.si().is_finite() && likely.si().is_finite() && high.si().is_finite()) {
            return Err(RangeError::NotFinite);
        }
        if low.si() > likely.si() || likely.si() > high.si() {
            return Err(RangeError::OutOfOrder);
        }
        Ok(Self { low, likely, high })
    }
    /// From two ends; the likely value is their middle.
    ///
    /// # Errors
    /// As [`Range::new`].
    pub fn between(low: Q, high: Q) -> Result<Self, RangeError> {
        Self::new(low, Q::of_si(0.5 * (low.si() + high.si())), high)
    }
    /// One number, taken as certain.
    ///
    /// # Errors
    /// If it is not finite.
    pub fn exact(value: Q) -> Result<Self, RangeError> {
        Self::new(value, value, value)
    }
    /// The same range of a quantity that is known as a type.
    #[must_use]
    pub fn of_si(si: Range<f64>) -> Self {
        Self { low: Q::of_si(si.low), likely: Q::of_si(si.likely), high: Q::of_si(si.high) }
    }
    /// The same range in SI.
    #[must_use]
    pub fn si(&self) -> Range<f64> {
        Range { low: self.low.si(), likely: self.likely.si(), high: self.high.si() }
    }
    /// From three values in any order; a value that is not finite stays where it is and shows itself downstream
    /// as an error of the solver or an 'unknown' verdict. For results of arithmetic on ranges only.
    #[must_use]
    pub fn hull(a: Q, b: Q, c: Q) -> Self {
        let (lo, hi) = if a.si() <= c.si() { (a, c) } else { (c, a) };
        let low = if b.si() < lo.si() { b } else { lo };
        let high = if b.si() > hi.si() { b } else { hi };
        Self { low, likely: b, high }
    }
    /// The low end.
    #[must_use]
    pub fn low(&self) -> Q {
        self.low
    }
    /// The likely value.
    #[must_use]
    pub fn likely(&self) -> Q {
        self.likely
    }
    /// The high end.
    #[must_use]
    pub fn high(&self) -> Q {
        self.high
    }
    /// Whether all three are the same.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.low.si() == self.high.si()
    }
    /// The range of an increasing function of this one.
    #[must_use]
    pub fn increasing<R: Scalar>(&self, f: impl Fn(Q) -> R) -> Range<R> {
        Range::hull(f(self.low), f(self.likely), f(self.high))
    }
    /// The range of a decreasing function of this one.
    #[must_use]
    pub fn decreasing<R: Scalar>(&self, f: impl Fn(Q) -> R) -> Range<R> {
        Range::hull(f(self.high), f(self.likely), f(self.low))
    }
    /// The range of a function that increases with both.
    #[must_use]
    pub fn combine<S: Scalar, R: Scalar>(&self, other: &Range<S>, f: impl Fn(Q, S) -> R) -> Range<R> {
        Range::hull(f(self.low, other.low), f(self.likely, other.likely), f(self.high, other.high))
    }
    /// The sum, ends with ends.
    #[must_use]
    pub fn plus(&self, other: &Range<Q>) -> Range<Q> {
        self.combine(other, |a, b| Q::of_si(a.si() + b.si()))
    }
    /// Each of the three values, low to high.
    #[must_use]
    pub fn values(&self) -> [Q; 3] {
        [self.low, self.likely, self.high]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Force;

    #[test]
    fn a_range_is_finite_and_in_order() {
        assert_eq!(Range::new(1.0, 0.5, 2.0), Err(RangeError::OutOfOrder));
        assert_eq!(Range::new(1.0, f64::NAN, 2.0), Err(RangeError::NotFinite));
        let r = Range::between(Force::from_kn(2.0), Force::from_kn(4.0)).unwrap();
        assert_eq!(r.likely(), Force::from_kn(3.0));
        assert_eq!(r.plus(&r).high(), Force::from_kn(8.0));
        assert_eq!(r.decreasing(|f| -f).low(), Force::from_kn(-4.0));
    }
}
