//! The vocabulary of unmire: quantities, ranges, roles of a force, geometry, gear, ground, anchors, vehicles,
//! the rig, and the trail of working.
//!
//! Everything here is plain data with public fields or small copyable types with their own algebra. Nothing here
//! reads a file, knows a policy or draws anything. The only dependency is `libm`.
//!
//! SI inside, whatever the label says outside: a unit appears only in a constructor (`Force::from_kn`) or an
//! accessor (`as_kn`).

pub mod anchor;
pub mod case;
pub mod drive;
pub mod gear;
pub mod geometry;
pub mod ground;
pub mod kinetic;
pub mod layout;
pub mod letters;
pub mod order;
pub mod quantity;
pub mod range;
pub mod rig;
pub mod role;
pub mod trail;
pub mod vehicle;

pub use geometry::Vec3;
pub use quantity::{
    Angle, Area, Charge, Current, Energy, Force, Length, Mass, Moment, Ohms, Pressure, Speed, Time, Voltage,
};
pub use range::Range;
pub use trail::{Input, Origin, Recorder, Silent, Trail};

/// Standard acceleration of free fall, exact by definition. Source key `cgpm-1901`.
pub const STANDARD_GRAVITY: f64 = 9.806_65;
