//! A layout: a rig in words that a crew uses. Which winch, by which way, what holds what, with which pieces.
//! The planner makes them, a case file can state one, and both are judged by the same code.
//!
//! The line is told from the winch on: every [`Station`] is a place where it turns round a block or where it ends.

/// The families of rigs. A stable word for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Family {
    /// A line straight to the load or to the anchor.
    StraightPull,
    /// A line turned by one or more fixed blocks.
    Redirect,
    /// A line to a block and back: two parts pull.
    DoubleLine,
    /// Three parts pull.
    TripleLine,
    /// The stuck vehicle's own winch pulls it away from the winch's side.
    ReversePull,
    /// A redirect block held between two anchors.
    FloatingRedirect,
    /// A dead end or a block held by two or three anchors that share.
    SharedAnchors,
    /// A helper that pulls and is itself tied back to an anchor.
    AnchoredHelper,
    /// A helper drives away on a taut, low-stretch line.
    SteadyTow,
    /// A lever-driven puller.
    HandWinch,
}
impl Family {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::StraightPull,
        Self::Redirect,
        Self::DoubleLine,
        Self::TripleLine,
        Self::ReversePull,
        Self::FloatingRedirect,
        Self::SharedAnchors,
        Self::AnchoredHelper,
        Self::SteadyTow,
        Self::HandWinch,
    ];
    /// The stable word, as in outputs and files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::StraightPull => "straight-pull",
            Self::Redirect => "redirect",
            Self::DoubleLine => "double-line",
            Self::TripleLine => "triple-line",
            Self::ReversePull => "reverse-pull",
            Self::FloatingRedirect => "floating-redirect",
            Self::SharedAnchors => "shared-anchors",
            Self::AnchoredHelper => "anchored-helper",
            Self::SteadyTow => "steady-tow",
            Self::HandWinch => "hand-winch",
        }
    }
}

/// How a strap holds an anchor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hitch {
    /// Round it, both eyes to one connector.
    Basket,
    /// Round it, one eye through the other.
    Choker,
    /// From a fitting straight: a made anchor.
    Straight,
}
impl Hitch {
    /// The stable word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Basket => "basket",
            Self::Choker => "choker",
            Self::Straight => "straight",
        }
    }
}

/// Which vehicle.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Who {
    /// The stuck one.
    Stuck,
    /// A helper, by name.
    Helper(String),
}

/// What pulls.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Puller {
    /// A vehicle's winch.
    Winch {
        /// On which vehicle.
        on: Who,
    },
    /// A helper drives.
    Tow {
        /// Which helper.
        helper: String,
        /// From which of its points.
        point: String,
        /// The connectors there.
        connectors: Vec<String>,
        /// The strap or rope that is the line, and what lengthens it.
        line: Vec<String>,
    },
    /// A hand winch from the kit, hooked to an anchor or to the stuck vehicle; its line goes to the stations.
    HandWinch {
        /// Which piece.
        piece: String,
        /// What its body is held by.
        held_by: Box<Hold>,
    },
}

/// One anchor with what is rigged on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AnchorLeg {
    /// Which anchor.
    pub anchor: String,
    /// How the strap holds it.
    pub hitch: Hitch,
    /// The strap; none if a connector goes straight onto a made anchor.
    pub strap: Option<String>,
    /// Straps that lengthen it, in order away from the anchor.
    pub extensions: Vec<String>,
    /// Connectors of this leg: one after the strap, one after each extension.
    pub connectors: Vec<String>,
}

/// What a block or a dead end is held by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hold {
    /// One or more anchors; with two or three the legs meet in one connector and share.
    Anchors(Vec<AnchorLeg>),
    /// One point of a vehicle.
    Point {
        /// Which vehicle.
        on: Who,
        /// Which point.
        point: String,
        /// Connectors there.
        connectors: Vec<String>,
    },
    /// Two points of a vehicle through a bridle.
    Bridle {
        /// Which vehicle.
        on: Who,
        /// Which two points.
        points: [String; 2],
        /// The bridle strap.
        bridle: String,
        /// Connectors: one at each point, one in the middle.
        connectors: Vec<String>,
    },
    /// A vehicle's winch, whose own line holds: for holding lines only.
    Winch {
        /// On which vehicle.
        on: Who,
    },
}

/// Where the line turns or ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Station {
    /// The block or ring it turns round; none at the dead end.
    pub block: Option<String>,
    /// Straps or ropes that lengthen the line at its dead end; none at a block.
    pub extensions: Vec<String>,
    /// Connectors at the station itself: one between the line's end and each extension, then one where the legs of
    /// two or three anchors meet.
    pub connectors: Vec<String>,
    /// What holds it.
    pub hold: Hold,
}

/// A second line that keeps the vehicle from rolling over or running away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldingLine {
    /// The point of the stuck vehicle.
    pub point: String,
    /// Connectors at that point.
    pub connectors: Vec<String>,
    /// The straps or ropes that are the line, from the vehicle on.
    pub line: Vec<String>,
    /// What it is held by.
    pub hold: Hold,
}

/// A rig in the crew's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Which family.
    pub family: Family,
    /// What pulls.
    pub puller: Puller,
    /// Where the line goes, in order from the winch; the last station is the dead end.
    pub stations: Vec<Station>,
    /// A tie-back of the helper that pulls: its point, what lies between, and the anchor.
    pub tie_back: Option<HoldingLine>,
    /// A holding line.
    pub holding: Option<HoldingLine>,
    /// Pieces laid on or beside the rig that carry nothing: dampers, chocks, load cell in the line.
    pub beside: Vec<String>,
    /// The line of the file, zero for a planned one.
    pub line: u32,
}
