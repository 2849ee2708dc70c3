//! The working behind a number: what the computation itself wrote down, laid out for the page.

use super::{Html, Node, Reader};
use unmire_sheet::explain::worked;
use unmire_sheet::json::{Origin, TrailInput, TrailStep};

/// The steps of a rig that are about something: those that name it; all if it is empty.
#[must_use]
pub fn working(r: Reader<'_>, trail: Node<'_>, about: &str) -> String {
    let mut h = Html::default();
    let mut none = true;
    h.raw("<ol class=\"working-steps\" lang=\"en\">");
    for step in trail.each() {
        if about.is_empty() || names(step.get("what").text().unwrap_or_default(), about) {
            none = false;
            shown(&mut h, r, step);
        }
    }
    if none {
        let mut h = Html::default();
        h.put("<p>", &r.words.say("working.none"), "</p>");
        return h.done();
    }
    h.raw("</ol>");
    h.done()
}

/// Whether a text names something: as words of its own, so that `bow-1` is not in `bow-11`.
fn names(text: &str, what: &str) -> bool {
    let part = |c: char| unmire_model::letters::is_word(c) || c == '-' || c == '_';
    text.match_indices(what).any(|(i, _)| {
        let (before, after) = (text.get(..i).unwrap_or_default(), text.get(i + what.len()..).unwrap_or_default());
        !before.ends_with(part) && !after.starts_with(part)
    })
}

fn step_of(n: Node<'_>) -> TrailStep {
    let text = |n: Node<'_>, key| n.get(key).text().unwrap_or_default().to_owned();
    let some = |n: Node<'_>, key| n.get(key).text().map(str::to_owned);
    let number = |n: Node<'_>, key| n.get(key).number();
    let input = |i: Node<'_>| {
        let o = i.get("origin");
        let line = o.get("line").count().and_then(|l| u32::try_from(l).ok());
        let origin = Origin { kind: text(o, "kind"), line, text: some(o, "text"), source: some(o, "source") };
        TrailInput {
            symbol: text(i, "symbol"),
            dimension: text(i, "dimension"),
            low: number(i, "low"),
            likely: number(i, "likely"),
            high: number(i, "high"),
            origin,
        }
    };
    TrailStep {
        what: text(n, "what"),
        symbol: text(n, "symbol"),
        formula: text(n, "formula"),
        dimension: text(n, "dimension"),
        low: number(n, "low"),
        likely: number(n, "likely"),
        high: number(n, "high"),
        inputs: n.get("inputs").each().map(input).collect(),
        source: text(n, "source"),
        notes: n.get("notes").each().filter_map(Node::text).map(str::to_owned).collect(),
    }
}

fn shown(h: &mut Html, r: Reader<'_>, step: Node<'_>) {
    // By its key alone: the register of sources would cost every reader five kilobytes.
    let w = worked(&step_of(step), r.units.into(), &|_| None);
    h.put("<li><b>", &w.what, "</b>").put("<p class=\"formula\">", &w.formula, "");
    h.maybe("<br>= ", w.numbers.as_deref(), "").put("<br><b>= ", &w.result, "</b></p><ul>");
    for (number, from) in &w.inputs {
        h.put("<li>", number, " ").put("<span class=\"small\">(", from, ")</span></li>");
    }
    h.raw("</ul>");
    for note in &w.notes {
        h.put("<p class=\"small\">", note, "</p>");
    }
    h.put("<p class=\"small\">", &r.words.say("working.source"), ": ").text(&w.source).raw("</p></li>");
}

#[cfg(test)]
mod tests {
    use super::names;

    #[test]
    fn regress_a_name_is_found_as_a_word_of_its_own() {
        assert!(names("strength of bow-1, in a basket", "bow-1") && names("bow-1", "bow-1"));
        assert!(!names("strength of bow-11", "bow-1") && !names("elbow-1", "bow-1"));
        assert!(names("bow-11 and bow-1", "bow-1"));
    }
}
