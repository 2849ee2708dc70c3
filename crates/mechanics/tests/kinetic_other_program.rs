//! Kinetic pulls against other programs: those of checks/kinetic, and ode_solvers' Dop853 on random pulls.
#![allow(clippy::unwrap_used, clippy::panic, clippy::unreachable)] // helpers of tests fail loudly
mod kinetic_common;

use kinetic_common::{cases, problem};
use ode_solvers::dop_shared::OutputType;
use ode_solvers::{Dop853, System, Vector4};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use unmire_mechanics::kinetic::{End, Law, Problem, Resistance, kinetic_history, kinetic_pull};
use unmire_model::{Angle, Silent};

fn near(got: f64, want: f64, allowed: f64, what: &str) {
    assert!((got - want).abs() <= allowed, "{what}: {got} but the other program found {want}");
}

#[test]
fn other_program_pulls_of_checks() {
    let cases = cases();
    assert_eq!(cases.len(), 9, "a pull more or less than there were");
    for c in &cases {
        let id = &c.id;
        let o = kinetic_pull(&c.problem, &mut Silent).unwrap_or_else(|e| panic!("{id}: {e}"));
        // Far closer than the 1e-5 and 1e-4 m that are asked, but where the other program itself is no better.
        let (rel, m) = if id == "K7" { (1e-5, 1e-5) } else { (1e-8, 1e-7) };
        let peak = c.number("peak_n");
        near(o.peak.as_n(), peak, rel * peak, &format!("{id}: peak"));
        near(o.peak_at.as_s(), c.number("peak_at_s"), 1e-4, &format!("{id}: time of the peak"));
        near(o.stretch.as_m(), c.number("stretch_m"), m, &format!("{id}: stretch"));
        near(o.strain, c.number("strain"), m, &format!("{id}: strain"));
        near(o.travel.as_m(), c.number("travel_m"), m, &format!("{id}: travel"));
        // The other program notes it at its steps, so a little low.
        let fastest = c.number("greatest_speed_m_s");
        let ours = o.stuck_speed.as_m_s();
        assert!(ours >= fastest - 1e-8 && ours <= fastest * 1.005, "{id}: {ours} against {fastest}");
        if let Some(x) = c.maybe("travel_in_line_m") {
            near(o.travel_in_line.as_m(), x, m, &format!("{id}: travel in line"));
            near(o.stuck_speed_at_end.as_m_s(), c.number("speed_at_end_m_s"), 1e-6, &format!("{id}: speed at the end"));
            near(o.ended_at.as_s(), c.number("ended_at_s"), 1e-6, &format!("{id}: end"));
            let end = if o.end == End::Slack { "slack" } else { "at-rest" };
            assert_eq!(c.expected["end"].as_str(), Some(end), "{id}");
        }
        if let Some(t) = c.maybe("broke_away_at_s") {
            near(o.broke_away_at.unwrap().as_s(), t, 1e-8, &format!("{id}: break-away"));
        }
        if let Some(t) = c.maybe("puller_stopped_at_s") {
            let stop = o.puller_stopped.unwrap();
            near(stop.time.as_s(), t, 1e-6, &format!("{id}: stop of the puller"));
            near(stop.puller_travel.as_m(), c.number("puller_way_m"), m, &format!("{id}: way of the puller"));
            near(stop.tension.as_n(), c.number("tension_then_n"), 1e-5 * peak, &format!("{id}: tension then"));
        }
        if let Some(share) = c.maybe("rope_loss") {
            near(c.problem.rope.loss_share(o.stretch).unwrap(), share, 1e-7, &format!("{id}: loss in the rope"));
        }
        // Looking on changes no bit.
        assert_eq!(kinetic_history(&c.problem, &mut Silent).unwrap().outcome, o, "{id}");
    }
}

