//! The trail of working: how a number came about. The same code computes and explains.
//!
//! A formula takes `&mut impl Recorder`. The search passes [`Silent`], which drops every step before it is made and
//! compiles to nothing; the explanation passes a [`Trail`], which keeps them.
//!
//! ```
//! use unmire_model::trail::{Dimension, Origin, Recorder, Silent, Step, Trail};
//! fn double(x: f64, rec: &mut impl Recorder) -> f64 {
//!     let y = 2.0 * x;
//!     rec.record(|| Step::new("doubled", "y", "y = 2 x", y, Dimension::Ratio, "derived").input("x", x, Dimension::Ratio, Origin::Earlier));
//!     y
//! }
//! let mut trail = Trail::default();
//! assert_eq!(double(2.0, &mut Silent), double(2.0, &mut trail));
//! assert_eq!(trail.steps.len(), 1);
//! ```

use crate::range::{Range, Scalar};

/// What kind of quantity a printed number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Dimension {
    Force,
    Mass,
    Length,
    Angle,
    Pressure,
    Area,
    Time,
    Energy,
    Moment,
    Speed,
    Ratio,
    Count,
    /// Newton metres per kilogram: the root-plate coefficient.
    MomentPerMass,
    /// Kilograms per cubic metre.
    Density,
    /// Cubic metres.
    Volume,
    Current,
    Voltage,
    Charge,
    Ohms,
    /// A constant whose unit stands in the formula's text.
    Other,
}

/// Where a number came from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// A line of the case or kit file, counted from one; zero when it came from a program and not from a text.
    File {
        /// Which line.
        line: u32,
    },
    /// A row of a data table.
    Table {
        /// Which table.
        table: &'static str,
        /// Which row.
        row: String,
        /// The key of its source.
        source: &'static str,
    },
    /// Nobody said: a visible assumption with its reason.
    Assumed(String),
    /// A policy's row.
    Policy(String),
    /// An earlier step of the same trail.
    Earlier,
    /// A definition or a constant of nature; the text names its source key.
    Constant(&'static str),
}

/// A value together with where it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Input<T> {
    /// The value.
    pub value: T,
    /// Where it came from.
    pub origin: Origin,
}
impl<T> Input<T> {
    /// From its parts.
    pub fn new(value: T, origin: Origin) -> Self {
        Self { value, origin }
    }
    /// An assumption.
    pub fn assumed(value: T, why: impl Into<String>) -> Self {
        Self { value, origin: Origin::Assumed(why.into()) }
    }
    /// Whether nobody said it.
    pub fn is_assumed(&self) -> bool {
        matches!(self.origin, Origin::Assumed(_))
    }
}

/// One input of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct StepInput {
    /// Its symbol in the formula.
    pub symbol: &'static str,
    /// Low, likely, high in SI; all the same for a plain number.
    pub si: [f64; 3],
    /// What kind of quantity.
    pub dimension: Dimension,
    /// Where it came from.
    pub origin: Origin,
}

/// One step: symbol = formula = numbers = value.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it gives, in words.
    pub what: String,
    /// Its symbol.
    pub symbol: &'static str,
    /// The formula as a text.
    pub formula: &'static str,
    /// The inputs.
    pub inputs: Vec<StepInput>,
    /// Low, likely, high in SI; all the same for a plain number.
    pub si: [f64; 3],
    /// What kind of quantity.
    pub dimension: Dimension,
    /// Key of the source of the formula.
    pub source: &'static str,
    /// Anything the reader must know: out of range, extrapolated, from memory.
    pub notes: Vec<String>,
}
impl Step {
    /// A step with a plain number as its result.
    pub fn new(
        what: impl Into<String>,
        symbol: &'static str,
        formula: &'static str,
        si: f64,
        dimension: Dimension,
        source: &'static str,
    ) -> Self {
        Self {
            what: what.into(),
            symbol,
            formula,
            inputs: Vec::new(),
            si: [si; 3],
            dimension,
            source,
            notes: Vec::new(),
        }
    }
    /// A step with a range as its result.
    pub fn range<Q: Scalar>(
        what: impl Into<String>,
        symbol: &'static str,
        formula: &'static str,
        r: &Range<Q>,
        source: &'static str,
    ) -> Self {
        let si = r.values().map(Scalar::si);
        Self {
            what: what.into(),
            symbol,
            formula,
            inputs: Vec::new(),
            si,
            dimension: Q::DIMENSION,
            source,
            notes: Vec::new(),
        }
    }
    /// Adds a plain input.
    #[must_use]
    pub fn input(mut self, symbol: &'static str, si: f64, dimension: Dimension, origin: Origin) -> Self {
        self.inputs.push(StepInput { symbol, si: [si; 3], dimension, origin });
        self
    }
    /// Adds an input that is a range.
    #[must_use]
    pub fn input_range<Q: Scalar>(mut self, symbol: &'static str, r: &Range<Q>, origin: Origin) -> Self {
        self.inputs.push(StepInput { symbol, si: r.values().map(Scalar::si), dimension: Q::DIMENSION, origin });
        self
    }
    /// Adds an input with its own origin.
    #[must_use]
    pub fn given<Q: Scalar>(self, symbol: &'static str, input: &Input<Range<Q>>) -> Self {
        self.input_range(symbol, &input.value, input.origin.clone())
    }
    /// Adds a note.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }
}

/// Something that may keep the working. The step is only made if it is kept.
pub trait Recorder {
    /// Offers a step.
    fn record(&mut self, step: impl FnOnce() -> Step);
    /// Where a formula records that others use too, [`Mute`] or not.
    type Common: Recorder;
    /// The same recorder, for such a formula.
    fn common(&mut self) -> &mut Self::Common;
}

/// Keeps nothing and costs nothing.
#[cfg(not(target_arch = "wasm32"))]
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;
#[cfg(not(target_arch = "wasm32"))]
impl Recorder for Silent {
    #[inline(always)]
    fn record(&mut self, _step: impl FnOnce() -> Step) {}
    type Common = Self;
    #[inline(always)]
    fn common(&mut self) -> &mut Self {
        self
    }
}

/// Keeps nothing. In a browser it is a trail that takes no step, so that every formula is there once and not twice: what
/// it costs in time is less than what it saves on the way there.
#[cfg(target_arch = "wasm32")]
#[allow(non_upper_case_globals, reason = "it stands where elsewhere the value of a unit type stands")]
pub const Silent: Trail = Trail { steps: Vec::new(), silent: true };

#[cfg(not(target_arch = "wasm32"))]
type Quiet = Silent;
#[cfg(target_arch = "wasm32")]
type Quiet = Trail;

/// Keeps nothing, in a browser too: for formulas that nothing in the app explains, so that how to explain them does not travel.
#[derive(Debug)]
pub struct Mute(Quiet);
impl Default for Mute {
    fn default() -> Self {
        Self(Silent)
    }
}
impl Recorder for Mute {
    #[inline(always)]
    fn record(&mut self, _step: impl FnOnce() -> Step) {}
    type Common = Quiet;
    fn common(&mut self) -> &mut Quiet {
        &mut self.0
    }
}

/// Keeps every step.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trail {
    /// The steps in the order in which they were made.
    pub steps: Vec<Step>,
    #[cfg(target_arch = "wasm32")]
    silent: bool,
}
impl Recorder for Trail {
    fn record(&mut self, step: impl FnOnce() -> Step) {
        #[cfg(target_arch = "wasm32")]
        if self.silent {
            return;
        }
        self.steps.push(step());
    }
    type Common = Self;
    fn common(&mut self) -> &mut Self {
        self
    }
}
