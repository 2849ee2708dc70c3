//! The whole problem at once: positions, tensions that are sought, and rings whose friction follows the wrap angle.
//! A Newton step on all equations with their exact derivatives, shortened until the remainder falls.

// Three rows and three columns are clearer by index.
#![allow(clippy::needless_range_loop)]

use super::dense::lu_solve;
use super::descent::{CERTIFIED, MOST_STEPS};
use super::flat::{FIXED, Flat, FlatDrive, Pass, State};
use super::potential::{Work, add_pull, between};

/// Takes steps until the remainder is under `good` × scale; tells whether it got there (or to what the arithmetic allows).
pub(super) fn refine(flat: &Flat, state: &mut State, work: &mut Work, good: f64, limit: u32) -> bool {
    let n = flat.n;
    let all = n + flat.unknown.len();
    equations(flat, state, work);
    let mut left = norm(&work.rest);
    for _ in 0..limit {
        let scale = flat.scale(state);
        if left <= good * scale {
            return true;
        }
        if !left.is_finite() || work.steps >= MOST_STEPS {
            return false;
        }
        work.slackened = flat.unknown.iter().copied().find(|&line| state.tension[line] < CERTIFIED * scale);
        if work.slackened.is_some() {
            return false;
        }
        work.steps += 1;
        for (p, r) in work.step.iter_mut().zip(&work.rest) {
            *p = -r;
        }
        if lu_solve(&mut work.matrix, all, &mut work.step).is_err() || !work.step.iter().all(|p| p.is_finite()) {
            return false;
        }
        for (&p, from) in flat.free.iter().zip(work.from.chunks_exact_mut(3)) {
            from.copy_from_slice(&state.pos[p]);
        }
        for (k, &line) in flat.unknown.iter().enumerate() {
            work.from[n + k] = state.tension[line];
        }
        let mut part = longest(flat, work);
        let mut shorter = 0;
        loop {
            place(flat, state, work, part);
            equations(flat, state, work);
            let now = norm(&work.rest);
            if now < (1.0 - 0.1 * part) * left {
                left = now;
                break;
            }
            if left <= CERTIFIED * scale || shorter == 12 {
                // Either as good as the arithmetic allows, or stuck: the better place is the old one.
                if !(now < left) {
                    place(flat, state, work, 0.0);
                    equations(flat, state, work);
                }
                return left <= CERTIFIED * scale;
            }
            part *= 0.5;
            shorter += 1;
        }
    }
    left <= CERTIFIED * flat.scale(state)
}

/// The longest part of the step that moves no point farther than the rig is wide and leaves a tenth of every tension.
fn longest(flat: &Flat, work: &Work) -> f64 {
    let n = flat.n;
    let mut part = 1.0_f64;
    for p in &work.step[..n] {
        if p.abs() * part > flat.size {
            part = flat.size / p.abs();
        }
    }
    for (t, d) in work.from[n..].iter().zip(&work.step[n..]) {
        if t + part * d < 0.1 * t {
            part = 0.9 * t / -d;
        }
    }
    part
}

fn norm(r: &[f64]) -> f64 {
    r.iter().map(|v| v * v).sum::<f64>().sqrt()
}

fn place(flat: &Flat, state: &mut State, work: &Work, part: f64) {
    for ((&p, from), step) in flat.free.iter().zip(work.from.chunks_exact(3)).zip(work.step.chunks_exact(3)) {
        for k in 0..3 {
            state.pos[p][k] = from[k] + part * step[k];
        }
    }
    for (k, &line) in flat.unknown.iter().enumerate() {
        state.tension[line] = work.from[flat.n + k] + part * work.step[flat.n + k];
    }
}

