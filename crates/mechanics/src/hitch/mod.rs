//! How a strap holds a trunk, a boulder or a fitting: its true geometry, what each leg carries, how hard it presses.
//!
//! Small copyable types and no allocation: the search asks this for every strap on every anchor.
//!
//! Frame of a hitch: the plane through the middle of the trunk and the pull. The *reach* is the distance from the middle
//! of the trunk to where the connector bears.
//!
//! ```
//! use unmire_mechanics::hitch::{basket, Legs};
//! use unmire_model::{Length, Silent};
//! // A strap of 3 m round a trunk of 0.40 m.
//! let h = basket(Length::from_m(0.20), Length::from_m(3.0), &mut Silent).unwrap();
//! assert!(h.reach.as_m() > 1.1 && h.reach.as_m() < 1.3);
//! assert!(h.leg_share(Legs::Equal) < 0.52); // each leg carries a little more than half of the pull
//! ```

mod basket;
mod bridle;
mod choker;
mod hitched;

pub use basket::{basket, basket_length};
pub use bridle::{
    BridleLegs, bridle_legs, included_angle_leg, level_leg, level_leg_by_length, pair_lift_legs, shared_level_leg,
    vertical_share,
};
pub use choker::{choke_factor, choker, choker_length, natural_choke_angle, single_choker_reduction};

pub use hitched::{Hitched, Legs};

use unmire_model::layout::Hitch;
use unmire_model::{Angle, Force, Length, Pressure, Recorder};

/// The widest included angle of two legs that meet in one connector: 120°.
pub const WIDEST_INCLUDED: Angle = Angle::from_rad(2.0 * core::f64::consts::PI / 3.0);

/// Why a strap does not make a hitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HitchError {
    /// A length or a radius is not an ordinary number greater than zero, or a friction is negative.
    BadInput {
        /// Which input.
        what: &'static str,
        /// What it was, in SI.
        got: f64,
    },
    /// The strap is too short: it does not go round, or its legs would open past 120°.
    TooShort {
        /// How much is missing.
        short_by: Length,
        /// The least length that would do.
        needed: Length,
    },
    /// A hitch goes round something, and nothing says how thick that is.
    NoRadius,
}
impl core::fmt::Display for HitchError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::BadInput { what, got } => {
                write!(f, "{what} is {got}; expected an ordinary number greater than zero, for example 0.2")
            }
            Self::TooShort { short_by, needed } => write!(
                f,
                "the strap is {:.2} m too short: it must be at least {:.2} m",
                ((short_by.as_cm() - 1e-9).ceil()) / 100.0,
                ((needed.as_cm() - 1e-9).ceil()) / 100.0
            ),
            Self::NoRadius => {
                write!(f, "nothing says how thick the thing is that the strap goes round; measure its girth")
            }
        }
    }
}
impl core::error::Error for HitchError {}

/// Choker rating ÷ straight rating where the label prints none: 0.75.
///
/// # Source
/// `navedtra-14081` p. 13-20, read. EN 1492-1 has 0.80 (secondary); the lower one is used.
#[must_use]
pub fn choker_share() -> f64 {
    crate::lookup::choker_share()
}

/// Pressure of a band with a tension on a round thing: `p = T / (w r)`. T tension N, w width m, r radius m.
///
/// # Source
/// `statics` (membrane equilibrium), derived.
///
/// # Assumes
/// The band lies flat over its whole width.
#[must_use]
pub fn contact_pressure(tension: Force, width: Length, radius: Length) -> Pressure {
    tension.over_area(width.times(radius))
}

/// A strap straight from a fitting.
///
/// # Source
/// `statics`.
///
/// # Errors
/// If the length is not greater than zero.
pub fn straight(strap: Length) -> Result<Hitched, HitchError> {
    positive("the length of the strap", strap.as_m())?;
    Ok(Hitched {
        hitch: Hitch::Straight,
        strap,
        radius: Length::ZERO,
        reach: strap,
        leg: strap,
        contact_arc: Length::ZERO,
        contact_angle: Angle::ZERO,
        included: Angle::ZERO,
        choke: None,
    })
}

