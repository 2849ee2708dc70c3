//! Kinetic pulls: what is told of a rope that stretches, what a case says of the run-up, and a bare problem.

use crate::key::{Kind, Quantity, Section, may, must};
use unmire_model::quantity::slope::Way;

/// What a rope went through.
pub const STATES: &[&str] = &["new", "worked", "just used", "not known"];
/// Loading laws.
pub const LAWS: &[&str] = &["linear", "power", "polynomial", "measured"];

/// A measured stretch.
pub static ELONGATION: Section = Section {
    name: "the measured stretch",
    about: "How far a kinetic rope or strap stretches at a share of its breaking strength, as measured or as its maker prints it.",
    keys: &[
        must(
            "at",
            Kind::One(Quantity::Ratio, "0.01", "1"),
            "\"50 %\"",
            "Share of its breaking strength.",
            "a stretch without its load tells nothing",
        ),
        must(
            "stretch",
            Kind::One(Quantity::Ratio, "0.001", "1"),
            "\"14 %\"",
            "Stretch there, of its slack length.",
            "the peak follows from it",
        ),
    ],
};

/// What the case says of a kinetic pull.
pub static RUN_UP: Section = Section {
    name: "kinetic",
    about: "A kinetic pull: how fast, with how much slack, and what it must bring. All of it may be left out.",
    keys: &[
        may(
            "speed",
            Kind::Range(Quantity::Speed, "0 km/h", "50 km/h"),
            "\"4 km/h .. 7 km/h\"",
            "Speed of the puller when the rope becomes taut.",
            "the slowest speed that is enough, if there is one; or what the slack gives",
        )
        .assumable(),
        may(
            "slack",
            Kind::Range(Quantity::Length, "0 m", "20 m"),
            "\"0.5 m .. 1 m\"",
            "Slack that is laid out. Without a speed the puller starts from rest and drives through it at full throttle.",
            "a guide's 1 m is laid out, and it sets no speed",
        )
        .assumable(),
        may(
            "travel",
            Kind::One(Quantity::Length, "5 cm", "50 m"),
            "\"0.5 m\"",
            "Way that one pull must bring the stuck vehicle.",
            "half a metre, marked as our own judgement",
        )
        .assumable(),
        may(
            "fastest",
            Kind::One(Quantity::Speed, "1 km/h", "50 km/h"),
            "\"8 km/h\"",
            "Fastest speed that is looked at.",
            "the fastest that a club teaches",
        )
        .assumable(),
        may(
            "moving",
            Kind::Range(Quantity::Ratio, "0.01", "1"),
            "\"50 % .. 80 %\"",
            "Share of what holds it that still holds once it has moved.",
            "it holds the same all the way",
        )
        .assumable(),
        may(
            "over",
            Kind::One(Quantity::Length, "1 cm", "20 m"),
            "\"0.5 m\"",
            "Way over which it lets go: there 37 % of the difference is left.",
            "must be said where `moving` is",
        )
        .assumable(),
    ],
};

/// The one that pulls.
pub static PULLER: Section = Section {
    name: "the kinetic puller",
    about: "The mass that pulls.",
    keys: &[
        must(
            "mass",
            Kind::One(Quantity::Mass, "1 kg", "500 t"),
            "\"2500 kg\"",
            "All of it that moves.",
            "its energy follows from it",
        ),
        must(
            "speed",
            Kind::One(Quantity::Speed, "0 m/s", "30 m/s"),
            "\"10 km/h\"",
            "Its speed at the start of the slack; without slack: when the rope becomes taut.",
            "its energy follows from it",
        ),
        may(
            "traction",
            Kind::One(Quantity::Force, "0 N", "10 MN"),
            "\"6 kN\"",
            "What its tyres give along the line while it drives, its own rolling resistance taken off.",
            "nothing",
        ),
        may("slope", Kind::Slope(Way::Along), "\"3 deg up\"", "Its ground in the direction of the pull.", "level"),
        may(
            "brakes",
            Kind::One(Quantity::Force, "0 N", "10 MN"),
            "\"12 kN\"",
            "What its braked wheels hold once it has been stopped.",
            "it stands like a rock",
        ),
    ],
};

/// The one that is stuck.
pub static STUCK: Section = Section {
    name: "the kinetic stuck",
    about: "The mass that is stuck. Give `resistance`, or `breakaway`, `moving` and `over`, or `fixed = true`.",
    keys: &[
        must(
            "mass",
            Kind::One(Quantity::Mass, "1 kg", "500 t"),
            "\"2800 kg\"",
            "All of it that moves.",
            "the motion follows from it",
        ),
        may(
            "resistance",
            Kind::One(Quantity::Force, "0 N", "10 MN"),
            "\"15 kN\"",
            "What holds it, the same all the way; the weight along its slope is not part of it.",
            "it breaks away, or is fixed",
        ),
        may(
            "breakaway",
            Kind::One(Quantity::Force, "0 N", "10 MN"),
            "\"25 kN\"",
            "What it takes to break away.",
            "`resistance` says it",
        ),
        may(
            "moving",
            Kind::One(Quantity::Force, "0 N", "10 MN"),
            "\"12 kN\"",
            "What holds it far from there.",
            "must be said where `breakaway` is",
        ),
        may(
            "over",
            Kind::One(Quantity::Length, "1 mm", "100 m"),
            "\"0.5 m\"",
            "Way over which the difference falls to 37 %.",
            "must be said where `breakaway` is",
        ),
        may("fixed", Kind::Flag, "true", "Whether it can't move at all.", "it can"),
        may("slope", Kind::Slope(Way::Along), "\"3 deg up\"", "Its ground in the direction of the pull.", "level"),
    ],
};

