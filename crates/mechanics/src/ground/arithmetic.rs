//! Arithmetic of ranges that the need is made of.

use super::need::NeedPart;
use unmire_model::{Force, Range};

/// Sum of the parts, ends with ends.
pub(super) fn sum(parts: &[NeedPart]) -> Range<Force> {
    parts.iter().fold(Range::hull(Force::ZERO, Force::ZERO, Force::ZERO), |a, p| a.plus(&p.range))
}

/// Product of a range of positive numbers with one of any sign: the corners decide.
pub(super) fn product<Q: unmire_model::range::Scalar>(a: &Range<Q>, b: &Range<f64>) -> Range<Q> {
    let times = |x: Q, y: f64| x.si() * y;
    let corners =
        [times(a.low(), b.low()), times(a.low(), b.high()), times(a.high(), b.low()), times(a.high(), b.high())];
    let mut low = corners[0];
    let mut high = corners[0];
    for c in corners {
        // Not a number is kept.
        if c < low || c.is_nan() {
            low = c;
        }
        if c > high || c.is_nan() {
            high = c;
        }
    }
    Range::hull(Q::of_si(low), Q::of_si(times(a.likely(), b.likely())), Q::of_si(high))
}
