//! The keys of trees and stumps.

use super::{sign, signs};
use crate::key::{Key, Kind, Quantity, Section, may};

/// Soils of the root-plate model.
pub const SOIL_GROUPS: &[&str] = &["freely draining", "gley", "peaty", "deep peat", "not known"];
/// Rooting depths.
pub const ROOTING: &[&str] = &["shallow", "medium", "deep"];

const LIFTED_ROOTS: Key = sign("lifted_roots", "Roots lifted, cut or undercut.");
const BANK_EDGE: Key = sign("bank_edge", "On the edge of a bank.");
const FLOODED: Key = sign("flooded", "Water stands at its foot.");
const FROZEN_TOP: Key = sign("frozen_top", "A frozen crust lies over wet soil: it holds until it breaks.");

static TREE_SIGNS: Section = Section {
    name: "the signs of a tree",
    about: "Signs that rule a tree out; leave out what nobody looked at.",
    keys: &[
        sign("dead", "It is dead."),
        sign("leaning", "It leans."),
        sign("fungus", "Fungus at the base or on the stem."),
        sign("cavity", "A cavity, or decay."),
        LIFTED_ROOTS,
        BANK_EDGE,
        FLOODED,
        FROZEN_TOP,
    ],
};
static STUMP_SIGNS: Section = Section {
    name: "the signs of a stump",
    about: "Signs that rule a stump out; leave out what nobody looked at.",
    keys: &[
        sign("rotten", "Rotten: soft under a knife, fungus, bark falling off."),
        sign("split", "Split through the wood where the strap would lie."),
        LIFTED_ROOTS,
        BANK_EDGE,
        FLOODED,
        FROZEN_TOP,
    ],
};

const SPECIES: Key = may("species", Kind::TableKey, "\"oak\"", "Species: a key of the species table.", "not known");
const CONIFER: Key =
    may("conifer", Kind::Flag, "true", "Whether it is a conifer, where the species is not known.", "not known");
const SOIL: Key = may("soil", Kind::Words(SOIL_GROUPS), "\"gley\"", "Soil in which it roots.", "not known");
const ROOTS: Key = may(
    "rooting",
    Kind::Words(ROOTING),
    "\"medium\"",
    "Rooting depth: under 0.4 m is shallow, over 0.8 m deep.",
    "medium or not known",
);
const fn diameter(about: &'static str) -> Key {
    may("diameter", Kind::Range(Quantity::Length, "1 cm", "5 m"), "\"58 cm .. 62 cm\"", about, "the girth tells")
        .assumable()
}
const fn girth(about: &'static str) -> Key {
    may("girth", Kind::Range(Quantity::Length, "3 cm", "16 m"), "\"1.9 m\"", about, "the diameter tells").assumable()
}

/// A standing tree.
pub(super) static TREE: Section = Section {
    name: "tree",
    about: "A standing tree. Give `girth` or `diameter`.",
    keys: &[
        girth("Girth at breast height; the diameter is this over pi."),
        diameter("Diameter at breast height."),
        SPECIES,
        CONIFER,
        may("height", Kind::Range(Quantity::Length, "1 m", "80 m"), "\"18 m\"", "Its height.", "not known").assumable(),
        SOIL,
        ROOTS,
        signs(&TREE_SIGNS, "{ dead = false, leaning = false }"),
    ],
};

/// A stump.
pub(super) static STUMP: Section = Section {
    name: "stump",
    about: "A stump: the foot of a felled tree with its roots in the ground. Give `girth` or `diameter`.",
    keys: &[
        girth("Girth inside the bark where the strap lies; the diameter is this over pi."),
        diameter("Diameter inside the bark where the strap lies."),
        may(
            "cut_height",
            Kind::One(Quantity::Length, "0 m", "5 m"),
            "\"0.6 m\"",
            "Height of the cut above the ground: a strap above it has nothing to lie on.",
            "not known",
        )
        .assumable(),
        may(
            "felled_ago",
            Kind::Range(Quantity::Time, "0 days", "300 years"),
            "\"2 years .. 4 years\"",
            "How long ago the tree was felled: roots rot.",
            "not known",
        )
        .assumable(),
        SPECIES,
        CONIFER,
        SOIL,
        ROOTS,
        signs(&STUMP_SIGNS, "{ rotten = false, split = false }"),
    ],
};
