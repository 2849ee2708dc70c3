//! Getters for words, flags and quantities, with their bounds.

use crate::key::{Kind, Quantity};
use crate::walk::{
    Found, LONGEST_ID, LONGEST_TEXT, Mistake, Node, Walk, assignment, either, expected as wanted, nearest, number,
    plain, wrong_type,
};
use toml::de::{DeInteger, DeValue};
use unmire_model::letters::is_word;
use unmire_model::quantity::slope::{Way, read_slope};
use unmire_model::quantity::text::{Notation, TextError, Written, si_of_one, si_of_range};
use unmire_model::trail::{Input, Origin};
use unmire_model::{Angle, Charge, Current, Force, Length, Mass, Ohms, Pressure, Range, Speed, Time, Voltage};

/// What a quantity's text must be.
pub(crate) fn expected(q: Quantity) -> &'static str {
    match q {
        Quantity::Mass => Mass::EXPECTED,
        Quantity::Force => Force::EXPECTED,
        Quantity::Length => Length::EXPECTED,
        Quantity::Angle => Angle::EXPECTED,
        Quantity::Pressure => Pressure::EXPECTED,
        Quantity::Time => Time::EXPECTED,
        Quantity::Speed => Speed::EXPECTED,
        Quantity::Current => Current::EXPECTED,
        Quantity::Voltage => Voltage::EXPECTED,
        Quantity::Charge => Charge::EXPECTED,
        Quantity::Ohms => Ohms::EXPECTED,
        Quantity::Ratio => f64::EXPECTED,
    }
}

