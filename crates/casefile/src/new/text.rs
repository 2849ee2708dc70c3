//! The case that answers make, with every assumption in sight.

use super::answer::{Answers, Distance, Known, Tree};
use super::pieces::Piece;
use crate::write::{Out, exact, number, quoted};
use unmire_model::Length;

/// The value, or an assumed one with its reason.
fn or_assumed(value: Option<&String>, assumed: &str, why: &str) -> String {
    value.map_or_else(|| self::assumed(assumed, why), |v| quoted(v))
}
fn assumed(value: &str, why: &str) -> String {
    format!("{{ value = {}, assumed = {} }}", quoted(value), quoted(why))
}

/// The whole file.
pub(super) fn case(a: &Answers) -> String {
    let mut out = Out::default();
    out.comment(
        "Made from answers. What nobody was asked is assumed, wide, and says so: change it where you know better.",
    );
    out.key("schema", &quoted(crate::CASE_SCHEMA));
    out.key("title", "\"A stuck vehicle\"");
    vehicle(&mut out, a);
    let deep = a.depth.is_none_or(|d| d == "wheel arch" || d == "cab");
    let mired = a.depth != Some("not mired");
    out.header("[stuck]");
    match a.depth {
        Some(d) => out.key("depth", &quoted(d)),
        None => {
            out.key("depth", &assumed("wheel arch", "nobody said how deep"));
            out.key("mire_share", &assumed("20 % .. 100 % .. 300 %", "nobody said how deep"));
        }
    }
    out.comment("assumed: the belly rests on the ground from the hubs on");
    out.key("bellied", if deep { "true" } else { "false" });
    out.header("[ground]");
    out.key("surface", &assumed("unknown", "not asked"));
    out.comment("assumed: where a vehicle sinks in, the ground is wet");
    out.key("saturated", if mired { "true" } else { "false" });
    out.header("[way_out]");
    out.key("direction", &assumed("ahead", "not asked"));
    out.key("grade", &or_assumed(a.grade.as_ref(), "5 deg down .. 2 deg up .. 15 deg up", "nobody said"));
    out.key("side_slope", &or_assumed(a.side.as_ref(), "15 deg left high", "nobody said"));
    out.key("distance", &or_assumed(a.distance.as_ref(), "5 m .. 12 m .. 30 m", "nobody said"));
    match &a.anchor {
        Known::Some(t) => tree(&mut out, t, a),
        Known::None => {}
        Known::Unknown => {
            out.text.push('\n');
            out.comment("Nobody said where a tree stands. An anchor that nobody placed can't be reckoned with: add it as [[anchor]].");
        }
    }
    out.header("[people]");
    let (total, trained) = a.people.unwrap_or((1, 0));
    if a.people.is_none() {
        out.comment("assumed: nobody said");
    }
    out.key("total", &total.to_string());
    out.key("trained", &trained.to_string());
    for (i, p) in a.pieces.iter().enumerate() {
        piece(&mut out, p, i + 1);
    }
    out.text
}

fn vehicle(out: &mut Out, a: &Answers) {
    out.header("[vehicle]");
    out.key("name", "\"stuck one\"");
    out.comment("All that moves, people and load with it.");
    out.key("mass", &or_assumed(a.mass.as_ref(), "1.2 t .. 2.2 t .. 3.5 t", "nobody said"));
    out.key("wheelbase", &assumed("2.7 m", "not asked"));
    out.key("track", &assumed("1.4 m", "not asked; narrow rolls over sooner"));
    out.key("cg_height", &assumed("0.5 m .. 0.8 m .. 1.2 m", "not asked"));
    out.text.push('\n');
    out.comment(
        "assumed: nobody was asked what the hook would be on. Until kind and label are told, no hook goes on it.",
    );
    out.text.push_str("[[vehicle.point]]\n");
    out.key("id", "\"front\"");
    out.key("kind", "\"unidentified\"");
    out.key("position", "[2.0, 0.0, 0.5]");
    out.key("label", "\"missing\"");
    let rated = match &a.winch {
        Known::None => return,
        Known::Some(pull) => Some(pull),
        Known::Unknown => None,
    };
    out.header("[vehicle.winch]");
    out.key("id", "\"W1\"");
    out.comment("assumed: on the front, in the middle");
    out.key("position", "[2.1, 0.0, 0.6]");
    out.key("direction", "\"ahead\"");
    out.key("rated_pull", &or_assumed(rated, "20 kN", "nobody read its label"));
    if rated.is_none() {
        out.key("stall", &assumed("20 kN .. 35 kN .. 60 kN", "nobody read its label"));
    }
    let l = &a.line;
    let mut missing = Vec::new();
    let mut length = |known: Option<Length>, word: &str, wide: &str| {
        known.map_or_else(
            || {
                missing.push(word.to_owned());
                quoted(wide)
            },
            exact,
        )
    };
    let (diameter, long) = (length(l.diameter, "diameter", "10 mm"), length(l.length, "length", "20 m"));
    if !missing.is_empty() {
        out.comment(&format!("assumed: the line's {}", missing.join(" and ")));
    }
    out.key(
        "line",
        &format!(
            "{{ material = {}, diameter = {diameter}, length = {long}, label = {} }}",
            quoted(l.material.unwrap_or("not known")),
            quoted(l.label.as_deref().unwrap_or("missing"))
        ),
    );
    out.comment("Not asked: until its rating is told, the mount is 'unknown'.");
    out.key("mount", "\"missing\"");
}

