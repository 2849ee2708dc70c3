//! What both panels share: the framed piece of ground, its scale bar, north, and the ground to keep clear.

use super::frame::{Area, Frame, Spot};
use super::labels::Places;
use super::marks;
use super::style::LABEL;
use super::write::{Svg, n};
use unmire_model::quantity::show::{Round, Units, significant};
use unmire_model::{Angle, Length, Vec3};
use unmire_planner::report::{KeepOut, Site};

/// Opens a panel: its ground, and a clip so that nothing leaves it.
pub(super) fn open(svg: &mut Svg, frame: &Frame, id: &'static str) {
    let (at, size) = (frame.panel.min, (frame.panel.width(), frame.panel.height()));
    svg.rect(at, size, "panel");
    svg.open("clipPath", &[("id", id)]);
    svg.rect(at, size, "panel");
    svg.close();
    svg.open("g", &[("clip-path", &format!("url(#{id})"))]);
}
/// Closes it with a frame.
pub(super) fn close(svg: &mut Svg, frame: &Frame) {
    svg.close();
    svg.rect(frame.panel.min, (frame.panel.width(), frame.panel.height()), "frame");
}

/// The ground to keep clear: filled as one area, every ring with its edge.
pub(super) fn keep_out(svg: &mut Svg, frame: &Frame, keep: &KeepOut) {
    let mut path = String::new();
    let mut edges: Vec<Vec<Spot>> = Vec::new();
    for ring in &keep.rings {
        let mut spots = frame.outline(ring);
        if spots.len() < 3 {
            continue;
        }
        // All the same way round, or overlapping rings would cancel where they are filled as one.
        if turn(&spots) < 0.0 {
            spots.reverse();
        }
        for (i, s) in spots.iter().enumerate() {
            path += &format!("{}{} {} ", if i == 0 { "M" } else { "L" }, n(s.0), n(s.1));
        }
        path.push_str("Z ");
        edges.push(spots);
    }
    if path.is_empty() {
        return;
    }
    // Edges first and the one fill over them: what is left to be seen is the outer edge of all.
    for e in edges {
        svg.poly(&e, true, "keep-edge");
    }
    svg.empty("path", &[("d", path.trim_end()), ("class", "keep"), ("fill-rule", "nonzero")]);
}
/// Twice the area, positive for one way round.
fn turn(p: &[Spot]) -> f64 {
    p.iter().zip(p.iter().cycle().skip(1)).map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum()
}

/// Outlines of vehicles with a mark at the nose; their middles.
pub(super) fn vehicles(svg: &mut Svg, frame: &Frame, site: &Site) -> Vec<(String, Area)> {
    let mut out = Vec::new();
    for (name, corners) in &site.vehicles {
        let spots = frame.outline(corners);
        let Some(area) = Area::of(spots.iter().copied()) else { continue };
        svg.poly(&spots, true, "vehicle");
        // The first two corners are the nose.
        if let (Some(a), Some(b), Some(d)) = (spots.first(), spots.get(1), spots.last()) {
            let along =
                |t: f64, s: f64| (a.0 + (b.0 - a.0) * t + (d.0 - a.0) * s, a.1 + (b.1 - a.1) * t + (d.1 - a.1) * s);
            svg.poly(&[along(0.5, 0.04), along(0.25, 0.2), along(0.75, 0.2)], true, "nose");
        }
        out.push((name.clone(), area));
    }
    out
}

/// The lane of the way out, under everything else, with its arrow; gives the shoulder of the arrow if it is in sight.
pub(super) fn way_out(svg: &mut Svg, frame: &Frame, site: &Site, start: f64) -> Option<Spot> {
    let length = site.way_out_distance.as_m();
    if !length.is_finite() || length <= 0.0 {
        return None;
    }
    let ahead = Vec3::new(1.0, 0.0, 0.0).turned(site.way_out);
    let side = Vec3::new(0.0, 1.0, 0.0).turned(site.way_out);
    let half = 1.1;
    let at = |along: f64, across: f64| frame.spot(ahead * along + side * across);
    let (from, to) = (start.min(length), length);
    let tip = (to - 1.6).max(from);
    let corners = [
        at(from, half),
        at(tip, half),
        at(tip, 1.8 * half),
        at(to, 0.0),
        at(tip, -1.8 * half),
        at(tip, -half),
        at(from, -half),
    ];
    svg.poly(&corners.into_iter().flatten().collect::<Vec<_>>(), true, "lane");
    at(tip, 1.8 * half).filter(|s| frame.panel.grown(-8.0).holds(*s))
}

