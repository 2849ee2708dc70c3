//! What is wrong with a file: where, what was expected, an example, what to do.

use core::ops::Range;

/// One thing that is wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// A stable word for the kind of mistake.
    pub code: &'static str,
    /// The kit file in which it stands; nothing for the file that was read.
    pub file: Option<String>,
    /// Line, from one.
    pub line: u32,
    /// Column in characters, from one.
    pub column: u32,
    /// Bytes of the text at fault.
    pub span: Range<usize>,
    /// What is wrong.
    pub message: String,
    /// What was expected there; may be empty where the message says it all.
    pub expected: String,
    /// An example of it; may be empty.
    pub example: String,
    /// What to do, if there is something to say.
    pub hint: Option<String>,
    /// The key that is missing, if that is what is wrong.
    pub missing: Option<String>,
    /// The line of the text, cut to its part round the mistake.
    pub excerpt: String,
    /// Where in the excerpt the marks start, in characters.
    pub mark: usize,
    /// How many marks.
    pub marks: usize,
}

/// How much of a long line is shown before and behind the mistake.
const BEFORE: usize = 40;
const BEHIND: usize = 60;

/// Where the lines of a text start.
#[derive(Clone, Debug)]
pub(crate) struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}
impl<'a> Lines<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        let mut starts = vec![0];
        starts.extend(text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1));
        Self { text, starts }
    }
    /// The line of a byte, from one.
    pub(crate) fn line(&self, at: usize) -> u32 {
        u32::try_from(self.starts.partition_point(|s| *s <= at)).unwrap_or(u32::MAX)
    }
    /// The bytes of a line, without what leads it in.
    pub(crate) fn bytes(&self, line: u32) -> Range<usize> {
        let start = (line as usize).checked_sub(1).and_then(|i| self.starts.get(i)).copied().unwrap_or(0);
        let end = self.text[start..].find('\n').map_or(self.text.len(), |n| start + n);
        let lead = self.text[start..end].len() - self.text[start..end].trim_start().len();
        start + lead..end
    }
    /// Fills in where a diagnostic stands.
    pub(crate) fn locate(&self, d: &mut Diagnostic) {
        let mut at = d.span.start.min(self.text.len());
        while !self.text.is_char_boundary(at) {
            at -= 1;
        }
        let line = self.line(at);
        let start = self.starts.get(line as usize - 1).copied().unwrap_or(0);
        let end = self.text[start..].find('\n').map_or(self.text.len(), |n| start + n);
        let shown: Vec<char> = self.text[start..end].trim_end_matches('\r').chars().collect();
        let column = self.text[start..at].chars().count();
        let mut stop = d.span.end.clamp(at, end.max(at));
        while !self.text.is_char_boundary(stop) {
            stop -= 1;
        }
        let marks = self.text[at..stop.max(at)].trim_end().chars().count().max(1);
        let from = column.saturating_sub(BEFORE);
        let to = shown.len().min(column + marks.min(BEHIND) + 20).max(from.min(shown.len()));
        let cut_left = if from > 0 { "… " } else { "" };
        let cut_right = if to < shown.len() { " …" } else { "" };
        let body: String =
            shown.get(from..to).unwrap_or(&[]).iter().map(|c| if c.is_control() { '\u{fffd}' } else { *c }).collect();
        d.line = line;
        d.column = u32::try_from(column + 1).unwrap_or(u32::MAX);
        d.mark = column - from + cut_left.chars().count();
        d.marks = marks.min(BEHIND);
        d.excerpt = format!("{cut_left}{body}{cut_right}");
    }
}

/// Prints diagnostics for a terminal of so many columns. `name` is what the file is called.
#[must_use]
pub fn render(diagnostics: &[Diagnostic], name: &str, width: usize) -> String {
    let width = width.clamp(24, 200);
    let mut out = String::new();
    for d in diagnostics {
        let place = format!("{}:{}:{}", d.file.as_deref().unwrap_or(name), d.line, d.column);
        wrap(&mut out, "", &format!("error[{}] at {place}", d.code), width);
        let gutter = d.line.to_string();
        let blank = " ".repeat(gutter.len());
        // A narrow terminal sees the part of the line round the mark.
        let room = width.saturating_sub(gutter.len() + 4);
        let skip = (d.mark + d.marks.min(room)).saturating_sub(room).min(d.mark);
        let line: String = d.excerpt.chars().skip(skip).take(room).collect();
        out.push_str(&format!(" {gutter} | {}\n", line.trim_end()));
        let marks = "^".repeat(d.marks.min(room.saturating_sub(d.mark - skip)).max(1));
        out.push_str(&format!(" {blank} | {}{marks}\n", " ".repeat(d.mark - skip)));
        wrap(&mut out, "  ", &d.message, width);
        if !d.expected.is_empty() {
            wrap(&mut out, "  expected: ", &d.expected, width);
        }
        if !d.example.is_empty() {
            wrap(&mut out, "  example:  ", &d.example, width);
        }
        if let Some(hint) = &d.hint {
            wrap(&mut out, "  hint:     ", hint, width);
        }
        out.push('\n');
    }
    out
}

/// Wraps words; what follows the first line is indented like it.
fn wrap(out: &mut String, lead: &str, text: &str, width: usize) {
    let indent = if lead.trim().is_empty() { lead.len() } else { 12 };
    let mut column = lead.chars().count();
    out.push_str(lead);
    let mut first = true;
    for word in text.split_whitespace() {
        let len = word.chars().count();
        if !first && column + 1 + len > width {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            column = indent;
        } else if !first {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += len;
        first = false;
    }
    out.push('\n');
}
