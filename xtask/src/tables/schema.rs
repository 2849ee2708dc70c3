//! What a table file looks like, and every reason to refuse one.
//!
//! ```toml
//! name = "picket"                 # the file's name
//! title = "Picket holdfasts"
//! what = "Load that pickets hold in loam."
//! valid = "Loam; line near the ground."
//! [[column]]
//! name = "holds"
//! type = "lbf"                    # a unit, or text, count, number (with its own unit)
//! doc = "What the layout holds."
//! # rows: one a line; `key`, `source` and `how` in every one, `at` (where in the source) and `note` if needed
//! [[row]]
//! ```

use toml::{Table as Toml, Value};

/// How a figure is known, worst last.
pub const HOW: &[&str] = &["read", "secondary", "derived", "common-practice", "memory", "own-judgement"];

/// Words that every row may use beside its columns.
const RESERVED: &[&str] = &["key", "source", "how", "at", "note"];

/// A column's type: its name in the file, the Rust type, and the constructor that turns a printed number into it.
pub struct Kind {
    /// Name in the file.
    pub name: &'static str,
    /// Rust type.
    pub rust: &'static str,
    /// Constructor; empty for a bare number.
    pub make: &'static str,
    /// Divisor applied before the constructor; 1 for none.
    pub divide: f64,
}

const fn kind(name: &'static str, rust: &'static str, make: &'static str) -> Kind {
    Kind { name, rust, make, divide: 1.0 }
}

/// Every type that a column may have.
pub const KINDS: &[Kind] = &[
    kind("text", "&'static str", ""),
    kind("count", "u32", ""),
    kind("flag", "bool", ""),
    kind("number", "f64", ""),
    kind("ratio", "f64", ""),
    Kind { name: "%", rust: "f64", make: "", divide: 100.0 },
    kind("N", "Force", "Force::from_n"),
    kind("kN", "Force", "Force::from_kn"),
    kind("kgf", "Force", "Force::from_kgf"),
    kind("tf", "Force", "Force::from_tonnef"),
    kind("lbf", "Force", "Force::from_lbf"),
    kind("short tf", "Force", "Force::from_short_tonf"),
    kind("kg", "Mass", "Mass::from_kg"),
    kind("t", "Mass", "Mass::from_tonne"),
    kind("m", "Length", "Length::from_m"),
    kind("cm", "Length", "Length::from_cm"),
    kind("mm", "Length", "Length::from_mm"),
    kind("in", "Length", "Length::from_inch"),
    kind("ft", "Length", "Length::from_foot"),
    kind("deg", "Angle", "Angle::from_deg"),
    kind("kPa", "Pressure", "Pressure::from_kpa"),
    kind("MPa", "Pressure", "Pressure::from_mpa"),
    kind("psi", "Pressure", "Pressure::from_psi"),
    Kind { name: "lbf/ft2", rust: "Pressure", make: "Pressure::from_psi", divide: 144.0 },
    kind("min", "Time", "Time::from_min"),
];

/// A column.
pub struct Column {
    /// Field name.
    pub name: String,
    /// Type.
    pub kind: &'static Kind,
    /// Unit of a bare number.
    pub unit: Option<String>,
    /// What it holds.
    pub doc: String,
    /// Whether a row may leave it out.
    pub optional: bool,
}

/// A row.
pub struct Row {
    /// Its key; unique in the table.
    pub key: String,
    /// Key of its source.
    pub source: String,
    /// How it is known.
    pub how: String,
    /// Where in the source.
    pub at: String,
    /// Anything the reader must know.
    pub note: String,
    /// One cell a column.
    pub cells: Vec<Option<Value>>,
}

/// A table.
pub struct Table {
    /// Name; the file's and the module's.
    pub name: String,
    /// Title.
    pub title: String,
    /// What it holds.
    pub what: String,
    /// Where it is valid.
    pub valid: String,
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Row>,
}

impl Table {
    /// Whether each row is a band: columns `low`, `likely` and `high`, all bare numbers.
    pub fn is_band(&self) -> bool {
        ["low", "likely", "high"]
            .iter()
            .all(|n| self.columns.iter().any(|c| c.name == *n && c.kind.rust == "f64" && !c.optional))
    }

