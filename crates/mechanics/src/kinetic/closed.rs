//! Closed forms of a kinetic pull: they check the reckoning in time, and they explain it.

use super::law::KineticRope;
use crate::error::{MechanicsError, between, not_negative, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Force, Length, Mass, STANDARD_GRAVITY, Speed};

/// Speed at which the rope becomes taut: `v = √(v₀² + 2 P s / m)`, P traction less the weight along the slope.
///
/// # Source
/// `dynamics`: work over the slack; derived.
///
/// # Errors
/// If an input is not in order, or the puller stops within the slack.
pub fn run_up_speed(
    start: Speed,
    traction: Force,
    slack: Length,
    mass: Mass,
    rec: &mut impl Recorder,
) -> Result<Speed, MechanicsError> {
    let v0 = not_negative("the speed", start.as_m_s(), "zero or more")?;
    let s = not_negative("the slack", slack.as_m(), "zero or more, for example 1 m")?;
    let m = positive("the puller's mass", mass.as_kg(), "greater than zero, for example 2500 kg")?;
    let p = traction.as_n();
    let squared =
        not_negative("the square of the speed", v0 * v0 + 2.0 * p * s / m, "the puller gets through the slack")?;
    let v = squared.sqrt();
    rec.record(|| {
        Step::new("speed when the rope becomes taut", "v", "v = √(v₀² + 2 P s / m)", v, Dimension::Speed, "dynamics")
            .input("v₀", v0, Dimension::Speed, Origin::Earlier)
            .input("P", p, Dimension::Force, Origin::Earlier)
            .input("s", s, Dimension::Length, Origin::Earlier)
            .input("m", m, Dimension::Mass, Origin::Earlier)
    });
    Ok(Speed::from_m_s(v))
}

/// Slack over which a puller that starts from rest reaches a speed: `s = m v² / (2 P)`.
///
/// # Source
/// `dynamics`: work over the slack; derived.
///
/// # Errors
/// If mass or traction are not greater than zero.
pub fn run_up_slack(speed: Speed, traction: Force, mass: Mass) -> Result<Length, MechanicsError> {
    let v = not_negative("the speed", speed.as_m_s(), "zero or more")?;
    let p = positive("the traction", traction.as_n(), "greater than zero, for example 6 kN")?;
    let m = positive("the puller's mass", mass.as_kg(), "greater than zero, for example 2500 kg")?;
    Ok(Length::from_m(m * v * v / (2.0 * p)))
}

/// Peak where the stuck end does not move, linear rope: `F = P + √(P² + k m v²)`. P is whatever pushes on: traction, or the
/// weight of somebody who falls into a rope.
///
/// # Source
/// `dynamics`: `½ m v² + P e = ½ k e²`; derived.
///
/// # Errors
/// If an input is not in order.
pub fn peak_fixed_linear(mass: Mass, speed: Speed, n_per_m: f64, traction: Force) -> Result<Force, MechanicsError> {
    let m = positive("the puller's mass", mass.as_kg(), "greater than zero, for example 2500 kg")?;
    let v = not_negative("the speed", speed.as_m_s(), "zero or more")?;
    let k = positive("the rope's stiffness", n_per_m, "greater than zero, in N/m")?;
    let p = not_negative("the traction", traction.as_n(), "zero or more")?;
    Ok(Force::from_n(p + (p * p + k * m * v * v).sqrt()))
}

/// Peak of a linear rope without loss on a vehicle that is held by a constant resistance R, and whether it moves:
/// with `F_fix` of [`peak_fixed_linear`], not above R: `F = F_fix`, it stays. Else, M the sum and m_r = m₁m₂/M the reduced mass,
/// `T_e = (P m₂ + R m₁)/M`, `u² = v² + 2PR/(k m₁) − R²/(k m₁)`, `F = T_e + √((R − T_e)² + k m_r u²)`.
///
/// # Source
/// `dynamics`: energy up to break-away, then of the relative motion; derived.
///
/// # Errors
/// If an input is not in order.
pub fn peak_linear(
    puller: Mass,
    stuck: Mass,
    speed: Speed,
    n_per_m: f64,
    traction: Force,
    resistance: Force,
) -> Result<(Force, bool), MechanicsError> {
    let fixed = peak_fixed_linear(puller, speed, n_per_m, traction)?;
    let m2 = positive("the stuck vehicle's mass", stuck.as_kg(), "greater than zero, for example 2800 kg")?;
    let r = not_negative("the resistance", resistance.as_n(), "zero or more, for example 15 kN")?;
    if r >= fixed.as_n() {
        return Ok((fixed, false));
    }
    let (m1, v, p, k) = (puller.as_kg(), speed.as_m_s(), traction.as_n(), n_per_m);
    let all = m1 + m2;
    let te = (p * m2 + r * m1) / all;
    let u2 = v * v + (2.0 * p * r - r * r) / (k * m1);
    Ok((Force::from_n(te + ((r - te) * (r - te) + k * (m1 * m2 / all) * u2).sqrt()), true))
}

