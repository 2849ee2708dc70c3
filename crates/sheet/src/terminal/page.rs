//! A page of text: wraps words at a width, hangs indents, and paints words if the reader's screen can show colour.
//!
//! Words carry their paint, so that a line is wrapped by what is seen and not by the escape codes in it.

use unicode_width::UnicodeWidthStr;

/// Narrowest page; a smaller wish is taken as this.
pub const NARROWEST: usize = 20;

/// How a word is painted. It never says anything that the words don't.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paint {
    /// As it is.
    Plain,
    /// Headings and labels.
    Strong,
    /// Side remarks.
    Faint,
    /// `holds`.
    Good,
    /// `holds below a stop load`.
    Careful,
    /// `overloaded`.
    Bad,
    /// `unknown`.
    Open,
}
impl Paint {
    const fn code(self) -> &'static str {
        match self {
            Self::Plain => "",
            Self::Strong => "\x1b[1m",
            Self::Faint => "\x1b[2m",
            Self::Good => "\x1b[1;32m",
            Self::Careful => "\x1b[1;33m",
            Self::Bad => "\x1b[1;31m",
            Self::Open => "\x1b[1;35m",
        }
    }
}

/// A run of text with one paint.
pub type Span<'a> = (&'a str, Paint);

/// A space that a line is not broken at; printed as an ordinary one.
const KEEP: char = '\u{a0}';

/// The text with its spaces kept together.
#[must_use]
pub fn kept(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// The text without what could steer a terminal or turn the reading direction: such characters become `�`.
#[must_use]
pub fn clean(text: &str) -> String {
    let steers = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
    };
    text.chars()
        .map(|c| {
            if c == '\t' {
                ' '
            } else if steers(c) {
                '\u{fffd}'
            } else {
                c
            }
        })
        .collect()
}

/// How wide a text is on a screen.
#[must_use]
pub fn width_of(text: &str) -> usize {
    text.width()
}

/// The page.
#[derive(Debug)]
pub struct Page {
    out: String,
    width: usize,
    colour: bool,
    /// How wide a text is.
    measure: fn(&str) -> usize,
}

struct Word {
    text: String,
    paint: Paint,
    /// Whether it follows the one before without a space.
    joined: bool,
}

