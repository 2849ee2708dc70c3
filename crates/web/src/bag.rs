//! A bag of gear while it is edited: which fields a kind of piece has, and how its label is written.
//!
//! Keys, words and examples are those of the document that the command line reads; nothing is listed twice.

use crate::document::{CaseText, EditError, Raw};
use crate::engine;
use unmire_casefile::Document;
use unmire_casefile::keys::kit::{COMMON, PIECE, PIECE_WORDS};
use unmire_model::gear::Rating;

pub use unmire_casefile::keys::kit::PIECE_KINDS;

/// How a field of a piece is filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// One of these words.
    Words(&'static [&'static str]),
    /// Yes, no, or not said.
    Flag,
    /// A whole number.
    Whole,
    /// A label as printed.
    Label,
    /// Anything else is text, with its unit in it.
    Text,
}

/// One key of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PieceKey {
    /// Its name.
    pub name: &'static str,
    /// How it is filled in.
    pub field: Field,
    /// Whether a piece of this kind must have it.
    pub must: bool,
    /// An example of its value as somebody types it.
    pub example: &'static str,
}

/// The keys of a kind of piece, in the order of the document; `id` and `kind` are not among them. A kind that nobody
/// knows has the common ones.
#[must_use]
pub fn keys(kind: &str) -> Vec<PieceKey> {
    use unmire_casefile::key::Kind;
    let word = PIECE_WORDS.iter().find(|w| w.word == kind);
    let (own, need, rated) = word.map_or((&[][..], &[][..], false), |w| (w.keys, w.need, w.rated));
    let its = PIECE.keys.iter().filter(|k| COMMON.contains(&k.name) || own.contains(&k.name));
    its.filter(|k| !["id", "kind"].contains(&k.name))
        .map(|k| PieceKey {
            name: k.name,
            field: match k.kind {
                Kind::Words(words) => Field::Words(words),
                Kind::Flag => Field::Flag,
                Kind::Whole(..) => Field::Whole,
                Kind::Label => Field::Label,
                _ => Field::Text,
            },
            must: need.contains(&k.name) || (rated && k.name == "label"),
            example: k.example.trim_matches('"'),
        })
        .collect()
}

/// A label, as somebody fills it in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Label {
    /// Nothing is said of it.
    #[default]
    Unsaid,
    /// There is none on the piece.
    Missing,
    /// There is one that nobody can read.
    Unreadable,
    /// What is printed on it.
    Printed(Print),
}
/// What is printed on a piece, and what it means where the text can be read in two ways. What is empty is not said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Print {
    /// The text.
    pub text: String,
    /// The force.
    pub means: String,
    /// What kind of force.
    pub rating: String,
    /// Breaking strength over working load limit.
    pub design_factor: String,
}
impl Label {
    /// Its word for a choice.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Unsaid => "unsaid",
            Self::Missing => "missing",
            Self::Unreadable => "unreadable",
            Self::Printed(_) => "printed",
        }
    }
    /// What stands at a path.
    #[must_use]
    pub fn at(doc: &CaseText, path: &str) -> Self {
        if !doc.has(path) {
            return Self::Unsaid;
        }
        let part = |key: &str| doc.get(&format!("{path}.{key}")).unwrap_or_default();
        if let Some(text) = doc.get(path) {
            return match unmire_model::letters::lower(text.trim()).as_str() {
                "missing" | "none" => Self::Missing,
                "unreadable" => Self::Unreadable,
                _ => Self::Printed(Print { text, ..Print::default() }),
            };
        }
        Self::Printed(Print {
            text: part("text"),
            means: part("means"),
            rating: part("rating"),
            design_factor: part("design_factor"),
        })
    }
    /// Writes it at a path.
    ///
    /// # Errors
    /// If nothing can stand there.
    pub fn put(&self, doc: &mut CaseText, path: &str) -> Result<(), EditError> {
        match self {
            Self::Unsaid => {
                doc.remove(path);
                Ok(())
            }
            Self::Missing | Self::Unreadable => doc.set(path, self.word()),
            Self::Printed(p) if [&p.means, &p.rating, &p.design_factor].iter().all(|t| t.is_empty()) => {
                doc.set(path, p.text.as_str())
            }
            Self::Printed(p) => {
                let mut table = vec![("text", p.text.as_str().into())];
                for (key, text) in [("means", &p.means), ("rating", &p.rating)] {
                    if !text.is_empty() {
                        table.push((key, text.as_str().into()));
                    }
                }
                if !p.design_factor.is_empty() {
                    table.push(("design_factor", number(&p.design_factor)));
                }
                doc.set(path, Raw::table(table))
            }
        }
    }
}

