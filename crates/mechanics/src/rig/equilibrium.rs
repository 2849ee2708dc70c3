//! What the solver hands out: where every point is and what every member carries.

use unmire_model::{Angle, Force, Length, Vec3};

/// One leg of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Index of the line.
    pub line: usize,
    /// Index of the point where it starts, seen from the line's first end.
    pub from: usize,
    /// Index of the point where it ends.
    pub to: usize,
    /// Its length.
    pub length: Length,
    /// Its tension.
    pub tension: Force,
}

/// One sling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlingLoad {
    /// Distance between its ends.
    pub length: Length,
    /// Its tension; zero when it is slack.
    pub tension: Force,
}
impl SlingLoad {
    /// Whether it carries nothing. A result that must be told, not an error.
    #[must_use]
    pub fn is_slack(self) -> bool {
        self.tension == Force::ZERO
    }
}

/// A line's way round a sheave or through a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnLoad {
    /// Index of the line.
    pub line: usize,
    /// Index of the point.
    pub point: usize,
    /// By how much the line changes its direction there: 0 for straight on, 180 degrees for there and back.
    pub wrap: Angle,
    /// Tension beyond ÷ tension before.
    pub ratio: f64,
    /// The force of this line on the point, both legs together; newtons.
    pub resultant: Vec3,
}

/// The equilibrium of a structure. Indices are those of the structure. Buffers are reused by the `_into` calls.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Equilibrium {
    /// Where every point is.
    pub positions: Vec<Vec3>,
    /// The force of the rig (all lines and slings) on every point; newtons. At a free point it is what carries its weight.
    pub forces: Vec<Vec3>,
    /// Tension of every line at its first point.
    pub tensions: Vec<Force>,
    /// Every leg of every line: the legs of line 0 in order, then those of line 1, and so on.
    pub legs: Vec<Leg>,
    /// Every sling.
    pub slings: Vec<SlingLoad>,
    /// Every turn of every line, in the order of the legs.
    pub turns: Vec<TurnLoad>,
    /// The greatest out-of-balance force, drives included.
    pub residual: Force,
    /// What the residual was held against: 1e-9 of the greatest of line pull, weight and 1 N.
    pub allowed: Force,
    /// Newton steps that were taken.
    pub iterations: u32,
}
impl Equilibrium {
    /// The legs of one line, in order.
    ///
    /// # Source
    /// None: it reads what the solver handed out.
    pub fn legs_of(&self, line: usize) -> impl Iterator<Item = &Leg> {
        self.legs.iter().filter(move |leg| leg.line == line)
    }
    /// The turns of one line, in order.
    ///
    /// # Source
    /// None: it reads what the solver handed out.
    pub fn turns_of(&self, line: usize) -> impl Iterator<Item = &TurnLoad> {
        self.turns.iter().filter(move |turn| turn.line == line)
    }
    /// Indices of the slings that carry nothing.
    ///
    /// # Source
    /// None: it reads what the solver handed out.
    pub fn slack_slings(&self) -> impl Iterator<Item = usize> + '_ {
        self.slings.iter().enumerate().filter(|(_, s)| s.is_slack()).map(|(i, _)| i)
    }
}
