//! Every named error, with the name of the point or member that it is about and the words that the reader sees.
#![allow(clippy::unwrap_used)]

use unmire_mechanics::rig::{RigError, solve};
use unmire_model::rig::{Drive, Line, Motion, Node, Sling, Structure, Turn};
use unmire_model::{Force, Length, Silent, Vec3};

fn at(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3::new(x, y, z)
}
fn kn(v: f64) -> Force {
    Force::from_kn(v)
}
fn sling(name: &str, a: usize, b: usize, long: f64) -> Sling {
    Sling::new(name, a, b, Length::from_m(long), kn(1200.0))
}

/// Winch, hook, tree, block on a strap: a double line. Balances as it stands.
fn double_line() -> Structure {
    Structure {
        nodes: vec![
            Node::fixed("winch", at(0.0, 0.3, 0.0)),
            Node::fixed("hook", at(0.0, -0.3, 0.0)),
            Node::fixed("tree", at(15.0, 0.0, 0.0)),
            Node::free("block", at(13.0, 0.1, 0.0)),
        ],
        slings: vec![sling("strap", 2, 3, 2.0)],
        lines: vec![Line::hauled("line", vec![0, 3, 1], kn(20.0))],
    }
}

fn error(change: impl FnOnce(&mut Structure)) -> RigError {
    let mut s = double_line();
    change(&mut s);
    solve(&s, &mut Silent).unwrap_err()
}

fn message(change: impl FnOnce(&mut Structure)) -> String {
    error(change).to_string()
}

#[test]
fn closed_form_the_rig_that_the_others_spoil_balances() {
    let eq = solve(&double_line(), &mut Silent).unwrap();
    assert!((eq.slings[0].tension.as_kn() - 40.0).abs() < 0.02);
}

#[test]
fn regress_empty_and_too_large() {
    assert_eq!(solve(&Structure::default(), &mut Silent), Err(RigError::Empty));
    let e = error(|s| s.nodes.extend((0..64).map(|k| Node::free(format!("f{k}"), at(1.0, 1.0, 1.0)))));
    assert_eq!(e, RigError::TooLarge { what: "free points", count: 65, most: 64 });
    let e = error(|s| s.nodes.extend((0..1_000_000).map(|k| Node::fixed(format!("f{k}"), at(1.0, 1.0, 1.0)))));
    assert_eq!(e, RigError::TooLarge { what: "points", count: 1_000_004, most: 4096 });
    let e = error(|s| s.lines[0].path = [0, 3].repeat(3000));
    assert_eq!(e, RigError::TooLarge { what: "legs", count: 6000, most: 4096 });
}

#[test]
fn regress_values_that_no_rig_has() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        for change in [
            (|s: &mut Structure, v: f64| s.nodes[0].at.x = v) as fn(&mut Structure, f64),
            |s, v| s.nodes[3].at.z = v,
            |s, v| s.nodes[3].weight = Force::from_n(v),
            |s, v| s.slings[0].rest_length = Length::from_m(v),
            |s, v| s.slings[0].ea = Force::from_n(v),
            |s, v| s.lines[0].turns[0] = Turn::Sheave { ratio: v },
            |s, v| s.lines[0].turns[0] = Turn::Ring { friction: v },
            |s, v| s.lines[0].drive = Drive::Tension(Force::from_n(v)),
            |s, v| {
                s.lines[0].drive = Drive::Pull { points: vec![2], direction: at(v, 0.0, 0.0), force: kn(1.0) };
            },
            |s, v| {
                s.lines[0].drive =
                    Drive::Pull { points: vec![2], direction: at(1.0, 0.0, 0.0), force: Force::from_n(v) };
            },
            |s, v| s.lines[0].drive = Drive::Length { rest_length: Length::from_m(v), ea: kn(900.0) },
            |s, v| {
                s.lines[0].drive = Drive::Length { rest_length: Length::from_m(25.0), ea: Force::from_n(v) };
            },
        ] {
            assert!(matches!(error(|s| change(s, bad)), RigError::BadValue { .. }), "{bad}");
        }
    }
    assert_eq!(
        message(|s| s.nodes[3].weight = Force::from_n(-60.0)),
        "weight of point 'block' is -60; expected 0 to 1e9 N, for example 60 N"
    );
    assert_eq!(
        message(|s| s.slings[0].rest_length = Length::ZERO),
        "slack length of sling 'strap' is 0; expected 0.0001 to 1,000,000 m, for example 2.5 m"
    );
    assert_eq!(
        message(|s| s.slings[0].ea = kn(-3.0)),
        "stiffness EA of sling 'strap' is -3000; expected 0.001 to 1e13 N, for example 900 kN"
    );
    assert_eq!(
        message(|s| s.lines[0].drive = Drive::Tension(kn(-1.0))),
        "tension of line 'line' is -1000; expected 0 to 1e9 N, for example 20 kN"
    );
    assert_eq!(
        message(|s| s.lines[0].turns[0] = Turn::Sheave { ratio: 1.05 }),
        "ratio of turn 0 of line 'line' is 1.05; expected 0.01 to 1, as it is when the line is hauled, for example 0.95"
    );
    assert_eq!(
        message(|s| {
            s.lines[0].drive = Drive::Pull { points: vec![2], direction: Vec3::ZERO, force: kn(1.0) };
        }),
        "length of the pull's direction of line 'line' is 0; expected a direction, for example (1, 0, 0)"
    );
}

