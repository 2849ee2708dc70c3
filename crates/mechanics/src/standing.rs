//! How well a number is known, and what the reader must be told beside it.

use core::fmt;

/// A finding of a formula: something that the reader must know beside the number. The audit and the planner turn it
/// into their own findings; the code is stable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// A stable code, as `mire-from-memory`.
    pub code: &'static str,
    /// A sentence for the reader.
    pub text: String,
}
impl Warning {
    /// From a code and a sentence.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn new(code: &'static str, text: impl Into<String>) -> Self {
        Self { code, text: text.into() }
    }
}
impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} [{}]", self.text, self.code)
    }
}
