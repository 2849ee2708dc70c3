//! Down the potential: Newton steps, damped where the potential isn't smooth.

use super::dense::{ldl, ldl_solve};
use super::flat::{FIXED, Flat, State};
use super::potential::{Work, assemble, between, remainder};

/// How a descent ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Descent {
    /// The forces balance.
    Settled,
    /// No step helps any more; there may be a kink.
    Stuck,
    /// The points run away: nothing holds them.
    Away,
}

/// Share of the scale below which a balance is good enough to be handed out.
pub(super) const CERTIFIED: f64 = 1e-9;

/// No search takes more steps than this in all. Rigs need five to twenty; one that needs more has no answer to find.
pub(super) const MOST_STEPS: u32 = 2000;

/// A pivot under this is no stiffness. Stiffness of a taut leg is its tension by its length; this is far below any.
pub(super) fn floor(flat: &Flat, state: &State, curve: &[f64]) -> f64 {
    let n = flat.n;
    let mut most = 0.0_f64;
    for i in 0..n {
        most = most.max(curve[i * n + i]);
    }
    (1e-9 * flat.scale(state) / flat.size).max(1e-13 * most)
}

/// Goes down from the state's positions until the greatest out-of-balance force is under `good` × scale.
pub(super) fn descend(flat: &Flat, state: &mut State, work: &mut Work, smooth: f64, good: f64, limit: u32) -> Descent {
    let n = flat.n;
    let smooth2 = smooth * smooth;
    let mut away = 1e3 * flat.size;
    for &p in &flat.free {
        for c in state.pos[p] {
            away = away.max(1e3 * c.abs());
        }
    }
    assemble::<true>(flat, state, work, smooth2);
    let mut left = remainder(&work.slope);
    let mut leash = flat.size;
    for _ in 0..limit {
        let scale = flat.scale(state);
        if left <= good * scale {
            return Descent::Settled;
        }
        if !left.is_finite() || work.steps >= MOST_STEPS {
            return Descent::Stuck;
        }
        work.steps += 1;
        // The step.
        let floor = floor(flat, state, &work.curve);
        let mut lambda = 0.0;
        while ldl(&work.curve, n, lambda, floor, &mut work.factor, &mut work.inv).is_err() {
            lambda = if lambda == 0.0 { 1e-3 * scale / flat.size } else { lambda * 30.0 };
            if !(lambda < 1e30) {
                return Descent::Stuck;
            }
        }
        for (p, s) in work.step.iter_mut().zip(&work.slope) {
            *p = -s;
        }
        ldl_solve(&work.factor, &work.inv, n, &mut work.step[..n]);
        let far = remainder(&work.step[..n]);
        if far > leash {
            let k = leash / far;
            for p in &mut work.step[..n] {
                *p *= k;
            }
        }
        let before = dot(&work.slope, &work.step[..n]);
        if !(before < 0.0) {
            return if left <= CERTIFIED * scale { Descent::Settled } else { Descent::Stuck };
        }
        for (&p, from) in flat.free.iter().zip(work.from.chunks_exact_mut(3)) {
            from.copy_from_slice(&state.pos[p]);
        }
        // How much of it.
        let whole = if far > leash { leash / far } else { 1.0 };
        let first = foresee(flat, state, work, before, -before * whole);
        place(flat, state, work, first);
        assemble::<true>(flat, state, work, smooth2);
        let mut now = remainder(&work.slope);
        let after = dot(&work.slope, &work.step[..n]);
        if !(after <= -0.5 * before || now <= 0.5 * left) {
            if left <= CERTIFIED * scale {
                // As good as the arithmetic allows: keep the better of the two.
                if !(now < left) {
                    place(flat, state, work, 0.0);
                    assemble::<true>(flat, state, work, smooth2);
                }
                return Descent::Settled;
            }
            let Some(part) = shorten(flat, state, work, smooth2, before, (first, after), left) else {
                return Descent::Stuck;
            };
            place(flat, state, work, part);
            assemble::<true>(flat, state, work, smooth2);
            now = remainder(&work.slope);
        } else if left <= CERTIFIED * scale && now > 0.5 * left {
            if now > left {
                place(flat, state, work, 0.0);
                assemble::<true>(flat, state, work, smooth2);
            }
            return Descent::Settled;
        }
        if far > leash && after < 0.5 * before {
            // It still goes down as steeply as before: either something holds it far from here, or nothing does.
            leash *= 4.0;
        }
        left = now;
        for &p in &flat.free {
            for c in state.pos[p] {
                if !(c.abs() <= away) {
                    return Descent::Away;
                }
            }
        }
    }
    if left <= CERTIFIED.max(good) * flat.scale(state) { Descent::Settled } else { Descent::Stuck }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Puts the free points at this part of the step.
fn place(flat: &Flat, state: &mut State, work: &Work, part: f64) {
    for ((&p, from), step) in flat.free.iter().zip(work.from.chunks_exact(3)).zip(work.step.chunks_exact(3)) {
        let pos = &mut state.pos[p];
        for k in 0..3 {
            pos[k] = from[k] + part * step[k];
        }
    }
}

/// The part of the step at whose end the slope along it should be gone. The curvature knows nothing of slings that are
/// slack here and become taut on the way; each adds its stiffness from there on, so the slope is a line with kinks.
/// `bend`: by how much the slope grows over the whole step without them.
fn foresee(flat: &Flat, state: &State, work: &mut Work, before: f64, bend: f64) -> f64 {
    let mut any = false;
    for (sling, (from, more)) in flat.slings.iter().zip(&mut work.taut) {
        *from = f64::INFINITY;
        let (d, l) = between(&state.pos[sling.a], &state.pos[sling.b], 0.0);
        if l >= sling.rest {
            continue;
        }
        let mut e = [0.0; 3];
        for (i, c) in e.iter_mut().enumerate() {
            if sling.sa != FIXED {
                *c -= work.step[sling.sa + i];
            }
            if sling.sb != FIXED {
                *c += work.step[sling.sb + i];
            }
        }
        // |d + part e| = rest.
        let a = e[0] * e[0] + e[1] * e[1] + e[2] * e[2];
        let b = d[0] * e[0] + d[1] * e[1] + d[2] * e[2];
        let c = l * l - sling.rest * sling.rest;
        if a + 2.0 * b + c <= 0.0 {
            continue;
        }
        let root = (b * b - a * c).sqrt();
        let part = (root - b) / a;
        if part > 0.0 && part < 1.0 {
            any = true;
            let along = root / sling.rest;
            (*from, *more) = (part, sling.stiffness * along * along);
        }
    }
    if !any {
        return 1.0;
    }
    let (mut part, mut slope, mut bend) = (0.0, before, bend);
    loop {
        let mut next = (f64::INFINITY, 0.0, 0);
        for (k, &(from, more)) in work.taut.iter().enumerate() {
            if from < next.0 {
                next = (from, more, k);
            }
        }
        let zero = part - slope / bend;
        if zero <= next.0.min(1.0) {
            return zero;
        }
        if next.0 >= 1.0 {
            return 1.0;
        }
        slope += bend * (next.0 - part);
        bend += next.1;
        part = next.0;
        work.taut[next.2].0 = f64::INFINITY;
    }
}

/// The step went too far: the part of it where the slope along it has all but gone. The slope along the step
/// grows monotonically (the potential is convex), so two ends hold the place between them.
fn shorten(
    flat: &Flat,
    state: &mut State,
    work: &mut Work,
    smooth2: f64,
    before: f64,
    first: (f64, f64),
    left: f64,
) -> Option<f64> {
    let (mut low, mut at_low, (mut high, mut at_high)) = (0.0, before, first);
    let mut side = 0;
    for round in 0..50 {
        let share = if at_high.is_finite() && round % 4 != 3 { at_low / (at_low - at_high) } else { 0.5 };
        let part = low + (high - low) * share.clamp(0.02, 0.98);
        place(flat, state, work, part);
        assemble::<false>(flat, state, work, smooth2);
        let slope = dot(&work.slope, &work.step[..flat.n]);
        if slope.abs() <= -0.4 * before || remainder(&work.slope) <= 0.5 * left {
            return Some(part);
        }
        if slope < 0.0 {
            (low, at_low) = (part, slope);
            if side == -1 {
                at_high *= 0.5;
            }
            side = -1;
        } else {
            (high, at_high) = (part, slope);
            if side == 1 {
                at_low *= 0.5;
            }
            side = 1;
        }
        if high - low < 1e-9 * first.0 {
            break;
        }
    }
    (low > 1e-12 * first.0).then_some(low)
}
