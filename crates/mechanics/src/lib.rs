//! The mechanics: formulas, one phenomenon a file.
//!
//! Pure: no file, clock, print, thread or unseeded chance; knows no policy, file format or screen. Every formula that makes a
//! number which a reader may want explained takes a recorder; recording changes no bit of the result. What is not known is
//! `None` or an error with its reason, never a zero.
//!
//! | room | answers |
//! |---|---|
//! | [`ground`] | how much pull it takes, and what digging and the like bring |
//! | [`hitch`] | how a strap lies round a trunk, what its legs carry, how hard it presses |
//! | [`rope`], [`sheave`], [`shackle`] | what ropes, turns and fittings do to a force |
//! | [`winch`] | what a winch can pull, what it pulls at stall, what it draws and how fast it winds, by layer |
//! | [`lowering`] | what lets a vehicle down a slope |
//! | [`anchor`] | what a tree, a stump or anything else holds, what the bark under a strap stands, when to stop |
//! | [`tow`] | what a helper gives by driving |
//! | [`kinetic`] | what a moving vehicle does to a stuck one through a stretching rope |
//! | [`stability`] | whether the vehicle may roll or pitch over |
//! | [`recoil`] | how far people stay away |
//! | [`rig`] | where the points of a rig settle, and the tension in every leg |

#![cfg_attr(target_arch = "wasm32", allow(const_item_mutation, reason = "there `Silent` is a constant"))]

pub mod anchor;
pub mod error;
pub mod ground;
pub mod hitch;
pub mod kinetic;
mod lookup;
pub mod lowering;
pub mod recoil;
pub mod rig;
pub mod rope;
pub mod shackle;
pub mod sheave;
pub mod stability;
pub mod standing;
pub mod tow;
pub mod winch;

pub use error::MechanicsError;
pub use standing::Warning;
