//! The solver: which search when, what to do when one fails, and the certificate at the end.

use super::check::check;
use super::dense::{ldl, null_vector};
use super::descent::{Descent, MOST_STEPS, descend, floor};
use super::equilibrium::Equilibrium;
use super::error::RigError;
use super::flat::{FIXED, Flat, FlatDrive, State, array};
use super::loads::{At, allowed, measure, residual};
use super::potential::{Work, assemble, between};
use super::refine::refine;
use unmire_model::rig::Structure;
use unmire_model::{Force, Vec3};

/// A balance is sought down to this share of the scale: three digits beyond what is certified.
const FINE: f64 = 1e-12;
/// Good enough as a start for the general search.
const COARSE: f64 = 1e-4;
/// How often the general search is begun anew.
const ROUNDS: usize = 40;
/// Where the search for a tension begins, as shares of the pull that is asked for.
const GUESSES: [f64; 6] = [1.0, 0.3, 3.0, 0.1, 10.0, 0.03];

/// Solves one structure after another in buffers that it keeps: nothing is allocated once they have grown.
///
/// ```
/// use unmire_mechanics::rig::{Equilibrium, Solver};
/// use unmire_model::rig::{Line, Node, Sling, Structure};
/// use unmire_model::{Force, Length, Vec3};
/// // A line pulls a shackle that hangs on a strap.
/// let rig = Structure {
///     nodes: vec![
///         Node::fixed("winch", Vec3::new(0.0, 0.0, 0.0)),
///         Node::fixed("tree", Vec3::new(22.0, 0.0, 0.0)),
///         Node::free("shackle", Vec3::new(20.0, 0.0, 0.0)),
///     ],
///     slings: vec![Sling::new("strap", 1, 2, Length::from_m(2.0), Force::from_kn(1200.0))],
///     lines: vec![Line::hauled("line", vec![0, 2], Force::from_kn(20.0))],
/// };
/// let mut solver = Solver::default();
/// let mut equilibrium = Equilibrium::default();
/// solver.solve_into(&rig, &mut equilibrium)?;
/// assert!((equilibrium.slings[0].tension.as_kn() - 20.0).abs() < 1e-9);
/// # Ok::<(), unmire_mechanics::rig::RigError>(())
/// ```
#[derive(Clone, Debug, Default)]
pub struct Solver {
    flat: Flat,
    state: State,
    work: Work,
}

impl Solver {
    /// The equilibrium, searched from where the structure says its free points are.
    ///
    /// # Source
    /// `statics`: as [`super::solve`].
    /// # Errors
    /// [`RigError`]: what is wrong with the structure, or why it has no certified equilibrium.
    pub fn solve(&mut self, s: &Structure) -> Result<Equilibrium, RigError> {
        let mut eq = Equilibrium::default();
        self.solve_into(s, &mut eq)?;
        Ok(eq)
    }

    /// As [`Solver::solve`], into buffers that are already there. After an error they are empty.
    ///
    /// # Source
    /// `statics`: as [`super::solve`].
    /// # Errors
    /// As [`Solver::solve`].
    pub fn solve_into(&mut self, s: &Structure, eq: &mut Equilibrium) -> Result<(), RigError> {
        let result = check(s).and_then(|()| {
            self.load(s);
            self.search(s, false)?;
            self.certify(s, eq)
        });
        if result.is_err() {
            clear(eq);
        }
        result
    }

    /// As [`Solver::solve_into`], searched from the equilibrium that `eq` holds: for the next position of the same rig.
    /// If `eq` doesn't fit the structure, or nothing is found from there, the search starts afresh.
    ///
    /// # Source
    /// `statics`: as [`super::solve`].
    /// # Errors
    /// As [`Solver::solve`].
    pub fn solve_from(&mut self, s: &Structure, eq: &mut Equilibrium) -> Result<(), RigError> {
        let result = check(s).and_then(|()| {
            self.load(s);
            let fits = eq.positions.len() == s.nodes.len()
                && eq.tensions.len() == s.lines.len()
                && eq.positions.iter().all(|p| p.is_finite());
            if fits {
                for &p in &self.flat.free {
                    self.state.pos[p] = array(eq.positions[p]);
                }
                for &line in &self.flat.unknown {
                    let t = eq.tensions[line].as_n();
                    if t.is_finite() && t > 0.0 {
                        self.state.tension[line] = t;
                    }
                }
            }
            self.search(s, fits)?;
            self.certify(s, eq)
        });
        if result.is_err() {
            clear(eq);
        }
        result
    }

