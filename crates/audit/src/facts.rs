//! The facts of one rig, as the rules see them. The planner fills them in from the case, the layout and the solved
//! equilibrium; everything is SI and final: demands at their high end, capacities after every reduction.

use unmire_model::case::Case;
use unmire_model::gear::Piece;
use unmire_model::layout::{Hitch, Layout};
use unmire_model::vehicle::PointKind;
use unmire_model::{Angle, Force, Length, Pressure, Range};

/// Kinds of part; a policy has a row for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartKind {
    /// The winch's line, or the line of a hand winch or a tow.
    Line,
    /// A connector (shackle, soft shackle, hook, load cell) in the line or at its dead end.
    Connector,
    /// A connector that holds a block.
    BlockConnector,
    /// A block or a ring.
    Block,
    /// A strap in its hitch that holds a block.
    BlockStrap,
    /// A strap in its hitch that holds a dead end or a puller, or ties something back.
    EndStrap,
    /// A strap or rope that lengthens a line or a strap; a bridle.
    Extension,
    /// A recovery point of a vehicle.
    RecoveryPoint,
    /// What holds the winch on its vehicle.
    WinchMount,
    /// The body of a hand winch.
    HandWinch,
    /// A tree, a stump or a boulder.
    NaturalAnchor,
    /// Pickets, a buried log, a plate, a bolt.
    MadeAnchor,
    /// A parked or tied-back vehicle held by its tyres.
    ParkedVehicle,
}
impl PartKind {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::Line,
        Self::Connector,
        Self::BlockConnector,
        Self::Block,
        Self::BlockStrap,
        Self::EndStrap,
        Self::Extension,
        Self::RecoveryPoint,
        Self::WinchMount,
        Self::HandWinch,
        Self::NaturalAnchor,
        Self::MadeAnchor,
        Self::ParkedVehicle,
    ];
    /// The stable word, as in policy files and outputs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Line => "line",
            Self::Connector => "connector",
            Self::BlockConnector => "block-connector",
            Self::Block => "block",
            Self::BlockStrap => "block-strap",
            Self::EndStrap => "end-strap",
            Self::Extension => "extension",
            Self::RecoveryPoint => "recovery-point",
            Self::WinchMount => "winch-mount",
            Self::HandWinch => "hand-winch",
            Self::NaturalAnchor => "natural-anchor",
            Self::MadeAnchor => "made-anchor",
            Self::ParkedVehicle => "parked-vehicle",
        }
    }
    /// Whether the ground holds it and not a label.
    #[must_use]
    pub const fn is_anchor(self) -> bool {
        matches!(self, Self::NaturalAnchor | Self::MadeAnchor | Self::ParkedVehicle)
    }
}

/// What a part can take, after every reduction, by each meaning that a policy may ask for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Capacity {
    /// Least breaking strength, reduced (hitch, choke angle, side load, bend, splice, wet).
    pub breaking: Option<Force>,
    /// Working load limit, reduced by the same.
    pub working: Option<Force>,
    /// Holding force of an anchor: low, likely, high, ultimate.
    pub holding: Option<Range<Force>>,
    /// Whether the holding force was stated as a range by the case and not modelled.
    pub stated: bool,
    /// The product of all reductions that were applied to the label (1 = none).
    pub reduction: f64,
    /// Why it is not known, where it isn't.
    pub unknown_because: Option<&'static str>,
}

/// One part that carries load.
#[derive(Clone, Debug)]
pub struct PartFact<'a> {
    /// What it is called in outputs: a piece id, `winch W1 mount`, an anchor id.
    pub name: String,
    /// What it does there, in words: `block at A1`, `strap in basket round A1`.
    pub role: String,
    /// Its kind.
    pub kind: PartKind,
    /// The piece of the kit, if it is one.
    pub piece: Option<&'a Piece>,
    /// Load at the high end of the need, the worse end of friction.
    pub demand_work: Option<Force>,
    /// Load at winch stall, no relief by friction; none where nothing can stall (a holding line, a tow).
    pub demand_stall: Option<Force>,
    /// The share of the station's whole force that this part carries (1 unless legs share).
    pub share: f64,
    /// The whole force at its station at stall: what a rule that counts winch stalls is scaled by.
    pub station_stall: Option<Force>,
    /// What it can take.
    pub capacity: Capacity,
}

