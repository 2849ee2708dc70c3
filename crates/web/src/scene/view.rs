//! Where on the page a point of the ground is and the other way round: to scale, the way out pointing up.

use unmire_model::{Angle, Vec3};
use unmire_planner::report::{Plan, Site};

/// Width of the drawing in its own units.
pub const WIDTH: f64 = 360.0;
/// Least and greatest height of the drawing in its own units.
const HEIGHT: (f64, f64) = (260.0, 420.0);
/// Ground left free all round, in the drawing's units: room for a finger and a name.
const EDGE: f64 = 34.0;
/// Least extent of the ground that is shown, metres.
const LEAST: f64 = 12.0;

/// The mapping.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    up: Angle,
    middle: (f64, f64),
    /// Drawing units a metre.
    pub scale: f64,
    /// Height of the drawing in its own units.
    pub height: f64,
}
impl View {
    /// Shows vehicles, anchors, the way out and a rig. Obstacles may run out of sight.
    #[must_use]
    pub fn of(site: &Site, plan: Option<&Plan>) -> Self {
        let up = site.way_out;
        let out = Vec3::new(site.way_out_distance.as_m(), 0.0, 0.0).turned(up);
        let corners = site.vehicles.iter().flat_map(|(_, c)| c.iter().map(|c| Vec3::new(c.0, c.1, 0.0)));
        let anchors = site.anchors.iter().map(|a| a.2);
        let rig = plan.into_iter().flat_map(|p| p.points.iter().map(|q| q.at));
        let all = corners.chain(anchors).chain(rig).chain([out]).map(|p| flat(up, p));
        let all: Vec<(f64, f64)> = all.filter(|p| p.0.is_finite() && p.1.is_finite()).collect();
        let end = |pick: fn(&(f64, f64)) -> f64, worse: fn(f64, f64) -> f64, from: f64| {
            all.iter().map(pick).fold(from, worse)
        };
        let x = (end(|p| p.0, f64::min, 0.0), end(|p| p.0, f64::max, 0.0));
        let y = (end(|p| p.1, f64::min, 0.0), end(|p| p.1, f64::max, 0.0));
        let (wide, high) = ((x.1 - x.0).max(LEAST), (y.1 - y.0).max(LEAST));
        let scale = ((WIDTH - 2.0 * EDGE) / wide).min((HEIGHT.1 - 2.0 * EDGE) / high);
        let height = (high * scale + 2.0 * EDGE).clamp(HEIGHT.0, HEIGHT.1);
        Self { up, middle: (0.5 * (x.0 + x.1), 0.5 * (y.0 + y.1)), scale, height }
    }
    /// Where a point is on the drawing.
    #[must_use]
    pub fn spot(&self, p: Vec3) -> (f64, f64) {
        let f = flat(self.up, p);
        (0.5 * WIDTH + (f.0 - self.middle.0) * self.scale, 0.5 * self.height + (f.1 - self.middle.1) * self.scale)
    }
    /// The same drawing for places that are seen from elsewhere: from so far off the origin.
    #[must_use]
    pub fn seen_from(&self, off: Vec3) -> Self {
        let by = flat(self.up, off);
        Self { middle: (self.middle.0 - by.0, self.middle.1 - by.1), ..*self }
    }
    /// The ground under a place of the drawing, at the height of the origin.
    #[must_use]
    pub fn ground(&self, at: (f64, f64)) -> Vec3 {
        let right = (at.0 - 0.5 * WIDTH) / self.scale + self.middle.0;
        let down = (at.1 - 0.5 * self.height) / self.scale + self.middle.1;
        let (s, c) = (self.up.sin(), self.up.cos());
        Vec3::new(right * s - down * c, -right * c - down * s, 0.0)
    }
    /// How large a unit is and where the drawing's corner is in a box of some width and height. It is drawn as large as the box
    /// allows, in its middle.
    #[must_use]
    pub fn shown_in(&self, (width, height): (f64, f64)) -> (f64, (f64, f64)) {
        let unit = (width / WIDTH).min(height / self.height);
        (unit, (0.5 * (width - unit * WIDTH), 0.5 * (height - unit * self.height)))
    }
    /// The place of the drawing under a place of the window, if the drawing stands in a box there: `left, top, width,
    /// height`.
    #[must_use]
    pub fn under(&self, at: (f64, f64), (left, top, width, height): (f64, f64, f64, f64)) -> Option<(f64, f64)> {
        let (shrink, corner) = self.shown_in((width, height));
        let place = ((at.0 - left - corner.0) / shrink, (at.1 - top - corner.1) / shrink);
        (shrink > 0.0 && place.0.is_finite() && place.1.is_finite()).then_some(place)
    }
    /// A level direction on the drawing: right and down, of the vector's own length.
    #[must_use]
    pub fn direction(&self, v: Vec3) -> (f64, f64) {
        flat(self.up, v)
    }
}

