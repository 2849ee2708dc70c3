//! What must hold in every kinetic pull: the energy balance, no influence of the step, and what never lowers the peak.
#![allow(clippy::unwrap_used, clippy::panic, clippy::unreachable)] // helpers of tests fail loudly
mod kinetic_common;

use kinetic_common::{ends, problem, raised};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use unmire_mechanics::kinetic::{
    End, Event, Fineness, KineticRope, Law, Outcome, Problem, Resistance, Unloading, kinetic_history, kinetic_pull,
    kinetic_pull_with, peak_rises_with_puller,
};
use unmire_model::{Angle, Energy, Force, Length, Mass, Silent, Speed, Time, Trail};

fn pulled(p: &Problem) -> Outcome {
    kinetic_pull(p, &mut Silent).unwrap_or_else(|e| panic!("{e}: {p:?}"))
}

/// The peak must not fall, but for the error of the steps.
fn never_falls(before: &Outcome, after: &Outcome) -> Result<(), TestCaseError> {
    prop_assert!(
        after.peak.as_n() >= before.peak.as_n() * (1.0 - 1e-7),
        "the peak falls from {} to {} N",
        before.peak.as_n(),
        after.peak.as_n()
    );
    Ok(())
}

/// The same slope in newtons for another mass.
fn same_weight_along(slope: Angle, factor: f64) -> Angle {
    Angle::from_rad(libm::asin(slope.sin() / factor))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, rng_seed: RngSeed::Fixed(20), ..ProptestConfig::default() })]

    /// Everything that comes in goes somewhere: to 0.1 % is asked, to a millionth it is met.
    #[test]
    fn balance_energy_closes(p in problem()) {
        let o = pulled(&p);
        let e = o.energy;
        let came = e.run_up.as_j() + e.traction.as_j() + e.weights.as_j().abs();
        prop_assert!(e.unaccounted.as_j().abs() <= 1e-6 * came + 1e-6, "{:?}", e);
        for j in [e.resistance, e.dragging, e.rope_left, e.motion_left] {
            prop_assert!(j >= Energy::ZERO);
        }
        // Beyond its law a rope may be drawn on to where it would give back more than it took.
        prop_assert!(e.rope_loss.as_j() >= -1e-6 * came || o.beyond_law);
        prop_assert!(o.peak.is_finite() && o.travel.is_finite() && o.stretch.is_finite());
        prop_assert!(o.travel >= o.travel_in_line || o.coast.is_none());
    }

    /// Steps ten thousand times coarser, or capped at half a millisecond, move nothing by 0.5 %.
    #[test]
    fn balance_no_step_dependence(p in problem()) {
        let with = |tolerance, ms| {
            kinetic_pull_with(&p, Fineness { tolerance, longest: Time::from_s(ms * 1e-3) }, &mut Silent).unwrap()
        };
        let (usual, coarse, fine) = (pulled(&p), with(1e-5, 20.0), with(1e-9, 0.5));
        for o in [&coarse, &fine] {
            prop_assert!((o.peak.as_n() - usual.peak.as_n()).abs() <= 5e-4 * usual.peak.as_n() + 1e-3);
        }
        prop_assert!((fine.peak.as_n() - usual.peak.as_n()).abs() <= 1e-7 * usual.peak.as_n() + 1e-6);
        prop_assert!((fine.travel_in_line.as_m() - usual.travel_in_line.as_m()).abs() <= 1e-5 + 1e-5 * usual.travel_in_line.as_m());
    }

    #[test]
    fn balance_peak_never_falls_with_speed(p in problem(), by in 1.0..1.5) {
        let mut q = p;
        q.puller.speed = p.puller.speed * by;
        never_falls(&pulled(&p), &pulled(&q))?;
    }

    /// Stiffer: the same forces at smaller strains; a shorter rope likewise.
    #[test]
    fn balance_peak_never_falls_with_stiffness(p in problem(), by in 1.0..1.5) {
        let before = pulled(&p);
        let mut q = p;
        q.rope = p.rope.stiffer(by);
        never_falls(&before, &pulled(&q))?;
        q = p;
        q.rope.length = p.rope.length * (1.0 / by);
        never_falls(&before, &pulled(&q))?;
    }

    #[test]
    fn balance_peak_never_falls_with_stuck_mass(p in problem(), by in 1.0..1.5) {
        let mut q = p;
        q.stuck.mass = p.stuck.mass * by;
        q.stuck.slope = same_weight_along(p.stuck.slope, by);
        never_falls(&pulled(&p), &pulled(&q))?;
    }

    #[test]
    fn balance_peak_never_falls_with_resistance(p in problem(), by in 1.0..1.5) {
        let before = pulled(&p);
        for (breakaway, moving) in [(by, by), (by, 1.0), (1.0, by)] {
            let mut q = p;
            q.stuck.resistance = raised(&p.stuck.resistance, breakaway, moving);
            never_falls(&before, &pulled(&q))?;
        }
    }

    #[test]
    fn balance_peak_never_falls_with_traction_slack_or_slope(p in problem(), by in 1.0..1.5, further in 0.0..2.0, steeper in 0.0..0.03) {
        let before = pulled(&p);
        let mut q = p;
        q.puller.traction = p.puller.traction * by;
        never_falls(&before, &pulled(&q))?;
        q = p;
        q.slack = p.slack + Length::from_m(further);
        if p.puller.traction >= p.puller.mass.weight() * p.puller.slope.sin() {
            never_falls(&before, &pulled(&q))?;
        }
        q = p;
        q.stuck.slope = Angle::from_rad(p.stuck.slope.as_rad() + steeper);
        if let Ok(after) = kinetic_pull(&q, &mut Silent) {
            never_falls(&before, &after)?;
        }
    }

    /// What the rope loses on its way back is never taken off the peak, and can't add to it.
    #[test]
    fn balance_peak_never_falls_when_less_is_lost(p in problem()) {
        let mut q = p;
        q.rope.unloading = None;
        never_falls(&pulled(&p), &pulled(&q))?;
    }

    /// A heavier puller: where `peak_rises_with_puller` says so.
    #[test]
    fn balance_peak_never_falls_with_puller_mass(p in problem(), by in 1.0..1.5) {
        let mut p = p;
        p.puller.slope = Angle::ZERO;
        p.rope.viscous = 0.0;
        if peak_rises_with_puller(&p).unwrap() {
            let mut q = p;
            q.puller.mass = p.puller.mass * by;
            never_falls(&pulled(&p), &pulled(&q))?;
        }
    }

    /// Traction no more than the least resistance, linear rope, a run-up of walking pace or more: a heavier puller never lowers the peak,
    /// as long as the stuck vehicle has more of that speed than the traction has to spare before break-away.
    #[test]
    fn balance_peak_never_falls_with_puller_mass_under_the_least_resistance(p in problem(), by in 1.0..1.5) {
        let mut p = p;
        p.puller.slope = Angle::ZERO;
        p.stuck.slope = Angle::ZERO;
        p.slack = Length::ZERO;
        let least = ends(&p.stuck.resistance).map_or(p.puller.traction, |(_, least)| least);
        p.puller.traction = p.puller.traction.min(least);
        let (breaks, _) = ends(&p.stuck.resistance).unwrap_or((Force::ZERO, Force::ZERO));
        let e = p.rope.stretch_at(breaks).unwrap();
        let spare = p.puller.traction.as_n() * e.as_m() - p.rope.energy_at(e).unwrap().as_j();
        let v = (2.0 * spare.max(0.0) / p.stuck.mass.as_kg()).sqrt();
        p.puller.speed = p.puller.speed.max(Speed::from_m_s(v));
        let mut q = p;
        q.puller.mass = p.puller.mass * by;
        never_falls(&pulled(&p), &pulled(&q))?;
    }

    /// The greatest stretch never falls when the rope is softer or longer.
    #[test]
    fn balance_stretch_never_falls_with_softness(p in problem(), by in 1.0..1.5) {
        let before = pulled(&p);
        let mut q = p;
        q.rope.length = p.rope.length * by;
        prop_assert!(pulled(&q).stretch.as_m() >= before.stretch.as_m() * (1.0 - 1e-7));
        q = p;
        q.rope = p.rope.stiffer(1.0 / by);
        prop_assert!(pulled(&q).stretch.as_m() >= before.stretch.as_m() * (1.0 - 1e-7));
    }

    /// Looking on and writing down change no bit; a history starts taut and has its events in order.
    #[test]
    fn balance_recording_changes_no_bit(p in problem()) {
        let silent = pulled(&p);
        let mut trail = Trail::default();
        prop_assert_eq!(kinetic_pull(&p, &mut trail).unwrap(), silent);
        prop_assert_eq!(trail.steps.len(), 1);
        let h = kinetic_history(&p, &mut Silent).unwrap();
        prop_assert_eq!(h.outcome, silent);
        if silent.end != End::NeverTaut {
            prop_assert_eq!(h.samples[0].event, Some(Event::Taut));
            prop_assert!(h.samples.windows(2).all(|w| w[0].time <= w[1].time));
            let most = h.samples.iter().map(|s| s.tension.as_n()).fold(0.0, f64::max);
            prop_assert!(most <= silent.peak.as_n() * (1.0 + 1e-12));
        }
    }

    /// A rope that parts: the pull ends there, and the peak is its strength.
    #[test]
    fn balance_a_rope_that_parts_ends_the_pull(p in problem(), share in 0.2..0.95) {
        let whole = pulled(&p);
        if whole.peak.as_n() > 100.0 {
            let mut q = p;
            q.rope.breaking = Some(whole.peak * share);
            let o = pulled(&q);
            prop_assert_eq!(o.end, End::Parted);
            prop_assert!((o.peak.as_n() / (whole.peak.as_n() * share) - 1.0).abs() < 1e-6 || p.rope.viscous > 0.0);
            prop_assert!(o.share_of_breaking.unwrap() >= 1.0);
            q.rope.breaking = Some(whole.peak * 1.001);
            prop_assert_eq!(pulled(&q).end, whole.end);
        }
    }
}

