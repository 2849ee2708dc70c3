//! Whether the pulled vehicle may roll or pitch over: static, about the tyre line on either side.

mod axes;
mod pitch;
mod roll;
mod tip;

pub use axes::{GroundAxes, ground_axes};
pub use pitch::{Pitch, pitch};
pub use roll::{Pull, Roll, RollSide, effective_angle, hold_tension, roll, roll_ratio};
pub use tip::{Tip, TipOver, tip};
