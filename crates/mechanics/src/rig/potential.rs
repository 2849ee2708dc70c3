//! The potential whose least point is the equilibrium, by its slope and its curvature.
//!
//! With the tension of every leg known, the forces on the free points are minus the gradient of
//! V(x) = Σ T |leg| + Σ ½ (EA/L₀) (|sling| − L₀)₊² + Σ weight · z, which is convex. A line of given length stands in it as
//! an elastic band, ½ (EA/L) (q − L)₊² with q = Σ share · |leg|: exact without friction, a start otherwise.
//!
//! A smoothing length e replaces |d| by √(d² + e²); with e = 0 it is the thing itself.

use super::flat::{FIXED, Flat, FlatDrive, State};

/// Buffers of the search. Their sizes follow the structure; nothing is allocated once they have grown.
#[derive(Clone, Debug, Default)]
pub(super) struct Work {
    /// Slope of V, three for each free point: minus the force there.
    pub slope: Vec<f64>,
    /// Curvature of V, lower triangle.
    pub curve: Vec<f64>,
    pub factor: Vec<f64>,
    pub inv: Vec<f64>,
    pub step: Vec<f64>,
    pub from: Vec<f64>,
    /// For each sling: the part of the step at which it becomes taut, and the stiffness along the step that it then adds.
    pub taut: Vec<(f64, f64)>,
    /// Whether the curvature is that of the state's positions, without smoothing.
    pub fresh: bool,
    /// Slope of q for the line of given length that is being added.
    pub along: Vec<f64>,
    /// Length that each line of given length has when slack, in terms of q.
    pub band: Vec<f64>,
    /// For the general Newton step: matrix, right-hand side, growth of a leg's share.
    pub matrix: Vec<f64>,
    pub rest: Vec<f64>,
    pub growth: Vec<f64>,
    /// Where a failed search began.
    pub saved_pos: Vec<[f64; 3]>,
    pub saved_tension: Vec<f64>,
    /// For each line: its tension and the pull it gave, the last time that they were looked at.
    pub last: Vec<Option<(f64, f64)>>,
    /// The line that the last search for tensions left with none.
    pub slackened: Option<usize>,
    /// Newton steps so far.
    pub steps: u32,
}

impl Work {
    pub fn fit(&mut self, flat: &Flat) {
        let n = flat.n;
        let all = n + flat.unknown.len();
        for (buffer, len) in [
            (&mut self.slope, n),
            (&mut self.curve, n * n),
            (&mut self.factor, n * n),
            (&mut self.inv, n),
            (&mut self.step, all),
            (&mut self.from, all),
            (&mut self.along, n),
            (&mut self.band, flat.lines.len()),
            (&mut self.matrix, all * all),
            (&mut self.rest, all),
            (&mut self.growth, n),
        ] {
            buffer.clear();
            buffer.resize(len, 0.0);
        }
        self.taut.clear();
        self.taut.resize(flat.slings.len(), (f64::INFINITY, 0.0));
        self.fresh = false;
        self.last.clear();
        self.last.resize(flat.lines.len(), None);
        self.slackened = None;
        self.steps = 0;
    }
}

/// The vector between two points, and its (smoothed) length.
#[inline(always)]
pub(super) fn between(p: &[f64; 3], q: &[f64; 3], smooth2: f64) -> ([f64; 3], f64) {
    let d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    (d, (d[0] * d[0] + d[1] * d[1] + d[2] * d[2] + smooth2).sqrt())
}

/// Adds the pull `t` of a member along `u`, seen from a to b.
#[inline(always)]
pub(super) fn add_pull(slope: &mut [f64], sa: usize, sb: usize, u: &[f64; 3], t: f64) {
    if sa != FIXED {
        for (s, c) in slope[sa..sa + 3].iter_mut().zip(u) {
            *s -= t * c;
        }
    }
    if sb != FIXED {
        for (s, c) in slope[sb..sb + 3].iter_mut().zip(u) {
            *s += t * c;
        }
    }
}

