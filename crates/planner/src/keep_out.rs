//! The ground to keep clear: a whole disc round every loaded hard point and the inside of every redirect. Never a cone,
//! and a damper never shrinks it.

use crate::build::Built;
use crate::evaluate::Solved;
use crate::report::KeepOut;
use crate::rigging::{Pull, Rigging};
use unmire_mechanics::recoil::{keep_out_radius, published_distances};
use unmire_mechanics::rig::Equilibrium;
use unmire_mechanics::rope;
use unmire_model::{Force, Length, Recorder, Vec3};

/// Corners of a disc. The polygon is drawn round the circle, not inside it.
const CORNERS: usize = 48;
/// Stretch that is reckoned with where the line's label does not let one tell: our own judgement.
const STRETCH_UNKNOWN: f64 = 0.10;

/// The keep-out ground of a solved rig.
pub fn of(solved: &Solved, rigging: &Rigging<'_>, rec: &mut impl Recorder) -> KeepOut {
    let built = &solved.built;
    let eq = solved.loads.stall.as_ref().unwrap_or(&solved.loads.poor);
    let tensioned: Length = eq.legs.iter().map(|l| l.length).sum();
    let longest = tensioned * (1.0 + stretch(rigging, crate::evaluate::tension(eq), rec));
    let whole = match &rigging.pull {
        Pull::Winch { winch, .. } => winch.line.length.max(tensioned),
        _ => tensioned,
    };
    // The rules that count in strap lengths are about straps between vehicles: here, a tow.
    let strap = match &rigging.pull {
        Pull::Tow { line, .. } => Some(line.iter().filter_map(|p| crate::build::length_of(p)).sum::<Length>()),
        _ => None,
    };
    // Whichever is greater: so many times the longest tensioned line with its stretch, or the whole line.
    let radius = keep_out_radius(longest, whole, rec).unwrap_or(whole * 2.0);
    let mut rings = Vec::new();
    for (i, node) in built.structure.nodes.iter().enumerate() {
        let loaded = eq.forces.get(i).is_some_and(|f| f.norm() > 1.0) || !node.fixed;
        if let (true, Some(at)) = (loaded, eq.positions.get(i)) {
            rings.push(disc(*at, radius));
        }
    }
    rings.extend(insides(eq, built));
    KeepOut {
        rule: "a whole disc round every loaded hard point, its radius 1.5 times the longest tensioned line with its stretch or the whole line, whichever is longer; and the inside of every redirect".to_owned(),
        rings,
        radius,
        others: published_distances(longest, tensioned, strap)
            .into_iter()
            .map(|r| (r.what.to_owned(), r.distance, r.source.to_owned()))
            .collect(),
        exceptions: vec![
            "The winch's operator: at the end of a remote lead outside the ground to keep clear; or inside a cab behind a raised bonnet or a covered screen, out of the line of every leg, and only where the vehicle's maker allows it.".to_owned(),
            "A driver in the stuck vehicle: only where the plan needs one, belted in, nobody else aboard.".to_owned(),
        ],
    }
}

/// Share by which the line is longer at its greatest load.
fn stretch(rigging: &Rigging<'_>, tension: Force, rec: &mut impl Recorder) -> f64 {
    let Pull::Winch { winch, .. } = &rigging.pull else { return STRETCH_UNKNOWN };
    let Some(rating) = winch.line.label.rating() else { return STRETCH_UNKNOWN };
    match rope::stiffness(winch.line.material, None, rating.force, None, rec) {
        // The softest line stretches most.
        Ok(ea) if ea.low().as_n() > 0.0 && tension.is_finite() => (tension / ea.low()).max(0.0),
        _ => STRETCH_UNKNOWN,
    }
}

pub(crate) fn disc(at: Vec3, radius: Length) -> Vec<(f64, f64)> {
    let step = 2.0 * core::f64::consts::PI / CORNERS as f64;
    let r = radius.as_m() / libm::cos(step / 2.0);
    (0..CORNERS).map(|k| (at.x + r * libm::cos(step * k as f64), at.y + r * libm::sin(step * k as f64))).collect()
}

/// The triangle at every turn: before, at and after the block.
fn insides(eq: &Equilibrium, built: &Built) -> Vec<Vec<(f64, f64)>> {
    let Some(line) = built.structure.lines.first() else { return Vec::new() };
    let at = |i: usize| eq.positions.get(i).map(|p| (p.x, p.y));
    line.path
        .windows(3)
        .filter_map(|w| match w {
            [a, b, c] => Some(vec![at(*a)?, at(*b)?, at(*c)?]),
            _ => None,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_a_disc_holds_its_circle() {
        let ring = disc(Vec3::new(1.0, 2.0, 0.0), Length::from_m(10.0));
        // The middle of every side lies on the circle or outside it.
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let (mx, my) = ((a.0 + b.0) / 2.0 - 1.0, (a.1 + b.1) / 2.0 - 2.0);
            assert!((mx * mx + my * my).sqrt() >= 10.0 - 1e-9);
        }
    }
}
