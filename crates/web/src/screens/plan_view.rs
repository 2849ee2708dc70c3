//! The plan to scale: what lies where, the rig that is looked at with its tensions, and everything that can be moved.

use super::moving::Told;
use super::scene::Place;
use crate::dom::prelude::*;
use crate::engine::Units;
use crate::scene::draw;
use crate::scene::place::Polar;
use crate::scene::rig::{self, Number, Rig};
use crate::scene::thing::{Moved, Thing, hangs_at, index_of};
use crate::scene::view::WIDTH;
use crate::session::{Session, say, session};
use crate::signals::at_once;
use crate::units;
use unmire_model::quantity::show;
use unmire_model::{Length, Vec3};
use wasm_bindgen::JsCast as _;
use web_sys::{KeyboardEvent, PointerEvent};

/// How far an arrow key moves a thing, metres.
pub const STEP_M: f64 = 0.5;
/// Radius of what can be taken hold of, in the drawing's units: more than 24 pixels on the narrowest phone.
const HOLD: f64 = 29.0;
/// How far beside a block its handle stands: the anchor's own is on it.
const BESIDE: f64 = 42.0;

/// A length in the reader's units.
pub fn length(u: Units, m: f64) -> String {
    show::Units::from(u).show_length(Length::from_m(m))
}
/// A place in words.
pub fn words(u: Units, at: Polar) -> String {
    format!("{}, {}, {}", length(u, at.distance_m), at.direction(), length(u, at.rise_m))
}