/// Adds the curvature across·I + (along − across)·u uᵀ of a member to the lower triangle.
#[inline(always)]
fn add_curve(curve: &mut [f64], n: usize, sa: usize, sb: usize, u: &[f64; 3], across: f64, excess: f64) {
    let v = [excess * u[0], excess * u[1], excess * u[2]];
    let k = [
        [across + v[0] * u[0], v[0] * u[1], v[0] * u[2]],
        [v[1] * u[0], across + v[1] * u[1], v[1] * u[2]],
        [v[2] * u[0], v[2] * u[1], across + v[2] * u[2]],
    ];
    for s in [sa, sb] {
        if s != FIXED {
            for (i, row) in k.iter().enumerate() {
                let at = (s + i) * n + s;
                for (h, c) in curve[at..=at + i].iter_mut().zip(row) {
                    *h += c;
                }
            }
        }
    }
    if sa != FIXED && sb != FIXED {
        let (r, c) = if sa > sb { (sa, sb) } else { (sb, sa) };
        for (i, row) in k.iter().enumerate() {
            let at = (r + i) * n + c;
            for (h, c) in curve[at..at + 3].iter_mut().zip(row) {
                *h -= c;
            }
        }
    }
}

/// Slope (and curvature, if asked for) of V at the state's positions; lines of given length get their tension.
pub(super) fn assemble<const CURVE: bool>(flat: &Flat, state: &mut State, work: &mut Work, smooth2: f64) {
    let n = flat.n;
    work.fresh = CURVE && smooth2 == 0.0;
    work.slope.fill(0.0);
    if CURVE {
        work.curve.fill(0.0);
    }
    for (s, w) in work.slope.chunks_exact_mut(3).zip(&flat.weight) {
        s[2] = *w;
    }
    for (index, line) in flat.lines.iter().enumerate() {
        let band = match line.drive {
            FlatDrive::Length { ea, .. } => {
                let mut q = 0.0;
                for k in line.first..line.end {
                    let leg = &flat.legs[k];
                    q += state.share[k] * between(&state.pos[leg.a], &state.pos[leg.b], smooth2).1;
                }
                let slack = work.band[index];
                let stiffness = ea / slack;
                state.tension[index] = if q > slack { stiffness * (q - slack) } else { 0.0 };
                if CURVE && q > slack { Some(stiffness) } else { None }
            }
            _ => None,
        };
        if band.is_some() {
            work.along.fill(0.0);
        }
        let first = state.tension[index];
        for k in line.first..line.end {
            let leg = &flat.legs[k];
            let (d, l) = between(&state.pos[leg.a], &state.pos[leg.b], smooth2);
            let inverse = 1.0 / l.max(f64::MIN_POSITIVE);
            let u = [d[0] * inverse, d[1] * inverse, d[2] * inverse];
            let t = first * state.share[k];
            add_pull(&mut work.slope, leg.sa, leg.sb, &u, t);
            if CURVE {
                add_curve(&mut work.curve, n, leg.sa, leg.sb, &u, t * inverse, -t * inverse);
                if band.is_some() {
                    add_pull(&mut work.along, leg.sa, leg.sb, &u, state.share[k]);
                }
            }
        }
        if let Some(stiffness) = band {
            for i in 0..n {
                let a = stiffness * work.along[i];
                if a != 0.0 {
                    for (h, b) in work.curve[i * n..=i * n + i].iter_mut().zip(&work.along) {
                        *h += a * b;
                    }
                }
            }
        }
    }
    for sling in &flat.slings {
        let (d, l) = between(&state.pos[sling.a], &state.pos[sling.b], smooth2);
        if l > sling.rest {
            let inverse = 1.0 / l;
            let u = [d[0] * inverse, d[1] * inverse, d[2] * inverse];
            let t = sling.stiffness * (l - sling.rest);
            add_pull(&mut work.slope, sling.sa, sling.sb, &u, t);
            if CURVE {
                add_curve(&mut work.curve, n, sling.sa, sling.sb, &u, t * inverse, sling.stiffness - t * inverse);
            }
        }
    }
}

/// The greatest out-of-balance force on a free point.
pub(super) fn remainder(slope: &[f64]) -> f64 {
    let mut most = 0.0_f64;
    for f in slope.chunks_exact(3) {
        let square = f[0] * f[0] + f[1] * f[1] + f[2] * f[2];
        if !(square <= most) {
            most = square;
        }
    }
    most.sqrt()
}
