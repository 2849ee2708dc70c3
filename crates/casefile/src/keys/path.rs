//! The way out in stretches: where it bends, where it climbs, and where the mire ends.

use crate::key::{Kind, Quantity, Section, may, must};
use unmire_model::quantity::slope::Way;

/// A stretch of the way out.
pub static STRETCH: Section = Section {
    name: "stretch",
    about: "One stretch of the way out; they follow each other from where the vehicle stands.",
    keys: &[
        must("length", Kind::One(Quantity::Length, "0.1 m", "500 m"), "\"2.5 m\"", "How long it is, along the ground.", "the next one begins at its end").assumable(),
        may("direction", Kind::Heading, "\"20 deg left\"", "Seen from above, from the stuck vehicle's heading as it stands now.", "as the way out").assumable(),
        may("bearing", Kind::Bearing, "\"290 deg\"", "By compass.", "a direction is given, or as the way out").assumable(),
        may("grade", Kind::SlopeRange(Way::Along), "\"12 deg up\"", "Slope along it.", "as the way out").assumable(),
        may("side_slope", Kind::Slope(Way::Across), "\"3 deg left high\"", "Slope across it.", "as the way out").assumable(),
        may("surface", Kind::TableKey, "\"wet grass\"", "What it rolls on there, free of the mire: a key of the rolling-resistance table.", "the ground holds it as where it stands now").assumable(),
        may("holds", Kind::Range(Quantity::Ratio, "0", "5"), "\"40 % .. 60 %\"", "Share of the moving weight that this ground holds, rolling included and slope not: the lip of a hole, a second mire.", "the surface says it; without one, the ground holds it as where it stands now").assumable(),
    ],
};
