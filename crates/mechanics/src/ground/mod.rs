//! How much pull it takes to get the vehicle out: as a range, with its parts, beside what other rules say.
//!
//! Not mired: `W (r cos θ + sin θ)` and what stands in the way. Mired: `W m + W sin θ` and what stands in the way, where the
//! band m already holds the rolling part. The coarse rule 'a grade counts as one weight' is an alternative to `W sin θ`, never
//! added to it. W is all that moves.
//!
//! Doctrine and terramechanics stand beside each other; the case names which one the verdict uses. Several doctrines are
//! known from memory only, and say so.

mod action;
mod alternatives;
mod arithmetic;
mod bekker;
mod mired;
mod need;
mod rolling;
mod runaway;
mod terramechanics;

pub use action::{ActionKind, Effect, applicable_actions, combined_factor, effect};
pub use bekker::{Bekker, BekkerDoubt, Soil, bekker, compaction_resistance, sinkage, soil, soil_thrust};
pub use mired::{Doctrine, depth_word, doctrines, mire_band};
pub use need::{NamedEstimate, Need, NeedPart, Scene, need, need_after};
pub use rolling::{
    Rolling, body_factor, drawbar, grade_by_degrees, grade_by_sixty, grade_resistance, ground_factor_resistance,
    haul_road_resistance, penetration_share, rolling, rolling_resistance, slope_by_fifteen,
};
pub use runaway::can_run_away;
