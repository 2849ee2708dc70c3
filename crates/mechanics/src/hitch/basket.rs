//! The basket: round the trunk, both eyes to one connector.

use super::{HitchError, Hitched, WIDEST_INCLUDED, positive};
use unmire_model::layout::Hitch;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Length, Recorder};

const PI: f64 = core::f64::consts::PI;

/// Strap length that puts the connector at distance d from the middle of a trunk of radius r:
/// `L = 2 √(d² − r²) + r (π + 2 α)`, `α = asin(r / d)`. Lengths in m, bearing to bearing with the eyes.
///
/// # Source
/// `statics` (plane geometry of a tight band), derived.
///
/// # Errors
/// If r is not greater than zero or d not greater than r.
pub fn basket_length(radius: Length, reach: Length) -> Result<Length, HitchError> {
    let r = positive("the radius of the trunk", radius.as_m())?;
    let d = positive("the distance from the trunk", reach.as_m())?;
    if d <= r {
        return Err(HitchError::BadInput {
            what: "the distance from the middle of the trunk (inside the trunk)",
            got: d,
        });
    }
    Ok(Length::from_m(length_of_leg(r, (d * d - r * r).sqrt())))
}

/// `L = 2 q + r (π + 2 atan(r / q))`, q one free leg.
fn length_of_leg(r: f64, q: f64) -> f64 {
    2.0 * q + r * (PI + 2.0 * libm::atan2(r, q))
}

/// A basket round a trunk of this radius with a strap of this length: solves [`basket_length`] for the distance.
///
/// With q the free leg, `L(q)` is increasing and convex, `dL/dq = 2 q² / (q² + r²)`, and `(L − π r) / 2` is at or above the
/// root; Newton's method from there comes down on it without overshooting.
///
/// # Source
/// `statics` (plane geometry of a tight band), derived. The limit of 120°: `asme-b30-26` 26-1.9.4(k), read.
///
/// # Errors
/// If an input is not greater than zero, or if the legs would open past 120°: how much strap is missing.
///
/// # Assumes
/// The strap lies level round a round trunk; the connector's own size is left out.
pub fn basket(radius: Length, strap: Length, rec: &mut impl Recorder) -> Result<Hitched, HitchError> {
    let r = positive("the radius of the trunk", radius.as_m())?;
    let l = positive("the length of the strap", strap.as_m())?;
    let shortest_leg = r / libm::tan(WIDEST_INCLUDED.as_rad() * 0.5);
    let needed = length_of_leg(r, shortest_leg);
    if l < needed {
        return Err(HitchError::TooShort { short_by: Length::from_m(needed - l), needed: Length::from_m(needed) });
    }
    let mut q = (l - PI * r) * 0.5;
    for _ in 0..60 {
        let step = (length_of_leg(r, q) - l) * (q * q + r * r) / (2.0 * q * q);
        let next = q - step;
        // The steps only ever go down until rounding stops them.
        if !(next < q && next >= shortest_leg) {
            break;
        }
        q = next;
    }
    let alpha = libm::atan2(r, q);
    let contact = PI + 2.0 * alpha;
    let h = Hitched {
        hitch: Hitch::Basket,
        strap,
        radius,
        reach: Length::from_m((q * q + r * r).sqrt()),
        leg: Length::from_m(q),
        contact_arc: Length::from_m(r * contact),
        contact_angle: Angle::from_rad(contact),
        included: Angle::from_rad(2.0 * alpha),
        choke: None,
    };
    rec.record(|| {
        Step::new(
            "distance from the middle of the trunk to the connector, basket",
            "d",
            "L = 2 √(d² − r²) + r (π + 2 α), α = asin(r / d), solved for d",
            h.reach.as_m(),
            Dimension::Length,
            "statics",
        )
        .input("L", l, Dimension::Length, Origin::Earlier)
        .input("r", r, Dimension::Length, Origin::Earlier)
    });
    Ok(h)
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    #[test]
    fn balance_length_and_distance_invert_each_other() {
        for r in [0.05, 0.15, 0.3, 0.6, 1.5] {
            for k in [1.156, 1.3, 2.0, 5.0, 40.0] {
                let strap = basket_length(Length::from_m(r), Length::from_m(r * k)).unwrap();
                let h = basket(Length::from_m(r), strap, &mut Silent).unwrap();
                assert!((h.reach.as_m() - r * k).abs() < 1e-9 * r * k, "r {r} k {k}: {}", h.reach.as_m());
                let parts = 2.0 * h.leg.as_m() + h.contact_arc.as_m();
                assert!((parts - strap.as_m()).abs() < 1e-12 * strap.as_m());
            }
        }
    }

    #[test]
    fn closed_form_a_short_strap_says_how_much_is_missing() {
        // At 120° the legs are r / tan 60° and the contact angle 300°.
        let r: f64 = 0.3;
        let needed = r * (2.0 / libm::sqrt(3.0) + 300.0_f64.to_radians());
        match basket(Length::from_m(r), Length::from_m(needed - 0.1), &mut Silent) {
            Err(HitchError::TooShort { short_by, needed: n }) => {
                assert!((short_by.as_m() - 0.1).abs() < 1e-12);
                assert!((n.as_m() - needed).abs() < 1e-12);
            }
            other => panic!("{other:?}"),
        }
        let h = basket(Length::from_m(r), Length::from_m(needed + 1e-12), &mut Silent).unwrap();
        assert!((h.included.as_deg() - 120.0).abs() < 1e-6);
    }
}
