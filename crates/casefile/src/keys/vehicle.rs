//! Vehicles: the stuck one and the helpers', their recovery points and winches.

use super::drive;
use crate::key::{Key, Kind, Quantity, Section, may, must};
use unmire_model::quantity::slope::Way;

/// Kinds of points on a vehicle.
pub const POINT_KINDS: &[&str] =
    &["recovery point", "tow ball", "tie-down", "suspension", "unrated bar", "unidentified"];
/// Materials.
pub const MATERIALS: &[&str] = &["polyester", "nylon", "hmpe", "polypropylene", "steel wire", "chain", "not known"];

/// A place where gear can be attached.
pub static POINT: Section = Section {
    name: "point",
    about: "A place on the vehicle where gear can be attached.",
    keys: &[
        must("id", Kind::Id, "\"F1\"", "Its id; unique over the vehicle.", "rigs refer to it"),
        must(
            "kind",
            Kind::Words(POINT_KINDS),
            "\"recovery point\"",
            "What the hook would be on.",
            "tow balls, tie-downs, suspension and unrated bars break or bend and are refused before any force is reckoned",
        ),
        must(
            "position",
            Kind::Position,
            "[2.1, 0.45, 0.55]",
            "Metres ahead of the middle of the wheelbase, to the left, above the ground.",
            "the pull's direction and lever arm come from it",
        ),
        may(
            "direction",
            Kind::Vector,
            "\"ahead\"",
            "The direction in which it is made to be pulled.",
            "its direction is not known, and a pull at an angle is a finding",
        ),
        may(
            "cone",
            Kind::One(Quantity::Angle, "1 deg", "90 deg"),
            "\"30 deg\"",
            "The most that the pull may deviate from it, if the maker says.",
            "the policy's own limit counts",
        ),
        must(
            "label",
            Kind::Label,
            "\"WLL 3250 kg\"",
            "Its rating as printed; \"missing\" or \"unreadable\" if so.",
            "a point without a rating is 'unknown' and never passes; say \"missing\" if there is none",
        ),
    ],
};

/// A drum.
pub static DRUM: Section = Section {
    name: "drum",
    about: "The winch's drum.",
    keys: &[
        must(
            "diameter",
            Kind::One(Quantity::Length, "10 mm", "1 m"),
            "\"64 mm\"",
            "Diameter of the bare barrel.",
            "pull by layer comes from it",
        ),
        must(
            "width",
            Kind::One(Quantity::Length, "20 mm", "2 m"),
            "\"229 mm\"",
            "Width between the flanges.",
            "turns per layer come from it",
        ),
    ],
};

/// The line on the winch.
pub static WINCH_LINE: Section = Section {
    name: "line",
    about: "The line on the winch.",
    keys: &[
        must("material", Kind::Words(MATERIALS), "\"hmpe\"", "Of what.", "stretch, recoil and bends depend on it"),
        must(
            "diameter",
            Kind::One(Quantity::Length, "3 mm", "60 mm"),
            "\"10 mm\"",
            "Diameter.",
            "layers on the drum and bends depend on it",
        ),
        must(
            "length",
            Kind::One(Quantity::Length, "1 m", "300 m"),
            "\"28 m\"",
            "Length from the drum to the end.",
            "what can be reached depends on it",
        ),
        must(
            "label",
            Kind::Label,
            "\"MBS 88 kN\"",
            "Its rating as printed; \"missing\" or \"unreadable\" if so.",
            "a line without a rating is 'unknown' and never passes",
        ),
    ],
};