impl Found<'_, '_> {
    /// Where it came from.
    pub(crate) fn origin(&self, w: &Walk<'_>) -> Origin {
        match &self.assumed {
            Some(why) => Origin::Assumed(why.clone()),
            None => w.origin(self.span.start),
        }
    }
    /// Its text.
    pub(crate) fn text(&self, w: &mut Walk<'_>) -> Option<String> {
        match self.value {
            DeValue::String(s) => Some(s.to_string()),
            other => {
                w.tell(wrong_type(self, other, "a text"));
                None
            }
        }
    }
    /// Tells of an error inside its text.
    pub(crate) fn tell_text(&self, w: &mut Walk<'_>, e: TextError) {
        let mut span = self.span.clone();
        // Between plain quotes the text's bytes are the file's bytes.
        if let (DeValue::String(s), Some(raw)) = (self.value, w.text.get(span.clone()))
            && let Some(inner) = raw.strip_prefix(['"', '\'']).and_then(|r| r.strip_suffix(['"', '\'']))
            && inner == s.as_ref()
        {
            let start = (span.start + 1 + e.at).min(span.end);
            span = start..(start + e.len).min(span.end).max(start);
        }
        let ton = e.message.contains("can mean short tons");
        let (code, example) = if ton {
            ("which-ton", format!("{} = \"{}\"", self.key.name, e.example.split("   or   ").next().unwrap_or("")))
        } else {
            ("bad-value", assignment(self.key))
        };
        // What is expected of the key says more than what is expected of one quantity.
        let general = match self.key.kind {
            Kind::Range(q, ..) | Kind::Ranges(_, q, ..) => e.expected == expected(q),
            _ => false,
        };
        w.tell(
            Mistake::new(code, span, format!("`{}`: {}", self.key.name, e.message))
                .expected(if general { wanted(self.key) } else { e.expected })
                .example(example)
                .maybe_hint(e.hint),
        );
    }
    fn bounds(&self, w: &mut Walk<'_>, q: &Notation, value: &Range<f64>, bounds: (&str, &str)) -> Option<()> {
        let (Ok(least), Ok(most)) = (si_of_one(q, bounds.0), si_of_one(q, bounds.1)) else { return None };
        let (low, high) = (value.low(), value.high());
        // A hair of rounding room, so that `100 %` is inside a bound of 1.
        let room = 1e-12 * most.abs();
        if low < least - room || high > most + room {
            let negative = low < 0.0 && least >= 0.0;
            let message = if negative {
                format!("`{}` can't be negative", self.key.name)
            } else {
                format!("`{}` is outside what is believable here", self.key.name)
            };
            w.tell(
                Mistake::new("out-of-range", self.span.clone(), message)
                    .expected(format!("{} from {} to {}", q.what, bounds.0, bounds.1))
                    .example(assignment(self.key))
                    .hint("check the number and its unit"),
            );
            return None;
        }
        Some(())
    }
    fn bare(&self, w: &mut Walk<'_>, q: &Notation) -> Option<f64> {
        let n = number(self.value)?;
        if !q.bare {
            w.tell(
                Mistake::new("no-unit", self.span.clone(), format!("`{}` is a number without a unit", self.key.name))
                    .expected(wanted(self.key))
                    .example(assignment(self.key))
                    .hint("put number and unit between quotes"),
            );
            return None;
        }
        if !n.is_finite() {
            w.tell(
                Mistake::new("bad-value", self.span.clone(), format!("`{}` is not an ordinary number", self.key.name))
                    .expected(wanted(self.key))
                    .example(assignment(self.key)),
            );
            return None;
        }
        Some(n)
    }
    /// One value, in SI.
    pub(crate) fn one(&self, w: &mut Walk<'_>, q: &Notation) -> Option<f64> {
        let value = match self.value {
            DeValue::String(s) => match si_of_one(q, s) {
                Ok(v) => v,
                Err(e) => {
                    self.tell_text(w, e);
                    return None;
                }
            },
            DeValue::Integer(_) | DeValue::Float(_) => self.bare(w, q)?,
            other => {
                w.tell(wrong_type(self, other, q.what));
                return None;
            }
        };
        if let Kind::One(_, low, high) = self.key.kind {
            self.bounds(w, q, &Range::exact(value).ok()?, (low, high))?;
        }
        Some(value)
    }
    /// A range, in SI.
    pub(crate) fn range(&self, w: &mut Walk<'_>, q: &Notation) -> Option<Range<f64>> {
        let value = match self.value {
            DeValue::String(s) => match si_of_range(q, s) {
                Ok(v) => v,
                Err(e) => {
                    self.tell_text(w, e);
                    return None;
                }
            },
            DeValue::Integer(_) | DeValue::Float(_) => Range::exact(self.bare(w, q)?).ok()?,
            other => {
                w.tell(wrong_type(self, other, q.what));
                return None;
            }
        };
        if let Kind::Range(_, low, high) | Kind::Ranges(_, _, low, high) = self.key.kind {
            self.bounds(w, q, &value, (low, high))?;
        }
        Some(value)
    }
    fn slope(&self, w: &mut Walk<'_>, way: Way) -> Option<Range<Angle>> {
        match self.value {
            DeValue::String(s) => match read_slope(s, way) {
                Ok(v) => Some(v),
                Err(e) => {
                    self.tell_text(w, e);
                    None
                }
            },
            other => {
                w.tell(wrong_type(self, other, "a slope"));
                None
            }
        }
    }
}

