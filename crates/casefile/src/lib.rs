//! The documents that people write: a case, a bag of gear, a bare rig. Read with exact positions, every mistake at
//! once; written; described by a JSON Schema. No I/O: a kit file is fetched by a closure that the caller gives.
//!
//! ```
//! let text = r#"
//! schema = "unmire.rig/1"
//! [[point]]
//! name = "W"
//! at = [0, 0, 0]
//! fixed = true
//! [[point]]
//! name = "A"
//! at = [20, 0, 0]
//! fixed = true
//! [[line]]
//! name = "line"
//! path = ["W", "A"]
//! tension = "20 kN"
//! "#;
//! let read = unmire_casefile::read(text, &mut |path| Err(format!("no file {path} here")));
//! assert!(matches!(read, Ok(unmire_casefile::Document::Rig(_))));
//! let wrong = unmire_casefile::read(&text.replace("20 kN", "2 tons"), &mut |_| Err(String::new())).unwrap_err();
//! assert_eq!((wrong[0].line, wrong[0].code), (14, "which-ton"));
//! ```
//!
//! What it does not do: judge a rig, look anything up in a data table (the caller may pass the tables' keys as
//! [`Known`]), or guess a value that is missing.

mod amount;
pub mod diagnostic;
mod guide;
pub mod key;
pub mod keys;
mod label;
mod list;
mod mend;
mod new;
mod place;
mod read;
mod schema;
mod walk;
mod words;
mod write;

pub use diagnostic::{Diagnostic, render};
pub use guide::guide;
pub use new::{AnswerError, Question, case_from_answers, questions};
pub use read::{LARGEST, read, read_bytes, read_with};
pub use schema::schema;
pub use words::{AnchorKey, WordError, anchor_from_words, keys_of_anchor};
pub use write::{write_case, write_kinetic, write_kit, write_layout, write_rig};

use unmire_model::case::Case;
use unmire_model::gear::Piece;
use unmire_model::kinetic::BarePull;
use unmire_model::rig::Structure;

/// The word that a case file starts with.
pub const CASE_SCHEMA: &str = "unmire.case/1";
/// The word that a kit file starts with.
pub const KIT_SCHEMA: &str = "unmire.kit/1";
/// The word that a bare rig starts with.
pub const RIG_SCHEMA: &str = "unmire.rig/1";
/// The word that a bare kinetic problem starts with.
pub const KINETIC_SCHEMA: &str = "unmire.kinetic-problem/1";

/// What a file turned out to be.
#[derive(Clone, Debug, PartialEq)]
pub enum Document {
    /// A case.
    Case(Box<Case>),
    /// A bag.
    Kit(Vec<Piece>),
    /// A bare rig.
    Rig(Structure),
    /// A bare kinetic problem.
    Kinetic(Box<BarePull>),
}

/// Keys of the data tables, so that a word that is in no table is told of where it stands. An empty list checks nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Known<'a> {
    /// Surfaces of the rolling-resistance table.
    pub surfaces: &'a [&'a str],
    /// Soils of the terramechanics table.
    pub soils: &'a [&'a str],
    /// Species of the tree tables.
    pub species: &'a [&'a str],
    /// Soils of the table of anchor soils.
    pub anchor_soils: &'a [&'a str],
    /// Rocks of the table of bond strengths.
    pub rocks: &'a [&'a str],
    /// Grounds of the table of foundation friction.
    pub foundations: &'a [&'a str],
    /// Names of policies.
    pub policies: &'a [&'a str],
}
