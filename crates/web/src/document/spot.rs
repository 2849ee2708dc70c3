//! Whatever stands at a path: TOML has three ways of writing a table and two of writing a list.

use super::Step;
use toml_edit::{Item, Table, TableLike, Value};

/// What stands at a path.
#[derive(Clone, Copy, Debug)]
pub(super) enum Spot<'a> {
    /// A table with a heading of its own.
    Table(&'a Table),
    /// Anything that has a key.
    Item(&'a Item),
    /// Anything in a list on a line.
    Value(&'a Value),
}
impl<'a> Spot<'a> {
    /// The table that it is, however written.
    pub(super) fn table(&self) -> Option<&'a dyn TableLike> {
        match self {
            Self::Table(t) => Some(*t),
            Self::Item(i) => i.as_table_like(),
            Self::Value(v) => v.as_inline_table().map(|t| t as &dyn TableLike),
        }
    }
    /// The value that it is.
    pub(super) fn value(&self) -> Option<&'a Value> {
        match self {
            Self::Table(_) => None,
            Self::Item(i) => i.as_value(),
            Self::Value(v) => Some(v),
        }
    }
    /// One step further.
    pub(super) fn step(&self, step: &Step) -> Option<Self> {
        match step {
            Step::Key(k) => self.table()?.get(k).filter(|i| !i.is_none()).map(Self::Item),
            Step::Index(n) => match self {
                Self::Item(Item::ArrayOfTables(all)) => all.get(*n).map(Self::Table),
                _ => self.value()?.as_array()?.get(*n).map(Self::Value),
            },
        }
    }
    /// How many are in the list that it is.
    pub(super) fn len(&self) -> usize {
        match self {
            Self::Item(Item::ArrayOfTables(all)) => all.len(),
            _ => self.value().and_then(Value::as_array).map_or(0, toml_edit::Array::len),
        }
    }
    /// The bytes that it takes in the text it was read from; for a table with a heading, the heading.
    pub(super) fn span(&self) -> Option<core::ops::Range<usize>> {
        match self {
            Self::Table(t) => t.span(),
            Self::Item(i) => i.span(),
            Self::Value(v) => v.span(),
        }
    }
}

/// A value in words; none for a list or a table.
pub(super) fn words(value: &Value) -> Option<String> {
    match value {
        Value::String(s) => Some(s.value().clone()),
        Value::Array(_) | Value::InlineTable(_) => None,
        other => {
            let mut plain = other.clone();
            plain.decor_mut().clear();
            Some(plain.to_string())
        }
    }
}
