//! Numbers on a canvas. A browser shapes every text that it has not met before, which takes it longer than all the lines of a rig;
//! so a number is written digit by digit, which it has.

use super::brush::{Brush, Ink};
use crate::scene::rig::Number;
use js_sys::JsString;

/// How high above its foot and how high altogether a plate behind a number is, to the size of the letters.
const PLATE: (f64, f64) = (0.95, 1.2);

/// What was written so far: digits and units, with their widths.
#[derive(Debug)]
pub struct Letters {
    size: f64,
    known: Vec<(String, JsString, f64)>,
}

/// A number as the pieces that it is written in.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    let (digits, unit) = text.split_at(text.find(' ').unwrap_or(text.len()));
    digits.split_inclusive(|_: char| true).chain(Some(unit).filter(|u| !u.is_empty()))
}

impl Letters {
    /// In an ink.
    pub fn of(ink: &Ink) -> Self {
        Self { size: ink.size, known: Vec::new() }
    }
    fn piece(&mut self, on: &Brush, piece: &str) -> usize {
        let found = self.known.iter().position(|(p, ..)| p == piece);
        found.unwrap_or_else(|| {
            let text = JsString::from(piece);
            let wide = on.wide(&text);
            self.known.push((piece.to_owned(), text, wide));
            self.known.len() - 1
        })
    }
    /// Writes numbers on plates of the colour that the edge of their letters has on the drawing: such an edge takes a canvas
    /// long.
    pub fn write(&mut self, on: &Brush, ink: &Ink, numbers: &[Number]) {
        on.font(&ink.font);
        let mut written: Vec<(usize, f64, f64)> = Vec::new();
        let mut plates = Vec::new();
        for n in numbers {
            let first = written.len();
            let (mut x, y) = n.at;
            for piece in pieces(&n.text) {
                let i = self.piece(on, piece);
                written.push((i, x, y));
                x += self.known.get(i).map_or(0.0, |k| k.2);
            }
            let left = if n.middle { 0.5 * (x - n.at.0) } else { 0.0 };
            written.iter_mut().skip(first).for_each(|w| w.1 -= left);
            plates.push((n.at.0 - left, y, x - n.at.0));
        }
        if let Some(p) = &ink.stroke {
            on.alpha(0.8);
            on.fill_with(&p.color);
            let (above, high) = (PLATE.0 * self.size, PLATE.1 * self.size);
            plates.iter().for_each(|(x, y, wide)| on.plate(x - 2.0, y - above, wide + 4.0, high));
        }
        ink.fill(on, |on| {
            for (i, x, y) in &written {
                if let Some((_, text, _)) = self.known.get(*i) {
                    on.write(text, *x, *y);
                }
            }
        });
    }
}
