//! Rigs whose answer can be written down: redirects, bridles, rings, tackles, hanging blocks, equalising lines.
#![allow(clippy::unwrap_used)]

use core::f64::consts::PI;
use unmire_mechanics::rig::Equilibrium;
use unmire_model::rig::{Drive, Line, Motion, Node, Sling, Structure, Turn};
use unmire_model::{Force, Length, Silent, Vec3};

fn at(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3::new(x, y, z)
}
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got}, but {want} is right");
}
/// A sling so stiff that it all but keeps its length.
fn stiff(name: &str, a: usize, b: usize, long: f64) -> Sling {
    Sling::new(name, a, b, Length::from_m(long), Force::from_n(1e9))
}
fn solve(s: &Structure) -> Equilibrium {
    unmire_mechanics::rig::solve(s, &mut Silent).unwrap()
}

#[test]
fn closed_form_redirect_two_t_sin_half_deflection() {
    for degrees in [5.0_f64, 30.0, 60.0, 90.0, 120.0, 150.0, 175.0] {
        let d = degrees.to_radians();
        let mut s = Structure {
            nodes: vec![
                Node::fixed("winch", at(-10.0, 0.0, 0.0)),
                Node::fixed("block", Vec3::ZERO),
                Node::fixed("load", at(12.0 * libm::cos(d), 12.0 * libm::sin(d), 0.0)),
            ],
            slings: vec![],
            lines: vec![Line::hauled("line", vec![0, 1, 2], Force::from_kn(20.0))],
        };
        let eq = solve(&s);
        near(eq.turns[0].resultant.norm(), 40e3 * libm::sin(d / 2.0), 1e-8);
        near(eq.turns[0].wrap.as_rad(), d, 1e-12);
        near(eq.forces[1].norm(), 40e3 * libm::sin(d / 2.0), 1e-8);
        // With a tension ratio, by the cosine rule.
        s.lines[0].turns = vec![Turn::Sheave { ratio: 0.92 }];
        let (a, b) = (20e3, 18.4e3);
        near(solve(&s).forces[1].norm(), (a * a + b * b - 2.0 * a * b * libm::cos(d)).sqrt(), 1e-8);
        // With a plain ring the ratio follows the deflection itself.
        s.lines[0].turns = vec![Turn::Ring { friction: 0.2 }];
        near(solve(&s).legs[1].tension.as_n(), 20e3 * libm::exp(-0.2 * d), 1e-8);
        s.lines[0].motion = Motion::Lowering;
        near(solve(&s).legs[1].tension.as_n(), 20e3 * libm::exp(0.2 * d), 1e-8);
    }
}

/// A bridle: the pull along x, legs that end up at these angles off its line, on the far side.
fn bridle(pull: f64, first: f64, second: f64) -> Equilibrium {
    let (a, b) = (first.to_radians(), second.to_radians());
    let reach = 4.0;
    let s = Structure {
        nodes: vec![
            Node::fixed("winch", at(20.0, 0.0, 0.0)),
            Node::fixed("left", at(-reach * libm::cos(a), reach * libm::sin(a), 0.0)),
            Node::fixed("right", at(-reach * libm::cos(b), -reach * libm::sin(b), 0.0)),
            Node::free("ring", at(0.3, 0.2, 0.1)),
        ],
        slings: vec![stiff("left leg", 1, 3, reach), stiff("right leg", 2, 3, reach)],
        lines: vec![Line::hauled("line", vec![0, 3], Force::from_kn(pull))],
    };
    solve(&s)
}

#[test]
fn closed_form_bridle_legs() {
    for half in [10.0_f64, 30.0, 45.0, 60.0] {
        let eq = bridle(40.0, half, half);
        for leg in &eq.slings {
            // The legs give by a few hundredths of a millimetre in 4 m; so does the angle.
            near(leg.tension.as_kn(), 20.0 / libm::cos(half.to_radians()), 5e-3);
        }
    }
}

#[test]
fn closed_form_bridle_sine_rule() {
    // T1 = P sin a2 / sin (a1 + a2), by hand: 28.28 / 28.28, 40.00 / 40.00, 34.64 / 20.00 kN.
    for (a, b, first, second) in [(45.0, 45.0, 28.28, 28.28), (60.0, 60.0, 40.0, 40.0), (30.0, 60.0, 34.64, 20.0)] {
        let eq = bridle(40.0, a, b);
        near(eq.slings[0].tension.as_kn(), first, 0.01);
        near(eq.slings[1].tension.as_kn(), second, 0.01);
    }
}

