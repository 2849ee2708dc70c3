//! The choker: round the trunk, one eye through the other.

use super::{HitchError, Hitched, not_negative, positive};
use crate::error::MechanicsError;
use unmire_model::layout::Hitch;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Length, Recorder};

const PI: f64 = core::f64::consts::PI;

/// The angle of choke that a choker takes by itself: the angle between the standing part and the part that runs round the
/// trunk, where they pass through the eye. 180° would be a straight pull, 0° doubled back.
///
/// At the eye the running part and the eye's own leg hold the standing part, β from its line on either side; the strap slips
/// through the eye over the angle β, so the running part carries `T exp(−μ β)`. Balance along the pull:
/// `2 exp(−μ β) cos β = 1`; the angle of choke is `π − β`. Without friction that is exactly 120°, at μ = 0.45 about 135°,
/// which is what suppliers' sheets give for a free-hanging choke.
///
/// # Source
/// `statics` and `capstan`, derived; compare 'about 135°', `asme-b30-9-choke` (secondary).
///
/// # Errors
/// If the friction is negative or not an ordinary number.
///
/// # Assumes
/// A symmetric choke that nobody beat down; a choke that was beaten down has a smaller angle.
pub fn natural_choke_angle(friction: f64) -> Result<Angle, HitchError> {
    let mu = not_negative("the friction of the strap in its eye", friction)?;
    // f(β) = 2 exp(−μ β) cos β − 1 falls from 1 at 0 to −1 at 90°: bisection, 60 halvings.
    let (mut low, mut high) = (0.0_f64, PI * 0.5);
    if mu == 0.0 {
        return Ok(Angle::from_rad(2.0 * PI / 3.0));
    }
    for _ in 0..60 {
        let mid = 0.5 * (low + high);
        if 2.0 * libm::exp(-mu * mid) * libm::cos(mid) > 1.0 {
            low = mid;
        } else {
            high = mid;
        }
    }
    Ok(Angle::from_rad(PI - 0.5 * (low + high)))
}

/// Strap length that a choker needs to put the connector at distance d from the middle of a trunk of radius r, with an
/// angle of choke γ: the loop `2 r / tan β + r (π + 2 β)`, β = π − γ, and the standing part `d − r / sin β`.
///
/// # Source
/// `statics` (plane geometry of a tight band), derived.
///
/// # Errors
/// If r is not greater than zero, γ not between 90° and 180°, or d nearer than the eye.
pub fn choker_length(radius: Length, reach: Length, choke: Angle) -> Result<Length, HitchError> {
    let (eye, round) = parts(radius, choke)?;
    let standing = reach.as_m() - eye;
    not_negative("the standing part of the choker", standing)?;
    Ok(Length::from_m(round + standing))
}

/// Distance of the eye from the middle of the trunk, and length of the loop.
fn parts(radius: Length, choke: Angle) -> Result<(f64, f64), HitchError> {
    let r = positive("the radius of the trunk", radius.as_m())?;
    let beta = PI - choke.as_rad();
    if !(beta > 1e-6 && beta <= PI * 0.5 + 1e-12) {
        return Err(HitchError::BadInput {
            what: "the angle of choke (90° up to less than 180°)",
            got: choke.as_rad(),
        });
    }
    Ok((r / libm::sin(beta), 2.0 * r / libm::tan(beta) + r * (PI + 2.0 * beta)))
}

/// A choker round a trunk of this radius with a strap of this length, at its natural angle of choke for this friction of the
/// strap in its own eye. Zero is the cautious end: the smallest angle (120°) and so the lower factor.
///
/// # Source
/// `statics`, derived; see [`natural_choke_angle`].
///
/// # Errors
/// If an input is not greater than zero, or if the strap does not go round and through its eye: how much is missing.
///
/// # Assumes
/// The eye settles on the line of pull.
pub fn choker(radius: Length, strap: Length, friction: f64, rec: &mut impl Recorder) -> Result<Hitched, HitchError> {
    let l = positive("the length of the strap", strap.as_m())?;
    let choke = natural_choke_angle(friction)?;
    let (eye, round) = parts(radius, choke)?;
    if l < round {
        return Err(HitchError::TooShort { short_by: Length::from_m(round - l), needed: Length::from_m(round) });
    }
    let beta = PI - choke.as_rad();
    let contact = PI + 2.0 * beta;
    let h = Hitched {
        hitch: Hitch::Choker,
        strap,
        radius,
        reach: Length::from_m(eye + (l - round)),
        leg: Length::from_m(l - round),
        contact_arc: radius * contact,
        contact_angle: Angle::from_rad(contact),
        included: Angle::ZERO,
        choke: Some(choke),
    };
    rec.record(|| {
        Step::new(
            "distance from the middle of the trunk to the connector, choker",
            "d",
            "d = r / sin β + L − (2 r / tan β + r (π + 2 β)), β = π − angle of choke",
            h.reach.as_m(),
            Dimension::Length,
            "statics",
        )
        .input("L", l, Dimension::Length, Origin::Earlier)
        .input("r", radius.as_m(), Dimension::Length, Origin::Earlier)
        .input("γ", choke.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    Ok(h)
}

/// Share of the choker rating that is left at an angle of choke; a step by bands. The rating is the sling's rating *as a
/// choker*, not its straight one. Exactly 120° counts in the lower band.
///
/// # Source
/// `asme-b30-9-choke`, as reprinted by two sheets (secondary); which band the limit belongs to: derived, cautious.
#[must_use]
pub fn choke_factor(choke: Angle) -> f64 {
    crate::lookup::choke_factor(choke)
}

/// Reduction of a single choker whose sling leaves at a slope: H / L, height ÷ length of the sling above the choke.
///
/// # Source
/// Statics as printed on a sling instruction sheet (`sling-instruction-sheet`, secondary).
///
/// # Errors
/// If a length is not greater than zero or H is greater than L.
pub fn single_choker_reduction(height: Length, length: Length) -> Result<f64, MechanicsError> {
    super::level_leg_by_length(height, length).map(|f| 1.0 / f)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hitch::{Legs, basket};
    use unmire_model::Silent;

    #[test]
    fn closed_form_without_friction_the_choke_hangs_at_120_degrees() {
        assert!((natural_choke_angle(0.0).unwrap().as_deg() - 120.0).abs() < 1e-9);
        let at = natural_choke_angle(0.45).unwrap().as_deg();
        assert!((134.0..137.0).contains(&at), "{at}");
    }

    #[test]
    fn balance_choker_parts_add_up_to_the_strap() {
        let (r, l) = (Length::from_m(0.2), Length::from_m(3.0));
        for mu in [0.0, 0.2, 0.45] {
            let h = choker(r, l, mu, &mut Silent).unwrap();
            let again = choker_length(r, h.reach, h.choke.unwrap()).unwrap();
            assert!((again - l).as_m().abs() < 1e-12);
        }
    }

    #[test]
    fn closed_form_a_choker_reaches_further_than_a_basket_and_holds_less() {
        let (r, l) = (Length::from_m(0.2), Length::from_m(3.0));
        let (c, b) = (choker(r, l, 0.0, &mut Silent).unwrap(), basket(r, l, &mut Silent).unwrap());
        assert!(c.reach > b.reach);
        assert!(c.capacity_factor(Legs::Equal, 0.75) < b.capacity_factor(Legs::Equal, 0.75));
        // Without friction the angle is exactly 120°, which counts in the lower band.
        assert!((c.capacity_factor(Legs::Equal, 0.75) - 0.75 * 0.87).abs() < 1e-12);
    }
}
