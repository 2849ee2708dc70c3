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

pub use basket::{basket, basket_length};
pub use bridle::{
    BridleLegs, bridle_legs, included_angle_leg, level_leg, level_leg_by_length, pair_lift_legs, shared_level_leg,
    vertical_share,
};
pub use choker::{choke_factor, choker, choker_length, natural_choke_angle, single_choker_reduction};

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

/// How the two legs of a basket share the pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Legs {
    /// Evenly: the pull stays along the middle.
    Equal,
    /// As unevenly as bark friction lets them: the direction changes during the pull, or the strap holds a block.
    Worst {
        /// Friction coefficient of the strap on the bark; its high end.
        friction: f64,
    },
}

/// A strap in its hitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hitched {
    /// Which hitch.
    pub hitch: Hitch,
    /// Length of the strap, bearing to bearing.
    pub strap: Length,
    /// Radius of what it goes round; zero for a straight strap.
    pub radius: Length,
    /// From the middle of the trunk (or from the fitting) to where the connector bears.
    pub reach: Length,
    /// One free leg of a basket; the standing part of a choker; the whole strap when straight.
    pub leg: Length,
    /// Length that lies on the bark.
    pub contact_arc: Length,
    /// Angle over which it lies on the bark.
    pub contact_angle: Angle,
    /// Angle between the two legs at the connector; zero with one leg.
    pub included: Angle,
    /// Angle of choke, if it is a choker: 180° is a straight pull through the eye.
    pub choke: Option<Angle>,
}

impl Hitched {
    /// Tension in the most loaded leg ÷ pull at the connector.
    ///
    /// Equal legs of a basket carry `1 / (2 cos α)` each, α being half of the included angle. With bark friction one leg may
    /// carry up to `R = exp(μ φ)` times the other, φ the contact angle; then the pull is
    /// `F² = T₁² + T₂² + 2 T₁ T₂ cos 2α`, so that `T₁ / F = 1 / √(1 + x² + 2 x cos 2α)` with `x = T₂ / T₁` anywhere between
    /// `1 / R` and 1. The worst x in that span is taken: `x = −cos 2α` where that lies inside (legs open past 90°), else `1 / R`.
    /// One leg carries all of it.
    ///
    /// # Source
    /// `statics` (resolution of forces) and `capstan` (limit of the ratio): derived.
    ///
    /// # Assumes
    /// The legs lie in one plane with the pull.
    #[must_use]
    pub fn leg_share(&self, legs: Legs) -> f64 {
        match self.hitch {
            Hitch::Straight | Hitch::Choker => 1.0,
            Hitch::Basket => {
                let half = self.included.as_rad() * 0.5;
                match legs {
                    Legs::Equal => 1.0 / (2.0 * libm::cos(half)),
                    Legs::Worst { friction } => {
                        let least = libm::exp(-friction * self.contact_angle.as_rad());
                        let cos_included = libm::cos(2.0 * half);
                        // The worst ratio of the other leg to this one, kept inside what friction allows.
                        let turning = -cos_included;
                        let x = if turning > 1.0 {
                            1.0
                        } else if turning > least {
                            turning
                        } else {
                            least
                        };
                        1.0 / (1.0 + x * x + 2.0 * x * cos_included).sqrt()
                    }
                }
            }
        }
    }

    /// Tension in the most loaded leg under a pull.
    ///
    /// # Source
    /// `statics` and `capstan`, as [`Hitched::leg_share`].
    pub fn leg_tension(&self, pull: Force, legs: Legs, rec: &mut impl Recorder) -> Force {
        use unmire_model::trail::{Dimension, Origin, Step};
        let t = pull * self.leg_share(legs);
        rec.record(|| {
            let (what, formula) = match (self.hitch, legs) {
                (Hitch::Basket, Legs::Equal) => ("tension in each leg of the basket", "T = F / (2 cos α)"),
                (Hitch::Basket, Legs::Worst { .. }) => (
                    "tension in the worse leg of the basket",
                    "T = F / √(1 + x² + 2 x cos 2α), 1/R ≤ x ≤ 1, R = exp(μ φ)",
                ),
                _ => ("tension in the strap", "T = F"),
            };
            let mut s = Step::new(what, "T", formula, t.as_n(), Dimension::Force, "statics")
                .input("F", pull.as_n(), Dimension::Force, Origin::Earlier)
                .input("α", self.included.as_rad() * 0.5, Dimension::Angle, Origin::Earlier);
            if let Legs::Worst { friction } = legs {
                s = s
                    .input("μ", friction, Dimension::Ratio, Origin::Earlier)
                    .input("φ", self.contact_angle.as_rad(), Dimension::Angle, Origin::Earlier)
                    .note("bark friction lets one leg carry more than the other when the direction of pull changes");
            }
            s
        });
        t
    }

