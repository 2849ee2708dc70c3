//! What follows a finger, painted over the drawing: the rig with its tensions, what is moved, and what is told of the rig. An
//! element that changes makes the browser style and lay out the page, which a canvas does not. The style sheet stays the one
//! place that says how a shape looks: before the first move every shape's style is read from the drawing below.

mod atlas;
mod brush;
mod head;
mod letters;
mod picture;

pub use head::Told;

use crate::dom::prelude::*;
use crate::scene::draw::Spot;
use crate::scene::rig::{BLOCK, POINT, Rig};
use crate::scene::view::View;
use atlas::{Atlas, Part};
use brush::{Brush, Ink};
use head::Head;
use letters::{Letters, Look};
use picture::{Picture, all};

use std::rc::Rc;
use web_sys::{Element, HtmlCanvasElement};

/// Width and height of the canvas for small pictures, to the size of a number's letters: room for all that is told at once.
const ATLAS: Spot = (60.0, 12.0);
/// How much of its colour a number's plate has.
const PLATE: f64 = 0.8;

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
        let Some(kept) = self.kept.get_value() else { return };
        // First all that is new comes to the atlas, then all is taken from it: by turns it would be copied each time.
        for n in &rig.numbers {
            kept.numbers.wide(&n.text);
        }
        let new = kept.head.set(told);
        kept.atlas.settle();
        kept.paint(rig, at);
        if new {
            kept.head.paint();
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
    /// Dots a unit of the drawing, and where its corner is on the canvas.
    unit: f64,
    corner: Spot,
    /// Width and height of the canvas.
    size: (f64, f64),
    legs: Ink,
    slings: Ink,
    /// A block, and any other point.
    marks: [Part; 2],
    numbers: Letters,
    atlas: Rc<Atlas>,
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
        let ink = |css: &str| Ink::of(&drawing.query_selector(css).ok()??, unit, &on);
        let (legs, slings, number) = (ink(".leg:not(.sling)")?, ink(".sling")?, ink(".tension")?);
        let letters = number.letters;
        let atlas = Atlas::of((ATLAS.0 * letters, ATLAS.1 * letters))?;
        // On plates of the colour that the edge of their letters has on the drawing: such an edge takes a canvas long.
        let plate = number.stroke.as_ref().map_or_else(|| "transparent".into(), |color| on.faded(color, PLATE));
        let color = number.fill.clone()?;
        let (high, foot) = ((1.2 * letters).round(), (0.95 * letters).round());
        let numbers = Letters::of(Look { font: number.font(), size: letters, color, plate, high, foot }, &atlas);
        let marked = ink(".block")?;
        let mark = |half: f64, shape: &dyn Fn(&Brush, Spot)| {
            let room = (unit * half + marked.width).ceil();
            atlas.part((2.0 * room, 2.0 * room), |on, (x, y)| {
                on.begin();
                shape(on, (x + room, y + room));
                marked.fill(on, Brush::fill);
                marked.stroke(on, Brush::stroke);
            })
        };
        let block = mark(BLOCK, &|on, (x, y)| on.arc(x, y, unit * BLOCK, 0.0, core::f64::consts::TAU))?;
        let half = unit * POINT;
        let point = mark(POINT, &|on, (x, y)| on.rect(x - half, y - half, 2.0 * half, 2.0 * half))?;
        let groups = if parts.is_empty() { Vec::new() } else { all(&drawing, parts) };
        let pictured: Vec<_> = groups.iter().map(|g| (g, (0.0, 0.0))).chain([(handle, stands)]).collect();
        let thing = Picture::of(&drawing, &pictured, shown, dots)?;
        let mut away = all(&drawing, ".rig,.handle.hung");
        away.push(handle.clone());
        away.extend(groups);
        Some(Self {
            on,
            head: Head::of(head, dots, &atlas)?,
            unit,
            corner,
            size,
            legs,
            slings,
            marks: [block, point],
            numbers,
            atlas,
            thing,
            from,
            away,
        })
    }
    fn clear(&self) {
        self.on.clear(0.0, 0.0, self.size.0, self.size.1);
    }
    fn paint(&self, rig: &Rig, at: Spot) {
        self.clear();
        let (on, unit) = (&self.on, self.unit);
        self.legs.lines(on, &rig.legs, |p| self.dot(p));
        self.slings.lines(on, &rig.slings, |p| self.dot(p));
        for (mark, places) in self.marks.iter().zip([&rig.blocks, &rig.points]) {
            for (x, y) in places.iter().map(|p| self.dot(*p)) {
                mark.put(on, (x - 0.5 * mark.size.0, y - 0.5 * mark.size.1));
            }
        }
        for n in &rig.numbers {
            let (x, y) = self.dot(n.at);
            let left = if n.middle { 0.5 * self.numbers.wide(&n.text) } else { 0.0 };
            self.numbers.write(on, &n.text, ((x - left).round(), y - self.numbers.look.foot));
        }
        self.thing.put(on, (unit * (at.0 - self.from.0), unit * (at.1 - self.from.1)));
    }
    /// Where a place of the drawing is on the canvas.
    fn dot(&self, (x, y): Spot) -> Spot {
        (self.corner.0 + self.unit * x, self.corner.1 + self.unit * y)
    }
}
