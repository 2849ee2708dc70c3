//! The types of the shape, field by field in the documented order. Their doc comments are the schema's descriptions.
//!
//! The fields that the shape has had from its first day come first in each type; what was added stands after them.

use super::ways::Ways;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A report of `unmire plan` or `unmire check`. SI, numbers unrounded, `null` for what is not known or does not apply.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Document {
    /// The name of this shape: `unmire.plan/1`.
    #[schemars(extend("const" = "unmire.plan/1"))]
    pub schema: String,
    /// Name of the policy that the verdicts use; null for a bare rig.
    pub policy: Option<String>,
    /// The need as found, before any action; null for a bare rig.
    pub demand: Option<Demand>,
    /// Findings about the case as a whole.
    pub findings: Vec<Finding>,
    /// The rigs, best first; one for `check`.
    pub plans: Vec<Plan>,
    /// The case's title.
    pub title: String,
    /// Whether the best rig passes: exit status 0 of the program.
    pub passes: bool,
    /// More about the policy; null for a bare rig.
    pub policy_words: Option<Policy>,
    /// Questions to be answered before any plan.
    pub gate: Vec<GateItem>,
    /// How many candidates were looked at.
    pub looked_at: u64,
    /// How many of the best were played over the whole pull and ranked by their worst moment.
    pub played: u64,
    /// Winch, kinetic or neither, side by side; left out where the kit has no kinetic rope or no helper can drive.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ways: Option<Ways>,
}

/// A policy in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Policy {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What it asks.
    pub doc: String,
    /// How sure the advice is: law or regulation, published value, common practice, our own judgement.
    pub grade: String,
}

/// The need along the way out, N.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Demand {
    /// Low end, N.
    pub low_n: Option<f64>,
    /// Likely, N.
    pub likely_n: Option<f64>,
    /// High end, N. 'Work' means this end.
    pub high_n: Option<f64>,
    /// By which method.
    pub method: String,
    /// What it is made of.
    pub parts: Vec<DemandPart>,
    /// What other methods say.
    pub alternatives: Vec<Alternative>,
}

/// One part of the need.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DemandPart {
    /// Its name: `mire`, `grade`, `obstacle`…
    pub name: String,
    /// Low end, N.
    pub low_n: Option<f64>,
    /// Likely, N.
    pub likely_n: Option<f64>,
    /// High end, N.
    pub high_n: Option<f64>,
    /// Key of the source.
    pub source: String,
    /// How that is known: read, secondary, memory…
    pub how: String,
}

/// Another way of estimating the same need.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Alternative {
    /// Its name.
    pub name: String,
    /// Low end, N.
    pub low_n: Option<f64>,
    /// Likely, N.
    pub likely_n: Option<f64>,
    /// High end, N.
    pub high_n: Option<f64>,
    /// Key of the source.
    pub source: String,
    /// How that is known.
    pub how: String,
    /// Whether the verdict uses it.
    pub used: bool,
}

/// Something that a rule has to say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// The rule's code; `unmire explain CODE` prints its text.
    pub code: String,
    /// What it does to the verdict: `note`, `caution`, `unknown`, `bars`.
    pub effect: String,
    /// What it is about.
    pub subject: String,
    /// A sentence.
    pub text: String,
    /// What to do about it.
    pub remedy: String,
}

/// A question of the gate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct GateItem {
    /// The stable word.
    pub word: String,
    /// The question.
    pub text: String,
}

