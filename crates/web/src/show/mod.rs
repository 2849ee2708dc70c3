//! What only shows something, as HTML in a text: a rig in numbers, two of them side by side, the brief. Made from the report's
//! JSON, the words of the page and the reader's units; plain Rust, tested outside a browser, and small.

mod brief;
mod compare;
mod detail;
mod html;
mod kit;
mod pull;
mod read;
mod ways;
mod working;

pub use brief::brief;
pub use compare::compare;
pub use detail::{detail, findings};
pub use html::Html;
pub use kit::{Bag, kit};
pub use pull::{moment, pull};
pub use read::Node;
pub use working::working;

use crate::catalogue::Catalogue;
use crate::engine::Units;
use unmire_audit::verdict::Verdict;

/// Whoever reads: words and units.
#[derive(Clone, Copy, Debug)]
pub struct Reader<'a> {
    /// The words.
    pub words: &'a Catalogue,
    /// The units.
    pub units: Units,
}

/// A verdict: a shape, a word, and last a colour.
fn verdict(h: &mut Html, r: Reader<'_>, word: &str) {
    let all = [Verdict::Holds, Verdict::HoldsBelowStopLoad, Verdict::Unknown, Verdict::Overloaded];
    let shape = all.into_iter().find(|v| v.word() == word).map_or('?', Verdict::shape);
    h.raw("<span class=\"verdict ").text(&word.replace(' ', "-")).raw("\"><span class=\"shape\" aria-hidden=\"true\">");
    h.text(shape.encode_utf8(&mut [0; 4])).raw("</span> ").text(&r.words.translate("verdict", word)).raw("</span>");
}

/// A picture of a drawing.
fn picture(h: &mut Html, r: Reader<'_>, svg: &str, rig: &str) {
    h.raw("<img class=\"drawing\" alt=\"").text(&r.words.fill("rigs.drawing", &[("rig", rig)]));
    h.raw("\" src=\"").text(&address(svg)).raw("\">");
}

/// A drawing as an address of its own.
#[must_use]
pub fn address(svg: &str) -> String {
    use core::fmt::Write as _;
    let mut out = String::from("data:image/svg+xml,");
    for b in svg.bytes() {
        if b.is_ascii_alphanumeric() || b"-_.~ !*'();:@=+$,/?".contains(&b) {
            out.push(char::from(b));
        } else {
            // Writing to a text never fails.
            let _ = write!(out, "%{b:02X}");
        }
    }
    out
}

/// The sentence on the weakest part, if there is one.
#[must_use]
pub fn weakest(r: Reader<'_>, plan: Node<'_>) -> Option<String> {
    let part = plan.get("weakest").text()?;
    let margin = crate::units::margin(plan.get("lowest_margin").number());
    Some(r.words.fill("rigs.weakest", &[("part", part), ("margin", &margin)]))
}

/// The sentence on the stop load, if there is one.
#[must_use]
pub fn stop(r: Reader<'_>, plan: Node<'_>) -> Option<String> {
    let load = crate::units::capacity(r.units, Some(plan.get("stop_load_n").number()?));
    Some(r.words.fill("rigs.stop", &[("load", &load)]))
}

/// A rig of the ranking, in short.
#[must_use]
pub fn rig(r: Reader<'_>, plan: Node<'_>) -> String {
    let mut h = Html::default();
    let family = plan.get("family").text().map(|f| r.words.translate("family", f));
    h.maybe("<span class=\"name\">", family.as_deref(), "</span>");
    if let Some(word) = plan.get("verdict").text() {
        verdict(&mut h, r, word);
    }
    h.maybe("<span>", stop(r, plan).as_deref(), "</span>").maybe("<span>", weakest(r, plan).as_deref(), "</span>");
    let time = plan.get("time_s").get("likely_s").number();
    let time = time.map(|t| r.words.fill("rigs.time", &[("time", &crate::units::time(Some(t)))]));
    h.maybe("<span>", time.as_deref(), "</span>");
    h.maybe("<span class=\"small\" lang=\"en\">", plan.get("summary").text(), "</span>");
    h.done()
}

/// The name of a rig with its place in the ranking.
#[must_use]
pub fn name(r: Reader<'_>, i: usize, plan: Node<'_>) -> String {
    let family = plan.get("family").text().unwrap_or_default();
    format!("{}. {}", i + 1, r.words.translate("family", family))
}