    /// Takes the structure over and guesses what is sought.
    fn load(&mut self, s: &Structure) {
        self.flat.load(s);
        self.work.fit(&self.flat);
        self.begin(s);
    }

    /// Puts the points where the structure has them and the tensions where the first guess has them.
    fn begin(&mut self, s: &Structure) {
        self.state.pos.clear();
        self.state.pos.extend(s.nodes.iter().map(|node| array(node.at)));
        self.state.tension.clear();
        for (line, flat) in s.lines.iter().zip(&self.flat.lines) {
            self.state.tension.push(match (flat.drive, &line.drive) {
                (FlatDrive::Pull { force, .. }, _) => force,
                (_, unmire_model::rig::Drive::Tension(t)) => t.as_n(),
                _ => self.flat.known,
            });
        }
        self.state.share.clear();
        self.state.share.resize(self.flat.legs.len(), 1.0);
    }

    /// Brings positions and tensions to balance.
    fn search(&mut self, s: &Structure, warm: bool) -> Result<(), RigError> {
        self.state.pass_on(&self.flat);
        let plain = !self.flat.rings
            && self.flat.unknown.iter().all(|&l| {
                let line = &self.flat.lines[l];
                matches!(line.drive, FlatDrive::Length { .. })
                    && self.state.share[line.first..line.end].iter().all(|c| *c == 1.0)
            });
        if plain {
            self.set_bands();
            self.settle(s, FINE)?;
            return self.taut(s);
        }
        if warm && refine(&self.flat, &mut self.state, &mut self.work, FINE, 12) {
            return self.taut(s);
        }
        if warm {
            self.begin(s);
            self.state.pass_on(&self.flat);
        }
        let asks = self.flat.unknown.iter().any(|&l| matches!(self.flat.lines[l].drive, FlatDrive::Pull { .. }));
        let mut refused = None;
        for guess in &GUESSES[..if asks { GUESSES.len() } else { 1 }] {
            if refused.is_some() {
                self.begin(s);
                for &index in &self.flat.unknown {
                    self.state.tension[index] *= guess;
                }
                self.state.pass_on(&self.flat);
            }
            match self.approach(s) {
                Ok(()) => return self.taut(s),
                // With other tensions the rig may well hang together.
                Err(e @ (RigError::ClosedUp { .. } | RigError::Unsupported { .. })) => refused = refused.or(Some(e)),
                Err(e) => return Err(e),
            }
        }
        Err(refused.unwrap_or_else(|| self.why_not(s)))
    }

    /// Settles with what is sought held where it is, then lets it go; again and again, each time from closer by.
    fn approach(&mut self, s: &Structure) -> Result<(), RigError> {
        for round in 0..ROUNDS {
            if self.work.steps >= MOST_STEPS {
                break;
            }
            self.set_bands();
            self.settle(s, if round < 2 { COARSE } else { FINE })?;
            self.state.pass_on(&self.flat);
            self.match_pulls();
            self.save();
            if refine(&self.flat, &mut self.state, &mut self.work, FINE, 30) {
                return Ok(());
            }
            self.restore();
        }
        Err(self.why_not(s))
    }

    /// Goes down the potential with tensions and shares as they are; past a kink by smoothing.
    fn settle(&mut self, s: &Structure, good: f64) -> Result<(), RigError> {
        if descend(&self.flat, &mut self.state, &mut self.work, 0.0, good, 60) == Descent::Settled {
            return Ok(());
        }
        self.middle();
        let mut smooth = self.flat.size;
        let mut last = Descent::Stuck;
        for _ in 0..7 {
            smooth *= 0.1;
            last = descend(&self.flat, &mut self.state, &mut self.work, smooth, 1e-6, 200);
            if last == Descent::Away {
                return Err(RigError::Unsupported { point: s.nodes[self.farthest()].name.clone() });
            }
        }
        let closed = if last == Descent::Settled { self.closed_up(smooth) } else { None };
        if descend(&self.flat, &mut self.state, &mut self.work, 0.0, good, 100) == Descent::Settled {
            return Ok(());
        }
        if let Some(k) = closed {
            let leg = &self.flat.legs[k];
            return Err(RigError::ClosedUp {
                line: s.lines[leg.line].name.clone(),
                from: s.nodes[leg.a].name.clone(),
                to: s.nodes[leg.b].name.clone(),
            });
        }
        Err(self.why_not(s))
    }

