//! From text to document.

mod anchor;
mod bare;
mod behind;
mod case;
mod drive;
mod kinetic;
mod kit;
mod layout;
mod path;
mod site;
mod vehicle;

pub(crate) use kinetic::STATE;
pub(crate) use kit::{MATERIAL, word_index};

use crate::walk::{Mistake, Node, Walk, nearest};
use crate::{CASE_SCHEMA, Diagnostic, Document, KINETIC_SCHEMA, KIT_SCHEMA, Known, RIG_SCHEMA};
use toml::de::{DeTable, DeValue};

/// Largest file that is read, bytes. A long case has 20,000.
pub const LARGEST: usize = 1_000_000;

/// How a kit file is fetched: from its path as written to its text, or why not.
pub(crate) type Resolve<'r> = dyn FnMut(&str) -> Result<String, String> + 'r;

/// Reads a document.
///
/// # Errors
/// Everything that is wrong with it, in the order in which it stands.
pub fn read(text: &str, resolve: &mut dyn FnMut(&str) -> Result<String, String>) -> Result<Document, Vec<Diagnostic>> {
    read_with(text, resolve, &Known::default())
}

/// Reads a document from bytes that may be anything.
///
/// # Errors
/// As [`read`]; and if the bytes are not UTF-8 text.
pub fn read_bytes(
    bytes: &[u8],
    resolve: &mut dyn FnMut(&str) -> Result<String, String>,
    known: &Known<'_>,
) -> Result<Document, Vec<Diagnostic>> {
    match core::str::from_utf8(bytes) {
        Ok(text) => read_with(text, resolve, known),
        Err(e) => {
            let good = bytes.get(..e.valid_up_to()).and_then(|b| core::str::from_utf8(b).ok()).unwrap_or("");
            let mut w = Walk::new(good, None, known);
            w.tell(
                Mistake::new(
                    "not-text",
                    good.len()..good.len(),
                    format!(
                        "byte {} is not UTF-8 text: this is no TOML file, or it was saved in another encoding",
                        e.valid_up_to() + 1
                    ),
                )
                .expected("a text file in UTF-8")
                .hint("save it again as UTF-8"),
            );
            Err(w.found)
        }
    }
}

/// Reads a document and checks its words against the keys of the data tables.
///
/// # Errors
/// As [`read`].
pub fn read_with(
    text: &str,
    resolve: &mut dyn FnMut(&str) -> Result<String, String>,
    known: &Known<'_>,
) -> Result<Document, Vec<Diagnostic>> {
    let mut w = Walk::new(text, None, known);
    let document = document(&mut w, resolve);
    finish(w, document)
}

fn finish(mut w: Walk<'_>, document: Option<Document>) -> Result<Document, Vec<Diagnostic>> {
    match document {
        Some(d) if w.found.is_empty() => Ok(d),
        _ => {
            if w.found.is_empty() {
                // Every getter that gives nothing has told why; this line stands for a hole in that rule.
                w.tell(Mistake::new("unread", 0..0, "this document could not be read, and the reader can't say why"));
            }
            unmire_model::order::sort_by(&mut w.found, |a, b| {
                (a.file.as_deref(), a.span.start).cmp(&(b.file.as_deref(), b.span.start))
            });
            if let (true, Some(last)) = (w.untold > 0, w.found.last_mut()) {
                let more = format!("{} more mistakes are not told here; mend these first", w.untold);
                last.hint = Some(last.hint.take().map_or(more.clone(), |h| format!("{h}; {more}")));
            }
            Err(w.found)
        }
    }
}

/// Tells of what is broken as TOML; gives the text without it.
fn check_toml(w: &mut Walk<'_>, text: &str) -> Option<String> {
    if text.len() > LARGEST {
        w.tell(
            Mistake::new("too-large", 0..0, format!("this file has {} bytes", text.len()))
                .expected(format!("at most {LARGEST}; a long case has 20000"))
                .hint("leave out what can't be reached or won't be used"),
        );
        return None;
    }
    if let Some(i) = text.find(|c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t')) {
        w.tell(
            Mistake::new("not-text", i..i + 1, "a character that can't be printed: this is no TOML file")
                .expected("a text file in UTF-8"),
        );
        return None;
    }
    let text = crate::mend::mend(w, text)?;
    let (_, errors) = DeTable::parse_recoverable(&text);
    for span in errors.iter().filter_map(toml::de::Error::span) {
        let name = text.get(span.clone()).unwrap_or("").chars().take(40).collect::<String>();
        w.tell(
            Mistake::new("duplicate-key", span.clone(), format!("`{name}` is given twice"))
                .expected("each key once; a list of tables has two brackets: [[anchor]]")
                .hint("remove one of the two"),
        );
        w.broken.insert(w.lines.line(span.start));
    }
    Some(text)
}