#[test]
fn closed_form_ring_on_a_strap_sees_1_53_times_the_line() {
    // A ring far out on a strap, the two parts of the line all but parallel: T (1 + exp(-0.2 pi)).
    let mut line = Line::hauled("line", vec![0, 3, 1], Force::from_kn(10.0));
    line.turns = vec![Turn::Ring { friction: 0.2 }];
    let mut s = Structure {
        nodes: vec![
            Node::fixed("winch", at(0.0, 0.001, 0.0)),
            Node::fixed("dead end", at(0.0, -0.001, 0.0)),
            Node::fixed("tree", at(100.0, 0.0, 0.0)),
            Node::free("ring", at(90.0, 0.0, 0.0)),
        ],
        slings: vec![stiff("strap", 2, 3, 5.0)],
        lines: vec![line],
    };
    let eq = solve(&s);
    near(eq.slings[0].tension.as_kn() / 10.0, 1.0 + libm::exp(-0.2 * PI), 1e-4);
    near(eq.slings[0].tension.as_kn() / 10.0, 1.53, 0.005);
    near(eq.legs[1].tension.as_kn() / 10.0, 0.53, 0.005);
    s.lines[0].motion = Motion::Frictionless;
    let eq = solve(&s);
    near(eq.slings[0].tension.as_kn() / 10.0, 2.0, 1e-6);
    near(eq.legs[1].tension.as_kn() / 10.0, 1.0, 1e-12);
    s.lines[0].motion = Motion::Lowering;
    near(solve(&s).legs[1].tension.as_kn() / 10.0, 1.87, 0.005);
}

#[test]
fn closed_form_tackle_with_friction() {
    // N parts between a fixed and a travelling block, the winch's part leaving the travelling block:
    // advantage = sum of K^-k, k = 0..N-1. With K = 1.09: 2.76 for three parts; with K = 1.04: 3.78 for four.
    for (parts, k, want) in [(2, 1.09, 1.92), (3, 1.09, 2.76), (4, 1.09, 3.53), (3, 1.04, 2.89), (4, 1.04, 3.78)] {
        let (winch, fixed, load, traveller) = (0, 1, 2, 3);
        let mut path = vec![winch];
        for j in 0..parts {
            path.push(if j % 2 == 0 { traveller } else { fixed });
        }
        let mut line = Line::hauled("line", path, Force::from_kn(10.0));
        line.turns = vec![Turn::Sheave { ratio: 1.0 / k }; parts - 1];
        let s = Structure {
            nodes: vec![
                Node::fixed("winch", at(0.0, 0.0, 0.01)),
                Node::fixed("fixed block", at(0.0, 0.0, -0.01)),
                Node::fixed("load", at(200.0, 0.0, 0.0)),
                Node::free("traveller", at(150.0, 0.0, 0.0)),
            ],
            slings: vec![stiff("strap", load, traveller, 50.0)],
            lines: vec![line],
        };
        let sum: f64 = (0..parts).map(|j| libm::pow(k, -(j as f64))).sum();
        near(solve(&s).slings[0].tension.as_kn() / 10.0, sum, 1e-6);
        near(sum, want, 0.005);
    }
}

#[test]
fn closed_form_hanging_block() {
    // A weight on two straps at 30 degrees from level: each carries the weight, W / (2 sin 30).
    let s = Structure {
        nodes: vec![
            Node::fixed("left", at(-3.0 * libm::cos(PI / 6.0), 0.0, 1.5)),
            Node::fixed("right", at(3.0 * libm::cos(PI / 6.0), 0.0, 1.5)),
            Node::free("block", Vec3::ZERO).with_weight(Force::from_n(800.0)),
        ],
        slings: vec![stiff("left strap", 0, 2, 3.0), stiff("right strap", 1, 2, 3.0)],
        lines: vec![],
    };
    let eq = solve(&s);
    for strap in &eq.slings {
        near(strap.tension.as_n(), 800.0, 0.01);
    }
    near(eq.forces[0].z + eq.forces[1].z, -800.0, eq.allowed.as_n());
    // A block that rolls on a line of given tension: it hangs in the middle, sin of the sag angle = W / 2T.
    let s = Structure {
        nodes: vec![
            Node::fixed("left", at(-5.0, 0.0, 0.0)),
            Node::fixed("right", at(5.0, 0.0, 0.0)),
            Node::free("block", at(2.0, 0.5, 1.0)).with_weight(Force::from_n(1000.0)),
        ],
        slings: vec![],
        lines: vec![Line::hauled("line", vec![0, 2, 1], Force::from_n(1000.0))],
    };
    let eq = solve(&s);
    near(eq.positions[2].x, 0.0, 1e-9);
    near(eq.positions[2].z, -5.0 * libm::tan(PI / 6.0), 1e-9);
}