/// Scale bar in the lower left corner; north, if it is known, in the upper right.
pub(super) fn furniture(svg: &mut Svg, frame: &Frame, site: &Site, u: Units, places: &mut Places, plan_view: bool) {
    let (unit, metres) = match u {
        Units::Metric => ("m", 1.0),
        Units::Us => ("ft", Length::from_foot(1.0).as_m()),
    };
    let (value, wide) = marks::scale_bar(frame, metres, frame.panel.width() * 0.3);
    let (x, y) = (frame.panel.min.0 + 14.0, frame.panel.max.1 - 14.0);
    let text = format!("{} {unit}", significant(value, 3, Round::Nearest));
    svg.rect((x - 6.0, y - 29.0), (wide.max(60.0) + 14.0, 38.0), "paper");
    svg.rect((x, y - 6.0), (wide, 6.0), "scale");
    svg.line((x + wide * 0.5, y - 6.0), (x + wide * 0.5, y), "leader");
    svg.label(x, y - 12.0, "label", &text);
    places.take(Area { min: (x - 6.0, y - 29.0), max: (x + wide.max(60.0) + 8.0, y + 9.0) });
    if let (true, Some((bearing, which))) = (plan_view, &site.heading) {
        north(svg, frame, *bearing, which, places);
    }
}

fn north(svg: &mut Svg, frame: &Frame, bearing: Angle, which: &str, places: &mut Places) {
    let Some(d) = frame.direction(Vec3::new(1.0, 0.0, 0.0).turned(bearing)) else { return };
    let c = (frame.panel.max.0 - 40.0, frame.panel.min.1 + 40.0);
    svg.circle(c, 25.0, "dot");
    marks::arrow(svg, (c.0 - d.0 * 18.0, c.1 - d.1 * 18.0), (c.0 + d.0 * 20.0, c.1 + d.1 * 20.0));
    let text = if which.is_empty() { "north".to_owned() } else { which.to_owned() };
    svg.label(frame.panel.max.0 - 8.0, c.1 + 44.0, "label end", &text);
    let wide = super::labels::text_width(&text, LABEL) + 12.0;
    places.take(Area {
        min: (frame.panel.max.0 - wide.max(72.0), frame.panel.min.1),
        max: (frame.panel.max.0, c.1 + 50.0),
    });
}

/// Which way the ground falls, as an arrow, and both slopes in words.
pub(super) fn slopes(svg: &mut Svg, frame: &Frame, site: &Site, places: &mut Places) {
    let (along, across) = (site.slopes.0, site.slopes.1);
    if !along.is_finite() || !across.is_finite() {
        return;
    }
    let (x, y) = (frame.panel.min.0 + 12.0, frame.panel.min.1 + 12.0);
    let words =
        [slope(along, "way out uphill", "way out downhill"), slope(across, "left side high", "right side high")];
    let words: Vec<&String> = words.iter().flatten().collect();
    if words.is_empty() {
        svg.label(x, y + 12.0, "label", "level ground");
        places.take(Area { min: (x, y), max: (x + 120.0, y + 18.0) });
        return;
    }
    // Downhill: against the rise along the way out (up the page), away from the high side.
    let fall = (across.sin(), along.sin());
    let len = libm::hypot(fall.0, fall.1).max(1e-9);
    let c = (x + 20.0, y + 24.0);
    let d = (fall.0 / len * 18.0, fall.1 / len * 18.0);
    marks::arrow(svg, (c.0 - d.0, c.1 - d.1), (c.0 + d.0, c.1 + d.1));
    svg.label(x + 46.0, y + 12.0, "label-strong", "downhill");
    let mut widest = 100.0_f64;
    for (i, w) in words.iter().enumerate() {
        svg.label(x + 46.0, y + 31.0 + 19.0 * i as f64, "label", w);
        widest = widest.max(super::labels::text_width(w, LABEL));
    }
    places.take(Area { min: (x - 4.0, y - 4.0), max: (x + 50.0 + widest, y + 36.0 + 19.0 * words.len() as f64) });
}
fn slope(a: Angle, up: &str, down: &str) -> Option<String> {
    let d = a.as_deg();
    (d.abs() >= 0.25)
        .then(|| format!("{} {}", if d > 0.0 { up } else { down }, unmire_model::quantity::show::show_angle(a.abs())))
}