/// What a readable label means, as the reader of the file takes it.
#[must_use]
pub fn meaning(label: &Label) -> Option<Rating> {
    let mut doc = CaseText::parse(&format!("schema = \"{}\"\n", unmire_casefile::KIT_SCHEMA)).ok()?;
    let at = add(&mut doc, "bow shackle").ok()?;
    label.put(&mut doc, &format!("piece[{at}].label")).ok()?;
    match engine::read(&doc.text(), &[]).ok()? {
        Document::Kit(pieces) => pieces.into_iter().next()?.label.rating().cloned(),
        _ => None,
    }
}

/// A number where it is one, else the text, of which the reader of the file says what is wrong with it.
fn number(text: &str) -> Raw {
    let t = text.trim();
    if let Ok(n) = t.parse::<i64>() {
        return n.into();
    }
    t.parse::<f64>().map_or_else(|_| Raw::from(t), Raw::from)
}

/// Writes what was typed into a field; an empty one is no longer said.
///
/// # Errors
/// If nothing can stand there.
pub fn put(doc: &mut CaseText, path: &str, field: Field, text: &str) -> Result<(), EditError> {
    match (field, text.trim()) {
        (_, "") => {
            doc.remove(path);
            Ok(())
        }
        (Field::Flag, "true") => doc.set(path, true),
        (Field::Flag, "false") => doc.set(path, false),
        (Field::Whole, t) => doc.set(path, number(t)),
        (_, t) => doc.set(path, t),
    }
}

/// Writes what was typed or chosen in a control of the page: `how` says what the control edits at the path.
///
/// # Errors
/// If nothing can stand there.
pub fn typed(doc: &mut CaseText, path: &str, how: &str, text: &str) -> Result<(), EditError> {
    let field = match how {
        "kind" => return put_kind(doc, path, text),
        "label" => {
            let label = match text {
                "missing" => Label::Missing,
                "unreadable" => Label::Unreadable,
                "printed" => Label::Printed(Print::default()),
                _ => Label::Unsaid,
            };
            return label.put(doc, path);
        }
        "whole" => Field::Whole,
        "flag" => Field::Flag,
        _ => Field::Text,
    };
    let Some(part) = how.strip_prefix("label.") else { return put(doc, path, field, text) };
    let Label::Printed(mut print) = Label::at(doc, path) else { return Ok(()) };
    let text = text.trim().to_owned();
    match part {
        "text" => print.text = text,
        "means" => print.means = text,
        "rating" => print.rating = text,
        _ => print.design_factor = text,
    }
    Label::Printed(print).put(doc, path)
}

/// Makes another kind of a piece: what only the old kind had goes.
///
/// # Errors
/// If there is no such piece.
pub fn put_kind(doc: &mut CaseText, piece: &str, kind: &str) -> Result<(), EditError> {
    doc.set(&format!("{piece}.kind"), kind)?;
    let its = keys(kind);
    for key in doc.keys(piece) {
        if !["id", "kind"].contains(&key.as_str()) && !its.iter().any(|k| k.name == key) {
            doc.remove(&format!("{piece}.{key}"));
        }
    }
    Ok(())
}

