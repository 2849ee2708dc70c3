//! Scale bar, north and slopes: each goes into the corner of its panel where it hides least.

use super::frame::{Area, Frame, Spot};
use super::labels::{Places, bold_width, text_width};
use super::marks;
use super::style::LABEL;
use super::write::Svg;
use unmire_model::quantity::show::{Round, Units, show_angle, significant};
use unmire_model::{Angle, Length, Vec3};
use unmire_planner::report::Site;

/// The corners: left or right, upper or lower.
#[derive(Clone, Copy, Debug)]
enum Corner {
    UpperLeft,
    UpperRight,
    LowerLeft,
    LowerRight,
}

/// Takes the best corner for a box of this size, the first of the list being preferred.
fn corner(frame: &Frame, places: &mut Places, size: Spot, wishes: [Corner; 4]) -> Area {
    let (p, inset) = (frame.panel, 6.0);
    let (left, right) = (p.min.0 + inset, p.max.0 - inset - size.0);
    let (upper, lower) = (p.min.1 + inset, p.max.1 - inset - size.1);
    let area = |c: Corner| {
        let min = match c {
            Corner::UpperLeft => (left, upper),
            Corner::UpperRight => (right, upper),
            Corner::LowerLeft => (left, lower),
            Corner::LowerRight => (right, lower),
        };
        Area { min, max: (min.0 + size.0, min.1 + size.1) }
    };
    let [first, ..] = wishes;
    let mut best = area(first);
    let mut least = f64::INFINITY;
    for (i, wish) in wishes.into_iter().enumerate() {
        let cost = places.covered(area(wish)) + 60.0 * i as f64;
        if cost < least {
            (best, least) = (area(wish), cost);
        }
    }
    places.take(best);
    best
}

/// The scale bar.
pub(super) fn scale(svg: &mut Svg, frame: &Frame, u: Units, places: &mut Places) {
    let (unit, metres) = match u {
        Units::Metric => ("m", 1.0),
        Units::Us => ("ft", Length::from_foot(1.0).as_m()),
    };
    let (value, wide) = marks::scale_bar(frame, metres, frame.panel.width() * 0.3);
    let text = format!("{} {unit}", significant(value, 3, Round::Nearest));
    let size = (wide.max(text_width(&text, LABEL)) + 16.0, 40.0);
    let wishes = [Corner::LowerLeft, Corner::LowerRight, Corner::UpperLeft, Corner::UpperRight];
    let a = corner(frame, places, size, wishes);
    let (x, y) = (a.min.0 + 8.0, a.max.1 - 10.0);
    svg.rect(a.min, size, "paper");
    svg.rect((x, y - 6.0), (wide, 6.0), "scale");
    svg.label(x, y - 12.0, "label", &text);
}

/// North, if a bearing was taken.
pub(super) fn north(svg: &mut Svg, frame: &Frame, site: &Site, places: &mut Places) {
    let Some((bearing, which)) = &site.heading else { return };
    let Some(d) = frame.direction(Vec3::new(1.0, 0.0, 0.0).turned(*bearing)) else { return };
    let text = if which.is_empty() { "north" } else { which.as_str() };
    let size = (text_width(text, LABEL).max(58.0) + 8.0, 82.0);
    let wishes = [Corner::UpperRight, Corner::LowerRight, Corner::UpperLeft, Corner::LowerLeft];
    let a = corner(frame, places, size, wishes);
    let c = (a.middle().0, a.min.1 + 30.0);
    svg.circle(c, 25.0, "dot");
    marks::arrow(svg, (c.0 - d.0 * 18.0, c.1 - d.1 * 18.0), (c.0 + d.0 * 20.0, c.1 + d.1 * 20.0));
    svg.label(a.middle().0, a.max.1 - 7.0, "label middle", text);
}

/// Which way the ground falls, as an arrow, and both slopes in words.
pub(super) fn slopes(svg: &mut Svg, frame: &Frame, site: &Site, places: &mut Places) {
    let (along, across) = site.slopes;
    if !along.is_finite() || !across.is_finite() {
        return;
    }
    let words =
        [slope(along, "way out uphill", "way out downhill"), slope(across, "left side high", "right side high")];
    let words: Vec<&String> = words.iter().flatten().collect();
    let head = if words.is_empty() { "level ground" } else { "downhill" };
    let arrow = if words.is_empty() { 0.0 } else { 46.0 };
    let widest = words.iter().map(|w| text_width(w, LABEL)).fold(bold_width(head, LABEL), f64::max);
    let size = (arrow + widest + 8.0, 30.0 + 19.0 * words.len() as f64);
    let wishes = [Corner::UpperLeft, Corner::LowerRight, Corner::UpperRight, Corner::LowerLeft];
    let a = corner(frame, places, size, wishes);
    svg.label(a.min.0 + arrow + 4.0, a.min.1 + 20.0, "label-strong", head);
    for (i, w) in words.iter().enumerate() {
        svg.label(a.min.0 + arrow + 4.0, a.min.1 + 39.0 + 19.0 * i as f64, "label", w);
    }
    // Downhill: against the rise along the way out, which is up the page, and away from the high side.
    let fall = (across.sin(), along.sin());
    let len = libm::hypot(fall.0, fall.1);
    if !words.is_empty() && len > 1e-9 {
        let c = (a.min.0 + 23.0, a.min.1 + 32.0);
        let d = (fall.0 / len * 18.0, fall.1 / len * 18.0);
        marks::arrow(svg, (c.0 - d.0, c.1 - d.1), (c.0 + d.0, c.1 + d.1));
    }
}
fn slope(a: Angle, up: &str, down: &str) -> Option<String> {
    let d = a.as_deg();
    (d.abs() >= 0.25).then(|| format!("{} {}", if d > 0.0 { up } else { down }, show_angle(a.abs())))
}