#[test]
fn regress_points_that_are_not_there() {
    assert_eq!(
        message(|s| s.slings[0].b = 9),
        "sling 'strap' names point number 9, but there are 4 points, counted from 0"
    );
    assert_eq!(
        message(|s| s.lines[0].path[1] = usize::MAX),
        format!("line 'line' names point number {}, but there are 4 points, counted from 0", usize::MAX)
    );
    assert_eq!(
        message(|s| {
            s.lines[0].drive = Drive::Pull { points: vec![7], direction: at(1.0, 0.0, 0.0), force: kn(1.0) };
        }),
        "the pull of line 'line' names point number 7, but there are 4 points, counted from 0"
    );
}

#[test]
fn regress_members_that_do_not_hang_together() {
    assert_eq!(
        message(|s| s.lines[0].path = vec![0]),
        "line 'line': it goes through 1 points; expected at least two, for example [0, 1]"
    );
    assert_eq!(
        message(|s| s.lines[0].turns.clear()),
        "line 'line': it has 0 turns; expected 1, one for each of its 3 points but the ends"
    );
    assert_eq!(
        message(|s| s.lines[0].path[1] = 0),
        "line 'line': it goes from point 'winch' to the same point; expected another one"
    );
    assert_eq!(message(|s| s.slings[0].a = 3), "sling 'strap': both ends are on the same point; expected two");
    let pull = |points| Drive::Pull { points, direction: at(1.0, 0.0, 0.0), force: kn(1.0) };
    assert_eq!(
        message(|s| s.lines[0].drive = pull(vec![])),
        "line 'line': its pull names no points; expected at least one"
    );
    assert_eq!(
        message(|s| s.lines[0].drive = pull(vec![0, 0])),
        "line 'line': its pull names point 'winch' twice; expected each point once"
    );
    assert_eq!(
        message(|s| {
            s.lines[0].path = vec![0, 3, 1, 3, 0, 3, 1];
            s.lines[0].turns = vec![Turn::Ring { friction: 5.0 }; 5];
        }),
        "line 'line': its turns may change the tension by a factor of e^79; expected at most e^20"
    );
}

#[test]
fn regress_coincident_points() {
    assert_eq!(
        message(|s| {
            s.nodes.push(Node::fixed("drum", s.nodes[0].at));
            s.lines[0].path.insert(0, 4);
            s.lines[0].turns.push(Turn::SMOOTH);
        }),
        "line 'line': 'drum' and 'winch' are on the same spot, so the leg between them has no direction"
    );
}

#[test]
fn regress_unsupported_points() {
    let unsupported = |point: &str| RigError::Unsupported { point: point.into() };
    // Nothing is attached.
    assert_eq!(error(|s| s.nodes.push(Node::free("lost", at(1.0, 2.0, 0.0)))), unsupported("lost"));
    // Only the loose end of a line.
    assert_eq!(
        error(|s| {
            s.nodes.push(Node::free("end", at(1.0, 2.0, 0.0)));
            s.lines[0].path[2] = 4;
        }),
        unsupported("end")
    );
    // A line of given tension that is too weak for the weight that hangs on it.
    assert_eq!(
        error(|s| {
            s.slings.clear();
            s.nodes[3].weight = kn(41.0);
        }),
        unsupported("block")
    );
}

#[test]
fn regress_a_block_with_tensions_and_no_place() {
    // A straight leg without friction, and a strap that is slack: the block can be anywhere along the leg.
    let mut s = double_line();
    s.nodes[1].at = at(26.0, -0.3, 0.0);
    s.slings[0].rest_length = Length::from_m(6.0);
    let e = solve(&s, &mut Silent).unwrap_err();
    assert_eq!(e, RigError::Mechanism { point: "block".into() });
    assert_eq!(
        e.to_string(),
        "free point 'block' is held by nothing: it can drift without resistance (are its slings slack?)"
    );
    // A strap with a loose end: no force, no place.
    let mut s = double_line();
    s.nodes.push(Node::free("loose end", at(16.0, 1.0, 0.0)));
    s.slings.push(sling("tail", 2, 4, 3.0));
    assert_eq!(solve(&s, &mut Silent), Err(RigError::Mechanism { point: "loose end".into() }));
}