#[component]
pub fn PlanView() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let (canvas, head) = (place.moving.canvas, place.moving.head);
    let frame = move || place.view.get().map(|v| format!("0 0 {WIDTH} {}", v.height));
    let still = move || {
        let (view, reader) = (place.view.get()?, s.settings.get().units);
        place.case.with(|c| {
            let site = unmire_planner::site::of(c.as_ref()?);
            let far = length(reader, site.way_out_distance.as_m());
            let words = s.words.with(|w| draw::Words {
                way_out: w.fill("scene.way-out", &[("length", &far)]),
                downhill: w.say("scene.downhill"),
                level: w.say("scene.level"),
            });
            Some(draw::ground(&view, &site, &words, reader))
        })
    };
    let rig = Signal::new(move || {
        let reader = s.settings.get().units;
        let view = place.view.get().map(|v| v.seen_from(place.come()));
        view.and_then(|v| place.with_rig(|r| Rig::of(&v, &r.points, &r.legs, reader))).unwrap_or_default()
    });
    // It comes from the planner with the rig, and goes while something moves: then it is not known.
    let keep = Signal::new(move || {
        let word = s.say("scene.keep-clear");
        let drawn = |v| place.with_rig(|r| r.keep.as_ref().map(|k| draw::keep_clear(&v, &k.rings, &word)));
        place.view.get().and_then(drawn).flatten().unwrap_or_default()
    });
    let clear = move || {
        let u = s.settings.get().units;
        let (radius, rule) = place.with_rig(|r| {
            r.keep.as_ref().map(|k| (units::length_to_keep(u, Some(k.radius.as_m())), k.rule.clone()))
        })??;
        let radius = s.fill("brief.radius", &[("radius", &radius)]);
        Some(view! { <p><b>{say("brief.clear")}": "{radius}</b>" "<span class="small" lang="en">{rule}</span></p> })
    };
    // While something moves it is painted over the drawing, which follows when that rests.
    effect(move || {
        let (Some(moved), Some(view)) = (place.moved.get(), place.view.get()) else { return place.moving.end() };
        let (at, seen, reader) = (view.spot(moved.to), view.seen_from(moved.come()), s.settings.get().units);
        place.now.with(|now| match now {
            Some(Ok(r)) => place.moving.paint(&Rig::of(&seen, &r.points, &r.legs, reader), at, Place::told(s, r)),
            Some(Err(why)) => {
                let told = Told { word: s.say("scene.misfit"), weakest: why.clone(), ..Told::default() };
                place.moving.paint(&Rig::default(), at, told);
            }
            None => place.moving.paint(&Rig::default(), at, Told::default()),
        });
    });
    let count = Signal::new(move || rig.with(|r| r.numbers.len()));
    let numbers = move || (0..count.get()).collect::<Vec<usize>>();
    let number = move |i: usize| {
        let part = move |pick: fn(&Number) -> String| {
            Signal::new(move || rig.with(|r| r.numbers.get(i).map(pick)).unwrap_or_default())
        };
        let (x, y) = (part(|n| format!("{:.1}", n.at.0)), part(|n| format!("{:.1}", n.at.1)));
        let text = part(|n| n.text.clone());
        let class = part(|n| if n.middle { "tension middle" } else { "tension" }.to_owned());
        view! { <text class=class x=x y=y>{text}</text> }
    };
    let path = move |of: fn(&Rig) -> String| Signal::new(move || rig.with(of));
    let (legs, slings, marks) = (path(|r| rig::path(&r.legs)), path(|r| rig::path(&r.slings)), path(Rig::marks));
    let things = Signal::new(move || {
        let blocks = place.rigged.with(|r| {
            let hung = |l: &unmire_model::layout::Layout| {
                (0..l.stations.len()).filter(|i| hangs_at(l, *i).is_some()).map(Thing::Block).collect::<Vec<_>>()
            };
            r.as_ref().map(|r| hung(&r.layout)).unwrap_or_default()
        });
        place.case.with(|c| {
            let Some(c) = c else { return Vec::new() };
            let obstacles = c.obstacles.iter().map(|o| Thing::Obstacle(o.id.clone()));
            let helpers = c.helpers.iter().map(|h| Thing::Helper(h.vehicle.name.clone()));
            let anchors = c.anchors.iter().map(|a| Thing::Anchor(a.id.clone()));
            obstacles.chain([Thing::Vehicle]).chain(helpers).chain(blocks).chain(anchors).collect::<Vec<_>>()
        })
    });
    view! {
        <div class="board">
        <canvas class="head" node_ref=head></canvas>
        <svg class="plan" viewBox=frame role="group" aria-label=say("scene.plan-view")>
            <g aria-hidden="true" prop:innerHTML=keep></g>
            <g aria-hidden="true" prop:innerHTML=move || still().unwrap_or_default()></g>
            <g class="rig" aria-hidden="true">
                <path class="leg" d=legs/><path class="leg sling" d=slings/><path class="block" d=marks/><text class="tension"></text>
                <For each=numbers key=Clone::clone let:i>{number(i)}</For>
            </g>
            <For each=move || things.get() key=Clone::clone let:thing><Handle thing/></For>
        </svg>
        <canvas node_ref=canvas aria-hidden="true"></canvas>
        </div>
        <p class="small">{say("scene.hint")}</p>
        {clear}
    }
}

/// Which parts of the ground's drawing move with a thing.
fn parts(place: Place, thing: &Thing) -> String {
    let found = place.case.with_untracked(|c| {
        let c = c.as_ref()?;
        Some(match thing {
            Thing::Vehicle => ("vehicle", 0),
            Thing::Helper(name) => ("vehicle", c.helpers.iter().position(|h| h.vehicle.name == *name)? + 1),
            Thing::Obstacle(id) => ("obstacle", c.obstacles.iter().position(|o| o.id == *id)?),
            Thing::Block(_) | Thing::Anchor(_) => return None,
        })
    });
    found.map(|(what, i)| format!("[data-of={what}-{i}]")).unwrap_or_default()
}

