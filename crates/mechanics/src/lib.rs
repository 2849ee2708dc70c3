//! unmire-mechanics

pub mod rig;
