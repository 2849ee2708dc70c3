//! The words and shapes that several parts of the page share.

use super::page::{Paint, kept};
use unmire_audit::verdict::{Effect, Verdict};
use unmire_model::quantity::show::{Units, show_margin, show_time};
use unmire_model::{Force, Range, Time};

/// What stands where a number is not known.
pub(super) const UNKNOWN: &str = "unknown";
/// What stands where a number does not apply.
pub(super) const NONE: &str = "-";

pub(super) const fn paint(v: Verdict) -> Paint {
    match v {
        Verdict::Holds => Paint::Good,
        Verdict::HoldsBelowStopLoad => Paint::Careful,
        Verdict::Unknown => Paint::Open,
        Verdict::Overloaded => Paint::Bad,
    }
}
pub(super) const fn paint_effect(e: Effect) -> Paint {
    match e {
        Effect::Note => Paint::Plain,
        Effect::Caution => Paint::Careful,
        Effect::Unknown => Paint::Open,
        Effect::Bars => Paint::Bad,
    }
}
/// Shape and word.
pub(super) fn verdict(v: Verdict) -> String {
    format!("{} {}", v.shape(), v.word())
}
/// A load, kept on one line.
pub(super) fn load(u: Units, f: Force) -> String {
    kept(&u.show_load(f))
}
pub(super) fn load_or(u: Units, f: Option<Force>, or: &str) -> String {
    f.map_or_else(|| or.to_owned(), |f| load(u, f))
}
pub(super) fn capacity(u: Units, f: Force) -> String {
    kept(&u.show_capacity(f))
}
/// A range of loads: `15–26 kN`, both ends rounded up.
pub(super) fn loads(u: Units, r: &Range<Force>) -> String {
    ends(&u.show_load(r.low()), &u.show_load(r.high()))
}
pub(super) fn times(r: &Range<Time>) -> String {
    ends(&show_time(r.low()), &show_time(r.high()))
}
/// `15 kN` and `26 kN` become `15–26 kN`.
fn ends(low: &str, high: &str) -> String {
    if low == high {
        return kept(high);
    }
    match (low.rsplit_once(' '), high.rsplit_once(' ')) {
        (Some((l, a)), Some((_, b))) if a == b => kept(&format!("{l}–{high}")),
        _ => kept(&format!("{low}–{high}")),
    }
}
pub(super) fn margin(m: Option<f64>) -> String {
    m.filter(|m| m.is_finite()).map_or_else(|| UNKNOWN.to_owned(), show_margin)
}
/// A ratio that is asked, as a policy writes it.
pub(super) fn asked(k: f64) -> String {
    if !k.is_finite() {
        return "more than any".to_owned();
    }
    let text = format!("{k:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
/// The first letter made large.
pub(super) fn sentence(text: &str) -> String {
    let mut c = text.chars();
    c.next().map_or_else(String::new, |first| first.to_uppercase().chain(c).collect())
}
/// The text with a full stop at its end.
pub(super) fn stopped(text: &str) -> String {
    let t = text.trim_end();
    if t.is_empty() || t.ends_with(['.', '!', '?', ':']) { t.to_owned() } else { format!("{t}.") }
}
