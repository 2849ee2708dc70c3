//! Changing a document: setting, removing, appending at a path.

use super::{CaseText, Path, Step};
use core::fmt;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

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

/// What stands at a path, to be changed.
enum Place<'a> {
    /// A table, and whether it is written on a line.
    Table(&'a mut dyn TableLike, bool),
    Tables(&'a mut ArrayOfTables),
    Array(&'a mut Array),
    Other,
}
impl<'a> Place<'a> {
    fn of_item(item: &'a mut Item) -> Self {
        match item {
            Item::Table(t) => Self::Table(t, false),
            Item::ArrayOfTables(t) => Self::Tables(t),
            Item::Value(v) => Self::of_value(v),
            Item::None => Self::Other,
        }
    }
    fn of_value(value: &'a mut Value) -> Self {
        match value {
            Value::InlineTable(t) => Self::Table(t, true),
            Value::Array(a) => Self::Array(a),
            _ => Self::Other,
        }
    }
    /// One step further. A table that is missing is made, in the way in which its parent is written.
    fn step(self, step: &Step) -> Option<Self> {
        match (self, step) {
            (Self::Table(t, in_line), Step::Key(k)) => {
                if t.get(k).is_none_or(Item::is_none) {
                    let new = if in_line { inline_table() } else { Item::Table(with_space(Table::new())) };
                    t.insert(k, new);
                }
                t.get_mut(k).map(Self::of_item)
            }
            (Self::Tables(all), Step::Index(n)) => all.get_mut(*n).map(|t| Self::Table(t, false)),
            (Self::Array(all), Step::Index(n)) => all.get_mut(*n).map(Self::of_value),
            _ => None,
        }
    }
}

impl CaseText {
    /// Puts a value at a path, in the place of what stood there; what stood behind it on the line stays.
    ///
    /// # Errors
    /// If nothing can stand there. Then nothing is changed.
    pub fn set(&mut self, path: &str, value: impl Into<Value>) -> Result<(), EditError> {
        let value = value.into();
        self.change(path, |place, last| match (place, last) {
            (Place::Table(t, in_line), Step::Key(k)) => {
                put(t, in_line, k, value);
                true
            }
            (Place::Array(a), Step::Index(n)) => a.get_mut(*n).is_some_and(|old| {
                *old = like(value, old);
                true
            }),
            _ => false,
        })
    }
    /// Puts a value that nobody measured, and why it is assumed.
    ///
    /// # Errors
    /// As [`set`](Self::set).
    pub fn assume(&mut self, path: &str, value: &str, why: &str) -> Result<(), EditError> {
        let mut table = InlineTable::new();
        table.insert("value", value.into());
        table.insert("assumed", why.into());
        self.set(path, table)
    }
    /// Adds an empty table at the end of a list of tables, or of a list on a line, and gives its number. A list that is
    /// missing is made.
    ///
    /// # Errors
    /// If nothing can stand there. Then nothing is changed.
    pub fn append(&mut self, path: &str) -> Result<usize, EditError> {
        let mut at = 0;
        self.change(path, |place, last| {
            let (Place::Table(t, in_line), Step::Key(k)) = (place, last) else { return false };
            if t.get(k).is_none_or(Item::is_none) {
                let empty = if in_line { Item::Value(Array::new().into()) } else { ArrayOfTables::new().into() };
                t.insert(k, empty);
            }
            match t.get_mut(k).map(Place::of_item) {
                Some(Place::Tables(all)) => {
                    at = all.len();
                    all.push(with_space(Table::new()));
                    true
                }
                Some(Place::Array(all)) => {
                    at = all.len();
                    all.push(InlineTable::new());
                    true
                }
                _ => false,
            }
        })?;
        Ok(at)
    }
    /// Takes away what stands at a path. Gives whether something stood there. A list of tables that becomes empty goes too.
    pub fn remove(&mut self, path: &str) -> bool {
        if !self.has(path) {
            return false;
        }
        let mut emptied = None;
        let gone = self.change(path, |place, last| match (place, last) {
            (Place::Table(t, _), Step::Key(k)) => t.remove(k).is_some(),
            (Place::Tables(all), Step::Index(n)) => {
                all.remove(*n);
                if all.is_empty() {
                    emptied = path.rfind('[').map(|i| path[..i].to_owned());
                }
                true
            }
            (Place::Array(all), Step::Index(n)) => {
                all.remove(*n);
                // What comes first in a list has no space before it.
                if let (0, Some(first)) = (*n, all.get_mut(0)) {
                    first.decor_mut().set_prefix("");
                }
                true
            }
            _ => false,
        });
        if let Some(list) = emptied {
            return self.remove(&list);
        }
        gone.is_ok()
    }
    /// Puts a rig into the case in the place of the one that it has: the `[rig]` table as
    /// [`write_layout`](unmire_casefile::write_layout) writes it.
    ///
    /// # Errors
    /// If the text has no rig.
    pub fn set_rig(&mut self, rig: &str) -> Result<(), EditError> {
        let mut from: DocumentMut =
            rig.parse().map_err(|e: toml_edit::TomlError| EditError::NoToml(e.message().into()))?;
        let Some(Item::Table(mut rig)) = from.remove("rig") else { return Err(EditError::NoPlace("rig".to_owned())) };
        loosen(&mut rig);
        let rig = with_space(rig);
        self.doc.remove("rig");
        self.doc.insert("rig", Item::Table(rig));
        Ok(())
    }
    /// Goes to the place that holds the last step and does something there; takes everything back if that fails.
    fn change(&mut self, path: &str, act: impl FnOnce(Place<'_>, &Step) -> bool) -> Result<(), EditError> {
        let no_place = || EditError::NoPlace(path.to_owned());
        let parsed: Path = path.parse().map_err(|_| EditError::NoPath(path.to_owned()))?;
        let (way, last) = parsed.split_last().ok_or_else(no_place)?;
        let mut doc = self.doc.clone();
        let root = Place::Table(doc.as_table_mut(), false);
        let place = way.iter().try_fold(root, |place, step| place.step(step)).ok_or_else(no_place)?;
        if !act(place, last) {
            return Err(no_place());
        }
        self.doc = doc;
        Ok(())
    }
}

/// Puts a value under a key, written like the one that stood there.
fn put(table: &mut dyn TableLike, in_line: bool, key: &str, mut value: Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => *old = like(value, old),
        Some(other) if !other.is_none() => *other = Item::Value(value),
        _ => {
            // What was the last on the line had the space before the bracket.
            let last = table.iter_mut().last().and_then(|(_, item)| item.as_value_mut());
            if let (true, Some(last)) = (in_line, last) {
                if let Some(space) = last.decor().suffix().cloned() {
                    value.decor_mut().set_suffix(space);
                }
                last.decor_mut().set_suffix("");
            }
            table.insert(key, Item::Value(value));
        }
    }
}

/// A value with the space and the comment round another.
fn like(mut value: Value, old: &Value) -> Value {
    *value.decor_mut() = old.decor().clone();
    value
}

fn inline_table() -> Item {
    Item::Value(InlineTable::new().into())
}

/// A table whose heading has an empty line before it.
fn with_space(mut table: Table) -> Table {
    table.decor_mut().set_prefix("\n");
    table
}

/// Forgets where in its old text a table and those in it stood, so that they come where they are put.
fn loosen(table: &mut Table) {
    table.set_position(None);
    for (_, item) in table.iter_mut() {
        match item {
            Item::Table(t) => loosen(t),
            Item::ArrayOfTables(all) => all.iter_mut().for_each(loosen),
            _ => {}
        }
    }
}
