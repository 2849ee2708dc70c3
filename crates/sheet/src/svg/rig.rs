//! The near view: vehicles, anchors, obstacles, every leg with its tension, the weakest part.

use super::frame::{Area, Frame, Spot, View};
use super::labels::{Places, bold_width, nearest, text_width};
use super::style::{LABEL, MARGIN, WIDTH};
use super::write::Svg;
use super::{furniture, marks, panel, weakest};
use unmire_model::letters::lower;
use unmire_model::quantity::show::Units;
use unmire_model::{Force, Vec3};
use unmire_planner::report::{Plan, Report, Site};

/// Draws it with its upper edge at `y`; gives the frame.
pub(super) fn draw(svg: &mut Svg, r: &Report, plan: Option<&Plan>, view: View, y: f64, u: Units) -> Option<Frame> {
    let ground = extent(&r.site, plan, view)?;
    let width = WIDTH - 2.0 * MARGIN;
    let frame = Frame::fit(view, ground, (MARGIN, y), width, (330.0, 570.0));
    let plan_view = matches!(view, View::Plan { .. });
    let mut places = Places::new(frame.panel);
    panel::open(svg, &frame, "near");
    let mut vehicles = Vec::new();
    let mut names = Vec::new();
    if plan_view {
        if let Some(p) = plan {
            panel::keep_out(svg, &frame, &p.keep_out);
        }
        if let Some(tip) = panel::way_out(svg, &frame, &r.site, nose(&r.site)) {
            let text = format!("way out {}", u.show_length(r.site.way_out_distance));
            names.push((vec![tip], text));
        }
        names.extend(obstacles(svg, &frame, &r.site, &mut places));
        vehicles = panel::vehicles(svg, &frame, &r.site);
        vehicles.iter().for_each(|(_, area)| places.take(*area));
    }
    names.extend(anchors(svg, &frame, &r.site, plan, &mut places));
    let drawn = plan.map(|p| occupy(&frame, p, &mut places)).unwrap_or_default();
    furniture::scale(svg, &frame, u, &mut places);
    if plan_view {
        furniture::north(svg, &frame, &r.site, &mut places);
    }
    if plan_view && r.policy.is_some() {
        furniture::slopes(svg, &frame, &r.site, &mut places);
    }
    if let Some(p) = plan {
        legs(svg, &frame, p, &r.site, &drawn, u, &mut places);
    }
    vehicle_names(svg, &vehicles, &mut places);
    for (at, text) in names {
        named(svg, &mut places, &at, &text, "label");
    }
    panel::close(svg, &frame);
    Some(frame)
}

/// The ground that must be seen: the rig, the vehicles and the anchors near them.
fn extent(site: &Site, plan: Option<&Plan>, view: View) -> Option<Area> {
    let points = plan.iter().flat_map(|p| p.points.iter().map(|p| view.flat(p.at)));
    let level = |p: &(f64, f64)| view.flat(Vec3::new(p.0, p.1, 0.0));
    let vehicles = site.vehicles.iter().flat_map(|(_, c)| c.iter().map(level));
    let core = Area::of(points.chain(vehicles))?;
    let size = core.width().max(core.height()).max(2.0);
    let reach = core.grown(if plan.is_some() { 0.3 * size } else { 1e6 });
    let others = site.anchors.iter().map(|a| view.flat(a.2)).filter(|p| reach.holds(*p));
    let all = others.fold(core, Area::with);
    Some(all.grown((0.1 * size).max(1.0)))
}

/// How far ahead of the origin, along the way out, the stuck vehicle reaches.
pub(super) fn nose(site: &Site) -> f64 {
    let ahead = Vec3::new(1.0, 0.0, 0.0).turned(site.way_out);
    let corners = site.vehicles.first().map(|v| v.1.as_slice()).unwrap_or_default();
    corners.iter().map(|c| Vec3::new(c.0, c.1, 0.0).dot(ahead)).fold(0.0, f64::max)
}

/// A name to be written, and the places that it may stand at.
type Name = (Vec<Spot>, String);

