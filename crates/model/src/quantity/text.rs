//! Reads quantities as people write them and as labels print them; refuses what could mean two things.
//!
//! ```
//! use unmire_model::quantity::text::{read_one, read_range};
//! use unmire_model::{Force, Mass};
//! assert_eq!(read_one::<Force>("9,500 lb").unwrap(), Force::from_lbf(9500.0));
//! assert_eq!(read_range::<Mass>("2.2 .. 2.6 t").unwrap().high(), Mass::from_tonne(2.6));
//! assert!(read_one::<Mass>("2 tons").unwrap_err().message.contains("ton"));
//! ```
//!
//! A range is `low .. high` or `low .. likely .. high`; a unit after the last number counts for those before it that
//! have none. `about 2.4 t` is a band of ±10 %: that is our own reading of the word, not anybody's rule.

use super::number::{is_space, scan};
use super::unit::{Found, look_up};
pub use super::unit::{Notation, Unit, Written};
use crate::Range;
use crate::range::RangeError;

/// Half the width of the band that `about` stands for, as a fraction. Own judgement.
pub const ABOUT_BAND: f64 = 0.10;

/// Longest text that is read as a quantity.
pub const LONGEST: usize = 200;

/// Why a text is not a quantity, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextError {
    /// Where in the text it goes wrong, in bytes.
    pub at: usize,
    /// How many bytes are at fault.
    pub len: usize,
    /// What is wrong.
    pub message: String,
    /// What was expected.
    pub expected: String,
    /// An example of it.
    pub example: String,
    /// What to do, if there is something to say.
    pub hint: Option<String>,
}
impl core::fmt::Display for TextError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{}; expected {}, for example {}", self.message, self.expected, self.example)?;
        match &self.hint {
            Some(h) => write!(f, "; {h}"),
            None => Ok(()),
        }
    }
}
impl core::error::Error for TextError {}

fn wrong(q: &Notation, at: usize, len: usize, message: String, hint: Option<String>) -> TextError {
    TextError { at, len: len.max(1), message, expected: q.expected.into(), example: q.example.into(), hint }
}

/// A number and the words after it.
struct Part<'a> {
    value: f64,
    at: usize,
    len: usize,
    unit: &'a str,
    unit_at: usize,
}

fn trim(s: &str, at: usize) -> (&str, usize) {
    let cut = s.trim_start();
    (cut.trim_end(), at + (s.len() - cut.len()))
}

fn part<'a>(s: &'a str, at: usize) -> Result<Part<'a>, TextError> {
    let (s, at) = trim(s, at);
    let n = scan(s, at)?;
    let (unit, unit_at) = trim(&s[n.len..], at + n.len);
    Ok(Part { value: n.value, at, len: s.len(), unit, unit_at })
}

/// Feet and inches in one: `5 ft 6 in`.
fn feet_and_inches(p: &Part<'_>) -> Option<(f64, f64)> {
    let digit = p.unit.find(|c: char| c.is_ascii_digit())?;
    let feet = p.unit[..digit].trim();
    let rest = part(&p.unit[digit..], 0).ok()?;
    let foot = ["ft", "ft.", "foot", "feet", "'", "\u{2032}"].contains(&feet);
    let inch = ["in", "in.", "inch", "inches", "\"", "\u{2033}", "''"].contains(&rest.unit);
    (foot && inch && rest.value >= 0.0 && rest.value < 12.0 && p.value >= 0.0).then_some((p.value, rest.value))
}

