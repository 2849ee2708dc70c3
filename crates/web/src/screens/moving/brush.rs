//! Painting on a canvas as the style sheet draws.

use crate::dom::prelude::window;
use crate::scene::rig::Line;
use js_sys::{Array, JsString};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{CssStyleDeclaration, Element, HtmlCanvasElement, Path2d};

#[wasm_bindgen]
extern "C" {
    /// A canvas to paint on. Of all this only a picture can fail; most of what is told in words is kept on the page's side, so
    /// that it need not be handed over with every shape.
    #[derive(Clone, Debug)]
    pub type Brush;
    #[wasm_bindgen(method, setter, js_name = fillStyle)]
    pub fn fill_with(this: &Brush, color: &JsString);
    #[wasm_bindgen(method, setter, js_name = strokeStyle)]
    fn stroke_with(this: &Brush, color: &JsString);
    #[wasm_bindgen(method, setter, js_name = globalAlpha)]
    pub fn alpha(this: &Brush, alpha: f64);
    #[wasm_bindgen(method, setter, js_name = lineWidth)]
    fn width(this: &Brush, width: f64);
    #[wasm_bindgen(method, setter, js_name = lineCap)]
    fn cap(this: &Brush, cap: &JsString);
    #[wasm_bindgen(method, setter, js_name = imageSmoothingEnabled)]
    fn smooth(this: &Brush, smooth: bool);
    #[wasm_bindgen(method, setter, js_name = lineJoin)]
    fn join(this: &Brush, join: &str);
    #[wasm_bindgen(method, js_name = setLineDash)]
    fn dash(this: &Brush, dash: &Array);
    #[wasm_bindgen(method, setter, js_name = font)]
    pub fn font(this: &Brush, font: &JsString);
    #[wasm_bindgen(method, setter, js_name = textAlign)]
    pub fn align(this: &Brush, align: &JsString);
    #[wasm_bindgen(method, js_name = setTransform)]
    fn transform(this: &Brush, xx: f64, yx: f64, xy: f64, yy: f64, x: f64, y: f64);
    #[wasm_bindgen(method, js_name = clearRect)]
    pub fn clear(this: &Brush, x: f64, y: f64, width: f64, height: f64);
    #[wasm_bindgen(method, js_name = fillRect)]
    pub fn plate(this: &Brush, x: f64, y: f64, width: f64, height: f64);
    #[wasm_bindgen(method, js_name = beginPath)]
    pub fn begin(this: &Brush);
    #[wasm_bindgen(method, js_name = moveTo)]
    pub fn move_to(this: &Brush, x: f64, y: f64);
    #[wasm_bindgen(method, js_name = lineTo)]
    pub fn line_to(this: &Brush, x: f64, y: f64);
    #[wasm_bindgen(method)]
    pub fn arc(this: &Brush, x: f64, y: f64, radius: f64, from: f64, to: f64);
    #[wasm_bindgen(method)]
    pub fn rect(this: &Brush, x: f64, y: f64, width: f64, height: f64);
    #[wasm_bindgen(method)]
    pub fn fill(this: &Brush);
    #[wasm_bindgen(method)]
    pub fn stroke(this: &Brush);
    #[wasm_bindgen(method, js_name = fill)]
    pub fn fill_path(this: &Brush, path: &Path2d);
    #[wasm_bindgen(method, js_name = stroke)]
    pub fn stroke_path(this: &Brush, path: &Path2d);
    #[wasm_bindgen(method, js_name = fillText)]
    pub fn write(this: &Brush, text: &JsString, x: f64, y: f64);
    #[wasm_bindgen(method, js_name = fillText)]
    pub fn write_within(this: &Brush, text: &JsString, x: f64, y: f64, most: f64);
    #[wasm_bindgen(method, js_name = strokeText)]
    pub fn write_edge(this: &Brush, text: &JsString, x: f64, y: f64);
    #[wasm_bindgen(method, js_name = measureText)]
    fn measure(this: &Brush, text: &JsString) -> Measured;
    #[wasm_bindgen(method, catch, js_name = drawImage)]
    pub fn image(
        this: &Brush,
        image: &HtmlCanvasElement,
        x: f64,
        y: f64,
        width: f64,
        height: f64,
    ) -> Result<(), JsValue>;

    type Measured;
    #[wasm_bindgen(method, getter)]
    fn width(this: &Measured) -> f64;
}

