//! The plan to scale: what lies where, the rig that is looked at with its tensions, and anchors that can be moved.

use super::controls::try_edit;
use super::scene::{Place, index_of};
use crate::dom::prelude::*;
use crate::engine::Units;
use crate::scene::place::{self, Polar};
use crate::scene::view::{View, WIDTH, bar};
use crate::session::{Session, say, session};
use crate::units;
use leptos::ev::{KeyboardEvent, PointerEvent};
use unmire_model::quantity::show;
use unmire_model::{Length, Vec3};
use unmire_planner::report::Site;
use wasm_bindgen::JsCast as _;

/// How far an arrow key moves an anchor, metres.
pub const STEP_M: f64 = 0.5;
/// Radius of what can be taken hold of, in the drawing's units: more than 24 pixels on the narrowest phone.
const HOLD: f64 = 29.0;

/// A length in the reader's units.
pub fn length(u: Units, m: f64) -> String {
    show::Units::from(u).show_length(Length::from_m(m))
}
/// A place in words.
pub fn words(u: Units, at: Polar) -> String {
    format!("{}, {}, {}", length(u, at.distance_m), at.direction(), length(u, at.rise_m))
}

/// Writes into the case that an anchor stands somewhere.
pub fn put(s: Session, id: &str, at: Polar) {
    if let Some(i) = s.open.with_untracked(|o| index_of(o.as_ref(), id)) {
        // Off the ground that a case may have there is no place to put it: it stays where it was.
        let _ = try_edit(s, |c| place::put(c, i, at));
    }
}

#[component]
pub fn PlanView() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let site = Memo::new(move |_| place.case.with(|c| c.as_ref().map(unmire_planner::site::of)));
    let ids =
        move || place.case.with(|c| c.iter().flat_map(|c| c.anchors.iter().map(|a| a.id.clone())).collect::<Vec<_>>());
    let frame = move || place.view.get().map(|v| format!("0 0 {WIDTH} {}", v.height));
    let still = move || {
        let (site, view) = (site.get()?, place.view.get()?);
        Some(ground(s, &site, view))
    };
    view! {
        <svg class="plan" viewBox=frame role="group" aria-label=say("scene.plan-view")>
            <g aria-hidden="true">{still}</g>
            <g aria-hidden="true">{move || rig(s, place)}</g>
            <For each=ids key=Clone::clone let:id><Handle id/></For>
        </svg>
        <p class="small">{say("scene.hint")}</p>
    }
}

fn points(all: impl IntoIterator<Item = (f64, f64)>) -> String {
    all.into_iter().map(|(x, y)| format!("{x:.1},{y:.1} ")).collect()
}