impl Page {
    /// An empty page.
    #[must_use]
    pub fn new(width: usize, colour: bool) -> Self {
        Self { out: String::new(), width: width.max(NARROWEST), colour, measure: width_of }
    }
    /// Its width.
    #[must_use]
    pub const fn width(&self) -> usize {
        self.width
    }
    /// What was written.
    #[must_use]
    pub fn finish(self) -> String {
        self.out
    }
    /// An empty line, unless the page is empty or ends in one.
    pub fn gap(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }
    /// A heading after a gap.
    pub fn heading(&mut self, text: &str) {
        self.gap();
        self.flow(0, 0, &[(text, Paint::Strong)]);
    }
    /// A paragraph.
    pub fn para(&mut self, indent: usize, text: &str) {
        self.flow(indent, indent, &[(text, Paint::Plain)]);
    }
    /// A list item: its mark, then the text hanging beside it.
    pub fn item(&mut self, indent: usize, mark: &str, spans: &[Span<'_>]) {
        let hang = indent + width_of(mark) + 1;
        let mark = format!("{} ", kept(mark));
        let mut all = vec![(mark.as_str(), Paint::Plain)];
        all.extend_from_slice(spans);
        self.flow(indent, hang, &all);
    }
    /// Spans as one paragraph with its own indent for the first line.
    pub fn flow(&mut self, first: usize, rest: usize, spans: &[Span<'_>]) {
        // On a narrow page an indent must not eat the line.
        let most = self.width / 3;
        let (first, rest) = (first.min(most), rest.min(most));
        let mut lines: Vec<Vec<Word>> = vec![Vec::new()];
        let mut used = first;
        for word in words(spans, self.width - first.max(rest), self.measure) {
            if word.text == "\n" {
                lines.push(Vec::new());
                used = rest;
                continue;
            }
            let line_is_empty = lines.last().is_none_or(Vec::is_empty);
            let space = usize::from(!line_is_empty && !word.joined);
            let wide = (self.measure)(&word.text);
            if !line_is_empty && used + space + wide > self.width {
                lines.push(Vec::new());
                used = rest + wide;
            } else {
                used += space + wide;
            }
            if let Some(line) = lines.last_mut() {
                line.push(word);
            }
        }
        for (i, line) in lines.iter().enumerate() {
            self.line(if i == 0 { first } else { rest }, line);
        }
    }
    fn line(&mut self, indent: usize, line: &[Word]) {
        if line.is_empty() {
            self.out.push('\n');
            return;
        }
        self.out.extend(core::iter::repeat_n(' ', indent));
        let mut now = Paint::Plain;
        for (i, w) in line.iter().enumerate() {
            if self.colour && w.paint != now && now != Paint::Plain {
                self.out.push_str("\x1b[0m");
            }
            if i > 0 && !w.joined {
                self.out.push(' ');
            }
            if self.colour && w.paint != now {
                self.out.push_str(w.paint.code());
            }
            now = w.paint;
            self.out.extend(w.text.chars().map(|c| if c == KEEP { ' ' } else { c }));
        }
        if self.colour && now != Paint::Plain {
            self.out.push_str("\x1b[0m");
        }
        while self.out.ends_with(' ') {
            self.out.pop();
        }
        self.out.push('\n');
    }
    /// One row of cells that are already wrapped and padded. Each line is a list of spans.
    pub(super) fn raw_line(&mut self, spans: &[Span<'_>]) {
        let line: Vec<Word> =
            spans.iter().map(|(t, paint)| Word { text: kept(t), paint: *paint, joined: true }).collect();
        self.line(0, &line);
    }
}

/// Splits spans into words no wider than `most`.
fn words(spans: &[Span<'_>], most: usize, measure: fn(&str) -> usize) -> Vec<Word> {
    let mut out = Vec::new();
    let mut joined = true;
    for (text, paint) in spans {
        let text = clean(text);
        for (n, paragraph) in text.split('\n').enumerate() {
            if n > 0 {
                out.push(Word { text: "\n".into(), paint: *paint, joined: true });
                joined = true;
            }
            for (i, piece) in paragraph.split(' ').enumerate() {
                if i > 0 {
                    joined = false;
                }
                if piece.is_empty() {
                    continue;
                }
                for part in chop(piece, most, measure) {
                    out.push(Word { text: part, paint: *paint, joined });
                    joined = true;
                }
            }
        }
    }
    out
}

/// Chops a word that is wider than a line; kept spaces give way first.
fn chop(word: &str, most: usize, measure: fn(&str) -> usize) -> Vec<String> {
    if measure(word) <= most {
        return vec![word.to_owned()];
    }
    if word.contains(KEEP) {
        let mut out = Vec::new();
        for part in word.split(KEEP).filter(|p| !p.is_empty()) {
            out.extend(chop(part, most, measure));
        }
        return out;
    }
    let mut out = vec![String::new()];
    let mut used = 0;
    for c in word.chars() {
        let wide = measure(c.encode_utf8(&mut [0; 4]));
        if used + wide > most && used > 0 {
            out.push(String::new());
            used = 0;
        }
        used += wide;
        if let Some(last) = out.last_mut() {
            last.push(c);
        }
    }
    out
}

/// Wraps a plain text to lines no wider than `width`.
pub(crate) fn wrap(text: &str, width: usize) -> Vec<String> {
    wrap_by(text, width, width_of)
}

/// The same for something else than a terminal, which knows itself how wide a text is.
pub(crate) fn wrap_by(text: &str, width: usize, measure: fn(&str) -> usize) -> Vec<String> {
    let mut page = Page { out: String::new(), width: width.max(1), colour: false, measure };
    page.flow(0, 0, &[(text, Paint::Plain)]);
    page.out.lines().map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_no_line_is_wider_than_the_page() {
        for width in [20, 40, 80] {
            let mut p = Page::new(width, false);
            p.item(2, "-", &[("a very-long-word-that-is-wider-than-any-narrow-page-may-be and more", Paint::Plain)]);
            p.para(4, "漢字漢字漢字漢字漢字漢字漢字漢字漢字漢字漢字漢字 x");
            assert!(p.finish().lines().all(|l| width_of(l) <= width));
        }
    }

    #[test]
    fn regress_kept_spaces_stay_on_one_line() {
        let mut p = Page::new(20, false);
        p.para(0, &format!("the load is about {}", kept("24 kN")));
        assert_eq!(p.finish(), "the load is about\n24 kN\n");
    }

    #[test]
    fn regress_control_characters_do_not_reach_the_terminal() {
        let mut p = Page::new(40, false);
        p.para(0, "a\x1b[31mred\u{202e}\x07");
        assert_eq!(p.finish(), "a\u{fffd}[31mred\u{fffd}\u{fffd}\n");
    }

    #[test]
    fn regress_colour_changes_no_word_and_no_wrap() {
        let spans = [("a ", Paint::Plain), ("bold and long enough to wrap", Paint::Strong), (" end", Paint::Plain)];
        let write = |colour| {
            let mut p = Page::new(20, colour);
            p.flow(0, 2, &spans);
            p.finish()
        };
        let plain = write(false);
        let mut stripped = write(true);
        for code in ["\x1b[0m", "\x1b[1m"] {
            stripped = stripped.replace(code, "");
        }
        assert_eq!(stripped, plain);
        assert!(write(true).contains("\x1b[1m"));
    }
}
