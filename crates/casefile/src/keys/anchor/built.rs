//! The keys of boulders and of anchors that a crew builds.

use super::{sign, signs, what};
use crate::key::{Key, Kind, Quantity, Section, may, must};
use unmire_model::quantity::slope::Way;

/// What pickets are.
pub const STAKES: &[&str] = &["wood", "steel"];

/// The soil of an anchor that the ground holds.
static EARTH: Section = Section {
    name: "earth",
    about: "The ground that an anchor is built in, or that a boulder stands in.",
    keys: &[
        must(
            "soil",
            Kind::TableKey,
            "\"loam\"",
            "Soil: a key of the table of anchor soils.",
            "what the ground holds goes by it; \"unknown\" is a row too",
        )
        .assumable(),
        may(
            "friction_angle",
            Kind::Range(Quantity::Angle, "5 deg", "50 deg"),
            "\"28 deg .. 34 deg\"",
            "Angle of internal friction, if somebody measured it; not of a clay.",
            "the soil's row tells",
        )
        .assumable(),
        may(
            "cohesion",
            Kind::Range(Quantity::Pressure, "0 kPa", "1 MPa"),
            "\"25 kPa .. 50 kPa\"",
            "Undrained shear strength, if somebody measured it with a hand vane; not of sand or gravel.",
            "the soil's row tells",
        )
        .assumable(),
    ],
};
const BUILT_IN: Key = must(
    "earth",
    Kind::Table(&EARTH),
    "{ soil = \"loam\" }",
    "The ground that it is built in.",
    "what the ground holds goes by it",
);

const fn count(about: &'static str) -> Key {
    must("count", Kind::Whole(1, 50), "2", about, "each takes its share of the pull")
}
const fn proof(about: &'static str) -> Key {
    may(
        "proof",
        Kind::One(Quantity::Force, "0.1 kN", "5 MN"),
        "\"30 kN\"",
        about,
        "it was not pulled on proof, or nobody said",
    )
    .assumable()
}
const fn log_length(about: &'static str) -> Key {
    must(
        "length",
        Kind::Range(Quantity::Length, "10 cm", "20 m"),
        "\"1.8 m\"",
        about,
        "its face is length times height",
    )
    .assumable()
}

static BOULDER_SIGNS: Section = Section {
    name: "the signs of a boulder",
    about: "Signs that rule a boulder out; leave out what nobody looked at.",
    keys: &[
        sign("rocks", "It rocks or shifts when levered with a bar."),
        sign("cracked", "Cracked or layered where the strap would bear."),
        sign("undercut", "Undercut, or on the edge of a drop."),
    ],
};

/// A boulder.
pub(super) static BOULDER: Section = Section {
    name: "boulder",
    about: "A boulder, a block of concrete, or rock that is part of the ground. It holds by its weight: give `mass` or `size`.",
    keys: &[
        must(
            "radius",
            Kind::One(Quantity::Length, "1 cm", "10 m"),
            "\"0.8 m\"",
            "Half of its width where the strap lies.",
            "a strap goes round it",
        ),
        may("mass", Kind::Range(Quantity::Mass, "1 kg", "1000 t"), "\"2 t .. 3 t\"", "Its mass.", "its size tells")
            .assumable(),
        may(
            "size",
            Kind::Ranges(3, Quantity::Length, "1 cm", "30 m"),
            "[\"1.2 m .. 1.4 m\", \"1 m\", \"0.8 m\"]",
            "Its length along the pull, its breadth and its height, with what is in the ground; the length is also the base that it tips over.",
            "not known",
        )
        .assumable(),
        may(
            "on",
            Kind::TableKey,
            "\"gravel coarse sand\"",
            "What it stands on: a key of the table of foundation friction.",
            "not known",
        )
        .assumable(),
        may(
            "buried",
            Kind::Range(Quantity::Length, "0 m", "20 m"),
            "\"0.2 m .. 0.3 m\"",
            "How deep its front face stands in the ground.",
            "the ground in front of it holds nothing",
        )
        .assumable(),
        may("earth", Kind::Table(&EARTH), "{ soil = \"loam\" }", "The soil in front of that face.", "not known"),
        signs(&BOULDER_SIGNS, "{ rocks = false, cracked = false, undercut = false }"),
    ],
};

/// Bolts in rock.
pub(super) static ROCK_BOLTS: Section = Section {
    name: "rock bolts",
    about: "Bolts grouted into rock.",
    keys: &[
        count("How many share the pull."),
        must(
            "rock",
            Kind::TableKey,
            "\"limestone\"",
            "Rock: a key of the table of bond strengths.",
            "grout holds in each rock differently; \"unknown\" is a row too",
        )
        .assumable(),
        must(
            "hole",
            Kind::Range(Quantity::Length, "5 mm", "300 mm"),
            "\"32 mm\"",
            "Diameter of the hole.",
            "the grout holds on its wall",
        )
        .assumable(),
        must(
            "bond",
            Kind::Range(Quantity::Length, "1 cm", "20 m"),
            "\"0.45 m .. 0.5 m\"",
            "Length over which the grout holds.",
            "the grout holds on its wall",
        )
        .assumable(),
        may(
            "bar",
            Kind::One(Quantity::Force, "0.1 kN", "5 MN"),
            "\"120 kN\"",
            "Breaking strength of the bar and its eye, each.",
            "not known",
        )
        .assumable(),
        may("grouted", Kind::Flag, "true", "Whether they are grouted, not driven or wedged.", "nobody said"),
        proof("The pull that each was shown to hold after the grout set."),
    ],
};

