//! One anchor from words of a command line or from the fields of a form: the keys and the reader of `[[anchor]]`.

use crate::diagnostic::Diagnostic;
use crate::key::{Key, Kind, Need, Section};
use crate::keys::anchor::{ANCHOR, KINDS};
use crate::walk::{Walk, expected, plain};
use crate::write::quoted;
use crate::{Known, read};
use core::ops::Range as Span;
use toml::de::{DeTable, DeValue};
use unmire_model::anchor::Anchor;

/// What is wrong with one word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WordError {
    /// The key of the word, as it was given or as it is missing; empty if it is no single word's fault.
    pub word: String,
    /// A stable word for the kind of mistake, as in a [`Diagnostic`].
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What was expected; may be empty.
    pub expected: String,
    /// An example of it; may be empty.
    pub example: String,
    /// What to do, if there is something to say.
    pub hint: Option<String>,
}
impl core::fmt::Display for WordError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)?;
        if !self.expected.is_empty() {
            write!(f, "; expected {}", self.expected)?;
        }
        if !self.example.is_empty() {
            write!(f, ", for example {}", self.example)?;
        }
        self.hint.as_ref().map_or(Ok(()), |h| write!(f, "; {h}"))
    }
}
impl core::error::Error for WordError {}

/// One key of a kind of anchor, for a help text or a form.
#[derive(Clone, Copy, Debug)]
pub struct AnchorKey {
    /// The table in which it stands, if it stands in one: `signs`, `earth`.
    pub within: Option<&'static Key>,
    /// The key.
    pub key: &'static Key,
}
impl AnchorKey {
    /// Its name as a word: `girth`, `signs.rotten`.
    #[must_use]
    pub fn name(&self) -> String {
        self.within.map_or_else(|| self.key.name.to_owned(), |w| format!("{}.{}", w.name, self.key.name))
    }
    /// What its value must be, with its bounds.
    #[must_use]
    pub fn expected(&self) -> String {
        let what = expected(self.key);
        match self.key.kind {
            Kind::One(_, low, high) | Kind::Range(_, low, high) | Kind::Ranges(_, _, low, high) => {
                format!("{what}; {low} to {high}")
            }
            _ => what,
        }
    }
    /// Whether it must be there, whatever else is.
    #[must_use]
    pub fn required(&self) -> bool {
        let must = |k: &Key| matches!(k.need, Need::Must(_));
        must(self.key) && self.within.is_none_or(must)
    }
}

/// Keys that only mean something where an anchor stands among others.
const PLACING: [&str; 12] = [
    "id",
    "kind",
    "position",
    "distance",
    "paces",
    "pace",
    "bearing",
    "direction",
    "rise",
    "from",
    "uncertainty",
    "tied_back",
];

fn section(kind: &str) -> Option<&'static Section> {
    let kind = plain(kind).replace('-', " ");
    KINDS.iter().copied().find(|k| k.name == kind)
}

/// The keys of a kind of anchor with their texts, those of its tables one by one; without those that place it, name it
/// or tie it to another. Nothing if there is no such kind: [`crate::keys::anchor::ANCHOR_KINDS`] lists them.
#[must_use]
pub fn keys_of_anchor(kind: &str) -> Option<Vec<AnchorKey>> {
    let common = ANCHOR.keys.iter().filter(|k| !PLACING.contains(&k.name));
    let keys = section(kind)?.keys.iter().chain(common);
    Some(
        keys.flat_map(|k| match k.kind {
            Kind::Table(s) => s.keys.iter().map(|key| AnchorKey { within: Some(k), key }).collect(),
            _ => vec![AnchorKey { within: None, key: k }],
        })
        .collect(),
    )
}