    /// The leg whose ends are pulled into each other, if there is one. Where they meet, the potential has a kink, and
    /// balance asks of the leg any pull up to its tension, in any direction (the subgradient). In the smoothed
    /// potential such a leg has about the smoothing's length and pulls with the share length / √(length² + smoothing²)
    /// of its tension: less than all of it, whereas an open leg pulls with all.
    fn closed_up(&self, smooth: f64) -> Option<usize> {
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

    /// Puts every free point into the middle of the points that it is connected with.
    fn middle(&mut self) {
        for _ in 0..20 {
            for (k, &p) in self.flat.free.iter().enumerate() {
                let (mut sum, mut count) = ([0.0; 3], 0.0);
                let mut add = |q: &[f64; 3]| {
                    for i in 0..3 {
                        sum[i] += q[i];
                    }
                    count += 1.0;
                };
                for leg in &self.flat.legs {
                    if leg.sa == 3 * k {
                        add(&self.state.pos[leg.b]);
                    } else if leg.sb == 3 * k {
                        add(&self.state.pos[leg.a]);
                    }
                }
                for sling in &self.flat.slings {
                    if sling.sa == 3 * k {
                        add(&self.state.pos[sling.b]);
                    } else if sling.sb == 3 * k {
                        add(&self.state.pos[sling.a]);
                    }
                }
                if count > 0.0 {
                    self.state.pos[p] = sum.map(|c| c / count);
                }
            }
        }
    }

    /// Sets the bands of the lines of given length so that at the present positions they carry just what their
    /// law says.
    fn set_bands(&mut self) {
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
    fn match_pulls(&mut self) {
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
    fn pull(&self, index: usize) -> f64 {
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

    fn save(&mut self) {
        self.work.saved_pos.clone_from(&self.state.pos);
        self.work.saved_tension.clone_from(&self.state.tension);
    }

    fn restore(&mut self) {
        self.state.pos.clone_from(&self.work.saved_pos);
        self.state.tension.clone_from(&self.work.saved_tension);
        self.state.pass_on(&self.flat);
    }

    /// Lines whose tension was sought must pull, and not stretch beyond sense.
    fn taut(&self, s: &Structure) -> Result<(), RigError> {
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

    /// The point that is farthest from where it began, as a share of the rig's size.
    fn farthest(&self) -> usize {
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
    fn held(&mut self, s: &Structure) -> Result<(), RigError> {
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
    fn why_not(&mut self, s: &Structure) -> RigError {
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

    fn hand_out(&self, s: &Structure, eq: &mut Equilibrium) {
        eq.positions.clear();
        eq.positions.extend(
            s.nodes
                .iter()
                .zip(&self.state.pos)
                .zip(&self.flat.slot)
                .map(|((node, p), slot)| if *slot == FIXED { node.at } else { Vec3::new(p[0], p[1], p[2]) }),
        );
        eq.tensions.clear();
        eq.tensions.extend(self.state.tension.iter().map(|t| Force::from_n(*t)));
        eq.iterations = self.work.steps;
        measure(s, eq);
        eq.residual = residual(s, eq).0;
        eq.allowed = allowed(s, eq);
    }

    /// Writes the answer and tests it: by the laws of the members, not by the search's own figures.
    fn certify(&mut self, s: &Structure, eq: &mut Equilibrium) -> Result<(), RigError> {
        self.held(s)?;
        self.hand_out(s, eq);
        if eq.residual < eq.allowed { Ok(()) } else { Err(not_balanced(s, eq)) }
    }
}

fn not_balanced(s: &Structure, eq: &Equilibrium) -> RigError {
    let (left, at) = residual(s, eq);
    let at = match at {
        At::Point(p) => s.nodes.get(p).map(|n| n.name.clone()),
        At::Line(l) => s.lines.get(l).map(|l| l.name.clone()),
    };
    RigError::NotBalanced { at: at.unwrap_or_default(), residual: left, allowed: eq.allowed }
}

fn clear(eq: &mut Equilibrium) {
    eq.positions.clear();
    eq.forces.clear();
    eq.tensions.clear();
    eq.legs.clear();
    eq.slings.clear();
    eq.turns.clear();
    eq.residual = Force::ZERO;
    eq.allowed = Force::ZERO;
    eq.iterations = 0;
}
