//! The rig as a structure: points, tension-only slings, and lines reeved through points. What the equilibrium solver
//! takes. It knows no gear: a part's strength is somebody else's question.

use crate::{Force, Length, Vec3};

/// A point: an anchor's attachment, a recovery point, a fairlead (fixed), or a block, ring or junction (free).
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Its name, for messages and outputs.
    pub name: String,
    /// Where it is; for a free point, where a search may start.
    pub at: Vec3,
    /// Whether it can't move.
    pub fixed: bool,
    /// Its weight, pulling down at a free point.
    pub weight: Force,
}

impl Node {
    /// A point that can't move.
    #[must_use]
    pub fn fixed(name: impl Into<String>, at: Vec3) -> Self {
        Self { name: name.into(), at, fixed: true, weight: Force::ZERO }
    }
    /// A point that settles where its members hold it; the search starts at `at`.
    #[must_use]
    pub fn free(name: impl Into<String>, at: Vec3) -> Self {
        Self { name: name.into(), at, fixed: false, weight: Force::ZERO }
    }
    /// The same with a weight.
    #[must_use]
    pub fn with_weight(self, weight: Force) -> Self {
        Self { weight, ..self }
    }
}

/// An elastic member between two points that can only pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Sling {
    /// Its name.
    pub name: String,
    /// Index of one end.
    pub a: usize,
    /// Index of the other end.
    pub b: usize,
    /// Length when slack.
    pub rest_length: Length,
    /// Stiffness EA: force per unit strain.
    pub ea: Force,
}

impl Sling {
    /// From its parts.
    #[must_use]
    pub fn new(name: impl Into<String>, a: usize, b: usize, rest_length: Length, ea: Force) -> Self {
        Self { name: name.into(), a, b, rest_length, ea }
    }
}

/// How a line passes a point between its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turn {
    /// A sheave that passes on this ratio of the tension when hauled (1 = no friction).
    Sheave {
        /// Tension beyond ÷ tension before, when hauled.
        ratio: f64,
    },
    /// A plain ring or pin: capstan law with this friction coefficient over the wrap angle that the solution has.
    Ring {
        /// Friction coefficient.
        friction: f64,
    },
}

impl Turn {
    /// A sheave without friction.
    pub const SMOOTH: Self = Self::Sheave { ratio: 1.0 };
}

/// Which way friction acts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Motion {
    /// The line comes in: each turn passes on less.
    #[default]
    Hauling,
    /// The line holds or pays out: each turn passes on more.
    Lowering,
    /// No friction.
    Frictionless,
}

/// What is known of a line's tension at its first point.
#[derive(Clone, Debug, PartialEq)]
pub enum Drive {
    /// The tension of the first leg.
    Tension(Force),
    /// The component along a direction of all line and sling forces on these points; the tension is sought.
    Pull {
        /// Indices of the points that are pulled; they must be fixed, for a free point balances itself.
        points: Vec<usize>,
        /// The direction; need not be of unit length.
        direction: Vec3,
        /// The component of the total force along it.
        force: Force,
    },
    /// The line's slack length and stiffness; the tension is sought. Also an equalising line.
    Length {
        /// Length of the whole line when slack.
        rest_length: Length,
        /// Stiffness EA.
        ea: Force,
    },
}

/// A line reeved in order through points, from the winch (or the first dead end) to the last dead end.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its name.
    pub name: String,
    /// Indices of the points, in order; at least two.
    pub path: Vec<usize>,
    /// How it passes each point between the ends: `path.len() - 2` entries.
    pub turns: Vec<Turn>,
    /// Which way friction acts.
    pub motion: Motion,
    /// What is known of it.
    pub drive: Drive,
}

impl Line {
    /// A line that is hauled at a given tension over frictionless sheaves. Change the public fields for the rest.
    #[must_use]
    pub fn hauled(name: impl Into<String>, path: Vec<usize>, tension: Force) -> Self {
        let turns = vec![Turn::SMOOTH; path.len().saturating_sub(2)];
        Self { name: name.into(), path, turns, motion: Motion::Hauling, drive: Drive::Tension(tension) }
    }
}

/// All of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Structure {
    /// The points.
    pub nodes: Vec<Node>,
    /// The slings.
    pub slings: Vec<Sling>,
    /// The lines.
    pub lines: Vec<Line>,
}
