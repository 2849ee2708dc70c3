//! The laws of single members: what a sling carries, what a turn passes on.

use unmire_model::rig::{Motion, Turn};
use unmire_model::{Angle, Force, Length, Vec3};

/// Tension of an elastic sling that can only pull: T = EA (l − L₀) / L₀ where it is stretched, else nothing.
///
/// `ea`: stiffness EA, force per unit strain; `rest`: length L₀ when slack; `length`: distance l between its ends.
/// Valid while the sling is elastic and straight.
///
/// # Source
/// `statics`: Hooke's law for a bar that can't push; derived.
/// # Assumes
/// Straight, weightless, one stiffness up to its load.
#[must_use]
pub fn sling_tension(ea: Force, rest: Length, length: Length) -> Force {
    if length > rest { ea * ((length - rest) / rest) } else { Force::ZERO }
}

/// Tension beyond a turn ÷ tension before it, seen from the line's first end.
///
/// A sheave passes on its ratio η when the line is hauled, and 1/η when it is lowered or held; a ring passes on
/// exp(−μθ) or exp(+μθ), with friction coefficient μ and wrap angle θ in radians. Without friction it is 1.
/// Valid for 0 < η ≤ 1, μ ≥ 0, 0 ≤ θ ≤ π.
///
/// # Source
/// `capstan`: T₂ = T₁ exp(μθ) at slip, read; for a sheave the ratio is the definition of η.
/// # Assumes
/// The line slips, or is about to: friction is at its greatest. At rest it may be anything between the two directions.
#[must_use]
pub fn passed_on(turn: Turn, motion: Motion, wrap: Angle) -> f64 {
    match (turn, motion) {
        (_, Motion::Frictionless) => 1.0,
        (Turn::Sheave { ratio }, Motion::Hauling) => ratio,
        (Turn::Sheave { ratio }, Motion::Lowering) => 1.0 / ratio,
        (Turn::Ring { friction }, Motion::Hauling) => libm::exp(-friction * wrap.as_rad()),
        (Turn::Ring { friction }, Motion::Lowering) => libm::exp(friction * wrap.as_rad()),
    }
}

/// The angle by which a line turns at `at`, coming from `before` and going on to `after`: 0 when it goes straight on,
/// π when it comes back the same way; nothing where a leg has no length.
///
/// # Source
/// `statics`: angle between two directions, derived.
#[must_use]
pub fn wrap_angle(before: Vec3, at: Vec3, after: Vec3) -> Option<Angle> {
    (at - before).angle_to(after - at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::PI;

    #[test]
    fn closed_form_ring_over_half_a_turn() {
        let ring = Turn::Ring { friction: 0.2 };
        let half = Angle::from_rad(PI);
        // Block on a ring, legs parallel: it sees T (1 + exp(-0.2 pi)).
        assert!((1.0 + passed_on(ring, Motion::Hauling, half) - 1.533_488).abs() < 5e-7);
        assert!((passed_on(ring, Motion::Hauling, half) - 0.533_488).abs() < 5e-7);
        assert!((passed_on(ring, Motion::Lowering, half) - 1.874_456).abs() < 5e-7);
        assert_eq!(passed_on(ring, Motion::Frictionless, half), 1.0);
    }

    #[test]
    fn closed_form_sheave_turns_round_when_lowering() {
        let sheave = Turn::Sheave { ratio: 0.8 };
        let any = Angle::from_rad(1.0);
        assert_eq!(passed_on(sheave, Motion::Hauling, any), 0.8);
        assert_eq!(passed_on(sheave, Motion::Lowering, any), 1.25);
    }

    #[test]
    fn closed_form_sling_pulls_and_never_pushes() {
        let (ea, rest) = (Force::from_kn(900.0), Length::from_m(3.0));
        assert!((sling_tension(ea, rest, Length::from_m(3.03)).as_kn() - 9.0).abs() < 1e-9);
        assert_eq!(sling_tension(ea, rest, Length::from_m(2.5)), Force::ZERO);
    }

    #[test]
    fn closed_form_wrap_angles() {
        let (o, x, y) = (Vec3::ZERO, Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 2.0, 0.0));
        assert!((wrap_angle(-x, o, y).unwrap().as_deg() - 90.0).abs() < 1e-12);
        assert!((wrap_angle(x, o, x * 3.0).unwrap().as_deg() - 180.0).abs() < 1e-12);
        assert_eq!(wrap_angle(o, o, x), None);
    }
}
