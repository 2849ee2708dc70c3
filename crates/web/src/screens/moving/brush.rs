//! Painting on a canvas as the style sheet draws.

use crate::dom::prelude::window;
use crate::scene::draw::Spot;
use crate::scene::rig::Line;
use js_sys::{Array, JsString};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{CssStyleDeclaration, Element, HtmlCanvasElement, Path2d};

#[wasm_bindgen]
extern "C" {
    /// A canvas to paint on. Nothing of this fails: only a picture without size would. Most of what is told in words is kept on
    /// the page's side, so that it need not be handed over with every shape.
    #[derive(Clone, Debug)]
    pub type Brush;
    #[wasm_bindgen(method, setter, js_name = fillStyle)]
    pub fn fill_with(this: &Brush, color: &JsString);
    #[wasm_bindgen(method, setter, js_name = strokeStyle)]
    fn stroke_with(this: &Brush, color: &JsString);
    #[wasm_bindgen(method, getter, js_name = fillStyle)]
    fn filled_with(this: &Brush) -> JsValue;
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
    #[wasm_bindgen(method, js_name = drawImage)]
    fn draw(this: &Brush, image: &JsValue, x: f64, y: f64);
    #[wasm_bindgen(method, js_name = drawImage)]
    fn draw_part(
        this: &Brush,
        image: &JsValue,
        x: f64,
        y: f64,
        width: f64,
        height: f64,
        to_x: f64,
        to_y: f64,
        to_width: f64,
        to_height: f64,
    );

    #[wasm_bindgen(js_name = OffscreenCanvas)]
    type Unseen;
    #[wasm_bindgen(constructor, catch, js_class = "OffscreenCanvas")]
    fn new(width: f64, height: f64) -> Result<Unseen, JsValue>;
    #[wasm_bindgen(method, catch, js_name = getContext)]
    fn context(this: &Unseen, kind: &str) -> Result<Option<Brush>, JsValue>;
    #[wasm_bindgen(method, catch, js_name = transferToImageBitmap)]
    fn still(this: &Unseen) -> Result<Still, JsValue>;

    /// What stood on a canvas. It takes room on the device until it is closed.
    #[derive(Debug)]
    pub type Still;
    #[wasm_bindgen(method)]
    fn close(this: &Still);

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
    /// Puts a picture.
    pub fn image(&self, image: &Image, (x, y): Spot) {
        self.draw(image.source(), x, y);
    }
    /// Puts a part of a picture: from where, how large, and to where.
    pub fn part(&self, image: &Image, (x, y): Spot, (wide, high): Spot, to: Spot) {
        self.draw_part(image.source(), x, y, wide, high, to.0, to.1, wide, high);
    }
    /// A colour of which there is only so much. One that the canvas does not tell as `#rrggbb` stays as it is.
    pub fn faded(&self, color: &JsString, alpha: f64) -> JsString {
        self.fill_with(color);
        let read = self.filled_with().as_string().filter(|c| alpha < 1.0 && c.starts_with('#'));
        read.map_or_else(|| color.clone(), |c| format!("{c}{:02x}", (255.0 * alpha).round() as u8).into())
    }
    /// How wide a text is.
    pub fn wide(&self, text: &JsString) -> f64 {
        self.measure(text).width()
    }
}

/// Something to paint with that has a size.
#[derive(Debug)]
pub enum Image {
    /// What stood on a canvas.
    Was(Still),
    /// What stands on it.
    Is(JsValue),
}

impl Image {
    /// What stands on a canvas, which may change afterwards only where it is empty. None if the canvas has no size.
    pub fn of(canvas: &HtmlCanvasElement) -> Option<Self> {
        let size = (canvas.width(), canvas.height());
        if size.0 == 0 || size.1 == 0 {
            return None;
        }
        // To put it from there takes half as long. Older browsers put the canvas itself.
        let unseen = Unseen::new(size.0.into(), size.1.into()).ok();
        let still = unseen.and_then(|unseen| {
            unseen.context("2d").ok()??.draw(canvas, 0.0, 0.0);
            unseen.still().ok()
        });
        Some(still.map_or_else(|| Self::Is(canvas.into()), Self::Was))
    }
    fn source(&self) -> &JsValue {
        match self {
            Self::Was(still) => still,
            Self::Is(canvas) => canvas,
        }
    }
}

