//! Charts of a kinetic pull: the force in the rope against time and against its stretch, one under the other in one picture.

use super::chart::{Chart, Curve, stacked};
use unmire_model::quantity::show::Units;
use unmire_model::{Force, Length};
use unmire_planner::kinetic::{BareReport, History, KineticReport, Sample};

/// The charts of the best helper and rope as one SVG file; nothing if there is nothing to draw.
#[must_use]
pub fn draw_case(r: &KineticReport, u: Units) -> Option<String> {
    let a = r.answers.first()?;
    let pulls = [("everything likely", &a.likely), ("greatest peak", &a.high)];
    let limit = a.limit.as_ref().map(|l| (l.force, format!("the weakest part, {}, allows", l.part)));
    picture(&r.title, &pulls, limit, u)
}

/// The charts of a bare problem as one SVG file; nothing if there is nothing to draw.
#[must_use]
pub fn draw_bare(r: &BareReport, u: Units) -> Option<String> {
    let limit = r.asking.as_ref().map(|a| (a.asked.limit, "the most that is allowed".to_owned()));
    picture(&r.title, &[("in the rope", &r.history)], limit, u)
}

fn picture(title: &str, pulls: &[(&str, &History)], limit: Option<(Force, String)>, u: Units) -> Option<String> {
    let (newton, unit) = match u {
        Units::Metric => (1000.0, "kN"),
        Units::Us => (Force::from_lbf(1.0).as_n(), "lbf"),
    };
    let (metre, length) = match u {
        Units::Metric => (1.0, "m"),
        Units::Us => (Length::from_foot(1.0).as_m(), "ft"),
    };
    let chart = |title: &str, across: String, x: &dyn Fn(&Sample) -> f64| {
        let of = |(name, h): &(&str, &History)| Curve {
            name: (*name).to_owned(),
            points: h
                .samples
                .iter()
                .map(|s| (x(s), s.tension.as_n() / newton))
                .filter(|(x, y)| x.is_finite() && y.is_finite())
                .collect(),
        };
        let mut curves: Vec<Curve> = pulls.iter().map(of).collect();
        let end = curves.iter().flat_map(|c| &c.points).map(|p| p.0).fold(0.0, f64::max);
        // Its name stands beside the others', where nothing lies over it.
        curves.extend(limit.iter().map(|(f, name)| {
            let high = f.as_n() / newton;
            Curve { name: name.clone(), points: vec![(0.0, high), (end, high)] }
        }));
        Chart { title: title.to_owned(), across, up: format!("force in the rope, {unit}"), curves, ..Chart::default() }
    };
    let time = chart("Force against time", "time since the rope became taut, s".to_owned(), &|s| s.time.as_s());
    let stretch = chart("Force against stretch", format!("stretch of the rope, {length}"), &|s| {
        s.stretch.as_m().max(0.0) / metre
    });
    stacked(&format!("Kinetic pull: {title}"), &[time, stretch])
}