/// A winch.
pub static WINCH: Section = Section {
    name: "winch",
    about: "The winch on the vehicle.",
    keys: &[
        must("id", Kind::Id, "\"W1\"", "Its id; unique over the case.", "reports refer to it"),
        must(
            "position",
            Kind::Position,
            "[2.3, 0, 0.6]",
            "Where the line leaves the fairlead, in the vehicle's frame.",
            "the line starts there",
        ),
        must(
            "direction",
            Kind::Vector,
            "\"ahead\"",
            "Square to the drum, outwards.",
            "the fairlead's angle is taken from it",
        ),
        must(
            "rated_pull",
            Kind::One(Quantity::Force, "1 kN", "500 kN"),
            "\"9,500 lb\"",
            "Rated pull on the first layer.",
            "everything that the winch can do follows from it",
        )
        .assumable(),
        may(
            "stall",
            Kind::Range(Quantity::Force, "1 kN", "1000 kN"),
            "\"40 kN .. 50 kN\"",
            "What it pulls on the first layer before it stops, if measured or published.",
            "a wide band on the rated pull counts, marked as our own judgement",
        )
        .assumable(),
        may(
            "drum",
            Kind::Table(&DRUM),
            "{ diameter = \"64 mm\", width = \"229 mm\" }",
            "The drum, if measured.",
            "the layer is not known, and each end counts where it is worse",
        ),
        must(
            "line",
            Kind::Table(&WINCH_LINE),
            "{ material = \"hmpe\", diameter = \"10 mm\", length = \"28 m\", label = \"MBS 88 kN\" }",
            "The line on it.",
            "it carries the whole pull",
        ),
        may(
            "min_wraps",
            Kind::Whole(0, 50),
            "8",
            "Turns that must stay on the drum, if the maker says.",
            "the policy's own number counts",
        ),
        must(
            "mount",
            Kind::Label,
            "\"missing\"",
            "Rating of its mount on the chassis as printed or as the maker states it.",
            "the mount takes all that the winch pulls; say \"missing\" if nobody knows",
        ),
        may(
            "fairlead_limit",
            Kind::One(Quantity::Angle, "1 deg", "90 deg"),
            "\"15 deg\"",
            "The most that the line may leave away from square, if the maker says.",
            "the policy's own limit counts",
        ),
        may(
            "current_calibrated",
            Kind::Flag,
            "false",
            "Whether current against pull was calibrated on this very winch.",
            "it was not",
        ),
        may(
            "drive",
            Kind::Table(&drive::DRIVE),
            "{ kind = \"electric\", voltage = \"12 V\" }",
            "What drives it.",
            "an electric winch on 12 V counts, with wide ranges for its current, its speed and its heat",
        ),
    ],
};

/// Tyres.
pub static TYRES: Section = Section {
    name: "tyres",
    about: "The tyres, for terramechanics.",
    keys: &[
        must(
            "diameter",
            Kind::One(Quantity::Length, "30 cm", "3 m"),
            "\"80 cm\"",
            "Outer diameter.",
            "the contact patch comes from it",
        ),
        must(
            "width",
            Kind::One(Quantity::Length, "5 cm", "1.5 m"),
            "\"265 mm\"",
            "Width of the tread.",
            "the contact patch comes from it",
        ),
    ],
};

const NAME: Key = must(
    "name",
    Kind::Id,
    "\"wagon\"",
    "What it is called; rigs refer to it by this.",
    "the report and the rig name it",
);
const MASS: Key = must(
    "mass",
    Kind::Range(Quantity::Mass, "100 kg", "100 t"),
    "\"2.0 t .. 2.2 t\"",
    "Mass as it stands, without what is listed as payload.",
    "the need is a multiple of it",
)
.assumable();
const PAYLOAD: Key = may(
    "payload",
    Kind::Range(Quantity::Mass, "0 kg", "100 t"),
    "\"150 kg\"",
    "What it carries: people, water, load, mud that sticks.",
    "nothing more moves than its mass",
)
.assumable();
const WHEELBASE: Key = may(
    "wheelbase",
    Kind::One(Quantity::Length, "1 m", "12 m"),
    "\"2.79 m\"",
    "Distance between the axles.",
    "not known",
)
.assumable();
const TRACK: Key = may(
    "track",
    Kind::One(Quantity::Length, "0.8 m", "4 m"),
    "\"1.57 m\"",
    "Distance between the middles of the left and right tyres.",
    "not known: roll on a side slope is 'unknown'",
)
.assumable();
const CG: Key = may(
    "cg_height",
    Kind::Range(Quantity::Length, "0.2 m", "4 m"),
    "\"0.65 m .. 0.85 m\"",
    "Height of the centre of gravity as loaded.",
    "not known: roll on a side slope or under a sideways pull is 'unknown'",
)
.assumable();
const POINTS: Key = may(
    "point",
    Kind::Many(&POINT, 50),
    "[[vehicle.point]]",
    "Where gear can be attached.",
    "there is nowhere to pull",
);
const WINCH_KEY: Key = may("winch", Kind::Table(&WINCH), "[vehicle.winch]", "Its winch.", "it has none");
const TYRES_KEY: Key =
    may("tyres", Kind::Table(&TYRES), "{ diameter = \"80 cm\", width = \"265 mm\" }", "Its tyres.", "not known");