impl Drop for Image {
    fn drop(&mut self) {
        if let Self::Was(still) = self {
            still.close();
        }
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

/// Letters of a weight, a size and a family.
pub fn font(weight: &str, size: f64, family: &str) -> JsString {
    format!("{weight} {size}px {family}").into()
}

/// How the style sheet draws a shape.
#[derive(Debug)]
pub struct Ink {
    /// What fills it.
    pub fill: Option<JsString>,
    /// What goes along its edge.
    pub stroke: Option<JsString>,
    /// The size of the letters of a text, and weight and family.
    pub letters: f64,
    face: (String, String),
    /// Where a text is at its place: `start`, `center` or `end`.
    pub align: JsString,
    /// How wide what goes along the edge is.
    pub width: f64,
    dash: Array,
    cap: JsString,
    /// Whether lines have gaps, or other ends than they have anyhow.
    special: bool,
}

impl Ink {
    /// Of an element of the drawing, where a unit is so long; a canvas says what its colours are.
    pub fn of(e: &Element, unit: f64, on: &Brush) -> Option<Self> {
        let style = style(e)?;
        let read = |name: &str| read(&style, name);
        let paint = |name: &str, opacity: &str| {
            let color = read(name);
            (color != "none" && color != "rgba(0, 0, 0, 0)").then(|| on.faded(&color.into(), number(&read(opacity))))
        };
        let anchor = read("text-anchor");
        let dash: Array = read("stroke-dasharray")
            .split(',')
            .map(number)
            .filter(|n| *n > 0.0)
            .map(|n| JsValue::from(unit * n))
            .collect();
        let cap = read("stroke-linecap");
        Some(Self {
            fill: paint("fill", "fill-opacity"),
            stroke: paint("stroke", "stroke-opacity"),
            letters: unit * number(&read("font-size")),
            face: (read("font-weight"), read("font-family")),
            align: if anchor == "middle" { "center" } else { &anchor }.into(),
            width: unit * number(&read("stroke-width")),
            special: dash.length() > 0 || cap != "butt",
            dash,
            cap: cap.into(),
        })
    }
    /// The letters of a text.
    pub fn font(&self) -> JsString {
        font(&self.face.0, self.letters, &self.face.1)
    }
    /// Fills, if the style sheet says so.
    pub fn fill(&self, on: &Brush, fill: impl Fn(&Brush)) {
        if let Some(color) = &self.fill {
            on.fill_with(color);
            fill(on);
        }
    }
    /// Goes along the edge, if the style sheet says so.
    pub fn stroke(&self, on: &Brush, stroke: impl Fn(&Brush)) {
        let Some(color) = &self.stroke else { return };
        on.stroke_with(color);
        on.width(self.width);
        // What is as it is anyhow is not said each time: every thing that is said takes some us.
        if self.special {
            on.cap(&self.cap);
            on.dash(&self.dash);
        }
        stroke(on);
        if self.special {
            on.cap(&"butt".into());
            on.dash(&Array::new());
        }
    }
    /// Draws lines, whose ends are there on the canvas.
    pub fn lines(&self, on: &Brush, lines: &[Line], at: impl Fn(Spot) -> Spot) {
        if lines.is_empty() {
            return;
        }
        on.begin();
        for (a, b) in lines.iter().map(|(a, b)| (at(*a), at(*b))) {
            on.move_to(a.0, a.1);
            on.line_to(b.0, b.1);
        }
        self.stroke(on, Brush::stroke);
    }
}
