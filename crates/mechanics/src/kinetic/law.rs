//! What a rope answers to being stretched: its loading law, its way back, what it loses, and where it breaks.

use super::curve::{Curve, sum_of};
use crate::error::{MechanicsError, between, not_negative, positive};
use unmire_model::{Energy, Force, Length};

/// Most points of a measured law.
pub const MOST_POINTS: usize = 12;

/// Points of a measured loading law: strain and force, both rising. The point (0, 0) is understood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Points {
    at: [(f64, f64); MOST_POINTS],
    len: usize,
}
impl Points {
    /// From strain (a share of the slack length) and force, without the point (0, 0).
    ///
    /// # Source
    /// None: a constructor.
    ///
    /// # Errors
    /// If there are none or more than [`MOST_POINTS`], or strain or force do not rise from point to point.
    pub fn new(points: &[(f64, Force)]) -> Result<Self, MechanicsError> {
        let bad = |got: f64, expected| MechanicsError::BadInput { what: "a point of the loading law", got, expected };
        if points.is_empty() || points.len() > MOST_POINTS {
            #[allow(clippy::cast_precision_loss)]
            return Err(bad(points.len() as f64, "1 to 12 points"));
        }
        let mut at = [(0.0, 0.0); MOST_POINTS];
        let mut before = (0.0, 0.0);
        for (slot, (strain, force)) in at.iter_mut().zip(points) {
            let f = force.as_n();
            if !(strain.is_finite() && *strain > before.0 && *strain < 5.0) {
                return Err(bad(*strain, "strains that rise from point to point, for example 0.05, 0.10, 0.20"));
            }
            if !(f.is_finite() && f > before.1) {
                return Err(bad(f, "forces that rise from point to point, for example 10 kN, 25 kN, 60 kN"));
            }
            *slot = (*strain, f);
            before = *slot;
        }
        Ok(Self { at, len: points.len() })
    }
    /// Strain and force in newtons, point by point.
    pub(super) fn iter(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.at.iter().take(self.len).copied()
    }
}

/// A loading law: the force of a rope that is stretched further than ever before. ε is stretch ÷ slack length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// `T = EA · ε`.
    Linear {
        /// Stiffness.
        ea: Force,
    },
    /// `T = MBS · (ε/ε_b)^p`.
    Power {
        /// Breaking strength that the law is scaled by.
        strength: Force,
        /// Strain ε_b at that strength.
        strain: f64,
        /// Exponent p, 1 to 5.
        exponent: f64,
    },
    /// `T = MBS · (c₁u + c₂u² + c₃u³)`, `u = ε/ε_b`, `c₁ + c₂ + c₃ = 1`.
    Polynomial {
        /// Breaking strength that the law is scaled by.
        strength: Force,
        /// Strain ε_b at that strength.
        strain: f64,
        /// The three coefficients.
        c: [f64; 3],
    },
    /// Straight lines between measured points; above the last one its line is drawn on, and the outcome says so.
    Measured(Points),
}

/// The way back after the greatest stretch e_m with tension T_m: `T = T_m ((e − e_r)/(e_m − e_r))^q`, slack under `e_r = r e_m`.
/// Stretched again it follows the same way up to e_m and then the loading law. Independent of speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unloading {
    /// Share r of the greatest stretch that is left when the rope goes slack, 0 to under 1.
    pub residual: f64,
    /// Exponent q, 1 to 10.
    pub exponent: f64,
}

/// A rope for the dynamics: slack length, laws, and the force at which it breaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KineticRope {
    /// Slack length between the two vehicles, bearing to bearing.
    pub length: Length,
    /// Loading law.
    pub law: Law,
    /// Way back; none: it comes back as it went, without loss.
    pub unloading: Option<Unloading>,
    /// Viscous term in N·s/m: that much more force for every metre a second by which it is being stretched; zero for none.
    pub viscous: f64,
    /// Force at which it parts; none: never (pure dynamics).
    pub breaking: Option<Force>,
}

