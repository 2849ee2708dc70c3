//! Tensions that are sought: what to try next for a line whose pull or whose length is given, and whether what was found
//! is a line that pulls.

use super::error::RigError;
use super::flat::FlatDrive;
use super::potential::between;
use super::solver::Solver;
use unmire_model::rig::Structure;

impl Solver {
    /// Sets the bands of the lines of given length so that at the present positions they carry just what their
    /// law says.
    pub(super) fn set_bands(&mut self) {
        for &index in &self.flat.unknown {
            let line = &self.flat.lines[index];
            let FlatDrive::Length { rest, ea } = line.drive else { continue };
            let (mut whole, mut q) = (0.0, 0.0);
            for k in line.first..line.end {
                let leg = &self.flat.legs[k];
                let l = between(&self.state.pos[leg.a], &self.state.pos[leg.b], 0.0).1;
                whole += l;
                q += self.state.share[k] * l;
            }
            if whole <= rest || self.state.share[line.first..line.end].iter().all(|c| *c == 1.0) {
                self.work.band[index] = rest * (q / whole.max(f64::MIN_POSITIVE)).max(1e-6);
                continue;
            }
            // Σ l / (1 + share x) = rest for the strain x of the first leg: convex and falling, so Newton from 0 rises to it.
            let mut x = 0.0;
            for _ in 0..60 {
                let (mut f, mut slope) = (-rest, 0.0);
                for k in line.first..line.end {
                    let leg = &self.flat.legs[k];
                    let l = between(&self.state.pos[leg.a], &self.state.pos[leg.b], 0.0).1;
                    let soft = 1.0 / (1.0 + self.state.share[k] * x);
                    f += l * soft;
                    slope += l * self.state.share[k] * soft * soft;
                }
                let step = f / slope;
                x += step;
                if !(step.abs() > 1e-14 * x) {
                    break;
                }
            }
            self.work.band[index] = q / (1.0 + x);
            self.state.tension[index] = ea * x;
        }
    }

    /// Moves the tensions of pull drives toward what gives the pull: by what the last move did, at first as if all
    /// forces grew with the tension.
    pub(super) fn match_pulls(&mut self) {
        for &index in &self.flat.unknown {
            if let FlatDrive::Pull { force, .. } = self.flat.lines[index].drive {
                let got = self.pull(index);
                let t = self.state.tension[index];
                let growth = self.work.last[index].map(|(t0, got0)| (got - got0) / (t - t0));
                let next = match growth {
                    Some(k) if k > 0.0 => t + (force - got) / k,
                    _ if got > 0.0 => t * (force / got),
                    _ => 10.0 * t,
                };
                self.work.last[index] = Some((t, got));
                self.state.tension[index] = next.clamp(0.1 * t, 10.0 * t).min(1e12);
            }
        }
    }

    /// The pull that a pull drive gets now.
    pub(super) fn pull(&self, index: usize) -> f64 {
        let FlatDrive::Pull { dir, flags, .. } = self.flat.lines[index].drive else { return 0.0 };
        let mut got = 0.0;
        let mut add = |a: usize, b: usize, t: f64| {
            let sign =
                f64::from(u8::from(self.flat.pulled[flags + a])) - f64::from(u8::from(self.flat.pulled[flags + b]));
            if sign != 0.0 {
                let (d, l) = between(&self.state.pos[a], &self.state.pos[b], 0.0);
                got += sign * t / l.max(f64::MIN_POSITIVE) * (d[0] * dir[0] + d[1] * dir[1] + d[2] * dir[2]);
            }
        };
        for (k, leg) in self.flat.legs.iter().enumerate() {
            add(leg.a, leg.b, self.state.tension[leg.line] * self.state.share[k]);
        }
        for sling in &self.flat.slings {
            let l = between(&self.state.pos[sling.a], &self.state.pos[sling.b], 0.0).1;
            if l > sling.rest {
                add(sling.a, sling.b, sling.stiffness * (l - sling.rest));
            }
        }
        got
    }

    /// Lines whose tension was sought must pull, and not stretch beyond sense.
    pub(super) fn taut(&self, s: &Structure) -> Result<(), RigError> {
        for &index in &self.flat.unknown {
            let t = self.state.tension[index];
            let name = || s.lines[index].name.clone();
            if !(t > 1e-9) {
                return Err(RigError::SlackLine { line: name() });
            }
            if let FlatDrive::Length { ea, .. } = self.flat.lines[index].drive
                && t >= ea
            {
                return Err(RigError::Unreachable { line: name(), strain: t / ea });
            }
        }
        Ok(())
    }
}
