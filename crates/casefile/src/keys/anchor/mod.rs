//! Anchors: the keys that all have in common, and those of each kind.

mod built;
mod tree;

pub use built::STAKES;
pub use tree::{ROOTING, SOIL_GROUPS};

use super::case::{DISTANCE, FROM, PACE, PACES, POSITION, RISE};
use crate::key::{Key, Kind, Quantity, Section, may, must};

/// Kinds of anchors: the names of [`KINDS`].
pub const ANCHOR_KINDS: &[&str] =
    &["tree", "stump", "boulder", "rock bolts", "pickets", "deadman", "plates", "made", "other"];

/// A sign that rules an anchor out.
const fn sign(name: &'static str, about: &'static str) -> Key {
    may(name, Kind::Flag, "false", about, "nobody looked")
}
const fn signs(of: &'static Section, example: &'static str) -> Key {
    may("signs", Kind::Table(of), example, "Signs that rule it out.", "nobody looked, and it is 'unknown'")
}

const fn what(example: &'static str) -> Key {
    must("what", Kind::Text, example, "What it is, in words.", "the crew must know what is meant")
}

static MADE: Section = Section {
    name: "made",
    about: "Something made that is none of these. It is attached to by a connector, not by a hitch.",
    keys: &[what("\"an eye cast into a concrete wall\"")],
};
static OTHER: Section = Section {
    name: "other",
    about: "Anything else that was found there.",
    keys: &[
        what("\"a bridge pier\""),
        may(
            "radius",
            Kind::One(Quantity::Length, "1 cm", "10 m"),
            "\"0.8 m\"",
            "Half of its width where a strap would lie.",
            "no strap goes round it",
        ),
    ],
};

/// The keys of each kind, in the order of [`ANCHOR_KINDS`].
pub static KINDS: &[&Section] = &[
    &tree::TREE,
    &tree::STUMP,
    &built::BOULDER,
    &built::ROCK_BOLTS,
    &built::PICKETS,
    &built::DEADMAN,
    &built::PLATES,
    &MADE,
    &OTHER,
];

/// A second anchor behind the first.
static TIED_BACK: Section = Section {
    name: "tied_back",
    about: "A second anchor behind the first, joined to it by a strap or a chain: the first moves, the second takes up.",
    keys: &[
        must("to", Kind::Id, "\"A2\"", "Id of the anchor behind it.", "that one takes up what this one lets go"),
        must(
            "with",
            Kind::Id,
            "\"K5\"",
            "Id of the piece of the kit between them.",
            "it bears what the anchor behind takes up",
        ),
    ],
};

/// An anchor: what every kind has in common.
pub static ANCHOR: Section = Section {
    name: "anchor",
    about: "Something to pull against, placed by coordinates or by distance, bearing and rise. Its other keys go by its kind.",
    keys: &[
        must("id", Kind::Id, "\"A1\"", "Its id; unique over the case.", "rigs refer to it"),
        must("kind", Kind::Words(ANCHOR_KINDS), "\"tree\"", "What it is.", "each kind holds in its own way"),
        POSITION,
        DISTANCE,
        PACES,
        PACE,
        may(
            "bearing",
            Kind::Bearing,
            "\"310 deg\"",
            "Compass bearing from the stuck vehicle.",
            "it is placed by coordinates or direction",
        ),
        may(
            "direction",
            Kind::Heading,
            "\"10 deg left\"",
            "Direction from the stuck vehicle, from its heading.",
            "it is placed by coordinates or bearing",
        ),
        RISE,
        FROM,
        may(
            "uncertainty",
            Kind::One(Quantity::Length, "0 m", "20 m"),
            "\"1 m\"",
            "How far off the position may be.",
            "that of [survey] counts",
        ),
        must(
            "attach_height",
            Kind::One(Quantity::Length, "0 m", "5 m"),
            "\"0.4 m\"",
            "Height of the attachment above the ground: of the strap, or of the eye of what is made.",
            "it is the lever arm that overturns an anchor",
        )
        .assumable(),
        may(
            "holds",
            Kind::Range(Quantity::Force, "0 kN", "10 MN"),
            "\"40 kN .. 60 kN\"",
            "What it holds, if somebody tested or designed it.",
            "reckoned, where its kind can be and enough is told; otherwise 'unknown'",
        )
        .assumable(),
        may(
            "tied_back",
            Kind::Table(&TIED_BACK),
            "{ to = \"A2\", with = \"K5\" }",
            "The anchor behind it that it is tied back to, and with what.",
            "it stands alone",
        ),
    ],
};
