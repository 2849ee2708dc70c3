//! The bag: pieces with their labels as printed.

use super::kinetic;
use crate::key::{Kind, Quantity, Section, may, must};

/// What a look at a piece told.
pub const CONDITION: &[&str] = &["checked", "not checked", "rejected"];
/// How an eye is made.
pub const EYES: &[&str] = &["flat", "folded", "twisted", "folded and twisted", "not known"];
/// Load stitching.
pub const STITCHING: &[&str] = &["along", "across", "not known"];
/// What a sheave turns on.
pub const BEARINGS: &[&str] = &["plain", "bronze", "roller", "not known"];

/// One word of `kind` with the keys that only it has.
pub struct PieceWord {
    /// The word.
    pub word: &'static str,
    /// Keys beyond the common ones.
    pub keys: &'static [&'static str],
    /// Those of them that must be there.
    pub need: &'static [&'static str],
    /// Whether it carries load, so that its label must be spoken of.
    pub rated: bool,
}

/// The keys of every piece.
pub const COMMON: &[&str] = &["id", "kind", "count", "label", "condition", "reason", "mass"];
const STRAP: &[&str] =
    &["length", "width", "material", "eyes", "stitching", "sleeve", "choker_label", "basket_label", "stretch"];
const KINETIC_STRAP: &[&str] = &[
    "length",
    "width",
    "material",
    "eyes",
    "stitching",
    "sleeve",
    "choker_label",
    "basket_label",
    "stretch",
    "construction",
    "state",
    "wet",
    "elongation",
];
const ROPE: &[&str] = &["length", "material", "diameter", "kinetic", "construction", "state", "wet", "elongation"];

const fn word(
    word: &'static str,
    keys: &'static [&'static str],
    need: &'static [&'static str],
    rated: bool,
) -> PieceWord {
    PieceWord { word, keys, need, rated }
}

/// All kinds.
pub static PIECE_WORDS: &[PieceWord] = &[
    word("tree strap", STRAP, &["length", "material"], true),
    word("round sling", STRAP, &["length", "material"], true),
    word("extension strap", STRAP, &["length", "material"], true),
    word("bridle", STRAP, &["length", "material"], true),
    word("kinetic strap", KINETIC_STRAP, &["length", "material"], true),
    word("rope", ROPE, &["length", "material", "diameter", "kinetic"], true),
    word("bow shackle", &["pin"], &[], true),
    word("dee shackle", &["pin"], &[], true),
    word("soft shackle", &[], &[], true),
    word("hook", &["latch"], &["latch"], true),
    word("block", &["bearing", "sheave", "line_max"], &[], true),
    word("ring", &["groove", "friction"], &[], true),
    word("hand winch", &["line", "stall"], &["line"], true),
    word("load cell", &[], &[], true),
    word("damper", &[], &[], false),
    word("shovel", &[], &[], false),
    word("boards", &[], &[], false),
    word("chock", &[], &[], false),
    word("pump", &[], &[], false),
    word("jack", &[], &[], false),
    word("current meter", &[], &[], false),
    word("tilt meter", &[], &[], false),
    word("movement marker", &[], &[], false),
    word("other", &["what"], &["what"], false),
];

/// The words of `kind`, in the order of [`PIECE_WORDS`].
pub const PIECE_KINDS: &[&str] = &[
    "tree strap",
    "round sling",
    "extension strap",
    "bridle",
    "kinetic strap",
    "rope",
    "bow shackle",
    "dee shackle",
    "soft shackle",
    "hook",
    "block",
    "ring",
    "hand winch",
    "load cell",
    "damper",
    "shovel",
    "boards",
    "chock",
    "pump",
    "jack",
    "current meter",
    "tilt meter",
    "movement marker",
    "other",
];

