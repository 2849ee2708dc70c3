//! The drawing of what keeps still: a text that is put into the page in one go, every name escaped.

use super::view::{View, WIDTH, bar};
use crate::engine::Units;
use core::fmt::Write as _;
use unmire_model::{Length, Vec3};
use unmire_planner::report::Site;

/// What the drawing says, in the reader's language.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words {
    /// The way out with its length.
    pub way_out: String,
    /// At the arrow that points downhill.
    pub downhill: String,
    /// Where nothing falls.
    pub level: String,
}

/// A text that can stand in markup.
#[must_use]
pub fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// A place on the drawing.
pub type Spot = (f64, f64);

fn points(all: impl IntoIterator<Item = Spot>) -> String {
    all.into_iter().map(|(x, y)| format!("{x:.1},{y:.1} ")).collect()
}

fn named(out: &mut String, class: &str, at: Spot, text: &str) {
    let _ = write!(out, "<text class=\"{class}\" x=\"{:.1}\" y=\"{:.1}\">{}</text>", at.0, at.1, escaped(text));
}

/// An arrow from one place to another.
fn arrow(out: &mut String, class: &str, from: Spot, to: Spot) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let len = libm::hypot(dx, dy).max(1e-9);
    let (ux, uy) = (dx / len, dy / len);
    let wing = |side: f64| (to.0 - ux * 10.0 - uy * 5.0 * side, to.1 - uy * 10.0 + ux * 5.0 * side);
    let _ = write!(
        out,
        "<line class=\"{class}\" x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\"/><polygon class=\"{class} head\" points=\"{}\"/>",
        from.0,
        from.1,
        to.0 - ux * 6.0,
        to.1 - uy * 6.0,
        points([to, wing(1.0), wing(-1.0)])
    );
}

/// Obstacles, vehicles, the way out, which way the ground falls, north, the scale. What is moved together is marked by what it
/// is and its number, the stuck vehicle being the first.
#[must_use]
pub fn ground(view: &View, site: &Site, words: &Words, reader: Units) -> String {
    let mut out = String::new();
    for (i, (id, _, outline, escape)) in site.obstacles.iter().enumerate() {
        let spots: Vec<Spot> = outline.iter().map(|p| view.spot(Vec3::new(p.0, p.1, 0.0))).collect();
        let class = match (*escape, spots.len() > 2) {
            (true, _) => "escape",
            (false, true) => "obstacle area",
            (false, false) => "obstacle",
        };
        let shape = if spots.len() > 2 { "polygon" } else { "polyline" };
        let _ = write!(
            out,
            "<g data-of=\"obstacle-{i}\"><{shape} class=\"{class}\" points=\"{}\"/>",
            points(spots.iter().copied())
        );
        let inside = |p: &&Spot| (10.0..WIDTH - 60.0).contains(&p.0) && (14.0..view.height).contains(&p.1);
        if let Some(at) = spots.iter().find(inside) {
            named(&mut out, "name", (at.0, at.1 - 4.0), id);
        }
        out.push_str("</g>");
    }
    let way = Vec3::new(1.0, 0.0, 0.0).turned(site.way_out);
    let far = site.way_out_distance.as_m();
    let to = view.spot(way * far);
    let _ = write!(out, "<g data-of=\"vehicle-0\">");
    arrow(&mut out, "way-out", view.spot(way * 2.6_f64.min(far * 0.5)), to);
    named(&mut out, "name end", (to.0 - 9.0, to.1 + 4.0), &words.way_out);
    out.push_str("</g>");
    for (i, (name, corners)) in site.vehicles.iter().enumerate() {
        let spots: Vec<Spot> = corners.iter().map(|p| view.spot(Vec3::new(p.0, p.1, 0.0))).collect();
        let n = spots.len().max(1) as f64;
        let middle = spots.iter().fold((0.0, 0.0), |m, p| (m.0 + p.0 / n, m.1 + p.1 / n));
        let class = if i == 0 { "vehicle stuck" } else { "vehicle" };
        let _ = write!(
            out,
            "<g data-of=\"vehicle-{i}\"><polygon class=\"{class}\" points=\"{}\"/>",
            points(spots.iter().copied())
        );
        // The first two corners are its front.
        if let [a, b, ..] = spots[..] {
            let nose = (0.35 * (a.0 + b.0) + 0.3 * middle.0, 0.35 * (a.1 + b.1) + 0.3 * middle.1);
            let _ = write!(out, "<polyline class=\"nose\" points=\"{}\"/>", points([a, nose, b]));
        }
        let low = spots.iter().map(|p| p.1).fold(middle.1, f64::max);
        named(&mut out, "name middle", (middle.0, low + 14.0), name);
        out.push_str("</g>");
    }
    if let Some((bearing, _)) = &site.heading {
        // A bearing counts clockwise from north: north lies as much to the left of the heading.
        let d = view.direction(Vec3::new(1.0, 0.0, 0.0).turned(*bearing));
        let at = (WIDTH - 26.0, 30.0);
        arrow(&mut out, "north", (at.0 - d.0 * 14.0, at.1 - d.1 * 14.0), (at.0 + d.0 * 14.0, at.1 + d.1 * 14.0));
        named(&mut out, "name middle", (at.0, at.1 + 26.0), "N");
    }
    let (along, across) = (site.slopes.0.sin(), site.slopes.1.sin());
    let steep = libm::hypot(along, across);
    let at = (26.0, 30.0);
    if steep > 0.005 {
        // Against the rise along the way out, which is up the page, and away from the high side.
        let d = (across / steep * 14.0, along / steep * 14.0);
        arrow(&mut out, "downhill", (at.0 - d.0, at.1 - d.1), (at.0 + d.0, at.1 + d.1));
        named(&mut out, "name", (6.0, at.1 + 28.0), &words.downhill);
    } else {
        named(&mut out, "name", (6.0, at.1 + 28.0), &words.level);
    }
    let (unit, m) = match reader {
        Units::Metric => ("m", 1.0),
        Units::Us => ("ft", Length::from_foot(1.0).as_m()),
    };
    let n = bar(0.35 * WIDTH / view.scale, m);
    let y = view.height - 8.0;
    let _ =
        write!(out, "<path class=\"bar\" d=\"M8 {0:.1} V{y:.1} H{1:.1} V{0:.1}\"/>", y - 5.0, 8.0 + n * m * view.scale);
    named(&mut out, "name", (10.0, y - 8.0), &format!("{n} {unit}"));
    out
}

