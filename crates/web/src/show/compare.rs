//! Two rigs side by side.

use super::{Html, Node, Reader, name, picture, verdict};
use crate::units;

/// A table of two rigs, each with its place in the ranking and its drawing.
#[must_use]
pub fn compare(r: Reader<'_>, both: [(usize, Node<'_>, Option<&str>); 2]) -> String {
    let mut h = Html::default();
    let title = r.words.say("compare.title");
    h.put("<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"", &title, "\"><table><thead><tr><td></td>");
    for (i, plan, _) in both {
        h.put("<th scope=\"col\">", &name(r, i, plan), "</th>");
    }
    h.put("</tr></thead><tbody><tr><th scope=\"row\">", &r.words.say("compare.verdict"), "</th>");
    for (_, plan, _) in both {
        h.raw("<td>");
        verdict(&mut h, r, plan.get("verdict").text().unwrap_or_default());
        h.raw("</td>");
    }
    h.raw("</tr>");
    for row in ["stop", "weakest", "margin", "need", "winch", "pieces", "time", "clear"] {
        h.put("<tr><th scope=\"row\">", &r.words.translate("compare-row", row), "</th>");
        for (_, plan, _) in both {
            h.put("<td>", &cell(r, plan, row), "</td>");
        }
        h.raw("</tr>");
    }
    h.raw("</tbody></table></div><div class=\"pictures-of\">");
    for (i, plan, drawing) in both {
        h.put("<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"", &name(r, i, plan), "\">");
        picture(&mut h, r, drawing.unwrap_or_default(), plan.get("summary").text().unwrap_or_default());
        h.raw("</div>");
    }
    h.raw("</div>");
    h.done()
}

fn cell(r: Reader<'_>, plan: Node<'_>, row: &str) -> String {
    let n = |a, b| plan.get(a).get(b).number();
    match row {
        "stop" => units::capacity(r.units, plan.get("stop_load_n").number()),
        "weakest" => plan.get("weakest").text().unwrap_or(units::NOT_KNOWN).to_owned(),
        "margin" => units::margin(plan.get("lowest_margin").number()),
        "need" => units::load(r.units, n("demand", "high_n")),
        "winch" => units::load(r.units, n("winch", "pull_n")),
        "pieces" => plan.get("pieces").len().to_string(),
        "time" => units::time(n("time_s", "likely_s")),
        _ => units::length_to_keep(r.units, n("keep_out", "radius_m")),
    }
}
