//! A bare kinetic pull: two masses, a rope, what holds the stuck one and what drives the other. No vehicle, no ground, no range.

use super::law::KineticRope;
use super::system::System;
use crate::error::{MechanicsError, between, not_negative, positive};
use unmire_model::{Angle, Force, Length, Mass, Speed, Time};

/// What holds the stuck vehicle while it moves or is about to. Against the pull if it moves forward, with it if it rolls back.
pub use unmire_model::kinetic::Resistance;

/// The vehicle that pulls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Puller {
    /// All of it that moves.
    pub mass: Mass,
    /// Speed at the start of the slack, away from the stuck vehicle.
    pub speed: Speed,
    /// What its driven tyres give along the line, less its own rolling resistance: constant while it drives.
    pub traction: Force,
    /// Rise of its ground in the direction of the pull; negative: downhill.
    pub slope: Angle,
    /// What its braked wheels hold once it has been stopped; none: it stands like a rock, as the bare problem has it.
    pub holds: Option<Force>,
}

/// The vehicle that is stuck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stuck {
    /// All of it that moves: load, water and the mud that sticks.
    pub mass: Mass,
    /// What the ground holds it with. The weight along the slope is not part of it.
    pub resistance: Resistance,
    /// Rise of its ground in the direction of the pull; negative: downhill.
    pub slope: Angle,
}

/// A kinetic pull along one straight line. Time starts when the rope becomes taut.
///
/// Assumed: the rope has no mass (a wave runs through 9 m of it in about a hundredth of a second), the vehicles are rigid and do
/// not pitch, the line does not lift or press on them, the traction is the same at every speed and tension. The driver stays on the
/// throttle until the puller has been stopped and then brakes, and stays off it once the rope is slack again. The first peak is that
/// of the loading law: no loss is taken off it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Problem {
    /// The vehicle that pulls.
    pub puller: Puller,
    /// The vehicle that is stuck.
    pub stuck: Stuck,
    /// The rope between them.
    pub rope: KineticRope,
    /// Slack that the puller drives through before the rope is taut.
    pub slack: Length,
    /// Travel of the stuck vehicle at which the driver lifts off: the reckoning ends there, but not before the tension is a hundredth
    /// under its peak.
    pub travel_limit: Option<Length>,
    /// Time after which the reckoning ends whatever happens.
    pub time_limit: Time,
}

/// The time limit where nobody gives one.
pub const TIME_LIMIT: Time = Time::from_s(20.0);

impl Problem {
    /// Level ground, no traction, no slack, the stopped puller like a rock: the plainest pull. Change the fields that differ.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn plain(puller: Mass, speed: Speed, stuck: Mass, resistance: Resistance, rope: KineticRope) -> Self {
        Self {
            puller: Puller { mass: puller, speed, traction: Force::ZERO, slope: Angle::ZERO, holds: None },
            stuck: Stuck { mass: stuck, resistance, slope: Angle::ZERO },
            rope,
            slack: Length::ZERO,
            travel_limit: None,
            time_limit: TIME_LIMIT,
        }
    }

    /// Every fault of a problem; else its numbers in SI and its closing speed.
    pub(super) fn checked(&self) -> Result<System, MechanicsError> {
        let m1 = positive("the puller's mass", self.puller.mass.as_kg(), "greater than zero, for example 2500 kg")?;
        let m2 =
            positive("the stuck vehicle's mass", self.stuck.mass.as_kg(), "greater than zero, for example 2800 kg")?;
        let v = between("the speed", self.puller.speed.as_m_s(), 0.0, 30.0, "0 to 30 m/s, for example 8 km/h")?;
        let p = not_negative("the traction", self.puller.traction.as_n(), "zero or more, for example 6 kN")?;
        let slope = |a: Angle| {
            between(
                "a slope",
                a.as_rad(),
                -1.2,
                1.2,
                "between −68° and 68°, uphill in the direction of the pull positive",
            )
        };
        let weight = |m: Mass, a: Angle| slope(a).map(|a| m.weight().as_n() * libm::sin(a));
        let g1 = weight(self.puller.mass, self.puller.slope)?;
        let g2 = weight(self.stuck.mass, self.stuck.slope)?;
        let hold = match self.puller.holds {
            None => f64::INFINITY,
            Some(h) => not_negative("what the stopped puller holds", h.as_n(), "zero or more")?,
        };
        let force = |what, f: Force| not_negative(what, f.as_n(), "zero or more, for example 15 kN");
        let (rb, rm, inv_d) = match self.stuck.resistance {
            Resistance::Fixed => (f64::INFINITY, f64::INFINITY, 0.0),
            Resistance::Constant(r) => {
                let r = force("the resistance", r)?;
                (r, r, 0.0)
            }
            Resistance::Decaying { breakaway, moving, over } => {
                let rb = force("the resistance at break-away", breakaway)?;
                let rm = between("the resistance once moving", moving.as_n(), 0.0, rb, "zero to that at break-away")?;
                (
                    rb,
                    rm,
                    1.0 / positive(
                        "the distance over which it lets go",
                        over.as_m(),
                        "greater than zero, for example 0.5 m",
                    )?,
                )
            }
        };
        between(
            "the weight of the stuck vehicle along its slope",
            g2,
            -rb,
            rb,
            "not more than what the ground holds: it would roll by itself",
        )?;
        let slack = not_negative("the slack", self.slack.as_m(), "zero or more, for example 1 m")?;
        let travel = match self.travel_limit {
            None => f64::INFINITY,
            Some(l) => {
                positive("the travel at which the driver lifts off", l.as_m(), "greater than zero, for example 2 m")?
            }
        };
        let time = between("the time limit", self.time_limit.as_s(), 0.01, 120.0, "0.01 s to 120 s")?;
        let curve = self.rope.checked()?;
        Ok(System {
            m1,
            m2,
            traction: p,
            drive: p - g1,
            g1,
            hold,
            g2,
            rb,
            rm,
            inv_d,
            curve,
            length: self.rope.length.as_m(),
            loss: self.rope.unloading.map(|u| (u.residual, u.exponent)),
            viscous: self.rope.viscous,
            breaking: self.rope.breaking.map_or(f64::INFINITY, Force::as_n),
            travel,
            time,
            // v² grows by 2 (P − G) s / m over the slack; under zero it never gets there.
            closing_squared: v * v + 2.0 * (p - g1) * slack / m1,
        })
    }
}
