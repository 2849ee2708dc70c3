//! What a structure must be before anything is computed: every number ordinary and within bounds that no rig leaves,
//! every index there, every path a path. Names the first thing that is wrong.

use super::error::RigError;
use unmire_model::Vec3;
use unmire_model::rig::{Drive, Line, Node, Structure, Turn};

/// Most free points that the solver takes; its matrices are dense.
pub(super) const MOST_FREE: usize = 64;
/// Most points.
const MOST_POINTS: usize = 4096;
/// Most slings, and most legs of all lines together.
const MOST_MEMBERS: usize = 4096;

/// No rig is wider than this, metres.
const FAR: f64 = 1.0e6;
/// No rig carries more than this, newtons.
const STRONG: f64 = 1.0e9;
/// No member is stiffer than this, newtons per unit strain.
const STIFF: f64 = 1.0e13;
/// No friction multiplies a tension by more than e to this power along one line.
const MOST_FRICTION_POWER: f64 = 20.0;

/// Checks all of it.
///
/// # Errors
/// The first thing that is wrong, by name.
pub(super) fn check(s: &Structure) -> Result<(), RigError> {
    if s.nodes.is_empty() {
        return Err(RigError::Empty);
    }
    at_most("points", s.nodes.len(), MOST_POINTS)?;
    at_most("free points", s.nodes.iter().filter(|n| !n.fixed).count(), MOST_FREE)?;
    at_most("slings", s.slings.len(), MOST_MEMBERS)?;
    let mut legs = 0_usize;
    for line in &s.lines {
        legs = legs.saturating_add(line.path.len());
    }
    at_most("legs", legs, MOST_MEMBERS)?;
    for node in &s.nodes {
        check_node(node)?;
    }
    for sling in &s.slings {
        let member = || format!("sling '{}'", sling.name);
        for index in [sling.a, sling.b] {
            if index >= s.nodes.len() {
                return Err(RigError::NoSuchPoint { member: member(), index, points: s.nodes.len() });
            }
        }
        if sling.a == sling.b {
            return Err(RigError::BadMember {
                member: member(),
                why: "both ends are on the same point; expected two".into(),
            });
        }
        let rest = sling.rest_length.as_m();
        value(rest, 1e-4, FAR, || format!("slack length of {}", member()), "0.0001 to 1,000,000 m, for example 2.5 m")?;
        let ea = sling.ea.as_n();
        value(ea, 1e-3, STIFF, || format!("stiffness EA of {}", member()), "0.001 to 1e13 N, for example 900 kN")?;
    }
    for line in &s.lines {
        check_line(s, line)?;
    }
    supported(s)
}

fn at_most(what: &'static str, count: usize, most: usize) -> Result<(), RigError> {
    if count > most { Err(RigError::TooLarge { what, count, most }) } else { Ok(()) }
}

fn value(got: f64, low: f64, high: f64, what: impl FnOnce() -> String, expected: &'static str) -> Result<(), RigError> {
    if got.is_finite() && got >= low && got <= high {
        Ok(())
    } else {
        Err(RigError::BadValue { what: what(), got, expected })
    }
}

fn vector(v: Vec3, far: f64, what: impl Fn() -> String, expected: &'static str) -> Result<(), RigError> {
    for (axis, got) in [("x", v.x), ("y", v.y), ("z", v.z)] {
        value(got, -far, far, || format!("{axis} of {}", what()), expected)?;
    }
    Ok(())
}

fn check_node(node: &Node) -> Result<(), RigError> {
    vector(node.at, FAR, || format!("point '{}'", node.name), "a coordinate within 1,000,000 m, for example 12.5 m")?;
    let weight = node.weight.as_n();
    value(weight, 0.0, STRONG, || format!("weight of point '{}'", node.name), "0 to 1e9 N, for example 60 N")
}

fn check_line(s: &Structure, line: &Line) -> Result<(), RigError> {
    let bad = |why: String| Err(RigError::BadMember { member: format!("line '{}'", line.name), why });
    if line.path.len() < 2 {
        return bad(format!("it goes through {} points; expected at least two, for example [0, 1]", line.path.len()));
    }
    if line.turns.len() != line.path.len() - 2 {
        return bad(format!(
            "it has {} turns; expected {}, one for each of its {} points but the ends",
            line.turns.len(),
            line.path.len() - 2,
            line.path.len()
        ));
    }
    for &index in &line.path {
        if index >= s.nodes.len() {
            let member = format!("line '{}'", line.name);
            return Err(RigError::NoSuchPoint { member, index, points: s.nodes.len() });
        }
    }
    for ends in line.path.windows(2) {
        let (from, to) = (&s.nodes[ends[0]], &s.nodes[ends[1]]);
        if ends[0] == ends[1] {
            return bad(format!("it goes from point '{}' to the same point; expected another one", from.name));
        }
        if from.fixed && to.fixed && (to.at - from.at).norm() < 1e-9 {
            return Err(RigError::Coincident { line: line.name.clone(), from: from.name.clone(), to: to.name.clone() });
        }
    }
    check_turns(line)?;
    check_drive(s, line)
}

