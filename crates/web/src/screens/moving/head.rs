//! What is told of a rig while something moves, above the drawing: verdict and stop rule, the weakest part, and that it is how
//! the rig stands just then.

use super::brush::{Brush, number, read, style};
use js_sys::JsString;
use std::cell::{Cell, RefCell};
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
impl Told {
    /// Verdict and stop rule.
    pub fn first(&self) -> String {
        if self.verdict.is_empty() { self.word.clone() } else { format!("{}. {}", self.word, self.stop) }
    }
}

/// Height of a line to the size of the letters. The style sheet gives room for six.
const LINE: f64 = 1.25;
/// Height of the line below them, in dots.
const EDGE: f64 = 2.0;

/// A text in the lines that it takes.
#[derive(Debug, Default)]
struct Lines {
    text: String,
    lines: Vec<JsString>,
}

impl Lines {
    /// Breaks a text where it is too long, if it is another one.
    fn set(&mut self, on: &Brush, text: &str, most: f64) {
        if self.text == text {
            return;
        }
        text.clone_into(&mut self.text);
        self.lines.clear();
        let whole = JsString::from(text);
        if on.wide(&whole) <= most {
            self.lines.extend(Some(whole).filter(|_| !text.is_empty()));
            return;
        }
        let mut line = String::new();
        for word in text.split(' ') {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if !line.is_empty() && on.wide(&longer.as_str().into()) > most {
                self.lines.push(core::mem::replace(&mut line, word.to_owned()).into());
            } else {
                line = longer;
            }
        }
        if !line.is_empty() {
            self.lines.push(line.into());
        }
    }
}

/// A canvas for it, painted anew only when something else is told.
#[derive(Debug)]
pub struct Head {
    on: Brush,
    canvas: HtmlCanvasElement,
    dots: f64,
    /// Height that is painted, in dots.
    painted: Cell<f64>,
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
    told: RefCell<Told>,
    lines: RefCell<[Lines; 3]>,
}

impl Head {
    /// On a canvas, with so many dots a unit of the page.
    pub fn of(canvas: &HtmlCanvasElement, dots: f64) -> Option<Self> {
        let style = style(canvas)?;
        let read = |name: &str| read(&style, name);
        let letters = dots * number(&read("font-size"));
        let (on, size) = Brush::over(canvas, dots)?;
        let colors =
            [(Holds, "--holds"), (HoldsBelowStopLoad, "--below"), (Unknown, "--unknown"), (Overloaded, "--over")];
        Some(Self {
            on,
            canvas: canvas.clone(),
            dots,
            painted: Cell::new(f64::NAN),
            size,
            letters,
            fonts: [700, 600, 400].map(|weight| format!("{weight} {letters}px {}", read("font-family")).into()),
            ink: read("--ink").into(),
            plate: read("--note").into(),
            rule: read("--rule").into(),
            verdicts: colors.map(|(v, name)| (v.word(), v.shape(), read(name).into())).into(),
            told: RefCell::default(),
            lines: RefCell::default(),
        })
    }
    /// Tells it.
    pub fn tell(&self, told: Told) {
        if *self.told.borrow() == told {
            return;
        }
        let (on, (wide, high), letters) = (&self.on, self.size, self.letters);
        let verdict = self.verdicts.iter().find(|(word, ..)| *word == told.verdict);
        let first = match verdict {
            Some((_, shape, _)) => format!("{shape} {}", told.first()),
            None => told.first(),
        };
        let mut lines = self.lines.borrow_mut();
        for ((lines, text), font) in lines.iter_mut().zip([&first, &told.weakest, &told.note]).zip(&self.fonts) {
            on.font(font);
            lines.set(on, text.trim(), wide - letters);
        }
        // Where there is no room the weakest part's last line is narrow: nothing is left out.
        let [verdicts, weakest, note] = &mut *lines;
        let room = ((high - EDGE) / (LINE * letters)) as usize;
        let last = room.saturating_sub(verdicts.lines.len() + note.lines.len() + 1);
        if weakest.lines.len() > last + 1 {
            let rest = weakest.lines.split_off(last);
            weakest.lines.push(rest.iter().map(String::from).collect::<Vec<_>>().join(" ").into());
        }
        let all = verdicts.lines.len() + weakest.lines.len() + note.lines.len();
        let top = high - EDGE - LINE * letters * all as f64;
        self.clear();
        // At the top of the window, what is painted stays in sight, and no more of the drawing than that is covered.
        if self.painted.replace(high - top) != high - top {
            let _ = self.canvas.style().set_property("top", &format!("{}px", -top / self.dots));
        }
        on.fill_with(&self.plate);
        on.plate(0.0, top, wide, high - top);
        on.fill_with(&self.rule);
        on.plate(0.0, high - EDGE, wide, EDGE);
        let inks = [verdict.map_or(&self.ink, |(.., color)| color), &self.ink, &self.ink];
        let mut foot = top + letters;
        for ((lines, ink), font) in lines.iter().zip(inks).zip(&self.fonts) {
            on.fill_with(ink);
            on.font(font);
            for line in &lines.lines {
                on.write_within(line, 0.5 * letters, foot, wide - letters);
                foot += LINE * letters;
            }
        }
        drop(lines);
        self.told.replace(told);
    }
    /// Leaves nothing.
    pub fn clear(&self) {
        self.told.take();
        self.on.clear(0.0, 0.0, self.size.0, self.size.1);
    }
}
