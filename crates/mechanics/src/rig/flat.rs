//! A checked structure as the solver walks it: plain numbers in flat buffers that are reused from call to call.

use unmire_model::Vec3;
use unmire_model::rig::{Drive, Motion, Structure, Turn};

/// The slot of a point that doesn't move.
pub(super) const FIXED: usize = usize::MAX;

/// What happens to the tension where a leg begins.
#[derive(Clone, Copy, Debug)]
pub(super) enum Pass {
    /// Times a constant.
    Ratio(f64),
    /// Times exp(rate · wrap angle).
    Wrap(f64),
}

#[derive(Clone, Copy, Debug)]
pub(super) struct FlatLeg {
    pub a: usize,
    pub b: usize,
    /// First row of the free point at that end, or [`FIXED`].
    pub sa: usize,
    pub sb: usize,
    pub line: usize,
    pub pass: Pass,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct FlatSling {
    pub a: usize,
    pub b: usize,
    pub sa: usize,
    pub sb: usize,
    /// EA / L0.
    pub stiffness: f64,
    pub rest: f64,
}

#[derive(Clone, Copy, Debug)]
pub(super) enum FlatDrive {
    Tension,
    Pull { dir: [f64; 3], force: f64, flags: usize },
    Length { rest: f64, ea: f64 },
}

#[derive(Clone, Copy, Debug)]
pub(super) struct FlatLine {
    pub first: usize,
    pub end: usize,
    pub drive: FlatDrive,
}

/// The structure.
#[derive(Clone, Debug, Default)]
pub(super) struct Flat {
    /// Number of equations of the free points: three each.
    pub n: usize,
    /// Point of each free point, in order.
    pub free: Vec<usize>,
    pub slot: Vec<usize>,
    /// Weight of each free point.
    pub weight: Vec<f64>,
    pub legs: Vec<FlatLeg>,
    pub slings: Vec<FlatSling>,
    pub lines: Vec<FlatLine>,
    /// Lines whose tension is sought.
    pub unknown: Vec<usize>,
    /// For each pull drive, one flag for each point.
    pub pulled: Vec<bool>,
    pub rings: bool,
    /// A length that the rig has.
    pub size: f64,
    /// Greatest known force: tension, pull that is asked for, weight, 1 N.
    pub known: f64,
}

/// What changes while it is solved.
#[derive(Clone, Debug, Default)]
pub(super) struct State {
    pub pos: Vec<[f64; 3]>,
    /// Tension of each line at its first point.
    pub tension: Vec<f64>,
    /// Tension of each leg ÷ tension of its line's first leg.
    pub share: Vec<f64>,
}

pub(super) fn array(v: Vec3) -> [f64; 3] {
    [v.x, v.y, v.z]
}

impl Flat {
    /// Takes a structure over that has been checked.
    pub fn load(&mut self, s: &Structure) {
        self.free.clear();
        self.slot.clear();
        self.weight.clear();
        self.legs.clear();
        self.slings.clear();
        self.lines.clear();
        self.unknown.clear();
        self.pulled.clear();
        self.rings = false;
        self.known = 1.0;
        let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
        for (i, node) in s.nodes.iter().enumerate() {
            if node.fixed {
                self.slot.push(FIXED);
            } else {
                self.slot.push(3 * self.free.len());
                self.free.push(i);
                self.weight.push(node.weight.as_n());
                self.known = self.known.max(node.weight.as_n());
            }
            for (k, c) in array(node.at).into_iter().enumerate() {
                low[k] = low[k].min(c);
                high[k] = high[k].max(c);
            }
        }
        self.n = 3 * self.free.len();
        self.size = 1e-3;
        for k in 0..3 {
            self.size = self.size.max(high[k] - low[k]);
        }
        for sling in &s.slings {
            let rest = sling.rest_length.as_m();
            self.size = self.size.max(rest);
            self.slings.push(FlatSling {
                a: sling.a,
                b: sling.b,
                sa: self.slot[sling.a],
                sb: self.slot[sling.b],
                stiffness: sling.ea.as_n() / rest,
                rest,
            });
        }
        for line in &s.lines {
            self.load_line(s, line);
        }
    }

    fn load_line(&mut self, s: &Structure, line: &unmire_model::rig::Line) {
        let index = self.lines.len();
        let first = self.legs.len();
        for (k, ends) in line.path.windows(2).enumerate() {
            let pass = match (k.checked_sub(1).and_then(|t| line.turns.get(t)), line.motion) {
                (None, _) | (_, Motion::Frictionless) => Pass::Ratio(1.0),
                (Some(&Turn::Sheave { ratio }), Motion::Hauling) => Pass::Ratio(ratio),
                (Some(&Turn::Sheave { ratio }), Motion::Lowering) => Pass::Ratio(1.0 / ratio),
                (Some(&Turn::Ring { friction }), Motion::Hauling) => Pass::Wrap(-friction),
                (Some(&Turn::Ring { friction }), Motion::Lowering) => Pass::Wrap(friction),
            };
            self.rings |= matches!(pass, Pass::Wrap(_));
            let (a, b) = (ends[0], ends[1]);
            self.legs.push(FlatLeg { a, b, sa: self.slot[a], sb: self.slot[b], line: index, pass });
        }
        let drive = match &line.drive {
            Drive::Tension(t) => {
                self.known = self.known.max(t.as_n());
                FlatDrive::Tension
            }
            Drive::Length { rest_length, ea } => {
                self.unknown.push(index);
                FlatDrive::Length { rest: rest_length.as_m(), ea: ea.as_n() }
            }
            Drive::Pull { points, direction, force } => {
                self.unknown.push(index);
                let flags = self.pulled.len();
                self.pulled.resize(flags + s.nodes.len(), false);
                for &p in points {
                    self.pulled[flags + p] = true;
                }
                self.known = self.known.max(force.as_n());
                let long = direction.norm();
                FlatDrive::Pull { dir: array(*direction * (1.0 / long)), force: force.as_n(), flags }
            }
        };
        self.lines.push(FlatLine { first, end: self.legs.len(), drive });
    }

    /// What a residual is measured against: the greatest of line pull, weight and 1 N.
    ///
    /// # Source
    /// `own-judgement`: the measure of this project.
    pub fn scale(&self, state: &State) -> f64 {
        let mut scale = self.known;
        for &line in &self.unknown {
            scale = scale.max(state.tension[line]);
        }
        scale
    }
}

impl State {
    /// Works out what each turn passes on where the points are now. Rings follow their wrap angle.
    pub fn pass_on(&mut self, flat: &Flat) {
        self.share.resize(flat.legs.len(), 1.0);
        for line in &flat.lines {
            let mut share = 1.0;
            for k in line.first..line.end {
                let leg = &flat.legs[k];
                share *= match leg.pass {
                    Pass::Ratio(r) => r,
                    Pass::Wrap(rate) => {
                        let before = flat.legs[k - 1].a;
                        libm::exp(rate * wrap(&self.pos[before], &self.pos[leg.a], &self.pos[leg.b]))
                    }
                };
                self.share[k] = share;
            }
        }
    }
}

/// The wrap angle at `q` between `p` and `r`; zero where a leg has no length.
pub(super) fn wrap(p: &[f64; 3], q: &[f64; 3], r: &[f64; 3]) -> f64 {
    let u = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    let v = [r[0] - q[0], r[1] - q[1], r[2] - q[2]];
    let dot = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    let c = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    libm::atan2((c[0] * c[0] + c[1] * c[1] + c[2] * c[2]).sqrt(), dot)
}
