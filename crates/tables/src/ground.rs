//! Which rows hold for the ground under the stuck vehicle.

use crate::generated::{bekker, rolling};
use crate::row;

/// Rolling resistance of a surface.
#[must_use]
pub fn rolling(surface: &str) -> Option<&'static rolling::Row> {
    row(rolling::ROWS, surface)
}

/// Bekker's constants of a soil.
#[must_use]
pub fn soil(key: &str) -> Option<&'static bekker::Row> {
    row(bekker::ROWS, key)
}
