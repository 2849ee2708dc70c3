//! Running text and tables in the drawing: SVG does not wrap by itself.

use super::labels::{columns as signs, text_width};
use super::style::{MARGIN, TYPE, WIDTH};
use super::write::Svg;
use super::{marks, rig};
use crate::terminal::page::wrap_by;
use unmire_model::quantity::show::Units;
use unmire_planner::report::Plan;

/// Wrapped text with its upper edge at `y`; gives the lower edge.
pub(super) fn block(svg: &mut Svg, x: f64, y: f64, wide: f64, class: &str, text: &str) -> f64 {
    // Running text is narrower than a label's worst case.
    let (size, share) = match class {
        "title" => (21.0, 0.62),
        "strong" => (TYPE, 0.62),
        "small" => (13.0, 0.54),
        _ => (TYPE, 0.54),
    };
    let columns = (wide / (size * share)).max(8.0) as usize;
    let mut at = y;
    for line in wrap_by(text, columns, signs) {
        at += size * 1.28;
        svg.label(x, at, class, &line);
    }
    at
}

/// The legs as a table; gives the lower edge.
pub(super) fn legs(svg: &mut Svg, plan: &Plan, y: f64, u: Units) -> f64 {
    if plan.legs.is_empty() {
        return y;
    }
    let right = WIDTH - MARGIN;
    let mut at = y + TYPE;
    let stalls = plan.legs.iter().any(|l| l.tension_stall.is_some());
    let head = if stalls { "Tension in every leg: at work / at stall" } else { "Tension in every leg" };
    svg.label(MARGIN, at, "strong", head);
    at += 8.0;
    for (i, l) in plan.legs.iter().enumerate() {
        svg.line((MARGIN, at), (right, at), "rule");
        at += 21.0;
        marks::badge(svg, (MARGIN + 11.0, at - 5.0), &marks::letter(i));
        let load = rig::tension(u, l.tension_work, l.tension_stall);
        svg.label(right, at, "strong end", &load);
        let length = u.show_length(l.length);
        svg.label(right - 150.0, at, "end", &length);
        let room = right - 150.0 - text_width(&length, TYPE) - 12.0 - (MARGIN + 28.0);
        let columns = (room / text_width("n", TYPE)).max(8.0) as usize;
        for (n, line) in wrap_by(&format!("{}: {} to {}", l.member, l.from, l.to), columns, signs).iter().enumerate() {
            if n > 0 {
                at += 18.0;
            }
            svg.label(MARGIN + 28.0, at, "", line);
        }
        at += 6.0;
    }
    svg.line((MARGIN, at), (right, at), "rule");
    at
}

/// The marks and what they mean; gives the lower edge.
pub(super) fn legend(svg: &mut Svg, plan: &Plan, y: f64) -> f64 {
    let mut at = y + TYPE;
    svg.label(MARGIN, at, "strong", "Marks");
    at += 22.0;
    let kinds = marks::POINTS.iter().filter(|(kind, _)| plan.points.iter().any(|p| p.kind == *kind));
    let mut entries: Vec<(Draw<'_>, &str)> = kinds.map(|(kind, words)| (Draw::Point(kind), *words)).collect();
    entries.push((Draw::Line, "line"));
    if plan.legs.iter().any(|l| l.member != "line") {
        entries.push((Draw::Sling, "strap or sling"));
    }
    if !plan.keep_out.rings.is_empty() {
        entries.push((Draw::Keep, "keep clear"));
    }
    if super::weakest::place(plan).is_some() {
        entries.push((Draw::Weak, "weakest part"));
    }
    let column = (WIDTH - 2.0 * MARGIN) / 3.0;
    for (i, (mark, words)) in entries.iter().enumerate() {
        let x = MARGIN + column * (i % 3) as f64 + 16.0;
        let y = at + 32.0 * (i / 3) as f64 - 4.0;
        mark.draw(svg, (x, y));
        svg.label(x + 32.0, y + 5.0, "", words);
    }
    at + 32.0 * (entries.len().div_ceil(3) as f64 - 1.0) + 8.0
}

enum Draw<'a> {
    Point(&'a str),
    Line,
    Sling,
    Keep,
    Weak,
}
impl Draw<'_> {
    fn draw(&self, svg: &mut Svg, at: (f64, f64)) {
        let (a, b) = ((at.0 - 14.0, at.1), (at.0 + 18.0, at.1));
        match self {
            Self::Point(kind) => marks::point(svg, kind, at),
            Self::Line => marks::line(svg, a, b),
            Self::Sling => marks::sling(svg, a, b),
            Self::Keep => svg.rect((at.0 - 14.0, at.1 - 8.0), (32.0, 16.0), "keep-key"),
            Self::Weak => {
                svg.circle(at, 7.0, "weak");
                svg.circle(at, 13.0, "weak");
            }
        }
    }
}
