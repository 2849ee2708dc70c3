//! The far view: the whole ground to keep clear, with the rig small in it, and its rules beside it.

use super::frame::{Area, Frame, View};
use super::labels::Places;
use super::style::{MARGIN, TYPE, WIDTH};
use super::write::Svg;
use super::{furniture, marks, panel, text};
use unmire_model::Vec3;
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Plan, Site};

/// Draws it with its upper edge at `y`; gives the lower edge.
pub(super) fn draw(svg: &mut Svg, site: &Site, plan: &Plan, view: View, y: f64, u: Units) -> f64 {
    let rings = plan.keep_out.rings.iter().flatten().map(|p| view.flat(Vec3::new(p.0, p.1, 0.0)));
    let Some(ground) = Area::of(rings) else { return y };
    let width = 330.0;
    let frame = Frame::fit(view, ground.grown(0.04 * ground.width()), (MARGIN, y), width, (220.0, 380.0));
    let mut places = Places::new(frame.panel);
    panel::open(svg, &frame, "far");
    panel::keep_out(svg, &frame, &plan.keep_out);
    let _ = panel::way_out(svg, &frame, site, super::rig::nose(site));
    panel::vehicles(svg, &frame, site);
    for (_, _, at, _) in &site.anchors {
        if let Some(spot) = frame.spot(*at) {
            svg.circle(spot, 3.0, "solid");
        }
    }
    let at = |name: &str| plan.points.iter().find(|p| p.name == name).and_then(|p| frame.spot(p.at));
    for l in &plan.legs {
        if let (Some(a), Some(b)) = (at(&l.from), at(&l.to)) {
            marks::line(svg, a, b);
            places.stroke(a, b);
        }
    }
    furniture::north(svg, &frame, site, &mut places);
    furniture::scale(svg, &frame, u, &mut places);
    panel::close(svg, &frame);
    let x = MARGIN + width + 16.0;
    let wide = WIDTH - MARGIN - x;
    let mut below = y + TYPE;
    svg.label(x, below, "strong", "Ground to keep clear");
    below += 6.0;
    let radius = u.show_length_needed(plan.keep_out.radius);
    below = text::block(
        svg,
        x,
        below,
        wide,
        "",
        &format!(
            "Nobody inside the dashed edge: {radius} round every loaded hard point, and the inside of every redirect."
        ),
    );
    for e in &plan.keep_out.exceptions {
        below = text::block(svg, x, below + 4.0, wide, "small", &format!("Exception: {e}"));
    }
    for (name, length, _) in plan.keep_out.others.iter().filter(|o| o.1.as_m() > plan.keep_out.radius.as_m()) {
        let line = format!("Larger published rule, {name}: {}", u.show_length_needed(*length));
        below = text::block(svg, x, below + 4.0, wide, "small", &line);
    }
    below.max(frame.panel.max.1)
}
