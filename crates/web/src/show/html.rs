//! HTML as it is written: what is fixed in the program goes in as it is, everything else is escaped.

/// A text of HTML that grows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Html(String);
impl Html {
    /// Markup that stands in the program.
    pub fn raw(&mut self, markup: &'static str) -> &mut Self {
        self.0.push_str(markup);
        self
    }
    /// Any text, escaped so that it stays a text, within an element and within an attribute in double quotes.
    pub fn text(&mut self, text: &str) -> &mut Self {
        for c in text.chars() {
            match c {
                '&' => self.0.push_str("&amp;"),
                '<' => self.0.push_str("&lt;"),
                '>' => self.0.push_str("&gt;"),
                '"' => self.0.push_str("&quot;"),
                c => self.0.push(c),
            }
        }
        self
    }
    /// An element with nothing but a text: its first tag, the text, its last tag.
    pub fn put(&mut self, open: &'static str, text: &str, close: &'static str) -> &mut Self {
        self.raw(open).text(text).raw(close)
    }
    /// The same, if there is a text.
    pub fn maybe(&mut self, open: &'static str, text: Option<&str>, close: &'static str) -> &mut Self {
        match text.filter(|t| !t.is_empty()) {
            Some(text) => self.put(open, text, close),
            None => self,
        }
    }
    /// The whole text.
    #[must_use]
    pub fn done(self) -> String {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::Html;

    #[test]
    fn regress_a_text_stays_a_text() {
        let mut h = Html::default();
        h.put("<p title=\"", "\"><script>", "\">")
            .put("<b>", "1 < 2 & 'x'", "</b>")
            .maybe("<i>", None, "</i>")
            .raw("</p>");
        assert_eq!(h.done(), "<p title=\"&quot;&gt;&lt;script&gt;\"><b>1 &lt; 2 &amp; 'x'</b></p>");
    }
}
