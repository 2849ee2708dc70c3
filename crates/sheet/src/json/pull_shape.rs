//! The types of the shape `unmire.pull/1`, field by field in the documented order. Their doc comments are the schema's descriptions.

use super::shape::{Finding, Piece, RangeN, RangeRatio, RangeS};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A pull that was played, of `unmire pull`. SI, numbers unrounded, `null` for what is not known or does not apply. Where one number
/// stands for a range it is that of the high end of the need.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PullDocument {
    /// The name of this shape: `unmire.pull/1`.
    #[schemars(extend("const" = "unmire.pull/1"))]
    pub schema: String,
    /// Places of the way, by rising travel. Where two stretches or stages meet, both sides stand in it.
    pub history: Vec<HistoryRow>,
    /// The worst moment of every part, the worst part first.
    pub worst: Vec<WorstMoment>,
    /// One rig after the other.
    pub stages: Vec<PullStage>,
    /// How steady the vehicle stands along the way.
    pub stability: Vec<SteadyRow>,
    /// Where the crew must stop: to rest, to charge, to rig anew, or because it can't go on.
    pub stops: Vec<PullEvent>,
    /// What else happens on the way.
    pub events: Vec<PullEvent>,
    /// Where the slope takes the vehicle, and what could let it down.
    pub lowering: Vec<LoweringRow>,
    /// The case's title.
    pub title: String,
    /// Name of the policy that judged.
    pub policy: String,
    /// The worst word over all stages.
    pub verdict: String,
    /// Whether the last metre is reached and every stage passes: exit status 0 of the program.
    pub passes: bool,
    /// Whether the last metre is reached.
    pub arrives: bool,
    /// How long the way is, the high end of the distance, m.
    pub length_m: Option<f64>,
    /// How far the stages bring the vehicle, m.
    pub reached_m: Option<f64>,
    /// Rigging, pulling and resting, s.
    pub time_s: RangeS,
    /// What must be told about the whole of it.
    pub findings: Vec<Finding>,
}

/// One place of the pull.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HistoryRow {
    /// Way of the vehicle from where it was found, m.
    pub travel_m: Option<f64>,
    /// What must be overcome, high end, N.
    pub resistance_n: Option<f64>,
    /// Tension at the puller, high end, N.
    pub line_tension_n: Option<f64>,
    /// Layer of the drum that works; null where there is no drum or it is not measured.
    pub layer: Option<u32>,
    /// Current, high end, A; null where nothing electric pulls.
    pub current_a: Option<f64>,
    /// Charge taken from the battery so far, high end, Ah.
    pub charge_ah: Option<f64>,
    /// Time of pulling so far, without rigging and rests, high end, s.
    pub time_s: Option<f64>,
    /// Every leg of the line and every sling.
    pub legs: Vec<HistoryLeg>,
    /// Which stage, from zero.
    pub stage: u64,
    /// What must be overcome, N.
    pub resistance: RangeN,
    /// Tension at the puller, N.
    pub line_tension: RangeN,
    /// Tension at the puller if it is held at stall, N.
    pub stall_tension_n: Option<f64>,
    /// What the puller can give there, low end, N.
    pub ability_n: Option<f64>,
    /// Line from the puller to its end, m.
    pub line_out_m: Option<f64>,
    /// Speed of the line: low, likely, high, m/s.
    pub speed_m_s: Option<[Option<f64>; 3]>,
    /// Current: low, likely, high, A.
    pub current_range_a: Option<[Option<f64>; 3]>,
    /// Charge so far: low, likely, high, Ah.
    pub charge_range_ah: [Option<f64>; 3],
    /// Time of pulling so far, s.
    pub time: RangeS,
    /// Heat of the motor so far in this stage, in runs from cold.
    pub heat: Option<RangeRatio>,
    /// Voltage at the winch: low, likely, high, V; null if no battery is told.
    pub voltage_v: Option<[Option<f64>; 3]>,
    /// How full the battery is; null if none is told.
    pub filled: Option<RangeRatio>,
    /// The ground under the middle of the vehicle's wheelbase, frame of the start, m.
    pub at_m: [Option<f64>; 3],
    /// Its heading from that of the start, left positive, rad.
    pub turned_rad: Option<f64>,
    /// Every point of the rig, frame of the start.
    pub points: Vec<HistoryPoint>,
}

/// A leg or a sling at one place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HistoryLeg {
    /// From which point.
    pub from: String,
    /// To which point.
    pub to: String,
    /// Tension at the high end of the need, the worse end of friction, N.
    pub tension_n: Option<f64>,
    /// Tension at stall, N; null where nothing can stall.
    pub tension_stall_n: Option<f64>,
    /// Its length, m.
    pub length_m: Option<f64>,
    /// The member: `line`, or the piece.
    pub member: String,
}

/// A point at one place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HistoryPoint {
    /// Its name.
    pub name: String,
    /// Along the stuck vehicle's heading at the start, m.
    pub x_m: Option<f64>,
    /// To its left, m.
    pub y_m: Option<f64>,
    /// Up, m.
    pub z_m: Option<f64>,
}