    /// Rows of a band that are out of order.
    fn out_of_order(&self) -> Vec<String> {
        let number = |r: &Row, name: &str| {
            let i = self.columns.iter().position(|c| c.name == name)?;
            let v = r.cells.get(i)?.as_ref()?;
            #[allow(clippy::cast_precision_loss)]
            v.as_float().or_else(|| v.as_integer().map(|i| i as f64))
        };
        let disordered = |r: &&Row| match (number(r, "low"), number(r, "likely"), number(r, "high")) {
            (Some(low), Some(likely), Some(high)) => !(low <= likely && likely <= high),
            _ => false,
        };
        let fault = |r: &Row| format!("data/{}.toml: row {}: low, likely and high are out of order", self.name, r.key);
        self.rows.iter().filter(disordered).map(fault).collect()
    }
}

fn text(t: &Toml, key: &str) -> Option<String> {
    t.get(key).and_then(Value::as_str).map(str::trim).filter(|s| !s.is_empty()).map(str::to_owned)
}

fn is_identifier(s: &str) -> bool {
    s.starts_with(|c: char| c.is_ascii_lowercase())
        && s.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}

/// Reads one table file; `stem` is its name without the ending.
pub fn parse(stem: &str, file: &str) -> Result<Table, Vec<String>> {
    let place = format!("data/{stem}.toml");
    let doc: Toml = file.parse().map_err(|e| vec![format!("{place}: {e}")])?;
    let mut faults = Vec::new();
    let mut header = |key: &str| {
        text(&doc, key).unwrap_or_else(|| {
            faults.push(format!("{place}: `{key}` is missing"));
            String::new()
        })
    };
    let (name, title, what, valid) = (header("name"), header("title"), header("what"), header("valid"));
    if name != stem {
        faults.push(format!("{place}: name is `{name}`, the file is `{stem}`"));
    }
    for key in doc.keys().filter(|k| !["name", "title", "what", "valid", "column", "row"].contains(&k.as_str())) {
        faults.push(format!("{place}: unknown key `{key}`"));
    }
    let mut columns = Vec::new();
    for (i, c) in list(&doc, "column").enumerate() {
        match column(c) {
            Ok(c) => columns.push(c),
            Err(e) => faults.push(format!("{place}: column {}: {e}", i + 1)),
        }
    }
    let mut rows: Vec<Row> = Vec::new();
    for (i, r) in list(&doc, "row").enumerate() {
        let at = format!("{place}: row {} ({})", i + 1, text(r, "key").unwrap_or_default());
        match row(r, &columns) {
            Ok(r) if rows.iter().any(|o| o.key == r.key) => faults.push(format!("{at}: this key stands twice")),
            Ok(r) => rows.push(r),
            Err(more) => faults.extend(more.into_iter().map(|e| format!("{at}: {e}"))),
        }
    }
    if columns.is_empty() || rows.is_empty() {
        faults.push(format!("{place}: a table has at least one column and one row"));
    }
    let table = Table { name, title, what, valid, columns, rows };
    faults.extend(table.out_of_order());
    if faults.is_empty() { Ok(table) } else { Err(faults) }
}

fn list<'a>(doc: &'a Toml, key: &str) -> impl Iterator<Item = &'a Toml> {
    doc.get(key).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table)
}

fn column(c: &Toml) -> Result<Column, String> {
    let name = text(c, "name").ok_or("`name` is missing")?;
    if !is_identifier(&name) || RESERVED.contains(&name.as_str()) {
        return Err(format!("`{name}` can't be a column's name"));
    }
    let of = text(c, "type").ok_or("`type` is missing: a unit, or text, count, flag, ratio, number")?;
    let kind = KINDS.iter().find(|k| k.name == of).ok_or_else(|| {
        format!("type `{of}` is not one of {}", KINDS.iter().map(|k| k.name).collect::<Vec<_>>().join(", "))
    })?;
    let unit = text(c, "unit");
    if (kind.name == "number") != unit.is_some() {
        return Err("a `number` states its `unit`, and nothing else does".to_owned());
    }
    let doc = text(c, "doc").ok_or("`doc` is missing")?;
    let optional = c.get("optional").and_then(Value::as_bool).unwrap_or(false);
    Ok(Column { name, kind, unit, doc, optional })
}

