//! The bare rig.

use crate::walk::{Found, Mistake, Node, Walk, assignment, either, expected, nearest, number, wrong_type};
use core::ops::Range as Span;
use toml::de::DeValue;
use unmire_model::rig::{Drive, Line, Motion, Node as Point, Sling, Structure, Turn};
use unmire_model::{Force, Length};

/// Reads a bare rig.
pub(super) fn bare(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Structure> {
    n.word(w, "schema");
    if n.has("title") {
        n.text(w, "title");
    }
    let mut rig = Structure::default();
    let points = n.tables(w, "point")?;
    for p in &points {
        if let Some(point) = point(w, p) {
            if rig.nodes.iter().any(|o| o.name == point.name) {
                w.tell(
                    Mistake::new(
                        "duplicate-id",
                        p.span_of("name"),
                        format!("the point \"{}\" is given twice", point.name),
                    )
                    .expected("a name of its own for each point"),
                );
            }
            rig.nodes.push(point);
        }
    }
    // Members refer to points: with a point missing for another mistake they would only repeat it.
    let complete = rig.nodes.len() == points.len();
    let slings = n.tables(w, "sling").unwrap_or_default();
    let lines = n.tables(w, "line").unwrap_or_default();
    for s in &slings {
        let made = sling(w, s, &rig.nodes, complete);
        rig.slings.extend(made);
    }
    for l in &lines {
        let made = line(w, l, &rig.nodes, complete);
        rig.lines.extend(made);
    }
    for (i, a) in rig.lines.iter().map(|l| &l.name).chain(rig.slings.iter().map(|s| &s.name)).enumerate() {
        let before =
            rig.lines.iter().map(|l| &l.name).chain(rig.slings.iter().map(|s| &s.name)).take(i).any(|b| a == b);
        if before {
            let node = lines
                .iter()
                .chain(&slings)
                .rfind(|x| x.table.get("name").is_some_and(|v| v.get_ref().as_str() == Some(a)));
            let span = node.map_or(0..0, |x| x.span_of("name"));
            w.tell(
                Mistake::new("duplicate-id", span, format!("the member \"{a}\" is given twice"))
                    .expected("a name of its own for each member"),
            );
        }
    }
    if !n.has("sling") && !n.has("line") {
        n.miss(w, "line", "points alone carry nothing");
    }
    Some(rig)
}

fn point(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Point> {
    let name = n.id(w, "name");
    let at = n.bare_position(w, "at");
    let fixed = n.flag(w, "fixed");
    let weight = if n.has("weight") { n.one::<Force>(w, "weight") } else { Some(Force::ZERO) };
    Some(Point { name: name?, at: at?, fixed: fixed?, weight: weight? })
}

fn refer(w: &mut Walk<'_>, nodes: &[Point], complete: bool, id: &str, span: Span<usize>) -> Option<usize> {
    let found = nodes.iter().position(|p| p.name == id);
    if found.is_none() && complete {
        let names: Vec<&str> = nodes.iter().map(|p| p.name.as_str()).collect();
        let first: Vec<&str> = names.iter().copied().take(12).collect();
        w.tell(
            Mistake::new("unknown-id", span, format!("no point \"{id}\" in this rig"))
                .expected(either(&first))
                .maybe_hint(nearest(id, names).map(|x| format!("did you mean \"{x}\"?"))),
        );
    }
    found
}

fn refer_all(w: &mut Walk<'_>, nodes: &[Point], complete: bool, ids: Vec<(String, Span<usize>)>) -> Option<Vec<usize>> {
    let all: Vec<_> = ids.into_iter().map(|(id, span)| refer(w, nodes, complete, &id, span)).collect();
    all.into_iter().collect()
}

fn sling(w: &mut Walk<'_>, n: &Node<'_, '_>, nodes: &[Point], complete: bool) -> Option<Sling> {
    let name = n.id(w, "name");
    let ends = n.ids(w, "between").and_then(|ids| refer_all(w, nodes, complete, ids));
    let rest_length = n.one::<Length>(w, "rest_length");
    let ea = n.one::<Force>(w, "ea");
    let ends = ends?;
    let [a, b] = ends[..] else {
        w.tell(
            Mistake::new(
                "wrong-type",
                n.span_of("between"),
                format!("a sling has two ends, and this names {}", ends.len()),
            )
            .expected("two points")
            .example("between = [\"TR\", \"B\"]"),
        );
        return None;
    };
    if a == b {
        w.tell(
            Mistake::new("contradiction", n.span_of("between"), "a sling from a point to itself carries nothing")
                .expected("two different points"),
        );
        return None;
    }
    Some(Sling { name: name?, a, b, rest_length: rest_length?, ea: ea? })
}

fn line(w: &mut Walk<'_>, n: &Node<'_, '_>, nodes: &[Point], complete: bool) -> Option<Line> {
    let name = n.id(w, "name");
    let path = n.ids(w, "path").and_then(|ids| refer_all(w, nodes, complete, ids));
    let motion = if n.has("motion") {
        n.word(w, "motion").and_then(|i| [Motion::Hauling, Motion::Lowering, Motion::Frictionless].get(i).copied())
    } else {
        Some(Motion::Hauling)
    };
    let drive = drive(w, n, nodes, complete);
    let path = path?;
    if path.len() < 2 {
        w.tell(
            Mistake::new("wrong-type", n.span_of("path"), "a line has at least two points")
                .expected("from the winch to the dead end")
                .example("path = [\"W\", \"B\", \"V\"]"),
        );
        return None;
    }
    if path.windows(2).any(|p| p[0] == p[1]) {
        w.tell(
            Mistake::new("contradiction", n.span_of("path"), "a leg from a point to itself has no length")
                .expected("two different points one after the other"),
        );
        return None;
    }
    let between = path.len() - 2;
    let turns = if n.has("turns") {
        let f = n.find(w, "turns")?;
        turns(w, &f, between)?
    } else {
        vec![Turn::Sheave { ratio: 1.0 }; between]
    };
    Some(Line { name: name?, path, turns, motion: motion?, drive: drive? })
}

fn turns(w: &mut Walk<'_>, f: &Found<'_, '_>, between: usize) -> Option<Vec<Turn>> {
    let DeValue::Array(items) = f.value else {
        w.tell(wrong_type(f, f.value, "a list"));
        return None;
    };
    if items.len() != between {
        w.tell(
            Mistake::new(
                "wrong-type",
                f.span.clone(),
                format!("`turns` has {} entries, and the line passes {between} points between its ends", items.len()),
            )
            .expected(expected(f.key))
            .example(assignment(f.key)),
        );
        return None;
    }
    let mut out = Vec::with_capacity(between);
    for item in items.iter() {
        let turn = match item.get_ref() {
            DeValue::Table(t) if t.len() == 1 => t
                .get("ring")
                .and_then(|v| number(v.get_ref()))
                .filter(|v| (0.0..=2.0).contains(v))
                .map(|friction| Turn::Ring { friction }),
            other => number(other).filter(|v| *v > 0.0 && *v <= 1.0).map(|ratio| Turn::Sheave { ratio }),
        };
        match turn {
            Some(t) => out.push(t),
            None => w.tell(
                Mistake::new("out-of-range", item.span(), "this is no turn")
                    .expected("the tension passed on when hauled, above 0 and at most 1; or { ring = friction coefficient from 0 to 2 }")
                    .example("turns = [0.92, { ring = 0.2 }]"),
            ),
        }
    }
    (out.len() == between).then_some(out)
}

fn drive(w: &mut Walk<'_>, n: &Node<'_, '_>, nodes: &[Point], complete: bool) -> Option<Drive> {
    let given: Vec<&str> = ["tension", "pull", "length"].into_iter().filter(|k| n.has(k)).collect();
    if given.len() != 1 {
        let m = if given.is_empty() {
            Mistake::new("missing-key", n.span.clone(), "nothing drives this line")
        } else {
            Mistake::new(
                "contradiction",
                n.span_of(given.last().copied().unwrap_or("tension")),
                format!("{} drive it at once", given.join(" and ")),
            )
        };
        w.tell(m.expected("one of tension, pull and length").example("tension = \"20 kN\""));
        return None;
    }
    if n.has("tension") {
        return n.one::<Force>(w, "tension").map(Drive::Tension);
    }
    if n.has("pull") {
        let t = n.table(w, "pull")?;
        let points = t.ids(w, "points").and_then(|ids| refer_all(w, nodes, complete, ids));
        let direction = t.vector(w, "direction");
        let force = t.one::<Force>(w, "force");
        let points = points?;
        if points.is_empty() {
            w.tell(
                Mistake::new("wrong-type", t.span_of("points"), "a pull on no point").expected("at least one point"),
            );
            return None;
        }
        return Some(Drive::Pull { points, direction: direction?, force: force? });
    }
    let t = n.table(w, "length")?;
    let rest = t.one::<Length>(w, "rest");
    let ea = t.one::<Force>(w, "ea");
    Some(Drive::Length { rest_length: rest?, ea: ea? })
}
