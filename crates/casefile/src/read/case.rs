//! The case as a whole.

use super::site::{self, Survey};
use super::{Resolve, anchor, behind, kinetic, kit, kit_file, layout, path, vehicle};
use crate::walk::{Mistake, Node, Walk};
use std::collections::BTreeMap;
use unmire_model::case::{Case, People};
use unmire_model::gear::Piece;
use unmire_model::ground::{Depth, Ground, NeedMethod, Season, Stuck, WayOut};
use unmire_model::trail::Input;
use unmire_model::{Force, Length, Mass};

/// Reads a case.
pub(super) fn case(w: &mut Walk<'_>, n: &Node<'_, '_>, resolve: &mut Resolve<'_>) -> Option<Case> {
    n.word(w, "schema");
    let title = n.text(w, "title");
    let policy = n.id(w, "policy");
    if let Some(p) = &policy
        && !(w.known.policies.is_empty() || w.known.policies.contains(&p.as_str()))
    {
        let policies = w.known.policies;
        let near = crate::walk::nearest(p, policies.iter().copied()).map(|x| format!("did you mean \"{x}\"?"));
        w.tell(
            Mistake::new("unknown-word", n.span_of("policy"), format!("there is no policy \"{p}\""))
                .expected(crate::walk::either(policies))
                .maybe_hint(near),
        );
    }
    let survey = site::survey(w, n);
    let vehicle = n.table(w, "vehicle").and_then(|t| vehicle::vehicle(w, &t));
    let stuck = n.table(w, "stuck").and_then(|t| stuck(w, &t));
    let ground = n.table(w, "ground").and_then(|t| ground(w, &t));
    let way = n.table(w, "way_out");
    let way_out = way.as_ref().and_then(|t| way_out(w, t, &survey));
    let path = way.map_or_else(Vec::new, |t| path::stretches(w, &t, &survey));
    let anchors = each(w, n, "anchor", |w, t| anchor::anchor(w, t, &survey, vehicle.as_ref()));
    let obstacles = each(w, n, "obstacle", site::obstacle);
    let helpers = each(w, n, "helper", |w, t| site::helper(w, t, &survey, vehicle.as_ref()));
    let people = n.table(w, "people").and_then(|t| people(w, &t));
    let kit = bag(w, n, resolve);
    let run_up = if n.has("kinetic") { n.table(w, "kinetic").map(|t| kinetic::run_up(w, &t)) } else { None };
    let rig = n.has("rig");
    let made = (|| {
        Some(Case {
            title: title?,
            heading: survey.heading,
            vehicle: vehicle?,
            stuck: stuck?,
            ground: ground?,
            way_out: way_out?,
            path,
            anchors,
            obstacles,
            helpers,
            people: people?,
            kit: kit?,
            run_up,
            rig: None,
            policy,
        })
    })();
    if let Some(case) = &made {
        ids(w, n, case);
        loads(w, n, case);
        behind::behind(w, n, case);
    }
    // References into parts that are themselves wrong would only repeat what was told.
    let sound = made.as_ref().filter(|_| w.found.is_empty());
    let layout = if rig { n.table(w, "rig").and_then(|t| layout::layout(w, &t, sound)) } else { None };
    if rig && layout.is_none() {
        return None;
    }
    made.map(|case| Case { rig: layout, ..case })
}

