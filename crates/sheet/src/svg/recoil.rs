//! Recoil on the plan view: which way what flies sets off, the whole ground to keep clear, and where somebody can stand.

use super::frame::{Area, Frame, Spot, View};
use super::labels::Places;
use super::style::{CSS, MARGIN, TYPE, WIDTH};
use super::text::block;
use super::write::{Svg, n};
use super::{furniture, marks, panel};
use crate::terminal::recoil::{energy, speed};
use unmire_model::quantity::show::Units;
use unmire_model::{Energy, Speed, Vec3};
use unmire_planner::recoil::RecoilReport;

/// What this drawing has besides the others.
const MORE_CSS: &str = "<style>
.bight { fill: #e9c9b8; stroke: #8f4322; stroke-width: 1.2; stroke-dasharray: 3 3 }
.stand { fill: #ffffff; stroke: #2a6b45; stroke-width: 2.5 }
</style>
";
/// Length of an arrow of flight on the page.
const ARROW: f64 = 64.0;

/// Everything that sets off from one place in one direction.
struct Shot {
    from: Vec3,
    direction: Vec3,
    what: Vec<String>,
    parts: Vec<String>,
    speed: Option<Speed>,
    energy: Option<Energy>,
}

/// The drawing.
#[must_use]
pub fn draw(r: &RecoilReport, u: Units) -> String {
    let wide = WIDTH - 2.0 * MARGIN;
    let shots = shots(r);
    let mut body = Svg::default();
    let mut y = block(&mut body, MARGIN, MARGIN - 6.0, wide, "title", &r.title) + 4.0;
    y = block(&mut body, MARGIN, y, wide, "strong", "If something lets go: what flies where, and who stands where")
        + 2.0;
    y = block(&mut body, MARGIN, y, wide, "", &r.plan.summary) + 2.0;
    for w in r.thrown.words.iter().take(2) {
        y = block(&mut body, MARGIN, y, wide, "small", w) + 2.0;
    }
    y = near(&mut body, r, &shots, y + 10.0, u) + 14.0;
    y = list(&mut body, &shots, y, u) + 14.0;
    y = far(&mut body, r, y, u) + 14.0;
    y = standing(&mut body, r, y, u) + 10.0;
    let foot = "Arrows show where pieces set off, not where they end. Speeds are upper bounds of a clean break; a line that whips has none. \
                A damper shrinks nothing. Local rules, manufacturers' instructions and licensed practice come first.";
    y = block(&mut body, MARGIN, y, wide, "small", foot);
    let mut out = Svg::default();
    out.raw("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let (w, h) = (n(WIDTH), n(y + MARGIN));
    out.open(
        "svg",
        &[
            ("xmlns", "http://www.w3.org/2000/svg"),
            ("viewBox", &format!("0 0 {w} {h}")),
            ("width", &w),
            ("height", &h),
            ("role", "img"),
        ],
    );
    out.text_element("title", &[], &format!("Recoil: {}", r.title));
    out.text_element("desc", &[], &r.plan.summary);
    out.raw(CSS);
    out.raw(MORE_CSS);
    out.rect((0.0, 0.0), (WIDTH, y + MARGIN), "paper");
    out.raw(&body.finish());
    out.finish()
}

/// What flies, put together by place and direction, the fastest first.
fn shots(r: &RecoilReport) -> Vec<Shot> {
    let mut out: Vec<Shot> = Vec::new();
    for f in &r.thrown.failures {
        for fly in &f.flies {
            let same = |s: &&mut Shot| {
                (s.from - fly.at).level().norm() < 0.5
                    && s.direction.angle_to(fly.direction).is_some_and(|a| a.as_deg() < 5.0)
            };
            let what = fly.what.clone();
            match out.iter_mut().find(same) {
                Some(s) => {
                    if !s.parts.contains(&f.part) {
                        s.parts.push(f.part.clone());
                    }
                    if !s.what.contains(&what) {
                        s.what.push(what);
                    }
                    s.speed = s.speed.zip(fly.bound).map(|(a, b)| a.max(b.speed));
                    s.energy = s.energy.zip(fly.energy).map(|(a, b)| a.max(b));
                }
                None => out.push(Shot {
                    from: fly.at,
                    direction: fly.direction,
                    what: vec![what],
                    parts: vec![f.part.clone()],
                    speed: fly.bound.map(|b| b.speed),
                    energy: fly.energy,
                }),
            }
        }
    }
    let of = |s: &Shot| s.speed.map_or(f64::INFINITY, Speed::as_m_s);
    unmire_model::order::sort_by(&mut out, |a, b| of(b).total_cmp(&of(a)));
    out
}

fn rig(svg: &mut Svg, frame: &Frame, r: &RecoilReport, places: &mut Places, names: bool) {
    let _ = panel::way_out(svg, frame, &r.site, super::rig::nose(&r.site));
    for (_, area) in panel::vehicles(svg, frame, &r.site) {
        places.take(area);
    }
    for (_, _, at, radius) in &r.site.anchors {
        if let Some(spot) = frame.spot(*at).filter(|s| frame.panel.holds(*s)) {
            svg.circle(spot, (radius.as_m() * frame.scale).max(if names { 7.0 } else { 3.0 }), "wood");
        }
    }
    let at = |name: &str| r.plan.points.iter().find(|p| p.name == name).and_then(|p| frame.spot(p.at));
    for l in &r.plan.legs {
        if let (Some(a), Some(b)) = (at(&l.from), at(&l.to)) {
            if l.member == "line" {
                marks::line(svg, a, b)
            } else {
                marks::sling(svg, a, b)
            }
            places.stroke(a, b);
        }
    }
    if names {
        for p in &r.plan.points {
            if let Some(spot) = frame.spot(p.at) {
                marks::point(svg, &p.kind, spot);
                places.take(Area { min: spot, max: spot }.grown(8.0));
            }
        }
    }
}

/// The near view: the rig with an arrow for every way in which something sets off.
fn near(svg: &mut Svg, r: &RecoilReport, shots: &[Shot], y: f64, u: Units) -> f64 {
    let view = View::Plan { up: r.site.way_out };
    let points = r.plan.points.iter().map(|p| view.flat(p.at));
    let vehicles = r.site.vehicles.iter().flat_map(|(_, c)| c.iter().map(|p| view.flat(Vec3::new(p.0, p.1, 0.0))));
    let Some(ground) = Area::of(points.chain(vehicles)) else { return y };
    let room = ground.grown((0.2 * ground.width().max(ground.height())).max(2.0));
    let frame = Frame::fit(view, room, (MARGIN, y), WIDTH - 2.0 * MARGIN, (330.0, 560.0));
    let mut places = Places::new(frame.panel);
    panel::open(svg, &frame, "near");
    panel::keep_out(svg, &frame, &r.thrown.keep_out);
    for (_, ring) in &r.thrown.bights {
        let spots: Vec<Spot> = ring.iter().filter_map(|p| frame.level(*p)).collect();
        if spots.len() > 2 {
            svg.poly(&spots, true, "bight");
        }
    }
    rig(svg, &frame, r, &mut places, true);
    for (i, s) in shots.iter().enumerate() {
        let (Some(from), Some(d)) = (frame.spot(s.from), frame.direction(s.direction)) else { continue };
        // To the right of the line, one after the other, so that two that meet are told apart.
        let aside = 14.0 + 11.0 * (i % 2) as f64;
        let begin = (from.0 - d.1 * aside, from.1 + d.0 * aside);
        let on = |far: f64| (begin.0 + d.0 * far, begin.1 + d.1 * far);
        svg.line(from, begin, "leader");
        marks::arrow(svg, begin, on(ARROW));
        marks::badge(svg, on(ARROW + 12.0), &marks::letter(i));
    }
    furniture::scale(svg, &frame, u, &mut places);
    furniture::north(svg, &frame, &r.site, &mut places);
    panel::close(svg, &frame);
    frame.panel.max.1
}

/// The arrows in words.
fn list(svg: &mut Svg, shots: &[Shot], y: f64, u: Units) -> f64 {
    let right = WIDTH - MARGIN;
    let mut at = y + TYPE;
    svg.label(MARGIN, at, "strong", "What sets off along each arrow: at most so fast, with so much");
    at += 6.0;
    for (i, s) in shots.iter().enumerate() {
        svg.line((MARGIN, at), (right, at), "rule");
        marks::badge(svg, (MARGIN + 11.0, at + 14.0), &marks::letter(i));
        let unknown = || "unknown".to_owned();
        let fast = s.speed.map_or_else(unknown, |v| speed(u, v));
        let with = s.energy.map_or_else(unknown, |e| energy(u, e));
        svg.label(right, at + 19.0, "strong end", &format!("{fast}, {with}"));
        let text = format!("{} (if {} fails)", s.what.join("; or "), s.parts.join(", "));
        at = block(svg, MARGIN + 28.0, at + 4.0, right - MARGIN - 28.0 - 170.0, "small", &text).max(at + 24.0) + 6.0;
    }
    svg.line((MARGIN, at), (right, at), "rule");
    at
}

/// The far view: the whole ground, and numbered places outside it.
fn far(svg: &mut Svg, r: &RecoilReport, y: f64, u: Units) -> f64 {
    let view = View::Plan { up: r.site.way_out };
    let level = |p: &(f64, f64)| view.flat(Vec3::new(p.0, p.1, 0.0));
    let rings = r.thrown.keep_out.rings.iter().flatten().map(level);
    let spots = r.thrown.places.iter().map(|p| level(&p.at));
    let Some(ground) = Area::of(rings.chain(spots)) else { return y };
    let room = ground.grown(0.05 * ground.width());
    let frame = Frame::fit(view, room, (MARGIN, y), WIDTH - 2.0 * MARGIN, (300.0, 560.0));
    let mut places = Places::new(frame.panel);
    panel::open(svg, &frame, "far");
    panel::keep_out(svg, &frame, &r.thrown.keep_out);
    rig(svg, &frame, r, &mut places, false);
    for (i, p) in r.thrown.places.iter().enumerate() {
        if let Some(spot) = frame.level(p.at) {
            svg.circle(spot, 10.0, "stand");
            svg.label(spot.0, spot.1 + 5.0, "label-strong middle", &format!("{}", i + 1));
            places.take(Area { min: spot, max: spot }.grown(12.0));
        }
    }
    furniture::north(svg, &frame, &r.site, &mut places);
    furniture::scale(svg, &frame, u, &mut places);
    panel::close(svg, &frame);
    frame.panel.max.1
}

/// The ground and the places in words.
fn standing(svg: &mut Svg, r: &RecoilReport, y: f64, u: Units) -> f64 {
    let wide = WIDTH - 2.0 * MARGIN;
    let radius = u.show_length_needed(r.thrown.keep_out.radius);
    let ground = format!(
        "Nobody inside the dashed edge: {radius} round every loaded hard point, and the inside of every redirect, over everything that \
         can fail."
    );
    let mut at = block(svg, MARGIN, y, wide, "strong", &ground) + 4.0;
    let mut larger: Vec<_> = r.thrown.rules.iter().filter(|s| s.distance > r.thrown.keep_out.radius).collect();
    unmire_model::order::sort_by(&mut larger, |a, b| b.distance.as_m().total_cmp(&a.distance.as_m()));
    for s in larger {
        let strap = if s.is_for_straps() { " (meant for straps between vehicles)" } else { "" };
        let text = format!("Larger published rule: {}, {}{strap}", u.show_length_needed(s.distance), s.what);
        at = block(svg, MARGIN, at, wide, "small", &text) + 2.0;
    }
    if r.thrown.places.is_empty() {
        at = block(svg, MARGIN, at, wide, "strong", "No place was found outside it that is aside of every line.") + 2.0;
    }
    for (i, p) in r.thrown.places.iter().enumerate() {
        let text = format!("{}. {}, {} from it", i + 1, p.whereabouts, u.show_length(p.distance));
        at = block(svg, MARGIN, at, wide, "", &text) + 2.0;
    }
    for e in &r.thrown.keep_out.exceptions {
        at = block(svg, MARGIN, at, wide, "small", &format!("Exception: {e}")) + 2.0;
    }
    at
}