/// The worst moment of one part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WorstMoment {
    /// The part.
    pub part: String,
    /// Where its load at work is greatest, m.
    pub travel_m: Option<f64>,
    /// That load, N.
    pub demand_n: Option<f64>,
    /// Capacity there ÷ that load.
    pub ratio: Option<f64>,
    /// What is asked of that ratio.
    pub required: Option<f64>,
    /// Where its load at stall is greatest, m.
    pub travel_stall_m: Option<f64>,
    /// That load, N.
    pub demand_stall_n: Option<f64>,
    /// Capacity there ÷ that load.
    pub ratio_stall: Option<f64>,
    /// What is asked of that ratio.
    pub required_stall: Option<f64>,
    /// Where its margin is least, the worse of work and stall, m.
    pub travel_margin_m: Option<f64>,
    /// That margin: capacity ÷ load ÷ what is asked.
    pub margin: Option<f64>,
    /// Least capacity over the pull, N.
    pub capacity_n: Option<f64>,
    /// What that capacity is.
    pub capacity_kind: String,
    /// The worst word over the pull.
    pub verdict: String,
    /// What it does there.
    pub what: String,
    /// Its kind.
    pub kind: String,
    /// Which stage.
    pub stage: u64,
}

/// One rig from one place to another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PullStage {
    /// Where it begins, m.
    pub from_m: Option<f64>,
    /// Where it ends, m.
    pub to_m: Option<f64>,
    /// The worst word over the stage.
    pub verdict: String,
    /// The word at its start.
    pub verdict_at_start: String,
    /// Which family.
    pub family: String,
    /// The rig in one sentence.
    pub summary: String,
    /// Why it ends.
    pub why_it_ends: String,
    /// Whether the way is at its end.
    pub done: bool,
    /// Line pull at the winch not to go past, the least over the stage, N.
    pub stop_load_n: Option<f64>,
    /// What to do first.
    pub actions: Vec<String>,
    /// The pieces and where they go.
    pub pieces: Vec<Piece>,
    /// Rigging, s.
    pub rigging_s: RangeS,
    /// Pulling, s.
    pub pulling_s: RangeS,
    /// Resting, s.
    pub resting_s: RangeS,
    /// How often the motor rests, likely.
    pub rests: u64,
    /// Charge: low, likely, high, Ah.
    pub charge_ah: [Option<f64>; 3],
    /// The account of the work, high end of the need.
    pub account: WorkAccount,
}

/// Where the puller's work goes, J.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WorkAccount {
    /// By the puller.
    pub puller_j: Option<f64>,
    /// Against what holds the vehicle back.
    pub resistance_j: Option<f64>,
    /// On turning the vehicle at corners.
    pub turning_j: Option<f64>,
    /// Lost at sheaves and rings.
    pub sheaves_j: Option<f64>,
    /// Stored in straps.
    pub elastic_j: Option<f64>,
    /// Stored in the vehicle and the blocks that rose.
    pub potential_j: Option<f64>,
    /// Left unaccounted for by the steps.
    pub left_j: Option<f64>,
}

/// How steady the vehicle stands at one place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SteadyRow {
    /// Where, m.
    pub travel_m: Option<f64>,
    /// Share of what keeps it from rolling that is used up; null if not known.
    pub roll_used: Option<RangeRatio>,
    /// Share of what keeps it from pitching that is used up; null if not known.
    pub pitch_used: Option<RangeRatio>,
    /// Over what it would go first: `left`, `right`, `nose`, `tail`; null if no pull that way tips it.
    pub over: Option<String>,
    /// Line pull at which it begins to tip, N; null if no pull that way tips it.
    pub tip_pull: Option<RangeN>,
    /// Sideways part of the pull, left positive, N.
    pub sideways_pull_n: Option<f64>,
    /// What a holding line must take, N; zero where none is needed.
    pub holding_n: Option<f64>,
    /// Whether it can run away once nothing pulls.
    pub can_run_away: bool,
    /// Which stage.
    pub stage: u64,
}

/// Something that happens on the way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PullEvent {
    /// Where, m.
    pub travel_m: Option<f64>,
    /// The stable code.
    pub code: String,
    /// What it is about.
    pub subject: String,
    /// A sentence.
    pub text: String,
    /// What to do about it.
    pub remedy: String,
    /// Whether the stage ends there.
    pub ends_stage: bool,
    /// Which stage.
    pub stage: u64,
}

/// A part of the way on which the slope takes the vehicle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LoweringRow {
    /// Where it begins, m.
    pub from_m: Option<f64>,
    /// Where it ends, m.
    pub to_m: Option<f64>,
    /// What a lowering line must hold, N.
    pub tension: RangeN,
    /// What could hold it.
    pub ways: Vec<LoweringChoice>,
}

/// Something that could let it down.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LoweringChoice {
    /// What holds.
    pub what: String,
    /// What that holds, low end, N.
    pub holds_n: Option<f64>,
    /// Whole turns round a trunk.
    pub turns: Option<u32>,
    /// What the tail must hold then, high end, N.
    pub tail_n: Option<f64>,
    /// What to mind.
    pub note: String,
}
