//! Changing a document: setting, removing, appending at a path.

use super::raw::{Node, Raw};
use super::written::{Block, Spot, Written, along};
use super::{CaseText, Path, Step};
use core::fmt;
use toml::de::DeTable;

/// Why an edit can't be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EditError {
    /// The text is no TOML.
    NoToml(String),
    /// The path is none.
    NoPath(String),
    /// Nothing can stand there: the way leads through a value, or past the end of a list.
    NoPlace(String),
}
impl fmt::Display for EditError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoToml(why) => write!(f, "this is no TOML: {why}"),
            Self::NoPath(path) => write!(f, "'{path}' is no path"),
            Self::NoPlace(path) => write!(f, "nothing can stand at '{path}'"),
        }
    }
}
impl core::error::Error for EditError {}

/// The names along a path.
fn names(path: &[Step]) -> Vec<String> {
    path.iter()
        .filter_map(|s| match s {
            Step::Key(k) => Some(k.clone()),
            Step::Index(_) => None,
        })
        .collect()
}

/// Ends a line that the end of the text ended.
fn close(text: &mut String) {
    if !text.is_empty() && !text.ends_with('\n') {
        text.push('\n');
    }
}

impl Written {
    /// Puts a value at a path. Gives whether something can stand there.
    fn put(&mut self, path: &[Step], value: Raw) -> bool {
        if let Some(old) = self.value_mut(path) {
            *old = value;
            return true;
        }
        let Some((Step::Key(key), parent)) = path.split_last() else { return false };
        if !self.make(parent) {
            return false;
        }
        self.take(path);
        match self.value_mut(parent) {
            Some(Raw::Table(row)) => row.push(vec![key.clone()], value),
            Some(_) => return false,
            None => self.insert(parent, key, value),
        }
        true
    }
    /// Sees to it that a table is there; tables that are missing are made, in the way in which their parent is written.
    fn make(&mut self, path: &[Step]) -> bool {
        for n in 1..=path.len() {
            let (Some(here), Some(above)) = (path.get(..n), path.get(..n - 1)) else { return false };
            if self.spot(here).is_some() {
                continue;
            }
            let Some(Step::Key(key)) = here.last() else { return false };
            if let Some(Spot::List(_)) = self.spot(above) {
                return false;
            }
            match self.value_mut(above) {
                Some(Raw::Table(row)) => row.push(vec![key.clone()], Raw::table(Vec::new())),
                Some(_) => return false,
                None => self.add(here, above, false),
            }
        }
        path.is_empty() || matches!(self.spot(path), Some(Spot::Table | Spot::Value(Raw::Table(_))))
    }
    /// Adds a heading behind all that begins with a path.
    fn add(&mut self, path: &[Step], behind: &[Step], list: bool) {
        let key = names(path);
        let line = if list { format!("[[{}]]\n", key.join(".")) } else { format!("[{}]\n", key.join(".")) };
        let at = self.blocks.iter().rposition(|b| b.path.starts_with(behind)).map_or(self.blocks.len(), |i| i + 1);
        self.close_at(at);
        let lead = if self.blocks.iter().take(at).all(|b| b.line.is_empty() && b.nodes.is_empty()) { "" } else { "\n" };
        self.blocks.insert(at, Block { lead: lead.to_owned(), key, list, line, ..Block::default() });
        self.number();
    }
    /// Ends the line before a block.
    fn close_at(&mut self, at: usize) {
        if let Some(before) = at.checked_sub(1).and_then(|i| self.blocks.get_mut(i)) {
            close(before.nodes.last_mut().map_or(&mut before.line, |n| &mut n.tail));
        }
    }
    /// Adds a key to a table that is there and does not have it.
    fn insert(&mut self, table: &[Step], key: &str, value: Raw) {
        if let Some(i) = self.blocks.iter().position(|b| b.path == table) {
            self.close_at(i + 1);
            if let Some(block) = self.blocks.get_mut(i) {
                block.nodes.push(Node::new(vec![key.to_owned()], value, "", "\n"));
            }
            return;
        }
        for block in &mut self.blocks {
            let Some(rest) = table.strip_prefix(block.path.as_slice()) else { continue };
            // Of keys with points in them: one more of those.
            if let Some(i) = block.nodes.iter().rposition(|n| n.key.len() > rest.len() && along(&n.key, rest)) {
                close(block.nodes.get_mut(i).map(|n| &mut n.tail).unwrap_or(&mut String::new()));
                let mut whole = names(rest);
                whole.push(key.to_owned());
                block.nodes.insert(i + 1, Node::new(whole, value, "", "\n"));
                return;
            }
        }
        // Only tables under it have headings: it gets its own before them.
        let key_of = names(table);
        let line = format!("[{}]\n", key_of.join("."));
        let at = self.blocks.iter().position(|b| b.path.starts_with(table)).unwrap_or(self.blocks.len());
        let lead = self.blocks.get_mut(at).map(|b| core::mem::replace(&mut b.lead, "\n".to_owned()));
        let nodes = vec![Node::new(vec![key.to_owned()], value, "", "\n")];
        let block = Block { lead: lead.unwrap_or_default(), key: key_of, line, nodes, ..Block::default() };
        self.blocks.insert(at, block);
        self.number();
    }
    /// Takes away what stands at a path, with the comments before it.
    fn take(&mut self, path: &[Step]) -> bool {
        if self.spot(path).is_none() {
            return false;
        }
        self.blocks.retain(|b| !b.path.starts_with(path));
        for block in &mut self.blocks {
            if let Some(rest) = path.strip_prefix(block.path.as_slice()).filter(|r| !r.is_empty()) {
                block.nodes.retain(|n| n.key.len() < rest.len() || !along(&n.key, rest));
            }
        }
        self.number();
        let Some((last, parent)) = path.split_last() else { return false };
        match (self.value_mut(parent), last) {
            (Some(Raw::List(row)), Step::Index(n)) => row.take(*n),
            (Some(Raw::Table(row)), Step::Key(k)) => {
                while let Some(i) = row.nodes.iter().position(|n| n.key.first() == Some(k)) {
                    row.take(i);
                }
            }
            _ => {}
        }
        true
    }
}