/// Gives their names, to be written last.
fn obstacles(svg: &mut Svg, frame: &Frame, site: &Site, places: &mut Places) -> Vec<Name> {
    let mut names = Vec::new();
    for (id, what, outline, escape) in &site.obstacles {
        let spots = frame.outline(outline);
        let class = match (*escape, spots.len() > 2) {
            (true, _) => "escape",
            (false, true) => "obstacle",
            (false, false) => "obstacle-line",
        };
        svg.poly(&spots, spots.len() > 2, class);
        // Anywhere on its edge that is in sight.
        let next = spots.iter().cycle().skip(1).take(if spots.len() > 2 { spots.len() } else { 1 });
        let along = |(a, b): (&Spot, &Spot)| {
            [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t))
        };
        let seen: Vec<Spot> = spots.iter().zip(next).flat_map(along).filter(|s| frame.panel.holds(*s)).collect();
        if seen.is_empty() {
            continue;
        }
        for (a, b) in spots.iter().zip(spots.iter().skip(1)) {
            places.stroke(*a, *b);
        }
        let text = called(id, what);
        names.push((seen, if *escape { format!("{text} (people's way out)") } else { text }));
    }
    names
}

/// The id and what it is; once only if the one says the other.
fn called(id: &str, what: &str) -> String {
    if lower(what).contains(&lower(id)) { what.to_owned() } else { format!("{id}: {what}") }
}

/// Trees and the like at their size. Gives their names, to be written last.
fn anchors(svg: &mut Svg, frame: &Frame, site: &Site, plan: Option<&Plan>, places: &mut Places) -> Vec<Name> {
    let mut names = Vec::new();
    for (id, what, at, radius) in &site.anchors {
        let Some(spot) = frame.spot(*at).filter(|s| frame.panel.holds(*s)) else { continue };
        let used = plan.is_some_and(|p| p.points.iter().any(|q| q.kind == "anchor" && ends_with_word(&q.name, id)));
        let r = (radius.as_m() * frame.scale).max(9.0);
        svg.circle(spot, r, if used { "wood" } else { "wood-idle" });
        places.take(Area { min: spot, max: spot }.grown(r));
        let text = called(id, what);
        names.push((vec![spot], if used { text } else { format!("{text}, not used") }));
    }
    // Those in use come first: they get the better places.
    unmire_model::order::sort_by_key(&mut names, |(_, text)| text.ends_with(", not used"));
    names
}
fn ends_with_word(name: &str, word: &str) -> bool {
    name.strip_suffix(word).is_some_and(|before| before.is_empty() || before.ends_with(' '))
}

/// The legs that can be drawn: their place in the report and their ends.
type Drawn = Vec<(usize, Spot, Spot)>;

/// Tells the labels where legs and points will be.
fn occupy(frame: &Frame, plan: &Plan, places: &mut Places) -> Drawn {
    let at = |name: &str| plan.points.iter().find(|p| p.name == name).and_then(|p| frame.spot(p.at));
    let drawn: Drawn = plan.legs.iter().enumerate().filter_map(|(i, l)| Some((i, at(&l.from)?, at(&l.to)?))).collect();
    drawn.iter().for_each(|(_, a, b)| places.stroke(*a, *b));
    for spot in plan.points.iter().filter_map(|p| frame.spot(p.at)) {
        places.take(Area { min: spot, max: spot }.grown(8.0));
    }
    drawn
}