fn plain() -> Problem {
    let rope = KineticRope::linear(Length::from_m(9.0), 48_148.148);
    let mire = Resistance::Constant(Force::from_kn(15.0));
    Problem::plain(Mass::from_kg(2500.0), Speed::from_km_h(10.0), Mass::from_kg(2800.0), mire, rope)
}

/// The documented exceptions: with more traction than the ground resists, and in a pull that is nearly steady, a heavier puller
/// makes less of a peak.
#[test]
fn balance_a_heavier_puller_can_lower_the_peak_of_a_nearly_steady_pull() {
    let mut p = plain();
    p.puller.speed = Speed::from_m_s(0.1);
    p.puller.traction = Force::from_kn(20.0);
    let light = pulled(&p);
    assert!(!peak_rises_with_puller(&p).unwrap());
    p.puller.mass = Mass::from_kg(5000.0);
    let heavy = pulled(&p);
    assert!(heavy.peak < light.peak * 0.99, "{} {}", heavy.peak.as_kn(), light.peak.as_kn());
    // Traction equal to the resistance and next to no run-up: the same, by the closed form F = R (1 + √(m₂/M)).
    p.puller.traction = Force::from_kn(15.0);
    p.puller.speed = Speed::from_m_s(0.001);
    p.travel_limit = Some(Length::from_mm(0.001));
    let heavy = pulled(&p);
    assert!(!peak_rises_with_puller(&p).unwrap());
    let exact = 15.0 * (1.0 + (2800.0_f64 / 7800.0).sqrt());
    assert!((heavy.peak.as_kn() - exact).abs() < 1e-3, "{}", heavy.peak.as_kn());
    p.puller.mass = Mass::from_kg(2500.0);
    assert!(pulled(&p).peak > heavy.peak);
    // A run-up of walking pace is past that.
    p.puller.speed = Speed::from_km_h(5.0);
    assert!(peak_rises_with_puller(&p).unwrap());
}

