//! The whole pull: one rig, or one after the other, from first movement to the last metre.
//!
//! [`play`] moves the vehicle along its way out in steps; at each the rig is solved again from the step before, and the winch with
//! its drum, current, charge and heat goes along. The worst moments are judged by the same rules as a plan. Where a rig can't go
//! on, the next one is planned from there.

mod ahead;
mod brief;
mod events;
mod lowering;
mod moments;
mod path;
mod peaks;
mod place;
mod play;
pub mod report;
mod stage;
mod tally;
mod walk;

pub(crate) use brief::{Brief, brief};
pub(crate) use lowering::most as most_to_let_down;
pub use path::{Leg, Path, Pose};
pub use play::{PullOptions, history, play, play_rig};