impl CaseText {
    /// Puts a value at a path, in the place of what stood there; what stood behind it on the line stays.
    ///
    /// # Errors
    /// If nothing can stand there. Then nothing is changed.
    pub fn set(&mut self, path: &str, value: impl Into<Raw>) -> Result<(), EditError> {
        let value = value.into();
        self.change(path, &mut |doc, path| doc.put(path, value.clone()))
    }
    /// Puts a value that nobody measured, and why it is assumed.
    ///
    /// # Errors
    /// As [`set`](Self::set).
    pub fn assume(&mut self, path: &str, value: &str, why: &str) -> Result<(), EditError> {
        self.set(path, Raw::table(vec![("value", value.into()), ("assumed", why.into())]))
    }
    /// Adds an empty table at the end of a list of tables, or of a list on a line, and gives its number. A list that is
    /// missing is made.
    ///
    /// # Errors
    /// If nothing can stand there. Then nothing is changed.
    pub fn append(&mut self, path: &str) -> Result<usize, EditError> {
        let mut at = 0;
        self.change(path, &mut |doc, path| {
            let Some((Step::Key(key), parent)) = path.split_last() else { return false };
            let there = doc.spot(path).map(|spot| match spot {
                Spot::List(n) => Some(n),
                Spot::Value(Raw::List(row)) => Some(row.nodes.len()),
                _ => None,
            });
            let list = match there {
                Some(None) => return false,
                Some(n) => n,
                None if doc.make(parent) => None,
                None => return false,
            };
            at = list.unwrap_or(0);
            let empty = Raw::table(Vec::new());
            if let Some(Raw::List(row)) = doc.value_mut(path) {
                row.push(Vec::new(), empty);
            } else if let Some(Raw::Table(row)) = doc.value_mut(parent) {
                row.push(vec![key.clone()], core::iter::once(empty).collect());
            } else {
                doc.add(path, if list.is_some() { path } else { parent }, true);
            }
            true
        })?;
        Ok(at)
    }
    /// Takes away what stands at a path. Gives whether something stood there. A list of tables that becomes empty goes too.
    pub fn remove(&mut self, path: &str) -> bool {
        path.parse().is_ok_and(|p: Path| self.doc.take(p.steps()))
    }
    /// Puts a rig into the case in the place of the one that it has: the `[rig]` table as
    /// [`write_layout`](unmire_casefile::write_layout) writes it.
    ///
    /// # Errors
    /// If the text has no rig.
    pub fn set_rig(&mut self, rig: &str) -> Result<(), EditError> {
        let from = Self::parse(rig)?;
        let path = [Step::Key("rig".to_owned())];
        let mut blocks: Vec<Block> = from.doc.blocks.into_iter().filter(|b| b.path.starts_with(&path)).collect();
        let Some(first) = blocks.first_mut() else { return Err(EditError::NoPlace("rig".to_owned())) };
        "\n".clone_into(&mut first.lead);
        self.doc.take(&path);
        self.doc.close_at(self.doc.blocks.len());
        self.doc.blocks.append(&mut blocks);
        self.doc.number();
        Ok(())
    }
    /// Does something at a path; takes everything back if that fails.
    fn change(&mut self, path: &str, act: &mut dyn FnMut(&mut Written, &[Step]) -> bool) -> Result<(), EditError> {
        let parsed: Path = path.parse().map_err(|_| EditError::NoPath(path.to_owned()))?;
        let mut doc = self.doc.clone();
        // What comes of it must be TOML, whatever stood there.
        if !act(&mut doc, parsed.steps()) || DeTable::parse(&doc.text()).is_err() {
            return Err(EditError::NoPlace(path.to_owned()));
        }
        self.doc = doc;
        Ok(())
    }
}