/// Multiplying the forces of a curved law is no stiffening in the sense of the property above: with traction it can lower the peak.
#[test]
fn balance_forces_multiplied_can_lower_the_peak_of_a_pull_with_traction() {
    let law = |kn: f64| Law::Polynomial { strength: Force::from_kn(kn), strain: 0.3, c: [0.2, 0.0, 0.8] };
    let mut p = plain();
    p.puller.speed = Speed::from_m_s(0.05);
    p.puller.traction = Force::from_kn(20.0);
    p.stuck.resistance = Resistance::Fixed;
    p.rope.law = law(60.0);
    let soft = pulled(&p);
    p.rope.law = law(90.0);
    assert!(pulled(&p).peak < soft.peak * 0.999);
}

/// What a person would see: each kind of end and event turns up where it must.
#[test]
fn balance_every_end_turns_up() {
    assert_eq!(pulled(&plain()).end, End::Slack);
    let mut p = plain();
    p.puller.speed = Speed::ZERO;
    assert_eq!(pulled(&p).end, End::NeverTaut);
    p.puller.speed = Speed::from_m_s(1.0);
    p.puller.slope = Angle::from_deg(20.0);
    p.slack = Length::from_m(5.0);
    assert_eq!(pulled(&p).end, End::NeverTaut, "it rolls to a stop uphill within the slack");
    p = plain();
    p.puller.speed = Speed::from_m_s(0.5);
    let o = pulled(&p);
    assert_eq!((o.end, o.broke_away_at, o.travel), (End::AtRest, None, Length::ZERO));
    assert!(o.tension_at_end.as_kn() > 4.0, "a taut rope between two standing vehicles");
    p = plain();
    p.puller.traction = Force::from_kn(30.0);
    p.travel_limit = Some(Length::from_m(2.0));
    assert_eq!(pulled(&p).end, End::TravelReached);
    p.travel_limit = None;
    p.time_limit = Time::from_s(0.2);
    let o = pulled(&p);
    assert_eq!((o.end, o.coast), (End::StillMoving, None));
    // Brakes that slip: the rope drags the stopped puller back, and the stuck vehicle gets less.
    p = plain();
    p.puller.holds = Some(Force::from_kn(8.0));
    let o = pulled(&p);
    assert!(o.energy.dragging.as_j() > 1.0);
    assert!(o.travel < pulled(&plain()).travel);
    assert_eq!(o.puller_stopped.unwrap().event, Some(Event::PullerDragged));
    // Uphill, on ground that holds it only just: it comes to rest and stays; once the mire has let go it rolls back.
    p = plain();
    p.stuck.slope = Angle::from_deg(15.0);
    assert!(!pulled(&p).rolls_back);
    p.stuck.resistance = Resistance::Decaying {
        breakaway: Force::from_kn(10.0),
        moving: Force::from_kn(1.0),
        over: Length::from_m(0.1),
    };
    let h = kinetic_history(&p, &mut Silent).unwrap();
    assert!(h.outcome.rolls_back || h.samples.iter().any(|s| s.event == Some(Event::RollsBack)));
    // Downhill it runs away once free.
    p.stuck.slope = Angle::from_deg(-15.0);
    let o = pulled(&p);
    assert_eq!((o.end, o.coast), (End::Slack, None));
}

