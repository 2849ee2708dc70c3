//! What is wrong with a case, with the path that it points at, so that the page can say it beside the control.

use super::{CaseText, Path, Step};
use serde::Serialize;
use unmire_casefile::Diagnostic;

/// One thing that is wrong with a case, in the command line's own words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Complaint {
    /// Where it stands, as in `vehicle.mass`; for a key that is missing, where it should stand. Empty for the document as
    /// a whole, for a kit file, and where the text is no TOML.
    pub path: String,
    /// The kit file in which it stands, if it isn't the case itself.
    pub file: Option<String>,
    /// Line, from one.
    pub line: u32,
    /// Column, from one.
    pub column: u32,
    /// A stable word for the kind of mistake.
    pub code: String,
    /// What is wrong.
    pub message: String,
    /// What was expected; may be empty.
    pub expected: String,
    /// An example; may be empty.
    pub example: String,
    /// What to do, if there is something to say.
    pub hint: Option<String>,
    /// The line of the text.
    pub excerpt: String,
}

/// Gives each diagnostic of a text its path.
#[must_use]
pub fn complaints(text: &str, found: &[Diagnostic]) -> Vec<Complaint> {
    let doc = CaseText::parse(text).ok();
    let place = |d: &Diagnostic| -> String {
        let (None, Some(doc)) = (&d.file, &doc) else { return String::new() };
        // What is missing in the document as a whole stands nowhere.
        let whole = d.missing.is_some() && d.span.is_empty();
        let at = if whole { None } else { doc.doc.at(d.span.start).map(Path::from) };
        let at = at.unwrap_or_default();
        match &d.missing {
            Some(key) => at.then(Step::Key(key.clone())).to_string(),
            None => at.to_string(),
        }
    };
    let tell = |d: &Diagnostic| Complaint {
        path: place(d),
        file: d.file.clone(),
        line: d.line,
        column: d.column,
        code: d.code.to_owned(),
        message: d.message.clone(),
        expected: d.expected.clone(),
        example: d.example.clone(),
        hint: d.hint.clone(),
        excerpt: d.excerpt.clone(),
    };
    found.iter().map(tell).collect()
}

#[cfg(test)]
mod tests {
    use crate::document::CaseText;
    use crate::engine;
    use crate::examples::{cases, kits};

    /// The complaints about an example that was changed at one place.
    fn about(change: impl FnOnce(&mut CaseText)) -> Vec<(String, String)> {
        let example = cases().into_iter().find(|c| c.file == "wheel-deep-mud.toml").unwrap();
        let mut case = CaseText::parse(example.text).unwrap();
        change(&mut case);
        let text = case.text();
        let found = engine::read(&text, &kits()).err().unwrap_or_default();
        super::complaints(&text, &found).into_iter().map(|c| (c.path, c.code)).collect()
    }

    #[test]
    fn regress_a_complaint_points_at_the_control() {
        for (path, wrong) in [
            ("vehicle.mass", "2 tons"),
            ("vehicle.winch.line.length", "long"),
            ("vehicle.point[1].kind", "hook"),
            ("anchor[1].species", "plastic"),
            ("anchor[0].signs.dead", "perhaps"),
            ("piece[0].label", "strong"),
        ] {
            let told = about(|c| c.set(path, wrong).unwrap());
            assert_eq!(told.first().map(|(p, _)| p.as_str()), Some(path), "{told:?}");
        }
        let told = about(|c| c.set("anchor[0].position[1]", "near").unwrap());
        assert!(told.iter().all(|(p, _)| p.starts_with("anchor[0].position")) && !told.is_empty(), "{told:?}");
    }
    #[test]
    fn regress_a_missing_key_points_at_its_place() {
        for path in ["vehicle.mass", "anchor[1].kind", "vehicle.winch.rated_pull", "way_out.grade", "piece[2].kind"] {
            let told = about(|c| assert!(c.remove(path)));
            assert!(told.iter().any(|(p, c)| p == path && c == "missing-key"), "{path}: {told:?}");
        }
        let told = about(|c| assert!(c.remove("schema")));
        assert_eq!(told, [("schema".to_owned(), "missing-key".to_owned())]);
    }
    #[test]
    fn regress_a_key_that_nobody_knows_points_at_itself() {
        let told = about(|c| c.set("anchor[0].colour", "green").unwrap());
        assert_eq!(told, [("anchor[0].colour".to_owned(), "unknown-key".to_owned())]);
    }
    #[test]
    fn regress_what_is_no_toml_has_no_path_but_a_line() {
        let text = "schema = \"unmire.case/1\"\ntitle = \n";
        let found = engine::read(text, &[]).unwrap_err();
        let told = super::complaints(text, &found);
        assert!(told.iter().any(|c| c.path.is_empty() && c.line == 2), "{told:?}");
    }
}