fn each<T>(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    name: &'static str,
    mut one: impl FnMut(&mut Walk<'_>, &Node<'_, '_>) -> Option<T>,
) -> Vec<T> {
    let nodes = n.tables(w, name).unwrap_or_default();
    nodes.iter().filter_map(|t| one(w, t)).collect()
}

fn stuck(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Stuck> {
    let depth = n.input_word(w, "depth").and_then(|d| {
        let depth = [Depth::NotMired, Depth::Wheel, Depth::WheelArch, Depth::Cab].get(d.value).copied()?;
        Some(Input::new(depth, d.origin))
    });
    let mire_share = n.input_range::<f64>(w, "mire_share");
    let obstacle = n.input_range::<Force>(w, "obstacle");
    let locked_share = n.input_range::<f64>(w, "locked_share");
    let drive_helps = n.flag(w, "drive_helps").unwrap_or(false);
    let bellied = n.flag(w, "bellied");
    let unloadable = n.input_range::<Mass>(w, "unloadable");
    let overturned = n.flag(w, "overturned").unwrap_or(false);
    if let (Some(d), Some(_)) = (&depth, &mire_share)
        && d.value == Depth::NotMired
    {
        w.tell(
            Mistake::new(
                "contradiction",
                n.span_of("mire_share"),
                "the mire holds a share of the weight, and the vehicle is not mired",
            )
            .expected("depth = \"wheel\", \"wheel arch\" or \"cab\" with it; or no mire_share")
            .hint("a wheel that spins on wet grass is not mired: the surface tells its resistance"),
        );
    }
    Some(Stuck {
        depth: depth?,
        mire_share,
        obstacle,
        locked_share,
        drive_helps,
        bellied: bellied?,
        unloadable,
        overturned,
    })
}

fn ground(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Ground> {
    let (surfaces, soils) = (w.known.surfaces, w.known.soils);
    let surface = n.table_key(w, "surface", surfaces);
    let soil = n.table_key(w, "soil", soils);
    let method = if n.has("method") {
        n.word(w, "method").and_then(|i| [NeedMethod::Doctrine, NeedMethod::Terramechanics].get(i).copied())
    } else {
        Some(NeedMethod::Doctrine)
    };
    if method == Some(NeedMethod::Terramechanics) && !n.has("soil") {
        n.miss(w, "soil", "terramechanics needs a soil");
    }
    let saturated = n.flag(w, "saturated");
    let season = n.input_word(w, "season").and_then(|s| {
        let season = [Season::Growing, Season::Dormant].get(s.value).copied()?;
        Some(Input::new(season, s.origin))
    });
    Some(Ground { surface: surface?, soil, method: method?, saturated: saturated?, season })
}

fn way_out(w: &mut Walk<'_>, n: &Node<'_, '_>, survey: &Survey) -> Option<WayOut> {
    let bearing = site::direction(w, n, survey, "direction", "bearing");
    let grade = n.input_slopes(w, "grade");
    let side_slope = n.input_slope(w, "side_slope");
    let distance = n.input_range::<Length>(w, "distance");
    Some(WayOut { bearing: bearing?, grade: grade?, side_slope: side_slope?, distance: distance? })
}

fn people(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<People> {
    let (total, trained) = (n.whole(w, "total"), n.whole(w, "trained"));
    let (total, trained) = (total?, trained?);
    if trained > total {
        w.tell(
            Mistake::new("contradiction", n.span_of("trained"), format!("{trained} trained people among {total}"))
                .expected("at most as many trained as there are"),
        );
        return None;
    }
    Some(People { total, trained })
}

/// The kit file's pieces and those of this file.
fn bag(w: &mut Walk<'_>, n: &Node<'_, '_>, resolve: &mut Resolve<'_>) -> Option<Vec<Piece>> {
    let mut pieces = Vec::new();
    let mut good = true;
    if n.has("kit") {
        let found = n.text(w, "kit").and_then(|path| kit_file(w, &path, n.span_of("kit"), resolve));
        good = found.is_some();
        pieces.extend(found.unwrap_or_default());
    }
    let from_file = pieces.len();
    let nodes = n.tables(w, "piece").unwrap_or_default();
    pieces.extend(nodes.iter().filter_map(|p| kit::piece(w, p)).flatten().collect::<Vec<_>>());
    if from_file == 0 {
        kit::unique(w, &pieces, &nodes);
    } else {
        let (file, own) = pieces.split_at(from_file);
        kit::unique(w, own, &nodes);
        for p in own.iter().filter(|p| file.iter().any(|f| f.id == p.id)) {
            let span = nodes.iter().find(|x| x.line(w) == p.line).map_or(0..0, |x| x.span_of("id"));
            w.tell(
                Mistake::new("duplicate-id", span, format!("the id \"{}\" is already used in the kit file", p.id))
                    .expected("an id of its own for each piece"),
            );
        }
    }
    good.then_some(pieces)
}

/// Ids that must differ over the whole case: anchors, vehicles, winches, obstacles.
fn ids(w: &mut Walk<'_>, n: &Node<'_, '_>, case: &Case) {
    let vehicle_line = n.table.get("vehicle").map_or(0, |v| w.lines.line(v.span().start));
    let mut all = vec![(case.vehicle.name.as_str(), "the stuck vehicle", vehicle_line)];
    all.extend(case.vehicle.winch.iter().map(|x| (x.id.as_str(), "a winch", x.line_no)));
    for h in &case.helpers {
        all.push((&h.vehicle.name, "a helper", h.line));
        all.extend(h.vehicle.winch.iter().map(|x| (x.id.as_str(), "a winch", x.line_no)));
    }
    all.extend(case.anchors.iter().map(|a| (a.id.as_str(), "an anchor", a.line)));
    all.extend(case.obstacles.iter().map(|o| (o.id.as_str(), "an obstacle", o.line)));
    unmire_model::order::sort_by_key(&mut all, |(_, _, line)| *line);
    let mut seen: BTreeMap<&str, (&str, u32)> = BTreeMap::new();
    for (id, what, line) in all {
        let span = w.lines.bytes(line);
        if id == "stuck" {
            w.tell(
                Mistake::new(
                    "duplicate-id",
                    span,
                    "\"stuck\" is the word for the stuck vehicle and can't name anything",
                )
                .expected("another id"),
            );
        } else if let Some((before, at)) = seen.get(id) {
            w.tell(
                Mistake::new("duplicate-id", span, format!("\"{id}\" names {what} here and {before} on line {at}"))
                    .expected("an id of its own for each"),
            );
        } else {
            seen.insert(id, (what, line));
        }
    }
}

/// What can't be heavier than what carries it.
fn loads(w: &mut Walk<'_>, n: &Node<'_, '_>, case: &Case) {
    if let Some(u) = &case.stuck.unloadable {
        let carried = case.vehicle.payload.as_ref().map(|p| p.value.high());
        if carried.is_none_or(|c| u.value.high() > c) {
            let stuck = n.table.get("stuck").and_then(|s| s.get_ref().as_table());
            let span = stuck.and_then(|t| t.get_key_value("unloadable")).map_or(0..0, |(k, _)| k.span());
            w.tell(
                Mistake::new("contradiction", span, "`unloadable` in [stuck] is more than the vehicle carries")
                    .expected("a payload in [vehicle] that is at least as much")
                    .example("payload = \"300 kg\"")
                    .hint("mass is without payload; what can be taken out is a part of the payload"),
            );
        }
    }
}
