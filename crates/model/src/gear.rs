//! The bag: pieces with their labels as printed, condition and size.

use crate::kinetic::Stretching;
use crate::{Force, Input, Length, Mass, Range};

/// What a printed number means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RatingKind {
    /// Working load limit: the most in normal use.
    Working,
    /// Least breaking strength.
    Breaking,
    /// The label gives a number and not its kind. It counts at its lower meaning: a breaking strength.
    Unstated,
}

/// A readable label.
#[derive(Clone, Debug, PartialEq)]
pub struct Rating {
    /// The text on the piece.
    pub as_printed: String,
    /// The force it states.
    pub force: Force,
    /// What kind of force that is.
    pub kind: RatingKind,
    /// Breaking strength ÷ working load limit, if the label prints it.
    pub design_factor: Option<f64>,
}

/// What the label tells.
#[derive(Clone, Debug, PartialEq)]
pub enum Label {
    /// There is none. Such a piece is 'unknown' and never passes.
    Missing,
    /// It can't be read. As [`Label::Missing`].
    Unreadable,
    /// It can be read.
    Printed(Rating),
}
impl Label {
    /// The rating, if there is one.
    #[must_use]
    pub fn rating(&self) -> Option<&Rating> {
        match self {
            Self::Printed(r) => Some(r),
            Self::Missing | Self::Unreadable => None,
        }
    }
}

/// What a look at the piece told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Checked before use; nothing found.
    Checked,
    /// Nobody looked. A finding, not a bar.
    NotChecked,
    /// Something was found; it is out of use.
    Reject {
        /// What was found.
        reason: String,
    },
}

/// What a rope or a strap is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Material {
    /// Polyester webbing, sling or rope.
    Polyester,
    /// Nylon (polyamide).
    Nylon,
    /// High-modulus polyethylene.
    Hmpe,
    /// Polypropylene.
    Polypropylene,
    /// Steel wire rope.
    SteelWire,
    /// Chain.
    Chain,
    /// Not known.
    Unknown,
}

/// What a strap is made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum StrapUse {
    /// A flat strap for a trunk.
    TreeStrap,
    /// An endless round sling.
    RoundSling,
    /// A low-stretch strap that lengthens a line or ties something back.
    Extension,
    /// A strap from one junction to two points.
    Bridle,
    /// A stretching strap or rope for kinetic pulls. Never counted as static gear here.
    Kinetic,
}

/// How a strap's eye is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EyeStyle {
    /// Flat eye.
    Flat,
    /// Folded to half width.
    Folded,
    /// Twisted half a turn.
    Twisted,
    /// Folded and twisted.
    FoldedTwisted,
    /// Not known.
    Unknown,
}

/// Which way the load stitching of the eye runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stitching {
    /// Along the webbing.
    Along,
    /// Across the webbing.
    Across,
    /// Not known.
    Unknown,
}

/// A strap or sling.
#[derive(Clone, Debug, PartialEq)]
pub struct Strap {
    /// What it is made for.
    pub made_for: StrapUse,
    /// Of what.
    pub material: Material,
    /// Length, bearing to bearing, with the eyes.
    pub length: Length,
    /// Width of the webbing; none for a round sling or a rope.
    pub width: Option<Length>,
    /// Eye style.
    pub eyes: EyeStyle,
    /// Load stitching.
    pub stitching: Stitching,
    /// Whether it carries a wear sleeve.
    pub sleeve: bool,
    /// Working load limit in a choker hitch, if the label prints it.
    pub choker_label: Option<Rating>,
    /// Working load limit in a basket hitch with parallel legs, if the label prints it.
    pub basket_label: Option<Rating>,
    /// Stretch at the printed rating as a fraction, if known.
    pub stretch: Option<f64>,
    /// What more is told of a kinetic strap; silent for any other.
    pub stretching: Stretching,
}

/// A loose rope, wire or synthetic.
#[derive(Clone, Debug, PartialEq)]
pub struct Rope {
    /// Of what.
    pub material: Material,
    /// Diameter.
    pub diameter: Length,
    /// Length with its ends.
    pub length: Length,
    /// Made to stretch for kinetic pulls.
    pub kinetic: bool,
    /// What more is told of a kinetic rope; silent for any other.
    pub stretching: Stretching,
}

/// What a sheave turns on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Bearing {
    /// A plain pin or bush without bearing metal.
    Plain,
    /// A bronze bush.
    Bronze,
    /// Balls or rollers.
    Roller,
    /// Not known: the whole band.
    Unknown,
}

/// What a piece is.
#[derive(Clone, Debug, PartialEq)]
pub enum PieceKind {
    /// A strap or sling.
    Strap(Strap),
    /// A loose rope: extension line.
    Rope(Rope),
    /// A steel shackle.
    Shackle {
        /// Bow (true) or dee (false).
        bow: bool,
        /// Pin diameter, if measured.
        pin: Option<Length>,
    },
    /// A soft shackle: a closed loop of rope.
    SoftShackle,
    /// A hook.
    Hook {
        /// Whether it has its latch.
        latch: bool,
    },
    /// A snatch block.
    Block {
        /// What the sheave turns on.
        bearing: Bearing,
        /// Diameter at the bottom of the groove.
        sheave: Option<Length>,
        /// The thickest line it takes.
        line_max: Option<Length>,
    },
    /// A smooth ring used as a sheave for fibre line.
    Ring {
        /// Diameter of the groove.
        groove: Option<Length>,
        /// Friction coefficient line on ring, as a range, if known.
        friction: Option<Input<Range<f64>>>,
    },
    /// A lever-driven puller.
    HandWinch {
        /// Length of its own line or chain.
        line: Length,
        /// Most that the lever can make, if the maker says.
        stall: Option<Input<Range<Force>>>,
    },
    /// A weight laid on a line.
    Damper,
    /// A shovel.
    Shovel,
    /// Boards, plates or mats for under the wheels.
    Boards,
    /// A wedge at a wheel.
    Chock,
    /// A tyre pump.
    Pump,
    /// A jack.
    Jack,
    /// A load cell in the line, with its own rating as its label.
    LoadCell,
    /// A clamp meter that reads the winch's current.
    CurrentMeter,
    /// An inclinometer that can be fixed to the base of a tree.
    TiltMeter,
    /// Stakes and a string line: a reference mark that shows movement of an anchor.
    MovementMarker,
    /// Anything else; carried, not reckoned.
    Other(String),
}

/// One piece of the kit.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its id in the kit; unique. Several of a row `count = 2` are `K2-1`, `K2-2`.
    pub id: String,
    /// What it is.
    pub kind: PieceKind,
    /// Its label.
    pub label: Label,
    /// What a look at it told.
    pub condition: Condition,
    /// Its mass, if known.
    pub mass: Option<Mass>,
    /// The line of the file on which it is described.
    pub line: u32,
}
