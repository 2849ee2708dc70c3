//! The walk through a document: one getter for each kind of value. Every mistake is put down and the walk goes on.

use crate::diagnostic::{Diagnostic, Lines};
use crate::key::{ASSUMED_KEYS, Key, Kind, Need, Section};
use core::ops::Range as Span;
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use unmire_model::letters::lower;
use unmire_model::trail::Origin;

/// Most mistakes that are told of one file.
pub(crate) const MOST_TOLD: usize = 100;
/// Longest free text.
pub(crate) const LONGEST_TEXT: usize = 400;
/// Longest id.
pub(crate) const LONGEST_ID: usize = 60;

/// What the walk carries along.
pub(crate) struct Walk<'t> {
    /// The text.
    pub(crate) text: &'t str,
    /// Its lines.
    pub(crate) lines: Lines<'t>,
    /// The kit file that this text is, if it is one.
    pub(crate) file: Option<String>,
    /// What was found so far.
    pub(crate) found: Vec<Diagnostic>,
    /// How many more there were than are told.
    pub(crate) untold: usize,
    /// Lines on which TOML itself is broken; values there are not judged again.
    pub(crate) broken: BTreeSet<u32>,
    /// Keys whose statements are broken as TOML; they are not missing.
    pub(crate) lost: BTreeSet<String>,
    /// Words that the data tables know.
    pub(crate) known: &'t crate::Known<'t>,
    /// Whether a line of the text means something to whoever wrote it.
    pub(crate) lined: bool,
}

/// A mistake in the making.
pub(crate) struct Mistake {
    code: &'static str,
    span: Span<usize>,
    message: String,
    expected: String,
    example: String,
    hint: Option<String>,
    missing: Option<String>,
}
impl Mistake {
    pub(crate) fn new(code: &'static str, span: Span<usize>, message: impl Into<String>) -> Self {
        Self {
            code,
            span,
            message: message.into(),
            expected: String::new(),
            example: String::new(),
            hint: None,
            missing: None,
        }
    }
    pub(crate) fn missing(mut self, key: &str) -> Self {
        self.missing = Some(key.to_owned());
        self
    }
    pub(crate) fn expected(mut self, t: impl Into<String>) -> Self {
        self.expected = t.into();
        self
    }
    pub(crate) fn example(mut self, t: impl Into<String>) -> Self {
        self.example = t.into();
        self
    }
    pub(crate) fn hint(mut self, t: impl Into<String>) -> Self {
        self.hint = Some(t.into());
        self
    }
    pub(crate) fn maybe_hint(mut self, t: Option<String>) -> Self {
        self.hint = t;
        self
    }
}

impl<'t> Walk<'t> {
    pub(crate) fn new(text: &'t str, file: Option<String>, known: &'t crate::Known<'t>) -> Self {
        Self {
            text,
            lines: Lines::new(text),
            file,
            found: Vec::new(),
            untold: 0,
            broken: BTreeSet::new(),
            lost: BTreeSet::new(),
            known,
            lined: true,
        }
    }
    /// Puts a mistake down.
    pub(crate) fn tell(&mut self, m: Mistake) {
        let mut d = Diagnostic {
            code: m.code,
            file: self.file.clone(),
            line: 0,
            column: 0,
            span: m.span,
            message: m.message,
            expected: m.expected,
            example: m.example,
            hint: m.hint,
            missing: m.missing,
            excerpt: String::new(),
            mark: 0,
            marks: 0,
        };
        self.lines.locate(&mut d);
        if d.code != "toml" && self.broken.contains(&d.line) {
            return;
        }
        if self.found.contains(&d) {
            return;
        }
        if self.found.len() < MOST_TOLD {
            self.found.push(d);
        } else {
            self.untold += 1;
        }
    }
    /// Where something was said.
    pub(crate) fn origin(&self, at: usize) -> Origin {
        Origin::File { line: self.line(at) }
    }
    /// On which line something was said; zero where that means nothing.
    pub(crate) fn line(&self, at: usize) -> u32 {
        if self.lined { self.lines.line(at) } else { 0 }
    }
}

/// The nearest of some words, if one is near.
pub(crate) fn nearest<'w>(word: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let spoken = |word: &str| lower(word).replace([' ', '-'], "_");
    let word = spoken(word);
    words
        .into_iter()
        .map(|w| (strsim::jaro_winkler(&word, &spoken(w)), w))
        .filter(|(score, _)| *score >= 0.78)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, w)| w)
}

