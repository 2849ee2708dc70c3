//! The types of the shape `unmire.kinetic/1`. Their doc comments are the schema's descriptions.

use super::recoil::{BightEntry, CabEntry, FailureEntry, PlaceEntry, RuleEntry};
use super::shape::{Action, Check, Finding, KeepOut, Piece, RangeN, RangeS, TrailStep};
use schemars::JsonSchema;
use serde::Serialize;

/// The answer of `unmire kinetic`. SI, numbers unrounded, `null` for what is not known or does not apply. Of a case it is that of the best helper
/// and rope; a bare problem has no parts, no ground and no policy.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KineticDocument {
    /// The name of this shape: `unmire.kinetic/1`.
    #[schemars(extend("const" = "unmire.kinetic/1"))]
    pub schema: String,
    /// The title.
    pub title: String,
    /// Name of the policy that judged the parts; null for a bare problem.
    pub policy: Option<String>,
    /// Exit status 0. Case: every part holds at the high end of the peak, there is a window, the speed is in it, and every bound of what
    /// flies is known. Bare problem: no window was asked for, or there is one.
    pub passes: bool,
    /// Greatest tension of the rope; null if nothing could be reckoned.
    pub peak_n: Option<Three>,
    /// Greatest stretch of the rope, m, with everything likely.
    pub stretch_m: Option<f64>,
    /// Travel of the stuck vehicle, coasting included, m, with everything likely.
    pub travel_m: Option<f64>,
    /// The stretch with everything at its ends, m.
    pub stretch_range_m: Option<Three>,
    /// The travel with everything at its ends, m.
    pub travel_range_m: Option<Three>,
    /// Speeds at which the rope may become taut, between too little and too much; null if there are none.
    pub window: Option<WindowEntry>,
    /// Why there is no window, or no answer at all; null if there is a window.
    pub why: Option<String>,
    /// The code of that reason.
    pub why_code: Option<String>,
    /// What happens with everything likely, from the moment at which the rope becomes taut.
    pub history: Vec<SampleEntry>,
    /// What happens at the greatest peak; empty for a bare problem, where it is the same.
    pub history_high: Vec<SampleEntry>,
    /// Whether it is a bare problem.
    pub bare: bool,
    /// The policy's word on the chain at the high end of the peak; null for a bare problem.
    pub verdict: Option<String>,
    /// Who pulls.
    pub helper: Option<String>,
    /// The rope.
    pub rope: Option<String>,
    /// The chain in one sentence.
    pub rig: Option<String>,
    /// Every part of the chain at the high end of the peak, worst first; the load stands under `demand_work_n`.
    pub parts: Vec<Check>,
    /// Capacity over load over what is asked: the least.
    pub lowest_margin: Option<f64>,
    /// What the weakest part allows in the rope, N.
    pub limit_n: Option<f64>,
    /// That part.
    pub limit_part: Option<String>,
    /// Speed at which the rope becomes taut, m/s.
    pub speed_m_s: Option<Three>,
    /// Where it comes from: `stated`, `slack`, `window`, `practice`.
    pub speed_from: Option<String>,
    /// Slack that is laid out, m.
    pub slack_m: Option<Three>,
    /// Way that one pull must bring, m.
    pub asked_m: Option<f64>,
    /// Fastest speed that was looked at, m/s.
    pub fastest_m_s: Option<f64>,
    /// Mass of the puller, kg.
    pub puller_kg: Option<Three>,
    /// Mass of the stuck one, kg.
    pub stuck_kg: Option<Three>,
    /// What the puller's tyres give along the line, N.
    pub traction: Option<RangeN>,
    /// What holds the stuck one when it breaks away, N; null if it can't move.
    pub resistance: Option<RangeN>,
    /// Energy that the rope takes up at the high end of the peak, J.
    pub energy_j: Option<Three>,
    /// Where the energy came from and went: of the likely pull, and of the greatest peak.
    pub outcomes: Vec<OutcomeEntry>,
    /// What to do first.
    pub actions: Vec<Action>,
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// Whether no steel connects the two vehicles.
    pub without_steel: Option<bool>,
    /// From the stuck vehicle to where the puller can come to stand, m.
    pub room_m: Option<f64>,
    /// About how long it takes.
    pub time_s: Option<RangeS>,
    /// Rules of thumb beside it.
    pub practices: Vec<PracticeEntry>,
    /// What flies if a part fails, at the high end of the peak.
    pub failures: Vec<FailureEntry>,
    /// The ground to keep clear.
    pub keep_out: Option<KeepOut>,
    /// The inside of every turn.
    pub bights: Vec<BightEntry>,
    /// Every published rule of distance.
    pub rules: Vec<RuleEntry>,
    /// Where somebody can stand.
    pub places: Vec<PlaceEntry>,
    /// What flies at the cabs.
    pub cabs: Vec<CabEntry>,
    /// The other helpers and ropes, best first.
    pub others: Vec<OtherEntry>,
    /// Gear that is refused for a kinetic pull.
    pub refused: Vec<RefusedEntry>,
    /// The words that come first.
    pub words: Vec<String>,
    /// What was assumed or is not known, and what the rules say.
    pub findings: Vec<Finding>,
    /// The working, if it was asked for.
    pub trail: Vec<TrailStep>,
}

