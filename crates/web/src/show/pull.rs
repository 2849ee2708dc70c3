//! The whole pull: what there is to know of it, and one moment of it with the drawing as it is then.

use super::{Html, Node, Reader, verdict};
use crate::units;

/// Wide and high, of both drawings.
const WIDE: f64 = 320.0;
const HIGH: f64 = 170.0;
/// Left free at every side.
const EDGE: f64 = 14.0;

/// The verdict, how far it comes, where it stops and what happens on the way.
#[must_use]
pub fn pull(r: Reader<'_>, doc: Node<'_>) -> String {
    let mut h = Html::default();
    // Nobody goes on past a stop for a rounding.
    let way = |n: Node<'_>, key: &str| units::length_allowed(r.units, n.get(key).number());
    h.raw("<p class=\"heads\">");
    if let Some(word) = doc.get("verdict").text() {
        verdict(&mut h, r, word);
    }
    let (reached, length) = (way(doc, "reached_m"), way(doc, "length_m"));
    h.put("<b>", &r.words.fill("pull.far", &[("reached", &reached), ("length", &length)]), "</b>");
    let time = |end| units::time(doc.get("time_s").get(end).number());
    let (low, high) = (time("low_s"), time("high_s"));
    h.put("<span>", &r.words.fill("pull.time", &[("low", &low), ("high", &high)]), "</span></p>");
    for stage in doc.get("stages").each() {
        let (from, to) = (way(stage, "from_m"), way(stage, "to_m"));
        h.put("<p><b>", &r.words.fill("pull.stage", &[("from", &from), ("to", &to)]), "</b> <span lang=\"en\">");
        h.put("", stage.get("summary").text().unwrap_or_default(), " ");
        h.put("", stage.get("why_it_ends").text().unwrap_or_default(), "</span></p>");
    }
    let say = |key| r.words.say(key);
    for (list, mark, title) in [("stops", "! ", say("pull.stops")), ("events", "", say("pull.events"))] {
        let all = doc.get(list);
        if all.is_empty() {
            continue;
        }
        h.put("<h3>", &title, "</h3><ul>");
        for e in all.each() {
            let part = |key| e.get(key).text().unwrap_or_default();
            h.put("<li><b>", mark, "").put("", &way(e, "travel_m"), "</b> <span lang=\"en\">");
            h.put("", part("text"), " ").put("", part("remedy"), "</span></li>");
        }
        h.raw("</ul>");
    }
    let worst = doc.get("worst");
    if !worst.is_empty() {
        h.put("<h3>", &r.words.say("pull.worst"), "</h3><ol class=\"parts\">");
        for w in worst.each() {
            h.put("<li><b lang=\"en\">", w.get("part").text().unwrap_or_default(), "</b> ");
            if let Some(word) = w.get("verdict").text() {
                verdict(&mut h, r, word);
            }
            let load = |key| units::load(r.units, w.get(key).number());
            let (at, work, stall) = (way(w, "travel_margin_m"), load("demand_n"), load("demand_stall_n"));
            let words = r.words.fill("pull.moment", &[("at", &at), ("work", &work), ("stall", &stall)]);
            h.put(" <span>", &words, "</span></li>");
        }
        h.raw("</ol>");
    }
    h.done()
}

/// One place of the way: the rig as it lies there, the line pull along the way with a mark, and the numbers.
#[must_use]
pub fn moment(r: Reader<'_>, doc: Node<'_>, i: usize) -> String {
    let mut h = Html::default();
    let row = doc.get("history").at(i);
    let at = units::length(r.units, row.get("travel_m").number());
    place(&mut h, doc, row, &r.words.fill("pull.drawn", &[("at", &at)]));
    chart(&mut h, r, doc, row);
    h.put("<p class=\"small\">", &r.words.say("pull.chart"), "</p><dl class=\"moment\">");
    let high = |key: &str| units::load(r.units, row.get(key).get("high_n").number());
    let plain = |key: &str, digits: usize, unit: &str| match row.get(key).number() {
        Some(n) => format!("{n:.digits$}{unit}"),
        None => units::NOT_KNOWN.to_owned(),
    };
    let facts = [
        ("travel", at),
        ("need", high("resistance")),
        ("pull", high("line_tension")),
        ("can", units::capacity(r.units, row.get("ability_n").number())),
        ("stall", units::load(r.units, row.get("stall_tension_n").number())),
        ("layer", plain("layer", 0, "")),
        ("line-out", units::length(r.units, row.get("line_out_m").number())),
        ("current", plain("current_a", 0, " A")),
        ("charge", plain("charge_ah", 1, " Ah")),
        ("time", units::time(row.get("time").get("high_s").number())),
    ];
    for (key, value) in facts {
        h.put("<div><dt>", &r.words.translate("pull-fact", key), "</dt>").put("<dd>", &value, "</dd></div>");
    }
    h.raw("</dl>");
    h.done()
}

