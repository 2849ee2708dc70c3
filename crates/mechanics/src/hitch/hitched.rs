//! A strap in its hitch: what its legs carry, what it may be loaded with, how hard it presses.

use super::choker::choke_factor;
use super::{HitchError, contact_pressure, positive};
use unmire_model::layout::Hitch;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Force, Length, Pressure, Recorder};

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