/// Adds a piece. Its label is missing until somebody reads it, so that it is unknown and passes nothing.
///
/// # Errors
/// If the document can have none.
pub fn add(doc: &mut CaseText, kind: &str) -> Result<usize, EditError> {
    let taken: Vec<String> = (0..doc.count("piece")).filter_map(|i| doc.get(&format!("piece[{i}].id"))).collect();
    let id = (1..).map(|n| format!("K{n}")).find(|id| !taken.contains(id)).unwrap_or_default();
    let at = doc.append("piece")?;
    doc.set(&format!("piece[{at}].id"), id)?;
    doc.set(&format!("piece[{at}].kind"), kind)?;
    if keys(kind).iter().any(|k| k.name == "label" && k.must) {
        doc.set(&format!("piece[{at}].label"), "missing")?;
    }
    doc.set(&format!("piece[{at}].condition"), "not checked")?;
    Ok(at)
}

/// The pieces of a case as a kit file of their own, as they are written there; nothing if the case has none itself.
#[must_use]
pub fn kit_of(case: &CaseText, title: &str) -> Option<String> {
    let pieces = case.part("piece")?;
    let mut kit = CaseText::parse("").ok()?;
    kit.set("schema", unmire_casefile::KIT_SCHEMA).ok()?;
    kit.set("title", title).ok()?;
    Some(kit.text() + &pieces)
}