/// The SI value of one part; `shared` is the unit of a later part.
fn value(q: &Notation, p: &Part<'_>, shared: Option<&str>) -> Result<f64, TextError> {
    if let (crate::trail::Dimension::Length, Some((feet, inches))) = (q.dimension, feet_and_inches(p)) {
        return Ok(crate::Length::from_inch(12.0 * feet + inches).as_si());
    }
    let word = if p.unit.is_empty() { shared.unwrap_or("") } else { p.unit };
    if word.is_empty() {
        if q.bare {
            return Ok(p.value);
        }
        return Err(wrong(
            q,
            p.at,
            p.len,
            format!("{} has no unit", p.value),
            Some(format!("write {} with its unit", q.what)),
        ));
    }
    let joined = word.split(is_space).filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
    let joined = joined.strip_suffix('.').unwrap_or(&joined);
    let (at, len) = if p.unit.is_empty() { (p.at, p.len) } else { (p.unit_at, p.unit.len()) };
    match look_up(q, joined) {
        Found::Factor(f) => Ok(p.value * f),
        Found::Ambiguous => Err(TextError {
            at,
            len,
            message: format!(
                "`{joined}` can mean short tons (2000 lb), tonnes (1000 kg) or long tons (2240 lb), which differ by 10 to 12 %"
            ),
            expected: "which of them: short tons, t (tonnes) or long tons".into(),
            example: format!("{0} short tons   or   {0} t   or   {0} long tons", p.value),
            hint: Some("the unit stated on the part or by its maker decides; don't guess".into()),
        }),
        Found::Foreign(what) => {
            let hint = if what == <f64 as Written>::WHAT && q.dimension == crate::trail::Dimension::Angle {
                "a percentage is a grade, rise over run, and belongs where a slope is asked for".to_owned()
            } else {
                format!("this wants {}", q.what)
            };
            Err(wrong(
                q,
                at,
                len,
                format!("`{joined}` is the unit of {}", what.trim_start_matches("a ").trim_start_matches("an ")),
                Some(hint),
            ))
        }
        Found::Nothing => {
            let range = joined.starts_with(['-', '\u{2013}', '\u{2014}'])
                && joined
                    .trim_start_matches(['-', '\u{2013}', '\u{2014}', ' '])
                    .starts_with(|c: char| c.is_ascii_digit());
            let hint = if range { Some("a range is written with two points: 2.2 t .. 2.6 t".to_owned()) } else { None };
            let message = if range {
                format!("`{joined}` after the number is not a unit")
            } else {
                format!("`{joined}` is not a unit that is known here")
            };
            Err(wrong(q, at, len, message, hint))
        }
    }
}

fn check_length(q: &Notation, text: &str) -> Result<(), TextError> {
    if text.trim().is_empty() {
        return Err(wrong(q, 0, 1, "nothing is written here".into(), None));
    }
    if text.len() > LONGEST {
        return Err(wrong(q, 0, 1, format!("a text of {} bytes is not a quantity", text.len()), None));
    }
    Ok(())
}

/// Strips a word for `about`; gives the rest and where it starts.
pub(super) fn about(text: &str) -> Option<(&str, usize)> {
    let start = text.len() - text.trim_start().len();
    let t = &text[start..];
    for word in ["about", "approximately", "approx.", "approx", "roughly", "around", "circa", "ca.", "~", "\u{2248}"] {
        if let Some(head) = t.get(..word.len())
            && head.eq_ignore_ascii_case(word)
        {
            return Some((&t[word.len()..], start + word.len()));
        }
    }
    None
}

/// Splits at `..`, `…` or the word `to`; each part with where it starts.
pub(super) fn split_range(text: &str) -> Vec<(&str, usize)> {
    let mut parts = Vec::new();
    let mut start = 0;
    let mut i = 0;
    while i < text.len() {
        let rest = &text[i..];
        let step = if rest.starts_with("..") {
            2
        } else if rest.starts_with('\u{2026}') {
            '\u{2026}'.len_utf8()
        } else if rest.starts_with(" to ") {
            4
        } else {
            i += rest.chars().next().map_or(1, char::len_utf8);
            continue;
        };
        parts.push((&text[start..i], start));
        i += step;
        start = i;
    }
    parts.push((&text[start..], start));
    parts
}

/// Reads one value.
///
/// # Errors
/// If the text is not one value with a unit that has one meaning.
pub fn read_one<Q: Written>(text: &str) -> Result<Q, TextError> {
    si_of_one(Q::NOTATION, text).map(Q::of_si)
}

/// As [`read_one`], in SI, for a quantity that is known as a value.
///
/// # Errors
/// As [`read_one`].
pub fn si_of_one(q: &Notation, text: &str) -> Result<f64, TextError> {
    check_length(q, text)?;
    if about(text).is_some() || split_range(text).len() > 1 || plus_minus(text).is_some() {
        return Err(wrong(q, 0, text.len(), format!("`{}` is a range where one value is wanted", text.trim()), None));
    }
    let p = part(text, 0)?;
    let si = value(q, &p, None)?;
    finite(q, si, &p)
}

