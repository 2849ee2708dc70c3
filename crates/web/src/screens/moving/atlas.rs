//! Small pictures, many on one canvas: a part of one is put quicker than many are.

use super::brush::{Brush, Image};
use crate::dom::prelude::document;
use crate::scene::draw::Spot;
use js_sys::JsString;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::JsCast as _;
use web_sys::HtmlCanvasElement;

/// Room between two pictures for what stands over an edge, in dots.
const GAP: f64 = 2.0;

/// One of the canvases.
#[derive(Debug)]
struct Page {
    canvas: HtmlCanvasElement,
    on: Brush,
    /// Where the next picture has room, and how high its line is.
    next: Cell<(f64, f64, f64)>,
    /// The canvas itself, and what stood on it when nothing more came to it, which is put quicker.
    now: Image,
    still: RefCell<Option<Image>>,
}

impl Page {
    fn of(size: Spot) -> Option<Self> {
        let canvas = document().create_element("canvas").ok()?.dyn_into::<HtmlCanvasElement>().ok()?;
        let on = Brush::of(&canvas, (size.0.max(1.0), size.1.max(1.0)))?;
        let (next, still) = <(Cell<_>, RefCell<_>)>::default();
        Some(Self { now: Image::Is((&canvas).into()), canvas, on, next, still })
    }
    fn room(&self, (wide, high): Spot) -> Option<Spot> {
        let (mut x, mut y, mut line) = self.next.get();
        if x + wide > f64::from(self.canvas.width()) {
            (x, y, line) = (0.0, y + line, 0.0);
        }
        line = line.max(high + GAP);
        let fits = x + wide <= f64::from(self.canvas.width()) && y + line <= f64::from(self.canvas.height());
        fits.then(|| self.next.set((x + wide + GAP, y, line)))?;
        Some((x, y))
    }
}

/// A picture on one of them.
#[derive(Debug)]
pub struct Part {
    page: Rc<Page>,
    at: Spot,
    /// Width and height.
    pub size: Spot,
}

impl Part {
    /// Puts it on a canvas whose unit is a dot: its left upper corner on the nearest dot, so that it stays sharp.
    pub fn put(&self, on: &Brush, (x, y): Spot) {
        let still = self.page.still.borrow();
        on.part(still.as_ref().unwrap_or(&self.page.now), self.at, self.size, (x.round(), y.round()));
    }
}

/// Canvases for small pictures; where one is full another comes to it.
#[derive(Debug)]
pub struct Atlas {
    size: Spot,
    pages: RefCell<Vec<Rc<Page>>>,
}

impl Atlas {
    /// Of canvases of a size in dots.
    pub fn of(size: Spot) -> Option<Rc<Self>> {
        let first = Rc::new(Page::of(size)?);
        Some(Rc::new(Self { size, pages: RefCell::new(vec![first]) }))
    }
    /// How wide a text is.
    pub fn wide(&self, font: &JsString, text: &JsString) -> f64 {
        let pages = self.pages.borrow();
        pages.last().map_or(0.0, |page| {
            page.on.font(font);
            page.on.wide(text)
        })
    }
    /// A picture of a size, painted from a corner. None if the device has no room for it.
    pub fn part(&self, size: Spot, paint: impl FnOnce(&Brush, Spot)) -> Option<Part> {
        let mut pages = self.pages.borrow_mut();
        let last = pages.last().and_then(|page| Some((page.clone(), page.room(size)?)));
        let (page, at) = match last {
            Some(found) => found,
            None => {
                let page = Rc::new(Page::of((self.size.0.max(size.0), self.size.1.max(size.1 + GAP)))?);
                pages.push(page.clone());
                let at = page.room(size)?;
                (page, at)
            }
        };
        page.still.take();
        paint(&page.on, at);
        Some(Part { page, at, size })
    }
    /// All that a frame needs has come to it.
    pub fn settle(&self) {
        for page in self.pages.borrow().iter() {
            let mut still = page.still.borrow_mut();
            if still.is_none() {
                *still = Image::of(&page.canvas);
            }
        }
    }
}
