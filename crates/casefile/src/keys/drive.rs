//! What drives a winch: motor, battery, the lines of its data sheet.

use crate::key::{Kind, Quantity, Section, may, must};

/// Kinds of drives.
pub const DRIVES: &[&str] = &["electric", "hydraulic", "capstan"];

/// The battery.
pub static BATTERY: Section = Section {
    name: "battery",
    about: "The battery that feeds the winch.",
    keys: &[
        must(
            "capacity",
            Kind::Range(Quantity::Charge, "1 Ah", "2000 Ah"),
            "\"90 Ah\"",
            "Capacity as printed, at its slow rate.",
            "how far the pull takes it down follows from it",
        )
        .assumable(),
        must(
            "filled",
            Kind::Range(Quantity::Ratio, "0", "1"),
            "\"70 % .. 100 %\"",
            "How full it is at the start.",
            "a battery that was half empty may not last the pull",
        )
        .assumable(),
        may(
            "resistance",
            Kind::Range(Quantity::Ohms, "0.1 mohm", "1 ohm"),
            "\"8 mohm .. 12 mohm\"",
            "Its inner resistance with the cables to the winch, if measured.",
            "a wide range counts, marked as our own judgement",
        )
        .assumable(),
    ],
};

/// One line of a data sheet.
pub static SHEET: Section = Section {
    name: "the data sheet",
    about: "What the winch does at one pull on its first layer, as the maker printed it or as somebody measured it.",
    keys: &[
        must(
            "pull",
            Kind::One(Quantity::Force, "0 kN", "500 kN"),
            "\"9,500 lb\"",
            "Pull on the first layer.",
            "it is what the rest hangs on",
        ),
        may(
            "current",
            Kind::One(Quantity::Current, "0 A", "5000 A"),
            "\"480 A\"",
            "Current at that pull.",
            "a straight line through published winches counts, with a wide range",
        ),
        may(
            "speed",
            Kind::One(Quantity::Speed, "0 m/min", "120 m/min"),
            "\"1.2 m/min\"",
            "Speed of the line on the first layer at that pull.",
            "a straight line through published winches counts, with a wide range",
        ),
    ],
};

/// A drive.
pub static DRIVE: Section = Section {
    name: "drive",
    about: "What drives the winch: it tells how long a pull takes and whether battery and motor last it.",
    keys: &[
        must(
            "kind",
            Kind::Words(DRIVES),
            "\"electric\"",
            "Electric motor, hydraulic motor, or a driven capstan that the line goes round.",
            "batteries and heat matter for one, turns for another",
        ),
        may(
            "voltage",
            Kind::One(Quantity::Voltage, "6 V", "48 V"),
            "\"12 V\"",
            "Voltage that it is made for.",
            "must be said of an electric one",
        )
        .assumable(),
        may(
            "battery",
            Kind::Table(&BATTERY),
            "{ capacity = \"90 Ah\", filled = \"70 % .. 100 %\" }",
            "The battery of an electric one.",
            "nothing is said about what is left in it",
        ),
        may(
            "alternator",
            Kind::Range(Quantity::Current, "0 A", "1000 A"),
            "\"40 A .. 80 A\"",
            "What the alternator has left for the winch while the engine runs.",
            "nothing is counted",
        )
        .assumable(),
        may(
            "run_at_rated",
            Kind::Range(Quantity::Time, "1 s", "2 h"),
            "\"45 s\"",
            "Longest run at the rated pull from cold, if the maker says.",
            "a wide range counts, marked as our own judgement",
        )
        .assumable(),
        may(
            "rest",
            Kind::Range(Quantity::Time, "0 s", "5 h"),
            "\"10 min .. 15 min\"",
            "Rest until it is cold again, if the maker says.",
            "a wide range counts, marked as our own judgement",
        )
        .assumable(),
        may(
            "sheet",
            Kind::Many(&SHEET, 40),
            "[{ pull = \"0 kN\", current = \"65 A\", speed = \"9.5 m/min\" }, { pull = \"42 kN\", current = \"480 A\", speed = \"1.2 m/min\" }]",
            "Lines of its data sheet by rising pull on the first layer.",
            "straight lines through published winches count, with wide ranges",
        ),
        may("turns", Kind::Whole(1, 20), "4", "Whole turns of the line round a capstan.", "must be said of a capstan"),
        may(
            "friction",
            Kind::Range(Quantity::Ratio, "0.02", "1"),
            "\"0.1 .. 0.2\"",
            "Friction of this line on this capstan, if known.",
            "a published range counts",
        )
        .assumable(),
        may(
            "diameter",
            Kind::One(Quantity::Length, "10 mm", "1 m"),
            "\"85 mm\"",
            "Diameter of the capstan, if measured.",
            "the line's bend round it is not judged",
        ),
    ],
};