impl Brush {
    /// For a canvas of a size in dots, which is empty then.
    pub fn of(canvas: &HtmlCanvasElement, (width, height): (f64, f64)) -> Option<Self> {
        canvas.set_width(width as u32);
        canvas.set_height(height as u32);
        let brush: Self = canvas.get_context("2d").ok()??.unchecked_into();
        brush.join("round");
        // Pictures are put dot for dot.
        brush.smooth(false);
        Some(brush)
    }
    /// For a canvas that stands in the page, with so many dots a unit of the page; and its size in dots.
    pub fn over(canvas: &HtmlCanvasElement, dots: f64) -> Option<(Self, (f64, f64))> {
        let r = canvas.get_bounding_client_rect();
        let size = ((dots * r.width()).round(), (dots * r.height()).round());
        Some((Self::of(canvas, size)?, size))
    }
    /// From now on units are so many dots, from a corner in dots.
    pub fn units(&self, dots: f64, corner: (f64, f64)) {
        self.transform(dots, 0.0, 0.0, dots, corner.0, corner.1);
    }
    /// How wide a text is.
    pub fn wide(&self, text: &JsString) -> f64 {
        self.measure(text).width()
    }
}

/// How an element is styled.
pub fn style(e: &Element) -> Option<CssStyleDeclaration> {
    window().get_computed_style(e).ok()?
}
/// A property of it.
pub fn read(style: &CssStyleDeclaration, name: &str) -> String {
    style.get_property_value(name).unwrap_or_default()
}
/// A number of the style sheet, in the drawing's units.
pub fn number(value: &str) -> f64 {
    value.trim().trim_end_matches("px").parse().unwrap_or(0.0)
}

/// How the style sheet draws a shape.
#[derive(Debug)]
pub struct Ink {
    /// What fills it.
    pub fill: Option<Paint>,
    /// What goes along its edge.
    pub stroke: Option<Paint>,
    /// The letters of a text.
    pub font: JsString,
    /// Where a text is at its place: `start`, `center` or `end`.
    pub align: JsString,
    width: f64,
    dash: Array,
    cap: JsString,
}

/// A colour and how much of it there is.
#[derive(Debug)]
pub struct Paint {
    /// The colour.
    pub color: JsString,
    /// How much.
    pub alpha: f64,
}

impl Ink {
    /// Of an element of the drawing.
    pub fn of(e: &Element) -> Option<Self> {
        let style = style(e)?;
        let read = |name: &str| read(&style, name);
        let paint = |name: &str, opacity: &str| {
            let (color, alpha) = (read(name), number(&read(opacity)));
            (color != "none" && color != "rgba(0, 0, 0, 0)").then(|| Paint { color: color.into(), alpha })
        };
        let (weight, size, family) = (read("font-weight"), read("font-size"), read("font-family"));
        let anchor = read("text-anchor");
        Some(Self {
            fill: paint("fill", "fill-opacity"),
            stroke: paint("stroke", "stroke-opacity"),
            font: format!("{weight} {size} {family}").into(),
            align: if anchor == "middle" { "center" } else { &anchor }.into(),
            width: number(&read("stroke-width")),
            dash: read("stroke-dasharray").split(',').map(number).filter(|n| *n > 0.0).map(JsValue::from).collect(),
            cap: read("stroke-linecap").into(),
        })
    }
    /// Fills, if the style sheet says so.
    pub fn fill(&self, on: &Brush, fill: impl Fn(&Brush)) {
        if let Some(p) = &self.fill {
            on.alpha(p.alpha);
            on.fill_with(&p.color);
            fill(on);
        }
    }
    /// Goes along the edge, if the style sheet says so.
    pub fn stroke(&self, on: &Brush, stroke: impl Fn(&Brush)) {
        if let Some(p) = &self.stroke {
            on.alpha(p.alpha);
            on.stroke_with(&p.color);
            on.width(self.width);
            on.cap(&self.cap);
            on.dash(&self.dash);
            stroke(on);
        }
    }
    /// Draws lines.
    pub fn lines(&self, on: &Brush, lines: &[Line]) {
        if lines.is_empty() {
            return;
        }
        on.begin();
        for (a, b) in lines {
            on.move_to(a.0, a.1);
            on.line_to(b.0, b.1);
        }
        self.stroke(on, Brush::stroke);
    }
}