#[test]
fn regress_a_leg_that_closes_up() {
    // No strap that holds it: the line pulls the block into the winch's own fairlead.
    let mut s = double_line();
    s.slings[0].rest_length = Length::from_m(40.0);
    s.lines[0].turns = vec![Turn::Sheave { ratio: 0.8 }];
    let e = solve(&s, &mut Silent).unwrap_err();
    assert_eq!(e, RigError::ClosedUp { line: "line".into(), from: "winch".into(), to: "block".into() });
    // Two blocks that a line pulls into each other.
    let mut s = double_line();
    s.nodes.push(Node::free("second block", at(12.0, 1.0, 0.0)));
    s.lines[0].path = vec![0, 3, 4, 3, 1];
    s.lines[0].turns = vec![Turn::SMOOTH; 3];
    let e = solve(&s, &mut Silent).unwrap_err();
    assert!(
        matches!(&e, RigError::ClosedUp { from, to, .. } if from != to && [from, to].iter().all(|n| n.contains("block"))),
        "{e}"
    );
}

#[test]
fn regress_a_line_that_is_too_long_or_far_too_short() {
    let length = |long: f64| Drive::Length { rest_length: Length::from_m(long), ea: kn(900.0) };
    // The way is 26 m.
    assert_eq!(error(|s| s.lines[0].drive = length(40.0)), RigError::SlackLine { line: "line".into() });
    let e = error(|s| {
        s.lines[0].drive = length(1.0);
        s.slings[0].ea = Force::from_n(1e12);
    });
    assert!(matches!(&e, RigError::Unreachable { line, strain } if line == "line" && *strain > 1.0), "{e}");
}

#[test]
fn regress_pulls_that_cannot_be() {
    let pull = |points, direction| Drive::Pull { points, direction, force: kn(30.0) };
    assert_eq!(
        message(|s| s.lines[0].drive = pull(vec![3], at(1.0, 0.0, 0.0))),
        "line 'line': a pull is asked for on free point 'block'; name the fixed points that are to be pulled"
    );
    // The right way round it works.
    let mut s = double_line();
    s.lines[0].drive = pull(vec![0, 1], at(1.0, 0.0, 0.0));
    assert!((solve(&s, &mut Silent).unwrap().tensions[0].as_kn() - 15.0).abs() < 0.1);
    // The wrong way round, or across, it doesn't.
    for direction in [at(-1.0, 0.0, 0.0), at(0.0, 0.0, 1.0)] {
        let e = error(|s| s.lines[0].drive = pull(vec![0, 1], direction));
        assert!(matches!(&e, RigError::NoPull { line, .. } if line == "line"), "{e}");
    }
}

#[test]
fn regress_a_pull_that_others_give_already() {
    // A second line pulls the hook with 25 kN already; 20 kN are asked for.
    let mut s = double_line();
    s.nodes.push(Node::fixed("other winch", at(30.0, -0.3, 0.0)));
    s.lines.push(Line::hauled("helper", vec![4, 1], kn(25.0)));
    s.lines[0].drive = Drive::Pull { points: vec![1], direction: at(1.0, 0.0, 0.0), force: kn(20.0) };
    assert_eq!(solve(&s, &mut Silent), Err(RigError::SlackLine { line: "line".into() }));
}

#[test]
fn regress_what_cannot_be_certified_is_an_error() {
    // Straps strained against each other with no line and no weight: what remains is measured against 1 N, and the
    // arithmetic can't balance 10 MN to 1e-9 N.
    let mut s = double_line();
    s.lines.clear();
    s.nodes[0].at = at(0.0, 0.31, 0.17);
    s.slings = vec![
        Sling::new("a", 2, 3, Length::from_m(6.0), Force::from_n(3e7)),
        Sling::new("b", 0, 3, Length::from_m(5.0), Force::from_n(7e7)),
        Sling::new("c", 1, 3, Length::from_m(7.0), Force::from_n(7e7)),
    ];
    let e = solve(&s, &mut Silent).unwrap_err();
    assert!(
        matches!(&e, RigError::NotBalanced { at, residual, allowed } if at == "block" && residual > allowed),
        "{e}"
    );
}

#[test]
fn regress_a_slack_sling_is_a_result_that_is_told() {
    let mut s = double_line();
    s.nodes.push(Node::fixed("second tree", at(15.0, 6.0, 0.0)));
    s.slings.push(sling("spare", 4, 3, 9.0));
    let eq = solve(&s, &mut Silent).unwrap();
    assert_eq!(eq.slack_slings().collect::<Vec<_>>(), [1]);
    assert_eq!(eq.slings[1].tension, Force::ZERO);
    assert!(!eq.slings[0].is_slack());
}

#[test]
fn regress_lowering_without_end_is_refused_and_friction_off_is_not() {
    let mut s = double_line();
    s.lines[0].turns = vec![Turn::Sheave { ratio: 0.001 }];
    assert!(matches!(solve(&s, &mut Silent), Err(RigError::BadValue { .. })));
    s.lines[0].turns = vec![Turn::Sheave { ratio: 0.5 }];
    s.lines[0].motion = Motion::Frictionless;
    let eq = solve(&s, &mut Silent).unwrap();
    assert_eq!(eq.legs[0].tension, eq.legs[1].tension);
}