fn row(r: &Toml, columns: &[Column]) -> Result<Row, Vec<String>> {
    let mut faults = Vec::new();
    let mut need = |key: &str| {
        text(r, key).unwrap_or_else(|| {
            faults.push(format!("`{key}` is missing"));
            String::new()
        })
    };
    let (key, source, how) = (need("key"), need("source"), need("how"));
    if !how.is_empty() && !HOW.contains(&how.as_str()) {
        faults.push(format!("how = `{how}` is not one of {}", HOW.join(", ")));
    }
    for k in r.keys().filter(|k| !RESERVED.contains(&k.as_str()) && !columns.iter().any(|c| c.name == **k)) {
        faults.push(format!("unknown column `{k}`"));
    }
    let mut cells = Vec::new();
    for c in columns {
        let cell = r.get(&c.name).cloned();
        match &cell {
            None if c.optional => {}
            None => faults.push(format!("`{}` is missing", c.name)),
            Some(v) if fits(v, c.kind) => {}
            Some(v) => faults.push(format!("`{}` = {v} does not fit its type `{}`", c.name, c.kind.name)),
        }
        cells.push(cell);
    }
    let (at, note) = (text(r, "at").unwrap_or_default(), text(r, "note").unwrap_or_default());
    if faults.is_empty() { Ok(Row { key, source, how, at, note, cells }) } else { Err(faults) }
}

fn fits(v: &Value, kind: &Kind) -> bool {
    match kind.name {
        "text" => v.is_str(),
        "flag" => v.is_bool(),
        "count" => v.as_integer().is_some_and(|i| u32::try_from(i).is_ok()),
        _ => v.is_integer() || v.as_float().is_some_and(f64::is_finite),
    }
}

#[cfg(test)]
mod tests {
    use super::parse;

    fn sample(row: &str) -> String {
        format!(
            "name='x'\ntitle='t'\nwhat='w'\nvalid='v'\n[[column]]\nname='holds'\ntype='lbf'\ndoc='d'\n[[row]]\n{row}"
        )
    }
    fn faults(row: &str) -> String {
        parse("x", &sample(row)).err().map(|f| f.join("\n")).unwrap_or_default()
    }

    #[test]
    fn a_whole_row_is_taken() {
        assert_eq!(faults("key='a'\nholds=700\nsource='s'\nhow='read'"), "");
    }
    #[test]
    fn a_row_without_how_is_refused() {
        assert!(faults("key='a'\nholds=700\nsource='s'").contains("`how` is missing"));
    }
    #[test]
    fn a_row_without_source_is_refused() {
        assert!(faults("key='a'\nholds=700\nhow='read'").contains("`source` is missing"));
    }
    #[test]
    fn an_unknown_how_is_refused() {
        assert!(faults("key='a'\nholds=700\nsource='s'\nhow='surely'").contains("not one of"));
    }
    #[test]
    fn not_a_number_is_refused() {
        assert!(faults("key='a'\nholds=nan\nsource='s'\nhow='read'").contains("does not fit"));
    }
    #[test]
    fn an_unknown_column_is_refused() {
        assert!(faults("key='a'\nholds=1\nhold=1\nsource='s'\nhow='read'").contains("unknown column"));
    }
    #[test]
    fn a_band_out_of_order_is_refused() {
        let column = |n: &str| format!("[[column]]\nname='{n}'\ntype='ratio'\ndoc='d'\n");
        let head = "name='x'\ntitle='t'\nwhat='w'\nvalid='v'\n";
        let columns = [column("low"), column("likely"), column("high")].concat();
        let row = |low: f64| {
            format!("{head}{columns}[[row]]\nkey='a'\nlow={low:?}\nlikely=1.0\nhigh=2.0\nsource='s'\nhow='read'")
        };
        assert!(parse("x", &row(0.5)).is_ok());
        assert!(parse("x", &row(1.5)).is_err());
    }
    #[test]
    fn a_key_twice_is_refused() {
        let twice = "key='a'\nholds=1\nsource='s'\nhow='read'\n[[row]]\nkey='a'\nholds=1\nsource='s'\nhow='read'";
        assert!(faults(twice).contains("stands twice"));
    }
}