/// What keeps still: obstacles, vehicles, the way out, which way the ground falls, north, the scale.
fn ground(s: Session, site: &Site, view: View) -> impl IntoView + use<> {
    let level = |p: &(f64, f64)| view.spot(Vec3::new(p.0, p.1, 0.0));
    let obstacles = site
        .obstacles
        .iter()
        .map(|(id, _, outline, escape)| {
            let spots: Vec<(f64, f64)> = outline.iter().map(level).collect();
            let class = match (*escape, spots.len() > 2) {
                (true, _) => "escape",
                (false, true) => "obstacle area",
                (false, false) => "obstacle",
            };
            let inside = |p: &&(f64, f64)| (10.0..WIDTH - 60.0).contains(&p.0) && (14.0..view.height).contains(&p.1);
            let name = spots.iter().find(inside).map(|at| {
                view! { <text class="name" x=at.0 y=at.1 - 4.0>{id.clone()}</text> }
            });
            let outline = points(spots.iter().copied());
            if spots.len() > 2 {
                view! { <polygon class=class points=outline/>{name} }.into_any()
            } else {
                view! { <polyline class=class points=outline/>{name} }.into_any()
            }
        })
        .collect_view();
    let vehicles = site
        .vehicles
        .iter()
        .enumerate()
        .map(|(i, (name, corners))| {
            let spots: Vec<(f64, f64)> = corners.iter().map(level).collect();
            let n = spots.len().max(1) as f64;
            let middle = spots.iter().fold((0.0, 0.0), |m, p| (m.0 + p.0 / n, m.1 + p.1 / n));
            // The first two corners are its front.
            let nose = match spots[..] {
                [a, b, ..] => {
                    points([a, (0.5 * (a.0 + b.0) * 0.7 + middle.0 * 0.3, 0.5 * (a.1 + b.1) * 0.7 + middle.1 * 0.3), b])
                }
                _ => String::new(),
            };
            let class = if i == 0 { "vehicle stuck" } else { "vehicle" };
            let low = spots.iter().map(|p| p.1).fold(middle.1, f64::max);
            view! {
                <polygon class=class points=points(spots)/><polyline class="nose" points=nose/>
                <text class="name middle" x=middle.0 y=low + 14.0 lang="en">{name.clone()}</text>
            }
        })
        .collect_view();
    let out = Vec3::new(1.0, 0.0, 0.0).turned(site.way_out);
    let far = site.way_out_distance.as_m();
    let (from, to) = (view.spot(out * 2.6_f64.min(far * 0.5)), view.spot(out * far));
    let way_words = move || {
        let l = length(s.settings.get().units, far);
        s.words.with(|w| w.fill("scene.way-out", &[("length", &l)]))
    };
    let heading = site.heading.as_ref().map(|(bearing, _)| {
        let d = view.direction(Vec3::new(1.0, 0.0, 0.0).turned(*bearing));
        let at = (WIDTH - 26.0, 30.0);
        view! {
            {arrow("north", (at.0 - d.0 * 14.0, at.1 - d.1 * 14.0), (at.0 + d.0 * 14.0, at.1 + d.1 * 14.0))}
            <text class="name middle" x=at.0 y=at.1 + 26.0>"N"</text>
        }
    });
    let (along, across) = (site.slopes.0.sin(), site.slopes.1.sin());
    let steep = libm::hypot(along, across);
    let slope = {
        let at = (26.0, 30.0);
        // Against the rise along the way out, which is up the page, and away from the high side.
        let d = (steep > 0.005).then(|| (across / steep * 14.0, along / steep * 14.0));
        let text = move || s.words.with(|w| if d.is_some() { w.say("scene.downhill") } else { w.say("scene.level") });
        view! {
            {d.map(|d| arrow("downhill", (at.0 - d.0, at.1 - d.1), (at.0 + d.0, at.1 + d.1)))}
            <text class="name" x=6.0 y=at.1 + 28.0>{text}</text>
        }
    };
    let scale = move || {
        let (unit, m) = match s.settings.get().units {
            Units::Metric => ("m", 1.0),
            Units::Us => ("ft", Length::from_foot(1.0).as_m()),
        };
        let n = bar(0.35 * WIDTH / view.scale, m);
        let y = view.height - 8.0;
        view! {
            <path class="bar" d=format!("M8 {} V{y} H{:.1} V{}", y - 5.0, 8.0 + n * m * view.scale, y - 5.0)/>
            <text class="name" x=10.0 y=y - 8.0>{format!("{n} {unit}")}</text>
        }
    };
    view! {
        {obstacles}
        {arrow("way-out", from, to)}
        <text class="name end" x=to.0 - 9.0 y=to.1 + 4.0>{way_words}</text>
        {vehicles}{slope}{heading}{scale}
    }
}

/// An arrow from one place to another.
fn arrow(class: &'static str, from: (f64, f64), to: (f64, f64)) -> impl IntoView {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let len = libm::hypot(dx, dy).max(1e-9);
    let (ux, uy) = (dx / len, dy / len);
    let wing = |side: f64| (to.0 - ux * 10.0 - uy * 5.0 * side, to.1 - uy * 10.0 + ux * 5.0 * side);
    view! {
        <line class=class x1=from.0 y1=from.1 x2=to.0 - ux * 6.0 y2=to.1 - uy * 6.0/>
        <polygon class=format!("{class} head") points=points([to, wing(1.0), wing(-1.0)])/>
    }
}