/// A point of a measured law.
pub static LAW_POINT: Section = Section {
    name: "the point of the law",
    about: "A point of a measured loading law.",
    keys: &[
        must(
            "strain",
            Kind::One(Quantity::Ratio, "0.0001", "4.9"),
            "\"10 %\"",
            "Stretch, of the slack length.",
            "the law goes through it",
        ),
        must(
            "force",
            Kind::One(Quantity::Force, "1 N", "100 MN"),
            "\"25 kN\"",
            "Force there.",
            "the law goes through it",
        ),
    ],
};

/// The rope.
pub static ROPE: Section = Section {
    name: "the kinetic rope",
    about: "The rope between the two: its loading law, its way back, its viscous term.",
    keys: &[
        must(
            "length",
            Kind::One(Quantity::Length, "10 cm", "1 km"),
            "\"9 m\"",
            "Slack length.",
            "strain counts from it",
        ),
        must(
            "law",
            Kind::Words(LAWS),
            "\"polynomial\"",
            "How force grows with stretch the first time: linear, strength · ε/strain; power, strength · (ε/strain)^exponent; polynomial, \
             strength · (c1 u + c2 u² + c3 u³) with u = ε/strain; measured, straight lines between points.",
            "the peak follows from it",
        ),
        may(
            "strength",
            Kind::One(Quantity::Force, "1 N", "100 MN"),
            "\"130 kN\"",
            "Force that scales the law, as a rule the breaking strength.",
            "must be said but for a measured law",
        ),
        may(
            "strain",
            Kind::One(Quantity::Ratio, "0.0001", "4.9"),
            "\"30 %\"",
            "Strain at that force.",
            "must be said but for a measured law",
        ),
        may(
            "exponent",
            Kind::One(Quantity::Ratio, "1", "5"),
            "1.6",
            "Exponent of a power law.",
            "must be said of a power law",
        ),
        may(
            "c",
            Kind::Ranges(3, Quantity::Ratio, "0", "1"),
            "[0.35, 0.25, 0.40]",
            "The three coefficients of a polynomial; they add up to one.",
            "must be said of a polynomial",
        ),
        may(
            "point",
            Kind::Many(&LAW_POINT, 12),
            "[{ strain = \"10 %\", force = \"25 kN\" }, { strain = \"20 %\", force = \"70 kN\" }]",
            "Points of a measured law, strain and force rising; the point of nothing is understood.",
            "must be said of a measured law",
        ),
        may(
            "residual",
            Kind::One(Quantity::Ratio, "0", "0.99"),
            "0.15",
            "Way back: share of the greatest stretch that is left when it is slack.",
            "it comes back as it went, without loss",
        ),
        may(
            "way_back_exponent",
            Kind::One(Quantity::Ratio, "1", "10"),
            "2",
            "Way back: T = T_m ((e − e_r) / (e_m − e_r))^q, this is q.",
            "must be said where `residual` is",
        ),
        may(
            "viscous",
            Kind::One(Quantity::Force, "0 N", "10 MN"),
            "\"4 kN\"",
            "More force for every metre a second by which it is being stretched.",
            "none",
        ),
        may(
            "breaking",
            Kind::One(Quantity::Force, "1 N", "100 MN"),
            "\"110 kN\"",
            "Force at which it parts.",
            "it never parts",
        ),
    ],
};

/// What is asked about the run-up.
pub static ASKED: Section = Section {
    name: "the question",
    about: "What is asked about the run-up: the speeds between too little and too much.",
    keys: &[
        must(
            "travel",
            Kind::One(Quantity::Length, "1 mm", "1 km"),
            "\"0.5 m\"",
            "Way that counts as freed.",
            "too little is judged by it",
        ),
        must(
            "limit",
            Kind::One(Quantity::Force, "1 N", "100 MN"),
            "\"40 kN\"",
            "Most that the weakest part allows in the rope.",
            "too much is judged by it",
        ),
        must(
            "fastest",
            Kind::One(Quantity::Speed, "0.1 m/s", "15 m/s"),
            "\"20 km/h\"",
            "Fastest closing speed that is looked at.",
            "the search ends there",
        ),
    ],
};

/// A bare kinetic problem.
pub static PROBLEM: Section = Section {
    name: "a kinetic problem",
    about: "A bare kinetic problem: two masses and a rope with exactly the numbers given, no vehicle and no ground.",
    keys: &[
        must(
            "schema",
            Kind::Words(&[crate::KINETIC_SCHEMA]),
            "\"unmire.kinetic-problem/1\"",
            "What this document is.",
            "the reader must know the version",
        ),
        may("title", Kind::Text, "\"15 kN of mire on a linear rope\"", "A title.", "it has none"),
        may(
            "slack",
            Kind::One(Quantity::Length, "0 m", "1 km"),
            "\"2 m\"",
            "Slack that the puller drives through.",
            "none",
        ),
        may(
            "travel_limit",
            Kind::One(Quantity::Length, "1 mm", "10 km"),
            "\"2 m\"",
            "Way of the stuck one at which the driver lifts off.",
            "never",
        ),
        may(
            "time_limit",
            Kind::One(Quantity::Time, "0.01 s", "120 s"),
            "\"20 s\"",
            "When the reckoning ends at the latest.",
            "20 s",
        ),
        must("puller", Kind::Table(&PULLER), "[puller]", "The one that pulls.", "something pulls"),
        must("stuck", Kind::Table(&STUCK), "[stuck]", "The one that is stuck.", "something is pulled"),
        must("rope", Kind::Table(&ROPE), "[rope]", "The rope.", "it joins the two"),
        may("asked", Kind::Table(&ASKED), "[asked]", "What is asked about the run-up.", "no window is looked for"),
    ],
};
