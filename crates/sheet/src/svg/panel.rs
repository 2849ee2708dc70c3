//! What both panels share: the framed piece of ground, the vehicles, the way out, and the ground to keep clear.

use super::frame::{Area, Frame, Spot};
use super::write::{Svg, n};
use unmire_model::Vec3;
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
