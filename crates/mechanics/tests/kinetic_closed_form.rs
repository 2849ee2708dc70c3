//! Kinetic pulls against closed forms: linear ropes, stuck ends that do not move, falls into a rope.
#![allow(clippy::unwrap_used, clippy::panic, clippy::unreachable)] // helpers of tests fail loudly
mod kinetic_common;

use kinetic_common::{law, rope};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use unmire_mechanics::kinetic::{
    End, KineticRope, Law, Problem, Resistance, impact_force, impact_stiffness, kinetic_pull, peak_fixed,
    peak_fixed_linear, peak_linear, run_up_slack, run_up_speed, speed_for_cap, strength_used,
};
use unmire_model::{Angle, Force, Length, Mass, STANDARD_GRAVITY, Silent, Speed};

fn kg(v: f64) -> Mass {
    Mass::from_kg(v)
}
fn n(v: f64) -> Force {
    Force::from_n(v)
}
fn m(v: f64) -> Length {
    Length::from_m(v)
}
fn m_s(v: f64) -> Speed {
    Speed::from_m_s(v)
}
fn linear(k: f64) -> KineticRope {
    KineticRope::linear(m(9.0), k)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, rng_seed: RngSeed::Fixed(20), ..ProptestConfig::default() })]

    /// Any masses, speed, stiffness, traction and resistance: the first peak to 1e-8, and whether it moves.
    #[test]
    fn closed_form_linear_rope(
        m1 in 800.0..10_000.0, m2 in 800.0..15_000.0, v in 0.05..6.0, k in 5e3..1e6, p in 0.0..20e3, r in 0.0..80e3,
    ) {
        let mut problem = Problem::plain(kg(m1), m_s(v), kg(m2), Resistance::Constant(n(r)), linear(k));
        problem.puller.traction = n(p);
        // Only the first peak has the closed form: a pull with traction may come again, so it ends once it moved a little.
        problem.travel_limit = Some(Length::from_mm(0.001));
        let o = kinetic_pull(&problem, &mut Silent).unwrap();
        let (exact, moves) = peak_linear(kg(m1), kg(m2), m_s(v), k, n(p), n(r)).unwrap();
        prop_assert!((o.peak / exact - 1.0).abs() < 1e-8, "{} against {}", o.peak.as_n(), exact.as_n());
        prop_assert_eq!(o.broke_away_at.is_some(), moves);
    }

    /// Without resistance and traction all of it is the reduced mass: the peak, the momentum, the time of half a swing.
    #[test]
    fn closed_form_free_target(m1 in 800.0..10_000.0, m2 in 800.0..15_000.0, v in 0.05..6.0, k in 5e3..1e6) {
        let problem = Problem::plain(kg(m1), m_s(v), kg(m2), Resistance::Constant(Force::ZERO), linear(k));
        let o = kinetic_pull(&problem, &mut Silent).unwrap();
        let reduced = m1 * m2 / (m1 + m2);
        prop_assert!((o.peak.as_n() / (v * (k * reduced).sqrt()) - 1.0).abs() < 1e-8);
        if m1 > m2 * 1.01 {
            // The puller is never stopped: the rope is slack after half a swing, the speeds are those of an elastic impact.
            prop_assert_eq!(o.end, End::Slack);
            let half = std::f64::consts::PI * (reduced / k).sqrt();
            prop_assert!((o.ended_at.as_s() / half - 1.0).abs() < 1e-8);
            prop_assert!((o.stuck_speed_at_end.as_m_s() / (2.0 * m1 * v / (m1 + m2)) - 1.0).abs() < 1e-8);
            prop_assert!((o.puller_speed_at_end.as_m_s() - (m1 - m2) / (m1 + m2) * v).abs() < 1e-8 * v);
        }
        prop_assert_eq!(o.coast, None);
    }

    /// Any loading law, stuck end that does not move: the area under the law is the energy that came in.
    #[test]
    fn closed_form_any_law_fixed(law in law(), m1 in 800.0..10_000.0, v in 0.05..4.0, p in 0.0..15e3, slack in 0.0..3.0) {
        let rope = KineticRope { law, ..linear(1.0) };
        let mut problem = Problem::plain(kg(m1), m_s(v), kg(1e4), Resistance::Fixed, rope);
        problem.puller.traction = n(p);
        problem.slack = m(slack);
        let o = kinetic_pull(&problem, &mut Silent).unwrap();
        let closing = run_up_speed(m_s(v), n(p), m(slack), kg(m1), &mut Silent).unwrap();
        let (force, stretch) = peak_fixed(&rope, kg(m1), closing, n(p)).unwrap();
        prop_assert!((o.closing_speed / closing - 1.0).abs() < 1e-14);
        prop_assert!((o.peak / force - 1.0).abs() < 1e-8, "{} against {}", o.peak.as_n(), force.as_n());
        prop_assert!((o.stretch / stretch - 1.0).abs() < 1e-8);
        prop_assert_eq!(o.end, End::AtRest);
        prop_assert!(o.tension_at_end > Force::ZERO);
    }

    /// Lossless, no traction, puller stopped like a rock and the rope slack at the end: all its energy becomes work against R.
    #[test]
    fn closed_form_travel_is_the_energy_over_the_resistance(
        m1 in 2000.0..9000.0, share in 0.3..0.9, v in 2.0..5.0, k in 30e3..500e3, r in 3e3..15e3,
    ) {
        // A puller that is lighter than the stuck vehicle is stopped.
        let problem = Problem::plain(kg(m1), m_s(v), kg(m1 / share), Resistance::Constant(n(r)), linear(k));
        let o = kinetic_pull(&problem, &mut Silent).unwrap();
        if o.end == End::Slack && o.puller_stopped.is_some() {
            let travel = 0.5 * m1 * v * v / r;
            prop_assert!((o.travel.as_m() / travel - 1.0).abs() < 1e-7, "{} against {travel}", o.travel.as_m());
        }
    }

    /// Energy and force of a rope agree: the slope of the energy is the force.
    #[test]
    fn closed_form_force_is_the_slope_of_energy(rope in rope(), share in 0.01..0.4) {
        let e = rope.length * share;
        let d = 1e-6 * e.as_m();
        let up = rope.energy_at(e + m(d)).unwrap().as_j();
        let down = rope.energy_at(e - m(d)).unwrap().as_j();
        let f = rope.force_at(e).unwrap().as_n();
        prop_assert!(((up - down) / (2.0 * d) / f - 1.0).abs() < 1e-3);
        prop_assert!((rope.stretch_at(n(f)).unwrap() / e - 1.0).abs() < 1e-9);
        prop_assert!(rope.loss_share(e).unwrap() >= -1e-9 || share * 1.001 > 0.1);
    }
}

