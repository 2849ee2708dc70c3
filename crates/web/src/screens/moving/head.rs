//! What is told of a rig while something moves, above the drawing: verdict and stop rule, the weakest part, and that it is how
//! the rig stands just then.

use super::brush::{Brush, number, read, style};
use js_sys::JsString;
use std::cell::RefCell;
use unmire_audit::verdict::Verdict::{Holds, HoldsBelowStopLoad, Overloaded, Unknown};
use web_sys::HtmlCanvasElement;

/// What is told.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// The verdict as the planner calls it; empty if there is none.
    pub verdict: &'static str,
    /// The same for the reader, or why there is none.
    pub word: String,
    /// When to stop.
    pub stop: String,
    /// The weakest part.
    pub weakest: String,
    /// What it is that is told.
    pub note: String,
}

/// Height of a line to the size of the letters. The style sheet gives room for three.
const LINE: f64 = 1.25;
/// Height of the line below it, in dots.
const EDGE: f64 = 2.0;

/// A canvas for it, painted anew only when something else is told.
#[derive(Debug)]
pub struct Head {
    on: Brush,
    canvas: HtmlCanvasElement,
    /// Width and height in dots.
    size: (f64, f64),
    /// Size of the letters in dots.
    letters: f64,
    /// Of a verdict, of the weakest part and of a note.
    fonts: [JsString; 3],
    ink: JsString,
    plate: JsString,
    rule: JsString,
    /// Words, shapes and colours of the verdicts.
    verdicts: Vec<(&'static str, char, JsString)>,
    told: RefCell<Option<Told>>,
}

impl Head {
    /// On a canvas, with so many dots a unit of the page.
    pub fn of(canvas: &HtmlCanvasElement, dots: f64) -> Option<Self> {
        let style = style(canvas)?;
        let read = |name: &str| read(&style, name);
        let letters = dots * number(&read("font-size"));
        let size = (dots * f64::from(canvas.client_width()), dots * f64::from(canvas.client_height()));
        let colors =
            [(Holds, "--holds"), (HoldsBelowStopLoad, "--below"), (Unknown, "--unknown"), (Overloaded, "--over")];
        Some(Self {
            on: Brush::of(canvas, size)?,
            canvas: canvas.clone(),
            size,
            letters,
            fonts: [700, 600, 400].map(|weight| format!("{weight} {letters}px {}", read("font-family")).into()),
            ink: read("--ink").into(),
            plate: read("--note").into(),
            rule: read("--rule").into(),
            verdicts: colors.map(|(v, name)| (v.word(), v.shape(), read(name).into())).into(),
            told: RefCell::default(),
        })
    }
    /// Tells it.
    pub fn tell(&self, told: Told) {
        if self.told.borrow().as_ref() == Some(&told) {
            return;
        }
        let (on, (wide, high), letters) = (&self.on, self.size, self.letters);
        on.fill_with(&self.plate);
        on.plate(0.0, 0.0, wide, high);
        on.fill_with(&self.rule);
        on.plate(0.0, high - EDGE, wide, EDGE);
        let verdict = self.verdicts.iter().find(|(word, ..)| *word == told.verdict);
        let first = match verdict {
            Some((_, shape, _)) => format!("{shape} {}. {}", told.word, told.stop),
            None => told.word.clone(),
        };
        // In the canvas too, for who can't see it.
        self.canvas.set_text_content(Some(&format!("{first} {} {}", told.weakest, told.note)));
        let inks = [verdict.map_or(&self.ink, |(.., color)| color), &self.ink, &self.ink];
        let mut foot = 1.1 * letters;
        for ((line, ink), font) in [&first, &told.weakest, &told.note].into_iter().zip(inks).zip(&self.fonts) {
            on.fill_with(ink);
            on.font(font);
            on.write_within(line, 0.5 * letters, foot, wide - letters);
            foot += LINE * letters;
        }
        self.told.replace(Some(told));
    }
    /// Leaves nothing.
    pub fn clear(&self) {
        self.on.clear(0.0, 0.0, self.size.0, self.size.1);
        self.canvas.set_text_content(None);
    }
}
