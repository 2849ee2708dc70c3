//! What the drawing needs of the site.

use crate::report::Site;
use crate::words;
use unmire_model::case::{Bars, Case, North};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Length, Vec3};

/// The site of a case.
#[must_use]
pub fn of(case: &Case) -> Site {
    let outline = |v: &Vehicle, place: &dyn Fn(Vec3) -> Vec3| {
        // Points tell how far a vehicle reaches; where they don't, an ordinary overhang of 0.9 m and width of 1.9 m.
        let base = v.wheelbase.as_ref().map_or(2.7, |w| w.value.as_m());
        let track = v.track.as_ref().map_or(1.6, |t| t.value.as_m());
        let front = v.points.iter().map(|p| p.position.x).fold(base / 2.0 + 0.8, f64::max);
        let rear = v.points.iter().map(|p| p.position.x).fold(-(base / 2.0 + 0.8), f64::min);
        let half = track / 2.0 + 0.15;
        [(front, half), (front, -half), (rear, -half), (rear, half)]
            .map(|(x, y)| {
                let p = place(Vec3::new(x, y, 0.0));
                (p.x, p.y)
            })
            .to_vec()
    };
    let mut vehicles = vec![(case.vehicle.name.clone(), outline(&case.vehicle, &|p| p))];
    vehicles.extend(case.helpers.iter().map(|h| (h.vehicle.name.clone(), outline(&h.vehicle, &|p| h.to_case(p)))));
    Site {
        heading: case.heading.map(|(angle, north)| {
            let which = match north {
                North::True => "true north",
                North::Magnetic => "magnetic north",
                North::Grid => "grid north",
            };
            (angle, which.to_owned())
        }),
        way_out: case.way_out.bearing.value,
        way_out_distance: case.way_out.distance.value.likely(),
        vehicles,
        anchors: case
            .anchors
            .iter()
            .map(|a| {
                let radius = a.kind.radius().unwrap_or(Length::from_m(0.2));
                (a.id.clone(), words::anchor(a), a.position, radius)
            })
            .collect(),
        obstacles: case
            .obstacles
            .iter()
            .map(|o| {
                let outline = o.outline.iter().map(|p| (p.x, p.y)).collect();
                (o.id.clone(), o.what.clone(), outline, o.bars == Bars::EscapePath)
            })
            .collect(),
        slopes: (case.way_out.grade.value.likely(), case.way_out.side_slope.value),
    }
}
