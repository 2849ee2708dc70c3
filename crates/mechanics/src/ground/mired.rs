//! Mired: the band that the verdict uses, and what each doctrine says.

use crate::error::MechanicsError;
use crate::lookup;
use unmire_model::Range;
use unmire_model::ground::Depth;
use unmire_tables::How;

/// What one doctrine says of a mired vehicle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doctrine {
    /// Its key.
    pub key: &'static str,
    /// Which family of rules.
    pub family: &'static str,
    /// Under which condition, in the words of the rule.
    pub condition: &'static str,
    /// Share of the moving weight, level.
    pub share: Range<f64>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
    /// What must be told beside it.
    pub note: &'static str,
}

/// The word of a depth in the tables.
///
/// # Source
/// None: naming.
#[must_use]
pub const fn depth_word(depth: Depth) -> &'static str {
    match depth {
        Depth::NotMired => "not-mired",
        Depth::Wheel => "wheel",
        Depth::WheelArch => "wheel-arch",
        Depth::Cab => "cab",
    }
}

/// The band that the verdict uses for a depth, as a share of the moving weight, rolling part included.
///
/// # Source
/// Table `mire_band`: low ends from the club and Commonwealth rows, high ends from the US multiples, which are from memory.
///
/// # Errors
/// If the vehicle is not mired or the depth has no row.
pub fn mire_band(depth: Depth) -> Result<Doctrine, MechanicsError> {
    lookup::mire_band(depth_word(depth))
}

/// What the doctrines say for a depth, one row each, with their standing.
///
/// # Source
/// Table `mire_doctrine`; each row has its own.
#[must_use]
pub fn doctrines(depth: Depth) -> Vec<Doctrine> {
    if depth == Depth::NotMired { Vec::new() } else { lookup::doctrines(depth_word(depth)) }
}
