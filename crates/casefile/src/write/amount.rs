//! Quantities as texts that read back to the same bits, in the plainest unit that does.

use super::quoted;
use crate::place::read_heading;
use unmire_model::quantity::slope::{Way, read_slope};
use unmire_model::quantity::text::{Notation, Written, si_of_one};
use unmire_model::trail::{Input, Origin};
use unmire_model::{Angle, Range};

/// Most significant digits that a plain unit may take before the base unit is used instead.
const PLAIN: usize = 7;

/// The shortest decimal that `back` turns into the wanted bits, with at most so many significant digits.
fn shortest(value: f64, most: usize, back: impl Fn(&str) -> bool) -> Option<String> {
    (0..most).find_map(|digits| {
        let rounded = format!("{value:.digits$e}").parse::<f64>().ok()?;
        // Plain decimals only where they stay short.
        let plain = rounded == 0.0 || (1e-4..1e9).contains(&rounded.abs());
        let text = if plain { format!("{rounded}") } else { format!("{rounded:e}") };
        back(&text).then_some(text)
    })
}

/// One value, without quotes.
pub(crate) fn bare<Q: Written>(value: Q) -> String {
    bare_si(Q::NOTATION, value.si())
}
fn bare_si(q: &Notation, value: f64) -> String {
    let same = |t: &str| si_of_one(q, t).is_ok_and(|b| b.to_bits() == (value + 0.0).to_bits());
    let mut best: Option<String> = None;
    for unit in q.units {
        let Some(name) = unit.names.first() else { continue };
        let found =
            shortest(value / unit.factor, PLAIN, |t| same(&format!("{t} {name}"))).map(|t| format!("{t} {name}"));
        if let Some(text) = found
            && best.as_ref().is_none_or(|b| plainness(&text) < plainness(b))
        {
            best = Some(text);
        }
    }
    best.unwrap_or_else(|| {
        let base = q.units.iter().find(|u| u.factor == 1.0).and_then(|u| u.names.first());
        match base {
            Some(name) => format!("{:?} {name}", value),
            None => format!("{:?}", value),
        }
    })
}

/// Fewer digits first, and no exponent; among equals the earlier unit stays.
fn plainness(text: &str) -> usize {
    text.chars().filter(char::is_ascii_digit).count()
        + if text.contains('e') && text.contains(|c: char| c.is_ascii_digit()) {
            usize::from(text.split(' ').next().is_some_and(|n| n.contains('e'))) * 20
        } else {
            0
        }
}

/// One value between quotes.
pub(crate) fn exact<Q: Written>(q: Q) -> String {
    quoted(&bare(q))
}

/// A range, without quotes.
fn bare_range(q: &Notation, r: &Range<f64>) -> String {
    if r.is_exact() {
        return bare_si(q, r.likely());
    }
    let middle = 0.5 * (r.low() + r.high());
    let two = middle.to_bits() == r.likely().to_bits();
    let values = if two { vec![r.low(), r.high()] } else { r.values().to_vec() };
    let mut texts: Vec<String> = values.iter().map(|v| bare_si(q, *v)).collect();
    // A unit at the end counts for bare numbers before it, so all have one or none has.
    if q.bare && texts.iter().any(|t| t.ends_with('%')) && texts.iter().any(|t| !t.ends_with('%')) {
        texts = values.iter().map(|v| format!("{v:?}")).collect();
    }
    texts.join(" .. ")
}

/// A value that may be assumed: as it is, or as a table with the reason.
pub(crate) fn marked(text: String, origin: &Origin) -> String {
    match origin {
        Origin::Assumed(why) => format!("{{ value = {text}, assumed = {} }}", quoted(why)),
        _ => text,
    }
}

/// One value with its origin.
pub(crate) fn one<Q: Written>(i: &Input<Q>) -> String {
    marked(exact(i.value), &i.origin)
}

/// A range with its origin.
pub(crate) fn range<Q: Written>(i: &Input<Range<Q>>) -> String {
    marked(quoted(&bare_range(Q::NOTATION, &i.value.si())), &i.origin)
}

/// A share or ratio: a bare number if it is none of per cent.
pub(crate) fn share(v: f64) -> String {
    exact(v)
}

fn bare_slope(a: Angle, way: Way) -> String {
    if a.as_rad() == 0.0 {
        return "level".into();
    }
    let (plus, minus) = way.written();
    let word = if a.as_rad() > 0.0 { plus } else { minus };
    let same = |t: &str| read_slope(t, way).is_ok_and(|r| r.likely().as_rad().to_bits() == a.as_rad().to_bits());
    shortest(a.abs().as_deg(), PLAIN, |t| same(&format!("{t} deg {word}")))
        .map_or_else(|| format!("{:?} rad {word}", a.abs().as_rad()), |t| format!("{t} deg {word}"))
}

/// A slope with its way and origin.
pub(crate) fn slope(i: &Input<Angle>, way: Way) -> String {
    marked(quoted(&bare_slope(i.value, way)), &i.origin)
}

/// A range of slopes with their way and origin.
pub(crate) fn slopes(i: &Input<Range<Angle>>, way: Way) -> String {
    let r = &i.value;
    let middle = (r.low() + r.high()) * 0.5;
    let text = if r.is_exact() {
        bare_slope(r.likely(), way)
    } else if middle.as_rad().to_bits() == r.likely().as_rad().to_bits() {
        format!("{} .. {}", bare_slope(r.low(), way), bare_slope(r.high(), way))
    } else {
        format!("{} .. {} .. {}", bare_slope(r.low(), way), bare_slope(r.likely(), way), bare_slope(r.high(), way))
    };
    marked(quoted(&text), &i.origin)
}

/// A direction from the heading.
pub(crate) fn heading(a: Angle) -> String {
    let is = |t: &str| read_heading(t).is_ok_and(|b| b.as_rad().to_bits() == (a.as_rad() + 0.0).to_bits());
    for word in ["ahead", "back", "left", "right"] {
        if is(word) {
            return quoted(word);
        }
    }
    let side = if a.as_rad() > 0.0 { "left" } else { "right" };
    let text = shortest(a.abs().as_deg(), PLAIN, |t| is(&format!("{t} deg {side}")))
        .map_or_else(|| format!("{:?} rad {side}", a.abs().as_rad()), |t| format!("{t} deg {side}"));
    quoted(&text)
}