/// One rig.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Plan {
    /// `holds`, `holds below a stop load`, `overloaded` or `unknown`; null for a bare rig.
    #[schemars(extend("enum" = ["holds", "holds below a stop load", "overloaded", "unknown", null]))]
    pub verdict: Option<String>,
    /// Line pull at the winch not to go past, N; null if nothing needs one.
    pub stop_load_n: Option<f64>,
    /// The family of rigs: `straight-pull`, `double-line`… ; null for a bare rig.
    pub family: Option<String>,
    /// Why this rig, or why it fails.
    pub why: Option<String>,
    /// The need after the actions; null for a bare rig.
    pub demand: Option<Demand>,
    /// What to do first, each with its effect on the need.
    pub actions: Vec<Action>,
    /// The pieces and their places.
    pub pieces: Vec<Piece>,
    /// The points, where they settle at work.
    pub points: Vec<Point>,
    /// The legs of the line, and the slings.
    pub legs: Vec<Leg>,
    /// Forces of the rig on its fixed points.
    pub anchors: Vec<AnchorForce>,
    /// The checks of strength, worst first; behind them the conditions that bar the rig or leave it unknown, so that the worst
    /// of all is the rig's verdict.
    pub checks: Vec<Check>,
    /// What decides: what bars the rig, else the part with the lowest margin; null if neither is known.
    pub weakest: Option<String>,
    /// Greatest out-of-balance force of the solved rig, N.
    pub residual_n: Option<f64>,
    /// The winch at the start of the pull; null without one.
    pub winch: Option<Winch>,
    /// Steps for the crew, in order.
    pub steps: Vec<Step>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Ground to keep clear; null for a bare rig.
    pub keep_out: Option<KeepOut>,
    /// The rig in one sentence.
    pub summary: Option<String>,
    /// Index into `checks` of the part with the lowest margin.
    pub weakest_check: Option<u64>,
    /// Lowest margin: capacity ÷ load ÷ what is asked. Below one is short.
    pub lowest_margin: Option<f64>,
    /// Findings about this rig.
    pub findings: Vec<Finding>,
    /// How the crew knows when to stop; null for a bare rig.
    pub stop: Option<Stop>,
    /// Rolling over; null where it is not reckoned.
    pub stability: Option<Stability>,
    /// The whole pull in short; null where the rig does not pass at its start. `unmire pull` tells all of it.
    pub pull: Option<PlanPull>,
    /// About how long rigging, pulling and resting take, s; null for a bare rig.
    pub time_s: Option<RangeS>,
    /// What other policies say about this rig.
    pub other_policies: Vec<OtherPolicy>,
    /// The working, step by step; empty unless it was asked for.
    pub trail: Vec<TrailStep>,
}

/// A range of forces.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RangeN {
    /// Low end, N.
    pub low_n: Option<f64>,
    /// Likely, N.
    pub likely_n: Option<f64>,
    /// High end, N.
    pub high_n: Option<f64>,
}

/// A range of times.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RangeS {
    /// Low end, s.
    pub low_s: Option<f64>,
    /// Likely, s.
    pub likely_s: Option<f64>,
    /// High end, s.
    pub high_s: Option<f64>,
}

/// A range of ratios.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RangeRatio {
    /// Low end.
    pub low: Option<f64>,
    /// Likely.
    pub likely: Option<f64>,
    /// High end.
    pub high: Option<f64>,
}

/// Something to do before or instead of pulling harder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Action {
    /// The stable word: `dig`, `unload`, `lower-tyre-pressure`, `boards`, `drain`.
    pub word: String,
    /// A sentence for the crew.
    pub text: String,
    /// Need before it.
    pub before: RangeN,
    /// Need after it.
    pub after: RangeN,
    /// About how long it takes.
    pub time_s: RangeS,
    /// Key of the source of its effect.
    pub source: String,
    /// How that is known.
    pub how: String,
}

/// A piece in its place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Piece {
    /// Its id in the kit.
    pub id: String,
    /// What it is.
    pub what: String,
    /// Where it goes.
    pub place: String,
}

/// A point: x ahead of the stuck vehicle, y to its left, z up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Point {
    /// Its name.
    pub name: String,
    /// `winch`, `anchor`, `recovery-point`, `block`, `junction`, `line-end`…
    pub kind: String,
    /// Ahead, m.
    pub x_m: Option<f64>,
    /// To the left, m.
    pub y_m: Option<f64>,
    /// Up, m.
    pub z_m: Option<f64>,
}

