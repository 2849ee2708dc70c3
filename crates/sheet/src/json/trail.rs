//! The working in the JSON: the same steps that the explanation prints.

use super::shape::{Origin, TrailInput, TrailStep};
use super::write::number;
use unmire_model::trail::{self, Dimension};

pub(super) fn step(s: &trail::Step) -> TrailStep {
    let [low, likely, high] = s.si.map(number);
    TrailStep {
        what: s.what.clone(),
        symbol: s.symbol.to_owned(),
        formula: s.formula.to_owned(),
        dimension: word(s.dimension).to_owned(),
        low,
        likely,
        high,
        inputs: s.inputs.iter().map(input).collect(),
        source: s.source.to_owned(),
        notes: s.notes.clone(),
    }
}

fn input(i: &trail::StepInput) -> TrailInput {
    let [low, likely, high] = i.si.map(number);
    TrailInput {
        symbol: i.symbol.to_owned(),
        dimension: word(i.dimension).to_owned(),
        low,
        likely,
        high,
        origin: origin(&i.origin),
    }
}

fn origin(o: &trail::Origin) -> Origin {
    let of = |kind: &str, line: Option<u32>, text: Option<String>, source: Option<&str>| Origin {
        kind: kind.to_owned(),
        line,
        text,
        source: source.map(str::to_owned),
    };
    match o {
        trail::Origin::File { line } => of("file", (*line > 0).then_some(*line), None, None),
        trail::Origin::Table { table, row, source } => of("table", None, Some(format!("{table}: {row}")), Some(source)),
        trail::Origin::Assumed(why) => of("assumed", None, Some(why.clone()), None),
        trail::Origin::Policy(row) => of("policy", None, Some(row.clone()), None),
        trail::Origin::Earlier => of("earlier", None, None, None),
        trail::Origin::Constant(source) => of("constant", None, None, Some(source)),
    }
}

const fn word(d: Dimension) -> &'static str {
    match d {
        Dimension::Force => "force",
        Dimension::Mass => "mass",
        Dimension::Length => "length",
        Dimension::Angle => "angle",
        Dimension::Pressure => "pressure",
        Dimension::Area => "area",
        Dimension::Time => "time",
        Dimension::Energy => "energy",
        Dimension::Moment => "moment",
        Dimension::Speed => "speed",
        Dimension::Ratio => "ratio",
        Dimension::Count => "count",
        Dimension::MomentPerMass => "moment-per-mass",
        Dimension::Density => "density",
        Dimension::Volume => "volume",
        Dimension::Current => "current",
        Dimension::Voltage => "voltage",
        Dimension::Charge => "charge",
        Dimension::Ohms => "electric-resistance",
        Dimension::Other => "other",
    }
}

/// The quantity behind a word of the JSON; a word that nobody knows is a bare number.
#[must_use]
pub fn dimension(name: &str) -> Dimension {
    const ALL: [Dimension; 19] = [
        Dimension::Force,
        Dimension::Mass,
        Dimension::Length,
        Dimension::Angle,
        Dimension::Pressure,
        Dimension::Area,
        Dimension::Time,
        Dimension::Energy,
        Dimension::Moment,
        Dimension::Speed,
        Dimension::Ratio,
        Dimension::Count,
        Dimension::MomentPerMass,
        Dimension::Density,
        Dimension::Volume,
        Dimension::Current,
        Dimension::Voltage,
        Dimension::Charge,
        Dimension::Ohms,
    ];
    ALL.into_iter().find(|d| word(*d) == name).unwrap_or(Dimension::Other)
}