/// A range: low, likely, high.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Three {
    /// Low end.
    pub low: Option<f64>,
    /// Likely.
    pub likely: Option<f64>,
    /// High end.
    pub high: Option<f64>,
}

/// Speeds between too little and too much.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WindowEntry {
    /// Slowest that is enough, m/s.
    pub speed_min_m_s: Option<f64>,
    /// Fastest that is not too much, m/s.
    pub speed_max_m_s: Option<f64>,
    /// Whether the fastest is only the fastest that was looked at.
    pub capped: bool,
    /// Slack from rest that is enough for the slowest speed at full throttle on the least traction, m; null: none is.
    pub slack_min_m: Option<f64>,
    /// Slack from rest within which full throttle on the most traction stays under the fastest speed, m; null: no bound.
    pub slack_max_m: Option<f64>,
    /// Peak at the slowest speed, high end, N.
    pub peak_at_min_n: Option<f64>,
    /// Peak at the fastest speed, high end, N.
    pub peak_at_max_n: Option<f64>,
}

/// The state at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SampleEntry {
    /// Since the rope became taut, s.
    pub time_s: Option<f64>,
    /// Tension of the rope, N.
    pub tension_n: Option<f64>,
    /// Stretch of the rope, m; zero or less: slack.
    pub stretch_m: Option<f64>,
    /// Way of the puller, m.
    pub puller_travel_m: Option<f64>,
    /// Speed of the puller, m/s.
    pub puller_speed_m_s: Option<f64>,
    /// Way of the stuck one, m.
    pub stuck_travel_m: Option<f64>,
    /// Speed of the stuck one, m/s.
    pub stuck_speed_m_s: Option<f64>,
    /// What happened then: `taut`, `breaks-away`, `sticks`, `rolls-back`, `puller-stops`, `puller-dragged`, `puller-holds`, `greatest-stretch`,
    /// `beyond-former`, `slack`, `parts`, `travel-reached`.
    pub event: Option<String>,
}

/// What came out of one pull.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct OutcomeEntry {
    /// Which: `likely` or `high`.
    pub of: String,
    /// Greatest tension, N.
    pub peak_n: Option<f64>,
    /// When, s.
    pub peak_at_s: Option<f64>,
    /// Peak over breaking strength; null where the rope has none.
    pub share_of_breaking: Option<f64>,
    /// Speed when the rope became taut, m/s.
    pub closing_m_s: Option<f64>,
    /// When the stuck one broke away, s; null: it did not.
    pub broke_away_s: Option<f64>,
    /// When the puller was first stopped, s; null: it was not.
    pub puller_stopped_s: Option<f64>,
    /// Travel of the stuck one up to the end, m.
    pub travel_in_line_m: Option<f64>,
    /// How far it coasts from there, m; null: it does not stop by itself.
    pub coast_m: Option<f64>,
    /// Greatest speed of the stuck one, m/s.
    pub stuck_speed_m_s: Option<f64>,
    /// Why the reckoning ended: `never-taut`, `slack`, `at-rest`, `parted`, `travel-reached`, `still-moving`.
    pub end: String,
    /// When, s.
    pub ended_s: Option<f64>,
    /// Motion of the puller when the rope became taut, J.
    pub run_up_j: Option<f64>,
    /// Work of its traction, J.
    pub traction_j: Option<f64>,
    /// Work of both weights along their slopes, J; negative uphill.
    pub weights_j: Option<f64>,
    /// Work against what held the stuck one, J.
    pub resistance_j: Option<f64>,
    /// Work of the braked puller that was dragged, J.
    pub dragging_j: Option<f64>,
    /// Heat in the rope, J.
    pub rope_loss_j: Option<f64>,
    /// What the rope still holds at the end, J.
    pub rope_left_j: Option<f64>,
    /// Most that the rope took up, J.
    pub rope_greatest_j: Option<f64>,
    /// Motion of both at the end, J.
    pub motion_left_j: Option<f64>,
    /// What came in less what went out: zero but for rounding, J.
    pub unaccounted_j: Option<f64>,
}

/// A rule of thumb and this pull.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PracticeEntry {
    /// Its key.
    pub key: String,
    /// The rule in words.
    pub what: String,
    /// What its numbers are.
    pub per: String,
    /// Its low end.
    pub low: Option<f64>,
    /// Its high end.
    pub high: Option<f64>,
    /// This pull in the same measure.
    pub here: Option<Three>,
    /// Whether this pull keeps it: all of its range, none of it, or not to be said.
    pub kept: Option<bool>,
    /// Key of the source.
    pub source: String,
    /// How it is known.
    pub how: String,
}

/// Another helper and rope.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct OtherEntry {
    /// Who pulls.
    pub helper: String,
    /// The rope.
    pub rope: String,
    /// Whether it passes.
    pub passes: bool,
    /// The policy's word on the chain.
    pub verdict: String,
    /// Greatest tension of the rope.
    pub peak_n: Three,
    /// Its window.
    pub window: Option<WindowEntry>,
    /// Why there is none.
    pub why: Option<String>,
}

/// Gear that is refused.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RefusedEntry {
    /// Its id, or `line of W1`.
    pub piece: String,
    /// What it is.
    pub what: String,
    /// The code.
    pub code: String,
    /// Why.
    pub why: String,
    /// Whether it is merely not known enough.
    pub unknown: bool,
}
