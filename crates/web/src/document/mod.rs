//! A case while it is edited: one TOML text in which every control of the page edits a path.
//!
//! What the reader sees is what is saved, sent to the planner and handed to the command line: comments, order and the
//! way in which somebody wrote a number stay as they are.
//!
//! ```
//! use unmire_web::document::CaseText;
//!
//! let mut case = CaseText::parse("[vehicle]\nmass = \"2 t\" # on the plate\n")?;
//! case.set("vehicle.mass", "2.4 t .. 2.6 t")?;
//! let oak = case.append("anchor")?;
//! case.set(&format!("anchor[{oak}].id"), "oak")?;
//! assert_eq!(case.text(), "[vehicle]\nmass = \"2.4 t .. 2.6 t\" # on the plate\n\n[[anchor]]\nid = \"oak\"\n");
//! # Ok::<(), unmire_web::document::EditError>(())
//! ```

mod complaint;
mod edit;
mod path;
mod raw;
mod scan;
mod written;

pub use complaint::{Complaint, complaints};
pub use edit::EditError;
pub use path::{Path, Step};
pub use raw::Raw;

use toml::de::DeTable;
use written::{Spot, Written};

/// A case file that is being edited.
#[derive(Clone, Debug)]
pub struct CaseText {
    doc: Written,
}

impl CaseText {
    /// Takes up a text. Only what is no TOML at all is refused: what is wrong with the case is told by
    /// [`complaints`], and mended in the page.
    ///
    /// # Errors
    /// If it is no TOML.
    pub fn parse(text: &str) -> Result<Self, EditError> {
        DeTable::parse(text).map_err(|e| EditError::NoToml(e.message().to_owned()))?;
        // What is put together again must be the text to the letter: nothing of a case may be lost.
        let doc = scan::scan(text).filter(|doc| doc.text() == text);
        Ok(Self {
            doc: doc.ok_or_else(|| EditError::NoToml("it is written in a way that can't be edited".to_owned()))?,
        })
    }
    /// The text.
    #[must_use]
    pub fn text(&self) -> String {
        self.doc.text()
    }
    /// The value behind an assumption, or the value itself.
    fn value(&self, path: &str) -> Option<&Raw> {
        let path: Path = path.parse().ok()?;
        let under = |key: &str| path.then(Step::Key(key.to_owned()));
        if self.doc.spot(under("assumed").steps()).is_some()
            && let Some(inner) = self.doc.spot(under("value").steps())
        {
            return match inner {
                Spot::Value(v) => Some(v),
                _ => None,
            };
        }
        self.doc.value(path.steps())
    }
    /// Whether something stands there.
    #[must_use]
    pub fn has(&self, path: &str) -> bool {
        path.parse().is_ok_and(|p: Path| self.doc.spot(p.steps()).is_some())
    }
    /// A value in words: a text without its quotes, a number or a flag as it is written. What is assumed gives the
    /// value that is assumed.
    #[must_use]
    pub fn get(&self, path: &str) -> Option<String> {
        self.value(path)?.words()
    }
    /// A flag.
    #[must_use]
    pub fn flag(&self, path: &str) -> Option<bool> {
        match self.value(path)? {
            Raw::Plain(text) => text.parse().ok(),
            _ => None,
        }
    }
    /// A bare number, such as a coordinate.
    #[must_use]
    pub fn number(&self, path: &str) -> Option<f64> {
        self.value(path)?.number()
    }
    /// The values of a list, in words.
    #[must_use]
    pub fn list(&self, path: &str) -> Option<Vec<String>> {
        match self.value(path)? {
            Raw::List(row) => row.nodes.iter().map(|n| n.value.words()).collect(),
            _ => None,
        }
    }
    /// Why a value is assumed, if it is.
    #[must_use]
    pub fn assumed(&self, path: &str) -> Option<String> {
        let path: Path = path.parse().ok()?;
        self.doc.value(path.then(Step::Key("assumed".to_owned())).steps())?.words()
    }
    /// How many values or tables a list has; none if there is no list.
    #[must_use]
    pub fn count(&self, path: &str) -> usize {
        match path.parse().ok().and_then(|p: Path| self.doc.spot(p.steps())) {
            Some(Spot::List(n)) => n,
            Some(Spot::Value(Raw::List(row))) => row.nodes.len(),
            _ => 0,
        }
    }
    /// The keys of a table.
    #[must_use]
    pub fn keys(&self, path: &str) -> Vec<String> {
        let Ok(path) = path.parse::<Path>() else { return Vec::new() };
        self.doc.keys(path.steps())
    }
    /// What a list of tables says, as it is written; nothing if there is none.
    #[must_use]
    pub fn part(&self, key: &str) -> Option<String> {
        let path = [Step::Key(key.to_owned())];
        let mut out = String::new();
        let root = self.doc.blocks.first().into_iter().flat_map(|b| &b.nodes);
        root.filter(|n| n.key == [key]).for_each(|n| n.write(&mut out));
        self.doc.blocks.iter().filter(|b| b.path.starts_with(&path)).for_each(|b| b.write(&mut out));
        (!out.is_empty()).then_some(out)
    }
}

