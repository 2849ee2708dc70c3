//! What a key of a section is. One table per section tells the reader, the schema and the documentation the same.

use unmire_model::quantity::slope::Way;

/// Which quantity a text is read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A mass.
    Mass,
    /// A force.
    Force,
    /// A length.
    Length,
    /// An angle.
    Angle,
    /// A pressure or a stress.
    Pressure,
    /// A span of time.
    Time,
    /// A speed.
    Speed,
    /// An electric current.
    Current,
    /// An electric voltage.
    Voltage,
    /// An electric charge.
    Charge,
    /// An electric resistance.
    Ohms,
    /// A share or a ratio; may be a bare number.
    Ratio,
}

/// How a value is written.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// Free text.
    Text,
    /// A name by which other parts of the file refer to it.
    Id,
    /// One of these words.
    Words(&'static [&'static str]),
    /// A key of a data table: letters, digits, spaces.
    TableKey,
    /// true or false.
    Flag,
    /// A whole number with its bounds.
    Whole(i64, i64),
    /// One value of a quantity with its bounds.
    One(Quantity, &'static str, &'static str),
    /// A range of a quantity with the bounds of its ends.
    Range(Quantity, &'static str, &'static str),
    /// A list of so many ranges of a quantity with the bounds of their ends.
    Ranges(usize, Quantity, &'static str, &'static str),
    /// A list of whole numbers: the most there may be, and the bounds of each.
    Counts(usize, i64, i64),
    /// A slope with its way; one value.
    Slope(Way),
    /// A slope with its way; a range.
    SlopeRange(Way),
    /// A direction seen from above, from the stuck vehicle's heading: `ahead`, `20 deg left`.
    Heading,
    /// A compass bearing.
    Bearing,
    /// Coordinates in metres, or with units as texts.
    Position,
    /// A list of coordinates.
    Outline,
    /// A direction in space, by word or by its components.
    Vector,
    /// A label as printed.
    Label,
    /// A list of ids, with the most there may be.
    Ids(usize),
    /// The turns of a line of a bare rig.
    Turns,
    /// A table.
    Table(&'static Section),
    /// A list of tables, with the most there may be.
    Many(&'static Section, usize),
    /// A list of tables that have some keys in common and others by the word of their `kind`, which is the name of one of
    /// these sections; with the most there may be.
    Kinds(&'static Section, &'static [&'static Section], usize),
}

/// Whether a key must be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// It must; the text says why it matters.
    Must(&'static str),
    /// It may be left out; the text says what that means.
    May(&'static str),
}

/// One key.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// How its value is written.
    pub kind: Kind,
    /// Whether it must be there.
    pub need: Need,
    /// What it is.
    pub about: &'static str,
    /// An example of its value, as TOML.
    pub example: &'static str,
    /// Whether it may be marked as assumed: `{ value = …, assumed = "why" }`.
    pub assumable: bool,
}

/// A table of the document.
#[derive(Clone, Copy, Debug)]
pub struct Section {
    /// How it is called in messages.
    pub name: &'static str,
    /// What it is.
    pub about: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
}
impl Section {
    /// A key by its name.
    #[must_use]
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|k| k.name == name)
    }
}

/// A key that must be there.
pub(crate) const fn must(
    name: &'static str,
    kind: Kind,
    example: &'static str,
    about: &'static str,
    why: &'static str,
) -> Key {
    Key { name, kind, need: Need::Must(why), about, example, assumable: false }
}
/// A key that may be left out.
pub(crate) const fn may(
    name: &'static str,
    kind: Kind,
    example: &'static str,
    about: &'static str,
    absent: &'static str,
) -> Key {
    Key { name, kind, need: Need::May(absent), about, example, assumable: false }
}
impl Key {
    /// The same key, whose value may be marked as assumed.
    pub(crate) const fn assumable(mut self) -> Self {
        self.assumable = true;
        self
    }
}

/// The keys of a value that is marked as assumed.
pub(crate) const ASSUMED_KEYS: [&str; 2] = ["value", "assumed"];
