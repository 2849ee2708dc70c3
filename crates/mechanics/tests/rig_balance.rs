//! What must hold in every rig, whatever its numbers: forces add up to nothing, the three drives agree, scale and place
//! don't matter, recording changes no bit, and hostile input gets an error and never a false number.
#![allow(clippy::unwrap_used)]
mod rig_common;

use proptest::prelude::*;
use rig_common::{Dice, case_named, random_rig};
use unmire_mechanics::rig::{Equilibrium, RigError, Solver, explain, solve};
use unmire_model::rig::{Drive, Line, Motion, Node, Sling, Structure, Turn};
use unmire_model::{Angle, Force, Length, Silent, Trail, Vec3};

/// A random rig whose sheaves are in part plain rings.
fn with_rings(seed: u64) -> Structure {
    let mut s = random_rig(seed);
    let mut d = Dice(seed ^ 0x5eed);
    for turn in &mut s.lines[0].turns {
        if d.unit() < 0.5 {
            *turn = Turn::Ring { friction: d.between(0.0, 0.3) };
        }
    }
    s
}

/// What the fixed points feel, and the weights: what hangs on the ground is what hangs in the rig.
fn sum(s: &Structure, eq: &Equilibrium) -> Vec3 {
    let mut sum = Vec3::ZERO;
    for (node, force) in s.nodes.iter().zip(&eq.forces) {
        sum += if node.fixed { *force } else { Vec3::UP * node.weight.as_n() };
    }
    sum
}