impl<'a, 't> Node<'a, 't> {
    /// A free text.
    pub(crate) fn text(&self, w: &mut Walk<'_>, name: &'static str) -> Option<String> {
        let f = self.find(w, name)?;
        let t = f.text(w)?;
        let bad = t.trim().is_empty() || t.len() > LONGEST_TEXT || t.chars().any(char::is_control);
        if bad {
            w.tell(
                Mistake::new(
                    "bad-value",
                    f.span.clone(),
                    format!("`{name}` is empty, too long or has characters that can't be printed"),
                )
                .expected(format!("a text of at most {LONGEST_TEXT} bytes on one line"))
                .example(assignment(f.key)),
            );
            return None;
        }
        Some(t)
    }
    /// An id.
    pub(crate) fn id(&self, w: &mut Walk<'_>, name: &'static str) -> Option<String> {
        let f = self.find(w, name)?;
        let t = f.text(w)?;
        check_id(w, &f, &t, f.span.clone())?;
        Some(t)
    }
    /// One of some words.
    pub(crate) fn word(&self, w: &mut Walk<'_>, name: &'static str) -> Option<usize> {
        let f = self.find(w, name)?;
        word_of(w, &f)
    }
    /// One of some words, with where it came from.
    pub(crate) fn input_word(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<usize>> {
        let f = self.find(w, name)?;
        Some(Input::new(word_of(w, &f)?, f.origin(w)))
    }
    /// A key of a data table: lower case, words joined by `_`. `known` may be empty: then nothing is checked.
    pub(crate) fn table_key(&self, w: &mut Walk<'_>, name: &'static str, known: &[&str]) -> Option<Input<String>> {
        let f = self.find(w, name)?;
        let t = f.text(w)?;
        let key = t
            .trim()
            .to_ascii_lowercase()
            .split([' ', '-', '_'])
            .filter(|p| !p.is_empty())
            .collect::<Vec<_>>()
            .join("_");
        let fits = !key.is_empty() && key.len() <= LONGEST_ID && key.chars().all(|c| is_word(c) || c == '_');
        if !fits || !(known.is_empty() || known.contains(&key.as_str())) {
            let near =
                nearest(&key, known.iter().copied()).map(|n| format!("did you mean \"{}\"?", n.replace('_', " ")));
            let shown: String = t.chars().take(40).collect();
            w.tell(
                Mistake::new("unknown-word", f.span.clone(), format!("`{name}` = \"{shown}\" is in no table"))
                    .expected(if known.is_empty() {
                        wanted(f.key)
                    } else {
                        format!("one of: {}", known.join(", ").replace('_', " "))
                    })
                    .example(assignment(f.key))
                    .maybe_hint(near),
            );
            return None;
        }
        Some(Input::new(key, f.origin(w)))
    }
    /// true or false.
    pub(crate) fn flag(&self, w: &mut Walk<'_>, name: &'static str) -> Option<bool> {
        let f = self.find(w, name)?;
        match f.value {
            DeValue::Boolean(b) => Some(*b),
            other => {
                w.tell(wrong_type(&f, other, "true or false"));
                None
            }
        }
    }
    /// A whole number.
    pub(crate) fn whole(&self, w: &mut Walk<'_>, name: &'static str) -> Option<u32> {
        let f = self.find(w, name)?;
        let Kind::Whole(low, high) = f.key.kind else { return None };
        let DeValue::Integer(i) = f.value else {
            w.tell(wrong_type(&f, f.value, "a whole number"));
            return None;
        };
        let value = whole(i);
        if value < low || value > high {
            let message = if value < 0 && low >= 0 {
                format!("`{name}` can't be negative")
            } else {
                format!("`{name}` is outside what is believable here")
            };
            w.tell(
                Mistake::new("out-of-range", f.span.clone(), message)
                    .expected(wanted(f.key))
                    .example(assignment(f.key)),
            );
            return None;
        }
        u32::try_from(value).ok()
    }
    /// One value of a quantity.
    pub(crate) fn one<Q: Written>(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Q> {
        self.input_one(w, name).map(|i| i.value)
    }
    /// One value with where it came from.
    pub(crate) fn input_one<Q: Written>(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<Q>> {
        let i = self.si_of_one(w, name, Q::NOTATION)?;
        Some(Input::new(Q::of_si(i.value), i.origin))
    }
    /// A range with where it came from.
    pub(crate) fn input_range<Q: Written>(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<Range<Q>>> {
        let i = self.si_of_range(w, name, Q::NOTATION)?;
        Some(Input::new(Range::of_si(i.value), i.origin))
    }
    fn si_of_one(&self, w: &mut Walk<'_>, name: &'static str, q: &Notation) -> Option<Input<f64>> {
        let f = self.find(w, name)?;
        Some(Input::new(f.one(w, q)?, f.origin(w)))
    }
    fn si_of_range(&self, w: &mut Walk<'_>, name: &'static str, q: &Notation) -> Option<Input<Range<f64>>> {
        let f = self.find(w, name)?;
        Some(Input::new(f.range(w, q)?, f.origin(w)))
    }
    /// A slope that is one value.
    pub(crate) fn input_slope(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<Angle>> {
        let f = self.find(w, name)?;
        let Kind::Slope(way) = f.key.kind else { return None };
        let r = f.slope(w, way)?;
        if !r.is_exact() {
            w.tell(
                Mistake::new("bad-value", f.span.clone(), format!("`{name}` is a range where one value is wanted"))
                    .expected(wanted(f.key))
                    .example(assignment(f.key))
                    .hint("give the steeper end"),
            );
            return None;
        }
        Some(Input::new(r.likely(), f.origin(w)))
    }
    /// A slope that is a range.
    pub(crate) fn input_slopes(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<Range<Angle>>> {
        let f = self.find(w, name)?;
        let Kind::SlopeRange(way) = f.key.kind else { return None };
        Some(Input::new(f.slope(w, way)?, f.origin(w)))
    }
    /// A list of ids, each with where it stands.
    pub(crate) fn ids(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec<(String, core::ops::Range<usize>)>> {
        let f = self.find(w, name)?;
        let Kind::Ids(most) = f.key.kind else { return None };
        let DeValue::Array(items) = f.value else {
            w.tell(wrong_type(&f, f.value, "a list"));
            return None;
        };
        if items.len() > most {
            w.tell(
                Mistake::new("too-many", f.span.clone(), format!("`{name}` has {} entries", items.len()))
                    .expected(format!("at most {most}"))
                    .example(assignment(f.key)),
            );
            return None;
        }
        let mut out = Vec::with_capacity(items.len());
        let mut good = true;
        for item in items.iter() {
            match item.get_ref() {
                DeValue::String(s) => match check_id(w, &f, s, item.span()) {
                    Some(()) => out.push((s.to_string(), item.span())),
                    None => good = false,
                },
                other => {
                    good = false;
                    let m = Mistake::new(
                        "wrong-type",
                        item.span(),
                        format!("each entry of `{name}` is an id, and this is {}", crate::walk::what_it_is(other)),
                    )
                    .expected(wanted(f.key))
                    .example(assignment(f.key));
                    w.tell(m);
                }
            }
        }
        good.then_some(out)
    }
}

/// A whole number; one that is too large for anything is the greatest there is.
pub(crate) fn whole(i: &DeInteger<'_>) -> i64 {
    i64::from_str_radix(i.as_str(), i.radix()).unwrap_or(i64::MAX)
}

fn word_of(w: &mut Walk<'_>, f: &Found<'_, '_>) -> Option<usize> {
    let Kind::Words(words) = f.key.kind else { return None };
    let t = f.text(w)?;
    let clean = plain(&t);
    if let Some(i) = words.iter().position(|x| *x == t || *x == clean) {
        return Some(i);
    }
    let near = nearest(&clean, words.iter().copied()).map(|n| format!("did you mean \"{n}\"?"));
    let shown: String = t.chars().take(40).collect();
    w.tell(
        Mistake::new("unknown-word", f.span.clone(), format!("`{}` = \"{shown}\" is not one of its words", f.key.name))
            .expected(either(words))
            .example(assignment(f.key))
            .maybe_hint(near),
    );
    None
}

fn check_id(w: &mut Walk<'_>, f: &Found<'_, '_>, t: &str, span: core::ops::Range<usize>) -> Option<()> {
    let fits = !t.is_empty() && t.trim() == t && t.len() <= LONGEST_ID && !t.chars().any(char::is_control);
    if !fits {
        w.tell(
            Mistake::new("bad-value", span, format!("`{}` is not a name that can be referred to", f.key.name))
                .expected(format!("1 to {LONGEST_ID} bytes, no spaces at its ends"))
                .example(assignment(f.key)),
        );
        return None;
    }
    Some(())
}