/// The anchor that some words make: pairs of a key of `[[anchor]]` and its value. A key of a table under it has its
/// name before it: `signs.rotten`.
///
/// A value is a text as it would stand between quotes (`1.2 m .. 1.4 m`), or TOML where its key wants no text: true or
/// false, a whole number, a list, a table in braces (`{ value = "0.4 m", assumed = "not measured" }`).
///
/// The anchor is not placed: unless the words say otherwise its id is `anchor`, its position the origin and its
/// uncertainty nothing. It can't be tied back, because what it would be tied to is not there. Its values come from no
/// line of a file.
///
/// ```
/// use unmire_casefile::{Known, anchor_from_words};
/// let words = [("girth", "1.2 m"), ("attach_height", "0.4 m"), ("signs.leaning", "false")];
/// assert_eq!(anchor_from_words("tree", &words, &Known::default()).unwrap().id, "anchor");
/// let wrong = anchor_from_words("tree", &[("girt", "1.2 m"), ("attach_height", "0.4 m")], &Known::default());
/// assert_eq!(wrong.unwrap_err()[0].hint.as_deref(), Some("did you mean `girth`?"));
/// ```
///
/// # Errors
/// Everything that is wrong with the words, each with the word at fault.
pub fn anchor_from_words(kind: &str, words: &[(&str, &str)], known: &Known<'_>) -> Result<Anchor, Vec<WordError>> {
    let own = section(kind);
    let given = |root: &str| words.iter().any(|(k, _)| k.split('.').next().is_some_and(|r| r.trim() == root));
    let mut text = format!("kind = {}\n", quoted(own.map_or(kind, |s| s.name)));
    let kind_ends = text.len();
    if !given("id") {
        text.push_str("id = \"anchor\"\n");
    }
    if !["position", "distance", "paces"].into_iter().any(given) {
        text.push_str("position = [0, 0, 0]\n");
    }
    if !given("uncertainty") {
        text.push_str("uncertainty = \"0 m\"\n");
    }
    let mut spans: Vec<(Span<usize>, &str)> = vec![(0..kind_ends, "kind")];
    let mut seen: Vec<Vec<&str>> = vec![vec!["kind"]];
    let mut wrong = Vec::new();
    for (key, said) in words {
        let path: Vec<&str> = key.split('.').map(str::trim).collect();
        let mut tell = |code, message: String, expected: &str| {
            wrong.push(WordError {
                word: (*key).to_owned(),
                code,
                message,
                expected: expected.into(),
                example: String::new(),
                hint: None,
            });
        };
        if path.first() == Some(&"tied_back") {
            tell(
                "unknown-id",
                "an anchor on its own can't be tied back: what it would be tied to is not here".into(),
                "a case with both anchors and the piece between them",
            );
            continue;
        }
        if let Some(before) = seen.iter().find(|s| s.starts_with(&path) || path.starts_with(s)) {
            let before = before.join(".");
            let message = match before == path.join(".") {
                true => format!("`{before}` is given twice"),
                false => format!("`{key}` is given, and `{before}` before it"),
            };
            tell("duplicate-key", message, "each key once; a table either whole or key by key");
            continue;
        }
        let start = text.len();
        let name: Vec<String> = path.iter().map(|p| if is_bare(p) { (*p).to_owned() } else { quoted(p) }).collect();
        text.push_str(&format!("{} = {}\n", name.join("."), value(find(own, &path), said)));
        spans.push((start..text.len(), key));
        seen.push(path);
    }
    let mut w = Walk::new(&text, None, known);
    w.lined = false;
    let anchor = read::lone_anchor(&mut w, &text);
    unmire_model::order::sort_by_key(&mut w.found, |d| d.span.start);
    wrong.extend(w.found.into_iter().map(|d| error(d, &spans)));
    match anchor {
        Some(a) if wrong.is_empty() => Ok(a),
        _ if !wrong.is_empty() => Err(wrong),
        _ => Err(vec![WordError {
            word: String::new(),
            code: "unread",
            message: "these words could not be read, and the reader can't say why".into(),
            expected: String::new(),
            example: String::new(),
            hint: None,
        }]),
    }
}

fn is_bare(part: &str) -> bool {
    !part.is_empty() && part.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-')
}

/// The key that a path names.
fn find(own: Option<&'static Section>, path: &[&str]) -> Option<&'static Key> {
    let (first, rest) = path.split_first()?;
    let key = own.into_iter().chain([&ANCHOR]).find_map(|s| s.key(first))?;
    match (rest, key.kind) {
        ([], _) => Some(key),
        ([inner], Kind::Table(s)) => s.key(inner),
        _ => None,
    }
}

/// A value as TOML.
fn value(key: Option<&Key>, said: &str) -> String {
    let said = said.trim();
    let wants_text = key.is_some_and(|k| matches!(k.kind, Kind::Text | Kind::Id | Kind::Words(_) | Kind::TableKey));
    let written_out = said.starts_with(['"', '\'']) || said.starts_with('{') && key.is_none_or(|k| k.assumable);
    if (written_out || !wants_text) && is_value(said) { said.to_owned() } else { quoted(said) }
}

/// Whether a text is one TOML value of those that need no quotes, or a text with them.
fn is_value(said: &str) -> bool {
    let line = format!("x = {said}\n");
    let (table, errors) = DeTable::parse_recoverable(&line);
    let table = table.get_ref();
    errors.is_empty()
        && table.len() == 1
        && table.get("x").is_some_and(|v| !matches!(v.get_ref(), DeValue::Float(_) | DeValue::Datetime(_)))
}

fn error(d: Diagnostic, spans: &[(Span<usize>, &str)]) -> WordError {
    let at = spans.iter().find(|(s, _)| s.contains(&d.span.start)).map(|(_, word)| *word);
    let word = match (&d.missing, at) {
        // A table of its own is missing something: the word's root says which table.
        (Some(missing), Some(word)) if !d.span.is_empty() => {
            format!("{}.{missing}", word.split('.').next().unwrap_or(word).trim())
        }
        (Some(missing), _) => missing.clone(),
        (None, word) => word.unwrap_or("").to_owned(),
    };
    WordError { word, code: d.code, message: d.message, expected: d.expected, example: d.example, hint: d.hint }
}