/// From metres to the drawing.
struct Frame {
    left: f64,
    top: f64,
    scale: f64,
}
impl Frame {
    /// Round all these places; none if there is nothing to draw.
    fn round(all: &[(f64, f64)]) -> Option<Self> {
        let ends = |of: fn(&(f64, f64)) -> f64| {
            let grow = |e: Option<(f64, f64)>, v: f64| Some(e.map_or((v, v), |(a, b)| (a.min(v), b.max(v))));
            all.iter().map(of).fold(None, grow)
        };
        let (x, y) = (ends(|p| p.0)?, ends(|p| p.1)?);
        let (wide, high) = (WIDE - 2.0 * EDGE, HIGH - 2.0 * EDGE);
        let scale = (wide / (x.1 - x.0).max(1.0)).min(high / (y.1 - y.0).max(1.0));
        let spare = |room: f64, e: (f64, f64)| 0.5 * (room - scale * (e.1 - e.0));
        Some(Self { left: x.0 - (EDGE + spare(wide, x)) / scale, top: y.1 + (EDGE + spare(high, y)) / scale, scale })
    }
    fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.scale * (x - self.left), self.scale * (self.top - y))
    }
}

fn spot(n: Node<'_>) -> Option<(f64, f64)> {
    Some((n.get("x_m").number()?, n.get("y_m").number()?))
}
fn pair(n: Node<'_>) -> Option<(f64, f64)> {
    Some((n.at(0).number()?, n.at(1).number()?))
}

fn curve(h: &mut Html, class: &'static str, all: impl IntoIterator<Item = (f64, f64)>) {
    h.put("<polyline class=\"", class, "\" points=\"");
    for (x, y) in all {
        h.text(&format!("{x:.1},{y:.1} "));
    }
    h.raw("\"/>");
}

fn begin(h: &mut Html, name: &str) {
    h.put("<svg class=\"pull-drawing\" viewBox=\"0 0 320 170\" role=\"img\" aria-label=\"", name, "\">");
}

fn place(h: &mut Html, doc: Node<'_>, row: Node<'_>, name: &str) {
    let rows = || doc.get("history").each();
    let way: Vec<(f64, f64)> = rows().filter_map(|w| pair(w.get("at_m"))).collect();
    let mut all = way.clone();
    all.extend(rows().flat_map(|w| w.get("points").each()).filter_map(spot));
    let Some(f) = Frame::round(&all) else { return };
    begin(h, name);
    curve(h, "way", way.iter().map(|p| f.at(*p)));
    let named = |name: &str| row.get("points").each().find(|p| p.get("name").text() == Some(name)).and_then(spot);
    for leg in row.get("legs").each() {
        let end = |key| leg.get(key).text().and_then(named).map(|p| f.at(p));
        if let (Some(a), Some(b)) = (end("from"), end("to")) {
            curve(h, "line", [a, b]);
        }
    }
    for p in row.get("points").each().filter_map(spot) {
        let (x, y) = f.at(p);
        h.put("<circle class=\"knot\" r=\"3\" cx=\"", &format!("{x:.1}"), "\" cy=\"");
        h.put("", &format!("{y:.1}"), "\"/>");
    }
    if let Some((x, y)) = pair(row.get("at_m")).map(|p| f.at(p)) {
        let turned = -row.get("turned_rad").number().unwrap_or_default().to_degrees();
        // Of no vehicle in particular: its size is about right, and it points where it goes.
        let there = format!("translate({x:.1} {y:.1}) rotate({turned:.1}) scale({:.2})", f.scale);
        h.put("<path class=\"car\" d=\"M2.2 0L1.4.9H-2.2V-.9H1.4Z\" transform=\"", &there, "\"/>");
    }
    h.raw("</svg>");
}