/// A piece.
pub static PIECE: Section = Section {
    name: "piece",
    about: "A piece of the kit, or several alike.",
    keys: &[
        must(
            "id",
            Kind::Id,
            "\"K1\"",
            "Its id; unique over the kit. Several alike are K1-1, K1-2.",
            "rigs refer to it",
        ),
        must(
            "kind",
            Kind::Words(PIECE_KINDS),
            "\"tree strap\"",
            "What it is.",
            "each kind goes to its own place in a rig",
        ),
        may("count", Kind::Whole(1, 100), "2", "How many alike.", "one"),
        may(
            "label",
            Kind::Label,
            "\"WLL 2 t (7:1)\"",
            "Its rating as printed; \"missing\" or \"unreadable\" if so. Must be spoken of on all that carries load.",
            "it carries no load",
        ),
        may(
            "condition",
            Kind::Words(CONDITION),
            "\"checked\"",
            "What a look at it before use told.",
            "nobody looked: a finding",
        ),
        may("reason", Kind::Text, "\"cut in the edge\"", "Why it was rejected.", "it was not"),
        may("mass", Kind::One(Quantity::Mass, "0 kg", "200 kg"), "\"2.5 kg\"", "Its mass.", "not known"),
        may(
            "length",
            Kind::One(Quantity::Length, "0.2 m", "100 m"),
            "\"3 m\"",
            "Strap: length from bearing to bearing with the eyes. Rope: length with its ends.",
            "needed for straps and ropes",
        ),
        may(
            "width",
            Kind::One(Quantity::Length, "10 mm", "300 mm"),
            "\"75 mm\"",
            "Strap: width of the webbing.",
            "a round sling or a rope, or not known",
        ),
        may(
            "material",
            Kind::Words(super::vehicle::MATERIALS),
            "\"polyester\"",
            "Strap or rope: of what.",
            "needed for straps and ropes",
        ),
        may("eyes", Kind::Words(EYES), "\"folded\"", "Strap: how the eyes are made.", "not known"),
        may(
            "stitching",
            Kind::Words(STITCHING),
            "\"along\"",
            "Strap: which way the load stitching of the eye runs.",
            "not known",
        ),
        may("sleeve", Kind::Flag, "true", "Strap: whether it carries a wear sleeve.", "it does not"),
        may(
            "choker_label",
            Kind::Label,
            "\"WLL 1.6 t\"",
            "Strap: its rating in a choker hitch, if printed.",
            "it is reckoned from the straight one",
        ),
        may(
            "basket_label",
            Kind::Label,
            "\"WLL 4 t\"",
            "Strap: its rating in a basket hitch with parallel legs, if printed.",
            "it is reckoned from the straight one",
        ),
        may(
            "stretch",
            Kind::One(Quantity::Ratio, "0", "0.6"),
            "\"3 %\"",
            "Strap: stretch at its printed rating.",
            "that of its material",
        ),
        may(
            "diameter",
            Kind::One(Quantity::Length, "3 mm", "100 mm"),
            "\"10 mm\"",
            "Rope: diameter.",
            "needed for ropes",
        ),
        may(
            "kinetic",
            Kind::Flag,
            "false",
            "Rope: whether it is made to stretch for kinetic pulls.",
            "needed for ropes",
        ),
        may(
            "construction",
            Kind::Text,
            "\"double braid\"",
            "Kinetic rope or strap: how it is made, in words.",
            "not told; nothing is reckoned from it",
        ),
        may(
            "state",
            Kind::Words(kinetic::STATES),
            "\"worked\"",
            "Kinetic rope or strap: new and never loaded, worked and rested since, or just used, within a quarter of an hour.",
            "not known: the whole band of stiffness",
        ),
        may(
            "wet",
            Kind::Flag,
            "false",
            "Kinetic rope or strap: whether it is wet through.",
            "as wet as the case's ground",
        ),
        may(
            "elongation",
            Kind::Many(&kinetic::ELONGATION, 12),
            "[{ at = \"25 %\", stretch = \"9 %\" }, { at = \"50 %\", stretch = \"14 %\" }]",
            "Kinetic rope or strap: its stretch at shares of its breaking strength, rising.",
            "a wide band by what it went through",
        ),
        may("pin", Kind::One(Quantity::Length, "5 mm", "100 mm"), "\"22 mm\"", "Shackle: pin diameter.", "not known"),
        may("latch", Kind::Flag, "true", "Hook: whether it has its latch.", "needed for hooks"),
        may(
            "bearing",
            Kind::Words(BEARINGS),
            "\"bronze\"",
            "Block: what the sheave turns on.",
            "not known: the whole band of friction",
        ),
        may(
            "sheave",
            Kind::One(Quantity::Length, "10 mm", "500 mm"),
            "\"80 mm\"",
            "Block: diameter at the bottom of the groove.",
            "not known",
        ),
        may(
            "line_max",
            Kind::One(Quantity::Length, "3 mm", "60 mm"),
            "\"12 mm\"",
            "Block: the thickest line it takes.",
            "not known",
        ),
        may(
            "groove",
            Kind::One(Quantity::Length, "10 mm", "300 mm"),
            "\"60 mm\"",
            "Ring: diameter of the groove.",
            "not known",
        ),
        may(
            "friction",
            Kind::Range(Quantity::Ratio, "0", "1"),
            "\"0.05 .. 0.2\"",
            "Ring: friction coefficient of line on ring.",
            "not known: the whole band",
        )
        .assumable(),
        may(
            "line",
            Kind::One(Quantity::Length, "0.5 m", "50 m"),
            "\"3 m\"",
            "Hand winch: length of its own line or chain.",
            "needed for hand winches",
        ),
        may(
            "stall",
            Kind::Range(Quantity::Force, "100 N", "200 kN"),
            "\"16 kN .. 24 kN\"",
            "Hand winch: the most that its lever can make, if the maker says.",
            "not known",
        )
        .assumable(),
        may("what", Kind::Text, "\"gloves, two pairs\"", "Other: what it is.", "needed for kind = \"other\""),
    ],
};

/// A kit file.
pub static KIT: Section = Section {
    name: "kit",
    about: "A bag: a kit file that cases refer to.",
    keys: &[
        must(
            "schema",
            Kind::Words(&[crate::KIT_SCHEMA]),
            "\"unmire.kit/1\"",
            "What this document is.",
            "the reader must know the version",
        ),
        may("title", Kind::Text, "\"The club's red bag\"", "A title.", "it has none"),
        must("piece", Kind::Many(&PIECE, 500), "[[piece]]", "The pieces.", "a bag without pieces helps nobody"),
    ],
};