/// Remainders of all equations, in newtons, and their derivatives.
fn equations(flat: &Flat, state: &mut State, work: &mut Work) {
    let n = flat.n;
    let all = n + flat.unknown.len();
    state.pass_on(flat);
    work.fresh = false;
    work.matrix.fill(0.0);
    work.rest.fill(0.0);
    for (r, w) in work.rest[..n].chunks_exact_mut(3).zip(&flat.weight) {
        r[2] = *w;
    }
    for (k, &line) in flat.unknown.iter().enumerate() {
        match flat.lines[line].drive {
            FlatDrive::Pull { force, .. } => work.rest[n + k] = -force,
            FlatDrive::Length { rest, ea } => work.rest[n + k] = -rest * (ea / rest),
            FlatDrive::Tension => {}
        }
    }
    for sling in &flat.slings {
        let (d, l) = between(&state.pos[sling.a], &state.pos[sling.b], 0.0);
        if l > sling.rest {
            let u = [d[0] / l, d[1] / l, d[2] / l];
            let t = sling.stiffness * (l - sling.rest);
            add_pull(&mut work.rest, sling.sa, sling.sb, &u, t);
            let k = stiffness(&u, t / l, sling.stiffness - t / l);
            add_blocks(&mut work.matrix, all, sling.sa, sling.sb, &k);
            let member = Member { a: sling.a, b: sling.b, sa: sling.sa, sb: sling.sb, u, t };
            pulls(flat, work, &member, &k, None);
        }
    }
    for (index, line) in flat.lines.iter().enumerate() {
        let own = flat.unknown.iter().position(|&u| u == index).map(|k| n + k);
        let mut grows = false;
        for k in line.first..line.end {
            let leg = flat.legs[k];
            if let Pass::Wrap(rate) = leg.pass {
                if !grows {
                    work.growth.fill(0.0);
                    grows = true;
                }
                bend(flat, state, work, k, rate);
            }
            let (d, l) = between(&state.pos[leg.a], &state.pos[leg.b], 0.0);
            let l = l.max(f64::MIN_POSITIVE);
            let u = [d[0] / l, d[1] / l, d[2] / l];
            let share = state.share[k];
            let t = state.tension[index] * share;
            add_pull(&mut work.rest, leg.sa, leg.sb, &u, t);
            let block = stiffness(&u, t / l, -t / l);
            add_blocks(&mut work.matrix, all, leg.sa, leg.sb, &block);
            if grows {
                // The tension itself changes with the wrap angles before this leg.
                for (s, sign) in [(leg.sa, -t), (leg.sb, t)] {
                    if s != FIXED {
                        for i in 0..3 {
                            let row = &mut work.matrix[(s + i) * all..(s + i) * all + n];
                            for (m, g) in row.iter_mut().zip(&work.growth) {
                                *m += sign * u[i] * g;
                            }
                        }
                    }
                }
            }
            if let Some(column) = own {
                for (s, sign) in [(leg.sa, -share), (leg.sb, share)] {
                    if s != FIXED {
                        for i in 0..3 {
                            work.matrix[(s + i) * all + column] += sign * u[i];
                        }
                    }
                }
            }
            let member = Member { a: leg.a, b: leg.b, sa: leg.sa, sb: leg.sb, u, t };
            pulls(flat, work, &member, &block, Some((own, share, grows)));
            if let (Some(row), FlatDrive::Length { rest, ea }) = (own, line.drive) {
                // Σ l / (1 + T/EA) − L0, times EA/L0 so that it is a force.
                let soft = 1.0 / (1.0 + t / ea);
                let unit = ea / rest;
                work.rest[row] += unit * l * soft;
                let at = row * all;
                add_pull(&mut work.matrix[at..at + n], leg.sa, leg.sb, &u, unit * soft);
                let by_tension = -unit * l * soft * soft / ea;
                work.matrix[at + row] += by_tension * share;
                if grows {
                    for (m, g) in work.matrix[at..at + n].iter_mut().zip(&work.growth) {
                        *m += by_tension * t * g;
                    }
                }
            }
        }
    }
}

