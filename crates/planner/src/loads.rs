//! The solved rig: at work with poor and with good sheaves, and at stall with no relief by friction.
//!
//! Work: the need is given along the way out, the winch's tension follows. Poor sheaves raise it, good ones load what
//! lies beyond them; every part takes its worst over both. Stall: the winch's tension is given, nothing is spared.

use crate::build::Built;
use crate::rigging::Rigging;
use unmire_mechanics::rig::{Equilibrium, RigError, Solver};
use unmire_mechanics::sheave;
use unmire_model::gear::{Bearing, Piece, PieceKind};
use unmire_model::rig::{Drive, Motion, Structure, Turn};
use unmire_model::{Angle, Force, Vec3};

/// A rig solved for every question that is asked of it.
#[derive(Clone, Debug)]
pub struct Loads {
    /// At the high end of the need, sheaves at their worst.
    pub poor: Equilibrium,
    /// At the high end of the need, sheaves at their best.
    pub good: Equilibrium,
    /// At stall, without friction; none where nothing can stall, or where the stall is not known.
    pub stall: Option<Equilibrium>,
    /// Whether something can stall and nobody knows at which pull: nothing then passes.
    pub stall_unknown: bool,
}

/// How a line passes a block or a ring, worst or best.
pub(crate) fn turn_of(block: Option<&Piece>, poor: bool) -> Turn {
    let pick = |r: unmire_model::Range<f64>| if poor { r.low() } else { r.high() };
    match block.map(|b| &b.kind) {
        Some(PieceKind::Block { bearing, .. }) => Turn::Sheave { ratio: pick(sheave::efficiency(*bearing)) },
        Some(PieceKind::Ring { friction, .. }) => {
            let mu = friction.as_ref().map_or_else(sheave::default_ring_friction, |f| f.value);
            Turn::Ring { friction: if poor { mu.high() } else { mu.low() } }
        }
        _ => Turn::Sheave { ratio: pick(sheave::efficiency(Bearing::Unknown)) },
    }
}

fn set(structure: &mut Structure, rigging: &Rigging<'_>, poor: bool) {
    if let Some(line) = structure.lines.first_mut() {
        line.motion = Motion::Hauling;
        for (turn, stop) in line.turns.iter_mut().zip(&rigging.stops) {
            *turn = turn_of(stop.block, poor);
        }
    }
}

/// Sets a structure up for work: the need along the way out on the stuck vehicle's points, sheaves at their worst.
pub fn at_work(structure: &mut Structure, rigging: &Rigging<'_>, need: Force, way_out: Vec3, stuck: &[usize]) {
    if let Some(line) = structure.lines.first_mut() {
        line.drive = Drive::Pull { points: stuck.to_vec(), direction: way_out, force: need };
    }
    set(structure, rigging, true);
}

/// Solves a built rigging, searched from an equilibrium nearby, or afresh from one that is empty.
///
/// # Errors
/// As the solver: a rig that has no certified balance has no loads.
pub fn solve(
    solver: &mut Solver,
    built: &mut Built,
    rigging: &Rigging<'_>,
    need: Force,
    way_out: Vec3,
    near: Equilibrium,
    stall_of: impl FnOnce(&Equilibrium, &Built) -> Option<Force>,
) -> Result<Loads, RigError> {
    at_work(&mut built.structure, rigging, need, way_out, &built.stuck);
    let mut poor = near;
    solver.solve_from(&built.structure, &mut poor)?;
    // The next two are the same rig under other forces: the search for them starts where this one ended.
    let mut good = poor.clone();
    if built.structure.lines.first().is_some_and(|l| !l.turns.is_empty()) {
        set(&mut built.structure, rigging, false);
        solver.solve_from(&built.structure, &mut good)?;
    }
    let wanted = stall_of(&poor, built);
    let stall_unknown = wanted.is_some_and(|t| !t.is_finite());
    let stall = match wanted.filter(|_| !stall_unknown) {
        None => None,
        Some(tension) => {
            if let Some(line) = built.structure.lines.first_mut() {
                line.drive = Drive::Tension(tension);
                line.motion = Motion::Frictionless;
            }
            let mut stalled = poor.clone();
            solver.solve_from(&built.structure, &mut stalled)?;
            Some(stalled)
        }
    };
    Ok(Loads { poor, good, stall, stall_unknown })
}

