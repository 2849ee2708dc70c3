//! One rig in numbers: its parts, the weakest first, each with its verdict; its legs with their tension. Every number
//! opens its working: what it is about stands in `data-about`.

use super::{Html, Node, Reader, stop, verdict};
use crate::units;

/// The rig that is looked at.
#[must_use]
pub fn detail(r: Reader<'_>, plan: Node<'_>) -> String {
    let mut h = Html::default();
    let say = |key| r.words.say(key);
    h.put("<h2 id=\"this-rig\">", &say("rigs.this"), "</h2>");
    h.maybe("<p lang=\"en\">", plan.get("summary").text(), "</p>").raw("<p class=\"heads\">");
    if let Some(word) = plan.get("verdict").text() {
        verdict(&mut h, r, word);
    }
    h.maybe("<b>", stop(r, plan).as_deref(), "</b>");
    let margin = units::margin(plan.get("lowest_margin").number());
    h.put("<span>", &r.words.fill("rigs.lowest", &[("margin", &margin)]), "</span></p>");
    for f in plan.get("findings").each() {
        let part = |key| f.get(key).text().unwrap_or_default();
        h.put("<p class=\"small\" lang=\"en\"><b>", part("subject"), "</b>: ").text(part("text"));
        h.put(" ", part("remedy"), "</p>");
    }
    h.put("<h3>", &say("rigs.parts"), "</h3>").put("<p class=\"small\">", &say("rigs.parts-about"), "</p>");
    h.raw("<ol class=\"parts checks\">");
    let weakest = plan.get("weakest_check").count();
    for (i, check) in plan.get("checks").each().enumerate() {
        part(&mut h, r, check, weakest == Some(i));
    }
    h.raw("</ol>").put("<h3>", &say("rigs.legs"), "</h3><ul class=\"parts legs\">");
    for one in plan.get("legs").each() {
        leg(&mut h, r, one);
    }
    h.raw("</ul>").put("<h3>", &say("working.all"), "</h3><div class=\"whole\">");
    opens(&mut h, "", |h| {
        let need = plan.get("demand");
        let load = |key| units::load(r.units, need.get(key).number());
        let words = match need.there() {
            true => r.words.fill("rigs.need", &[("low", &load("low_n")), ("high", &load("high_n"))]),
            false => say("working.show"),
        };
        h.text(&words);
    });
    h.raw("</div>");
    h.done()
}

/// What the planner has to say of the case itself, and the ways side by side.
#[must_use]
pub fn findings(r: Reader<'_>, report: Node<'_>) -> String {
    let mut h = Html::default();
    let all = report.get("findings");
    if !all.is_empty() {
        h.put("<h2>", &r.words.say("rigs.findings"), "</h2><ul lang=\"en\">");
        for f in all.each() {
            let part = |key| f.get(key).text().unwrap_or_default();
            h.put("<li><p><b>", part("subject"), "</b> ").text(part("text"));
            h.put("</p><p class=\"small\">", part("remedy"), "</p></li>");
        }
        h.raw("</ul>");
    }
    super::ways::ways(&mut h, r, report);
    h.done()
}

/// Something that opens its working.
fn opens(h: &mut Html, about: &str, what: impl FnOnce(&mut Html)) {
    h.put("<details class=\"opens\" data-about=\"", about, "\"><summary><span>");
    what(h);
    h.raw("</span></summary><div class=\"steps-of\"></div></details>");
}

/// A number with its name.
fn number(h: &mut Html, name: &str, value: &str) {
    h.put("<span class=\"number\"><span class=\"small\">", name, " </span>").put("<span>", value, "</span></span> ");
}

/// A part under its load.
fn part(h: &mut Html, r: Reader<'_>, check: Node<'_>, first: bool) {
    let text = |key| check.get(key).text().unwrap_or_default();
    let n = |key| check.get(key).number();
    h.raw("<li>");
    if first {
        h.put("<b class=\"weakest\">", &r.words.say("rigs.weakest-part"), "</b>");
    }
    h.raw("<p>");
    verdict(h, r, text("verdict"));
    h.put(" <span lang=\"en\"><b>", text("part"), "</b>, ").put("", text("what"), "</span></p>");
    h.maybe("<p class=\"small\" lang=\"en\">", check.get("unknown_because").text(), "</p>");
    if text("kind") != "condition" {
        let ratio = |have, asked| {
            let (have, asked) = (units::margin(n(have)), units::asked(n(asked)));
            r.words.fill("rigs.ratio", &[("have", &have), ("asked", &asked)])
        };
        opens(h, text("part"), |h| {
            h.raw("<span class=\"numbers\">");
            number(h, &r.words.say("rigs.work"), &units::load(r.units, n("demand_work_n")));
            number(h, &r.words.say("rigs.stall"), &units::load(r.units, n("demand_stall_n")));
            number(h, &r.words.say("rigs.capacity"), &units::capacity(r.units, n("capacity_n")));
            number(h, &r.words.say("rigs.at-work"), &ratio("ratio_work", "required_work"));
            number(h, &r.words.say("rigs.at-stall"), &ratio("ratio_stall", "required_stall"));
            h.put("</span><span class=\"small\" lang=\"en\">", text("capacity_kind"), "</span>");
        });
    }
    h.raw("</li>");
}

/// A leg.
fn leg(h: &mut Html, r: Reader<'_>, leg: Node<'_>) {
    let text = |key| leg.get(key).text().unwrap_or_default();
    let n = |key| leg.get(key).number();
    h.put("<li><p lang=\"en\"><b>", text("member"), "</b>: ")
        .text(text("from"))
        .raw(" → ")
        .text(text("to"))
        .raw("</p>");
    opens(h, &format!("'{}'", text("member")), |h| {
        h.raw("<span class=\"numbers\">");
        number(h, &r.words.say("rigs.length"), &units::length(r.units, n("length_m")));
        number(h, &r.words.say("rigs.work"), &units::load(r.units, n("tension_work_n")));
        number(h, &r.words.say("rigs.stall"), &units::load(r.units, n("tension_stall_n")));
        h.raw("</span>");
    });
    h.raw("</li>");
}
