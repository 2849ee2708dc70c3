//! A label that needs more than its text.

use crate::key::{Kind, Quantity, Section, may, must};

/// The words for the kind of a rating.
pub const RATING: &[&str] = &["working", "breaking", "not printed"];

/// `label = { text = "4.75 T", means = "4.75 t", rating = "working" }`
pub static LABEL: Section = Section {
    name: "label",
    about: "A label: the text on the part, or a table when the text alone can be read in two ways.",
    keys: &[
        must("text", Kind::Text, "\"4.75 T\"", "The text on the part, as printed.", "the report quotes it"),
        may(
            "means",
            Kind::One(Quantity::Force, "100 N", "10 MN"),
            "\"4.75 t\"",
            "The force that it states, where the text can be read in two ways or has no unit.",
            "the text is read",
        ),
        may(
            "rating",
            Kind::Words(RATING),
            "\"working\"",
            "Whether that force is a working load limit or a breaking strength.",
            "WLL, SWL, MBS, MBL or BS in the text tells; otherwise it is not printed, and counts at its lower meaning",
        ),
        may(
            "design_factor",
            Kind::One(Quantity::Ratio, "1", "20"),
            "6",
            "Breaking strength over working load limit, if the maker states it.",
            "`(7:1)` in the text tells",
        ),
    ],
};
