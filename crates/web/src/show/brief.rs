//! What the crew does with a rig: when to stop, the gate, who does what, the ground to keep clear, the steps, the pieces.

use super::{Html, Node, Reader, picture, stop, verdict, weakest};
use crate::units;

/// The brief of one rig of a report.
#[must_use]
pub fn brief(r: Reader<'_>, report: Node<'_>, plan: Node<'_>, drawing: Option<&str>) -> String {
    let mut h = Html::default();
    let say = |key| r.words.say(key);
    let summary = plan.get("summary").text().unwrap_or_default();
    h.put("<section class=\"top\"><p lang=\"en\"><b>", summary, "</b></p><p class=\"heads\">");
    verdict(&mut h, r, plan.get("verdict").text().unwrap_or_default());
    h.maybe(" <span>", weakest(r, plan).as_deref(), "</span>").raw("</p><div class=\"stop\">");
    h.put("<h2>", &say("brief.stop"), "</h2>").maybe("<p><b>", stop(r, plan).as_deref(), "</b></p>");
    list(&mut h, "<ul lang=\"en\">", plan.get("stop").get("when"), "</ul>");
    h.put("<p><b>", &say("brief.words"), "</b></p></div></section>");
    h.put("<section class=\"asked\"><h2>", &say("brief.gate"), "</h2><ul class=\"boxes\">");
    for g in report.get("gate").each() {
        let (word, text) = (g.get("word").text().unwrap_or_default(), g.get("text").text().unwrap_or_default());
        let ours = r.words.translate("gate", word);
        // A question that the catalogue lacks is asked as the planner asks it.
        h.put("<li>", if ours == word { text } else { &ours }, "</li>");
    }
    h.put("</ul></section><section class=\"roles\"><h2>", &say("brief.roles"), "</h2><ul>");
    for role in [say("brief.leader"), say("brief.puller"), say("brief.driver"), say("brief.watcher")] {
        h.put("<li>", &role, "</li>");
    }
    h.put("</ul><p>", &say("brief.signals"), "</p></section>");
    clear(&mut h, r, plan.get("keep_out"));
    if let Some(svg) = drawing {
        h.raw("<section class=\"side\">");
        picture(&mut h, r, svg, summary);
        h.raw("</section>");
    }
    steps(&mut h, r, plan.get("steps"));
    h.put("<section class=\"bag\"><h2>", &say("brief.pieces"), "</h2><ul lang=\"en\">");
    for p in plan.get("pieces").each() {
        let part = |key| p.get(key).text().unwrap_or_default();
        h.put("<li><b>", part("id"), "</b>, ").text(part("what")).put(": ", part("place"), "</li>");
    }
    h.put("</ul></section><section class=\"cautions\"><h2>", &say("brief.cautions"), "</h2>");
    list(&mut h, "<ul lang=\"en\">", plan.get("cautions"), "</ul>");
    h.put("<p>", &say("settings.limits"), "</p></section>");
    h.done()
}

fn list(h: &mut Html, open: &'static str, all: Node<'_>, close: &'static str) {
    h.raw(open);
    for one in all.each() {
        h.put("<li>", one.text().unwrap_or_default(), "</li>");
    }
    h.raw(close);
}

/// Steps, phase by phase, counted on from one to the next.
fn steps(h: &mut Html, r: Reader<'_>, all: Node<'_>) {
    let mut phase = None;
    for (i, step) in all.each().enumerate() {
        let its = step.get("phase").text();
        if its != phase {
            if phase.is_some() {
                h.raw("</ol></section>");
            }
            let name = r.words.translate("phase", its.unwrap_or_default());
            h.put("<section class=\"phase\"><h2>", &name, "</h2><ol lang=\"en\" start=\"");
            h.text(&(i + 1).to_string()).raw("\">");
            phase = its;
        }
        h.put("<li>", step.get("text").text().unwrap_or_default(), "</li>");
    }
    if phase.is_some() {
        h.raw("</ol></section>");
    }
}

/// The ground to keep clear.
fn clear(h: &mut Html, r: Reader<'_>, k: Node<'_>) {
    if !k.there() {
        return;
    }
    let long = |n: Node<'_>| units::length_to_keep(r.units, n.get("radius_m").number());
    h.put("<section class=\"clear\"><h2>", &r.words.say("brief.clear"), "</h2>");
    h.put("<p><b>", &r.words.fill("brief.radius", &[("radius", &long(k))]), "</b> ");
    h.put("<span lang=\"en\">", k.get("rule").text().unwrap_or_default(), "</span></p>");
    h.put("<h3>", &r.words.say("brief.others"), "</h3><ul>");
    for o in k.get("others").each() {
        h.put("<li><span lang=\"en\">", o.get("name").text().unwrap_or_default(), "</span> → ");
        h.text(&long(o)).raw("</li>");
    }
    h.put("</ul><h3>", &r.words.say("brief.exceptions"), "</h3>");
    list(h, "<ul lang=\"en\">", k.get("exceptions"), "</ul></section>");
}