/// The ground that nobody may stand on, as much of it as is in sight: hatched, with its edge and the word for it.
#[must_use]
pub fn keep_clear(view: &View, rings: &[Vec<Spot>], word: &str) -> String {
    let mut path = String::new();
    for (i, p) in rings.iter().flat_map(|ring| ring.iter().enumerate()) {
        let (x, y) = view.spot(Vec3::new(p.0, p.1, 0.0));
        let _ = write!(path, "{}{x:.1} {y:.1}", if i == 0 { 'M' } else { 'L' });
    }
    let mut out = String::new();
    if !path.is_empty() {
        let _ = write!(
            out,
            "<pattern id=\"hatch\" width=\"9\" height=\"9\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <path d=\"M0 0V9\"/></pattern><path class=\"keep\" fill=\"url(#hatch)\" d=\"{path}\"/>"
        );
        named(&mut out, "name end", (WIDTH - 8.0, view.height - 8.0), word);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Angle;

    fn site() -> Site {
        Site {
            way_out: Angle::from_deg(10.0),
            way_out_distance: Length::from_m(8.0),
            vehicles: vec![("a <wagon> & \"co\"".into(), vec![(2.0, 1.0), (2.0, -1.0), (-2.0, -1.0), (-2.0, 1.0)])],
            obstacles: vec![("gully".into(), "a gully".into(), vec![(5.0, 3.0), (6.0, 4.0), (5.0, 5.0)], false)],
            heading: Some((Angle::from_deg(65.0), "true north".into())),
            ..Site::default()
        }
    }

    #[test]
    fn regress_names_can_t_become_markup() {
        let view = View::of(&site(), None);
        let text = ground(&view, &site(), &Words::default(), Units::Metric);
        assert!(text.contains("a &lt;wagon&gt; &amp; &quot;co&quot;</text>") && !text.contains("<wagon"), "{text}");
        assert!(text.contains("obstacle area") && text.contains(">N</text>") && text.contains("nose"));
    }
    #[test]
    fn regress_the_ground_to_keep_clear_is_hatched_inside_every_ring() {
        let view = View::of(&site(), None);
        let ring = |x: f64| vec![(x, 0.0), (x + 1.0, 0.0), (x, 1.0)];
        let text = keep_clear(&view, &[ring(0.0), ring(9.0)], "keep <clear>");
        let (x, y) = view.spot(Vec3::ZERO);
        assert!(text.contains(&format!("d=\"M{x:.1} {y:.1}L")) && text.contains("keep &lt;clear&gt;"), "{text}");
        // Each ring begins once; the hatch has a line of its own.
        assert_eq!((text.matches('M').count(), text.matches('L').count()), (3, 4), "{text}");
        assert_eq!(keep_clear(&view, &[], "keep clear"), "");
    }
}