    /// Pull at the connector ÷ rating of the strap in a straight pull, at which the strap is just at that rating: what a
    /// straight rating (working or breaking) is multiplied with to get the capacity in this hitch. A basket gets
    /// `1 / leg_share`; a choker the choker factor times the choke-angle factor; a straight strap 1.
    ///
    /// `choker_share` is the choker rating ÷ straight rating: 0.75 in US practice, 0.80 after EN 1492-1 (`choker_share` in the
    /// tables). Where the label prints a choker rating use [`Hitched::choke_pct`] on that instead.
    ///
    /// # Source
    /// Basket: `statics`, derived. Choker: `asme-b30-9-choke` (secondary, two sheets) on the choker rating.
    #[must_use]
    pub fn capacity_factor(&self, legs: Legs, choker_share: f64) -> f64 {
        match self.hitch {
            Hitch::Straight | Hitch::Basket => 1.0 / self.leg_share(legs),
            Hitch::Choker => choker_share * self.choke_pct(),
        }
    }

    /// What a printed choker rating is multiplied with at this angle of choke; 1 for anything else.
    ///
    /// # Source
    /// `asme-b30-9-choke`, as reprinted by two sheets (secondary).
    #[must_use]
    pub fn choke_pct(&self) -> f64 {
        self.choke.map_or(1.0, choke_factor)
    }

    /// What a printed basket rating (parallel legs) is multiplied with at this included angle: cos α for equal legs.
    /// Unequal legs reduce it by the same share as they reduce a straight rating.
    ///
    /// # Source
    /// `statics`, derived: a basket rating with parallel legs is twice the rating of a leg.
    #[must_use]
    pub fn basket_pct(&self, legs: Legs) -> f64 {
        0.5 / self.leg_share(legs)
    }

    /// The greatest tension of the strap on the bark under a pull: the worse leg of a basket; `F / (2 cos β)` in the loop
    /// of a choker without friction at the eye, which is F at its natural angle of 120°.
    ///
    /// # Source
    /// `statics`, derived.
    #[must_use]
    pub fn bark_tension(&self, pull: Force, legs: Legs) -> Force {
        match self.hitch {
            Hitch::Straight => Force::ZERO,
            Hitch::Basket => pull * self.leg_share(legs),
            // Friction at the eye takes some of it away again; the greater value is kept.
            Hitch::Choker => pull,
        }
    }

    /// Pressure of the strap on the bark: `p = T / (w r)`.
    ///
    /// # Source
    /// `statics` (membrane equilibrium), derived.
    ///
    /// # Errors
    /// If the width is not greater than zero. A straight strap presses on nothing and gives zero.
    pub fn contact_pressure(
        &self,
        pull: Force,
        legs: Legs,
        width: Length,
        rec: &mut impl Recorder,
    ) -> Result<Pressure, HitchError> {
        use unmire_model::trail::{Dimension, Origin, Step};
        if self.hitch == Hitch::Straight {
            return Ok(Pressure::ZERO);
        }
        let w = positive("the width of the strap", width.as_m())?;
        let t = self.bark_tension(pull, legs);
        let p = contact_pressure(t, Length::from_m(w), self.radius);
        rec.record(|| {
            Step::new(
                "pressure of the strap on the bark",
                "p",
                "p = T / (w r)",
                p.as_pa(),
                Dimension::Pressure,
                "statics",
            )
            .input("T", t.as_n(), Dimension::Force, Origin::Earlier)
            .input("w", w, Dimension::Length, Origin::Earlier)
            .input("r", self.radius.as_m(), Dimension::Length, Origin::Earlier)
        });
        Ok(p)
    }

    /// Stiffness of the hitch as one straight member from the middle of the trunk to the connector: the EA which a member
    /// as long as the reach needs to give by the same amount. For a basket that slides freely on the bark
    /// `EA' = 4 cos² α · EA · reach / strap`; for one strap part `EA' = EA · reach / strap`.
    ///
    /// # Source
    /// `statics`, derived: the reach grows by `dL / (2 cos α)` for a strap that is longer by dL.
    #[must_use]
    pub fn stiffness(&self, strap_ea: Force) -> Force {
        let share = self.reach / self.strap;
        match self.hitch {
            Hitch::Basket => {
                let c = libm::cos(self.included.as_rad() * 0.5);
                strap_ea * (4.0 * c * c * share)
            }
            Hitch::Choker | Hitch::Straight => strap_ea * share,
        }
    }
}

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
