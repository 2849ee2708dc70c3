//! Equilibrium of a rig: where its blocks and rings settle, and what every leg, sling and anchor then carries.
//!
//! The rig is a [`Structure`] of fixed and free points, elastic slings that can only pull, and lines reeved through
//! points with friction at every turn. With the tensions given, the balance is the least point of a convex potential and
//! is found by damped Newton steps (`descent`); rings whose friction follows the wrap angle and tensions that are
//! sought come in as further unknowns of one Newton search (`refine`). Every answer is certified: its greatest
//! out-of-balance force, worked out anew from the laws of the members (`loads`), is below 1e-9 of the greatest of line
//! pull, weight and 1 N. Anything else is a [`RigError`] that names the point or the member.
//!
//! It does not know: weight and sag of lines and slings, size of sheaves (they are points), stiffness of ropes in bending,
//! anything that moves, or the strength of a part.
//!
//! ```
//! use unmire_mechanics::rig::solve;
//! use unmire_model::rig::{Line, Node, Sling, Structure, Turn};
//! use unmire_model::{Force, Length, Silent, Vec3};
//! // Winch, block on a strap round a tree, dead end back on the vehicle: a double line, 5 % lost at the block.
//! let mut line = Line::hauled("line", vec![0, 3, 1], Force::from_kn(20.0));
//! line.turns = vec![Turn::Sheave { ratio: 0.95 }];
//! let rig = Structure {
//!     nodes: vec![
//!         Node::fixed("winch", Vec3::new(0.0, 0.3, 0.0)),
//!         Node::fixed("hook", Vec3::new(0.0, -0.3, 0.0)),
//!         Node::fixed("tree", Vec3::new(15.0, 0.0, 0.0)),
//!         Node::free("block", Vec3::new(13.0, 0.0, 0.0)),
//!     ],
//!     slings: vec![Sling::new("strap", 2, 3, Length::from_m(2.0), Force::from_kn(1200.0))],
//!     lines: vec![line],
//! };
//! let eq = solve(&rig, &mut Silent)?;
//! assert!((eq.slings[0].tension.as_kn() - 39.0).abs() < 0.05);
//! assert!((eq.legs[1].tension.as_kn() - 19.0).abs() < 1e-9);
//! # Ok::<(), unmire_mechanics::rig::RigError>(())
//! ```

// Comparisons are written so that not-a-number falls on the side of 'not good enough'.
#![allow(clippy::neg_cmp_op_on_partial_ord)]

mod check;
mod dense;
mod descent;
mod equilibrium;
mod error;
mod explain;
mod flat;
mod law;
mod loads;
mod potential;
mod refine;
mod solver;
mod sought;
mod why;

pub use equilibrium::{Equilibrium, Leg, SlingLoad, TurnLoad};
pub use error::RigError;
pub use explain::explain;
pub use law::{passed_on, sling_tension, wrap_angle};
pub use solver::Solver;

use unmire_model::Recorder;
use unmire_model::rig::Structure;

/// The certified equilibrium of a structure, with its working. For many structures in a row see [`Solver`].
///
/// # Source
/// `statics`: the sum of the forces at every free point is zero; derived. `capstan` for plain rings.
/// # Errors
/// [`RigError`]: what is wrong with the structure, or why it has no certified equilibrium.
/// # Assumes
/// See the head of this module; friction as in [`passed_on`].
pub fn solve(s: &Structure, rec: &mut impl Recorder) -> Result<Equilibrium, RigError> {
    let eq = Solver::default().solve(s)?;
    explain(s, &eq, rec);
    Ok(eq)
}
