//! Anchors: what the ground and the trees offer.

use crate::{Force, Input, Length, Range, Vec3};

/// Soil groups of the root-plate model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SoilGroup {
    /// Freely draining mineral soil.
    FreelyDraining,
    /// Gleyed mineral soil: seasonally waterlogged.
    Gley,
    /// Peaty mineral soil.
    Peaty,
    /// Deep peat.
    DeepPeat,
    /// Not known.
    Unknown,
}

/// How deep a tree roots.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rooting {
    /// Less than 0.4 m.
    Shallow,
    /// Medium, or not known.
    Medium,
    /// More than 0.8 m.
    Deep,
}

/// Signs that rule a tree out; asked as yes or no. `None` means nobody looked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TreeSigns {
    /// Dead.
    pub dead: Option<bool>,
    /// Leaning.
    pub leaning: Option<bool>,
    /// Fungus at the base or on the stem.
    pub fungus: Option<bool>,
    /// A cavity, or decay.
    pub cavity: Option<bool>,
    /// Roots lifted, cut or undercut.
    pub lifted_roots: Option<bool>,
    /// On the edge of a bank.
    pub bank_edge: Option<bool>,
    /// The soil is flooded or saturated.
    pub flooded: Option<bool>,
}
impl TreeSigns {
    /// Every sign with its name.
    #[must_use]
    pub fn each(&self) -> [(&'static str, Option<bool>); 7] {
        [
            ("dead", self.dead),
            ("leaning", self.leaning),
            ("fungus", self.fungus),
            ("cavity", self.cavity),
            ("lifted_roots", self.lifted_roots),
            ("bank_edge", self.bank_edge),
            ("flooded", self.flooded),
        ]
    }
}

/// A standing tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// Species, a key of the species tables, or nothing.
    pub species: Option<String>,
    /// Whether it is a conifer, where the species is not known.
    pub conifer: Option<bool>,
    /// Diameter at breast height.
    pub diameter: Input<Range<Length>>,
    /// Height, if known.
    pub height: Option<Input<Range<Length>>>,
    /// Soil.
    pub soil: SoilGroup,
    /// Rooting depth.
    pub rooting: Rooting,
    /// Signs that rule it out.
    pub signs: TreeSigns,
}

/// What kind of anchor it is.
#[derive(Clone, Debug, PartialEq)]
pub enum AnchorKind {
    /// A standing tree.
    Tree(Tree),
    /// A stump.
    Stump {
        /// Its diameter.
        diameter: Length,
    },
    /// A boulder or a rock, with the radius round which a strap goes.
    Boulder {
        /// Half of its width where the strap lies.
        radius: Length,
    },
    /// Something made: pickets, a buried log, a plate, a rock bolt. It is attached to by a connector, not by a hitch.
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
            Self::Stump { diameter } => Some(*diameter * 0.5),
            Self::Boulder { radius } => Some(*radius),
            Self::Made { .. } => None,
            Self::Other { radius, .. } => *radius,
        }
    }
    /// Whether it is living wood, so that its bark counts.
    #[must_use]
    pub fn is_living(&self) -> bool {
        matches!(self, Self::Tree(_))
    }
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
