//! What comes out: plain data in the reader's words, SI numbers, nothing left to compute.

use unmire_audit::facts::PartKind;
use unmire_audit::verdict::{Effect, Finding, Grade, Verdict};
use unmire_model::layout::{Family, Layout};
use unmire_model::trail::Trail;
use unmire_model::{Angle, Charge, Force, Length, Range, Time, Vec3};

/// One part of the need.
#[derive(Clone, Debug, PartialEq)]
pub struct DemandPart {
    /// Its name: `mire`, `grade`, `obstacle`…
    pub name: String,
    /// How much.
    pub force: Range<Force>,
    /// Key of the source.
    pub source: String,
    /// How that is known: read, secondary, memory…
    pub how: String,
}

/// Another way of estimating the same need, for comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// Its name.
    pub name: String,
    /// What it says.
    pub force: Range<Force>,
    /// Key of the source.
    pub source: String,
    /// How that is known.
    pub how: String,
    /// Whether the verdict uses it.
    pub used: bool,
}

/// The need.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// How much, along the way out.
    pub force: Range<Force>,
    /// By which method.
    pub method: String,
    /// What it is made of.
    pub parts: Vec<DemandPart>,
    /// What other methods say.
    pub alternatives: Vec<Alternative>,
}

/// Something to do before or instead of pulling harder.
#[derive(Clone, Debug, PartialEq)]
pub struct Action {
    /// The stable word: `dig`, `unload`, `lower-tyre-pressure`, `boards`, `drain`.
    pub word: String,
    /// A sentence for the crew.
    pub text: String,
    /// Need before it.
    pub before: Range<Force>,
    /// Need after it.
    pub after: Range<Force>,
    /// About how long it takes.
    pub time: Range<Time>,
    /// Source and standing of its effect.
    pub source: String,
    /// How that is known.
    pub how: String,
}

/// A piece in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacedPiece {
    /// Its id in the kit.
    pub id: String,
    /// What it is, in words.
    pub what: String,
    /// Where it goes, in words.
    pub place: String,
}

/// A point of the rig.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPoint {
    /// Its name.
    pub name: String,
    /// What it is: `winch`, `anchor`, `recovery-point`, `block`, `junction`, `line-end`.
    pub kind: String,
    /// Where it settles at work.
    pub at: Vec3,
}

/// A leg of a line, or a sling.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanLeg {
    /// The member it belongs to: `line`, or the piece.
    pub member: String,
    /// From which point.
    pub from: String,
    /// To which point.
    pub to: String,
    /// Its length at work.
    pub length: Length,
    /// Tension at the high end of the need.
    pub tension_work: Force,
    /// Tension at stall; none where nothing can stall.
    pub tension_stall: Option<Force>,
}

/// The force of the rig on an anchor.
#[derive(Clone, Debug, PartialEq)]
pub struct AnchorForce {
    /// The point.
    pub point: String,
    /// At work, N.
    pub work: Vec3,
    /// At stall, N.
    pub stall: Option<Vec3>,
}

/// One check in outputs' words.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanCheck {
    /// The rule's code.
    pub code: String,
    /// Which part.
    pub part: String,
    /// Its kind.
    pub kind: PartKind,
    /// What it does there.
    pub what: String,
    /// Load at work, high end.
    pub demand_work: Option<Force>,
    /// Load at stall.
    pub demand_stall: Option<Force>,
    /// Capacity after every reduction.
    pub capacity: Option<Force>,
    /// What that capacity is.
    pub capacity_kind: String,
    /// Capacity ÷ load at work.
    pub ratio_work: Option<f64>,
    /// Capacity ÷ load at stall.
    pub ratio_stall: Option<f64>,
    /// Asked at work.
    pub required_work: Option<f64>,
    /// Asked at stall.
    pub required_stall: Option<f64>,
    /// Line pull at which it reaches the asked ratio.
    pub stop_load: Option<Force>,
    /// The word.
    pub verdict: Verdict,
    /// Key of the source of what is asked.
    pub source: String,
    /// Why the capacity is not known, if it isn't.
    pub unknown_because: Option<String>,
}

