//! The units that people write, and those that are refused because two units share the word.

use super::{Angle, Charge, Current, Force, Length, Mass, Ohms, Pressure, Speed, Time, Voltage};
use crate::range::Scalar;
use crate::trail::Dimension;

/// A unit: the words for it and its size in SI.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// The words; the first is the one that is printed.
    pub names: &'static [&'static str],
    /// How many SI units it is.
    pub factor: f64,
}

/// A quantity that can be read from a text.
pub trait Written: Scalar {
    /// What it is, with its article.
    const WHAT: &'static str;
    /// Its units, the ones that are written back first.
    const UNITS: &'static [Unit];
    /// What is expected, for an error.
    const EXPECTED: &'static str;
    /// An example, for an error.
    const EXAMPLE: &'static str;
    /// Whether a bare number is a full statement.
    const BARE: bool = false;
    /// All of that as a value.
    const NOTATION: &'static Notation = &Notation {
        what: Self::WHAT,
        units: Self::UNITS,
        expected: Self::EXPECTED,
        example: Self::EXAMPLE,
        bare: Self::BARE,
        dimension: Self::DIMENSION,
    };
}

/// How a quantity is written, as a value: what reads and writes texts is compiled once and not for every quantity.
#[derive(Clone, Copy, Debug)]
pub struct Notation {
    /// As [`Written::WHAT`].
    pub what: &'static str,
    /// As [`Written::UNITS`].
    pub units: &'static [Unit],
    /// As [`Written::EXPECTED`].
    pub expected: &'static str,
    /// As [`Written::EXAMPLE`].
    pub example: &'static str,
    /// As [`Written::BARE`].
    pub bare: bool,
    /// As [`Scalar::DIMENSION`].
    pub dimension: Dimension,
}

const TONNE: &[&str] = &["t", "tonne", "tonnes", "metric ton", "metric tons", "metric tonne", "metric tonnes"];
const KG: &[&str] = &["kg", "kgs", "kilogram", "kilograms", "kilo", "kilos"];
const LB: &[&str] = &["lb", "lbs", "pound", "pounds"];
const SHORT_TON: &[&str] = &["short tons", "short ton", "US tons", "US ton", "sh tn"];
const LONG_TON: &[&str] = &["long tons", "long ton", "imperial tons", "imperial ton", "UK tons", "UK ton"];

