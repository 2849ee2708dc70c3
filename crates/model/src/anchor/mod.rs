//! Anchors: what the ground and the trees offer, and what a crew can build.

mod built;
mod tree;

pub use built::{Boulder, BoulderSigns, Deadman, DeadmanShape, Earth, Pickets, Plates, RockBolts, Stakes};
pub use tree::{Rooting, SoilGroup, Stump, StumpSigns, Tree, TreeSigns};

use crate::{Force, Input, Length, Range, Vec3};

/// What kind of anchor it is.
#[derive(Clone, Debug, PartialEq)]
pub enum AnchorKind {
    /// A standing tree.
    Tree(Tree),
    /// A stump.
    Stump(Stump),
    /// A boulder, a block of concrete, or rock that is part of the ground.
    Boulder(Boulder),
    /// Grouted bolts in rock.
    RockBolts(RockBolts),
    /// Driven pickets, lashed together.
    Pickets(Pickets),
    /// Something long or flat, buried across the pull: a log, a beam, a spare wheel.
    Deadman(Deadman),
    /// Plates or screws driven or turned into the ground and pulled on proof.
    Plates(Plates),
    /// Something made that is none of these. It is attached to by a connector, not by a hitch.
    Made {
        /// What it is, in words.
        what: String,
    },
    /// Anything else that was found there.
    Other {
        /// What it is, in words.
        what: String,
        /// Radius for a strap round it, if a strap goes round it.
        radius: Option<Length>,
    },
}
impl AnchorKind {
    /// The radius of what a strap would go round, if it would.
    #[must_use]
    pub fn radius(&self) -> Option<Length> {
        match self {
            Self::Tree(t) => Some(t.diameter.value.likely() * 0.5),
            Self::Stump(s) => Some(s.diameter.value.likely() * 0.5),
            Self::Boulder(b) => Some(b.radius),
            Self::RockBolts(_) | Self::Pickets(_) | Self::Deadman(_) | Self::Plates(_) | Self::Made { .. } => None,
            Self::Other { radius, .. } => *radius,
        }
    }
    /// Whether it is living wood, so that its bark counts.
    #[must_use]
    pub const fn is_living(&self) -> bool {
        matches!(self, Self::Tree(_))
    }
    /// Whether the crew makes it, so that a connector goes to it and not a hitch, and a policy judges it as made.
    #[must_use]
    pub const fn is_made(&self) -> bool {
        matches!(self, Self::RockBolts(_) | Self::Pickets(_) | Self::Deadman(_) | Self::Plates(_) | Self::Made { .. })
    }
}

/// What stands behind an anchor or a parked vehicle, joined to it by a strap or a rope: the first moves, the second takes up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TieBack {
    /// Id of the anchor behind it, or name of the helper.
    pub to: String,
    /// Id of the piece of the kit between them.
    pub with: String,
}

/// An anchor.
#[derive(Clone, Debug, PartialEq)]
pub struct Anchor {
    /// Its id; unique over the case.
    pub id: String,
    /// What it is.
    pub kind: AnchorKind,
    /// The ground at its foot, in the case's frame.
    pub position: Vec3,
    /// How far off that position may be: paces and bearings are not a tape.
    pub uncertainty: Length,
    /// Height of the attachment above the ground.
    pub attach_height: Input<Length>,
    /// What it holds, if the case says so.
    pub stated_capacity: Option<Input<Range<Force>>>,
    /// The anchor that it is tied back to, if it is.
    pub tied_back: Option<TieBack>,
    /// The line of the file.
    pub line: u32,
}
impl Anchor {
    /// Where the gear is attached.
    #[must_use]
    pub fn attachment(&self) -> Vec3 {
        self.position + Vec3::UP * self.attach_height.value.as_m()
    }
}