fn chart(h: &mut Html, r: Reader<'_>, doc: Node<'_>, row: Node<'_>) {
    let rows = || doc.get("history").each();
    let pull = |w: Node<'_>| w.get("line_tension").get("high_n").number();
    let can = |w: Node<'_>| w.get("ability_n").number();
    let far = rows().filter_map(|w| w.get("travel_m").number()).fold(0.0, f64::max);
    let most = rows().flat_map(|w| [pull(w), can(w)]).flatten().fold(0.0, f64::max);
    if far <= 0.0 || most <= 0.0 {
        return;
    }
    let x = |t: f64| EDGE + (WIDE - 2.0 * EDGE) * t / far;
    let y = |v: f64| HIGH - EDGE - (HIGH - 2.0 * EDGE) * v / most;
    let low = HIGH - EDGE;
    begin(h, &r.words.say("pull.chart"));
    // What the ends of the axes stand for.
    // A load is rounded up, what somebody can and how far he may is rounded down.
    let able = rows().filter_map(can).fold(0.0, f64::max) >= most;
    let top = if able { units::capacity(r.units, Some(most)) } else { units::load(r.units, Some(most)) };
    h.put("<text class=\"end\" x=\"4\" y=\"12\">", &top, "</text>");
    let far_in_words = units::length_allowed(r.units, Some(far));
    h.put("<text class=\"end\" x=\"316\" y=\"151\" text-anchor=\"end\">", &far_in_words, "</text>");
    curve(h, "axis", [(EDGE, EDGE), (EDGE, low), (WIDE - EDGE, low)]);
    curve(h, "can", rows().filter_map(|w| Some((x(w.get("travel_m").number()?), y(can(w)?)))));
    curve(h, "pull", rows().filter_map(|w| Some((x(w.get("travel_m").number()?), y(pull(w)?)))));
    for (list, class) in [("stops", "stop"), ("events", "event")] {
        for t in doc.get(list).each().filter_map(|e| e.get("travel_m").number()) {
            curve(h, class, [(x(t), low), (x(t) + 4.0, low + 8.0), (x(t) - 4.0, low + 8.0), (x(t), low)]);
        }
    }
    if let Some(t) = row.get("travel_m").number() {
        curve(h, "here", [(x(t), EDGE), (x(t), low)]);
    }
    h.raw("</svg>");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{Catalogue, Language};
    use crate::engine::{Answer, Job, Kind, Units, Wishes, answer};
    use crate::tree::Tree;

    fn example() -> Tree {
        let case = crate::examples::cases().into_iter().find(|c| c.file == "out-of-the-hole.toml").unwrap();
        let job = Job { kind: Kind::Pull, text: case.text.to_owned(), options: Wishes::default() };
        match answer(&job, &mut |_| {}) {
            Answer::Report(found) => Tree::parse(&found.json).unwrap(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn regress_every_moment_is_drawn_and_told() {
        let (tree, words) = (example(), Catalogue::of(Language::English));
        let (doc, r) = (Node::of(&tree), Reader { words: &words, units: Units::Metric });
        let n = doc.get("history").len();
        assert!(n > 50);
        let mut seen = std::collections::BTreeSet::new();
        for i in 0..n {
            let html = moment(r, doc, i);
            let pull = units::load(Units::Metric, doc.get("history").at(i).get("line_tension").get("high_n").number());
            assert!(html.contains(&format!("<dd>{pull}</dd>")), "{i}: {html}");
            assert_eq!((html.matches("<svg").count(), html.matches("<text class=\"end\"").count()), (2, 2));
            assert!(!html.contains("NaN") && !html.contains("inf"), "{html}");
            seen.insert(html);
        }
        // The drawing moves.
        assert!(seen.len() > n / 2, "{} of {n}", seen.len());
        let all = pull(r, doc);
        assert!(doc.get("events").len() > 2 && all.matches("<li><b>").count() >= doc.get("events").len());
        assert_eq!(all.matches("class=\"verdict").count(), 1 + doc.get("worst").len());
    }
    #[test]
    fn regress_a_place_that_is_not_there_shows_no_number() {
        let words = Catalogue::of(Language::English);
        let tree = Tree::parse("{}").unwrap();
        let html = moment(Reader { words: &words, units: Units::Us }, Node::of(&tree), 7);
        assert!(html.contains(units::NOT_KNOWN) && !html.contains("<svg"), "{html}");
    }
}