fn document(w: &mut Walk<'_>, resolve: &mut Resolve<'_>) -> Option<Document> {
    let text = w.text;
    let sound = check_toml(w, text)?;
    let (table, _) = DeTable::parse_recoverable(&sound);
    let table = table.into_inner();
    let all = [CASE_SCHEMA, KIT_SCHEMA, RIG_SCHEMA, KINETIC_SCHEMA];
    let example = "schema = \"unmire.case/1\"";
    let Some(value) = table.get("schema") else {
        w.tell(
            Mistake::new(
                "missing-key",
                0..0,
                "`schema` is missing: the reader must know what this document is, and its version",
            )
            .missing("schema")
            .expected(crate::walk::either(&all))
            .example(example),
        );
        return None;
    };
    let said = match value.get_ref() {
        DeValue::String(s) => s.to_string(),
        _ => String::new(),
    };
    let whole = table.get_key_value("schema").map_or(0..0, |(k, _)| k.span());
    match said.as_str() {
        CASE_SCHEMA => {
            let node = Node::open(w, &table, whole, &crate::keys::case::CASE);
            case::case(w, &node, resolve).map(|c| Document::Case(Box::new(c)))
        }
        KIT_SCHEMA => {
            let node = Node::open(w, &table, whole, &crate::keys::kit::KIT);
            kit::kit(w, &node).map(Document::Kit)
        }
        RIG_SCHEMA => {
            let node = Node::open(w, &table, whole, &crate::keys::bare::BARE);
            bare::bare(w, &node).map(Document::Rig)
        }
        KINETIC_SCHEMA => {
            let node = Node::open(w, &table, whole, &crate::keys::kinetic::PROBLEM);
            kinetic::problem(w, &node).map(|p| Document::Kinetic(Box::new(p)))
        }
        _ => {
            let shown: String = said.chars().take(40).collect();
            let family = said.split('/').next().unwrap_or("");
            let hint = if all.iter().any(|s| s.starts_with(&format!("{family}/"))) && said.contains('/') {
                Some("this file was made for another version of this program".to_owned())
            } else {
                nearest(&said, all).map(|n| format!("did you mean \"{n}\"?"))
            };
            w.tell(
                Mistake::new(
                    "wrong-schema",
                    value.span(),
                    format!("`schema` = \"{shown}\" is no document of this program"),
                )
                .expected(crate::walk::either(&all))
                .example(example)
                .maybe_hint(hint),
            );
            None
        }
    }
}

/// Reads a text that is one anchor's table. It stands alone: what it refers to is not looked for.
pub(crate) fn lone_anchor(w: &mut Walk<'_>, text: &str) -> Option<unmire_model::anchor::Anchor> {
    let sound = check_toml(w, text)?;
    let (table, _) = DeTable::parse_recoverable(&sound);
    let table = table.into_inner();
    let node = Node::open_kind(w, &table, 0..0, &crate::keys::anchor::ANCHOR, crate::keys::anchor::KINDS);
    anchor::anchor(w, &node, &site::Survey::default(), None)
}

/// Fetches and reads a kit file that a case refers to.
fn kit_file(
    w: &mut Walk<'_>,
    path: &str,
    span: core::ops::Range<usize>,
    resolve: &mut Resolve<'_>,
) -> Option<Vec<unmire_model::gear::Piece>> {
    let text = match resolve(path) {
        Ok(t) => t,
        Err(why) => {
            w.tell(
                Mistake::new("kit-file", span, format!("the kit file \"{path}\" can't be read: {why}"))
                    .expected("the path of a kit file, seen from this file")
                    .example("kit = \"bag.toml\""),
            );
            return None;
        }
    };
    let mut inner = Walk::new(&text, Some(path.to_owned()), w.known);
    let made = document(&mut inner, &mut |_| Err("a kit file can't refer to another".into()));
    let told = !inner.found.is_empty();
    let room = crate::walk::MOST_TOLD.saturating_sub(w.found.len());
    w.found.extend(inner.found.into_iter().take(room));
    match made {
        Some(Document::Kit(pieces)) if !told => Some(pieces),
        Some(_) if !told => {
            w.tell(
                Mistake::new("kit-file", span, format!("\"{path}\" is not a kit file"))
                    .expected(format!("a file with schema = \"{KIT_SCHEMA}\"")),
            );
            None
        }
        _ => None,
    }
}