fn tree(out: &mut Out, t: &Tree, a: &Answers) {
    out.header("[[anchor]]");
    out.key("id", "\"tree\"");
    out.key("kind", "\"tree\"");
    let off = match t.distance {
        Distance::Tape(l) => {
            out.key("distance", &exact(l));
            l * 0.05
        }
        Distance::Paces(n) => {
            out.key("paces", &number(n));
            out.comment("assumed: nobody was asked how long a pace is");
            out.key("pace", "\"0.75 m\"");
            Length::from_m(0.75) * (0.15 * n)
        }
    };
    out.key("direction", &quoted(&t.direction));
    if t.rise.is_none() {
        out.comment("assumed: nobody said whether it stands higher or lower");
    }
    out.key("rise", &exact(t.rise.unwrap_or(Length::ZERO)));
    out.comment("assumed: a twentieth of a taped distance, more of a paced one");
    let off = off.max(Length::from_m(0.5)).min(Length::from_m(20.0));
    out.key("uncertainty", &exact(Length::from_cm(libm::ceil(off.as_cm()))));
    out.key("attach_height", &assumed("0.4 m", "not asked; as low as the strap stays"));
    match &a.girth {
        Some(g) => out.key("girth", &quoted(g)),
        None => out.key("diameter", &assumed("15 cm .. 25 cm .. 40 cm", "nobody measured it")),
    }
    let signs = a.signs.each();
    let open: Vec<&str> = signs.iter().filter(|(_, s)| s.is_none()).map(|(name, _)| *name).collect();
    if !open.is_empty() {
        out.comment(&format!(
            "Nobody said whether they looked for these signs: {}. Until each is answered the tree is 'unknown'.",
            open.join(", ")
        ));
    }
    crate::write::signs(out, &signs);
}

fn piece(out: &mut Out, p: &Piece, index: usize) {
    out.header("[[piece]]");
    out.key("id", &quoted(&format!("K{index}")));
    out.key("kind", &quoted(p.kind.word));
    if p.count > 1 {
        out.key("count", &p.count.to_string());
    }
    if p.kind.rated || p.label.is_some() {
        out.key("label", &quoted(p.label.as_deref().unwrap_or("missing")));
    }
    let has = |key: &str| p.kind.keys.contains(&key);
    let length = |out: &mut Out, key: &str, wide: &str| match p.length {
        Some(l) => out.key(key, &exact(l)),
        None => {
            out.comment("assumed: nobody said; short reaches least");
            out.key(key, &quoted(wide));
        }
    };
    if has("length") {
        length(out, "length", "1 m");
    } else if has("line") {
        length(out, "line", "1 m");
    }
    match p.width {
        Some(w) if has("width") => out.key("width", &exact(w)),
        Some(w) if has("diameter") => out.key("diameter", &exact(w)),
        None if has("diameter") => {
            out.comment("assumed: nobody said");
            out.key("diameter", "\"10 mm\"");
        }
        _ => {}
    }
    if has("material") {
        out.key("material", &quoted(p.material.unwrap_or("not known")));
    }
    if has("kinetic") {
        out.comment("assumed: nobody was asked; a stretching rope is never static gear");
        out.key("kinetic", "true");
    }
    if has("latch") {
        out.comment("assumed: nobody was asked");
        out.key("latch", "false");
    }
    if has("what") {
        out.key("what", "\"nobody said what\"");
    }
}
