//! What may be held against a rig: one rule a file, each with a stable code, a doc and a check.
//!
//! [`judge`] takes the [`facts::Facts`] of one rig (loads on every part at work and at stall, geometry, labels) and
//! gives back the checks, the findings, the verdict and the stop load under a named [`policy::Policy`]. It computes no
//! mechanics: demands and capacities come in, ratios and words go out.
//!
//! Start reading at [`assess::assess`] (one part, one row of a policy), then [`judge::judge`] (a rig), then
//! [`rules::RULES`] (all that may be said).

#![cfg_attr(target_arch = "wasm32", allow(const_item_mutation, reason = "there `Silent` is a constant"))]

pub mod assess;
pub mod compare;
pub mod facts;
pub mod findings;
pub mod judge;
pub mod policy;
pub mod rules;
pub mod strength;
pub mod verdict;

#[cfg(test)]
mod assess_tests;
#[cfg(test)]
mod testkit;

pub use judge::{Judgement, judge, judge_quietly};
pub use policy::Policy;
pub use rules::explain;