/// A strap round something.
#[derive(Clone, Debug)]
pub struct HitchFact<'a> {
    /// Index of its part.
    pub part: usize,
    /// The anchor.
    pub anchor: &'a str,
    /// The strap.
    pub piece: &'a Piece,
    /// How.
    pub hitch: Hitch,
    /// Included angle between the legs (basket) or choke angle (choker).
    pub angle: Angle,
    /// Pressure on the bark at work.
    pub pressure_work: Option<Pressure>,
    /// Pressure on the bark at stall.
    pub pressure_stall: Option<Pressure>,
    /// Whether it is living wood.
    pub living: bool,
    /// Whether it holds a block.
    pub holds_block: bool,
    /// Height of the attachment.
    pub height: Length,
    /// Diameter of what it goes round.
    pub diameter: Length,
}

/// A force on a vehicle's point.
#[derive(Clone, Debug)]
pub struct PointFact<'a> {
    /// Index of its part.
    pub part: usize,
    /// Which vehicle, which point.
    pub name: String,
    /// The point's id.
    pub id: &'a str,
    /// What it is.
    pub kind: PointKind,
    /// Angle between the pull and the direction in which it is made to be pulled, if that is stated.
    pub off_axis: Option<Angle>,
    /// The most that the maker allows, if stated.
    pub cone: Option<Angle>,
}

/// A shackle's load against its plane is not known to the program; what is known is the spread of what it joins.
#[derive(Clone, Debug)]
pub struct ConnectorFact<'a> {
    /// Index of its part.
    pub part: usize,
    /// The piece.
    pub piece: &'a Piece,
    /// Angle between the outermost two things pulling on it away from its other end, where two or more do.
    pub spread: Option<Angle>,
}

/// A line round a block or ring.
#[derive(Clone, Debug)]
pub struct TurnFact<'a> {
    /// Index of its part.
    pub part: usize,
    /// The piece.
    pub piece: &'a Piece,
    /// By how much the line is turned.
    pub deflection: Angle,
    /// Diameter of the line.
    pub line_diameter: Option<Length>,
    /// Sheave diameter ÷ line diameter, if both are known.
    pub bend_ratio: Option<f64>,
    /// Whether the line is of steel wire.
    pub line_is_wire: bool,
}

/// A vehicle that holds by its tyres.
#[derive(Clone, Debug)]
pub struct ParkedFact {
    /// Index of its part.
    pub part: usize,
    /// Whether every wheel stands against a chock; none if nobody said.
    pub chocked: Option<bool>,
    /// The pull at which its tyres slide.
    pub slides_at: Option<Range<Force>>,
    /// The pull at which it tips over a line of its wheels; none where no pull like this tips it.
    pub tips_at: Option<Range<Force>>,
    /// Why tipping was not checked, if it wasn't, as a sentence.
    pub not_checked: Option<String>,
}

/// Anchors whose legs share one pull, as it may become at work.
#[derive(Clone, Debug)]
pub struct SharingFact {
    /// The anchors, in the order of the legs.
    pub anchors: Vec<String>,
    /// The greatest force of one of them ÷ that of each if all carried the same; none if nobody can tell.
    pub unevenness: Option<f64>,
    /// The one that may get most, and its share of the pull.
    pub most: Option<(String, f64)>,
    /// Those whose legs hang slack, likely.
    pub slack: Vec<String>,
    /// Those whose legs may hang slack.
    pub may_hang_slack: Vec<String>,
    /// How far the ring may move as the pull comes on.
    pub ring_moves: Option<Length>,
}

/// An anchor or a parked vehicle that another one backs.
#[derive(Clone, Debug)]
pub struct BackedFact {
    /// Index of the front one's part.
    pub part: usize,
    /// What stands behind it.
    pub back: String,
    /// The piece between them.
    pub with: String,
    /// What the front one holds alone.
    pub alone: Option<Range<Force>>,
    /// What the two hold together, and the pull at which the one behind begins to work.
    pub together: Option<(Range<Force>, Range<Force>)>,
    /// Which gives first, in words.
    pub first: &'static str,
    /// How it is counted.
    pub counted: Counted,
}