/// The legs, their tensions, the points, and the weakest part.
fn legs(svg: &mut Svg, frame: &Frame, plan: &Plan, site: &Site, drawn: &Drawn, u: Units, places: &mut Places) {
    for (l, a, b) in drawn.iter().filter_map(|(i, a, b)| Some((plan.legs.get(*i)?, *a, *b))) {
        if l.member == "line" { marks::line(svg, a, b) } else { marks::sling(svg, a, b) }
    }
    let weak = weakest::place(plan).and_then(|p| frame.spot(p));
    if let Some(w) = weak {
        marks::weakest(svg, w);
        places.take(Area { min: w, max: w }.grown(22.0));
    }
    for p in &plan.points {
        let Some(spot) = frame.spot(p.at) else { continue };
        marks::point(svg, &p.kind, spot);
    }
    if let (Some(w), Some(c)) = (weak, weakest::check(plan)) {
        let text = format!("weakest: {}", c.part);
        let size = (bold_width(&text, LABEL) + 12.0, 26.0);
        let p = places.near(w, size, 24.0);
        svg.line(w, nearest(p.area, w), "leader");
        svg.rect(p.area.min, size, "weak-box");
        svg.label(p.area.middle().0, p.area.max.1 - 7.5, "label-strong middle", &text);
    }
    for (i, a, b) in drawn {
        let Some(l) = plan.legs.get(*i) else { continue };
        let text = tension(u, l.tension_work, l.tension_stall);
        let size = (26.0 + bold_width(&text, LABEL), 22.0);
        let p = places.along(*a, *b, size, 5.0);
        // Whatever leads to the label starts on the leg itself.
        let from = p.leader.unwrap_or_else(|| foot(*a, *b, p.area.middle()));
        svg.line(from, nearest(p.area, from), "leader");
        marks::badge(svg, (p.area.min.0 + 11.0, p.area.middle().1), &marks::letter(*i));
        svg.label(p.area.min.0 + 25.0, p.area.max.1 - 5.5, "label-strong", &text);
    }
    // An anchor of the site is named with what it is; one of a bare rig has only its name.
    for p in plan.points.iter().filter(|p| p.kind != "anchor" || site.anchors.is_empty()) {
        if let Some(spot) = frame.spot(p.at) {
            named(svg, places, &[spot], &p.name, "label");
        }
    }
}

/// `20 / 48 kN`: at work and at stall.
pub(super) fn tension(u: Units, work: Force, stall: Option<Force>) -> String {
    let w = u.show_load(work);
    let Some(s) = stall.map(|s| u.show_load(s)) else { return w };
    match (w.rsplit_once(' '), s.rsplit_once(' ')) {
        (Some((a, x)), Some((_, y))) if x == y => format!("{a} / {s}"),
        _ => format!("{w} / {s}"),
    }
}

/// The point of a leg that is nearest to a place.
fn foot(a: Spot, b: Spot, p: Spot) -> Spot {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let len = dx * dx + dy * dy;
    if len < 1e-12 {
        return a;
    }
    let t = (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / len).clamp(0.0, 1.0);
    (a.0 + dx * t, a.1 + dy * t)
}

fn vehicle_names(svg: &mut Svg, vehicles: &[(String, Area)], places: &mut Places) {
    for (name, area) in vehicles {
        named(svg, places, &[area.middle()], name, "label");
    }
}

/// A name near its place, with a leader if it had to go far; a long one on two lines.
fn named(svg: &mut Svg, places: &mut Places, at: &[Spot], text: &str, class: &str) {
    let lines = two_lines(text);
    let wide = lines.iter().map(|l| text_width(l, LABEL)).fold(0.0, f64::max);
    let p = places.near_any(at, (wide, 19.0 * lines.len() as f64 + 1.0), 11.0);
    if let Some(from) = p.leader {
        svg.line(from, nearest(p.area, from), "leader");
    }
    // The real width is less than reckoned: set it against the side that faces its place.
    let off = p.area.middle().0 - p.from.0;
    let (x, side) = match off {
        o if o < -0.3 * wide => (p.area.max.0, " end"),
        o if o > 0.3 * wide => (p.area.min.0, ""),
        _ => (p.area.middle().0, " middle"),
    };
    for (i, line) in lines.iter().enumerate() {
        svg.label(x, p.area.min.1 + 15.0 + 19.0 * i as f64, &format!("{class}{side}"), line);
    }
}

/// A long label cut at the space nearest to its middle.
fn two_lines(text: &str) -> Vec<&str> {
    let middle = text.len() / 2;
    let cut = text.match_indices(' ').map(|(i, _)| i).min_by_key(|i| i.abs_diff(middle));
    match cut {
        Some(i) if text_width(text, LABEL) > 170.0 => {
            let (a, b) = text.split_at(i);
            vec![a, b.trim_start()]
        }
        _ => vec![text],
    }
}
