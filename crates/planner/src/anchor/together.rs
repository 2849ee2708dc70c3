//! Two or three anchors alike on one pull, joined by a line that makes their legs equal: the most that one of them may get.

use unmire_mechanics::anchor::sharing::{Joined, SharingLeg, share};
use unmire_mechanics::rope;
use unmire_model::gear::Material;
use unmire_model::{Angle, Force, Length, Range, Silent, Vec3};
use unmire_tables::{ring_friction, row};

/// Angle between the outermost legs: half of the greatest that is allowed. Own judgement, told to the reader.
pub const SPREAD: Angle = Angle::from_deg(60.0);
/// Length of a leg: own judgement, told to the reader.
pub const LEG: Length = Length::from_m(4.0);
/// How far a crew may be off in the length of a leg.
const ERROR: Length = Length::from_cm(5.0);
/// Breaking strength of the polyester legs whose stretch counts.
const STRAP: Force = Force::from_kn(100.0);
/// Second line of three anchors, from their ring to the ring that is pulled.
const BETWEEN: Length = Length::from_m(1.0);

/// What joins them: stiffness of the legs, friction of the ring, and how far a leg may be off.
pub(super) fn gear() -> Option<(Range<Force>, Range<f64>, Length)> {
    let ea = rope::stiffness(Material::Polyester, None, STRAP, None, &mut Silent).ok()?;
    let ring = row(ring_friction::ROWS, "smooth_ring")?;
    Some((ea, Range::new(ring.low, ring.likely, ring.high).ok()?, ERROR))
}

/// The greatest share of the pull; none if the corners of what nobody knows have no balance.
pub(super) fn greatest_share(anchors: u32, stiffness: &Range<f64>, pull: Force) -> Option<f64> {
    if anchors < 2 || pull.as_n() <= 0.0 {
        return None;
    }
    let (ea, friction, error) = gear()?;
    let gap = SPREAD.as_rad() / f64::from(anchors - 1);
    let leg = |i: u32| SharingLeg {
        anchor: Vec3::new(LEG.as_m(), 0.0, 0.0).turned(Angle::from_rad(SPREAD.as_rad() * 0.5 - gap * f64::from(i))),
        length: LEG,
        error,
        ea,
        stiffness: *stiffness,
    };
    // The third stands between the two that share the first line.
    let order: &[u32] = if anchors == 3 { &[0, 2, 1] } else { &[0, 1] };
    let legs: Vec<SharingLeg> = order.iter().map(|i| leg(*i)).collect();
    let how = Joined::Equalising { friction, between: (anchors == 3).then_some(BETWEEN) };
    let shared = share(Vec3::new(-pull.as_n(), 0.0, 0.0), &legs, &how, &mut Silent).ok()?;
    let most = shared.anchors.iter().map(|a| a.share.high()).fold(0.0, f64::max);
    (most.is_finite() && most > 0.0 && most <= 1.0).then_some(most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_two_share_no_better_than_half_over_the_cosine_and_three_better_than_two() {
        let stiff = Range::new(1e5, 5e5, 5e6).unwrap_or_else(|_| Range::hull(1e5, 5e5, 5e6));
        let two = greatest_share(2, &stiff, Force::from_kn(20.0)).unwrap_or(f64::NAN);
        let three = greatest_share(3, &stiff, Force::from_kn(20.0)).unwrap_or(f64::NAN);
        assert!(two >= 0.5 / libm::cos(SPREAD.as_rad() * 0.5) && two < 0.8, "{two}");
        assert!(three < two && three > 1.0 / 3.0, "{three}");
    }
    #[test]
    fn regress_one_anchor_shares_with_nobody() {
        assert_eq!(greatest_share(1, &Range::hull(1e5, 5e5, 5e6), Force::from_kn(20.0)), None);
        assert_eq!(greatest_share(2, &Range::hull(1e5, 5e5, 5e6), Force::ZERO), None);
    }
}
