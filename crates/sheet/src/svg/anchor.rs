//! What an anchor would hold against the measure that matters most.

use super::chart::{Chart, Curve, draw};
use unmire_model::Length;
use unmire_model::quantity::show::Units;
use unmire_planner::anchor::{AnchorReport, Axis};

/// The chart as an SVG file; nothing where this anchor has none.
#[must_use]
pub fn chart(r: &AnchorReport, u: Units) -> Option<String> {
    let c = r.chart.as_ref()?;
    let small = matches!(c.axis, Axis::Diameter);
    let across = |l: Length| match (u, small) {
        (Units::Metric, true) => l.as_cm(),
        (Units::Metric, false) => l.as_m(),
        (Units::Us, true) => l.as_inch(),
        (Units::Us, false) => l.as_foot(),
    };
    let unit = match (u, small) {
        (Units::Metric, true) => "cm",
        (Units::Metric, false) => "m",
        (Units::Us, true) => "in",
        (Units::Us, false) => "ft",
    };
    let up = |f: unmire_model::Force| match u {
        Units::Metric => f.as_kn(),
        Units::Us => f.as_lbf(),
    };
    let force = match u {
        Units::Metric => "kN",
        Units::Us => "lbf",
    };
    draw(&Chart {
        title: format!("What {} would hold: {}", r.id, r.what),
        across: format!("{}, {unit}", c.axis.words()),
        up: format!("holds, {force}"),
        band: c.points.iter().map(|(m, h)| (across(*m), up(h.low()), up(h.high()))).collect(),
        band_name: "low to high".to_owned(),
        curves: vec![Curve {
            name: "likely".to_owned(),
            points: c.points.iter().map(|(m, h)| (across(*m), up(h.likely()))).collect(),
        }],
        marks: vec![(across(c.here), "this one".to_owned())],
        levels: r.limits.iter().map(|l| (up(l.work), "may get at work, alone".to_owned())).collect(),
    })
}
