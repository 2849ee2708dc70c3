//! What can be taken hold of on the plan, and what becomes of it: by a finger, a mouse, or the arrow keys.

use super::plan_view::words;
use super::scene::Place;
use crate::dom::prelude::*;
use crate::scene::place::Polar;
use crate::scene::thing::{Moved, Thing, index_of};
use crate::session::{Session, session};
use crate::signals::at_once;
use unmire_model::{Length, Vec3};
use wasm_bindgen::JsCast as _;
use web_sys::{KeyboardEvent, PointerEvent};

/// How far an arrow key moves a thing, metres.
pub const STEP_M: f64 = 0.5;
/// Radius of what can be taken hold of, in the drawing's units: more than 24 pixels on the narrowest phone.
const HOLD: f64 = 29.0;
/// How far beside a block its handle stands: the anchor's own is on it.
const BESIDE: f64 = 42.0;

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

/// A thing under a finger.
#[derive(Clone, Copy, Debug)]
struct Held {
    /// Which finger.
    finger: i32,
    /// Where it stood.
    stood: Vec3,
    /// How far that was from the finger: where on the thing it took hold of it stays the same.
    off: Vec3,
    /// Whether it has moved.
    moves: bool,
}

/// Something that can be moved: by a finger, a mouse, or the arrow keys.
#[component]
pub fn Handle(thing: Thing) -> impl IntoView {
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
    let held = StoredValue::new(None::<Held>);
    let drawing = StoredValue::new(None::<web_sys::Element>);
    let under = move |e: &PointerEvent| {
        let (r, view) = (drawing.get_value()?.get_bounding_client_rect(), place.view.get_untracked()?);
        let at = (f64::from(e.client_x()), f64::from(e.client_y()));
        view.under(at, (r.left(), r.top(), r.width(), r.height())).map(|at| view.ground(at))
    };
    // Whether it is this that moves; nothing does when the screen goes.
    let moves = move || {
        let moved = place.moved.try_get_untracked().flatten();
        moved.filter(|m| thing.try_get_value().is_some_and(|thing| thing == m.thing))
    };
    // The thing may go while it is held.
    on_cleanup(move || {
        if moves().is_some() {
            place.moved.set(None);
        }
    });
    let select = move || match thing.get_value() {
        Thing::Anchor(id) => place.selected.set(Some(id)),
        other => place.other.set(other),
    };
    let down = move |e: PointerEvent| {
        let handle = e.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        if place.moved.with_untracked(Option::is_some) {
            return;
        }
        drawing.set_value(handle.as_ref().and_then(|h| h.closest("svg").ok()?));
        let (Some(finger), Some(now)) = (under(&e), at.get_untracked()) else { return };
        if let Some(handle) = handle {
            // Without capture the handle is left when the finger is faster than the drawing.
            let _ = handle.set_pointer_capture(e.pointer_id());
        }
        held.set_value(Some(Held { finger: e.pointer_id(), stood: now, off: now - finger, moves: false }));
        select();
    };
    let go = move |e: PointerEvent| {
        let hold = held.get_value().filter(|h| h.finger == e.pointer_id());
        let (Some(hold), Some(finger)) = (hold, under(&e)) else { return };
        let (to, now) = (finger + hold.off, hold.stood);
        // As it would be written, so that nothing changes any more when the finger lets go.
        let moved = Moved { thing: thing.get_value(), to: Vec3::new(to.x, to.y, now.z) }.kept();
        // Nothing new, or another finger moves something else.
        if place.moved.with_untracked(|m| m.as_ref().is_some_and(|m| *m == moved || m.thing != moved.thing)) {
            return;
        }
        if place.moved.with_untracked(Option::is_none) {
            // Something else has put an end to it.
            if hold.moves {
                return;
            }
            held.set_value(Some(Held { moves: true, ..hold }));
            if let (Some(view), Some(stands)) = (place.view.get_untracked(), untrack(stands))
                && let Some(handle) = e.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok())
            {
                place.moving.begin(&view, &handle, stands, &parts(place, &moved.thing), view.spot(now));
            }
        }
        // In one go with the move: a frame is short.
        at_once(|| place.moved.set(Some(moved)));
    };
    let lets_go = move |e: &PointerEvent| {
        held.get_value().filter(|h| h.finger == e.pointer_id())?;
        held.set_value(None);
        moves()
    };
    let up = move |e: PointerEvent| {
        if let Some(m) = lets_go(&e) {
            place.put(s, &m);
            place.moved.set(None);
        }
    };
    let give_up = move |e: PointerEvent| {
        if lets_go(&e).is_some() {
            place.moved.set(None);
        }
    };
    let key = move |e: KeyboardEvent| {
        // A finger has it.
        if place.moved.with_untracked(Option::is_some) {
            return;
        }
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
            transform=turned on:pointerdown=down on:pointermove=go on:pointerup=up on:pointercancel=give_up on:lostpointercapture=give_up on:keydown=key>
            <circle class="hold" r=HOLD/>
            {mark}
        </g>
    }
}
