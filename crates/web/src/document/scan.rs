//! Takes a text apart into what is written in it, so that it can be put together again to the letter. The text is TOML: `toml` has read it.

use super::raw::{Node, Raw, Row};
use super::written::{Block, Written};

struct Scan<'t> {
    text: &'t str,
    at: usize,
}

/// A text that is TOML; nothing if it is not.
pub(super) fn scan(text: &str) -> Option<Written> {
    let mut s = Scan { text, at: 0 };
    let mut out = Written { blocks: vec![Block::default()], tail: String::new() };
    loop {
        let lead = s.space(true);
        let block = out.blocks.last_mut()?;
        match s.next() {
            None => {
                out.tail = lead;
                out.number();
                return Some(out);
            }
            Some('[') => {
                let start = s.at;
                s.at += 1;
                let list = s.next() == Some('[');
                s.at += usize::from(list);
                let key = s.key()?;
                s.line();
                let line = text.get(start..s.at)?.to_owned();
                out.blocks.push(Block { lead, key, list, line, ..Block::default() });
            }
            Some(_) => {
                let mut node = s.pair(lead)?;
                node.tail = s.line();
                block.nodes.push(node);
            }
        }
    }
}

impl Scan<'_> {
    fn left(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }
    fn next(&self) -> Option<char> {
        self.left().chars().next()
    }
    /// As far as something holds.
    fn run(&mut self, holds: impl Fn(char) -> bool) -> String {
        let left = self.left();
        let taken = left.get(..left.find(|c| !holds(c)).unwrap_or(left.len())).unwrap_or_default().to_owned();
        self.at += taken.len();
        taken
    }
    /// Space; with line ends and comments too.
    fn space(&mut self, lines: bool) -> String {
        let mut out = String::new();
        loop {
            out += &self.run(|c| matches!(c, ' ' | '\t') || lines && matches!(c, '\n' | '\r' | '\u{feff}'));
            if !lines || self.next() != Some('#') {
                return out;
            }
            out += &self.run(|c| c != '\n');
        }
    }
    /// The rest of the line, with its end.
    fn line(&mut self) -> String {
        let mut out = self.run(|c| c != '\n');
        if self.next() == Some('\n') {
            out.push('\n');
            self.at += 1;
        }
        out
    }
    /// A text between its quotes.
    fn quoted(&mut self) -> Option<String> {
        let left = self.left();
        let quote = left.chars().next()?;
        let long = quote.to_string().repeat(3);
        let close = if left.starts_with(&long) { long.as_str() } else { long.get(..1)? };
        let mut at = close.len();
        loop {
            let rest = left.get(at..)?;
            if rest.starts_with(close) {
                at += close.len();
                // Up to two quotes may stand before the three that close it.
                while close.len() == 3 && left.get(at..).is_some_and(|r| r.starts_with(quote)) {
                    at += 1;
                }
                break;
            }
            let c = rest.chars().next()?;
            at += c.len_utf8();
            if c == '\\' && quote == '"' {
                at += left.get(at..)?.chars().next()?.len_utf8();
            }
        }
        let out = left.get(..at)?.to_owned();
        self.at += at;
        Some(out)
    }
    /// The parts of a key.
    fn key(&mut self) -> Option<Vec<String>> {
        let mut out = Vec::new();
        loop {
            self.space(false);
            out.push(match self.next()? {
                '"' | '\'' => Raw::Plain(self.quoted()?).words()?,
                _ => self.run(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-'),
            });
            self.space(false);
            if self.next() != Some('.') {
                return Some(out);
            }
            self.at += 1;
        }
    }
    /// A key with its value.
    fn pair(&mut self, lead: String) -> Option<Node> {
        let start = self.at;
        let key = self.key()?;
        if self.next() != Some('=') {
            return None;
        }
        self.at += 1;
        self.space(false);
        let name = self.text.get(start..self.at)?.to_owned();
        Some(Node { lead, key, name, value: self.value()?, tail: String::new() })
    }
    fn value(&mut self) -> Option<Raw> {
        Some(match self.next()? {
            '[' => Raw::List(self.row(']')?),
            '{' => Raw::Table(self.row('}')?),
            '"' | '\'' => Raw::Plain(self.quoted()?),
            _ => {
                let text = self.run(|c| !matches!(c, ',' | ']' | '}' | '#' | '\n' | '\r'));
                let plain = text.trim_end();
                self.at -= text.len() - plain.len();
                Raw::Plain(plain.to_owned())
            }
        })
    }
    fn row(&mut self, close: char) -> Option<Row> {
        self.at += 1;
        let mut out = Row::default();
        loop {
            let lead = self.space(true);
            if self.next()? == close {
                self.at += 1;
                out.rest = (!lead.is_empty() || !out.nodes.is_empty()).then_some(lead);
                return Some(out);
            }
            let mut node = if close == '}' {
                self.pair(lead)?
            } else {
                Node { lead, key: Vec::new(), name: String::new(), value: self.value()?, tail: String::new() }
            };
            node.tail = self.space(true);
            out.nodes.push(node);
            match self.next()? {
                ',' => self.at += 1,
                c if c == close => {
                    self.at += 1;
                    return Some(out);
                }
                _ => return None,
            }
        }
    }
}
