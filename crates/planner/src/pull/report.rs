//! What comes out of a pull that was played: plain data, SI, nothing left to compute.

use unmire_audit::facts::PartKind;
use unmire_audit::verdict::{Finding, Verdict};
use unmire_model::layout::{Family, Layout};
use unmire_model::{Charge, Current, Energy, Force, Length, Range, Speed, Time, Vec3, Voltage};

/// A leg of a line or a sling at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct RowLeg {
    /// The member: `line`, or the piece.
    pub member: String,
    /// From which point.
    pub from: String,
    /// To which point.
    pub to: String,
    /// Its length.
    pub length: Length,
    /// Tension at the high end of the need, the worse end of friction.
    pub tension: Force,
    /// Tension at stall; none where nothing can stall.
    pub tension_stall: Option<Force>,
}

/// One place of the pull. What is judged at one end stands as a range or is the high end of the need.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Which stage, from zero.
    pub stage: usize,
    /// Way of the vehicle from where it was found.
    pub travel: Length,
    /// Where the middle of its wheelbase stands, in the frame of the start.
    pub at: Vec3,
    /// Its heading from that of the start, left positive.
    pub turned: unmire_model::Angle,
    /// What must be overcome.
    pub resistance: Range<Force>,
    /// Tension at the puller.
    pub line_tension: Range<Force>,
    /// Tension at the puller if it is held at stall.
    pub stall_tension: Option<Force>,
    /// What the puller can give there, low end; none if not known.
    pub ability: Option<Force>,
    /// Line from the puller to its end.
    pub line_out: Length,
    /// Layer that works.
    pub layer: Option<u32>,
    /// Speed of the line.
    pub speed: Option<Range<Speed>>,
    /// Current; none where nothing electric pulls.
    pub current: Option<Range<Current>>,
    /// Charge taken from the battery so far, all stages.
    pub charge: Range<Charge>,
    /// Time of pulling so far, without rests and rigging, all stages.
    pub time: Range<Time>,
    /// Heat of the motor so far in this stage, in runs from cold; none where nothing electric pulls.
    pub heat: Option<Range<f64>>,
    /// Voltage at the winch; none if the battery is not told.
    pub voltage: Option<Range<Voltage>>,
    /// How full the battery is; none if it is not told.
    pub filled: Option<Range<f64>>,
    /// Every leg and sling.
    pub legs: Vec<RowLeg>,
    /// Every point, in the frame of the start.
    pub points: Vec<(String, Vec3)>,
}

/// The worst moment of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Worst {
    /// Which stage.
    pub stage: usize,
    /// The part.
    pub part: String,
    /// What it does there.
    pub what: String,
    /// Its kind.
    pub kind: PartKind,
    /// Where its load at work is greatest.
    pub travel: Length,
    /// That load.
    pub demand: Option<Force>,
    /// Capacity there ÷ that load.
    pub ratio: Option<f64>,
    /// What is asked of it at work.
    pub required: Option<f64>,
    /// Where its load at stall is greatest.
    pub travel_stall: Option<Length>,
    /// That load.
    pub demand_stall: Option<Force>,
    /// Capacity there ÷ that load.
    pub ratio_stall: Option<f64>,
    /// What is asked of it at stall.
    pub required_stall: Option<f64>,
    /// Where its margin is least, the worse of work and stall.
    pub travel_margin: Length,
    /// That margin.
    pub margin: Option<f64>,
    /// Least capacity over the pull.
    pub capacity: Option<Force>,
    /// What that capacity is.
    pub capacity_kind: String,
    /// The worst word over the pull.
    pub verdict: Verdict,
}

/// Something that happens on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Which stage.
    pub stage: usize,
    /// Where.
    pub travel: Length,
    /// The stable code.
    pub code: &'static str,
    /// What it is about: a part, a leg, the vehicle.
    pub subject: String,
    /// A sentence.
    pub text: String,
    /// What to do about it.
    pub remedy: String,
    /// Whether the crew must stop there: to rest, to charge, to rig anew.
    pub must_stop: bool,
    /// Whether the stage ends there.
    pub ends_stage: bool,
}