#[cfg(test)]
mod tests {
    use super::CaseText;
    use std::collections::BTreeMap;
    use toml::de::{DeTable, DeValue};

    const TEXT: &str = "\
# Head.
[vehicle]
mass = \"2 t\" # on the plate
cg_height = { value = \"0.8 m\", assumed = \"not measured\" }

[vehicle.winch]
line = { material = \"hmpe\", length = \"28 m\" }

[[vehicle.point]]
id = \"F1\"
position = [2.2, 0.42, 1]

[stuck]
bellied = false

[[anchor]]
id = \"oak\"
";

    #[test]
    fn regress_values_are_got_by_path() {
        let case = CaseText::parse(TEXT).unwrap();
        assert_eq!(case.get("vehicle.mass").as_deref(), Some("2 t"));
        assert_eq!(case.get("vehicle.winch.line.length").as_deref(), Some("28 m"));
        assert_eq!(case.get("vehicle.point[0].position[1]").as_deref(), Some("0.42"));
        assert_eq!(case.list("vehicle.point[0].position").unwrap(), ["2.2", "0.42", "1"]);
        assert_eq!(case.number("vehicle.point[0].position[2]"), Some(1.0));
        assert_eq!((case.get("vehicle.cg_height").as_deref(), case.get("vehicle")), (Some("0.8 m"), None));
        assert_eq!(case.assumed("vehicle.cg_height").as_deref(), Some("not measured"));
        assert_eq!((case.assumed("vehicle.mass"), case.flag("stuck.bellied")), (None, Some(false)));
        assert_eq!((case.count("anchor"), case.count("vehicle.point"), case.count("piece")), (1, 1, 0));
        assert_eq!(case.keys("vehicle.winch.line"), ["material", "length"]);
        for nowhere in ["", "anchor[1]", "anchor[0].girth", "vehicle.mass.more", "anchor.id", "a..b", "anchor[x]"] {
            assert!(!case.has(nowhere), "{nowhere}");
        }
    }
    #[test]
    fn regress_what_is_not_touched_stays_to_the_letter() {
        assert_eq!(CaseText::parse(TEXT).unwrap().text(), TEXT);
        let mut case = CaseText::parse(TEXT).unwrap();
        case.set("vehicle.mass", "3 t").unwrap();
        assert_eq!(case.text(), TEXT.replace("2 t", "3 t"));
        case.set("vehicle.winch.line.length", "30 m").unwrap();
        assert_eq!(case.text(), TEXT.replace("2 t", "3 t").replace("28 m", "30 m"));
        case.set("vehicle.point[0].position[1]", -0.5).unwrap();
        assert!(case.text().contains("position = [2.2, -0.5, 1]\n"), "{}", case.text());
    }
    #[test]
    fn regress_whatever_is_toml_comes_back_to_the_letter() {
        let odd = "\u{feff}# head\r\n a . \"b c\" = 'x#' # end\r\n\n[ t . 'u' ] # here\nd = 1979-05-27 07:32:00\nm = \"\"\"\nsaid \\\"\"\"\n\"\"\"\"\n\
                   n = '''it's'''\nl = [ # one\n  1, [ ],\n  { k = \"}\" , j.i = true },\n] # last\ne = { }\nf = 0x1F\n\n[[ s ]]\n[[s]]\nz = +1e5\n\t# tail";
        for text in [odd, "", "\n", "a = 1", TEXT] {
            assert_eq!(CaseText::parse(text).unwrap().text(), text);
        }
        let case = CaseText::parse(odd).unwrap();
        assert_eq!(case.get("t.u.d").as_deref(), Some("1979-05-27 07:32:00"));
        assert_eq!(case.get("t.u.l[2].j.i").as_deref(), Some("true"));
        assert_eq!((case.count("t.u.l"), case.count("s"), case.number("s[1].z")), (3, 2, Some(100_000.0)));
        for example in crate::examples::cases() {
            assert_eq!(CaseText::parse(example.text).unwrap().text(), example.text, "{}", example.file);
        }
    }
    #[test]
    fn regress_what_is_said_is_no_longer_assumed_and_the_other_way_round() {
        let mut case = CaseText::parse(TEXT).unwrap();
        case.set("vehicle.cg_height", "0.7 m").unwrap();
        assert!(case.text().contains("cg_height = \"0.7 m\"\n"));
        assert_eq!(case.assumed("vehicle.cg_height"), None);
        case.assume("vehicle.mass", "2.5 t", "guessed").unwrap();
        assert!(case.text().contains("mass = { value = \"2.5 t\", assumed = \"guessed\" } # on the plate\n"));
        assert_eq!(case.get("vehicle.mass").as_deref(), Some("2.5 t"));
    }
    /// All values of a text by their paths, as `toml` reads them.
    fn read_by_toml(text: &str) -> BTreeMap<String, String> {
        fn leaves(at: &str, v: &DeValue<'_>, out: &mut BTreeMap<String, String>) {
            match v {
                DeValue::Table(t) => {
                    for (k, v) in t {
                        let at = if at.is_empty() { k.get_ref().to_string() } else { format!("{at}.{}", k.get_ref()) };
                        leaves(&at, v.get_ref(), out);
                    }
                }
                DeValue::Array(l) => {
                    l.iter().enumerate().for_each(|(i, v)| leaves(&format!("{at}[{i}]"), v.get_ref(), out))
                }
                DeValue::String(s) => drop(out.insert(at.to_owned(), s.to_string())),
                other => drop(out.insert(at.to_owned(), format!("{other:?}"))),
            }
        }
        let mut out = BTreeMap::new();
        leaves("", &DeValue::Table(DeTable::parse(text).unwrap().into_inner()), &mut out);
        out
    }

    #[test]
    fn other_program_an_edit_changes_what_toml_reads_there_and_nothing_else() {
        let mut edits = 0;
        for example in crate::examples::cases() {
            let before = read_by_toml(example.text);
            let case = CaseText::parse(example.text).unwrap();
            for (path, value) in &before {
                // In its place.
                let mut new = case.clone();
                new.set(path, "put").unwrap();
                let mut want = before.clone();
                want.insert(path.clone(), "put".to_owned());
                assert_eq!(read_by_toml(&new.text()), want, "{}: {path}", example.file);
                // Taken away, and put there anew; one of a list would change the numbers of the others.
                if !path.ends_with(']') {
                    let mut new = case.clone();
                    assert!(new.remove(path), "{}: {path}", example.file);
                    want.remove(path);
                    assert_eq!(read_by_toml(&new.text()), want, "{}: {path}", example.file);
                    new.set(path, value.as_str()).unwrap();
                    want.insert(path.clone(), value.clone());
                    assert_eq!(read_by_toml(&new.text()), want, "{}: {path}", example.file);
                }
                edits += 1;
            }
        }
        assert!(edits > 200, "{edits}");
    }
    #[test]
    fn regress_tables_come_and_go() {
        let mut case = CaseText::parse(TEXT).unwrap();
        let second = case.append("anchor").unwrap();
        case.set(&format!("anchor[{second}].id"), "pine").unwrap();
        assert!(case.text().ends_with("[[anchor]]\nid = \"oak\"\n\n[[anchor]]\nid = \"pine\"\n"), "{}", case.text());
        let piece = case.append("piece").unwrap();
        case.set(&format!("piece[{piece}].label.text"), "8 t").unwrap();
        case.set(&format!("piece[{piece}].kind"), "block").unwrap();
        let again = CaseText::parse(&case.text()).unwrap();
        assert_eq!(again.get("piece[0].label.text").as_deref(), Some("8 t"));
        assert_eq!(again.get("piece[0].kind").as_deref(), Some("block"));
        assert!(case.remove("anchor[0]") && case.remove("vehicle.winch") && !case.remove("anchor[7]"));
        assert_eq!((case.get("anchor[0].id").as_deref(), case.count("anchor")), (Some("pine"), 1));
        assert!(case.remove("anchor[0]") && case.remove("piece"));
        assert!(!case.text().contains("anchor") && !case.text().contains("winch"), "{}", case.text());
    }
    #[test]
    fn regress_tables_in_a_line_are_edited_in_the_line() {
        let mut case = CaseText::parse("anchors = [{ anchor = \"oak\" }]\n").unwrap();
        let at = case.append("anchors").unwrap();
        case.set(&format!("anchors[{at}].anchor"), "pine").unwrap();
        case.set("anchors[0].hitch", "basket").unwrap();
        assert_eq!(case.text(), "anchors = [{ anchor = \"oak\", hitch = \"basket\" }, { anchor = \"pine\" }]\n");
        assert!(case.remove("anchors[0]"));
        assert_eq!(case.count("anchors"), 1);
    }
    #[test]
    fn regress_a_place_that_can_t_be_is_an_error() {
        let mut case = CaseText::parse(TEXT).unwrap();
        for wrong in ["", "vehicle.mass.more", "anchor[5].id", "vehicle.point[0].position[9]", "anchor[0]", "a b"] {
            assert!(case.set(wrong, "x").is_err(), "{wrong}");
        }
        assert!(case.append("vehicle").is_err());
        assert_eq!(case.text(), TEXT);
        assert!(CaseText::parse("a = ").is_err());
    }
    #[test]
    fn regress_a_rig_is_put_in_whole_and_taken_out_whole() {
        let mut case = CaseText::parse(TEXT).unwrap();
        let rig = |family: &str| format!("[rig]\nfamily = \"{family}\"\n\n[[rig.station]]\nblock = \"b\"\n");
        for family in ["redirect", "double-line"] {
            case.set_rig(&rig(family)).unwrap();
            assert_eq!(case.text(), format!("{TEXT}\n{}", rig(family)));
        }
        assert!(case.set_rig("[vehicle]\n").is_err());
        assert!(case.remove("rig"));
        assert_eq!(case.text(), TEXT);
    }
}