/// What a handle is called: what it is, where it is, and that keys move it.
fn name(s: Session, place: Place, thing: &Thing, drawn: Option<Vec3>) -> String {
    let at = drawn.map(|at| words(s.settings.get().units, Polar::of(at - place.come()))).unwrap_or_default();
    s.words.with(|w| match thing {
        Thing::Vehicle => {
            let id = place.case.with(|c| c.as_ref().map(|c| c.vehicle.name.clone())).unwrap_or_default();
            w.fill("scene.handle-vehicle", &[("id", &id)])
        }
        Thing::Helper(id) => w.fill("scene.handle-helper", &[("id", id), ("place", &at)]),
        Thing::Obstacle(id) => w.fill("scene.handle-obstacle", &[("id", id), ("place", &at)]),
        Thing::Block(station) => {
            let (id, anchor) = place.block(*station).unwrap_or_default();
            w.fill("scene.handle-block", &[("id", &id), ("anchor", &anchor)])
        }
        Thing::Anchor(id) => {
            let kind = s.open.with(|o| {
                let case = o.as_ref()?.case.as_ref()?;
                case.get(&format!("anchor[{}].kind", index_of(case, "anchor", "id", id)?))
            });
            let kind = w.translate("kind", &kind.unwrap_or_default());
            w.fill("scene.handle", &[("id", id), ("kind", &kind), ("place", &at)])
        }
    })
}