fn same(a: &Equilibrium, b: &Equilibrium, share: f64) {
    let scale = a.tensions.iter().fold(1.0_f64, |m, t| m.max(t.as_n()));
    for (x, y) in a.slings.iter().zip(&b.slings) {
        let (x, y) = (x.tension.as_n(), y.tension.as_n());
        assert!((x - y).abs() <= share * scale.max(x), "{x} N and {y} N");
    }
    for (x, y) in a.legs.iter().zip(&b.legs) {
        let (x, y) = (x.tension.as_n(), y.tension.as_n());
        assert!((x - y).abs() <= share * scale.max(x), "{x} N and {y} N");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn balance_all_forces_add_up_to_nothing(seed in any::<u64>(), rings in any::<bool>()) {
        let s = if rings { with_rings(seed) } else { random_rig(seed) };
        let eq = solve(&s, &mut Silent).unwrap();
        let most = eq.legs.iter().fold(0.0_f64, |m, leg| m.max(leg.tension.as_n()));
        prop_assert!(sum(&s, &eq).norm() < 1e-8 * most);
        prop_assert!(eq.residual < eq.allowed);
    }

    #[test]
    fn balance_three_drives_agree(seed in any::<u64>(), rings in any::<bool>()) {
        let mut s = if rings { with_rings(seed) } else { random_rig(seed) };
        let by_tension = solve(&s, &mut Silent).unwrap();
        // The pull that it makes on the line's dead end, asked for as a drive.
        let end = *s.lines[0].path.last().unwrap();
        let direction = by_tension.forces[end];
        s.lines[0].drive = Drive::Pull { points: vec![end], direction, force: Force::from_n(direction.norm()) };
        same(&by_tension, &solve(&s, &mut Silent).unwrap(), 1e-6);
        // The slack length that the line then has, given as a drive.
        let ea = Force::from_kn(1500.0);
        let rest = by_tension.legs.iter().map(|leg| leg.length / (1.0 + leg.tension / ea)).sum();
        s.lines[0].drive = Drive::Length { rest_length: rest, ea };
        same(&by_tension, &solve(&s, &mut Silent).unwrap(), 1e-6);
    }

    #[test]
    fn balance_scale_and_place_do_not_matter(seed in any::<u64>(), factor in 0.1..10.0_f64, turn in -3.0..3.0_f64) {
        let s = random_rig(seed);
        let eq = solve(&s, &mut Silent).unwrap();
        // All forces times a factor.
        let mut t = s.clone();
        for n in &mut t.nodes { n.weight = n.weight * factor; }
        for sling in &mut t.slings { sling.ea = sling.ea * factor; }
        let Drive::Tension(pull) = &mut t.lines[0].drive else { unreachable!() };
        *pull = *pull * factor;
        let scaled = solve(&t, &mut Silent).unwrap();
        for (a, b) in eq.slings.iter().zip(&scaled.slings) {
            prop_assert!((a.tension * factor - b.tension).abs() <= scaled.tensions[0] * 1e-7);
        }
        // All of it turned about the vertical and put elsewhere.
        let mut t = s.clone();
        for n in &mut t.nodes { n.at = n.at.turned(Angle::from_rad(turn)) + Vec3::new(30.0, -20.0, 5.0); }
        same(&eq, &solve(&t, &mut Silent).unwrap(), 1e-7);
    }

    #[test]
    fn balance_any_start_leads_to_the_same_place(seed in any::<u64>()) {
        let s = random_rig(seed);
        let eq = solve(&s, &mut Silent).unwrap();
        let mut d = Dice(seed ^ 77);
        for reach in [1.0, 10.0, 100.0] {
            let mut t = s.clone();
            for n in t.nodes.iter_mut().filter(|n| !n.fixed) { n.at = d.point(n.at, reach); }
            same(&eq, &solve(&t, &mut Silent).unwrap(), 1e-7);
        }
        // Even all of them on one spot, on an anchor.
        let mut t = s.clone();
        let spot = t.nodes[0].at;
        for n in t.nodes.iter_mut().filter(|n| !n.fixed) { n.at = spot; }
        same(&eq, &solve(&t, &mut Silent).unwrap(), 1e-7);
    }

    #[test]
    fn balance_warm_start_and_kept_buffers_change_nothing(seed in any::<u64>(), rings in any::<bool>()) {
        let s = if rings { with_rings(seed) } else { random_rig(seed) };
        let fresh = solve(&s, &mut Silent).unwrap();
        let mut solver = Solver::default();
        let mut eq = Equilibrium::default();
        // Buffers that held another rig give the same bits.
        solver.solve_into(&random_rig(seed ^ 1), &mut eq).unwrap();
        solver.solve_into(&s, &mut eq).unwrap();
        prop_assert_eq!(&fresh, &eq);
        // From the answer for a little more pull.
        let mut t = s.clone();
        let Drive::Tension(pull) = &mut t.lines[0].drive else { unreachable!() };
        *pull = *pull * 1.01;
        solver.solve_from(&t, &mut eq).unwrap();
        let more = eq.iterations;
        same(&solve(&t, &mut Silent).unwrap(), &eq, 1e-7);
        prop_assert!(more <= 12, "{more} steps for one per cent");
        // From something that doesn't fit: as from nothing.
        let mut other = Equilibrium::default();
        solver.solve_from(&s, &mut other).unwrap();
        prop_assert_eq!(&fresh, &other);
    }

    #[test]
    fn balance_recording_changes_no_bit(seed in any::<u64>(), rings in any::<bool>()) {
        let s = if rings { with_rings(seed) } else { random_rig(seed) };
        let mut trail = Trail::default();
        let told = solve(&s, &mut trail).unwrap();
        prop_assert_eq!(&solve(&s, &mut Silent).unwrap(), &told);
        // Every sling, every turn and the residual stand in it.
        for (sling, load) in s.slings.iter().zip(&told.slings) {
            let what = format!("tension of sling '{}'", sling.name);
            let step = trail.steps.iter().find(|step| step.what == what).unwrap();
            prop_assert_eq!(step.si[1], load.tension.as_n());
        }
        prop_assert_eq!(trail.steps.last().unwrap().si[1], told.residual.as_n());
        let mut again = Trail::default();
        explain(&s, &told, &mut again);
        prop_assert_eq!(trail, again);
    }

    #[test]
    fn balance_hauling_frictionless_lowering_are_in_order(seed in any::<u64>()) {
        let mut s = random_rig(seed);
        let mut last = Vec::new();
        for motion in [Motion::Hauling, Motion::Frictionless, Motion::Lowering] {
            s.lines[0].motion = motion;
            let eq = solve(&s, &mut Silent).unwrap();
            last.push(eq.legs.last().unwrap().tension);
        }
        prop_assert!(last[0] <= last[1] && last[1] <= last[2]);
        prop_assert!((last[0].as_n() * last[2].as_n() / (last[1].as_n() * last[1].as_n()) - 1.0).abs() < 1e-12);
    }
}

/// A number that somebody might send.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -30.0..30.0_f64,
        2 => 0.0..2.0_f64,
        1 => prop::sample::select(vec![0.0, -0.0, 1.0, 1e-300, 1e300, f64::NAN, f64::INFINITY, 1e9, 1e-9, 1e5, 1e12]),
        2 => 0.0..1e6_f64,
    ]
}

fn any_node() -> impl Strategy<Value = Node> {
    (any_number(), any_number(), any_number(), any::<bool>(), any_number(), any::<bool>()).prop_map(
        |(x, y, z, fixed, weight, heavy)| Node {
            name: "n".into(),
            at: Vec3::new(x, y, z),
            fixed,
            weight: Force::from_n(if heavy { weight } else { 0.0 }),
        },
    )
}

fn any_index() -> impl Strategy<Value = usize> {
    prop_oneof![20 => 0..6_usize, 1 => any::<usize>()]
}

fn any_sling() -> impl Strategy<Value = Sling> {
    (any_index(), any_index(), any_number(), any_number())
        .prop_map(|(a, b, l, ea)| Sling::new("s", a, b, Length::from_m(l), Force::from_n(ea)))
}

