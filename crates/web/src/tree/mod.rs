//! JSON as a tree, and reports and messages from it. Why not by derived code: for each of fifty types that comes out ten
//! times as large, and all files of the app together may weigh 700 kB.
//!
//! ```
//! use unmire_web::tree::{self, Tree};
//!
//! let tree = Tree::parse(r#"{ "mass": [2.4, null], "name": "wagon" }"#)?;
//! assert_eq!(tree.get("name").and_then(Tree::text), Some("wagon"));
//! assert_eq!(tree::read::<Vec<Option<f64>>>("[2.4, null]")?, [Some(2.4), None]);
//! # Ok::<(), tree::NoReading>(())
//! ```

mod parse;
mod read;
mod shapes;

pub use read::{Faults, Read, read, read_tree};

/// A JSON value.
#[derive(Clone, Debug, PartialEq)]
pub enum Tree {
    /// `null`.
    Null,
    /// A flag.
    Flag(bool),
    /// A number. Whole ones are exact up to 2^53.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Tree>),
    /// Names with values, in their order.
    Object(Vec<(String, Tree)>),
}
impl Tree {
    /// From a text.
    ///
    /// # Errors
    /// If it is no JSON, or nested deeper than 64 levels.
    pub fn parse(text: &str) -> Result<Self, NoReading> {
        parse::whole(text).ok_or_else(|| NoReading("this is no JSON".to_owned()))
    }
    /// The value behind a name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Object(all) => all.iter().find(|(n, _)| n == name).map(|(_, v)| v),
            _ => None,
        }
    }
    /// What it is as a text.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match self {
            Self::Text(t) => Some(t),
            _ => None,
        }
    }
}

/// Why something could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoReading(pub String);
impl core::fmt::Display for NoReading {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.0)
    }
}
impl core::error::Error for NoReading {}
