//! Charts of a pull: line pull, what the winch can and what must be overcome; current and charge; each against the way, one under
//! the other in one picture.

use super::chart::{Chart, Curve, stacked};
use unmire_model::Range;
use unmire_model::quantity::show::Units;
use unmire_model::range::Scalar;
use unmire_planner::pull::report::{Pull, Row};

/// The charts as one SVG file; nothing if there is nothing to draw.
#[must_use]
pub fn pull(p: &Pull, u: Units) -> Option<String> {
    stacked(&format!("The whole pull: {}", p.title), &[forces(p, u), electrics(p, u), steadiness(p, u)])
}

fn length(u: Units) -> (f64, &'static str) {
    match u {
        Units::Metric => (1.0, "m"),
        Units::Us => (unmire_model::Length::from_foot(1.0).as_m(), "ft"),
    }
}
fn force(u: Units) -> (f64, &'static str) {
    match u {
        Units::Metric => (1000.0, "kN"),
        Units::Us => (unmire_model::Force::from_lbf(1.0).as_n(), "lbf"),
    }
}

fn curve(p: &Pull, u: Units, name: &str, f: impl Fn(&Row) -> Option<f64>) -> Curve {
    let per = length(u).0;
    let points =
        p.history.iter().filter_map(|r| Some((r.travel.as_m() / per, f(r).filter(|v| v.is_finite())?))).collect();
    Curve { name: name.to_owned(), points }
}
fn band<Q: Scalar>(p: &Pull, u: Units, unit: f64, f: impl Fn(&Row) -> Option<Range<Q>>) -> Vec<(f64, f64, f64)> {
    let per = length(u).0;
    p.history
        .iter()
        .filter_map(|r| {
            let b = f(r)?;
            Some((r.travel.as_m() / per, b.low().si() / unit, b.high().si() / unit))
        })
        .collect()
}
fn marks(p: &Pull, u: Units) -> Vec<(f64, String)> {
    let per = length(u).0;
    p.stops.iter().filter(|e| e.ends_stage).map(|e| (e.travel.as_m() / per, e.code.replace('-', " "))).collect()
}

fn forces(p: &Pull, u: Units) -> Chart {
    let (n, unit) = force(u);
    Chart {
        title: "Line pull on the way".to_owned(),
        across: format!("way of the vehicle, {}", length(u).1),
        up: format!("force, {unit}"),
        band: band(p, u, n, |r| Some(r.line_tension)),
        band_name: "line pull, low to high need".to_owned(),
        curves: vec![
            curve(p, u, "line pull, high end", |r| Some(r.line_tension.high().as_n() / n)),
            curve(p, u, "what the puller can, low end", |r| Some(r.ability?.as_n() / n)),
            curve(p, u, "line pull at stall", |r| Some(r.stall_tension?.as_n() / n)),
            curve(p, u, "what must be overcome, high end", |r| Some(r.resistance.high().as_n() / n)),
        ],
        marks: marks(p, u),
        levels: Vec::new(),
    }
}

fn electrics(p: &Pull, u: Units) -> Chart {
    let likely = |r: &Row| Some(r.current?.likely().as_a());
    Chart {
        title: "Current on the way".to_owned(),
        across: format!("way of the vehicle, {}", length(u).1),
        up: "current, A".to_owned(),
        band: band(p, u, 1.0, |r| r.current),
        band_name: "low to high".to_owned(),
        curves: vec![curve(p, u, "likely", likely)],
        marks: marks(p, u),
        levels: Vec::new(),
    }
}

fn steadiness(p: &Pull, u: Units) -> Chart {
    let per = length(u).0;
    let line = |name: &str, f: &dyn Fn(&unmire_planner::pull::report::Steady) -> Option<Range<f64>>| Curve {
        name: name.to_owned(),
        points: p
            .stability
            .iter()
            .filter_map(|s| Some((s.travel.as_m() / per, f(s)?.high() * 100.0)))
            .filter(|q| q.1.is_finite())
            .collect(),
    };
    Chart {
        title: "How near it is to tipping".to_owned(),
        across: format!("way of the vehicle, {}", length(u).1),
        up: "used up, %".to_owned(),
        band: Vec::new(),
        band_name: String::new(),
        curves: vec![line("rolling", &|s| s.roll_used), line("pitching", &|s| s.pitch_used)],
        marks: marks(p, u),
        levels: vec![(100.0, "it tips".to_owned())],
    }
}