/// A word as it is compared: lower case, spaces between.
pub(crate) fn plain(word: &str) -> String {
    word.trim().to_ascii_lowercase().replace('_', " ")
}

/// Words in a row for people: `a`, `b` or `c`.
pub(crate) fn either(words: &[&str]) -> String {
    match words {
        [] => "nothing".into(),
        [one] => format!("\"{one}\""),
        [head @ .., last] => {
            format!("{} or \"{last}\"", head.iter().map(|w| format!("\"{w}\"")).collect::<Vec<_>>().join(", "))
        }
    }
}

/// What a value is, with its article.
pub(crate) fn what_it_is(v: &DeValue<'_>) -> &'static str {
    match v {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// A bare number, if it is one.
pub(crate) fn number(v: &DeValue<'_>) -> Option<f64> {
    match v {
        DeValue::Integer(i) => match i.radix() {
            10 => i.as_str().parse().ok(),
            r => i64::from_str_radix(i.as_str(), r).ok().map(|n| n as f64),
        },
        DeValue::Float(f) => f.as_str().parse().ok(),
        _ => None,
    }
}

/// A table that is being read.
#[derive(Clone)]
pub(crate) struct Node<'a, 't> {
    pub(crate) table: &'a DeTable<'t>,
    pub(crate) span: Span<usize>,
    pub(crate) section: &'static Section,
    /// The keys that it has beside those by its kind.
    pub(crate) own: Option<&'static Section>,
}

/// A value with its key.
pub(crate) struct Found<'a, 't> {
    pub(crate) key: &'static Key,
    pub(crate) value: &'a DeValue<'t>,
    pub(crate) span: Span<usize>,
    /// Why it was assumed, if it was.
    pub(crate) assumed: Option<String>,
}

impl<'a, 't> Node<'a, 't> {
    /// Opens a table and tells of the keys that it should not have.
    pub(crate) fn open(w: &mut Walk<'_>, table: &'a DeTable<'t>, span: Span<usize>, section: &'static Section) -> Self {
        Self::open_kind(w, table, span, section, &[])
    }
    /// Opens a table some of whose keys go by its `kind`. Of one whose kind is not known every kind's keys pass.
    pub(crate) fn open_kind(
        w: &mut Walk<'_>,
        table: &'a DeTable<'t>,
        span: Span<usize>,
        section: &'static Section,
        kinds: &[&'static Section],
    ) -> Self {
        let own = match table.get("kind").map(Spanned::get_ref) {
            Some(DeValue::String(s)) => kinds.iter().copied().find(|k| k.name == plain(s)),
            _ => None,
        };
        let node = Self { table, span, section, own };
        let names: Vec<&str> = node.keys().map(|k| k.name).collect();
        for (key, _) in table.iter() {
            let name: &str = key.get_ref().as_ref();
            let others: Vec<&str> = kinds.iter().filter(|k| k.key(name).is_some()).map(|k| k.name).collect();
            if node.key(name).is_some() || own.is_none() && !others.is_empty() {
                continue;
            }
            let near = if others.is_empty() { nearest(name, names.iter().copied()) } else { None };
            let shown: String = name.chars().take(40).collect();
            let hint = if others.is_empty() {
                near.map(|n| format!("did you mean `{n}`?"))
            } else {
                Some(format!("`{name}` is a key of kind {}", either(&others)))
            };
            w.tell(
                Mistake::new("unknown-key", key.span(), format!("`{shown}` is not a key of {}", node.called()))
                    .expected(format!("one of: {}", names.join(", ")))
                    .example(near.and_then(|n| node.key(n)).map(assignment).unwrap_or_default())
                    .maybe_hint(hint),
            );
        }
        node
    }
    /// All keys that it may have, those of its kind first.
    fn keys(&self) -> impl Iterator<Item = &'static Key> + use<> {
        self.own.into_iter().chain([self.section]).flat_map(|s| s.keys)
    }
    /// A key by its name.
    pub(crate) fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys().find(|k| k.name == name)
    }
    /// How it is called.
    fn called(&self) -> String {
        match self.own {
            Some(own) => format!("{} of kind \"{}\"", heading(self.section), own.name),
            None => heading(self.section),
        }
    }
    /// The line on which it starts.
    pub(crate) fn line(&self, w: &Walk<'_>) -> u32 {
        w.line(self.span.start)
    }
    /// Whether a key is there.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.table.contains_key(name)
    }
    /// Where a key is, or else the table.
    pub(crate) fn span_of(&self, name: &str) -> Span<usize> {
        self.table.get_key_value(name).map_or_else(|| self.span.clone(), |(k, _)| k.span())
    }
    /// Tells of a key that is missing.
    pub(crate) fn miss(&self, w: &mut Walk<'_>, name: &str, why: &str) {
        // A key that is broken as TOML or misspelt has been told of.
        let misspelt = self
            .table
            .keys()
            .map(|k| -> &str { k.get_ref().as_ref() })
            .any(|k| self.key(k).is_none() && nearest(k, self.keys().map(|x| x.name)) == Some(name));
        if misspelt || w.lost.contains(name) {
            return;
        }
        let example = self.key(name).map(assignment).unwrap_or_default();
        let about = self.key(name).map_or("", |k| k.about);
        w.tell(
            Mistake::new("missing-key", self.span.clone(), format!("`{name}` is missing in {}: {why}", self.called()))
                .missing(name)
                .expected(about.trim_end_matches('.'))
                .example(example),
        );
    }
    /// A value as it stands, its assumption unwrapped; tells if it must be there and is not.
    pub(crate) fn find(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Found<'a, 't>> {
        let key = self.key(name);
        debug_assert!(key.is_some(), "{} has no key {name}", self.called());
        let key = key?;
        let Some(value) = self.table.get(name) else {
            if let Need::Must(why) = key.need {
                self.miss(w, name, why);
            }
            return None;
        };
        unwrap_assumed(w, key, value)
    }
    /// A table under this one.
    pub(crate) fn table(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Node<'a, 't>> {
        let f = self.find(w, name)?;
        let Kind::Table(section) = f.key.kind else { return None };
        match f.value {
            DeValue::Table(t) => Some(Node::open(w, t, f.span, section)),
            other => {
                w.tell(wrong_type(&f, other, "a table"));
                None
            }
        }
    }
    /// A list of tables under this one.
    pub(crate) fn tables(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec<Node<'a, 't>>> {
        let f = self.find(w, name)?;
        let (section, kinds, most): (_, &[&'static Section], _) = match f.key.kind {
            Kind::Many(section, most) => (section, &[], most),
            Kind::Kinds(section, kinds, most) => (section, kinds, most),
            _ => return None,
        };
        let DeValue::Array(items) = f.value else {
            let m = wrong_type(&f, f.value, "a list of tables")
                .hint(format!("write [[{name}]] with two brackets, once for each"));
            w.tell(m);
            return None;
        };
        if items.len() > most {
            w.tell(
                Mistake::new(
                    "too-many",
                    f.span.clone(),
                    format!("{} × `{name}`: that is more than anybody can walk round", items.len()),
                )
                .expected(format!("at most {most}"))
                .hint("leave out what can't be reached or won't be used"),
            );
            return None;
        }
        let mut out = Vec::with_capacity(items.len());
        for item in items.iter() {
            match item.get_ref() {
                DeValue::Table(t) => out.push(Node::open_kind(w, t, item.span(), section, kinds)),
                other => {
                    let m = Mistake::new(
                        "wrong-type",
                        item.span(),
                        format!("each `{name}` is a table, and this is {}", what_it_is(other)),
                    )
                    .expected("a table")
                    .example(f.key.example);
                    w.tell(m);
                }
            }
        }
        Some(out)
    }
}

pub(crate) fn unwrap_assumed<'a, 't>(
    w: &mut Walk<'_>,
    key: &'static Key,
    value: &'a Spanned<DeValue<'t>>,
) -> Option<Found<'a, 't>> {
    let plain = Found { key, value: value.get_ref(), span: value.span(), assumed: None };
    let DeValue::Table(t) = value.get_ref() else { return Some(plain) };
    if matches!(key.kind, Kind::Table(_) | Kind::Label) {
        return Some(plain);
    }
    if !key.assumable {
        w.tell(
            Mistake::new(
                "wrong-type",
                value.span(),
                format!(
                    "`{}` can't be a table{}",
                    key.name,
                    if t.contains_key("assumed") { ", so it can't be marked as assumed" } else { "" }
                ),
            )
            .expected(expected(key))
            .example(assignment(key))
            .maybe_hint(
                matches!(key.kind, Kind::Many(..) | Kind::Kinds(..))
                    .then(|| "a list of tables has two brackets, once for each".to_owned()),
            ),
        );
        return None;
    }
    for (k, _) in t.iter() {
        let name: &str = k.get_ref().as_ref();
        if !ASSUMED_KEYS.contains(&name) {
            w.tell(
                Mistake::new(
                    "unknown-key",
                    k.span(),
                    format!("`{}` is not a key of a value", name.chars().take(40).collect::<String>()),
                )
                .expected("`value` and `assumed`")
                .example(format!("{} = {{ value = {}, assumed = \"why\" }}", key.name, key.example)),
            );
        }
    }
    let why = match t.get("assumed").map(Spanned::get_ref) {
        Some(DeValue::String(s)) if !s.trim().is_empty() && s.len() <= LONGEST_TEXT => Some(s.to_string()),
        _ => None,
    };
    let (Some(inner), Some(why)) = (t.get("value"), why) else {
        w.tell(
            Mistake::new(
                "wrong-type",
                value.span(),
                format!("`{}` as a table needs its value and why it is assumed", key.name),
            )
            .expected("`value` and `assumed`, the latter a text that says why")
            .example(format!("{} = {{ value = {}, assumed = \"why\" }}", key.name, key.example)),
        );
        return None;
    };
    Some(Found { key, value: inner.get_ref(), span: inner.span(), assumed: Some(why) })
}

/// How a section is called.
pub(crate) fn heading(section: &Section) -> String {
    match section.name {
        "case" | "kit" => format!("a {} file", section.name),
        name if name.contains(' ') => name.to_owned(),
        name => format!("[{name}]"),
    }
}

/// `key = example`, or the header of a table.
pub(crate) fn assignment(key: &Key) -> String {
    if key.example.starts_with("[[") && key.example.ends_with("]]") && !key.example.contains(',')
        || matches!(key.kind, Kind::Table(_)) && key.example.starts_with('[')
    {
        key.example.into()
    } else {
        format!("{} = {}", key.name, key.example)
    }
}

/// What a key's value must be, in words.
pub(crate) fn expected(key: &Key) -> String {
    match key.kind {
        Kind::Text => "a text".into(),
        Kind::Id => "a name".into(),
        Kind::Words(words) => either(words),
        Kind::TableKey => "a key of a data table".into(),
        Kind::Flag => "true or false, without quotes".into(),
        Kind::Whole(low, high) => format!("a whole number from {low} to {high}"),
        Kind::One(q, ..) => crate::amount::expected(q).into(),
        Kind::Range(q, ..) => {
            format!("{}; or a range: low .. high, or low .. likely .. high", crate::amount::expected(q))
        }
        Kind::Ranges(n, q, ..) => {
            format!("a list of {n} values, each {}; or ranges: low .. high", crate::amount::expected(q))
        }
        Kind::Counts(most, low, high) => format!("a list of 1 to {most} whole numbers from {low} to {high}"),
        Kind::Slope(way) => way.expected().into(),
        Kind::SlopeRange(way) => format!("{}; or a range of them", way.expected()),
        Kind::Heading => "ahead, back, left, right, or an angle to one side: 20 deg left".into(),
        Kind::Bearing => "a compass bearing from 0 deg to 360 deg, clockwise from north".into(),
        Kind::Position => "three coordinates [ahead, left, up] in metres, or texts with units".into(),
        Kind::Outline => "a list of at least two places, each [ahead, left] or [ahead, left, up]".into(),
        Kind::Vector => "ahead, back, left, right, up, down, or three components".into(),
        Kind::Label => {
            "the text on the part, \"missing\", \"unreadable\", or a table with text, means, rating, design_factor"
                .into()
        }
        Kind::Ids(_) => "a list of ids".into(),
        Kind::Turns => "a list with one entry for each point between the ends: a number, or { ring = number }".into(),
        Kind::Table(_) => "a table".into(),
        Kind::Many(..) | Kind::Kinds(..) => "a list of tables".into(),
    }
}

/// A value of the wrong type.
pub(crate) fn wrong_type(f: &Found<'_, '_>, is: &DeValue<'_>, wanted: &str) -> Mistake {
    Mistake::new("wrong-type", f.span.clone(), format!("`{}` is {}, not {wanted}", f.key.name, what_it_is(is)))
        .expected(expected(f.key))
        .example(assignment(f.key))
}
