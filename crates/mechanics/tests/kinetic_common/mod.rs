//! Pulls for the tests: those of checks/kinetic, and random ones.
#![allow(dead_code, clippy::unwrap_used, clippy::panic)] // each test file takes what it needs; faults are loud

use proptest::prelude::*;
use std::path::Path;
use toml::{Table, Value};
use unmire_mechanics::kinetic::{KineticRope, Law, Points, Problem, Resistance, Unloading};
use unmire_model::{Angle, Force, Length, Mass, Speed};

/// A pull that another program reckoned.
pub struct Case {
    /// Its id.
    pub id: String,
    /// The pull.
    pub problem: Problem,
    /// What the other program found.
    pub expected: Table,
}
impl Case {
    /// A number that the other program found.
    pub fn number(&self, key: &str) -> f64 {
        number(&self.expected, key).unwrap_or_else(|| panic!("{}: {key}", self.id))
    }
    /// The same if it is there.
    pub fn maybe(&self, key: &str) -> Option<f64> {
        number(&self.expected, key)
    }
}

fn number(t: &Table, key: &str) -> Option<f64> {
    t.get(key).and_then(Value::as_float)
}

/// Every pull of checks/kinetic by its id.
pub fn cases() -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../checks/kinetic");
    let mut paths: Vec<_> = std::fs::read_dir(&folder)
        .unwrap()
        .filter_map(|e| e.ok().map(|e| e.path()))
        .filter(|p| p.extension().is_some_and(|x| x == "toml"))
        .collect();
    paths.sort();
    paths.iter().map(|p| read(&std::fs::read_to_string(p).unwrap())).collect()
}

fn read(text: &str) -> Case {
    let doc: Table = text.parse().unwrap();
    let id = doc["id"].as_str().unwrap().to_owned();
    let part = |key: &str| doc[key].as_table().unwrap().clone();
    let (puller, stuck, rope) = (part("puller"), part("stuck"), part("rope"));
    let get = |t: &Table, key: &str| number(t, key).unwrap_or_else(|| panic!("{id}: {key}"));
    let resistance = if stuck.contains_key("fixed") {
        Resistance::Fixed
    } else if stuck.contains_key("over_m") {
        Resistance::Decaying {
            breakaway: Force::from_n(get(&stuck, "breakaway_n")),
            moving: Force::from_n(get(&stuck, "moving_n")),
            over: Length::from_m(get(&stuck, "over_m")),
        }
    } else {
        Resistance::Constant(Force::from_n(get(&stuck, "resistance_n")))
    };
    let length = Length::from_m(get(&rope, "length_m"));
    let strength = || Force::from_n(get(&rope, "strength_n"));
    let law = match rope["law"].as_str().unwrap() {
        "linear" => KineticRope::linear(length, get(&rope, "stiffness_n_per_m")).law,
        "power" => Law::Power { strength: strength(), strain: get(&rope, "strain"), exponent: get(&rope, "exponent") },
        "polynomial" => {
            let c: Vec<f64> = rope["c"].as_array().unwrap().iter().map(|v| v.as_float().unwrap()).collect();
            Law::Polynomial { strength: strength(), strain: get(&rope, "strain"), c: [c[0], c[1], c[2]] }
        }
        other => panic!("{id}: law {other}"),
    };
    let unloading =
        number(&rope, "way_back_exponent").map(|exponent| Unloading { residual: get(&rope, "residual"), exponent });
    let rope = KineticRope { length, law, unloading, viscous: get(&rope, "viscous_n_s_per_m"), breaking: None };
    let mut problem = Problem::plain(
        Mass::from_kg(get(&puller, "mass_kg")),
        Speed::from_m_s(get(&puller, "speed_m_s")),
        Mass::from_kg(get(&stuck, "mass_kg")),
        resistance,
        rope,
    );
    problem.puller.traction = Force::from_n(get(&puller, "traction_n"));
    Case { id, problem, expected: part("expected") }
}