/// The legs of the rig with their tensions, where they settle.
fn rig(s: Session, place: Place) -> Option<impl IntoView + use<>> {
    let (u, view) = (s.settings.get().units, place.view.get()?);
    place.with_plan(|plan| {
        let at = |name: &str| plan.points.iter().find(|p| p.name == name).map(|p| view.spot(p.at));
        let mut lines = Vec::new();
        let mut texts: Vec<(f64, f64, &'static str, String)> = Vec::new();
        for leg in &plan.legs {
            let (Some(a), Some(b)) = (at(&leg.from), at(&leg.to)) else { continue };
            let class = if leg.member == "line" { "leg" } else { "leg sling" };
            lines.push(view! { <line class=class x1=a.0 y1=a.1 x2=b.0 y2=b.1/> });
            // Short pieces have no room for a number; the table has them all.
            if libm::hypot(a.0 - b.0, a.1 - b.1) > 44.0 {
                // Beside a leg that runs up the page, above one that runs across it.
                let steep = (a.1 - b.1).abs() > (a.0 - b.0).abs();
                let (right, up, class) = if steep { (8.0, 0.0, "tension") } else { (0.0, 8.0, "tension middle") };
                let (x, mut y) = (0.5 * (a.0 + b.0) + right, 0.5 * (a.1 + b.1) - up);
                while texts.iter().any(|t| (t.0 - x).abs() < 60.0 && (t.1 - y).abs() < 15.0) {
                    y += 15.0;
                }
                texts.push((x, y, class, units::load(u, Some(leg.tension_work.as_n()))));
            }
        }
        let marks = plan.points.iter().map(|p| {
            let (x, y) = view.spot(p.at);
            match p.kind.as_str() {
                "anchor" => ().into_any(),
                "block" | "junction" => view! { <circle class="block" cx=x cy=y r=5.0/> }.into_any(),
                _ => view! { <rect class="block" x=x - 3.0 y=y - 3.0 width=6.0 height=6.0/> }.into_any(),
            }
        });
        let marks = marks.collect_view();
        let texts = texts.into_iter().map(|(x, y, class, t)| view! { <text class=class x=x y=y + 5.0>{t}</text> });
        view! { {lines}{marks}{texts.collect_view()} }
    })
}

/// An anchor that can be moved: by a finger, a mouse, or the arrow keys.
#[component]
fn Handle(id: String) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let id = StoredValue::new(id);
    let at = Memo::new(move |_| place.at(&id.get_value()));
    let spot = move || Some(place.view.get()?.spot(at.get()?.point()));
    let turned = move || spot().map(|(x, y)| format!("translate({x:.1} {y:.1})"));
    let kind = move || {
        s.open.with(|o| {
            let i = index_of(o.as_ref(), &id.get_value())?;
            o.as_ref()?.case.as_ref()?.get(&format!("anchor[{i}].kind"))
        })
    };
    let name = move || {
        let kind = s.words.with(|w| w.translate("kind", &kind().unwrap_or_default()));
        let place = at.get().map(|p| words(s.settings.get().units, p)).unwrap_or_default();
        s.words.with(|w| w.fill("scene.handle", &[("id", &id.get_value()), ("kind", &kind), ("place", &place)]))
    };
    let radius = move || {
        let r = place.case.with(|c| c.as_ref()?.anchor(&id.get_value())?.kind.radius());
        let r = r.map_or(0.2, Length::as_m) * place.view.get().map_or(1.0, |v| v.scale);
        r.clamp(8.0, 26.0)
    };
    // Where the finger is on the ground; where on the anchor it took hold of it stays the same.
    let held = StoredValue::new(None::<Vec3>);
    let under = move |e: &PointerEvent| {
        let svg = e.current_target()?.dyn_into::<web_sys::Element>().ok()?.closest("svg").ok()??;
        let (r, view) = (svg.get_bounding_client_rect(), place.view.get_untracked()?);
        let at = (f64::from(e.client_x()), f64::from(e.client_y()));
        view.under(at, (r.left(), r.top(), r.width(), r.height())).map(|at| view.ground(at))
    };
    let down = move |e: PointerEvent| {
        let (Some(finger), Some(now)) = (under(&e), at.get_untracked()) else { return };
        if let Some(target) = e.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok()) {
            // Without capture the handle is left when the finger is faster than the drawing.
            let _ = target.set_pointer_capture(e.pointer_id());
        }
        held.set_value(Some(now.point() - finger));
        place.selected.set(Some(id.get_value()));
    };
    let go = move |e: PointerEvent| {
        let (Some(offset), Some(finger), Some(now)) = (held.get_value(), under(&e), at.get_untracked()) else { return };
        let to = finger + offset;
        let level = Vec3::new(to.x, to.y, now.rise_m);
        // As it would be written, so that nothing changes any more when the finger lets go.
        place.moved.set(Some((id.get_value(), Polar::of(level).kept())));
    };
    let up = move |_: PointerEvent| {
        held.set_value(None);
        if let Some((id, to)) = place.moved.get_untracked() {
            put(s, &id, to);
            place.moved.set(None);
        }
    };
    let give_up = move |_: PointerEvent| {
        held.set_value(None);
        place.moved.set(None);
    };
    let key = move |e: KeyboardEvent| {
        let way = match e.key().as_str() {
            "ArrowUp" => (0.0, -1.0),
            "ArrowDown" => (0.0, 1.0),
            "ArrowLeft" => (-1.0, 0.0),
            "ArrowRight" => (1.0, 0.0),
            "Enter" | " " => {
                e.prevent_default();
                return place.selected.set(Some(id.get_value()));
            }
            _ => return,
        };
        e.prevent_default();
        let (Some(now), Some(view)) = (at.get_untracked(), place.view.get_untracked()) else { return };
        let origin = view.spot(Vec3::ZERO);
        let step = STEP_M * view.scale;
        let by = view.ground((origin.0 + way.0 * step, origin.1 + way.1 * step));
        let p = now.point();
        place.selected.set(Some(id.get_value()));
        put(s, &id.get_value(), Polar::of(Vec3::new(p.x + by.x, p.y + by.y, p.z)));
    };
    let chosen = move || place.selected.with(|c| c.as_deref() == Some(id.get_value().as_str()));
    view! {
        <g class="handle" class:chosen=chosen role="button" tabindex="0" aria-label=name aria-pressed=move || chosen().to_string()
            transform=turned on:pointerdown=down on:pointermove=go on:pointerup=up on:pointercancel=give_up on:keydown=key>
            <circle class="hold" r=HOLD/>
            <circle class="wood" r=radius/>
            <path class="cross" d="M-5 -5L5 5M-5 5L5 -5"/>
            <text class="name strong middle" y=move || radius() + 15.0>{id.get_value()}</text>
        </g>
    }
}