#[test]
fn closed_form_a_fall_into_a_rope_is_a_pull_by_the_weight() {
    // The test fall: 80 kg, 4.6 m on 2.6 m of rope.
    let (mass, f) = (kg(80.0), 4.6 / 2.6);
    for kn in [9.0, 12.0] {
        let ea = impact_stiffness(mass, f, Force::from_kn(kn)).unwrap();
        assert!((impact_force(mass, f, ea).unwrap().as_kn() - kn).abs() < 1e-12);
        let rope = KineticRope { length: m(2.6), law: Law::Linear { ea }, ..linear(1.0) };
        // The weight drives on after the rope is taut, and made the speed before.
        let mut fall = Problem::plain(mass, Speed::ZERO, kg(1.0), Resistance::Fixed, rope);
        fall.puller.traction = mass.weight();
        fall.slack = m(4.6);
        let o = kinetic_pull(&fall, &mut Silent).unwrap();
        assert!((o.peak.as_kn() / kn - 1.0).abs() < 1e-8);
        assert!((o.closing_speed.as_m_s() - (2.0 * STANDARD_GRAVITY * 4.6).sqrt()).abs() < 1e-12);
    }
}

#[test]
fn closed_form_the_formulas_agree_with_each_other() {
    let (mass, v, k, p) = (kg(2500.0), Speed::from_km_h(10.0), 48e3, n(6e3));
    let peak = peak_fixed_linear(mass, v, k, p).unwrap();
    assert!((speed_for_cap(peak, mass, k, p).unwrap() / v - 1.0).abs() < 1e-12);
    assert!(speed_for_cap(n(11e3), mass, k, p).is_err(), "traction alone makes 12 kN");
    assert!((peak_fixed(&linear(k), mass, v, p).unwrap().0 / peak - 1.0).abs() < 1e-12);
    let (_, moves) = peak_linear(mass, kg(2800.0), v, k, p, peak).unwrap();
    assert!(!moves);
    let slack = run_up_slack(v, p, mass).unwrap();
    assert!((run_up_speed(Speed::ZERO, p, slack, mass, &mut Silent).unwrap() / v - 1.0).abs() < 1e-12);
    // Strength used by a strap of 2.5 times the weight, whatever the weight.
    let used = strength_used(v, 3.54, 2.5, m(9.0)).unwrap();
    for kg_ in [1500.0, 4000.0] {
        let strength = kg(kg_).weight() * 2.5;
        let peak = peak_fixed_linear(kg(kg_), v, 3.54 * strength.as_n() / 9.0, Force::ZERO).unwrap();
        assert!((peak / strength / used - 1.0).abs() < 1e-12);
    }
}

#[test]
fn closed_form_slopes_are_forces() {
    // Uphill the weight of the stuck vehicle adds to what resists, and the puller's takes off what drives.
    let (m1, m2, k) = (kg(2500.0), kg(2800.0), 48e3);
    let up = Angle::from_deg(6.0);
    let (g1, g2) = (m1.weight() * up.sin(), m2.weight() * up.sin());
    let mut sloped = Problem::plain(m1, m_s(3.0), m2, Resistance::Constant(n(15e3)), linear(k));
    sloped.puller.traction = n(9e3);
    sloped.puller.slope = up;
    sloped.stuck.slope = up;
    sloped.travel_limit = Some(Length::from_mm(0.001));
    let o = kinetic_pull(&sloped, &mut Silent).unwrap();
    let (exact, _) = peak_linear(m1, m2, m_s(3.0), k, n(9e3) - g1, n(15e3) + g2).unwrap();
    assert!((o.peak / exact - 1.0).abs() < 1e-8);
    assert!(!o.rolls_back);
    // A steeper one: the ground alone does not hold it, so it would have rolled before.
    sloped.stuck.slope = Angle::from_deg(40.0);
    assert!(kinetic_pull(&sloped, &mut Silent).is_err());
}
