//! What follows a finger, painted over the drawing: the rig with its tensions, what is moved, and what is told of the rig. An
//! element that changes makes the browser style and lay out the page, which a canvas does not. The style sheet stays the one
//! place that says how a shape looks: before the first move every shape's style is read from the drawing below.

mod brush;
mod head;
mod picture;

pub use head::Told;

use crate::dom::prelude::*;
use crate::scene::draw::Spot;
use crate::scene::rig::{BLOCK, POINT, Rig};
use crate::scene::view::View;
use brush::{Brush, Ink};
use head::Head;
use js_sys::JsString;
use picture::{Picture, all};
use std::rc::Rc;
use web_sys::{Element, HtmlCanvasElement};

/// The canvases over the drawing.
#[derive(Clone, Copy)]
pub struct Moving {
    /// For what moves.
    pub canvas: RwSignal<Option<HtmlCanvasElement>>,
    /// For what is told.
    pub head: RwSignal<Option<HtmlCanvasElement>>,
    kept: StoredValue<Option<Rc<Kept>>>,
}

impl Moving {
    pub fn new() -> Self {
        Self { canvas: RwSignal::new(None), head: RwSignal::new(None), kept: StoredValue::new(None) }
    }
    /// Takes over from the drawing what moves when a handle is moved that stands somewhere: the rig, the handle, and the parts
    /// of the drawing that it stands for, if any. `from` is where that was taken hold of.
    pub fn begin(self, view: &View, handle: &Element, stands: Spot, parts: &str, from: Spot) {
        self.end();
        let canvases = self.canvas.get_untracked().zip(self.head.get_untracked());
        let kept = canvases.and_then(|(canvas, head)| Kept::of(&canvas, &head, view, handle, stands, parts, from));
        if let Some(kept) = &kept {
            kept.away.iter().for_each(|e| drop(e.class_list().add_1("away")));
        }
        self.kept.set_value(kept.map(Rc::new));
    }
    /// Paints how it stands, with what is moved at a place. Without a rig nothing is told.
    pub fn paint(self, rig: &Rig, at: Spot, told: Option<Told>) {
        if let Some(kept) = self.kept.get_value() {
            kept.paint(rig, at);
            match told {
                Some(told) => kept.head.tell(told),
                None => kept.head.clear(),
            }
        }
    }
    /// Gives all back to the drawing.
    pub fn end(self) {
        if let Some(kept) = self.kept.update_value(Option::take).flatten() {
            kept.clear();
            kept.head.clear();
            kept.away.iter().for_each(|e| drop(e.class_list().remove_1("away")));
        }
    }
}

/// All that is needed to paint, from the first move until the finger lets go.
#[derive(Debug)]
struct Kept {
    on: Brush,
    head: Head,
    /// Dots a unit of the drawing, in which the canvas counts.
    unit: f64,
    /// The canvas: left, top, width and height.
    sheet: [f64; 4],
    legs: Ink,
    slings: Ink,
    marks: Ink,
    number: Ink,
    /// Width of a digit.
    digit: f64,
    aligns: [JsString; 2],
    /// What is moved.
    thing: Picture,
    /// Where it was taken from.
    from: Spot,
    /// What is painted here and so is not to be seen below.
    away: Vec<Element>,
}

impl Kept {
    fn of(
        canvas: &HtmlCanvasElement,
        head: &HtmlCanvasElement,
        view: &View,
        handle: &Element,
        stands: Spot,
        parts: &str,
        from: Spot,
    ) -> Option<Self> {
        let drawing = handle.closest("svg").ok()??;
        let dots = window().device_pixel_ratio();
        let (on, size) = Brush::over(canvas, dots)?;
        let shown = view.shown_in(size);
        let (unit, corner) = shown;
        on.units(unit, corner);
        let ink = |css: &str| Ink::of(&drawing.query_selector(css).ok()??);
        let number = ink(".tension")?;
        on.font(&number.font);
        let digit = on.wide(&"0".into());
        let groups = if parts.is_empty() { Vec::new() } else { all(&drawing, parts) };
        let pictured: Vec<_> = groups.iter().map(|g| (g, (0.0, 0.0))).chain([(handle, stands)]).collect();
        let thing = Picture::of(&drawing, &pictured, shown, dots)?;
        let mut away = all(&drawing, ".rig,.handle.hung");
        away.push(handle.clone());
        away.extend(groups);
        Some(Self {
            on,
            head: Head::of(head, dots)?,
            unit,
            sheet: [-corner.0 / unit, -corner.1 / unit, size.0 / unit, size.1 / unit],
            legs: ink(".leg:not(.sling)")?,
            slings: ink(".sling")?,
            marks: ink(".block")?,
            digit,
            aligns: ["start", "center"].map(JsString::from),
            number,
            thing,
            from,
            away,
        })
    }
    fn clear(&self) {
        let [left, top, width, height] = self.sheet;
        self.on.clear(left, top, width, height);
    }
    fn paint(&self, rig: &Rig, at: Spot) {
        self.clear();
        let on = &self.on;
        self.legs.lines(on, &rig.legs);
        self.slings.lines(on, &rig.slings);
        on.begin();
        for (x, y) in &rig.blocks {
            on.move_to(x + BLOCK, *y);
            on.arc(*x, *y, BLOCK, 0.0, core::f64::consts::TAU);
        }
        rig.points.iter().for_each(|(x, y)| on.rect(x - POINT, y - POINT, 2.0 * POINT, 2.0 * POINT));
        self.marks.fill(on, Brush::fill);
        self.marks.stroke(on, Brush::stroke);
        self.numbers(rig);
        self.thing.put(on, self.unit, (at.0 - self.from.0, at.1 - self.from.1));
    }
    /// On plates of the colour that the edge of their letters has on the drawing: such an edge takes a canvas long.
    fn numbers(&self, rig: &Rig) {
        let (on, ink) = (&self.on, &self.number);
        let left = |middle: bool, wide: f64| if middle { 0.5 * wide } else { 0.0 };
        if let Some(p) = &ink.stroke {
            on.alpha(0.8);
            on.fill_with(&p.color);
            for n in &rig.numbers {
                let (wide, (x, y)) = (self.digit * n.text.len() as f64, n.at);
                on.plate(x - left(n.middle, wide), y - 1.6 * self.digit, wide, 2.0 * self.digit);
            }
        }
        on.font(&ink.font);
        ink.fill(on, |on| {
            for (middle, align) in [false, true].into_iter().zip(&self.aligns) {
                on.align(align);
                let some = rig.numbers.iter().filter(|n| n.middle == middle);
                some.for_each(|n| on.write(&n.text.as_str().into(), n.at.0, n.at.1));
            }
        });
    }
}