fn any_line() -> impl Strategy<Value = Line> {
    let drive = prop_oneof![
        3 => any_number().prop_map(|t| Drive::Tension(Force::from_n(t))),
        1 => (prop::collection::vec(any_index(), 0..3), any_number(), any_number(), any_number()).prop_map(
            |(points, x, y, f)| Drive::Pull { points, direction: Vec3::new(x, y, 0.1), force: Force::from_n(f) }
        ),
        1 => (any_number(), any_number())
            .prop_map(|(l, ea)| Drive::Length { rest_length: Length::from_m(l), ea: Force::from_n(ea) }),
    ];
    let turn = prop_oneof![
        (0.0..1.1_f64).prop_map(|ratio| Turn::Sheave { ratio }),
        any_number().prop_map(|ratio| Turn::Sheave { ratio }),
        (0.0..0.5_f64).prop_map(|friction| Turn::Ring { friction }),
    ];
    let motion = prop::sample::select(vec![Motion::Hauling, Motion::Lowering, Motion::Frictionless]);
    (prop::collection::vec(any_index(), 0..6), prop::collection::vec(turn, 4), any::<bool>(), motion, drive).prop_map(
        |(path, mut turns, fits, motion, drive)| {
            if fits {
                turns.truncate(path.len().saturating_sub(2));
            }
            Line { name: "l".into(), path, turns, motion, drive }
        },
    )
}

/// Whatever it is: an error, or a balance that is one.
fn judge(s: &Structure) -> Result<bool, TestCaseError> {
    match solve(s, &mut Silent) {
        Err(e) => {
            prop_assert!(!e.to_string().is_empty());
            Ok(false)
        }
        Ok(eq) => {
            prop_assert!(eq.residual.is_finite() && eq.residual < eq.allowed);
            prop_assert!(eq.positions.iter().chain(&eq.forces).all(|v| v.is_finite()));
            prop_assert!(eq.legs.iter().all(|l| l.tension.as_n() >= 0.0 && l.length.is_finite()));
            prop_assert!(eq.slings.iter().all(|l| l.tension.as_n() >= 0.0 && l.length.is_finite()));
            Ok(true)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn balance_hostile_structures_get_an_error_or_a_certified_answer(
        nodes in prop::collection::vec(any_node(), 0..7),
        slings in prop::collection::vec(any_sling(), 0..6),
        lines in prop::collection::vec(any_line(), 0..3),
    ) {
        judge(&Structure { nodes, slings, lines })?;
    }

    #[test]
    fn balance_spoiled_rigs_get_an_error_or_a_certified_answer(seed in any::<u64>(), which in 0..8_usize, v in any_number()) {
        let mut s = with_rings(seed);
        let mut d = Dice(seed);
        let (n, m) = (d.below(s.nodes.len()), d.below(s.slings.len()));
        match which {
            0 => s.nodes[n].at.x = v,
            1 => s.nodes[n].weight = Force::from_n(v),
            2 => s.slings[m].rest_length = Length::from_m(v),
            3 => s.slings[m].ea = Force::from_n(v),
            4 => s.nodes[n].fixed = !s.nodes[n].fixed,
            5 => s.lines[0].drive = Drive::Tension(Force::from_n(v)),
            6 => s.lines[0].drive = Drive::Length { rest_length: Length::from_m(v), ea: Force::from_kn(900.0) },
            _ => {
                let direction = d.point(Vec3::ZERO, 1.0);
                s.lines[0].drive = Drive::Pull { points: vec![0], direction, force: Force::from_n(v) };
            }
        }
        judge(&s)?;
    }
}

#[test]
fn balance_sixteen_free_points() {
    // A line that zigzags through sixteen blocks on straps, with friction at each.
    let mut s = Structure::default();
    let mut path = vec![0];
    s.nodes.push(Node::fixed("winch", Vec3::ZERO));
    for k in 0..16 {
        let side = if k % 2 == 0 { 1.0 } else { -1.0 };
        let x = 3.0 + 2.0 * f64::from(k);
        let (block, tree) = (s.nodes.len(), s.nodes.len() + 1);
        s.nodes.push(Node::free(format!("block{k}"), Vec3::new(x, side * 2.0, 0.5)).with_weight(Force::from_n(50.0)));
        s.nodes.push(Node::fixed(format!("tree{k}"), Vec3::new(x, side * 5.0, 1.0)));
        s.slings.push(Sling::new(format!("strap{k}"), tree, block, Length::from_m(2.5), Force::from_kn(900.0)));
        path.push(block);
    }
    path.push(s.nodes.len());
    s.nodes.push(Node::fixed("end", Vec3::new(38.0, 0.0, 0.0)));
    let mut line = Line::hauled("line", path, Force::from_kn(20.0));
    line.turns = vec![Turn::Sheave { ratio: 0.96 }; 16];
    s.lines.push(line);
    let eq = solve(&s, &mut Silent).unwrap();
    assert!(eq.residual < eq.allowed && sum(&s, &eq).norm() < 1e-6);
    for turn in &mut s.lines[0].turns {
        *turn = Turn::Ring { friction: 0.1 };
    }
    let eq = solve(&s, &mut Silent).unwrap();
    assert!(eq.residual < eq.allowed && sum(&s, &eq).norm() < 1e-6);
}

#[test]
fn balance_errors_leave_no_numbers_behind() {
    let mut solver = Solver::default();
    let mut eq = solver.solve(&case_named("R12").structure).unwrap();
    let mut broken = case_named("R12").structure;
    broken.nodes[0].at.x = f64::NAN;
    assert!(matches!(solver.solve_into(&broken, &mut eq), Err(RigError::BadValue { .. })));
    assert_eq!(eq, Equilibrium::default());
}
