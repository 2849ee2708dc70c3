//! What every part carries when the points are here and the lines are pulled with this: straight from the laws of the
//! members, by another way than the search goes. The certificate is made of it.

use super::equilibrium::{Equilibrium, Leg, SlingLoad, TurnLoad};
use super::law::{passed_on, sling_tension, wrap_angle};
use unmire_model::rig::{Drive, Line, Structure};
use unmire_model::{Angle, Force, Length, Vec3};

/// Fills legs, slings, turns and forces from the positions and the lines' tensions that are in `eq`.
pub(super) fn measure(s: &Structure, eq: &mut Equilibrium) {
    eq.legs.clear();
    eq.slings.clear();
    eq.turns.clear();
    eq.forces.clear();
    eq.forces.resize(s.nodes.len(), Vec3::ZERO);
    for sling in &s.slings {
        let d = eq.positions[sling.b] - eq.positions[sling.a];
        let length = Length::from_m(d.norm());
        let tension = sling_tension(sling.ea, sling.rest_length, length);
        if tension > Force::ZERO {
            let pull = d * (tension.as_n() / length.as_m());
            eq.forces[sling.a] += pull;
            eq.forces[sling.b] -= pull;
        }
        eq.slings.push(SlingLoad { length, tension });
    }
    for (index, line) in s.lines.iter().enumerate() {
        measure_line(index, line, eq);
    }
}

fn measure_line(index: usize, line: &Line, eq: &mut Equilibrium) {
    let mut tension = eq.tensions[index];
    let mut before = Vec3::ZERO;
    for (k, ends) in line.path.windows(2).enumerate() {
        let (from, to) = (ends[0], ends[1]);
        let d = eq.positions[to] - eq.positions[from];
        let length = d.norm();
        let mut turn = None;
        if let Some(passes) = k.checked_sub(1).and_then(|t| line.turns.get(t)) {
            let last = eq.positions[line.path[k - 1]];
            let wrap = wrap_angle(last, eq.positions[from], eq.positions[to]).unwrap_or(Angle::ZERO);
            let ratio = passed_on(*passes, line.motion, wrap);
            tension = tension * ratio;
            turn = Some((wrap, ratio));
        }
        let pull = d * (tension.as_n() / length);
        eq.forces[from] += pull;
        eq.forces[to] -= pull;
        if let Some((wrap, ratio)) = turn {
            eq.turns.push(TurnLoad { line: index, point: from, wrap, ratio, resultant: pull - before });
        }
        before = pull;
        eq.legs.push(Leg { line: index, from, to, length: Length::from_m(length), tension });
    }
}

/// What a residual is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum At {
    Point(usize),
    Line(usize),
}

/// The greatest out-of-balance force over the free points and the drives, and where; not a number counts as the greatest.
pub(super) fn residual(s: &Structure, eq: &Equilibrium) -> (Force, At) {
    let (mut most, mut at) = (0.0, At::Point(0));
    let mut offer = |left: f64, here: At| {
        if !(left <= most) && !f64::is_nan(most) {
            (most, at) = (left, here);
        }
    };
    for (i, node) in s.nodes.iter().enumerate() {
        if !node.fixed {
            offer((eq.forces[i] - Vec3::UP * node.weight.as_n()).norm(), At::Point(i));
        } else if !eq.forces[i].is_finite() {
            offer(f64::NAN, At::Point(i));
        }
    }
    for (index, line) in s.lines.iter().enumerate() {
        match &line.drive {
            Drive::Tension(t) => offer((eq.tensions[index] - *t).abs().as_n(), At::Line(index)),
            Drive::Pull { points, direction, force } => {
                let mut total = Vec3::ZERO;
                for &p in points {
                    total += eq.forces[p];
                }
                offer((total.dot(*direction) / direction.norm() - force.as_n()).abs(), At::Line(index));
            }
            Drive::Length { rest_length, ea } => {
                let mut slack = 0.0;
                for leg in eq.legs_of(index) {
                    slack += leg.length.as_m() / (1.0 + leg.tension / *ea);
                }
                offer(((slack - rest_length.as_m()) * (ea.as_n() / rest_length.as_m())).abs(), At::Line(index));
            }
        }
    }
    (Force::from_n(most), at)
}

/// What the residual is held against: 1e-9 of the greatest of line pull, weight and 1 N.
pub(super) fn allowed(s: &Structure, eq: &Equilibrium) -> Force {
    let mut scale = Force::from_n(1.0);
    for t in &eq.tensions {
        scale = scale.max(*t);
    }
    for node in s.nodes.iter().filter(|n| !n.fixed) {
        scale = scale.max(node.weight);
    }
    scale * super::descent::CERTIFIED
}
