//! The exit status, and what goes wrong on the way to it.

use std::process::ExitCode;

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// It did what was asked; for a plan or a check: the best rig passes.
    Passes,
    /// No rig passes.
    NonePasses,
    /// The input or the command is at fault.
    BadInput,
}
impl From<Status> for ExitCode {
    fn from(s: Status) -> Self {
        Self::from(match s {
            Status::Passes => 0,
            Status::NonePasses => 1,
            Status::BadInput => 2,
        })
    }
}

/// Why it could not be done, in words that are ready to be printed.
#[derive(Debug)]
pub enum Trouble {
    /// One sentence, printed behind `error:`, and what to do about it.
    Said {
        /// What is wrong.
        what: String,
        /// What to do, if there is something.
        hint: Option<String>,
    },
    /// Already rendered: the complaints about a case file.
    Rendered(String),
}
impl Trouble {
    /// A sentence without a hint.
    pub fn new(what: impl Into<String>) -> Self {
        Self::Said { what: what.into(), hint: None }
    }
    /// A sentence with a hint.
    pub fn hint(what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Said { what: what.into(), hint: Some(hint.into()) }
    }
}