/// The winch at the start of the pull.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanWinch {
    /// Its id.
    pub id: String,
    /// Layer at the start.
    pub layer: Option<u32>,
    /// What it can pull there, low end.
    pub ability: Option<Force>,
    /// What the work asks of it, high end.
    pub pull: Force,
    /// What it can pull at stall, high end.
    pub stall: Force,
    /// Whether the stall is our own band on the rated pull.
    pub stall_assumed: bool,
    /// Line off the drum at the start.
    pub line_out: Length,
    /// Turns left on the drum.
    pub wraps_left: Option<f64>,
}

/// How the crew knows when to stop.
#[derive(Clone, Debug, PartialEq)]
pub struct StopRule {
    /// Line pull at the winch not to go past; none if nothing needs one.
    pub line_pull: Option<Force>,
    /// What the load cell reads then, where it stands in the rig.
    pub cell_reading: Option<Force>,
    /// The sentences: stop when…
    pub when: Vec<String>,
}

/// A step for the crew.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepItem {
    /// The phase: `prepare`, `rig`, `check`, `pull`, `release`.
    pub phase: &'static str,
    /// What to do.
    pub text: String,
}

/// Ground to keep clear.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOut {
    /// The rule, named.
    pub rule: String,
    /// Closed rings seen from above; people stay outside all of them.
    pub rings: Vec<Vec<(f64, f64)>>,
    /// The radius round each loaded hard point.
    pub radius: Length,
    /// Larger published rules, for comparison: name, radius, source key.
    pub others: Vec<(String, Length, String)>,
    /// Exceptions with their conditions.
    pub exceptions: Vec<String>,
}

/// How far the vehicle is from rolling over.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanStability {
    /// Share of the restoring moment used up; 1 is the tipping point.
    pub used: Option<Range<f64>>,
    /// The same with the holding line.
    pub used_with_holding: Option<Range<f64>>,
    /// Sideways part of the pull, left being positive.
    pub sideways_pull: Force,
    /// Angle of the pull from the way out, seen from above.
    pub off_line: Angle,
}

/// The whole pull with one rig, in short; `unmire pull` tells all of it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPull {
    /// The worst word on the way.
    pub verdict: Verdict,
    /// Whether the rig brings it to the last metre; else it must be rigged anew.
    pub arrives: bool,
    /// How far it brings it.
    pub reaches: Length,
    /// How long the way is: the high end of the distance.
    pub length: Length,
    /// Why it ends there, in one sentence.
    pub why_it_ends: String,
    /// The part with the lowest margin on the way, and after which way.
    pub weakest: Option<(String, Length)>,
    /// That margin.
    pub lowest_margin: Option<f64>,
    /// Greatest line pull at work on the way.
    pub pull_work: Force,
    /// Line pull at the winch not to go past: the least on the way.
    pub stop_load: Option<Force>,
    /// How long the line runs.
    pub pulling: Range<Time>,
    /// How long the motor rests.
    pub resting: Range<Time>,
    /// Charge that it takes; none where nothing electric pulls.
    pub charge: Option<Range<Charge>>,
}