/// Right and down in metres.
fn flat(up: Angle, p: Vec3) -> (f64, f64) {
    let (s, c) = (up.sin(), up.cos());
    (p.x * s - p.y * c, -(p.x * c + p.y * s))
}

/// A length for the scale bar in whole units of the reader, 1, 2 or 5 times a power of ten, at most so many metres long.
#[must_use]
pub fn bar(longest_m: f64, unit_m: f64) -> f64 {
    let most = longest_m / unit_m;
    let steps = [500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0];
    steps.into_iter().find(|s| *s <= most).unwrap_or(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Length;

    fn site(up: f64) -> Site {
        let vehicle = vec![(2.0, 1.0), (2.0, -1.0), (-2.0, -1.0), (-2.0, 1.0)];
        Site {
            way_out: Angle::from_deg(up),
            way_out_distance: Length::from_m(8.0),
            vehicles: vec![("it".into(), vehicle)],
            anchors: vec![("oak".into(), "a tree".into(), Vec3::new(21.0, 4.0, 1.0), Length::from_m(0.3))],
            ..Site::default()
        }
    }

    #[test]
    fn closed_form_the_way_back_from_the_page_leads_to_the_same_ground() {
        for up in [0.0, 37.0, -160.0, 180.0] {
            let view = View::of(&site(up), None);
            for p in [Vec3::new(21.0, 4.0, 0.0), Vec3::new(-3.0, -7.5, 0.0), Vec3::ZERO] {
                let back = view.ground(view.spot(p));
                assert!((back.x - p.x).abs() < 1e-9 && (back.y - p.y).abs() < 1e-9, "{up}: {p:?} {back:?}");
            }
        }
    }
    #[test]
    fn closed_form_the_drawing_is_to_scale_and_the_way_out_points_up() {
        let view = View::of(&site(37.0), None);
        let (a, b) = (view.spot(Vec3::ZERO), view.spot(Vec3::new(3.0, 4.0, 0.0)));
        assert!((libm::hypot(a.0 - b.0, a.1 - b.1) - 5.0 * view.scale).abs() < 1e-9);
        let out = view.spot(Vec3::new(5.0, 0.0, 0.0).turned(Angle::from_deg(37.0)));
        assert!((out.0 - a.0).abs() < 1e-9 && out.1 < a.1);
    }
    #[test]
    fn closed_form_a_finger_is_where_the_drawing_is_drawn() {
        let view = View::of(&site(0.0), None);
        let tall = view.under((110.0, 20.0), (10.0, 20.0, 2.0 * WIDTH, 2.0 * view.height)).unwrap();
        assert!((tall.0 - 50.0).abs() < 1e-9 && tall.1.abs() < 1e-9, "{tall:?}");
        // A box wider than the drawing leaves as much free on both sides.
        let wide = view.under((500.0, view.height), (0.0, 0.0, 1000.0, view.height)).unwrap();
        assert!((wide.0 - 0.5 * WIDTH).abs() < 1e-9 && (wide.1 - view.height).abs() < 1e-9, "{wide:?}");
        assert_eq!(view.under((1.0, 1.0), (0.0, 0.0, 0.0, 0.0)), None);
    }
    #[test]
    fn closed_form_what_is_seen_from_elsewhere_stays_where_it_is_drawn() {
        let (view, off, p) = (View::of(&site(37.0), None), Vec3::new(3.0, -2.0, 0.0), Vec3::new(9.0, 4.0, 0.0));
        let (a, b) = (view.spot(p), view.seen_from(off).spot(p - off));
        assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9);
    }
    #[test]
    fn regress_everything_is_in_sight() {
        for up in [0.0, 90.0, -120.0] {
            let s = site(up);
            let view = View::of(&s, None);
            let (x, y) = view.spot(s.anchors[0].2);
            assert!((EDGE - 1e-6..=WIDTH - EDGE + 1e-6).contains(&x), "{x}");
            assert!((EDGE - 1e-6..=view.height - EDGE + 1e-6).contains(&y), "{y} of {}", view.height);
        }
    }
    #[test]
    fn regress_the_bar_is_a_round_length_that_fits() {
        assert_eq!((bar(12.0, 1.0), bar(12.0, 0.3048), bar(0.5, 1.0)), (10.0, 20.0, 1.0));
    }
}
