//! Rock, and anchors that a crew builds: pickets, deadmen, plates, bolts.

use crate::{Angle, Force, Input, Length, Mass, Pressure, Range};

/// The ground that an anchor is built in. What nobody measured comes from the soil's row, with its range.
#[derive(Clone, Debug, PartialEq)]
pub struct Earth {
    /// Soil, a key of the table of anchor soils.
    pub soil: Input<String>,
    /// Angle of internal friction, if somebody measured it.
    pub friction_angle: Option<Input<Range<Angle>>>,
    /// Undrained shear strength, if somebody measured it (a hand vane).
    pub cohesion: Option<Input<Range<Pressure>>>,
}

/// Signs that rule a boulder out; asked as yes or no. `None` means nobody looked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BoulderSigns {
    /// It rocks or shifts when levered with a bar.
    pub rocks: Option<bool>,
    /// Cracked or layered where the strap would bear.
    pub cracked: Option<bool>,
    /// Undercut, or on the edge of a drop.
    pub undercut: Option<bool>,
}
impl BoulderSigns {
    /// Every sign with its name.
    #[must_use]
    pub fn each(&self) -> [(&'static str, Option<bool>); 3] {
        [("rocks", self.rocks), ("cracked", self.cracked), ("undercut", self.undercut)]
    }
}

/// A boulder or a block that holds by its weight.
#[derive(Clone, Debug, PartialEq)]
pub struct Boulder {
    /// Half of its width where the strap lies.
    pub radius: Length,
    /// Its mass, if known.
    pub mass: Option<Input<Range<Mass>>>,
    /// Its length along the pull, breadth and height: the mass by a table's density and fullness, if nobody knows the mass.
    /// A share of the length is the base that it tips over.
    pub size: Option<[Input<Range<Length>>; 3]>,
    /// What it stands on, a key of the table of foundation friction.
    pub on: Option<Input<String>>,
    /// How deep its front face stands in the ground.
    pub buried: Option<Input<Range<Length>>>,
    /// The soil in front of that face.
    pub earth: Option<Earth>,
    /// Signs that rule it out.
    pub signs: BoulderSigns,
}

/// Bolts grouted into rock.
#[derive(Clone, Debug, PartialEq)]
pub struct RockBolts {
    /// How many share the pull.
    pub count: u32,
    /// Rock, a key of the table of bond strengths.
    pub rock: Input<String>,
    /// Diameter of the hole.
    pub hole: Input<Range<Length>>,
    /// Length over which the grout holds.
    pub bond: Input<Range<Length>>,
    /// Breaking strength of the bar and its eye, each.
    pub bar: Option<Input<Force>>,
    /// Whether it is grouted, not driven or wedged.
    pub grouted: Option<bool>,
    /// The pull that each was shown to hold after the grout set.
    pub proof: Option<Input<Force>>,
}

/// What pickets are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stakes {
    /// Round wood about 75 mm thick and 1.5 m long.
    Wood,
    /// Steel bar about 25 mm thick and 1.5 m long.
    Steel,
}

/// Driven pickets, one behind the other, lashed from the head of each to the foot of the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Pickets {
    /// What they are.
    pub stakes: Stakes,
    /// How many stand in each row, from the load backwards: 3, 2, 1.
    pub rows: Vec<u32>,
    /// How deep they are driven.
    pub driven: Input<Range<Length>>,
    /// How far one row stands behind the other.
    pub spacing: Option<Input<Length>>,
    /// The ground.
    pub earth: Earth,
}

/// What is buried.
#[derive(Clone, Debug, PartialEq)]
pub enum DeadmanShape {
    /// A round log.
    Log {
        /// Its diameter.
        diameter: Input<Range<Length>>,
        /// Its length across the pull.
        length: Input<Range<Length>>,
    },
    /// A squared beam, a plank, a bundle with a flat face.
    Beam {
        /// Height of the face.
        face: Input<Range<Length>>,
        /// Its length across the pull.
        length: Input<Range<Length>>,
    },
    /// A wheel, upright, its flat side towards the pull.
    Wheel {
        /// Diameter of its tyre.
        diameter: Input<Range<Length>>,
    },
}

/// A deadman.
#[derive(Clone, Debug, PartialEq)]
pub struct Deadman {
    /// What is buried.
    pub shape: DeadmanShape,
    /// Depth of the middle of its face under the ground.
    pub depth: Input<Range<Length>>,
    /// How steeply the line rises from it in its trench, above the level; 1 in 4 is 14 degrees.
    pub line_rise: Input<Angle>,
    /// The ground.
    pub earth: Earth,
    /// What the strap or line on it is rated for belongs to that piece; the buried thing's own strength in bending, if known.
    pub own_strength: Option<Input<Force>>,
}

/// Plates or screws, pulled on proof.
#[derive(Clone, Debug, PartialEq)]
pub struct Plates {
    /// What they are, in words.
    pub what: String,
    /// How many share the pull through a bridle.
    pub count: u32,
    /// The pull that each was shown to hold when it was set, in the direction of the work.
    pub proof: Option<Input<Force>>,
    /// How deep they are set.
    pub depth: Option<Input<Length>>,
    /// The ground.
    pub earth: Option<Earth>,
}
