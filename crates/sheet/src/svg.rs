//! The plan view to scale.

use unmire_model::quantity::show::Units;
use unmire_planner::report::Report;

/// The drawing.
#[must_use]
pub fn draw(_report: &Report, _units: Units) -> String {
    String::new()
}