/// The equations once more, written without a look at ours: one law, one mode.
#[derive(Clone, Copy)]
struct Motion {
    m1: f64,
    m2: f64,
    p: f64,
    length: f64,
    law: Law,
    /// Greatest stretch where the rope is on its way back.
    back: Option<f64>,
    /// Residual and exponent.
    loss: Option<(f64, f64)>,
    rb: f64,
    rm: f64,
    over: f64,
    moves: bool,
    held: bool,
}
impl Motion {
    fn loading(&self, e: f64) -> f64 {
        let strain = e / self.length;
        match self.law {
            Law::Linear { ea } => ea.as_n() * strain,
            Law::Power { strength, strain: b, exponent } => {
                strength.as_n() * libm::pow((strain / b).max(0.0), exponent)
            }
            Law::Polynomial { strength, strain: b, c } => {
                let u = strain / b;
                strength.as_n() * (c[0] * u + c[1] * u * u + c[2] * u * u * u)
            }
            Law::Measured(_) => unreachable!("left out: see the filter"),
        }
    }
    fn tension(&self, e: f64) -> f64 {
        match (self.back, self.loss) {
            (Some(m), Some((r, q))) => {
                let left = r * m;
                if e <= left { 0.0 } else { self.loading(m) * libm::pow((e - left) / (m - left), q) }
            }
            _ => self.loading(e),
        }
    }
    fn holds(&self, s: f64) -> f64 {
        self.rm + (self.rb - self.rm) * libm::exp(-s / self.over)
    }
}
impl System<f64, Vector4<f64>> for Motion {
    fn system(&self, _: f64, y: &Vector4<f64>, dy: &mut Vector4<f64>) {
        let t = self.tension(y[0] - y[1]);
        dy[0] = if self.held { 0.0 } else { y[2] };
        dy[1] = if self.moves { y[3] } else { 0.0 };
        dy[2] = if self.held { 0.0 } else { (self.p - t) / self.m1 };
        dy[3] = if self.moves { (t - self.holds(y[1])) / self.m2 } else { 0.0 };
    }
}

fn advance(m: Motion, y: Vector4<f64>, dt: f64) -> Vector4<f64> {
    if dt <= 0.0 {
        return y;
    }
    // Its own defaults, but for the output: every step it takes, the last of them at the end.
    let mut stepper = Dop853::from_param(
        m,
        0.0,
        dt,
        dt,
        y,
        1e-12,
        1e-13,
        0.9,
        0.0,
        0.333,
        6.0,
        dt,
        0.0,
        100_000,
        1000,
        OutputType::Sparse,
    );
    stepper.integrate().unwrap();
    *stepper.y_out().last().unwrap()
}

