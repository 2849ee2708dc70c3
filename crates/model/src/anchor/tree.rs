//! Standing trees and stumps: what somebody can see and measure of them.

use crate::{Input, Length, Range, Time};

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
    /// Water stands at its foot.
    pub flooded: Option<bool>,
    /// A frozen crust over wet soil: it holds until it breaks.
    pub frozen_top: Option<bool>,
}
impl TreeSigns {
    /// Every sign answered alike: `false` is a tree that somebody walked round and found sound.
    #[must_use]
    pub const fn all(answer: bool) -> Self {
        let a = Some(answer);
        Self { dead: a, leaning: a, fungus: a, cavity: a, lifted_roots: a, bank_edge: a, flooded: a, frozen_top: a }
    }
    /// Every sign with its name.
    #[must_use]
    pub fn each(&self) -> [(&'static str, Option<bool>); 8] {
        [
            ("dead", self.dead),
            ("leaning", self.leaning),
            ("fungus", self.fungus),
            ("cavity", self.cavity),
            ("lifted_roots", self.lifted_roots),
            ("bank_edge", self.bank_edge),
            ("flooded", self.flooded),
            ("frozen_top", self.frozen_top),
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

/// Signs that rule a stump out; asked as yes or no. `None` means nobody looked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StumpSigns {
    /// Rotten: soft under a knife, fungus, bark falling off.
    pub rotten: Option<bool>,
    /// Split through the wood where the strap would lie.
    pub split: Option<bool>,
    /// Roots lifted, cut or undercut.
    pub lifted_roots: Option<bool>,
    /// On the edge of a bank.
    pub bank_edge: Option<bool>,
    /// Water stands at its foot.
    pub flooded: Option<bool>,
    /// A frozen crust over wet soil: it holds until it breaks.
    pub frozen_top: Option<bool>,
}
impl StumpSigns {
    /// Every sign answered alike.
    #[must_use]
    pub const fn all(answer: bool) -> Self {
        let a = Some(answer);
        Self { rotten: a, split: a, lifted_roots: a, bank_edge: a, flooded: a, frozen_top: a }
    }
    /// Every sign with its name.
    #[must_use]
    pub fn each(&self) -> [(&'static str, Option<bool>); 6] {
        [
            ("rotten", self.rotten),
            ("split", self.split),
            ("lifted_roots", self.lifted_roots),
            ("bank_edge", self.bank_edge),
            ("flooded", self.flooded),
            ("frozen_top", self.frozen_top),
        ]
    }
}

/// A stump: the foot of a felled tree with its roots in the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Stump {
    /// Species, a key of the species tables, or nothing.
    pub species: Option<String>,
    /// Whether it is a conifer, where the species is not known.
    pub conifer: Option<bool>,
    /// Diameter inside the bark where the strap lies.
    pub diameter: Input<Range<Length>>,
    /// Height of the cut above the ground: a strap above it has nothing to lie on.
    pub height: Option<Input<Length>>,
    /// How long ago the tree was felled.
    pub felled_ago: Option<Input<Range<Time>>>,
    /// Soil.
    pub soil: SoilGroup,
    /// Rooting depth.
    pub rooting: Rooting,
    /// Signs that rule it out.
    pub signs: StumpSigns,
}
