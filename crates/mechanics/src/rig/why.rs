//! Why a rig has no answer: a leg that closes up, a point without a place of its own, a line that would have to push.

use super::dense::{ldl, null_vector};
use super::descent::floor;
use super::equilibrium::Equilibrium;
use super::error::RigError;
use super::flat::FlatDrive;
use super::loads::{At, residual};
use super::potential::{assemble, between};
use super::solver::Solver;
use unmire_model::rig::Structure;

impl Solver {
    /// The leg whose ends are pulled into each other, if there is one. Where they meet, the potential has a kink, and
    /// balance asks of the leg any pull up to its tension, in any direction (the subgradient). In the smoothed
    /// potential such a leg has about the smoothing's length and pulls with the share length / √(length² + smoothing²)
    /// of its tension: less than all of it, whereas an open leg pulls with all.
    pub(super) fn closed_up(&self, smooth: f64) -> Option<usize> {
        let mut least: Option<(usize, f64)> = None;
        for (k, leg) in self.flat.legs.iter().enumerate() {
            let (_, l) = between(&self.state.pos[leg.a], &self.state.pos[leg.b], 0.0);
            let share = l / (l * l + smooth * smooth).sqrt();
            let pulls = self.state.tension[leg.line] > 0.0;
            if pulls && share < 0.999 && least.is_none_or(|(_, s)| share < s) {
                least = Some((k, share));
            }
        }
        least.map(|(k, _)| k)
    }

    /// The point that is farthest from where it began, as a share of the rig's size.
    pub(super) fn farthest(&self) -> usize {
        let mut most = (self.flat.free.first().copied().unwrap_or(0), 0.0);
        for &p in &self.flat.free {
            let d = self.state.pos[p].iter().fold(0.0_f64, |m, c| m.max(c.abs()));
            if d > most.1 {
                most = (p, d);
            }
        }
        most.0
    }

    /// Whether every free point has a place of its own: the curvature of the potential has no flat direction.
    pub(super) fn held(&mut self, s: &Structure) -> Result<(), RigError> {
        let n = self.flat.n;
        if n == 0 {
            return Ok(());
        }
        let floor = if self.work.fresh {
            floor(&self.flat, &self.state, &self.work.curve)
        } else {
            self.save();
            self.set_bands();
            assemble::<true>(&self.flat, &mut self.state, &mut self.work, 0.0);
            let floor = floor(&self.flat, &self.state, &self.work.curve);
            self.restore();
            floor
        };
        let Err(row) = ldl(&self.work.curve, n, 0.0, floor, &mut self.work.factor, &mut self.work.inv) else {
            return Ok(());
        };
        null_vector(&self.work.factor, n, row, &mut self.work.step);
        let mut most = (row / 3, 0.0);
        for (k, v) in self.work.step[..n].chunks_exact(3).enumerate() {
            let d = v[0] * v[0] + v[1] * v[1] + v[2] * v[2];
            if d > most.1 * (1.0 + 1e-9) {
                most = (k, d);
            }
        }
        Err(RigError::Mechanism { point: s.nodes[self.flat.free[most.0]].name.clone() })
    }

    /// Nothing was found: the best reason that there is.
    pub(super) fn why_not(&mut self, s: &Structure) -> RigError {
        if let Some(index) = self.work.slackened {
            return RigError::SlackLine { line: s.lines[index].name.clone() };
        }
        for &index in &self.flat.unknown {
            let line = || s.lines[index].name.clone();
            let t = self.state.tension[index];
            match self.flat.lines[index].drive {
                FlatDrive::Pull { force, .. } => {
                    let got = self.pull(index);
                    if !(got > 1e-6 * t) || !(t < 1e9 * force) {
                        return RigError::NoPull { line: line(), per_newton: if t > 0.0 { got / t } else { 0.0 } };
                    }
                    if t < 1e-6 * force {
                        return RigError::SlackLine { line: line() };
                    }
                }
                FlatDrive::Length { .. } if t <= 0.0 => return RigError::SlackLine { line: line() },
                FlatDrive::Length { ea, .. } if t >= ea => {
                    return RigError::Unreachable { line: line(), strain: t / ea };
                }
                _ => {}
            }
        }
        if let Err(e) = self.held(s) {
            return e;
        }
        let mut eq = Equilibrium::default();
        self.hand_out(s, &mut eq);
        not_balanced(s, &eq)
    }
}

/// The error for a balance that isn't good enough, with the place of the greatest remainder.
pub(super) fn not_balanced(s: &Structure, eq: &Equilibrium) -> RigError {
    let (left, at) = residual(s, eq);
    let at = match at {
        At::Point(p) => s.nodes.get(p).map(|n| n.name.clone()),
        At::Line(l) => s.lines.get(l).map(|l| l.name.clone()),
    };
    RigError::NotBalanced { at: at.unwrap_or_default(), residual: left, allowed: eq.allowed }
}
