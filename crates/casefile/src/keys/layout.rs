//! A rig in the crew's words: what pulls, where the line goes, what holds it.

use crate::key::{Key, Kind, Section, may, must};
use unmire_model::layout::Family;

/// The families' words.
pub static FAMILIES: [&str; Family::ALL.len()] = {
    let mut words = [""; Family::ALL.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = Family::ALL[i].word();
        i += 1;
    }
    words
};
/// Hitches.
pub const HITCHES: &[&str] = &["basket", "choker", "straight"];

const CONNECTORS: Key = may("connectors", Kind::Ids(10), "[\"K2-1\"]", "Connectors there, in order.", "none");

/// One anchor with what is rigged on it.
pub static ANCHOR_LEG: Section = Section {
    name: "anchors",
    about: "One anchor with what is rigged on it.",
    keys: &[
        must("anchor", Kind::Id, "\"A1\"", "Which anchor.", "the leg must end somewhere"),
        must(
            "hitch",
            Kind::Words(HITCHES),
            "\"basket\"",
            "How the strap holds it.",
            "a choker carries less than a basket",
        ),
        may("strap", Kind::Id, "\"K1\"", "The strap.", "a connector goes straight onto a made anchor"),
        may("extensions", Kind::Ids(10), "[\"K5\"]", "Straps that lengthen it, in order away from the anchor.", "none"),
        CONNECTORS,
    ],
};
/// A point of a vehicle.
pub static AT_POINT: Section = Section {
    name: "point",
    about: "One point of a vehicle.",
    keys: &[
        may("on", Kind::Id, "\"stuck\"", "Which vehicle: \"stuck\", or a helper's name.", "the stuck one"),
        must("point", Kind::Id, "\"F1\"", "Which of its points.", "what the hook is on comes before any force"),
        CONNECTORS,
    ],
};
/// A bridle.
pub static BRIDLE: Section = Section {
    name: "bridle",
    about: "Two points of a vehicle through a bridle.",
    keys: &[
        may("on", Kind::Id, "\"stuck\"", "Which vehicle: \"stuck\", or a helper's name.", "the stuck one"),
        must("points", Kind::Ids(2), "[\"F1\", \"F2\"]", "Which two points.", "they share the pull"),
        must("strap", Kind::Id, "\"K4\"", "The bridle.", "it carries the pull"),
        may(
            "connectors",
            Kind::Ids(10),
            "[\"K2-1\", \"K2-2\", \"K2-3\"]",
            "One at each point, one in the middle.",
            "none",
        ),
    ],
};
const HOLD: [Key; 3] = [
    may(
        "anchors",
        Kind::Many(&ANCHOR_LEG, 3),
        "[{ anchor = \"A1\", hitch = \"basket\", strap = \"K1\", connectors = [\"K2-1\"] }]",
        "Held by one anchor, or by two or three that share.",
        "held by something else",
    ),
    may(
        "point",
        Kind::Table(&AT_POINT),
        "{ on = \"stuck\", point = \"F1\", connectors = [\"K2-2\"] }",
        "Held by a point of a vehicle.",
        "held by something else",
    ),
    may(
        "bridle",
        Kind::Table(&BRIDLE),
        "{ points = [\"F1\", \"F2\"], strap = \"K4\", connectors = [\"K2-1\", \"K2-2\", \"K2-3\"] }",
        "Held by two points through a bridle.",
        "held by something else",
    ),
];
/// Where the line turns or ends.
pub static STATION: Section = Section {
    name: "station",
    about: "Where the line turns round a block, or ends; in order from the winch.",
    keys: &[
        may("block", Kind::Id, "\"K3\"", "The block or ring it turns round.", "the line ends here"),
        may("extensions", Kind::Ids(10), "[\"K6\"]", "Straps or ropes that lengthen the line at its end.", "none"),
        CONNECTORS,
        HOLD[0],
        HOLD[1],
        HOLD[2],
    ],
};
/// A second line.
pub static HOLDING: Section = Section {
    name: "holding",
    about: "A second line: a holding line, or the tie-back of a helper that pulls.",
    keys: &[
        must("from", Kind::Id, "\"sill\"", "The point of the vehicle that it holds.", "it holds something"),
        CONNECTORS,
        may("line", Kind::Ids(10), "[\"K6\"]", "The straps or ropes that are the line, from the vehicle on.", "none"),
        HOLD[0],
        HOLD[1],
        HOLD[2],
        may(
            "winch",
            Kind::Id,
            "\"V2\"",
            "Held by the line of a vehicle's winch: a helper's name, or \"stuck\".",
            "held by something else",
        ),
    ],
};
/// A tow.
pub static TOW: Section = Section {
    name: "tow",
    about: "A helper drives.",
    keys: &[
        must("helper", Kind::Id, "\"V2\"", "Which helper.", "somebody drives"),
        must("point", Kind::Id, "\"R1\"", "From which of its points.", "what the hook is on comes before any force"),
        CONNECTORS,
        must(
            "line",
            Kind::Ids(10),
            "[\"K6\"]",
            "The strap or rope that is the line, and what lengthens it.",
            "it carries the pull",
        ),
    ],
};
/// A hand winch.
pub static HAND_WINCH: Section = Section {
    name: "hand_winch",
    about: "A hand winch from the kit; its line goes to the stations.",
    keys: &[must("piece", Kind::Id, "\"K9\"", "Which piece.", "it pulls"), HOLD[0], HOLD[1], HOLD[2]],
};
/// A rig.
pub static RIG: Section = Section {
    name: "rig",
    about: "A rig in the crew's words. Give one of winch, tow and hand_winch.",
    keys: &[
        must("family", Kind::Words(&FAMILIES), "\"double-line\"", "Which family.", "the report names it"),
        may(
            "winch",
            Kind::Id,
            "\"stuck\"",
            "A winch pulls: that of the \"stuck\" vehicle, or of a helper by name.",
            "something else pulls",
        ),
        may(
            "tow",
            Kind::Table(&TOW),
            "{ helper = \"V2\", point = \"R1\", line = [\"K6\"] }",
            "A helper drives.",
            "something else pulls",
        ),
        may(
            "hand_winch",
            Kind::Table(&HAND_WINCH),
            "{ piece = \"K9\", anchors = [] }",
            "A hand winch pulls.",
            "something else pulls",
        ),
        must(
            "station",
            Kind::Many(&STATION, 10),
            "[[rig.station]]",
            "Where the line goes, in order from the winch; the last is its dead end.",
            "a line goes somewhere",
        ),
        may(
            "tie_back",
            Kind::Table(&HOLDING),
            "{ from = \"R1\", connectors = [\"K2-1\"], anchors = [] }",
            "A tie-back of the helper that pulls.",
            "none",
        ),
        may(
            "holding",
            Kind::Table(&HOLDING),
            "{ from = \"sill\", connectors = [\"K2-1\"], line = [\"K6\"], anchors = [] }",
            "A holding line against rolling over or running away.",
            "none",
        ),
        may(
            "beside",
            Kind::Ids(50),
            "[\"K8\"]",
            "Pieces laid on or beside the rig: dampers, chocks, a load cell.",
            "none",
        ),
    ],
};