/// A ring that rides on a line of given length between two trees, pulled by another line.
fn equaliser(friction: f64, motion: Motion) -> Equilibrium {
    let mut line = Line::hauled("equaliser", vec![1, 3, 2], Force::ZERO);
    line.turns = vec![Turn::Ring { friction }];
    line.motion = motion;
    line.drive = Drive::Length { rest_length: Length::from_m(10.0), ea: Force::from_kn(900.0) };
    solve(&Structure {
        nodes: vec![
            Node::fixed("winch", at(30.0, 4.0, 1.0)),
            Node::fixed("left", at(0.0, 4.0, 0.0)),
            Node::fixed("right", at(0.0, -4.0, 0.0)),
            Node::free("ring", at(2.0, 0.5, 0.0)),
        ],
        slings: vec![],
        lines: vec![Line::hauled("line", vec![0, 3], Force::from_kn(20.0)), line],
    })
}

#[test]
fn closed_form_equalising_line() {
    // Without friction both legs carry the same and make the same angle with the pull: T = F / (2 cos).
    let eq = equaliser(0.0, Motion::Hauling);
    let legs: Vec<_> = eq.legs_of(1).collect();
    assert_eq!(legs[0].tension, legs[1].tension);
    let ring = eq.positions[3];
    let pull = (eq.positions[0] - ring).unit().unwrap();
    let cosines: Vec<f64> =
        [1, 2].iter().map(|&a: &usize| -(eq.positions[a] - ring).unit().unwrap().dot(pull)).collect();
    near(cosines[0], cosines[1], 1e-9);
    near(legs[0].tension.as_kn(), 10.0 / cosines[0], 1e-8);
    // Its length obeys its stiffness.
    let slack: f64 = legs.iter().map(|l| l.length.as_m() / (1.0 + l.tension.as_n() / 9e5)).sum();
    near(slack, 10.0, 1e-12);
    // With friction one leg carries more, by the capstan law at the wrap that it has in the end.
    let eq = equaliser(0.3, Motion::Hauling);
    let legs: Vec<_> = eq.legs_of(1).collect();
    near(legs[1].tension / legs[0].tension, libm::exp(-0.3 * eq.turns[0].wrap.as_rad()), 1e-12);
    let eq = equaliser(0.3, Motion::Lowering);
    assert!(eq.legs_of(1).last().unwrap().tension > eq.legs_of(1).next().unwrap().tension);
}

#[test]
fn closed_form_pull_of_all_members() {
    // The pull counts all members on the points: the line's own dead end and a sling there as well.
    let s = Structure {
        nodes: vec![
            Node::fixed("winch", at(-20.0, 0.01, 0.0)),
            Node::fixed("hook", at(0.0, 0.0, 0.0)),
            Node::fixed("tree", at(-30.0, 0.0, 0.0)),
            Node::free("traveller", at(-4.0, 0.0, 0.0)),
        ],
        slings: vec![stiff("bridle", 1, 3, 4.0), stiff("tieback", 2, 1, 29.997)],
        lines: vec![Line {
            name: "line".into(),
            path: vec![0, 3, 0],
            turns: vec![Turn::SMOOTH],
            motion: Motion::Hauling,
            drive: Drive::Pull { points: vec![1], direction: at(-2.0, 0.0, 0.0), force: Force::from_kn(130.0) },
        }],
    };
    let eq = solve(&s);
    let tieback = 1e9 * 0.003 / 29.997;
    near(eq.slings[1].tension.as_n(), tieback, 1e-3);
    near(eq.tensions[0].as_n(), (130e3 - tieback) / 2.0, 1.0);
    near(-eq.forces[1].x, 130e3, 1e-6);
}
