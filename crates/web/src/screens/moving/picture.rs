//! A picture of elements of the drawing, taken once and then put wherever they are moved to.

use super::brush::{Brush, Image, Ink, number};
use crate::dom::prelude::document;
use crate::scene::draw::Spot;
use js_sys::JsString;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, HtmlCanvasElement, Path2d};

/// Room all round for lines and the edges of letters, in dots a unit of the page.
const ROOM: f64 = 6.0;

/// The elements that fit a selector.
pub fn all(within: &Element, css: &str) -> Vec<Element> {
    let found = within.query_selector_all(css).ok();
    let found = found.iter().flat_map(|l| (0..l.length()).filter_map(|i| l.item(i)?.dyn_into().ok()));
    found.collect()
}

/// A picture.
#[derive(Debug)]
pub struct Picture {
    image: Image,
    /// Where its corner is as long as nothing was moved, in dots.
    at: Spot,
}

impl Picture {
    /// Of groups of shapes, each with where its own middle is on the drawing. The drawing has so many dots a unit from a corner.
    pub fn of(drawing: &Element, groups: &[(&Element, Spot)], (unit, corner): (f64, Spot), dots: f64) -> Option<Self> {
        let page = drawing.get_bounding_client_rect();
        let mut ends = (f64::MAX, f64::MAX, f64::MIN, f64::MIN);
        for (group, _) in groups {
            let r = group.get_bounding_client_rect();
            let (x, y) = (r.left() - page.left(), r.top() - page.top());
            ends = (ends.0.min(x), ends.1.min(y), ends.2.max(x + r.width()), ends.3.max(y + r.height()));
        }
        // What is farther off than the drawing is wide and high does not come into sight.
        let (wide, high) = (page.width(), page.height());
        let ends = (ends.0.max(-wide), ends.1.max(-high), ends.2.min(2.0 * wide), ends.3.min(2.0 * high));
        let from = |end: f64| ((end - ROOM) * dots).floor();
        let at = (from(ends.0), from(ends.1));
        let size = ((ends.2 + ROOM) * dots - at.0, (ends.3 + ROOM) * dots - at.1);
        let image = document().create_element("canvas").ok()?.dyn_into::<HtmlCanvasElement>().ok()?;
        let on = Brush::of(&image, size)?;
        for (group, (x, y)) in groups {
            on.units(unit, (corner.0 - at.0 + unit * x, corner.1 - at.1 + unit * y));
            all(group, "circle,path,polygon,polyline,line,text").iter().filter_map(|e| shape(&on, e)).for_each(drop);
        }
        Some(Self { image: Image::of(&image)?, at })
    }
    /// Puts it on a canvas whose unit is a dot, so many dots from where it was taken: whole ones, so that it stays sharp.
    pub fn put(&self, on: &Brush, by: Spot) {
        on.image(&self.image, (self.at.0 + by.0.round(), self.at.1 + by.1.round()));
    }
}

/// Paints a shape.
fn shape(on: &Brush, e: &Element) -> Option<()> {
    let (ink, read) = (Ink::of(e, 1.0, on)?, |name: &str| e.get_attribute(name).unwrap_or_default());
    let d = match e.tag_name().as_str() {
        "text" => {
            let (text, x, y) = (JsString::from(e.text_content()?), number(&read("x")), number(&read("y")));
            on.font(&ink.font());
            on.align(&ink.align);
            // The edge of letters lies below them.
            ink.stroke(on, |on| on.write_edge(&text, x, y));
            ink.fill(on, |on| on.write(&text, x, y));
            return Some(());
        }
        "path" => read("d"),
        "polyline" => format!("M{}", read("points")),
        "polygon" => format!("M{}Z", read("points")),
        "line" => format!("M{} {}L{} {}", read("x1"), read("y1"), read("x2"), read("y2")),
        "circle" => {
            let (r, d) = (number(&read("r")), 2.0 * number(&read("r")));
            format!("M-{r} 0a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0Z")
        }
        _ => return None,
    };
    let path = Path2d::new_with_path_string(&d).ok()?;
    ink.fill(on, |on| on.fill_path(&path));
    ink.stroke(on, |on| on.stroke_path(&path));
    Some(())
}
