//! Values as they are written, with the space and the comments round them.

use core::fmt::Write as _;

/// A value as it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Raw {
    /// A text with its quotes, a number, a flag, a date.
    Plain(String),
    /// A list between brackets.
    List(Row),
    /// A table between braces.
    Table(Row),
}

/// What stands between brackets or braces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    pub(super) nodes: Vec<Node>,
    /// What stands behind the last comma, if the last has one; of an empty row all that stands in it.
    pub(super) rest: Option<String>,
}

/// One value with its key, if it has one, and what stands round it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Space, comments and empty lines before it.
    pub(super) lead: String,
    /// The parts of its key; none in a list.
    pub(super) key: Vec<String>,
    /// The key as it is written, with everything up to the value.
    pub(super) name: String,
    /// The value.
    pub(super) value: Raw,
    /// What stands behind it: up to the comma, or to the end of the line with that.
    pub(super) tail: String,
}
impl Node {
    pub(super) fn new(key: Vec<String>, value: Raw, lead: &str, tail: &str) -> Self {
        let name = if key.is_empty() { String::new() } else { format!("{} = ", key.join(".")) };
        Self { lead: lead.to_owned(), key, name, value, tail: tail.to_owned() }
    }
    pub(super) fn write(&self, out: &mut String) {
        out.push_str(&self.lead);
        out.push_str(&self.name);
        self.value.write(out);
        out.push_str(&self.tail);
    }
}

impl Row {
    /// Adds one at the end, in the way of those that are there.
    pub(super) fn push(&mut self, key: Vec<String>, value: Raw) {
        let in_table = !key.is_empty();
        let mut new = Node::new(key, value, " ", "");
        match self.nodes.last_mut() {
            // What was the last had the space before the bracket.
            Some(last) => new.tail = core::mem::take(&mut last.tail),
            None if in_table => " ".clone_into(&mut new.tail),
            None => new.lead.clear(),
        }
        if self.nodes.is_empty() {
            self.rest = None;
        }
        self.nodes.push(new);
    }
    /// Takes one away; its neighbour takes over the space at the bracket.
    pub(super) fn take(&mut self, at: usize) {
        if at >= self.nodes.len() {
            return;
        }
        let gone = self.nodes.remove(at);
        if let (0, Some(first)) = (at, self.nodes.first_mut()) {
            first.lead = gone.lead;
        } else if let (true, Some(last)) = (at == self.nodes.len(), self.nodes.last_mut()) {
            last.tail = gone.tail;
        }
        if self.nodes.is_empty() {
            self.rest = None;
        }
    }
}

impl Raw {
    /// A table on a line.
    #[must_use]
    pub fn table(pairs: Vec<(&str, Self)>) -> Self {
        let mut row = Row::default();
        pairs.into_iter().for_each(|(key, value)| row.push(vec![key.to_owned()], value));
        Self::Table(row)
    }
    pub(super) fn write(&self, out: &mut String) {
        let (row, open, close) = match self {
            Self::Plain(text) => return out.push_str(text),
            Self::List(row) => (row, '[', ']'),
            Self::Table(row) => (row, '{', '}'),
        };
        out.push(open);
        for (i, node) in row.nodes.iter().enumerate() {
            if i > 0 {
                out.push(',');
            }
            node.write(out);
        }
        if let Some(rest) = &row.rest {
            if !row.nodes.is_empty() {
                out.push(',');
            }
            out.push_str(rest);
        }
        out.push(close);
    }
    /// As it is written.
    pub(super) fn text(&self) -> String {
        let mut out = String::new();
        self.write(&mut out);
        out
    }
    /// In words; none for a list or a table.
    pub(super) fn words(&self) -> Option<String> {
        let Self::Plain(text) = self else { return None };
        if !text.starts_with(['"', '\'']) {
            return Some(text.clone());
        }
        let read = toml::de::DeValue::parse(text).ok()?;
        read.get_ref().as_str().map(str::to_owned)
    }
    /// The number that it is.
    pub(super) fn number(&self) -> Option<f64> {
        let Self::Plain(text) = self else { return None };
        let read = toml::de::DeValue::parse(text).ok()?;
        match read.get_ref() {
            toml::de::DeValue::Integer(i) => i64::from_str_radix(i.as_str(), i.radix()).ok().map(|n| n as f64),
            toml::de::DeValue::Float(f) => f.as_str().parse().ok(),
            _ => None,
        }
    }
}

impl From<&str> for Raw {
    fn from(text: &str) -> Self {
        let hard = |c: char| c.is_control() || c == '\\' || c == '"';
        if !text.contains(hard) {
            return Self::Plain(format!("\"{text}\""));
        }
        if !text.contains(|c: char| c.is_control() || c == '\'') {
            return Self::Plain(format!("'{text}'"));
        }
        let mut out = "\"".to_owned();
        for c in text.chars() {
            match c {
                '"' | '\\' => {
                    out.push('\\');
                    out.push(c);
                }
                c if c.is_control() => {
                    let _ = write!(out, "\\u{:04X}", u32::from(c));
                }
                c => out.push(c),
            }
        }
        out.push('"');
        Self::Plain(out)
    }
}
impl From<String> for Raw {
    fn from(text: String) -> Self {
        text.as_str().into()
    }
}
impl From<bool> for Raw {
    fn from(b: bool) -> Self {
        Self::Plain(if b { "true" } else { "false" }.to_owned())
    }
}
impl From<i64> for Raw {
    fn from(n: i64) -> Self {
        Self::Plain(n.to_string())
    }
}
impl From<f64> for Raw {
    fn from(x: f64) -> Self {
        let text = x.to_string();
        // A number with a point, so that it stays one that can have a fraction.
        let whole = text.bytes().all(|b| b.is_ascii_digit() || b == b'-');
        Self::Plain(if whole {
            text + ".0"
        } else if x.is_nan() {
            "nan".to_owned()
        } else {
            text
        })
    }
}
impl<T: Into<Self>> FromIterator<T> for Raw {
    fn from_iter<I: IntoIterator<Item = T>>(all: I) -> Self {
        let mut row = Row::default();
        all.into_iter().for_each(|one| row.push(Vec::new(), one.into()));
        Self::List(row)
    }
}