/// Peak and travel up to the first peak's far side: until the rope is slack or both stand, by plain search on a grid of 2 ms.
fn other(p: &Problem) -> (f64, f64) {
    let (rb, rm, over) = match p.stuck.resistance {
        Resistance::Constant(r) => (r.as_n(), r.as_n(), 1.0),
        Resistance::Decaying { breakaway, moving, over } => (breakaway.as_n(), moving.as_n(), over.as_m()),
        Resistance::Fixed => (1e15, 1e15, 1.0),
    };
    let mut m = Motion {
        m1: p.puller.mass.as_kg(),
        m2: p.stuck.mass.as_kg(),
        p: p.puller.traction.as_n(),
        length: p.rope.length.as_m(),
        law: p.rope.law,
        back: None,
        loss: p.rope.unloading.map(|u| (u.residual, u.exponent)),
        rb,
        rm,
        over,
        moves: false,
        held: false,
    };
    let (m1, v0) = (m.m1, p.puller.speed.as_m_s());
    let mut y = Vector4::new(0.0, 0.0, (v0 * v0 + 2.0 * m.p * p.slack.as_m() / m1).sqrt(), 0.0);
    let (mut peak, mut t) = (0.0_f64, 0.0);
    while t < 20.0 {
        // What can happen: a number that rises through zero.
        let watch = |m: &Motion, y: &Vector4<f64>| {
            let e = y[0] - y[1];
            let closing = if m.held { 0.0 } else { y[2] } - if m.moves { y[3] } else { 0.0 };
            [
                if m.held { -1.0 } else { -y[2] },
                if m.moves { -y[3] } else { m.tension(e) - m.holds(y[1]) },
                match m.back {
                    Some(top) => e - top,
                    None => -closing,
                },
                match (m.back, m.loss) {
                    (Some(top), Some((r, _))) => r * top - e,
                    _ => -e,
                },
            ]
        };
        let before = watch(&m, &y);
        let dt = 0.002;
        let ahead = advance(m, y, dt);
        let hit = |a: &[f64; 4]| (0..4).filter(|i| before[*i] <= 0.0 && a[*i] > 0.0).collect::<Vec<_>>();
        if hit(&watch(&m, &ahead)).is_empty() {
            y = ahead;
            t += dt;
            peak = peak.max(m.tension(y[0] - y[1]));
            continue;
        }
        let (mut low, mut high) = (0.0, dt);
        for _ in 0..50 {
            let mid = 0.5 * (low + high);
            if hit(&watch(&m, &advance(m, y, mid))).is_empty() { low = mid } else { high = mid }
        }
        y = advance(m, y, high);
        t += high;
        let (e, happened) = (y[0] - y[1], hit(&watch(&m, &y)));
        peak = peak.max(m.tension(e));
        for i in happened {
            match i {
                0 => {
                    m.held = true;
                    y[2] = 0.0;
                }
                1 => {
                    m.moves = !m.moves;
                    y[3] = 0.0;
                }
                2 if m.loss.is_some() => m.back = if m.back.is_some() { None } else { Some(e) },
                2 => {}
                _ => return (peak, y[1] + coast(&m, y[1], y[3])),
            }
        }
        if m.held && !m.moves && m.tension(e) <= m.holds(y[1]) {
            return (peak, y[1]);
        }
    }
    panic!("the other program finds no end");
}

/// Further way against the resistance until the motion is used up, by small steps of trapezoids.
fn coast(m: &Motion, from: f64, speed: f64) -> f64 {
    let mut energy = 0.5 * m.m2 * speed * speed;
    let (mut x, dx) = (from, 1e-5);
    while energy > 0.0 {
        let mean = 0.5 * (m.holds(x) + m.holds(x + dx));
        if mean * dx >= energy {
            return x + energy / mean - from;
        }
        energy -= mean * dx;
        x += dx;
    }
    x - from
}

/// Pulls that the plain search above can follow: level, no viscous term, a resistance that is felt, an end by itself.
fn plain(mut p: Problem) -> Option<Problem> {
    p.puller.slope = Angle::ZERO;
    p.stuck.slope = Angle::ZERO;
    p.puller.holds = None;
    p.travel_limit = None;
    p.rope.viscous = 0.0;
    let felt = match p.stuck.resistance {
        Resistance::Constant(r) | Resistance::Decaying { moving: r, .. } => r.as_kn() > 3.0 && r > p.puller.traction,
        Resistance::Fixed => true,
    };
    let starts = p.puller.speed.as_m_s() > 0.2;
    (felt && starts && !matches!(p.rope.law, Law::Measured(_))).then_some(p)
}

#[test]
fn other_program_ode_solvers_on_random_pulls() {
    let mut runner = TestRunner::new_with_rng(
        Config { cases: 60, max_global_rejects: 5000, failure_persistence: None, ..Config::default() },
        proptest::test_runner::TestRng::deterministic_rng(proptest::test_runner::RngAlgorithm::ChaCha),
    );
    runner
        .run(&problem().prop_filter_map("not for the plain search", plain), |p| {
            let o = kinetic_pull(&p, &mut Silent).unwrap();
            let (peak, travel) = other(&p);
            prop_assert!((o.peak.as_n() - peak).abs() <= 1e-6 * peak, "peak {} against {peak}", o.peak.as_n());
            prop_assert!(
                (o.travel.as_m() - travel).abs() <= 1e-5 * travel.max(1.0),
                "travel {} against {travel}",
                o.travel.as_m()
            );
            Ok(())
        })
        .unwrap();
}
