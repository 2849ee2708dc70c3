//! The case: the survey, how it is stuck, the ground, the way out, obstacles, people.

use super::{anchor, kinetic, kit, layout, path, vehicle};
use crate::key::{Key, Kind, Quantity, Section, may, must};
use unmire_model::quantity::slope::Way;

/// Which north.
pub const NORTH: &[&str] = &["true", "magnetic", "grid"];
/// How deep, in words.
pub const DEPTH: &[&str] = &["not mired", "wheel", "wheel arch", "cab"];
/// Ways of estimating the need.
pub const METHOD: &[&str] = &["doctrine", "terramechanics"];
/// What the bark does.
pub const SEASONS: &[&str] = &["growing", "dormant"];
/// What an obstacle bars.
pub const BARS: &[&str] = &["lines", "escape path"];

/// Where things were measured from and how well.
pub static SURVEY: Section = Section {
    name: "survey",
    about: "How the place was measured: said once, for all that follows.",
    keys: &[
        may(
            "heading",
            Kind::Bearing,
            "\"310 deg\"",
            "Compass bearing of the stuck vehicle's heading.",
            "no compass bearing may be used",
        ),
        may(
            "north",
            Kind::Words(NORTH),
            "\"magnetic\"",
            "Which north all bearings count from.",
            "no compass bearing may be used",
        ),
        may(
            "pace",
            Kind::One(Quantity::Length, "0.3 m", "2 m"),
            "\"0.75 m\"",
            "Length of one pace of whoever paced.",
            "no distance may be given in paces",
        ),
        may(
            "uncertainty",
            Kind::One(Quantity::Length, "0 m", "20 m"),
            "\"0.5 m\"",
            "How far off a position may be.",
            "each anchor says it for itself",
        ),
    ],
};

/// Coordinates.
pub const POSITION: Key = may(
    "position",
    Kind::Position,
    "[22.0, 1.5, 0.9]",
    "Metres ahead of the stuck vehicle, to its left, up; texts with units work too.",
    "it is placed by distance and bearing",
);
/// A distance.
pub const DISTANCE: Key = may(
    "distance",
    Kind::One(Quantity::Length, "0 m", "500 m"),
    "\"22 m\"",
    "Distance along the ground, by tape.",
    "it is placed by coordinates or paces",
);
/// Paces.
pub const PACES: Key = may(
    "paces",
    Kind::One(Quantity::Ratio, "0", "1000"),
    "28",
    "Distance along the ground in paces.",
    "it is placed by coordinates or distance",
);
/// Length of a pace.
pub const PACE: Key = may(
    "pace",
    Kind::One(Quantity::Length, "0.3 m", "2 m"),
    "\"0.75 m\"",
    "Length of one pace.",
    "that of [survey] counts",
);
/// Height difference.
pub const RISE: Key = may(
    "rise",
    Kind::One(Quantity::Length, "-200 m", "200 m"),
    "\"0.9 m\"",
    "How much higher its ground is than that of the stuck vehicle; lower is negative.",
    "must be said where a distance is given",
);
/// Where it was measured from.
pub const FROM: Key = may(
    "from",
    Kind::Id,
    "\"F1\"",
    "From where the distance was measured: a point's id, \"winch\", or \"middle\" for the middle of the wheelbase.",
    "from the middle of the wheelbase",
);

/// How it is stuck.
pub static STUCK: Section = Section {
    name: "stuck",
    about: "How the vehicle is stuck.",
    keys: &[
        must("depth", Kind::Words(DEPTH), "\"wheel\"", "How deep: not mired, in to the hub (wheel), over the hub (wheel arch), over the arch (cab).", "the field doctrines' multiples of weight go by it").assumable(),
        may("mire_share", Kind::Range(Quantity::Ratio, "0", "5"), "\"15 % .. 25 % .. 35 %\"", "Share of the moving weight that the mire holds, if measured or estimated: it replaces the doctrine's band.", "the doctrine's band counts").assumable(),
        may("obstacle", Kind::Range(Quantity::Force, "0 kN", "500 kN"), "\"1 kN .. 3 kN\"", "Resistance of a ledge, root or rock.", "there is none").assumable(),
        may("locked_share", Kind::Range(Quantity::Ratio, "0", "1"), "\"0 % .. 25 %\"", "Share of the weight on wheels that don't turn: braked, locked, seized.", "all wheels turn").assumable(),
        may("drive_helps", Kind::Flag, "false", "Whether its own wheels can help to drive it out.", "they can't"),
        must("bellied", Kind::Flag, "false", "Whether the belly rests on the ground.", "a belly on the ground drags, and digging it free is the first thing to do"),
        may("unloadable", Kind::Range(Quantity::Mass, "0 kg", "50 t"), "\"100 kg .. 140 kg\"", "Payload that can be taken out.", "nothing can").assumable(),
        may("overturned", Kind::Flag, "false", "Whether it is on its side or its roof.", "it stands on its wheels"),
    ],
};

/// The ground under it.
pub static GROUND: Section = Section {
    name: "ground",
    about: "The ground under the stuck vehicle.",
    keys: &[
        must(
            "surface",
            Kind::TableKey,
            "\"wet grass\"",
            "Surface: a key of the rolling-resistance table.",
            "rolling resistance goes by it",
        )
        .assumable(),
        may(
            "soil",
            Kind::TableKey,
            "\"clayey soil thailand 38\"",
            "Soil: a key of the terramechanics table, if somebody can tell.",
            "no terramechanics estimate",
        )
        .assumable(),
        may(
            "method",
            Kind::Words(METHOD),
            "\"doctrine\"",
            "Which estimate the verdict uses.",
            "the field doctrines' band",
        ),
        must(
            "saturated",
            Kind::Flag,
            "false",
            "Whether the soil is so wet that bark, roots and friction suffer.",
            "roots hold less in soaked ground",
        ),
        may(
            "season",
            Kind::Words(SEASONS),
            "\"growing\"",
            "The trees' season: growing while the sap rises, which is when bark peels easily, or dormant.",
            "counts as growing",
        )
        .assumable(),
    ],
};

