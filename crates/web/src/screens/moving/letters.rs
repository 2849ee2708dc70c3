//! Letters as pictures. The first text that is written in a frame takes a canvas 0.1 ms and each further one 20 us; a part of
//! a picture takes 2 us.

use super::atlas::{Atlas, Part};
use super::brush::Brush;
use crate::scene::draw::Spot;
use crate::scene::lines::pieces;
use js_sys::JsString;
use std::cell::RefCell;
use std::rc::Rc;

/// How letters look, all lengths in dots.
#[derive(Debug)]
pub struct Look {
    pub font: JsString,
    /// How large they are.
    pub size: f64,
    pub color: JsString,
    /// The colour of the plate below them, how high it is, and where on it they stand.
    pub plate: JsString,
    pub high: f64,
    pub foot: f64,
}

/// A digit, or a word without digits, on its plate.
#[derive(Debug)]
struct Piece {
    text: String,
    part: Part,
}

impl Piece {
    fn is_digit(&self) -> bool {
        self.text.starts_with(|c: char| c.is_ascii_digit())
    }
}

/// Letters that look alike.
#[derive(Debug)]
pub struct Letters {
    pub look: Look,
    atlas: Rc<Atlas>,
    pieces: RefCell<Vec<Rc<Piece>>>,
}

impl Letters {
    /// Such letters.
    pub fn of(look: Look, atlas: &Rc<Atlas>) -> Self {
        Self { look, atlas: atlas.clone(), pieces: RefCell::default() }
    }
    /// A piece, painted when it is first asked for. It is as wide as whole dots, so that plates stand edge to edge.
    fn piece(&self, text: &str) -> Option<Rc<Piece>> {
        if let Some(known) = self.pieces.borrow().iter().find(|p| p.text == text) {
            return Some(known.clone());
        }
        let (look, shown) = (&self.look, JsString::from(text));
        let wide = self.atlas.wide(&look.font, &shown).ceil();
        let part = self.atlas.part((wide, look.high), |on, (x, y)| {
            on.fill_with(&look.plate);
            on.plate(x, y, wide, look.high);
            on.font(&look.font);
            on.fill_with(&look.color);
            on.write(&shown, x, y + look.foot);
        })?;
        let piece = Rc::new(Piece { text: text.to_owned(), part });
        self.pieces.borrow_mut().push(piece.clone());
        // The other digits will be wanted as soon as it moves on.
        if piece.is_digit() {
            pieces("0123456789.").for_each(|p| drop(self.piece(p)));
        }
        Some(piece)
    }
    /// The pieces of a text; none if the device has no room for one of them: no number is ever shown with a digit less.
    fn all(&self, text: &str) -> Option<Vec<Rc<Piece>>> {
        pieces(text).map(|p| self.piece(p)).collect()
    }
    /// How wide a text is. From then on its pieces are there.
    pub fn wide(&self, text: &str) -> f64 {
        match self.all(text) {
            Some(all) => all.iter().map(|p| p.part.size.0).sum(),
            None => self.atlas.wide(&self.look.font, &text.into()),
        }
    }
    /// Writes a text: where its plate begins.
    pub fn write(&self, on: &Brush, text: &str, (mut x, y): Spot) {
        let Some(all) = self.all(text) else { return self.squeeze(on, text, (x, y), f64::MAX) };
        for piece in all {
            piece.part.put(on, (x, y));
            x += piece.part.size.0;
        }
    }
    /// Writes a text without pictures, no wider than that, and without a plate.
    pub fn squeeze(&self, on: &Brush, text: &str, (x, y): Spot, most: f64) {
        on.font(&self.look.font);
        on.fill_with(&self.look.color);
        on.write_within(&text.into(), x, y + self.look.foot, most);
    }
    /// Writes a text where another one stands that was written so: where only digits differ, the others stay. Gives whether it
    /// could be done.
    pub fn write_over(&self, on: &Brush, old: &str, text: &str, (mut x, y): Spot) -> bool {
        let mut other = Vec::new();
        for (was, is) in pieces(old).zip(pieces(text)) {
            let Some((was, is)) = self.piece(was).zip(self.piece(is)) else { return false };
            let wide = is.part.size.0;
            if was.text != is.text {
                if !was.is_digit() || !is.is_digit() || was.part.size.0 != wide {
                    return false;
                }
                other.push((is, x));
            }
            x += wide;
        }
        other.iter().for_each(|(piece, x)| piece.part.put(on, (*x, y)));
        old.len() == text.len()
    }
}
