//! The bare rig: points, slings, lines and weights, and nothing else.

use crate::key::{Kind, Quantity, Section, may, must};

/// Which way friction acts.
pub const MOTION: &[&str] = &["hauling", "lowering", "frictionless"];

/// A point.
pub static POINT: Section = Section {
    name: "point",
    about: "A point: fixed, or free to find its place.",
    keys: &[
        must("name", Kind::Id, "\"B\"", "Its name.", "members refer to it"),
        must(
            "at",
            Kind::Position,
            "[13, 0, 0]",
            "Coordinates in metres; for a free point, where the search starts.",
            "geometry is everything here",
        ),
        must("fixed", Kind::Flag, "true", "Whether it can't move.", "a fixed point takes any force, a free one none"),
        may("weight", Kind::One(Quantity::Force, "0 N", "1 MN"), "\"40 N\"", "Its weight, if it is free.", "none"),
    ],
};
/// A sling.
pub static SLING: Section = Section {
    name: "sling",
    about: "An elastic member between two points that can only pull.",
    keys: &[
        must("name", Kind::Id, "\"s1\"", "Its name.", "outputs refer to it"),
        must("between", Kind::Ids(2), "[\"TR\", \"B\"]", "Its two ends.", "it joins two points"),
        must(
            "rest_length",
            Kind::One(Quantity::Length, "1 mm", "10 km"),
            "\"2 m\"",
            "Length when slack.",
            "its tension follows from it",
        ),
        must(
            "ea",
            Kind::One(Quantity::Force, "1 N", "1e6 MN"),
            "\"1200 kN\"",
            "Stiffness EA: force per unit strain.",
            "its tension follows from it",
        ),
    ],
};
/// A pull.
pub static PULL: Section = Section {
    name: "pull",
    about: "The component along a direction of all forces on given points.",
    keys: &[
        must("points", Kind::Ids(50), "[\"V1\", \"V2\"]", "The points that are pulled.", "the pull acts somewhere"),
        must("direction", Kind::Vector, "[0.05, 3.0, 0.75]", "The direction; any length.", "a pull has a direction"),
        must(
            "force",
            Kind::One(Quantity::Force, "0 N", "1000 MN"),
            "\"45 kN\"",
            "The component of the total force along it.",
            "the tension is sought from it",
        ),
    ],
};
/// A length.
pub static LENGTH: Section = Section {
    name: "length",
    about: "The slack length and the stiffness of the whole line.",
    keys: &[
        must(
            "rest",
            Kind::One(Quantity::Length, "1 mm", "100 km"),
            "\"44.4 m\"",
            "Length of the whole line when slack.",
            "the tension is sought from it",
        ),
        must(
            "ea",
            Kind::One(Quantity::Force, "1 N", "1e6 MN"),
            "\"900 kN\"",
            "Stiffness EA.",
            "the tension is sought from it",
        ),
    ],
};
/// A line.
pub static LINE: Section = Section {
    name: "line",
    about: "A line reeved in order through points. Give one of tension, pull and length.",
    keys: &[
        must("name", Kind::Id, "\"winch line\"", "Its name.", "outputs refer to it"),
        must(
            "path",
            Kind::Ids(200),
            "[\"W\", \"B\", \"V\"]",
            "The points, in order, from the winch to the dead end.",
            "a line goes somewhere",
        ),
        may(
            "turns",
            Kind::Turns,
            "[0.92]",
            "For each point between the ends: the tension passed on (1 = no friction), or { ring = friction coefficient }.",
            "no friction anywhere",
        ),
        may("motion", Kind::Words(MOTION), "\"hauling\"", "Which way friction acts.", "hauling"),
        may(
            "tension",
            Kind::One(Quantity::Force, "0 N", "1000 MN"),
            "\"20 kN\"",
            "Drive: tension of the first leg.",
            "another drive",
        ),
        may(
            "pull",
            Kind::Table(&PULL),
            "{ points = [\"V1\", \"V2\"], direction = [0.05, 3.0, 0.75], force = \"45 kN\" }",
            "Drive: a pull on points along a direction; the tension is sought.",
            "another drive",
        ),
        may(
            "length",
            Kind::Table(&LENGTH),
            "{ rest = \"44.4 m\", ea = \"900 kN\" }",
            "Drive: a length with EA; the tension is sought. Also an equalising line.",
            "another drive",
        ),
    ],
};
/// A bare rig.
pub static BARE: Section = Section {
    name: "rig",
    about: "A bare rig: statics with exactly the numbers given.",
    keys: &[
        must(
            "schema",
            Kind::Words(&[crate::RIG_SCHEMA]),
            "\"unmire.rig/1\"",
            "What this document is.",
            "the reader must know the version",
        ),
        may("title", Kind::Text, "\"Block on two trees\"", "A title.", "it has none"),
        must("point", Kind::Many(&POINT, 1000), "[[point]]", "The points.", "members join points"),
        may("sling", Kind::Many(&SLING, 1000), "[[sling]]", "The slings.", "none"),
        may("line", Kind::Many(&LINE, 100), "[[line]]", "The lines.", "none"),
    ],
};
