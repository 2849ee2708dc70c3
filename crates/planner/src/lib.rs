//! From a case to ranked, checked rigs: need → candidates → equilibrium → loads → audit → ranking.
//!
//! [`plan`] looks for rigs, [`check`] judges the one that the case gives, [`check_layout`] one that stands beside it,
//! [`balance`] solves a bare structure.
//! All three give a [`report::Report`], which the views print and compute nothing from.
//!
//! | module | answers |
//! |---|---|
//! | [`demand`] | how much pull is needed, and what digging and the like bring |
//! | [`choices`] | which rigs the ground and the vehicles allow |
//! | [`fill`], [`connect`] | which pieces of the kit are best for one choice, proved best |
//! | [`build`], [`loads`] | the rig as a structure, solved at work and at stall |
//! | [`sharing`] | the most that legs which share may get |
//! | [`parts`], [`evaluate`] | what every part carries and can take, as facts for the rules |
//! | [`kinetic`] | a helper's run-up on a rope that stretches |
//! | [`rank`] | which rig comes first |
//! | [`present`] | one rig as a plan in the reader's words |

#![cfg_attr(target_arch = "wasm32", allow(const_item_mutation, reason = "there `Silent` is a constant"))]

mod about;
pub mod anchor;
mod backed;
mod balance;
pub mod build;
pub mod choices;
pub mod connect;
pub mod context;
pub mod crossing;
pub mod demand;
pub mod evaluate;
pub mod explain;
pub mod fill;
pub mod glance;
pub mod holding;
pub mod keep_out;
pub mod kinetic;
pub mod loads;
pub mod parked;
pub mod parts;
pub mod plan;
pub mod present;
pub mod pull;
pub mod rank;
pub mod recoil;
pub mod report;
pub mod rigging;
pub mod screen;
pub mod sharing;
pub mod site;
pub mod steadiness;
pub mod steps;
pub mod words;

pub use balance::balance;
pub use glance::{Glance, Glancer, glance};
pub use plan::{Options, PlanError, Progress, check, check_layout, plan, plan_watched};