/// A leg of a line, or a sling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Leg {
    /// The member it belongs to.
    pub member: String,
    /// From which point.
    pub from: String,
    /// To which point.
    pub to: String,
    /// Length at work, m.
    pub length_m: Option<f64>,
    /// Tension at the high end of the need, N; for a bare rig, the solution.
    pub tension_work_n: Option<f64>,
    /// Tension at stall, N; null where nothing can stall.
    pub tension_stall_n: Option<f64>,
}

/// The force of the rig on a point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AnchorForce {
    /// The point.
    pub point: String,
    /// At work, N: x, y, z; for a bare rig, the solution.
    pub force_work_n: [Option<f64>; 3],
    /// At stall, N; null where nothing can stall.
    pub force_stall_n: Option<[Option<f64>; 3]>,
}

/// One part held against what the policy asks of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Check {
    /// The rule's code; `unmire explain CODE` prints its text and its source.
    pub code: String,
    /// Which part.
    pub part: String,
    /// What it does there.
    pub what: String,
    /// Load at the high end of the need, N.
    pub demand_work_n: Option<f64>,
    /// Load at stall, N.
    pub demand_stall_n: Option<f64>,
    /// Capacity after every reduction, N.
    pub capacity_n: Option<f64>,
    /// What that capacity is: `breaking strength`, `working load limit`…
    pub capacity_kind: String,
    /// Capacity ÷ load at work.
    pub ratio_work: Option<f64>,
    /// Capacity ÷ load at stall.
    pub ratio_stall: Option<f64>,
    /// Ratio asked at work.
    pub required_work: Option<f64>,
    /// Ratio asked at stall.
    pub required_stall: Option<f64>,
    /// `holds`, `holds below a stop load`, `overloaded` or `unknown`.
    #[schemars(extend("enum" = ["holds", "holds below a stop load", "overloaded", "unknown"]))]
    pub verdict: String,
    /// Key of the source of what is asked.
    pub source: String,
    /// Kind of part, as in policy files; `condition` where no strength is held against a load.
    pub kind: String,
    /// Line pull at which the part reaches the asked ratio, N; null if it isn't short at stall.
    pub stop_load_n: Option<f64>,
    /// Why the capacity is not known; null if it is.
    pub unknown_because: Option<String>,
}

/// The winch at the start of the pull.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Winch {
    /// Layer that works at the start; null if the drum is not known.
    pub layer: Option<u32>,
    /// What the work asks of it, high end, N.
    pub pull_n: Option<f64>,
    /// Line off the drum at the start, m.
    pub line_out_m: Option<f64>,
    /// Its id.
    pub id: String,
    /// What it can pull there, low end, N.
    pub ability_n: Option<f64>,
    /// What it can pull at stall, high end, N.
    pub stall_n: Option<f64>,
    /// Whether that stall is an assumed band on the rated pull.
    pub stall_assumed: bool,
    /// Turns left on the drum at the start.
    pub wraps_left: Option<f64>,
}

/// A step for the crew.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// `prepare`, `rig`, `check`, `pull`, `release`.
    pub phase: String,
    /// What to do.
    pub text: String,
}

/// Ground to keep clear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KeepOut {
    /// The rule, named.
    pub rule: String,
    /// Closed rings of x, y in metres; people stay outside all of them.
    pub rings: Vec<Vec<[Option<f64>; 2]>>,
    /// Radius round each loaded hard point, m.
    pub radius_m: Option<f64>,
    /// Other published rules, for comparison.
    pub others: Vec<KeepOutRule>,
    /// Exceptions with their conditions.
    pub exceptions: Vec<String>,
}

/// A published keep-out rule, for comparison.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KeepOutRule {
    /// Its name.
    pub name: String,
    /// Its radius, m.
    pub radius_m: Option<f64>,
    /// Key of its source.
    pub source: String,
}

