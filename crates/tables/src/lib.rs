//! The tables: constants generated from `data/`, each row with its source and how it is known.
//!
//! A table `data/picket.toml` becomes the module [`picket`] with a `Row` and its `ROWS`. Look-ups that
//! need more than a key (bands, steps, straight lines between rows) are written by hand in the other modules.
//!
//! ```
//! use unmire_tables::{Cited, picket, row};
//! let three = row(picket::ROWS, "3-2-1").ok_or("no such layout")?;
//! assert_eq!(three.holds.as_lbf(), 4000.0);
//! assert!(three.how().is_published());
//! # Ok::<(), &str>(())
//! ```

pub mod generated;
pub mod ground;
pub mod hardware;
mod source;

pub use generated::*;
pub use source::{How, Source, source};

use unmire_model::Origin;

/// A row that names its source.
pub trait Cited: Copy + 'static {
    /// Name of the table.
    const TABLE: &'static str;
    /// Key of the row.
    fn key(&self) -> &'static str;
    /// Key of the source.
    fn source(&self) -> &'static str;
    /// How it is known.
    fn how(&self) -> How;
    /// Where in the source.
    fn at(&self) -> &'static str;
    /// What the reader must know.
    fn note(&self) -> &'static str;
    /// Where a number of this row came from, for the trail of working.
    fn origin(&self) -> Origin {
        Origin::Table { table: Self::TABLE, row: self.key().to_owned(), source: self.source() }
    }
}

/// The row with a key.
#[must_use]
pub fn row<R: Cited>(rows: &'static [R], key: &str) -> Option<&'static R> {
    rows.iter().find(|r| r.key() == key)
}