fn check_turns(line: &Line) -> Result<(), RigError> {
    let mut power = 0.0;
    for (k, turn) in line.turns.iter().enumerate() {
        match *turn {
            Turn::Sheave { ratio } => {
                let what = || format!("ratio of turn {k} of line '{}'", line.name);
                value(ratio, 0.01, 1.0, what, "0.01 to 1, as it is when the line is hauled, for example 0.95")?;
                power -= libm::log(ratio);
            }
            Turn::Ring { friction } => {
                let what = || format!("friction of turn {k} of line '{}'", line.name);
                value(friction, 0.0, 5.0, what, "0 to 5, for example 0.2")?;
                power += friction * core::f64::consts::PI;
            }
        }
    }
    if power > MOST_FRICTION_POWER {
        return Err(RigError::BadMember {
            member: format!("line '{}'", line.name),
            why: format!(
                "its turns may change the tension by a factor of e^{power:.0}; expected at most e^{MOST_FRICTION_POWER:.0}"
            ),
        });
    }
    Ok(())
}

fn check_drive(s: &Structure, line: &Line) -> Result<(), RigError> {
    let of = |what: &str| format!("{what} of line '{}'", line.name);
    match &line.drive {
        Drive::Tension(t) => value(t.as_n(), 0.0, STRONG, || of("tension"), "0 to 1e9 N, for example 20 kN"),
        Drive::Length { rest_length, ea } => {
            let expected = "0.0001 to 1,000,000 m, for example 44.4 m";
            value(rest_length.as_m(), 1e-4, FAR, || of("slack length"), expected)?;
            value(ea.as_n(), 1e-3, STIFF, || of("stiffness EA"), "0.001 to 1e13 N, for example 900 kN")
        }
        Drive::Pull { points, direction, force } => {
            vector(*direction, FAR, || of("direction of the pull"), "a number, for example 1")?;
            let long = direction.norm();
            value(
                long,
                1e-9,
                2.0 * FAR,
                || of("length of the pull's direction"),
                "a direction, for example (1, 0, 0)",
            )?;
            value(force.as_n(), 1e-6, STRONG, || of("pull"), "more than 0 and at most 1e9 N, for example 45 kN")?;
            if points.is_empty() {
                return Err(RigError::BadMember {
                    member: format!("line '{}'", line.name),
                    why: "its pull names no points; expected at least one".into(),
                });
            }
            for (k, &index) in points.iter().enumerate() {
                let Some(node) = s.nodes.get(index) else {
                    let member = format!("the pull of line '{}'", line.name);
                    return Err(RigError::NoSuchPoint { member, index, points: s.nodes.len() });
                };
                if !node.fixed {
                    return Err(RigError::PullOnFreePoint { line: line.name.clone(), point: node.name.clone() });
                }
                if points[..k].contains(&index) {
                    return Err(RigError::BadMember {
                        member: format!("line '{}'", line.name),
                        why: format!("its pull names point '{}' twice; expected each point once", node.name),
                    });
                }
            }
            Ok(())
        }
    }
}

/// A free point with no member, or with nothing but the loose end of a line, can be in no balance.
fn supported(s: &Structure) -> Result<(), RigError> {
    for (i, node) in s.nodes.iter().enumerate() {
        if node.fixed {
            continue;
        }
        let slings = s.slings.iter().filter(|sling| sling.a == i || sling.b == i).count();
        let mut ends = 0_usize;
        for line in &s.lines {
            for (k, &p) in line.path.iter().enumerate() {
                if p == i {
                    ends += if k == 0 || k + 1 == line.path.len() { 1 } else { 2 };
                }
            }
        }
        if slings == 0 && ends <= 1 && (ends == 0 || node.weight.as_n() == 0.0) {
            return Err(RigError::Unsupported { point: node.name.clone() });
        }
    }
    Ok(())
}