/// A random loading law of a rope of this strength.
pub fn law() -> impl Strategy<Value = Law> {
    let strength = || (60e3..250e3).prop_map(Force::from_n);
    prop_oneof![
        (60e3..250e3, 2.0..12.0).prop_map(|(s, k)| Law::Linear { ea: Force::from_n(s * k) }),
        (strength(), 0.1..0.4, 1.0..2.5).prop_map(|(strength, strain, exponent)| Law::Power {
            strength,
            strain,
            exponent
        }),
        (strength(), 0.1..0.4, 0.2..0.8, 0.0..1.0).prop_map(|(strength, strain, a, share)| {
            let b = share * (1.0 - a);
            Law::Polynomial { strength, strain, c: [a, b, 1.0 - a - b] }
        }),
        (60e3..250e3, proptest::collection::vec((0.02..0.08, 0.8..2.0), 1..8)).prop_map(|(s, pieces)| {
            let (mut e, mut f, mut k) = (0.0, 0.0, s);
            let points: Vec<(f64, Force)> = pieces
                .iter()
                .map(|(d, grows)| {
                    e += d;
                    k *= grows;
                    f += k * d;
                    (e, Force::from_n(f))
                })
                .collect();
            Law::Measured(Points::new(&points).unwrap())
        }),
    ]
}

/// A random rope.
pub fn rope() -> impl Strategy<Value = KineticRope> {
    let unloading =
        proptest::option::of((0.0..0.3, 1.5..3.5).prop_map(|(residual, exponent)| Unloading { residual, exponent }));
    let viscous = prop_oneof![3 => Just(0.0), 1 => 0.0..6000.0];
    (4.0..14.0, law(), unloading, viscous).prop_map(|(length, law, unloading, viscous)| {
        let length = Length::from_m(length);
        let rope = KineticRope { length, law, unloading, viscous, breaking: None };
        // A way back that gives back more than went in is refused; such a rope comes back as it went.
        if rope.energy_at(length * 0.1).is_ok() { rope } else { KineticRope { unloading: None, ..rope } }
    })
}

/// A random resistance in newtons.
pub fn resistance() -> impl Strategy<Value = Resistance> {
    prop_oneof![
        3 => (0.0..60e3).prop_map(|r| Resistance::Constant(Force::from_n(r))),
        3 => (0.0..60e3, 0.0..1.0, 0.1..2.0).prop_map(|(r, share, over)| Resistance::Decaying {
            breakaway: Force::from_n(r),
            moving: Force::from_n(r * share),
            over: Length::from_m(over),
        }),
        1 => Just(Resistance::Fixed),
    ]
}

/// Break-away and least resistance; none where it does not move.
pub fn ends(r: &Resistance) -> Option<(Force, Force)> {
    match r {
        Resistance::Constant(r) => Some((*r, *r)),
        Resistance::Decaying { breakaway, moving, .. } => Some((*breakaway, *moving)),
        Resistance::Fixed => None,
    }
}

/// The same resistance with break-away and moving part raised by factors.
pub fn raised(r: &Resistance, breakaway_by: f64, moving_by: f64) -> Resistance {
    match *r {
        Resistance::Constant(r) => Resistance::Constant(r * breakaway_by),
        Resistance::Decaying { breakaway, moving, over } => {
            let breakaway = breakaway * breakaway_by;
            Resistance::Decaying { breakaway, moving: (moving * moving_by).min(breakaway), over }
        }
        Resistance::Fixed => Resistance::Fixed,
    }
}

/// A random pull: light and heavy vehicles, creeping and fast, with and without traction, slack, slopes and brakes that slip.
pub fn problem() -> impl Strategy<Value = Problem> {
    let masses = (1000.0..8000.0, 1000.0..12_000.0);
    let traction = prop_oneof![1 => Just(0.0), 2 => 0.0..25e3];
    let slack = prop_oneof![1 => Just(0.0), 1 => 0.0..4.0];
    let slopes = prop_oneof![1 => Just((0.0, 0.0)), 1 => (-0.1..0.1, -1.0..1.0)];
    let holds = prop_oneof![2 => Just(None), 1 => (3e3..30e3).prop_map(|h| Some(Force::from_n(h)))];
    let limit = prop_oneof![1 => Just(None), 2 => (0.5..5.0).prop_map(|l| Some(Length::from_m(l)))];
    (masses, 0.0..6.0, rope(), resistance(), (traction, slack), slopes, holds, limit).prop_map(
        |((m1, m2), v, rope, resistance, (traction, slack), (up1, up2), holds, limit)| {
            let mut p = Problem::plain(Mass::from_kg(m1), Speed::from_m_s(v), Mass::from_kg(m2), resistance, rope);
            p.puller.traction = Force::from_n(traction);
            p.puller.slope = Angle::from_rad(up1);
            p.puller.holds = holds;
            p.slack = Length::from_m(slack);
            // A slope that the ground still holds it on.
            let held = ends(&resistance).map_or(0.3, |(r, _)| (r / p.stuck.mass.weight()).min(0.3));
            p.stuck.slope = Angle::from_rad(libm::asin(held * up2));
            p.travel_limit = limit;
            p
        },
    )
}