impl Loads {
    /// A force at work: the worse of poor and good sheaves.
    pub fn work(&self, f: impl Fn(&Equilibrium) -> f64) -> Force {
        Force::from_n(f(&self.poor)).max(Force::from_n(f(&self.good)))
    }
    /// The same force at stall.
    pub fn at_stall(&self, f: impl Fn(&Equilibrium) -> f64) -> Option<Force> {
        self.stall.as_ref().map(|e| Force::from_n(f(e)))
    }
    /// Tension at the winch at work.
    #[must_use]
    pub fn pull_work(&self) -> Force {
        self.work(first_tension)
    }
    /// Tension at the winch at stall.
    #[must_use]
    pub fn pull_stall(&self) -> Option<Force> {
        // No ordinary number: the rules call the whole rig unknown.
        if self.stall_unknown { Some(Force::from_n(f64::NAN)) } else { self.at_stall(first_tension) }
    }
    /// How steeply the line rises from a node that is held, the steepest of all its solutions.
    #[must_use]
    pub fn rise_at(&self, node: usize) -> Angle {
        let rises = self.all().map(|e| rise_of(force_at(e, node)));
        rises.reduce(Angle::max).unwrap_or(Angle::ZERO)
    }
    /// All its solutions.
    pub fn all(&self) -> impl Iterator<Item = &Equilibrium> {
        [Some(&self.poor), Some(&self.good), self.stall.as_ref()].into_iter().flatten()
    }
    /// The greatest out-of-balance force of all its solutions.
    #[must_use]
    pub fn residual(&self) -> Force {
        self.all().fold(Force::ZERO, |m, e| m.max(e.residual))
    }
}

/// Tension of the first line at its first point.
#[must_use]
pub fn first_tension(e: &Equilibrium) -> f64 {
    e.tensions.first().map_or(f64::NAN, |t| t.as_n())
}
/// Tension of the first line's last leg.
#[must_use]
pub fn last_tension(e: &Equilibrium) -> f64 {
    e.legs.iter().rev().find(|l| l.line == 0).map_or(f64::NAN, |l| l.tension.as_n())
}
/// Greatest tension of any leg of the first line.
#[must_use]
pub fn greatest_tension(e: &Equilibrium) -> f64 {
    e.legs.iter().filter(|l| l.line == 0).fold(f64::NAN, |m, l| l.tension.as_n().max(m))
}
/// The line's force on a stop: at a block both legs together, at the dead end the last leg.
#[must_use]
pub fn stop_force(e: &Equilibrium, stop: usize, last: bool) -> f64 {
    if last {
        last_tension(e)
    } else {
        e.turns.iter().filter(|t| t.line == 0).nth(stop).map_or(f64::NAN, |t| t.resultant.norm())
    }
}
/// Tension of a sling.
#[must_use]
pub fn sling_tension(e: &Equilibrium, sling: usize) -> f64 {
    e.slings.get(sling).map_or(f64::NAN, |s| s.tension.as_n())
}
/// How steeply a pull rises above the level; level where nothing pulls.
#[must_use]
pub fn rise_of(pull: Vec3) -> Angle {
    Angle::from_rad(libm::atan2(pull.z, libm::hypot(pull.x, pull.y)))
}
/// Force of the whole rig on a point.
#[must_use]
pub fn force_at(e: &Equilibrium, node: usize) -> Vec3 {
    e.forces.get(node).copied().unwrap_or(Vec3::new(f64::NAN, f64::NAN, f64::NAN))
}
