//! A rig in the crew's words.

use super::{Out, list, quoted};
use unmire_model::layout::{AnchorLeg, Hold, HoldingLine, Layout, Puller, Who};

/// All of it.
pub(super) fn layout(out: &mut Out, l: &Layout) {
    out.header("[rig]");
    out.key("family", &quoted(l.family.word()));
    match &l.puller {
        Puller::Winch { on } => out.key("winch", &who(on)),
        Puller::Tow { helper, point, connectors, line } => {
            let mut parts = vec![format!("helper = {}", quoted(helper)), format!("point = {}", quoted(point))];
            ids(&mut parts, "connectors", connectors);
            parts.push(format!("line = {}", list(line)));
            out.key("tow", &table(&parts));
        }
        Puller::HandWinch { piece, held_by } => {
            out.key("hand_winch", &table(&[format!("piece = {}", quoted(piece)), hold(held_by)]));
        }
    }
    for (name, second) in [("tie_back", &l.tie_back), ("holding", &l.holding)] {
        if let Some(h) = second {
            out.key(name, &holding(h));
        }
    }
    if !l.beside.is_empty() {
        out.key("beside", &list(&l.beside));
    }
    for s in &l.stations {
        out.header("[[rig.station]]");
        if let Some(b) = &s.block {
            out.key("block", &quoted(b));
        }
        if !s.extensions.is_empty() {
            out.key("extensions", &list(&s.extensions));
        }
        if !s.connectors.is_empty() {
            out.key("connectors", &list(&s.connectors));
        }
        out.text.push_str(&hold(&s.hold));
        out.text.push('\n');
    }
}

fn who(w: &Who) -> String {
    match w {
        Who::Stuck => quoted("stuck"),
        Who::Helper(name) => quoted(name),
    }
}

fn table(parts: &[String]) -> String {
    format!("{{ {} }}", parts.join(", "))
}

fn ids(parts: &mut Vec<String>, name: &str, items: &[String]) {
    if !items.is_empty() {
        parts.push(format!("{name} = {}", list(items)));
    }
}

fn leg(l: &AnchorLeg) -> String {
    let mut parts = vec![format!("anchor = {}", quoted(&l.anchor)), format!("hitch = {}", quoted(l.hitch.word()))];
    if let Some(s) = &l.strap {
        parts.push(format!("strap = {}", quoted(s)));
    }
    ids(&mut parts, "extensions", &l.extensions);
    ids(&mut parts, "connectors", &l.connectors);
    table(&parts)
}

fn hold(h: &Hold) -> String {
    match h {
        Hold::Anchors(legs) => format!("anchors = [{}]", legs.iter().map(leg).collect::<Vec<_>>().join(", ")),
        Hold::Point { on, point, connectors } => {
            let mut parts = vec![format!("on = {}", who(on)), format!("point = {}", quoted(point))];
            ids(&mut parts, "connectors", connectors);
            format!("point = {}", table(&parts))
        }
        Hold::Bridle { on, points, bridle, connectors } => {
            let mut parts = vec![
                format!("on = {}", who(on)),
                format!("points = {}", list(points)),
                format!("strap = {}", quoted(bridle)),
            ];
            ids(&mut parts, "connectors", connectors);
            format!("bridle = {}", table(&parts))
        }
        Hold::Winch { on } => format!("winch = {}", who(on)),
    }
}

fn holding(h: &HoldingLine) -> String {
    let mut parts = vec![format!("from = {}", quoted(&h.point))];
    ids(&mut parts, "connectors", &h.connectors);
    ids(&mut parts, "line", &h.line);
    parts.push(hold(&h.hold));
    table(&parts)
}
