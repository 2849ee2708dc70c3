//! The marks: one shape for each kind of thing, used in the drawing and in its legend alike.

use super::frame::{Frame, Spot};
use super::write::{Svg, n};

/// The mark of a point, by its kind.
pub(super) fn point(svg: &mut Svg, kind: &str, at: Spot) {
    let square = |svg: &mut Svg, half: f64, class: &str| {
        svg.rect((at.0 - half, at.1 - half), (2.0 * half, 2.0 * half), class);
    };
    match kind {
        "winch" => {
            square(svg, 7.0, "solid");
            svg.circle(at, 2.6, "dot");
        }
        "anchor" => {
            svg.line((at.0 - 7.0, at.1 - 7.0), (at.0 + 7.0, at.1 + 7.0), "arrow");
            svg.line((at.0 - 7.0, at.1 + 7.0), (at.0 + 7.0, at.1 - 7.0), "arrow");
        }
        "block" => {
            svg.circle(at, 7.5, "dot");
            svg.circle(at, 2.6, "solid");
        }
        "junction" => {
            svg.poly(&[(at.0, at.1 - 7.0), (at.0 + 7.0, at.1), (at.0, at.1 + 7.0), (at.0 - 7.0, at.1)], true, "dot")
        }
        "free" => svg.circle(at, 6.0, "dot"),
        "line-end" => svg.circle(at, 4.5, "dot"),
        _ => square(svg, 5.0, "dot"),
    }
}

/// The words for the kinds of point, in the order of the legend.
pub(super) const POINTS: [(&str, &str); 8] = [
    ("winch", "winch"),
    ("block", "block"),
    ("anchor", "anchor"),
    ("recovery-point", "point of a vehicle"),
    ("junction", "junction"),
    ("line-end", "end of the line"),
    ("fixed", "fixed point"),
    ("free", "free point"),
];

/// A leg of the line: one solid stroke.
pub(super) fn line(svg: &mut Svg, a: Spot, b: Spot) {
    svg.line(a, b, "line-halo");
    svg.line(a, b, "line");
}
/// A strap or sling: a broad stroke with a pale core.
pub(super) fn sling(svg: &mut Svg, a: Spot, b: Spot) {
    svg.line(a, b, "line-halo");
    svg.line(a, b, "sling");
    svg.line(a, b, "sling-core");
}
/// A letter in a disc.
pub(super) fn badge(svg: &mut Svg, at: Spot, letter: &str) {
    svg.circle(at, 9.5, "badge");
    svg.text_element("text", &[("x", &n(at.0)), ("y", &n(at.1 + 4.6)), ("class", "badge-text")], letter);
}
/// Two rings round the weakest part.
pub(super) fn weakest(svg: &mut Svg, at: Spot) {
    svg.circle(at, 15.0, "weak");
    svg.circle(at, 21.0, "weak");
}

/// An arrow from one place to another.
pub(super) fn arrow(svg: &mut Svg, from: Spot, to: Spot) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let len = libm::hypot(dx, dy).max(1e-9);
    let (ux, uy) = (dx / len, dy / len);
    svg.line(from, (to.0 - ux * 5.0, to.1 - uy * 5.0), "arrow");
    let wing = |side: f64| (to.0 - ux * 11.0 - uy * 5.0 * side, to.1 - uy * 11.0 + ux * 5.0 * side);
    svg.poly(&[to, wing(1.0), wing(-1.0)], true, "solid");
}

/// Alphabet of the legs: a … z, then aa, ab …
pub(super) fn letter(i: usize) -> String {
    let small = |k: usize| char::from(b'a' + u8::try_from(k % 26).unwrap_or(0));
    if i < 26 { small(i).to_string() } else { format!("{}{}", small(i / 26 - 1), small(i)) }
}

/// A length for the scale bar: 1, 2 or 5 times a power of ten, at most so many page units long.
pub(super) fn scale_bar(frame: &Frame, metres_per_unit: f64, longest: f64) -> (f64, f64) {
    let most = longest / (frame.scale * metres_per_unit).max(1e-12);
    let mut step = 1.0_f64;
    while step > most {
        step /= 10.0;
    }
    while step * 10.0 <= most {
        step *= 10.0;
    }
    let nice = [5.0, 2.0, 1.0].into_iter().map(|k| k * step).find(|v| *v <= most).unwrap_or(step);
    (nice, nice * metres_per_unit * frame.scale)
}