/// Pickets.
pub(super) static PICKETS: Section = Section {
    name: "pickets",
    about: "Driven pickets, one behind the other, lashed from the head of each to the foot of the next.",
    keys: &[
        must(
            "stakes",
            Kind::Words(STAKES),
            "\"wood\"",
            "What they are: round wood about 75 mm thick, or steel bar about 25 mm thick, 1.5 m long.",
            "the tables are for these two",
        ),
        must(
            "rows",
            Kind::Counts(5, 1, 9),
            "[3, 2, 1]",
            "How many stand in each row, from the load backwards.",
            "what they hold goes by it",
        ),
        must(
            "driven",
            Kind::Range(Quantity::Length, "10 cm", "1.5 m"),
            "\"0.9 m .. 1 m\"",
            "How deep they are driven.",
            "a shallow picket is pulled over",
        )
        .assumable(),
        may(
            "spacing",
            Kind::One(Quantity::Length, "10 cm", "10 m"),
            "\"1.2 m\"",
            "How far one row stands behind the other.",
            "not known",
        )
        .assumable(),
        BUILT_IN,
    ],
};

static LOG: Section = Section {
    name: "log",
    about: "A buried log.",
    keys: &[
        must(
            "diameter",
            Kind::Range(Quantity::Length, "2 cm", "2 m"),
            "\"25 cm .. 30 cm\"",
            "Its diameter.",
            "its face is length times height",
        )
        .assumable(),
        log_length("Its length across the pull."),
    ],
};
static BEAM: Section = Section {
    name: "beam",
    about: "A buried beam, a plank, a bundle with a flat face.",
    keys: &[
        must(
            "face",
            Kind::Range(Quantity::Length, "2 cm", "2 m"),
            "\"20 cm\"",
            "Height of its face.",
            "its face is length times height",
        )
        .assumable(),
        log_length("The length of its face across the pull."),
    ],
};
static WHEEL: Section = Section {
    name: "wheel",
    about: "A buried wheel, upright, its flat side towards the pull.",
    keys: &[must(
        "diameter",
        Kind::Range(Quantity::Length, "20 cm", "3 m"),
        "\"0.8 m\"",
        "Diameter of its tyre.",
        "its face goes by it",
    )
    .assumable()],
};
/// A deadman.
pub(super) static DEADMAN: Section = Section {
    name: "deadman",
    about: "Something long or flat, buried across the pull. Give one of `log`, `beam` and `wheel`.",
    keys: &[
        may(
            "log",
            Kind::Table(&LOG),
            "{ diameter = \"25 cm .. 30 cm\", length = \"1.8 m\" }",
            "A round log.",
            "it is a beam or a wheel",
        ),
        may(
            "beam",
            Kind::Table(&BEAM),
            "{ face = \"20 cm\", length = \"1.5 m\" }",
            "A squared beam, a plank, a bundle with a flat face.",
            "it is a log or a wheel",
        ),
        may(
            "wheel",
            Kind::Table(&WHEEL),
            "{ diameter = \"0.8 m\" }",
            "A wheel, upright, its flat side towards the pull.",
            "it is a log or a beam",
        ),
        must(
            "depth",
            Kind::Range(Quantity::Length, "5 cm", "6 m"),
            "\"1 m .. 1.2 m\"",
            "Depth of the middle of its face under the ground.",
            "the ground holds more the deeper it lies",
        )
        .assumable(),
        must(
            "line_rise",
            Kind::Slope(Way::Along),
            "\"1 in 4 up\"",
            "How steeply the line rises from it in its trench, above the level; 1 in 4 is 14 deg.",
            "a steep line lifts it out",
        )
        .assumable(),
        BUILT_IN,
        may(
            "own_strength",
            Kind::One(Quantity::Force, "0.1 kN", "10 MN"),
            "\"40 kN\"",
            "What the buried thing itself bears in bending, pulled in its middle.",
            "not known",
        )
        .assumable(),
    ],
};

/// Plates and screws.
pub(super) static PLATES: Section = Section {
    name: "plates",
    about: "Plates or screws driven or turned into the ground and pulled on proof.",
    keys: &[
        what("\"two ground screws on a bridle\""),
        count("How many share the pull through a bridle."),
        proof("The pull that each was shown to hold when it was set, in the direction of the work."),
        may("depth", Kind::One(Quantity::Length, "5 cm", "10 m"), "\"0.9 m\"", "How deep they are set.", "not known")
            .assumable(),
        may("earth", Kind::Table(&EARTH), "{ soil = \"loam\" }", "The ground that they are set in.", "not known"),
    ],
};