/// How steady the vehicle stands at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Steady {
    /// Which stage.
    pub stage: usize,
    /// Where.
    pub travel: Length,
    /// Share of what keeps it from rolling that is used up; none if not known.
    pub roll_used: Option<Range<f64>>,
    /// Share of what keeps it from pitching that is used up; none if not known.
    pub pitch_used: Option<Range<f64>>,
    /// Over what it would go first under the lines: `left`, `right`, `nose`, `tail`; none if no pull that way tips it.
    pub over: Option<&'static str>,
    /// Line pull at the winch at which it begins to tip, low, likely, high; none if no pull in that direction does.
    pub tip_pull: Option<Range<Force>>,
    /// Sideways part of the pull, left positive.
    pub sideways: Force,
    /// What a holding line there must take; zero where none is needed, none if it can't be told.
    pub holding: Option<Force>,
    /// Whether the vehicle can run away there once nothing pulls.
    pub can_run_away: bool,
}

/// The account of the work, high end of the need, sheaves at their worst.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Account {
    /// By the winch, or by the vehicle that tows.
    pub puller: Energy,
    /// Against what holds it back.
    pub resistance: Energy,
    /// On turning the vehicle at the corners of the way.
    pub turning: Energy,
    /// Lost at sheaves and rings.
    pub sheaves: Energy,
    /// Put into straps that stretched.
    pub elastic: Energy,
    /// Put into the vehicle and the blocks that rose.
    pub potential: Energy,
}
impl Account {
    /// What is left unaccounted for.
    #[must_use]
    pub fn left(&self) -> Energy {
        self.puller - self.resistance - self.turning - self.sheaves - self.elastic - self.potential
    }
}

/// One stage: one rig from one place to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The worst word over the stage.
    pub verdict: Verdict,
    /// The word at its start.
    pub verdict_at_start: Verdict,
    /// Which family.
    pub family: Family,
    /// The rig in one sentence.
    pub summary: String,
    /// The rig's pieces and places, in words.
    pub pieces: Vec<crate::report::PlacedPiece>,
    /// What to do first, in words.
    pub actions: Vec<String>,
    /// The layout; the frame is that of the vehicle at the start of the stage.
    pub layout: Layout,
    /// Line pull at the winch not to go past: the least over the stage.
    pub stop_load: Option<Force>,
    /// Why it ends, in one sentence.
    pub why_it_ends: String,
    /// Whether it ends because the way is at its end.
    pub done: bool,
    /// About how long rigging takes.
    pub rigging: Range<Time>,
    /// How long the line runs.
    pub pulling: Range<Time>,
    /// How long the motor rests.
    pub resting: Range<Time>,
    /// How often it rests, likely.
    pub rests: u32,
    /// Charge that the stage takes.
    pub charge: Range<Charge>,
    /// The account of the work.
    pub account: Account,
}

/// A way to let the vehicle down.
#[derive(Clone, Debug, PartialEq)]
pub struct LoweringWay {
    /// What holds, in words.
    pub what: String,
    /// What that holds, low end; none if not known.
    pub holds: Option<Force>,
    /// Whole turns round it, for a trunk.
    pub turns: Option<u32>,
    /// What the tail must hold at those turns, high end, for a trunk.
    pub tail: Option<Force>,
    /// What to mind.
    pub note: String,
}

/// A part of the way on which the slope takes the vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct Lowering {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// What a lowering line must hold.
    pub tension: Range<Force>,
    /// What could hold it.
    pub ways: Vec<LoweringWay>,
}

/// A pull, played.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// The case's title.
    pub title: String,
    /// The policy that judged.
    pub policy: String,
    /// How long the way is: the high end of the distance.
    pub length: Length,
    /// How far the likely end of it is.
    pub likely_length: Length,
    /// How far the stages bring it.
    pub reached: Length,
    /// The worst word over all stages.
    pub verdict: Verdict,
    /// Places, by rising travel.
    pub history: Vec<Row>,
    /// The worst moment of every part, the worst part first.
    pub worst: Vec<Worst>,
    /// Stages.
    pub stages: Vec<Stage>,
    /// How steady it stands along the way.
    pub stability: Vec<Steady>,
    /// Where a stage must end, and why.
    pub stops: Vec<Event>,
    /// What else happens on the way.
    pub events: Vec<Event>,
    /// Where the slope takes it.
    pub lowering: Vec<Lowering>,
    /// What must be told about the whole of it.
    pub findings: Vec<Finding>,
    /// All of it: rigging, pulling, resting.
    pub time: Range<Time>,
}
impl Pull {
    /// Whether the last metre is reached.
    #[must_use]
    pub fn arrives(&self) -> bool {
        self.stages.last().is_some_and(|s| s.done)
    }
    /// Whether it arrives and every stage passes: exit status 0.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.arrives() && self.verdict.passes()
    }
}
