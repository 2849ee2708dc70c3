//! Why a formula gives no number.

use core::fmt;
use unmire_model::Length;

/// Why a formula gives no number.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum MechanicsError {
    /// An input is not an ordinary number, or outside what the formula can take.
    BadInput {
        /// Which input, in words.
        what: &'static str,
        /// What it was, in SI.
        got: f64,
        /// What was expected, with an example.
        expected: &'static str,
    },
    /// A strap is too short for its hitch.
    StrapTooShort {
        /// How much is missing.
        short_by: Length,
        /// What it is too short for.
        what: &'static str,
    },
    /// A key is in no row of a table.
    UnknownKey {
        /// Which table.
        table: &'static str,
        /// The key that was asked for.
        key: String,
        /// The keys that there are.
        known: Vec<&'static str>,
    },
    /// Something that the formula needs was not told.
    Missing {
        /// What is missing, in words.
        what: &'static str,
        /// What to do about it.
        help: &'static str,
    },
}

impl fmt::Display for MechanicsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BadInput { what, got, expected } => write!(f, "{what} is {got}; expected {expected}"),
            Self::StrapTooShort { short_by, what } => {
                // Rounded up: a strap that is short by 1 mm is short.
                let centimetres = (short_by.as_cm() - 1e-9).ceil();
                write!(f, "the strap is {:.2} m too short for {what}", centimetres / 100.0)
            }
            Self::UnknownKey { table, key, known } => {
                write!(f, "'{key}' is not in the table of {table}; it has: {}", known.join(", "))
            }
            Self::Missing { what, help } => write!(f, "{what} is missing: {help}"),
        }
    }
}
impl core::error::Error for MechanicsError {}

/// Passes an ordinary number greater than zero.
pub(crate) fn positive(what: &'static str, v: f64, expected: &'static str) -> Result<f64, MechanicsError> {
    if v.is_finite() && v > 0.0 { Ok(v) } else { Err(MechanicsError::BadInput { what, got: v, expected }) }
}

/// Passes an ordinary number that is zero or more.
pub(crate) fn not_negative(what: &'static str, v: f64, expected: &'static str) -> Result<f64, MechanicsError> {
    if v.is_finite() && v >= 0.0 { Ok(v) } else { Err(MechanicsError::BadInput { what, got: v, expected }) }
}

/// Passes an ordinary number between two ends, both allowed.
pub(crate) fn between(
    what: &'static str,
    v: f64,
    low: f64,
    high: f64,
    expected: &'static str,
) -> Result<f64, MechanicsError> {
    if v.is_finite() && v >= low && v <= high {
        Ok(v)
    } else {
        Err(MechanicsError::BadInput { what, got: v, expected })
    }
}
