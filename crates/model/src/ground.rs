//! How it is stuck, on what, and which way is out.

use crate::{Angle, Force, Input, Length, Mass, Range};

/// How deep, in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Depth {
    /// Not sunk: it rolls, or would if it had grip.
    NotMired,
    /// Wheels in up to the hub.
    Wheel,
    /// Over the hub, up to the wheel arch.
    WheelArch,
    /// Over the wheel arch.
    Cab,
}

/// How the vehicle is stuck.
#[derive(Clone, Debug, PartialEq)]
pub struct Stuck {
    /// How deep.
    pub depth: Input<Depth>,
    /// The share of the moving weight that the mire holds, if somebody measured or estimated it: it replaces the band.
    pub mire_share: Option<Input<Range<f64>>>,
    /// An obstacle's resistance: a ledge, a root, a rock.
    pub obstacle: Option<Input<Range<Force>>>,
    /// Share of the weight on wheels that don't turn: braked, locked, seized.
    pub locked_share: Option<Input<Range<f64>>>,
    /// Whether its own wheels can help to drive it out.
    pub drive_helps: bool,
    /// Whether the belly rests on the ground.
    pub bellied: bool,
    /// Payload that can be taken out.
    pub unloadable: Option<Input<Range<Mass>>>,
    /// Whether it is on its side or its roof.
    pub overturned: bool,
}

/// Which way of estimating the need the verdict uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum NeedMethod {
    /// The field doctrines' band.
    #[default]
    Doctrine,
    /// Bekker's terramechanics from the described soil.
    Terramechanics,
}

/// What the bark does at this time of the year.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Season {
    /// Sap rises, the wood grows: the bark peels easily, most of all from spring to early summer.
    Growing,
    /// The tree rests.
    Dormant,
}

/// The ground under the stuck vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Surface, a key of the rolling-resistance table.
    pub surface: Input<String>,
    /// Soil, a key of the terramechanics table, if somebody can tell.
    pub soil: Option<Input<String>>,
    /// Which estimate the verdict uses.
    pub method: NeedMethod,
    /// Whether the soil is so wet that bark, roots and friction suffer.
    pub saturated: bool,
    /// The trees' season; not known counts as growing.
    pub season: Option<Input<Season>>,
}

/// The way out.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    /// Direction seen from above, left of the stuck vehicle's heading being positive; half a turn is backwards.
    pub bearing: Input<Angle>,
    /// Slope along the way out, uphill being positive.
    pub grade: Input<Range<Angle>>,
    /// Slope across the way out, the left side high being positive.
    pub side_slope: Input<Angle>,
    /// How far until it stands on ground it can drive on.
    pub distance: Input<Range<Length>>,
}

/// What holds the vehicle back on a stretch of the way out.
#[derive(Clone, Debug, PartialEq)]
pub enum Ahead {
    /// The same as where it stands: mire, belly and all.
    AsFound,
    /// It rolls on a surface, a key of the rolling-resistance table.
    Surface(Input<String>),
    /// A share of the moving weight, measured or estimated, rolling part included; the slope comes on top.
    Share(Input<Range<f64>>),
}

/// One stretch of the way out. The stretches follow each other from where the vehicle stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// How long it is, along the ground.
    pub length: Input<Length>,
    /// Its direction, left of the stuck vehicle's heading as it stands now being positive; none: as the way out.
    pub bearing: Option<Input<Angle>>,
    /// Slope along it, uphill being positive; none: as the way out.
    pub grade: Option<Input<Range<Angle>>>,
    /// Slope across it, the left side high being positive; none: as the way out.
    pub side_slope: Option<Input<Angle>>,
    /// What holds the vehicle back there.
    pub ahead: Ahead,
}
