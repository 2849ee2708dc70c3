//! From a case to ranked, checked rigs: need → candidates → equilibrium → loads → audit → ranking.
//!
//! [`plan`] looks for rigs, [`check`] judges the one that the case gives, [`balance`] solves a bare structure.
//! All three give a [`report::Report`], which the views print and compute nothing from.

pub mod report;