impl Written for Mass {
    const WHAT: &'static str = "a mass";
    const UNITS: &'static [Unit] = &[
        Unit { names: KG, factor: Mass::from_kg(1.0).as_si() },
        Unit { names: TONNE, factor: Mass::from_tonne(1.0).as_si() },
        Unit { names: LB, factor: Mass::from_lb(1.0).as_si() },
        Unit { names: SHORT_TON, factor: Mass::from_short_ton(1.0).as_si() },
        Unit { names: LONG_TON, factor: Mass::from_long_ton(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "a mass with its unit: kg, t, lb, short tons or long tons";
    const EXAMPLE: &'static str = "2.4 t";
}
impl Written for Force {
    const WHAT: &'static str = "a force";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["kN", "kilonewton", "kilonewtons"], factor: Force::from_kn(1.0).as_si() },
        Unit { names: &["N", "newton", "newtons"], factor: Force::from_n(1.0).as_si() },
        Unit { names: &["daN"], factor: Force::from_n(10.0).as_si() },
        Unit { names: &["MN"], factor: Force::from_kn(1000.0).as_si() },
        Unit {
            names: &["lbf", "lb", "lbs", "pound", "pounds", "pounds-force", "pound-force"],
            factor: Force::from_lbf(1.0).as_si(),
        },
        Unit {
            names: &[
                "t",
                "tf",
                "tonne",
                "tonnes",
                "metric ton",
                "metric tons",
                "metric tonne",
                "metric tonnes",
                "tonnes-force",
                "tonne-force",
            ],
            factor: Force::from_tonnef(1.0).as_si(),
        },
        Unit {
            names: &["kg", "kgf", "kgs", "kp", "kilogram", "kilograms", "kilo", "kilos"],
            factor: Force::from_kgf(1.0).as_si(),
        },
        Unit { names: SHORT_TON, factor: Force::from_short_tonf(1.0).as_si() },
        Unit { names: LONG_TON, factor: Force::from_long_tonf(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "a force with its unit: kN, N, lbf, or a label's t, kg, lb, short tons";
    const EXAMPLE: &'static str = "20 kN";
}
impl Written for Length {
    const WHAT: &'static str = "a length";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["m", "metre", "metres", "meter", "meters"], factor: Length::from_m(1.0).as_si() },
        Unit {
            names: &["mm", "millimetre", "millimetres", "millimeter", "millimeters"],
            factor: Length::from_mm(1.0).as_si(),
        },
        Unit {
            names: &["cm", "centimetre", "centimetres", "centimeter", "centimeters"],
            factor: Length::from_cm(1.0).as_si(),
        },
        Unit { names: &["ft", "foot", "feet", "'", "\u{2032}"], factor: Length::from_foot(1.0).as_si() },
        Unit { names: &["in", "inch", "inches", "\"", "\u{2033}"], factor: Length::from_inch(1.0).as_si() },
        Unit { names: &["yd", "yard", "yards"], factor: Length::from_yard(1.0).as_si() },
        Unit {
            names: &["km", "kilometre", "kilometres", "kilometer", "kilometers"],
            factor: Length::from_m(1000.0).as_si(),
        },
    ];
    const EXPECTED: &'static str = "a length with its unit: m, cm, mm, ft, in or yd";
    const EXAMPLE: &'static str = "3 m";
}
impl Written for Angle {
    const WHAT: &'static str = "an angle";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["deg", "degree", "degrees", "\u{b0}"], factor: Angle::from_deg(1.0).as_si() },
        Unit { names: &["rad", "radian", "radians"], factor: Angle::from_rad(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "an angle in deg";
    const EXAMPLE: &'static str = "7 deg";
}
impl Written for Pressure {
    const WHAT: &'static str = "a pressure";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["kPa"], factor: Pressure::from_kpa(1.0).as_si() },
        Unit { names: &["bar"], factor: Pressure::from_bar(1.0).as_si() },
        Unit { names: &["psi"], factor: Pressure::from_psi(1.0).as_si() },
        Unit { names: &["MPa"], factor: Pressure::from_mpa(1.0).as_si() },
        Unit { names: &["Pa"], factor: Pressure::from_pa(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "a pressure with its unit: kPa, bar or psi";
    const EXAMPLE: &'static str = "1.8 bar";
}
impl Written for Time {
    const WHAT: &'static str = "a time";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["s", "sec", "second", "seconds"], factor: Time::from_s(1.0).as_si() },
        Unit { names: &["min", "minute", "minutes"], factor: Time::from_min(1.0).as_si() },
        Unit { names: &["h", "hr", "hour", "hours"], factor: Time::from_hour(1.0).as_si() },
        Unit { names: &["days", "day"], factor: Time::from_day(1.0).as_si() },
        Unit { names: &["weeks", "week"], factor: Time::from_day(7.0).as_si() },
        Unit { names: &["months", "month"], factor: Time::from_year(1.0 / 12.0).as_si() },
        Unit { names: &["years", "year", "yr", "yrs"], factor: Time::from_year(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "a time with its unit: s, min, h, days, weeks, months or years";
    const EXAMPLE: &'static str = "20 min";
}
impl Written for Speed {
    const WHAT: &'static str = "a speed";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["m/s"], factor: Speed::from_m_s(1.0).as_si() },
        Unit { names: &["km/h", "kmh"], factor: Speed::from_km_h(1.0).as_si() },
        Unit { names: &["mph"], factor: Speed::from_mph(1.0).as_si() },
        Unit { names: &["m/min"], factor: Speed::from_m_s(1.0 / 60.0).as_si() },
        Unit {
            names: &["ft/min", "fpm", "feet/min", "foot/min"],
            factor: Speed::from_m_s(Length::from_foot(1.0).as_m() / 60.0).as_si(),
        },
    ];
    const EXPECTED: &'static str = "a speed with its unit: m/s, m/min, ft/min, km/h or mph";
    const EXAMPLE: &'static str = "5 km/h";
}
impl Written for Current {
    const WHAT: &'static str = "a current";
    const UNITS: &'static [Unit] =
        &[Unit { names: &["A", "amp", "amps", "ampere", "amperes"], factor: Current::from_a(1.0).as_si() }];
    const EXPECTED: &'static str = "a current in A";
    const EXAMPLE: &'static str = "250 A";
}
impl Written for Voltage {
    const WHAT: &'static str = "a voltage";
    const UNITS: &'static [Unit] = &[Unit { names: &["V", "volt", "volts"], factor: Voltage::from_v(1.0).as_si() }];
    const EXPECTED: &'static str = "a voltage in V";
    const EXAMPLE: &'static str = "12 V";
}
impl Written for Charge {
    const WHAT: &'static str = "a charge";
    const UNITS: &'static [Unit] = &[
        Unit {
            names: &["Ah", "amp-hour", "amp-hours", "ampere-hour", "ampere-hours"],
            factor: Charge::from_ah(1.0).as_si(),
        },
        Unit { names: &["As", "ampere-second", "ampere-seconds"], factor: Charge::from_as(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "a charge in Ah";
    const EXAMPLE: &'static str = "90 Ah";
}
impl Written for Ohms {
    const WHAT: &'static str = "an electric resistance";
    const UNITS: &'static [Unit] = &[
        Unit {
            names: &["mohm", "m\u{3a9}", "m\u{2126}", "milliohm", "milliohms"],
            factor: Ohms::from_milliohm(1.0).as_si(),
        },
        Unit { names: &["ohm", "\u{3a9}", "\u{2126}", "ohms"], factor: Ohms::from_ohm(1.0).as_si() },
    ];
    const EXPECTED: &'static str = "an electric resistance in mohm or ohm";
    const EXAMPLE: &'static str = "10 mohm";
}
impl Written for f64 {
    const WHAT: &'static str = "a share or ratio";
    const UNITS: &'static [Unit] = &[Unit { names: &["%", "percent", "per cent"], factor: 0.01 }];
    const EXPECTED: &'static str = "a bare number or a percentage";
    const EXAMPLE: &'static str = "35 %";
    const BARE: bool = true;
}

/// What a unit's word turned out to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Found {
    /// A unit of the wanted quantity.
    Factor(f64),
    /// Two units share this word.
    Ambiguous,
    /// A unit of something else, with its article.
    Foreign(&'static str),
    /// No unit.
    Nothing,
}

fn find(units: &[Unit], word: &str) -> Option<f64> {
    units.iter().find(|u| u.names.contains(&word)).map(|u| u.factor).or_else(|| {
        // Labels shout: KN, LBS, MM. A single letter keeps its case, because T and t are not the same.
        (word.chars().count() > 1)
            .then(|| {
                units.iter().find(|u| u.names.iter().any(|n| n.chars().count() > 1 && n.eq_ignore_ascii_case(word)))
            })
            .flatten()
            .map(|u| u.factor)
    })
}

/// Looks a word up.
pub(super) fn look_up(q: &Notation, word: &str) -> Found {
    if let Some(f) = find(q.units, word) {
        return Found::Factor(f);
    }
    let lower = word.to_ascii_lowercase();
    if word == "T" || matches!(lower.as_str(), "ton" | "tons" | "tonf" | "ton-force" | "tons-force" | "tn") {
        return Found::Ambiguous;
    }
    let all: [&Notation; 12] = [
        Mass::NOTATION,
        Force::NOTATION,
        Length::NOTATION,
        Angle::NOTATION,
        Pressure::NOTATION,
        Time::NOTATION,
        Speed::NOTATION,
        Current::NOTATION,
        Voltage::NOTATION,
        Charge::NOTATION,
        Ohms::NOTATION,
        f64::NOTATION,
    ];
    all.iter().find(|n| find(n.units, word).is_some()).map_or(Found::Nothing, |n| Found::Foreign(n.what))
}
