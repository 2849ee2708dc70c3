//! How long one kinetic pull takes, and the whole window of run-up with ranges.
#![allow(missing_docs, clippy::expect_used, clippy::print_stdout)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use unmire_mechanics::kinetic::{
    Asked, KineticRope, Law, Problem, PullInputs, Resistance, ResistanceRange, RopeState, TIME_LIMIT, Unloading,
    at_speed, kinetic_pull, kinetic_range, rope_range, run_up_window,
};
use unmire_model::range::Scalar;
use unmire_model::{Angle, Force, Length, Mass, Range, Silent, Speed};

fn range<Q: Scalar>(v: [f64; 3]) -> Range<Q> {
    Range::hull(Q::of_si(v[0]), Q::of_si(v[1]), Q::of_si(v[2]))
}

/// Three pulls of checks/kinetic: linear (K3), with way back and a resistance that lets go (K6), with a viscous term (K7).
fn pulls() -> [(&'static str, Problem); 3] {
    let linear = KineticRope::linear(Length::from_m(9.0), 48_148.148);
    let law = Law::Polynomial { strength: Force::from_kn(130.0), strain: 0.3, c: [0.35, 0.25, 0.4] };
    let unloading = Some(Unloading { residual: 0.15, exponent: 2.0 });
    let (kg, kmh, kn) = (Mass::from_kg, Speed::from_km_h, Force::from_kn);
    let k3 = Problem::plain(kg(2500.0), kmh(10.0), kg(2800.0), Resistance::Constant(kn(15.0)), linear);
    let mire = Resistance::Decaying { breakaway: kn(25.0), moving: kn(12.0), over: Length::from_m(0.5) };
    let mut k6 = Problem::plain(kg(2500.0), kmh(10.0), kg(2800.0), mire, KineticRope { law, unloading, ..linear });
    k6.puller.traction = kn(6.0);
    let viscous = KineticRope { law, viscous: 4000.0, ..linear };
    let mut k7 = Problem::plain(kg(1800.0), kmh(12.0), kg(3500.0), Resistance::Constant(kn(18.0)), viscous);
    k7.puller.traction = kn(5.0);
    [("K3", k3), ("K6", k6), ("K7", k7)]
}

fn inputs() -> PullInputs {
    PullInputs {
        puller_mass: range([2400.0, 2500.0, 2700.0]),
        stuck_mass: range([2700.0, 2800.0, 3000.0]),
        speed: range([1.6, 2.0, 2.4]),
        slack: range([0.5, 1.0, 1.5]),
        traction: range([2e3, 4e3, 6e3]),
        puller_slope: Angle::ZERO,
        holds: Some(range([6e3, 9e3, 14e3])),
        resistance: ResistanceRange {
            breakaway: range([10e3, 16e3, 22e3]),
            moving: range([7e3, 9e3, 12e3]),
            over: Some(Length::from_m(0.5)),
        },
        stuck_slope: range([0.0; 3]),
        rope: rope_range(Force::from_kn(100.0), &range([9.0; 3]), RopeState::Worked, None, false, &mut Silent)
            .expect("a rope"),
        travel_limit: Some(Length::from_m(3.0)),
        time_limit: TIME_LIMIT,
    }
}

fn kinetic(c: &mut Criterion) {
    for (name, p) in pulls() {
        let o = kinetic_pull(&p, &mut Silent).expect("a pull");
        println!("{name}: {} steps", o.steps);
        c.bench_function(&format!("one pull, {name}"), |b| {
            b.iter(|| kinetic_pull(black_box(&p), &mut Silent).expect("a pull"));
        });
    }
    let i = inputs();
    let asked = Asked { travel: Length::from_m(0.3), limit: Force::from_kn(60.0), fastest: Speed::from_km_h(20.0) };
    let r = kinetic_range(&i, &mut Silent).expect("a range");
    println!("range: {} pulls, {:?}", r.runs, r.peak.values().map(Force::as_kn));
    c.bench_function("one pull with ranges", |b| {
        b.iter(|| kinetic_range(black_box(&i), &mut Silent).expect("a range"))
    });
    let w = run_up_window(&i, &asked, &mut Silent).expect("an answer");
    println!("window: {} pulls, {:?}", w.runs, w.window);
    c.bench_function("window of run-up", |b| {
        b.iter(|| run_up_window(black_box(&i), &asked, &mut Silent).expect("an answer"));
    });
    // The curves of peak and travel over the speed: as many speeds as make 10,000 pulls.
    let per = at_speed(&i, Speed::from_m_s(2.0)).expect("a point").runs;
    let speeds = 10_000_u32.div_ceil(per);
    let at = |k: u32| Speed::from_km_h(20.0 * f64::from(k + 1) / f64::from(speeds));
    println!("{speeds} speeds of {per} pulls");
    let mut group = c.benchmark_group("10,000 pulls with ranges over the run-up");
    group.sample_size(10);
    group.bench_function("one core", |b| {
        b.iter(|| {
            for k in 0..speeds {
                at_speed(black_box(&i), at(k)).expect("a point");
            }
        });
    });
    group.bench_function("two cores", |b| {
        b.iter(|| {
            std::thread::scope(|s| {
                for half in 0..2 {
                    let i = &i;
                    s.spawn(move || {
                        for k in (half..speeds).step_by(2) {
                            at_speed(black_box(i), at(k)).expect("a point");
                        }
                    });
                }
            });
        });
    });
    group.finish();
}

criterion_group!(benches, kinetic);
criterion_main!(benches);
