//! A small writer of SVG: elements with their attributes, numbers with one decimal, every text escaped.

use core::fmt::Write as _;

/// A number as it stands in an attribute: one decimal, no needless zero, never `-0`.
#[must_use]
pub(super) fn n(x: f64) -> String {
    let t = format!("{x:.1}");
    let t = t.strip_suffix(".0").map_or(t.as_str(), |whole| whole);
    if t == "-0" { "0".into() } else { t.into() }
}

/// A text with the five characters of XML escaped and without characters that XML forbids.
#[must_use]
pub(super) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in crate::terminal::page::clean(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            '\u{a0}' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// The file under construction.
#[derive(Debug, Default)]
pub(super) struct Svg {
    out: String,
    open: Vec<&'static str>,
}

/// Attributes: name and value.
pub(super) type Attributes<'a> = &'a [(&'a str, &'a str)];

impl Svg {
    fn start(&mut self, tag: &str, attributes: Attributes<'_>) {
        for _ in 0..self.open.len() {
            self.out.push(' ');
        }
        let _ = write!(self.out, "<{tag}");
        for (name, value) in attributes {
            let _ = write!(self.out, " {name}=\"{}\"", escape(value));
        }
    }
    /// Opens an element.
    pub fn open(&mut self, tag: &'static str, attributes: Attributes<'_>) {
        self.start(tag, attributes);
        self.out.push_str(">\n");
        self.open.push(tag);
    }
    /// Closes the element that was opened last.
    pub fn close(&mut self) {
        if let Some(tag) = self.open.pop() {
            for _ in 0..self.open.len() {
                self.out.push(' ');
            }
            let _ = writeln!(self.out, "</{tag}>");
        }
    }
    /// An element without content.
    pub fn empty(&mut self, tag: &str, attributes: Attributes<'_>) {
        self.start(tag, attributes);
        self.out.push_str("/>\n");
    }
    /// An element with text only.
    pub fn text_element(&mut self, tag: &str, attributes: Attributes<'_>, text: &str) {
        self.start(tag, attributes);
        let _ = writeln!(self.out, ">{}</{tag}>", escape(text));
    }
    /// Text that is already in order: a style sheet.
    pub fn raw(&mut self, text: &str) {
        self.out.push_str(text);
    }
    /// A text with its baseline at a place. `class` sets its size and weight.
    pub fn label(&mut self, x: f64, y: f64, class: &str, text: &str) {
        self.text_element("text", &[("x", &n(x)), ("y", &n(y)), ("class", class)], text);
    }
    /// A straight line.
    pub fn line(&mut self, a: (f64, f64), b: (f64, f64), class: &str) {
        self.empty("line", &[("x1", &n(a.0)), ("y1", &n(a.1)), ("x2", &n(b.0)), ("y2", &n(b.1)), ("class", class)]);
    }
    /// A circle.
    pub fn circle(&mut self, at: (f64, f64), r: f64, class: &str) {
        self.empty("circle", &[("cx", &n(at.0)), ("cy", &n(at.1)), ("r", &n(r)), ("class", class)]);
    }
    /// A rectangle by its corner.
    pub fn rect(&mut self, at: (f64, f64), size: (f64, f64), class: &str) {
        self.empty(
            "rect",
            &[("x", &n(at.0)), ("y", &n(at.1)), ("width", &n(size.0)), ("height", &n(size.1)), ("class", class)],
        );
    }
    /// A polygon, or an open line if `closed` is not set.
    pub fn poly(&mut self, points: &[(f64, f64)], closed: bool, class: &str) {
        let list: Vec<String> = points.iter().map(|p| format!("{},{}", n(p.0), n(p.1))).collect();
        let tag = if closed { "polygon" } else { "polyline" };
        self.empty(tag, &[("points", &list.join(" ")), ("class", class)]);
    }
    /// The finished text.
    pub fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_text_cannot_break_out_of_its_element() {
        assert_eq!(escape("<a href='x'>&\"\x1b\u{202e}"), "&lt;a href=&#39;x&#39;&gt;&amp;&quot;\u{fffd}\u{fffd}");
    }

    #[test]
    fn regress_numbers_are_short() {
        assert_eq!(n(-0.01), "0");
        assert_eq!(n(12.0), "12");
        assert_eq!(n(1.25), "1.2");
    }
}