/// The stuck vehicle.
pub static VEHICLE: Section = Section {
    name: "vehicle",
    about: "The stuck vehicle. Its frame is the case's frame: the origin is the ground under the middle of its wheelbase, x ahead, y to its left, z up.",
    keys: &[NAME, MASS, PAYLOAD, WHEELBASE, TRACK, CG, POINTS, WINCH_KEY, TYRES_KEY],
};

/// A helper behind another.
static BACKED_BY: Section = Section {
    name: "backed_by",
    about: "A helper's vehicle that holds another from behind: the first slides, the second takes up.",
    keys: &[
        must(
            "to",
            Kind::Id,
            "\"second truck\"",
            "Name of the helper behind it.",
            "that one takes up what this one lets go",
        ),
        must(
            "with",
            Kind::Id,
            "\"K5\"",
            "Id of the piece of the kit between their recovery points.",
            "it bears what the helper behind takes up",
        ),
    ],
};

/// A helper's vehicle.
pub static HELPER: Section = Section {
    name: "helper",
    about: "A helper's vehicle: something to pull with or to anchor on.",
    keys: &[
        NAME,
        MASS,
        PAYLOAD,
        WHEELBASE,
        TRACK,
        CG,
        POINTS,
        WINCH_KEY,
        TYRES_KEY,
        super::case::POSITION,
        super::case::DISTANCE,
        super::case::PACES,
        super::case::PACE,
        may(
            "bearing",
            Kind::Bearing,
            "\"310 deg\"",
            "Compass bearing from the stuck vehicle, if it is placed by paces.",
            "it is placed by coordinates",
        ),
        may(
            "toward",
            Kind::Heading,
            "\"10 deg left\"",
            "Direction from the stuck vehicle, if it is placed by paces, from the stuck vehicle's heading.",
            "it is placed by coordinates or bearing",
        ),
        super::case::RISE,
        super::case::FROM,
        may(
            "heading",
            Kind::Heading,
            "\"back\"",
            "Which way its nose points, from the stuck vehicle's heading.",
            "its compass heading is given",
        ),
        may(
            "compass_heading",
            Kind::Bearing,
            "\"130 deg\"",
            "Which way its nose points, by compass.",
            "its heading is given",
        ),
        may(
            "friction",
            Kind::Range(Quantity::Ratio, "0", "1.2"),
            "\"0.3 .. 0.4\"",
            "Friction of its tyres on its ground.",
            "not known: what it holds is 'unknown'",
        )
        .assumable(),
        must(
            "slope",
            Kind::Slope(Way::Nose),
            "\"5 deg nose down\"",
            "Slope of its ground along its own heading.",
            "a parked vehicle holds less on a slope",
        )
        .assumable(),
        must(
            "braked_share",
            Kind::Range(Quantity::Ratio, "0", "1"),
            "\"40 % .. 100 %\"",
            "Share of its weight on braked or chocked wheels.",
            "a parking brake acts on one axle only, and the rest rolls",
        )
        .assumable(),
        may(
            "chocked",
            Kind::Flag,
            "true",
            "Whether every wheel stands against a chock on the side that it would roll or slide to.",
            "nobody said",
        ),
        may(
            "backed_by",
            Kind::Table(&BACKED_BY),
            "{ to = \"second truck\", with = \"K5\" }",
            "The helper that holds it from behind, and what joins their recovery points.",
            "nothing holds it from behind",
        ),
        must(
            "can_tow",
            Kind::Flag,
            "true",
            "Whether it can drive: a steady tow.",
            "a parked wreck can anchor and not tow",
        ),
    ],
};
