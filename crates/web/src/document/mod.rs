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
mod spot;

pub use complaint::{Complaint, complaints};
pub use edit::EditError;
pub use path::{Path, Step};

use spot::Spot;
use toml_edit::{DocumentMut, Value};

/// A case file that is being edited.
#[derive(Clone, Debug)]
pub struct CaseText {
    doc: DocumentMut,
}

impl CaseText {
    /// Takes up a text. Only what is no TOML at all is refused: what is wrong with the case is told by
    /// [`complaints`], and mended in the page.
    ///
    /// # Errors
    /// If it is no TOML.
    pub fn parse(text: &str) -> Result<Self, EditError> {
        let doc = text.parse().map_err(|e: toml_edit::TomlError| EditError::NoToml(e.message().to_owned()))?;
        Ok(Self { doc })
    }
    /// The text.
    #[must_use]
    pub fn text(&self) -> String {
        self.doc.to_string()
    }
    fn spot(&self, path: &str) -> Option<Spot<'_>> {
        let path: Path = path.parse().ok()?;
        path.steps().iter().try_fold(Spot::Table(self.doc.as_table()), |spot, step| spot.step(step))
    }
    /// The value behind an assumption, or the value itself.
    fn value(&self, path: &str) -> Option<&Value> {
        let spot = self.spot(path)?;
        match spot.step(&Step::Key("value".to_owned())) {
            Some(inner) if spot.step(&Step::Key("assumed".to_owned())).is_some() => inner.value(),
            _ => spot.value(),
        }
    }
    /// Whether something stands there.
    #[must_use]
    pub fn has(&self, path: &str) -> bool {
        self.spot(path).is_some()
    }
    /// A value in words: a text without its quotes, a number or a flag as it is written. What is assumed gives the
    /// value that is assumed.
    #[must_use]
    pub fn get(&self, path: &str) -> Option<String> {
        self.value(path).and_then(spot::words)
    }
    /// A flag.
    #[must_use]
    pub fn flag(&self, path: &str) -> Option<bool> {
        self.value(path)?.as_bool()
    }
    /// A bare number, such as a coordinate.
    #[must_use]
    pub fn number(&self, path: &str) -> Option<f64> {
        let value = self.value(path)?;
        value.as_float().or_else(|| value.as_integer().map(|i| i as f64))
    }
    /// The values of a list, in words.
    #[must_use]
    pub fn list(&self, path: &str) -> Option<Vec<String>> {
        self.value(path)?.as_array()?.iter().map(spot::words).collect()
    }
    /// Why a value is assumed, if it is.
    #[must_use]
    pub fn assumed(&self, path: &str) -> Option<String> {
        self.spot(path)?.step(&Step::Key("assumed".to_owned()))?.value().and_then(spot::words)
    }
    /// How many values or tables a list has; none if there is no list.
    #[must_use]
    pub fn count(&self, path: &str) -> usize {
        self.spot(path).map_or(0, |s| s.len())
    }
    /// The keys of a table.
    #[must_use]
    pub fn keys(&self, path: &str) -> Vec<String> {
        let spot = self.spot(path);
        let table = spot.as_ref().and_then(Spot::table);
        table.map(|t| t.iter().map(|(k, _)| k.to_owned()).collect()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::CaseText;

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
    fn regress_what_is_said_is_no_longer_assumed_and_the_other_way_round() {
        let mut case = CaseText::parse(TEXT).unwrap();
        case.set("vehicle.cg_height", "0.7 m").unwrap();
        assert!(case.text().contains("cg_height = \"0.7 m\"\n"));
        assert_eq!(case.assumed("vehicle.cg_height"), None);
        case.assume("vehicle.mass", "2.5 t", "guessed").unwrap();
        assert!(case.text().contains("mass = { value = \"2.5 t\", assumed = \"guessed\" } # on the plate\n"));
        assert_eq!(case.get("vehicle.mass").as_deref(), Some("2.5 t"));
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