impl KineticRope {
    /// A linear rope without loss from its stiffness in N/m: `T = k e`.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn linear(length: Length, n_per_m: f64) -> Self {
        Self {
            length,
            law: Law::Linear { ea: Force::from_n(n_per_m * length.as_m()) },
            unloading: None,
            viscous: 0.0,
            breaking: None,
        }
    }
    /// The same rope made stiffer by a factor: the same forces at strains that are smaller by that factor, as if it were shorter.
    /// This is the sense in which a peak never falls when the stiffness rises. Multiplying the forces of a curved law
    /// instead can lower the peak of a pull with traction, because the law is used in a straighter part.
    ///
    /// # Source
    /// None: it scales a law.
    #[must_use]
    pub fn stiffer(mut self, factor: f64) -> Self {
        match &mut self.law {
            Law::Linear { ea } => *ea = *ea * factor,
            Law::Power { strain, .. } | Law::Polynomial { strain, .. } => *strain /= factor,
            Law::Measured(p) => p.at.iter_mut().for_each(|(e, _)| *e /= factor),
        }
        self
    }
    /// Force at a stretch that is greater than any before.
    ///
    /// # Source
    /// The rope's own law; its row has the source (table `kinetic_law`).
    ///
    /// # Errors
    /// As [`KineticRope::checked`], and if the stretch is negative.
    pub fn force_at(&self, stretch: Length) -> Result<Force, MechanicsError> {
        let e = not_negative("the stretch", stretch.as_m(), "zero or more")?;
        let curve = self.checked()?;
        Ok(Force::from_n(curve.force(curve.piece_at(e), e)))
    }
    /// Work to stretch it to there for the first time: the area under the loading law. Energy of a rope that holds a tension is
    /// at most this; see [`KineticRope::given_back`] for what it gives back.
    ///
    /// # Source
    /// `statics`: area under the law; derived.
    ///
    /// # Errors
    /// As [`KineticRope::force_at`].
    pub fn energy_at(&self, stretch: Length) -> Result<Energy, MechanicsError> {
        let e = not_negative("the stretch", stretch.as_m(), "zero or more")?;
        let curve = self.checked()?;
        Ok(Energy::from_j(curve.energy(curve.piece_at(e), e)))
    }
    /// Stretch at a force on the loading law: where it meets that force.
    ///
    /// # Source
    /// `derived`: the rope's own law, turned round by bisection.
    ///
    /// # Errors
    /// As [`KineticRope::checked`]; if the force is negative or the law never reaches it.
    pub fn stretch_at(&self, force: Force) -> Result<Length, MechanicsError> {
        let f = not_negative("the force", force.as_n(), "zero or more")?;
        let curve = self.checked()?;
        let never =
            MechanicsError::BadInput { what: "the force", got: f, expected: "one that the loading law reaches" };
        let mut high = self.length.as_m() * 1e-3;
        while curve.force(curve.piece_at(high), high) < f {
            high *= 2.0;
            if high > 10.0 * self.length.as_m() {
                return Err(never);
            }
        }
        let mut low = 0.0;
        for _ in 0..200 {
            let mid = 0.5 * (low + high);
            if mid <= low || mid >= high {
                break;
            }
            if curve.force(curve.piece_at(mid), mid) < f { low = mid } else { high = mid }
        }
        Ok(Length::from_m(high))
    }
    /// Energy that it gives back from there: the area under its way back.
    ///
    /// # Source
    /// `statics`: `T_m (e_m − e_r) / (q + 1)`; derived. r and q: table `kinetic_unloading`.
    ///
    /// # Errors
    /// As [`KineticRope::force_at`].
    pub fn given_back(&self, stretch: Length) -> Result<Energy, MechanicsError> {
        let e = not_negative("the stretch", stretch.as_m(), "zero or more")?;
        let curve = self.checked()?;
        let p = curve.piece_at(e);
        Ok(Energy::from_j(match self.unloading {
            None => curve.energy(p, e),
            Some(u) => curve.force(p, e) * e * (1.0 - u.residual) / (u.exponent + 1.0),
        }))
    }
    /// Share of the energy that one full cycle to this stretch turns into heat.
    ///
    /// # Source
    /// `statics`, derived.
    ///
    /// # Errors
    /// As [`KineticRope::force_at`], and if the stretch is zero.
    pub fn loss_share(&self, stretch: Length) -> Result<f64, MechanicsError> {
        positive("the stretch", stretch.as_m(), "greater than zero")?;
        Ok(1.0 - self.given_back(stretch)? / self.energy_at(stretch)?)
    }

    /// Every fault of a rope; else the law ready for reckoning.
    pub(super) fn checked(&self) -> Result<Curve, MechanicsError> {
        let length = positive("the rope's slack length", self.length.as_m(), "greater than zero, for example 9 m")?;
        let strain =
            |e: f64| between("the strain at the breaking strength", e, 0.001, 5.0, "0.1 % to 500 %, for example 28 %");
        let strength = |f: Force| positive("the breaking strength", f.as_n(), "greater than zero, for example 130 kN");
        match &self.law {
            Law::Linear { ea } => {
                positive("the rope's stiffness", ea.as_n(), "greater than zero")?;
            }
            Law::Power { strength: s, strain: e, exponent } => {
                strength(*s)?;
                strain(*e)?;
                between("the exponent of the loading law", *exponent, 1.0, 5.0, "1 to 5, for example 1.6")?;
            }
            Law::Polynomial { strength: s, strain: e, c } => {
                strength(*s)?;
                strain(*e)?;
                between("the sum of the loading law's coefficients", sum_of(c), 1.0 - 1e-9, 1.0 + 1e-9, "1")?;
                // The slope c₁ + 2 c₂ u + 3 c₃ u² is least at an end or at its turning point.
                let slope = |u: f64| c[0] + u * (2.0 * c[1] + 3.0 * c[2] * u);
                let turn = if c[2] > 0.0 { (-c[1] / (3.0 * c[2])).clamp(0.0, 1.0) } else { 0.0 };
                let least = slope(0.0).min(slope(turn)).min(slope(1.0));
                not_negative(
                    "the least slope of the loading law",
                    least,
                    "zero or more: the force rises with the stretch",
                )?;
            }
            Law::Measured(_) => {}
        }
        if let Some(u) = self.unloading {
            between("the stretch left when slack", u.residual, 0.0, 0.95, "0 to 0.95 of the greatest stretch")?;
            between("the exponent of the way back", u.exponent, 1.0, 10.0, "1 to 10, for example 2")?;
        }
        not_negative("the viscous term", self.viscous, "zero or more, in N·s/m")?;
        if let Some(b) = self.breaking {
            strength(b)?;
        }
        let curve = Curve::new(length, &self.law);
        if let Some(u) = self.unloading {
            // Up to where the law is meant to hold; a straight law loses the same share everywhere.
            let ends = if curve.ends().is_finite() { curve.ends() } else { length };
            for i in 1..=8 {
                let e = ends * f64::from(i) / 8.0;
                let piece = curve.piece_at(e);
                let back = curve.force(piece, e) * e * (1.0 - u.residual) / (u.exponent + 1.0);
                let lost = 1.0 - back / curve.energy(piece, e);
                not_negative(
                    "the share of energy that the rope loses",
                    lost,
                    "zero or more: no rope gives back more than it took",
                )?;
            }
        }
        Ok(curve)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn m(v: f64) -> Length {
        Length::from_m(v)
    }
    fn rope(law: Law) -> KineticRope {
        KineticRope {
            length: m(9.0),
            law,
            unloading: Some(Unloading { residual: 0.15, exponent: 2.0 }),
            viscous: 0.0,
            breaking: None,
        }
    }
    fn poly() -> KineticRope {
        rope(Law::Polynomial { strength: Force::from_kn(130.0), strain: 0.3, c: [0.35, 0.25, 0.4] })
    }

    #[test]
    fn closed_form_energy_is_the_area_under_the_law() {
        let points =
            Points::new(&[(0.05, Force::from_kn(8.0)), (0.1, Force::from_kn(20.0)), (0.3, Force::from_kn(130.0))]);
        let laws = [
            Law::Linear { ea: Force::from_kn(400.0) },
            Law::Power { strength: Force::from_kn(130.0), strain: 0.3, exponent: 1.6 },
            poly().law,
            Law::Measured(points.unwrap()),
        ];
        for law in laws {
            let r = rope(law);
            // Simpson on pieces that end at the points' own strains.
            let (mut sum, n) = (0.0, 3000_u32);
            let h = 2.7 / f64::from(n);
            for i in 0..n {
                let a = h * f64::from(i);
                let f = |e| r.force_at(m(e)).unwrap().as_n();
                sum += h / 6.0 * (f(a) + 4.0 * f(a + 0.5 * h) + f(a + h));
            }
            let e = r.energy_at(m(2.7)).unwrap().as_j();
            assert!((e / sum - 1.0).abs() < 1e-7, "{law:?}: {e} against {sum}");
            let back = r.force_at(r.stretch_at(Force::from_kn(50.0)).unwrap()).unwrap();
            assert!((back.as_kn() - 50.0).abs() < 1e-9);
        }
    }

    #[test]
    fn closed_form_loss_of_the_reference_rope() {
        // The reference program gives 0.338 857 342 395 294 2 at 1.209 858 998 655 937 2 m.
        let loss = poly().loss_share(m(1.209_858_998_655_937_2)).unwrap();
        assert!((loss - 0.338_857_342_395_294_2).abs() < 1e-12, "{loss}");
    }

    #[test]
    fn a_law_that_falls_and_an_empty_one_are_refused() {
        let falls = rope(Law::Polynomial { strength: Force::from_kn(130.0), strain: 0.3, c: [2.0, -2.0, 1.0] });
        assert!(falls.checked().is_ok());
        let falls = rope(Law::Polynomial { strength: Force::from_kn(130.0), strain: 0.3, c: [2.0, -3.0, 2.0] });
        assert!(falls.checked().is_ok(), "slope 2 − 6u + 6u² is never under 0.5");
        let falls = rope(Law::Polynomial { strength: Force::from_kn(130.0), strain: 0.3, c: [0.5, -3.0, 3.5] });
        assert!(falls.checked().is_err());
        assert!(rope(Law::Linear { ea: Force::from_n(f64::NAN) }).checked().is_err());
        assert!(Points::new(&[]).is_err());
        assert!(Points::new(&[(0.1, Force::from_kn(2.0)), (0.1, Force::from_kn(3.0))]).is_err());
        assert!(Points::new(&[(0.1, Force::from_kn(2.0)), (0.2, Force::from_kn(2.0))]).is_err());
    }
}