struct Member {
    a: usize,
    b: usize,
    sa: usize,
    sb: usize,
    u: [f64; 3],
    t: f64,
}

fn stiffness(u: &[f64; 3], across: f64, excess: f64) -> [[f64; 3]; 3] {
    let mut k = [[0.0; 3]; 3];
    for i in 0..3 {
        for j in 0..3 {
            k[i][j] = excess * u[i] * u[j];
        }
        k[i][i] += across;
    }
    k
}

fn add_blocks(matrix: &mut [f64], all: usize, sa: usize, sb: usize, k: &[[f64; 3]; 3]) {
    for (r, c, sign) in [(sa, sa, 1.0), (sb, sb, 1.0), (sa, sb, -1.0), (sb, sa, -1.0)] {
        if r != FIXED && c != FIXED {
            for i in 0..3 {
                for j in 0..3 {
                    matrix[(r + i) * all + c + j] += sign * k[i][j];
                }
            }
        }
    }
}

/// Adds a member's part in every pull that is asked for. `leg`: its line's column if sought, its share, and whether its
/// tension changes with wrap angles.
fn pulls(flat: &Flat, work: &mut Work, m: &Member, k: &[[f64; 3]; 3], leg: Option<(Option<usize>, f64, bool)>) {
    let n = flat.n;
    let all = n + flat.unknown.len();
    for (index, &line) in flat.unknown.iter().enumerate() {
        let FlatDrive::Pull { dir, flags, .. } = flat.lines[line].drive else { continue };
        let row = n + index;
        // Force on a is +t u, on b −t u; pulled points are fixed, so only the other end moves.
        for (pulled, other, sign) in [(m.a, m.sb, 1.0), (m.b, m.sa, -1.0)] {
            if !flat.pulled[flags + pulled] {
                continue;
            }
            let along = sign * (m.u[0] * dir[0] + m.u[1] * dir[1] + m.u[2] * dir[2]);
            work.rest[row] += m.t * along;
            if other != FIXED {
                for j in 0..3 {
                    work.matrix[row * all + other + j] += k[0][j] * dir[0] + k[1][j] * dir[1] + k[2][j] * dir[2];
                }
            }
            if let Some((own, share, grows)) = leg {
                if let Some(column) = own {
                    work.matrix[row * all + column] += share * along;
                }
                if grows {
                    for (c, g) in work.matrix[row * all..row * all + n].iter_mut().zip(&work.growth) {
                        *c += m.t * along * g;
                    }
                }
            }
        }
    }
}

/// Adds to `growth` the derivative of rate · wrap angle at the start of leg `k`.
fn bend(flat: &Flat, state: &State, work: &mut Work, k: usize, rate: f64) {
    let (before, leg) = (flat.legs[k - 1], flat.legs[k]);
    let (d1, l1) = between(&state.pos[before.a], &state.pos[leg.a], 0.0);
    let (d2, l2) = between(&state.pos[leg.a], &state.pos[leg.b], 0.0);
    if !(l1 > 0.0 && l2 > 0.0) {
        return;
    }
    let u = [d1[0] / l1, d1[1] / l1, d1[2] / l1];
    let v = [d2[0] / l2, d2[1] / l2, d2[2] / l2];
    let c = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    let x = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let s = (x[0] * x[0] + x[1] * x[1] + x[2] * x[2]).sqrt();
    if s < 1e-9 {
        // Straight on, or straight back: the angle has a kink there and no derivative.
        return;
    }
    for i in 0..3 {
        let first = rate * (v[i] - c * u[i]) / (s * l1);
        let second = rate * (u[i] - c * v[i]) / (s * l2);
        if before.sa != FIXED {
            work.growth[before.sa + i] += first;
        }
        if leg.sa != FIXED {
            work.growth[leg.sa + i] += second - first;
        }
        if leg.sb != FIXED {
            work.growth[leg.sb + i] -= second;
        }
    }
}