/// Bad input is an error and no number.
#[test]
fn balance_bad_input_is_refused() {
    let bad: [fn(&mut Problem); 14] = [
        |p| p.puller.mass = Mass::from_kg(0.0),
        |p| p.stuck.mass = Mass::from_kg(f64::NAN),
        |p| p.puller.speed = Speed::from_m_s(-1.0),
        |p| p.puller.speed = Speed::from_m_s(f64::INFINITY),
        |p| p.puller.traction = Force::from_n(-1.0),
        |p| p.puller.slope = Angle::from_deg(90.0),
        |p| p.slack = Length::from_m(-0.1),
        |p| p.rope.length = Length::ZERO,
        |p| p.rope.viscous = f64::NAN,
        |p| p.rope.breaking = Some(Force::ZERO),
        |p| p.stuck.resistance = Resistance::Constant(Force::from_n(-5.0)),
        |p| {
            p.stuck.resistance = Resistance::Decaying {
                breakaway: Force::from_kn(5.0),
                moving: Force::from_kn(6.0),
                over: Length::from_m(1.0),
            };
        },
        |p| p.rope.unloading = Some(Unloading { residual: 0.0, exponent: 0.5 }),
        |p| p.time_limit = Time::from_s(1e9),
    ];
    for (i, spoil) in bad.iter().enumerate() {
        let mut p = plain();
        spoil(&mut p);
        assert!(kinetic_pull(&p, &mut Silent).is_err(), "fault {i} got through");
    }
    // A way back that gives back more than went in.
    let mut p = plain();
    p.rope.law = Law::Power { strength: Force::from_kn(130.0), strain: 0.3, exponent: 3.0 };
    p.rope.unloading = Some(Unloading { residual: 0.0, exponent: 1.0 });
    assert!(kinetic_pull(&p, &mut Silent).is_err());
    let fine = Fineness { tolerance: 0.1, ..Fineness::default() };
    assert!(kinetic_pull_with(&plain(), fine, &mut Silent).is_err());
}

/// Nothing is allocated in a pull.
#[test]
fn balance_a_pull_allocates_nothing() {
    let p = plain();
    let info = allocation_counter::measure(|| {
        let _ = std::hint::black_box(kinetic_pull(&p, &mut Silent));
    });
    assert_eq!(info.count_total, 0);
}