fn finite(q: &Notation, si: f64, p: &Part<'_>) -> Result<f64, TextError> {
    if si.is_finite() { Ok(si) } else { Err(wrong(q, p.at, p.len, "this number is too large".into(), None)) }
}

fn plus_minus(text: &str) -> Option<(usize, usize)> {
    ["\u{b1}", "+/-", "+-"].iter().find_map(|m| text.find(m).map(|i| (i, m.len())))
}

/// Reads one value, two ends or low, likely and high.
///
/// # Errors
/// If the text is not such a range, or its values are out of order.
pub fn read_range<Q: Written>(text: &str) -> Result<Range<Q>, TextError> {
    si_of_range(Q::NOTATION, text).map(Range::of_si)
}

/// As [`read_range`], in SI, for a quantity that is known as a value.
///
/// # Errors
/// As [`read_range`].
pub fn si_of_range(q: &Notation, text: &str) -> Result<Range<f64>, TextError> {
    check_length(q, text)?;
    if let Some((rest, at)) = about(text) {
        if split_range(rest).len() > 1 {
            return Err(wrong(
                q,
                0,
                text.len(),
                "`about` and a range say the same thing twice".into(),
                Some("keep the range".into()),
            ));
        }
        let p = part(rest, at)?;
        let si = value(q, &p, None)?;
        let half = si.abs() * ABOUT_BAND;
        return build(q, &[si - half, si, si + half], text);
    }
    if let Some((i, len)) = plus_minus(text) {
        let middle = part(&text[..i], 0)?;
        let half = part(&text[i + len..], i + len)?;
        let is_share = matches!(look_up(f64::NOTATION, half.unit), Found::Factor(_)) && !q.bare;
        let unit = if half.unit.is_empty() { middle.unit } else { half.unit };
        let m = value(q, &middle, Some(unit).filter(|_| !is_share))?;
        let h = if is_share { m.abs() * half.value * 0.01 } else { value(q, &half, Some(unit))? };
        if h < 0.0 {
            return Err(wrong(q, half.at, half.len, "half the width of a range can't be negative".into(), None));
        }
        return build(q, &[m - h, m, m + h], text);
    }
    let texts = split_range(text);
    if texts.len() > 3 {
        return Err(wrong(
            q,
            0,
            text.len(),
            format!("a range has two or three values, not {}", texts.len()),
            Some("low .. high, or low .. likely .. high".into()),
        ));
    }
    let parts = texts.iter().map(|(s, at)| part(s, *at)).collect::<Result<Vec<_>, _>>()?;
    let shared = parts.last().map(|p| p.unit).filter(|u| !u.is_empty());
    if q.bare && parts.iter().any(|p| p.unit.is_empty()) && parts.iter().any(|p| !p.unit.is_empty()) {
        return Err(wrong(
            q,
            0,
            text.len(),
            format!("`{}` could be read in two ways: is the bare number a share or a percentage?", text.trim()),
            Some("write % after each of them or after none".into()),
        ));
    }
    let values = parts.iter().map(|p| value(q, p, shared)).collect::<Result<Vec<_>, _>>()?;
    build(q, &values, text)
}

fn build(q: &Notation, si: &[f64], text: &str) -> Result<Range<f64>, TextError> {
    let made = match *si {
        [one] => Range::exact(one),
        [low, high] => Range::between(low, high),
        [low, likely, high] => Range::new(low, likely, high),
        _ => Err(RangeError::NotFinite),
    };
    made.map_err(|e| match e {
        RangeError::OutOfOrder => wrong(
            q,
            0,
            text.len(),
            format!("the values of `{}` are out of order", text.trim()),
            Some("low end first: low .. high, or low .. likely .. high".into()),
        ),
        RangeError::NotFinite => wrong(q, 0, text.len(), "this number is too large".into(), None),
    })
}

#[cfg(test)]
#[path = "text_tests.rs"]
mod tests;