/// One rig, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The word.
    pub verdict: Verdict,
    /// Which family.
    pub family: Family,
    /// Whether it does not pass, and would hold below a stop load with a detector that is missing.
    pub lacks_detector: bool,
    /// Why this rig, or why it fails, in one sentence.
    pub why: String,
    /// The rig in one sentence.
    pub summary: String,
    /// The need after its actions.
    pub demand: Demand,
    /// What to do first.
    pub actions: Vec<Action>,
    /// The pieces.
    pub pieces: Vec<PlacedPiece>,
    /// The points.
    pub points: Vec<PlanPoint>,
    /// The legs.
    pub legs: Vec<PlanLeg>,
    /// The anchors.
    pub anchors: Vec<AnchorForce>,
    /// The checks, worst first.
    pub checks: Vec<PlanCheck>,
    /// Findings of the rules about this rig.
    pub findings: Vec<Finding>,
    /// Index into `checks` of the part with the lowest margin.
    pub weakest: Option<usize>,
    /// Lowest margin: capacity ÷ load ÷ what is asked.
    pub lowest_margin: Option<f64>,
    /// Greatest out-of-balance force of the solved rig.
    pub residual: Force,
    /// Stop rule.
    pub stop: StopRule,
    /// The winch.
    pub winch: Option<PlanWinch>,
    /// Rolling over.
    pub stability: Option<PlanStability>,
    /// The whole pull in short; none where the rig does not pass at its start.
    pub pull: Option<PlanPull>,
    /// About how long rigging and pulling take.
    pub time: Range<Time>,
    /// Steps.
    pub steps: Vec<StepItem>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Keep-out ground.
    pub keep_out: KeepOut,
    /// What the other policies say: name, verdict, lowest margin.
    pub other_policies: Vec<(String, Verdict, Option<f64>)>,
    /// The layout, so that it can be written back to a case file; none for a bare rig.
    pub layout: Option<Layout>,
    /// The working.
    pub trail: Trail,
}

/// A question of the gate before any plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GateItem {
    /// The stable word.
    pub word: &'static str,
    /// The question.
    pub text: String,
}

/// What the drawing needs besides the plan: the site.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Site {
    /// Bearing of the x axis clockwise from north, if taken, and which north.
    pub heading: Option<(Angle, String)>,
    /// Direction of the way out seen from above, left of x being positive.
    pub way_out: Angle,
    /// How far out, likely.
    pub way_out_distance: Length,
    /// Outlines of vehicles: name, corners.
    pub vehicles: Vec<(String, Vec<(f64, f64)>)>,
    /// Anchors: id, what, position, radius.
    pub anchors: Vec<(String, String, Vec3, Length)>,
    /// Obstacles: id, what, outline, whether it is an escape path.
    pub obstacles: Vec<ObstacleOutline>,
    /// Slope along and across the way out, likely.
    pub slopes: (Angle, Angle),
}

/// An obstacle as it is drawn: id, what, outline, whether it is an escape path.
pub type ObstacleOutline = (String, String, Vec<(f64, f64)>, bool);

/// Where a rule comes from, for outputs.
#[derive(Clone, Debug, PartialEq)]
pub struct PolicyWords {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What it asks, in a sentence.
    pub doc: String,
    /// How sure the advice is.
    pub grade: Grade,
}

/// Everything.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The case's title.
    pub title: String,
    /// The policy; none for a bare rig.
    pub policy: Option<PolicyWords>,
    /// The need as found; none for a bare rig.
    pub demand: Option<Demand>,
    /// Findings about the case as a whole.
    pub findings: Vec<Finding>,
    /// The gate before any plan.
    pub gate: Vec<GateItem>,
    /// The rigs, best first.
    pub plans: Vec<Plan>,
    /// How many candidates were looked at.
    pub looked_at: usize,
    /// How many of the best were played over the whole pull and ranked by their worst moment.
    pub played: usize,
    /// Winch, kinetic or neither, where somebody asked and a kinetic pull can be thought of.
    pub ways: Option<crate::kinetic::Ways>,
    /// The site, for drawings.
    pub site: Site,
}
impl Report {
    /// Whether the best rig passes: exit status 0.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.policy.is_none() || self.plans.first().is_some_and(|p| p.verdict.passes())
    }
    /// The worst effect among the findings about the case.
    #[must_use]
    pub fn worst_effect(&self) -> Option<Effect> {
        self.findings.iter().map(|f| f.effect).max()
    }
}