/// A strap in whichever hitch, round something with this radius (not needed for a straight one). A choker is taken at its
/// natural angle without friction at the eye, which is the cautious end.
///
/// # Source
/// `statics`; see [`basket`] and [`choker`].
///
/// # Errors
/// As [`basket`] and [`choker`]; [`HitchError::NoRadius`] if there is no radius to go round.
pub fn hitch(
    kind: Hitch,
    radius: Option<Length>,
    strap: Length,
    rec: &mut impl Recorder,
) -> Result<Hitched, HitchError> {
    match kind {
        Hitch::Straight => straight(strap),
        Hitch::Basket => basket(radius.ok_or(HitchError::NoRadius)?, strap, rec),
        Hitch::Choker => choker(radius.ok_or(HitchError::NoRadius)?, strap, 0.0, rec),
    }
}

fn positive(what: &'static str, v: f64) -> Result<f64, HitchError> {
    if v.is_finite() && v > 0.0 { Ok(v) } else { Err(HitchError::BadInput { what, got: v }) }
}

fn not_negative(what: &'static str, v: f64) -> Result<f64, HitchError> {
    if v.is_finite() && v >= 0.0 { Ok(v) } else { Err(HitchError::BadInput { what, got: v }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    fn m(v: f64) -> Length {
        Length::from_m(v)
    }

    #[test]
    fn closed_form_a_basket_with_parallel_legs_halves_the_pull() {
        let h = basket(m(0.15), m(200.0), &mut Silent).unwrap();
        assert!((h.leg_share(Legs::Equal) - 0.5).abs() < 1e-5);
        assert!((h.capacity_factor(Legs::Equal, 0.75) - 2.0).abs() < 1e-5);
    }

    #[test]
    fn closed_form_the_worst_leg_without_friction_is_the_equal_leg() {
        let h = basket(m(0.2), m(2.0), &mut Silent).unwrap();
        let even = h.leg_share(Legs::Equal);
        assert!((h.leg_share(Legs::Worst { friction: 0.0 }) - even).abs() < 1e-12);
        assert!(h.leg_share(Legs::Worst { friction: 0.5 }) > even);
    }

    #[test]
    fn closed_form_the_worst_leg_of_a_wide_basket_is_the_pull_over_the_sine_of_the_included_angle() {
        // Included angle 110 degrees and much friction: the worst ratio is -cos 110°, where T1 = F / sin 110°.
        let alpha = 55.0_f64.to_radians();
        let d = m(0.2 / libm::sin(alpha));
        let strap = basket_length(m(0.2), d).unwrap();
        let h = basket(m(0.2), strap, &mut Silent).unwrap();
        let worst = h.leg_share(Legs::Worst { friction: 0.8 });
        assert!((worst - 1.0 / libm::sin(2.0 * alpha)).abs() < 1e-9);
    }

    #[test]
    fn closed_form_pressure_of_a_basket_is_pull_over_width_times_diameter() {
        let p = contact_pressure(Force::from_kn(20.0), Length::from_mm(75.0), Length::from_mm(150.0));
        // 40 kN in a basket with parallel legs on 300 mm: T / (w d).
        assert!((p.as_mpa() - 40_000.0 / (75.0 * 300.0)).abs() < 1e-12);
    }

    #[test]
    fn balance_stiffness_of_a_basket_is_the_slope_of_its_reach() {
        let (r, l, ea) = (m(0.2), m(3.0), Force::from_kn(2000.0));
        let h = basket(r, l, &mut Silent).unwrap();
        let dl = 1e-6;
        let longer = basket(r, m(3.0 + dl), &mut Silent).unwrap();
        // dL = T L / EA with T = F / (2 cos α): F per metre of reach.
        let d_reach = (longer.reach - h.reach).as_m();
        let pull = dl * ea.as_n() / 3.0 / h.leg_share(Legs::Equal);
        let k = pull / d_reach;
        let ours = h.stiffness(ea).as_n() / h.reach.as_m();
        assert!((k - ours).abs() / ours < 1e-5, "{k} {ours}");
    }
}