/// How the crew knows when to stop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stop {
    /// Line pull at the winch not to go past, N.
    pub line_pull_n: Option<f64>,
    /// What the load cell reads then, where it stands in the rig, N.
    pub cell_reading_n: Option<f64>,
    /// The sentences.
    pub when: Vec<String>,
}

/// How far the vehicle is from rolling over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stability {
    /// Share of the restoring moment used up; 1 is the tipping point. Null if not known.
    pub used: Option<RangeRatio>,
    /// The same with the holding line.
    pub used_with_holding: Option<RangeRatio>,
    /// Sideways part of the pull, left being positive, N.
    pub sideways_pull_n: Option<f64>,
    /// Angle of the pull from the way out, seen from above, rad.
    pub off_line_rad: Option<f64>,
}

/// The whole pull with one rig. The loads in `checks` are the greatest on the way, those in `legs` are the start's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlanPull {
    /// The worst word on the way.
    pub verdict: String,
    /// Whether the rig brings it to the last metre; else it must be rigged anew.
    pub arrives: bool,
    /// How far it brings it, m.
    pub reaches_m: Option<f64>,
    /// How long the way is, the high end of the distance, m.
    pub length_m: Option<f64>,
    /// Why it ends there.
    pub why_it_ends: String,
    /// The part with the lowest margin on the way.
    pub weakest: Option<String>,
    /// After which way that is, m.
    pub weakest_travel_m: Option<f64>,
    /// That margin.
    pub lowest_margin: Option<f64>,
    /// Greatest line pull at work on the way, N.
    pub line_tension_n: Option<f64>,
    /// Line pull at the winch not to go past, the least on the way, N.
    pub stop_load_n: Option<f64>,
    /// How long the line runs, s.
    pub pulling_s: RangeS,
    /// How long the motor rests, s.
    pub resting_s: RangeS,
    /// Charge that it takes: low, likely, high, Ah; null where nothing electric pulls.
    pub charge_ah: Option<[Option<f64>; 3]>,
}

/// What another policy says about the same rig.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OtherPolicy {
    /// Its name.
    pub policy: String,
    /// Its verdict.
    #[schemars(extend("enum" = ["holds", "holds below a stop load", "overloaded", "unknown"]))]
    pub verdict: String,
    /// Its lowest margin.
    pub lowest_margin: Option<f64>,
}

/// One step of the working.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TrailStep {
    /// What it gives.
    pub what: String,
    /// Its symbol.
    pub symbol: String,
    /// The formula as text.
    pub formula: String,
    /// What kind of quantity the result is: `force`, `length`, `ratio`…; the numbers are in its SI unit.
    pub dimension: String,
    /// Low end.
    pub low: Option<f64>,
    /// Likely.
    pub likely: Option<f64>,
    /// High end.
    pub high: Option<f64>,
    /// What went in.
    pub inputs: Vec<TrailInput>,
    /// Key of the source of the formula.
    pub source: String,
    /// What the reader must know.
    pub notes: Vec<String>,
}

/// An input of a step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TrailInput {
    /// Its symbol.
    pub symbol: String,
    /// What kind of quantity it is.
    pub dimension: String,
    /// Low end.
    pub low: Option<f64>,
    /// Likely.
    pub likely: Option<f64>,
    /// High end.
    pub high: Option<f64>,
    /// Where it came from.
    pub origin: Origin,
}

/// Where a number came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Origin {
    /// `file`, `table`, `assumed`, `policy`, `earlier` (an earlier step) or `constant`.
    pub kind: String,
    /// Line of the case file, from one; null otherwise.
    pub line: Option<u32>,
    /// Table and row, policy row, or the reason of an assumption.
    pub text: Option<String>,
    /// Key of the source, for a table or a constant.
    pub source: Option<String>,
}
