//! The solver: which search when, what to do when one fails, and the certificate at the end.

use super::check::check;
use super::descent::{Descent, MOST_STEPS, descend};
use super::equilibrium::Equilibrium;
use super::error::RigError;
use super::flat::{FIXED, Flat, FlatDrive, State, array};
use super::loads::{allowed, measure, residual};
use super::potential::Work;
use super::refine::refine;
use super::why::not_balanced;
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
    pub(super) flat: Flat,
    pub(super) state: State,
    pub(super) work: Work,
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

    pub(super) fn save(&mut self) {
        self.work.saved_pos.clone_from(&self.state.pos);
        self.work.saved_tension.clone_from(&self.state.tension);
    }

    pub(super) fn restore(&mut self) {
        self.state.pos.clone_from(&self.work.saved_pos);
        self.state.tension.clone_from(&self.work.saved_tension);
        self.state.pass_on(&self.flat);
    }

    pub(super) fn hand_out(&self, s: &Structure, eq: &mut Equilibrium) {
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