/// Peak and stretch of any loading law where the stuck end does not move: where the area under the law equals the energy that
/// came in, `W(e) = ½ m v² + P e`.
///
/// # Source
/// `dynamics`: work and energy; derived.
///
/// # Errors
/// If an input is not in order, or the law never takes up that much.
pub fn peak_fixed(
    rope: &KineticRope,
    mass: Mass,
    speed: Speed,
    traction: Force,
) -> Result<(Force, Length), MechanicsError> {
    let m = positive("the puller's mass", mass.as_kg(), "greater than zero, for example 2500 kg")?;
    let v = not_negative("the speed", speed.as_m_s(), "zero or more")?;
    let p = not_negative("the traction", traction.as_n(), "zero or more")?;
    let curve = rope.checked()?;
    let short = |e: f64| curve.energy(curve.piece_at(e), e) - 0.5 * m * v * v - p * e;
    let length = rope.length.as_m();
    let (mut low, mut high) = (0.0, 1e-6 * length);
    while short(high) < 0.0 {
        low = high;
        high *= 2.0;
        if high > 100.0 * length {
            return Err(MechanicsError::BadInput {
                what: "the energy of the run-up",
                got: 0.5 * m * v * v,
                expected: "one that the rope can take up",
            });
        }
    }
    for _ in 0..200 {
        let mid = 0.5 * (low + high);
        if mid <= low || mid >= high {
            break;
        }
        if short(mid) < 0.0 { low = mid } else { high = mid }
    }
    Ok((Force::from_n(curve.force(curve.piece_at(high), high)), Length::from_m(high)))
}

/// The standard formula for the impact force of a rope that stops a fall: `F = m g + √((m g)² + 2 m g f EA)`, f the height
/// fallen ÷ the rope's length. It is [`peak_fixed_linear`] with the weight as traction and `v² = 2 g h`.
///
/// # Source
/// `fall-factor-article`, read.
///
/// # Errors
/// If an input is not in order.
pub fn impact_force(mass: Mass, fall_factor: f64, ea: Force) -> Result<Force, MechanicsError> {
    let w = positive("the mass", mass.as_kg(), "greater than zero, for example 80 kg")? * STANDARD_GRAVITY;
    let f = between("the fall factor", fall_factor, 0.0, 2.0, "0 to 2, for example 1.77")?;
    let ea = positive("the rope's stiffness", ea.as_n(), "greater than zero")?;
    Ok(Force::from_n(w + (w * w + 2.0 * w * f * ea).sqrt()))
}

/// Stiffness EA of a rope from the impact force that it was labelled with: `EA = F (F − 2 m g) / (2 m g f)`.
///
/// # Source
/// `fall-factor-article`, its formula turned round; derived.
///
/// # Errors
/// If an input is not in order, or the force is not over twice the weight.
pub fn impact_stiffness(mass: Mass, fall_factor: f64, impact: Force) -> Result<Force, MechanicsError> {
    let w = positive("the mass", mass.as_kg(), "greater than zero, for example 80 kg")? * STANDARD_GRAVITY;
    let f = between("the fall factor", fall_factor, 1e-6, 2.0, "over 0, up to 2, for example 1.77")?;
    let over = positive("the impact force less twice the weight", impact.as_n() - 2.0 * w, "greater than zero")?;
    Ok(Force::from_n(impact.as_n() * over / (2.0 * w * f)))
}

/// Speed at which the peak reaches a cap where the stuck end does not move, linear rope: `v = √((F² − 2 P F)/(k m))`.
///
/// # Source
/// `dynamics`, [`peak_fixed_linear`] turned round; derived.
///
/// # Errors
/// If an input is not in order, or the traction alone makes more than the cap (`2 P > F`).
pub fn speed_for_cap(cap: Force, mass: Mass, n_per_m: f64, traction: Force) -> Result<Speed, MechanicsError> {
    let m = positive("the puller's mass", mass.as_kg(), "greater than zero, for example 2500 kg")?;
    let k = positive("the rope's stiffness", n_per_m, "greater than zero, in N/m")?;
    let p = not_negative("the traction", traction.as_n(), "zero or more")?;
    let f = positive("the cap", cap.as_n(), "greater than zero")?;
    let left = not_negative("the cap less twice the traction", f - 2.0 * p, "zero or more: traction alone makes more")?;
    Ok(Speed::from_m_s((f * left / (k * m)).sqrt()))
}

/// Peak ÷ breaking strength where the stuck end does not move and nothing drives on: `v √(κ / (ρ g L))`, κ stiffness ÷ strength,
/// ρ strength ÷ the puller's weight. The puller's mass does not appear: a strap sized by weight is used the same by every vehicle.
///
/// # Source
/// `dynamics`, [`peak_fixed_linear`] without dimensions; derived.
///
/// # Errors
/// If an input is not in order.
pub fn strength_used(speed: Speed, kappa: f64, rho: f64, length: Length) -> Result<f64, MechanicsError> {
    let v = not_negative("the speed", speed.as_m_s(), "zero or more")?;
    let k = positive("stiffness ÷ strength", kappa, "greater than zero, for example 3.54")?;
    let r = positive("strength ÷ weight", rho, "greater than zero, for example 2.5")?;
    let l = positive("the rope's slack length", length.as_m(), "greater than zero, for example 9 m")?;
    Ok(v * (k / (r * STANDARD_GRAVITY * l)).sqrt())
}
