//! Why a structure has no answer. Every error names the point or the member that it is about; a number that isn't
//! certain is never handed out in its place.

use core::fmt;
use unmire_model::Force;

/// Why a structure has no answer.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum RigError {
    /// There are no points.
    Empty,
    /// More points or members than the solver takes.
    TooLarge {
        /// What there is too much of.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many it takes.
        most: usize,
    },
    /// An input is not an ordinary number, or outside what a rig can have.
    BadValue {
        /// Which input, with the name of its point or member.
        what: String,
        /// What it was, in SI.
        got: f64,
        /// What was expected, with an example.
        expected: &'static str,
    },
    /// A member or a drive names a point that isn't there.
    NoSuchPoint {
        /// The member that names it.
        member: String,
        /// The index it gave.
        index: usize,
        /// How many points there are; indices count from zero.
        points: usize,
    },
    /// A member does not hang together: a line's path and turns, or a sling with one end only.
    BadMember {
        /// The member.
        member: String,
        /// What is wrong, and what was expected.
        why: String,
    },
    /// Two ends of a leg lie on the same spot, and neither can move: the leg has no direction.
    Coincident {
        /// The line.
        line: String,
        /// One end.
        from: String,
        /// The other end.
        to: String,
    },
    /// A free point that nothing keeps: it has no member, only the loose end of a line, or its members let it run away.
    Unsupported {
        /// The point.
        point: String,
    },
    /// The forces balance and the point still has no place of its own: it can drift without resistance.
    Mechanism {
        /// The point that drifts most.
        point: String,
    },
    /// The ends of a leg are pulled into each other; the model ends where blocks touch.
    ClosedUp {
        /// The line.
        line: String,
        /// One end of the leg.
        from: String,
        /// The other end.
        to: String,
    },
    /// The line would have to push, or it is longer than its way: it hangs slack.
    SlackLine {
        /// The line.
        line: String,
    },
    /// The line is far too short for its way: it would have to stretch by more than its own length.
    Unreachable {
        /// The line.
        line: String,
        /// The tension that its stiffness would ask for, as a multiple of EA.
        strain: f64,
    },
    /// A pull is asked for on a point that moves. A free point balances itself, so its pull is no measure of anything.
    PullOnFreePoint {
        /// The line.
        line: String,
        /// The point.
        point: String,
    },
    /// The points that should be pulled feel nothing along the direction asked for, or are pulled the other way.
    NoPull {
        /// The line.
        line: String,
        /// Component of the force per newton of line tension.
        per_newton: f64,
    },
    /// The search ended without a balance that is good enough to be handed out.
    NotBalanced {
        /// The point or the line with the greatest remainder.
        at: String,
        /// The out-of-balance force there.
        residual: Force,
        /// What is allowed.
        allowed: Force,
    },
}

impl fmt::Display for RigError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "the rig has no points; expected at least one, for example a fixed anchor"),
            Self::TooLarge { what, count, most } => write!(f, "{count} {what}; expected at most {most}"),
            Self::BadValue { what, got, expected } => write!(f, "{what} is {got}; expected {expected}"),
            Self::NoSuchPoint { member, index, points } => {
                write!(f, "{member} names point number {index}, but there are {points} points, counted from 0")
            }
            Self::BadMember { member, why } => write!(f, "{member}: {why}"),
            Self::Coincident { line, from, to } => {
                write!(
                    f,
                    "line '{line}': '{from}' and '{to}' are on the same spot, so the leg between them has no direction"
                )
            }
            Self::Unsupported { point } => {
                write!(f, "free point '{point}' is not supported: nothing that is attached to it can keep it in place")
            }
            Self::Mechanism { point } => {
                write!(
                    f,
                    "free point '{point}' is held by nothing: it can drift without resistance (are its slings slack?)"
                )
            }
            Self::ClosedUp { line, from, to } => {
                write!(
                    f,
                    "line '{line}': the leg from '{from}' to '{to}' has closed up; the two are pulled into each other"
                )
            }
            Self::SlackLine { line } => write!(f, "line '{line}' hangs slack: it would have to push"),
            Self::Unreachable { line, strain } => {
                write!(
                    f,
                    "line '{line}' doesn't reach: its tension would be {strain:.1} times its stiffness EA; expected less than 1"
                )
            }
            Self::PullOnFreePoint { line, point } => {
                write!(
                    f,
                    "line '{line}': a pull is asked for on free point '{point}'; name the fixed points that are to be pulled"
                )
            }
            Self::NoPull { line, per_newton } => write!(
                f,
                "line '{line}': its tension doesn't pull the given points along the given direction ({per_newton:.3} N per N of tension; expected more than 0)"
            ),
            Self::NotBalanced { at, residual, allowed } => write!(
                f,
                "no certified balance was found: {:.3e} N remain at '{at}', {:.3e} N are allowed",
                residual.as_n(),
                allowed.as_n()
            ),
        }
    }
}
impl core::error::Error for RigError {}