/// How what stands behind an anchor is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// The two are judged together, with what is between them.
    Together,
    /// The front one holds what is asked alone.
    Spare,
    /// It is not counted, and why.
    Not(&'static str),
}

/// The winch in this rig.
#[derive(Clone, Debug)]
pub struct WinchFact {
    /// Its id.
    pub id: String,
    /// The layer that works at the start.
    pub layer: Option<u32>,
    /// What it can pull there, at its low end.
    pub ability: Option<Force>,
    /// The pull that the work asks for at the winch, high end.
    pub pull_work: Force,
    /// Line pull at stall, high end, lowest layer that the pull reaches.
    pub stall: Force,
    /// Whether that stall is our own band on the rated pull.
    pub stall_assumed: bool,
    /// Line off the drum at the start.
    pub line_out: Length,
    /// Line in all.
    pub line_length: Length,
    /// Turns left on the drum at the start, if the drum is known.
    pub wraps_left: Option<f64>,
    /// Turns that must stay.
    pub wraps_required: f64,
    /// Angle of the line from square at the fairlead.
    pub fairlead_angle: Angle,
    /// The most that is allowed, and whether the maker said so.
    pub fairlead_limit: (Angle, bool),
}

/// Rolling over.
#[derive(Clone, Debug)]
pub struct StabilityFact {
    /// Share of the restoring moment that is used up: 1 is the tipping point. None if not known.
    pub used: Option<Range<f64>>,
    /// Whether a side slope or a sideways pull makes the question matter.
    pub matters: bool,
    /// The sideways part of the pull on the stuck vehicle, left being positive.
    pub sideways_pull: Force,
    /// Share used with the holding line of this rig.
    pub used_with_holding: Option<Range<f64>>,
    /// Whether the vehicle can run away when it comes free.
    pub can_run_away: bool,
    /// Whether this rig has a holding line.
    pub has_holding: bool,
}

/// A line that crosses something it must not.
#[derive(Clone, Debug)]
pub struct CrossingFact<'a> {
    /// Which leg, in words.
    pub leg: String,
    /// The obstacle.
    pub obstacle: &'a unmire_model::case::Obstacle,
}

/// What can notice a stop load in time.
#[derive(Clone, Debug, Default)]
pub struct Detectors {
    /// A load cell in the kit whose own rating is readable: its id.
    pub load_cell: Option<String>,
    /// A current meter together with a winch that was calibrated.
    pub current: bool,
    /// A tilt meter for the base of a tree: its id.
    pub tilt_meter: Option<String>,
    /// A movement marker for other anchors: its id.
    pub movement_marker: Option<String>,
}

/// Everything.
#[derive(Clone, Debug)]
pub struct Facts<'a> {
    /// The case.
    pub case: &'a Case,
    /// The layout.
    pub layout: &'a Layout,
    /// The need after the plan's actions.
    pub need: Range<Force>,
    /// Tension at the winch (or puller) at work, high end.
    pub pull_work: Force,
    /// Tension at the winch at stall, high end; none where nothing can stall.
    pub pull_stall: Option<Force>,
    /// Every part that carries load.
    pub parts: Vec<PartFact<'a>>,
    /// Straps round things.
    pub hitches: Vec<HitchFact<'a>>,
    /// Vehicle points.
    pub points: Vec<PointFact<'a>>,
    /// Connectors.
    pub connectors: Vec<ConnectorFact<'a>>,
    /// Turns.
    pub turns: Vec<TurnFact<'a>>,
    /// Vehicles that hold by their tyres.
    pub parked: Vec<ParkedFact>,
    /// Anchors that share a pull.
    pub sharing: Vec<SharingFact>,
    /// Anchors and vehicles that another one backs.
    pub backed: Vec<BackedFact>,
    /// The winch.
    pub winch: Option<WinchFact>,
    /// Rolling over.
    pub stability: Option<StabilityFact>,
    /// Crossings.
    pub crossings: Vec<CrossingFact<'a>>,
    /// What can notice a stop load.
    pub detectors: Detectors,
    /// Capacity of the puller to do the work, where it is not a winch: hand winch rating, tyres of a towing helper, at its low end.
    pub puller_ability: Option<Force>,
}