/// Something that can be moved: by a finger, a mouse, or the arrow keys.
#[component]
fn Handle(thing: Thing) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let anchor = match &thing {
        Thing::Anchor(id) => Some(id.clone()),
        _ => None,
    };
    let block = matches!(thing, Thing::Block(_));
    let class = match thing {
        Thing::Anchor(_) => "handle anchor",
        Thing::Block(_) => "handle hung",
        Thing::Vehicle => "handle car",
        Thing::Helper(_) | Thing::Obstacle(_) => "handle other",
    };
    let thing = StoredValue::new(thing);
    let at = Signal::new(move || place.drawn(&thing.get_value()));
    let stands = move || {
        let (x, y) = place.view.get()?.spot(at.get()?);
        Some((if block { x + BESIDE } else { x }, y))
    };
    let turned = move || stands().map(|(x, y)| format!("translate({x:.1} {y:.1})"));
    let label = Signal::new(move || name(s, place, &thing.get_value(), at.get()));
    let radius = {
        let id = anchor.clone();
        move || {
            let r = place.case.with(|c| c.as_ref()?.anchor(id.as_deref()?)?.kind.radius());
            let r = r.map_or(0.2, Length::as_m) * place.view.get().map_or(1.0, |v| v.scale);
            r.clamp(8.0, 26.0)
        }
    };
    // Where the finger is on the ground; where on the thing it took hold of it stays the same.
    let held = StoredValue::new(None::<Vec3>);
    // Where the drawing is on the page, as long as nothing but the finger has moved.
    let drawing = StoredValue::new(None::<(u32, (f64, f64, f64, f64))>);
    let grip = StoredValue::new(None::<web_sys::Element>);
    let under = move |e: &PointerEvent| {
        let (view, rests) = (place.view.get_untracked()?, place.rest.times());
        let there = match drawing.get_value() {
            Some((then, there)) if then == rests => there,
            _ => {
                let r = grip.get_value()?.closest("svg").ok()??.get_bounding_client_rect();
                let scrolled = |by: Result<f64, _>| by.unwrap_or_default();
                let corner = (r.left() + scrolled(window().scroll_x()), r.top() + scrolled(window().scroll_y()));
                let there = (corner.0, corner.1, r.width(), r.height());
                drawing.set_value(Some((rests, there)));
                there
            }
        };
        let at = (f64::from(e.page_x()), f64::from(e.page_y()));
        view.under(at, there).map(|at| view.ground(at))
    };
    let select = move || match thing.get_value() {
        Thing::Anchor(id) => place.selected.set(Some(id)),
        other => place.other.set(other),
    };
    let down = move |e: PointerEvent| {
        let handle = e.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        drawing.set_value(None);
        grip.set_value(handle.clone());
        let (Some(finger), Some(now)) = (under(&e), at.get_untracked()) else { return };
        if let Some(handle) = handle {
            // Without capture the handle is left when the finger is faster than the drawing.
            let _ = handle.set_pointer_capture(e.pointer_id());
        }
        held.set_value(Some(now - finger));
        select();
    };
    let go = move |e: PointerEvent| {
        let (Some(offset), Some(finger), Some(now)) = (held.get_value(), under(&e), at.get_untracked()) else { return };
        let to = finger + offset;
        // As it would be written, so that nothing changes any more when the finger lets go.
        let moved = Moved { thing: thing.get_value(), to: Vec3::new(to.x, to.y, now.z) }.kept();
        // Nothing new, or another finger moves something else.
        if place.moved.with_untracked(|m| m.as_ref().is_some_and(|m| *m == moved || m.thing != moved.thing)) {
            return;
        }
        if place.moved.with_untracked(Option::is_none)
            && let (Some(view), Some(stands), Some(handle)) =
                (place.view.get_untracked(), untrack(stands), grip.get_value())
        {
            place.moving.begin(&view, &handle, stands, &parts(place, &moved.thing), view.spot(now));
        }
        // In one go with the move: a frame is short.
        at_once(|| place.moved.set(Some(moved)));
    };
    let up = move |_: PointerEvent| {
        held.set_value(None);
        if let Some(m) = place.moved.get_untracked().filter(|m| m.thing == thing.get_value()) {
            place.put(s, &m);
            place.moved.set(None);
        }
    };
    let give_up = move |_: PointerEvent| {
        held.set_value(None);
        if place.moved.with_untracked(|m| m.as_ref().is_some_and(|m| m.thing == thing.get_value())) {
            place.moved.set(None);
        }
    };
    let key = move |e: KeyboardEvent| {
        let way = match e.key().as_str() {
            "ArrowUp" => (0.0, -1.0),
            "ArrowDown" => (0.0, 1.0),
            "ArrowLeft" => (-1.0, 0.0),
            "ArrowRight" => (1.0, 0.0),
            "Enter" | " " => {
                e.prevent_default();
                return select();
            }
            _ => return,
        };
        e.prevent_default();
        select();
        if let Thing::Block(station) = thing.get_value() {
            return place.hang_next(s, station, way.0 + way.1 > 0.0);
        }
        let (Some(now), Some(view)) = (at.get_untracked(), place.view.get_untracked()) else { return };
        let origin = view.spot(Vec3::ZERO);
        let step = STEP_M * view.scale;
        let by = view.ground((origin.0 + way.0 * step, origin.1 + way.1 * step));
        let to = Vec3::new(now.x + by.x, now.y + by.y, now.z);
        place.put(s, &Moved { thing: thing.get_value(), to }.kept());
    };
    let chosen = move || match thing.get_value() {
        Thing::Anchor(id) => place.selected.with(|c| c.as_ref() == Some(&id)),
        other => place.other.with(|c| *c == other),
    };
    let mark = match anchor {
        Some(id) => {
            let (r, below) = (radius.clone(), move || radius() + 15.0);
            view! {
                <g><circle class="wood" r=r/><path class="cross" d="M-5 -5L5 5M-5 5L5 -5"/>
                <text class="name strong middle" y=below>{id}</text></g>
            }
        }
        None if block => {
            view! { <g><path class="lead" d="M-37 0H-9"/><circle class="grip" r="9"/><path class="cross" d="M-4 0H4M0 -4V4"/></g> }
        }
        None => view! { <g><circle class="grip" r="9"/><path class="cross" d="M-5 0H5M0 -5V5"/></g> },
    };
    view! {
        <g class=class class:chosen=chosen role="button" tabindex="0" aria-label=label aria-pressed=move || chosen().to_string()
            transform=turned on:pointerdown=down on:pointermove=go on:pointerup=up on:pointercancel=give_up on:keydown=key>
            <circle class="hold" r=HOLD/>
            {mark}
        </g>
    }
}
