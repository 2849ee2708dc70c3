//! What is told of a rig while something moves, above the drawing: verdict and stop rule, the weakest part, and that it is how
//! the rig stands just then.

use super::atlas::Atlas;
use super::brush::{Brush, font, number, read, style};
use super::letters::{Letters, Look};
use crate::scene::lines::broken;
use js_sys::JsString;
use std::cell::RefCell;
use std::rc::Rc;
use unmire_audit::verdict::Verdict::{self, Holds, HoldsBelowStopLoad, Overloaded, Unknown};
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
impl Told {
    /// Verdict and stop rule.
    pub fn first(&self) -> String {
        match (self.verdict, self.stop.as_str()) {
            ("", _) => self.word.clone(),
            (_, "") => format!("{}.", self.word),
            (_, stop) => format!("{}. {stop}", self.word),
        }
    }
}

/// Height of a line to the size of the letters. The style sheet gives room for six.
const LINE: f64 = 1.25;
/// Height of the line below them, in dots.
const EDGE: f64 = 2.0;

/// Which letters are whose: the first four are the verdicts'.
const NO_VERDICT: usize = 4;
const WEAKEST: usize = 5;
const NOTE: usize = 6;

/// A text in the lines that it takes, and with which letters.
#[derive(Debug, Default)]
struct Text {
    text: String,
    letters: usize,
    lines: Vec<String>,
}

impl Text {
    fn all(&self) -> impl Iterator<Item = (usize, &String)> {
        self.lines.iter().map(|line| (self.letters, line))
    }
}

/// A canvas for it. What is told anew is painted anew.
#[derive(Debug)]
pub struct Head {
    on: Brush,
    canvas: HtmlCanvasElement,
    dots: f64,
    /// Width and height in dots.
    size: (f64, f64),
    /// Height of a line in dots.
    line: f64,
    rule: JsString,
    verdicts: [&'static str; 4],
    shapes: [char; 4],
    /// Letters for each verdict, for none, for the weakest part, and for a note.
    letters: Vec<Letters>,
    texts: RefCell<[Text; 3]>,
    told: RefCell<Told>,
    /// What stands on the canvas: the lines with their letters.
    painted: RefCell<Vec<(usize, String)>>,
}

impl Head {
    /// On a canvas, with so many dots a unit of the page.
    pub fn of(canvas: &HtmlCanvasElement, dots: f64, atlas: &Rc<Atlas>) -> Option<Self> {
        let style = style(canvas)?;
        let read = |name: &str| read(&style, name);
        let high = dots * number(&read("font-size"));
        let (on, size) = Brush::over(canvas, dots)?;
        let verdicts = [Holds, HoldsBelowStopLoad, Unknown, Overloaded];
        let colors = ["--holds", "--below", "--unknown", "--over", "--ink", "--ink", "--ink"];
        let line = (LINE * high).round();
        let letters = |(name, weight)| {
            let (font, color, plate) =
                (font(weight, high, &read("font-family")), read(name).into(), read("--note").into());
            Letters::of(Look { font, size: high, color, plate, high: line, foot: high.round() }, atlas)
        };
        Some(Self {
            on,
            canvas: canvas.clone(),
            dots,
            size,
            line,
            rule: read("--rule").into(),
            verdicts: verdicts.map(Verdict::word),
            shapes: verdicts.map(Verdict::shape),
            letters: colors.into_iter().zip(["700", "700", "700", "700", "700", "600", "400"]).map(letters).collect(),
            texts: RefCell::default(),
            told: RefCell::default(),
            painted: RefCell::default(),
        })
    }
    /// What is to be told next, if anything; gives whether it is something else than before.
    pub fn set(&self, told: Option<Told>) -> bool {
        if told.as_ref() == Some(&*self.told.borrow()) {
            return false;
        }
        let Some(told) = told else {
            self.clear();
            return false;
        };
        let verdict = self.verdicts.iter().position(|word| *word == told.verdict);
        let shape = verdict.and_then(|v| self.shapes.get(v));
        let first = shape.map_or_else(|| told.first(), |shape| format!("{shape} {}", told.first()));
        let texts = [(first.as_str(), verdict.unwrap_or(NO_VERDICT)), (&told.weakest, WEAKEST), (&told.note, NOTE)];
        for (kept, (text, letters)) in self.texts.borrow_mut().iter_mut().zip(texts) {
            if kept.text != text || kept.letters != letters {
                *kept = Text { text: text.to_owned(), letters, lines: self.broken(text, letters) };
            }
        }
        self.told.replace(told);
        true
    }
    /// A text in lines that are not too long.
    fn broken(&self, text: &str, letters: usize) -> Vec<String> {
        let Some(letters) = self.letters.get(letters) else { return Vec::new() };
        broken(text, self.size.0 - letters.look.size, |t| letters.wide(t)).into_iter().map(str::to_owned).collect()
    }
    /// Paints the lines that are not painted yet.
    pub fn paint(&self) {
        let [first, weakest, note] = &*self.texts.borrow();
        let (on, (wide, high)) = (&self.on, self.size);
        // Where there is no room the weakest part's last line is narrow: nothing is left out.
        let room = ((high - EDGE) / self.line) as usize;
        let last = room.saturating_sub(first.lines.len() + note.lines.len() + 1);
        let (lines, rest) = weakest.lines.split_at(last.min(weakest.lines.len()));
        let narrow = (rest.len() > 1).then(|| first.lines.len() + lines.len());
        let rest = Some(rest.join(" ")).filter(|r| !r.is_empty());
        let weakest = lines.iter().chain(&rest).map(|l| (weakest.letters, l));
        let lines: Vec<_> = first.all().chain(weakest).chain(note.all()).collect();
        let mut painted = self.painted.borrow_mut();
        // It does not get lower again: to change its place takes the browser long, and the reader too.
        let top = high - EDGE - self.line * lines.len().max(painted.len()) as f64;
        if painted.len() < lines.len() {
            on.clear(0.0, 0.0, wide, high);
            on.fill_with(&self.rule);
            on.plate(0.0, high - EDGE, wide, EDGE);
            // At the top of the window, what is painted stays in sight, and no more of the drawing than that is covered.
            let _ = self.canvas.style().set_property("top", &format!("{}px", -top / self.dots));
            painted.clear();
            painted.resize(lines.len(), (0, String::new()));
        }
        let none = (NOTE, &String::new());
        for (i, old) in painted.iter_mut().enumerate() {
            let (kind, text) = *lines.get(i).unwrap_or(&none);
            let Some(letters) = self.letters.get(kind).filter(|_| old.0 != kind || old.1 != *text) else { continue };
            let (above, look) = (top + self.line * i as f64, &letters.look);
            let (left, most) = ((0.5 * look.size).round(), wide - look.size);
            let fits = narrow != Some(i) && letters.wide(text) <= most;
            if !(fits && old.0 == kind && letters.write_over(on, &old.1, text, (left, above))) {
                on.fill_with(&look.plate);
                on.plate(0.0, above, wide, self.line);
                if fits {
                    letters.write(on, text, (left, above));
                } else {
                    letters.squeeze(on, text, (left, above), most);
                }
            }
            *old = (kind, text.clone());
        }
    }
    /// Leaves nothing.
    pub fn clear(&self) {
        if self.painted.borrow().is_empty() {
            return;
        }
        self.told.take();
        self.texts.take();
        self.painted.take();
        self.on.clear(0.0, 0.0, self.size.0, self.size.1);
    }
}
