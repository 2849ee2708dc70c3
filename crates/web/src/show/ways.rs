//! Winch, kinetic or neither: the ways to get it out side by side, and the advice.

use super::{Html, Node, Reader, verdict};
use crate::units;

/// The rows of the table, in their order.
const ROWS: [&str; 8] = ["verdict", "work", "most", "room", "clear", "pieces", "time", "people"];

/// The ways of a report, a column each; nothing where it has none.
pub(super) fn ways(h: &mut Html, r: Reader<'_>, report: Node<'_>) {
    let ways = report.get("ways");
    if !ways.there() {
        return;
    }
    let title = r.words.say("ways.title");
    h.put("<h2>", &title, "</h2>").put("<p lang=\"en\">", ways.get("advice").text().unwrap_or_default(), "</p>");
    h.put("<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"", &title, "\"><table><thead><tr><td></td>");
    for way in ways.get("all").each() {
        h.put("<th scope=\"col\">", &called(r, way), "</th>");
    }
    h.raw("</tr></thead><tbody>");
    for row in ROWS {
        h.put("<tr><th scope=\"row\">", &r.words.translate("ways-row", row), "</th>");
        for way in ways.get("all").each() {
            h.raw("<td>");
            match (row, way.get("verdict").text()) {
                ("verdict", Some(word)) => verdict(h, r, word),
                ("verdict", None) => {
                    h.raw(units::NOT_KNOWN);
                }
                _ => {
                    h.text(&cell(r, way, row));
                }
            }
            h.raw("</td>");
        }
        h.raw("</tr>");
    }
    h.put("</tbody></table></div><p class=\"small\">", &r.words.say("ways.about"), "</p><ul>");
    for way in ways.get("all").each() {
        let text = |key| way.get(key).text().unwrap_or_default();
        h.put("<li><b>", &called(r, way), "</b> <span lang=\"en\">");
        h.put("", text("rig"), " ").put("", text("why"), "").put(" (", text("who"), ")</span></li>");
    }
    h.raw("</ul>");
}

fn called(r: Reader<'_>, way: Node<'_>) -> String {
    r.words.translate("way", way.get("way").text().unwrap_or_default())
}

fn cell(r: Reader<'_>, way: Node<'_>, row: &str) -> String {
    let n = |key| way.get(key).number();
    match row {
        "work" => units::load(r.units, n("load_work_n")),
        "most" => units::load(r.units, n("load_most_n")),
        "room" => units::length_to_keep(r.units, n("room_m")),
        "clear" => units::length_to_keep(r.units, n("keep_out_m")),
        "pieces" => n("pieces").map_or_else(String::new, |n| n.to_string()),
        "time" => units::time(way.get("time_s").get("likely_s").number()),
        _ => n("exposed").map_or_else(String::new, |n| n.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use crate::catalogue::{Catalogue, Language};
    use crate::engine::{Answer, Job, Kind, Units, Wishes, answer};
    use crate::examples::{cases, kits};
    use crate::show::{Node, Reader, findings};
    use crate::tree::Tree;

    #[test]
    fn regress_the_ways_stand_side_by_side_where_there_are_several() {
        for (file, there) in [("kinetic-too-deep.toml", true), ("wet-grass.toml", false)] {
            let text = cases().into_iter().find(|c| c.file == file).unwrap().text.to_owned();
            let options = Wishes { kits: kits(), drawings: false, ..Wishes::default() };
            let Answer::Report(found) = answer(&Job { kind: Kind::Plan, text, options }, &mut |_| {}) else {
                panic!("{file}")
            };
            let report = Tree::parse(&found.json).unwrap();
            for (language, word) in [(Language::English, "Neither"), (Language::German, "Keins von beiden")] {
                let words = Catalogue::of(language);
                let html = findings(Reader { words: &words, units: Units::Metric }, Node::of(&report));
                assert_eq!(html.contains(&format!("<th scope=\"col\">{word}</th>")), there, "{file}: {html}");
                assert_eq!(html.contains("it can be stopped at any moment"), there, "{file}: {html}");
            }
        }
    }
}