/// Whether a text says of itself that it is a kit file.
#[must_use]
pub fn is_kit(text: &str) -> bool {
    CaseText::parse(text).is_ok_and(|d| d.get("schema").as_deref() == Some(unmire_casefile::KIT_SCHEMA))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{KITS, cases};

    fn clay() -> CaseText {
        CaseText::parse(cases().into_iter().find(|c| c.file == "wheel-deep-mud.toml").unwrap().text).unwrap()
    }

    #[test]
    fn regress_every_kind_has_its_fields() {
        for kind in PIECE_KINDS {
            let names: Vec<&str> = keys(kind).iter().map(|k| k.name).collect();
            assert!(names.contains(&"label") && names.contains(&"condition"), "{kind}");
        }
        let rope = keys("rope");
        assert!(
            ["length", "material", "diameter", "kinetic", "label"]
                .iter()
                .all(|n| rope.iter().any(|k| k.name == *n && k.must))
        );
        assert!(keys("pump").iter().all(|k| !k.must));
        assert_eq!(keys("nobody's").len(), keys("pump").len());
    }
    #[test]
    fn regress_labels_are_read_and_written_in_every_way() {
        let full = Print {
            text: "4.75 T".into(),
            means: "4.75 t".into(),
            rating: "working".into(),
            design_factor: "6".into(),
        };
        let plain = Print { text: "WLL 2 t (7:1)".into(), ..Print::default() };
        let mut doc = clay();
        for label in [Label::Printed(full), Label::Missing, Label::Printed(plain), Label::Unreadable, Label::Unsaid] {
            label.put(&mut doc, "piece[1].label").unwrap();
            assert_eq!(Label::at(&doc, "piece[1].label"), label);
            let read = engine::read(&doc.text(), &[]);
            assert_eq!(read.is_ok(), label != Label::Unsaid, "{label:?}");
        }
    }
    #[test]
    fn regress_a_label_means_what_the_reader_of_the_file_says() {
        use unmire_model::gear::RatingKind;
        let printed = |text: &str| Label::Printed(Print { text: text.into(), ..Print::default() });
        let working = meaning(&printed("WLL 2 t (7:1)")).unwrap();
        assert_eq!((working.kind, working.design_factor), (RatingKind::Working, Some(7.0)));
        assert!((working.force.as_n() - 19_613.3).abs() < 0.1);
        let breaking = meaning(&printed("MBS 80 kN")).unwrap();
        assert_eq!((breaking.kind, breaking.force.as_n()), (RatingKind::Breaking, 80_000.0));
        assert_eq!(meaning(&printed("17,600 lb")).unwrap().kind, RatingKind::Unstated);
        for label in
            [printed("4.75 T"), printed("strong"), printed(""), Label::Missing, Label::Unreadable, Label::Unsaid]
        {
            assert_eq!(meaning(&label), None, "{label:?}");
        }
    }
    #[test]
    fn regress_a_new_piece_is_unknown_until_its_label_is_read() {
        let mut doc = clay();
        let at = add(&mut doc, "bow shackle").unwrap();
        let id = doc.get(&format!("piece[{at}].id")).unwrap();
        let Ok(Document::Case(case)) = engine::read(&doc.text(), &[]) else { panic!("{}", doc.text()) };
        let piece = case.kit.iter().find(|p| p.id == id).unwrap();
        assert_eq!(piece.label, unmire_model::gear::Label::Missing);
        let more = add(&mut doc, "pump").unwrap();
        assert_ne!(doc.get(&format!("piece[{more}].id")).unwrap(), id);
        assert!(engine::read(&doc.text(), &[]).is_ok());
    }
    #[test]
    fn regress_another_kind_keeps_what_both_have() {
        let mut doc = clay();
        put_kind(&mut doc, "piece[0]", "round sling").unwrap();
        assert!(engine::read(&doc.text(), &[]).is_ok());
        put_kind(&mut doc, "piece[0]", "bow shackle").unwrap();
        assert_eq!(doc.keys("piece[0]"), ["id", "kind", "label", "condition"]);
        assert!(engine::read(&doc.text(), &[]).is_ok());
    }
    #[test]
    fn regress_fields_are_written_as_what_they_are() {
        let mut doc = clay();
        put(&mut doc, "piece[1].count", Field::Whole, " 3 ").unwrap();
        put(&mut doc, "piece[0].sleeve", Field::Flag, "false").unwrap();
        put(&mut doc, "piece[0].width", Field::Text, "90 mm").unwrap();
        put(&mut doc, "piece[0].eyes", Field::Words(&[]), "").unwrap();
        let text = doc.text();
        assert!(
            text.contains("count = 3\n") && text.contains("sleeve = false\n") && text.contains("width = \"90 mm\""),
            "{text}"
        );
        assert!(!doc.has("piece[0].eyes"));
        put(&mut doc, "piece[1].count", Field::Whole, "many").unwrap();
        assert!(engine::read(&doc.text(), &[]).is_err());
    }
    #[test]
    fn regress_what_a_control_edits_is_edited() {
        let mut doc = clay();
        let label = |doc: &CaseText| Label::at(doc, "piece[1].label");
        for (how, text) in
            [("label", "printed"), ("label.text", " 4.75 T "), ("label.means", "4.75 t"), ("label.factor", "6")]
        {
            typed(&mut doc, "piece[1].label", how, text).unwrap();
        }
        typed(&mut doc, "piece[1].label", "label.rating", "working").unwrap();
        assert_eq!(meaning(&label(&doc)).and_then(|r| r.design_factor), Some(6.0));
        typed(&mut doc, "piece[1].label", "label", "missing").unwrap();
        typed(&mut doc, "piece[1].label", "label.means", "4.75 t").unwrap();
        assert_eq!(label(&doc), Label::Missing);
        typed(&mut doc, "piece[1].count", "whole", "3").unwrap();
        typed(&mut doc, "piece[0].sleeve", "flag", "false").unwrap();
        typed(&mut doc, "piece[0]", "kind", "round sling").unwrap();
        assert!(engine::read(&doc.text(), &[]).is_ok() && doc.text().contains("count = 3\n"), "{}", doc.text());
    }
    #[test]
    fn regress_the_pieces_of_a_case_make_a_kit_that_the_reader_takes() {
        let case = clay();
        let kit = kit_of(&case, "Bag").unwrap();
        let (Ok(Document::Kit(pieces)), Ok(Document::Case(whole))) =
            (engine::read(&kit, &[]), engine::read(&case.text(), &[]))
        else {
            panic!("{kit}")
        };
        // The lines at which they stand differ, so that what they say is compared.
        let write = unmire_casefile::write_kit;
        assert_eq!(write(&pieces), write(&whole.kit));
        assert_eq!(pieces.len(), whole.kit.len());
        assert!(is_kit(&kit) && is_kit(KITS[0].1) && !is_kit(&case.text()) && !is_kit("schema ="));
        assert_eq!(kit_of(&CaseText::parse("a = 1\n").unwrap(), "Bag"), None);
    }
}
