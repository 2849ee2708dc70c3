//! The JSON that other programs rely on: the shape `unmire.plan/1`.
//!
//! SI throughout, numbers unrounded, `null` for what is not known or does not apply. Fields stand in the documented
//! order. Later versions of the program may add fields, never rename or remove one; a change of meaning would be
//! `unmire.plan/2`.

pub mod anchor;
pub mod kinetic;
mod kinetic_shape;
mod pull;
mod pull_shape;
pub mod recoil;
mod shape;
mod trail;
mod ways;
mod write;

pub use pull::{PULL_SCHEMA, pull_document, pull_to_text, schema_pull};
pub use pull_shape::{
    HistoryLeg, HistoryPoint, HistoryRow, LoweringChoice, LoweringRow, PullDocument, PullEvent, PullStage, SteadyRow,
    WorkAccount, WorstMoment,
};
pub use shape::{
    Action, Alternative, AnchorForce, Check, Demand, DemandPart, Document, Finding, GateItem, KeepOut, KeepOutRule,
    Leg, Origin, OtherPolicy, Piece, Plan, PlanPull, Point, Policy, RangeN, RangeRatio, RangeS, Stability, Step, Stop,
    TrailInput, TrailStep, Winch,
};

pub use trail::dimension;
pub use ways::{Way, Ways};

use unmire_planner::report::Report;

/// The name of the shape, first in every document.
pub const SCHEMA: &str = "unmire.plan/1";

/// The document of a report, as data.
#[must_use]
pub fn document(report: &Report) -> Document {
    write::document(report)
}

/// The document of a report as text: two spaces a level, a newline at the end.
///
/// # Errors
/// If it cannot be written as JSON, which no report is known to bring about.
pub fn to_text(report: &Report) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&document(report))?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema of the shape, made from the same types that write it.
#[must_use]
pub fn schema_plan() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<Document>();
    schema.insert("title".to_owned(), "unmire.plan/1".into());
    schema.into()
}
