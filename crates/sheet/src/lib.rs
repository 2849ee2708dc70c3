//! What a reader sees of a [`Report`](unmire_planner::report::Report): terminal text, a drawing to scale, the JSON
//! that other programs rely on, and the working behind every number.
//!
//! One output a file. Each takes a finished report and computes nothing about the rig: it chooses words, units and
//! places on the page. It does not read or write files, and it does not know whether its reader has a terminal.
//!
//! - [`json`]: the stable shape `unmire.plan/1` and its schema
//! - [`terminal`]: plain text for a screen of any width, with colour only as an extra
//! - [`svg`]: the plan view
//! - [`explain`]: the trail of working
//! - [`codes`]: the text behind every code

pub mod codes;
mod codes_kinetic;
mod codes_pull;
mod codes_recoil;
pub mod explain;
pub mod json;
pub mod pull_csv;
pub mod svg;
pub mod terminal;