/// The way out.
pub static WAY_OUT: Section = Section {
    name: "way_out",
    about: "The way out: direction, slope along and across it, distance.",
    keys: &[
        may(
            "direction",
            Kind::Heading,
            "\"ahead\"",
            "Seen from above, from the stuck vehicle's heading: ahead, back, left, right, `20 deg left`.",
            "a compass bearing is given",
        )
        .assumable(),
        may("bearing", Kind::Bearing, "\"310 deg\"", "By compass.", "a direction is given").assumable(),
        must(
            "grade",
            Kind::SlopeRange(Way::Along),
            "\"2 deg up\"",
            "Slope along the way out.",
            "on a steep slope it is most of the need",
        )
        .assumable(),
        must(
            "side_slope",
            Kind::Slope(Way::Across),
            "\"3 deg left high\"",
            "Slope across the way out.",
            "vehicles roll over on it",
        )
        .assumable(),
        must(
            "distance",
            Kind::Range(Quantity::Length, "0.5 m", "500 m"),
            "\"6 m .. 10 m\"",
            "How far until it stands on ground it can drive on.",
            "a rig that is fine at the start may be wrong after six metres",
        )
        .assumable(),
        may(
            "stretch",
            Kind::Many(&path::STRETCH, 50),
            "[[way_out.stretch]]",
            "Its stretches, from where the vehicle stands: where it bends, where it climbs, where the mire ends.",
            "one straight way, and what holds the vehicle holds it to the end",
        ),
    ],
};

/// An obstacle.
pub static OBSTACLE: Section = Section {
    name: "obstacle",
    about: "Ground that no line may cross, seen from above.",
    keys: &[
        must("id", Kind::Id, "\"gully\"", "Its id.", "findings refer to it"),
        must("what", Kind::Text, "\"a gully with a stream\"", "What it is, in words.", "the brief says it"),
        must(
            "bars",
            Kind::Words(BARS),
            "\"lines\"",
            "What it bars: lines, or that it is people's only way out.",
            "no loaded line may cross either",
        ),
        must(
            "outline",
            Kind::Outline,
            "[[3, -6], [23, -6], [23, -9], [3, -9]]",
            "Its corners; three or more make an area, two a line.",
            "without it no line can be checked against it",
        ),
    ],
};

/// People.
pub static PEOPLE: Section = Section {
    name: "people",
    about: "The people there.",
    keys: &[
        must("total", Kind::Whole(0, 1000), "3", "How many.", "they are counted before and after every pull"),
        must(
            "trained",
            Kind::Whole(0, 1000),
            "1",
            "How many of them were trained for this.",
            "some rigs need more than one",
        ),
    ],
};

/// The case.
pub static CASE: Section = Section {
    name: "case",
    about: "One stuck vehicle, the place, the people and the bag.",
    keys: &[
        must(
            "schema",
            Kind::Words(&[crate::CASE_SCHEMA]),
            "\"unmire.case/1\"",
            "What this document is.",
            "the reader must know the version",
        ),
        must("title", Kind::Text, "\"Wet grass, one oak\"", "A title.", "every sheet carries it"),
        may("policy", Kind::Id, "\"regulator-stall\"", "The policy to judge by.", "the default policy"),
        may(
            "survey",
            Kind::Table(&SURVEY),
            "[survey]",
            "How the place was measured.",
            "each anchor says it for itself",
        ),
        must(
            "vehicle",
            Kind::Table(&vehicle::VEHICLE),
            "[vehicle]",
            "The stuck vehicle.",
            "there is no case without it",
        ),
        must("stuck", Kind::Table(&STUCK), "[stuck]", "How it is stuck.", "the need follows from it"),
        must("ground", Kind::Table(&GROUND), "[ground]", "The ground under it.", "the need follows from it"),
        must("way_out", Kind::Table(&WAY_OUT), "[way_out]", "The way out.", "a pull has a direction"),
        may(
            "anchor",
            Kind::Kinds(&anchor::ANCHOR, anchor::KINDS, 200),
            "[[anchor]]",
            "What can be pulled against.",
            "there is nothing to pull against",
        ),
        may(
            "obstacle",
            Kind::Many(&OBSTACLE, 100),
            "[[obstacle]]",
            "What lines may not cross.",
            "lines may go anywhere",
        ),
        may("helper", Kind::Many(&vehicle::HELPER, 20), "[[helper]]", "Helpers' vehicles.", "nobody else is there"),
        must("people", Kind::Table(&PEOPLE), "[people]", "The people there.", "they are counted before every pull"),
        may("kit", Kind::Text, "\"bag.toml\"", "Path of a kit file.", "only the pieces of this file are there"),
        may(
            "piece",
            Kind::Many(&kit::PIECE, 500),
            "[[piece]]",
            "Pieces of the kit.",
            "only those of the kit file are there",
        ),
        may(
            "kinetic",
            Kind::Table(&kinetic::RUN_UP),
            "[kinetic]",
            "What is thought of for a kinetic pull; 'unmire kinetic' reads it.",
            "the program looks for the run-up itself",
        ),
        may("rig", Kind::Table(&layout::RIG), "[rig]", "A rig that somebody wants checked.", "rigs are sought"),
    ],
};
