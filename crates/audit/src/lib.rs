//! What may be held against a rig: one rule a file, each with a stable code, a doc and a check.
//!
//! [`judge`] takes the [`facts::Facts`] of one rig (loads on every part at work and at stall, geometry, labels) and
//! gives back the checks, the findings, the verdict and the stop load under a named [`policy::Policy`]. It computes no
//! mechanics: demands and capacities come in, ratios and words go out.

pub mod facts;
pub mod verdict;
