//! Slopes and bearings from the device's own sense of which way is down, where the browser gives it and the reader allows it. Nothing is
//! asked before a button is pressed, and one reading is taken.

use super::controls::Told;
use crate::document::Complaint;
use crate::dom::prelude::*;
use crate::scene::question::{bearing_from_phone, slope_from_phone};
use crate::session::{say, session};
use js_sys::{Function, Promise, Reflect};
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;

/// How long a device may take to tell its angles.
const PATIENCE: core::time::Duration = core::time::Duration::from_secs(4);
/// The events and the kind of them. A browser that tells a bearing does so with the second, or with the first and a
/// compass heading in it.
const EVENTS: [&str; 2] = ["deviceorientation", "deviceorientationabsolute"];
const KIND: &str = "DeviceOrientationEvent";

/// What a reading gives.
type Reading<T> = fn(&JsValue) -> Option<T>;

fn angle(event: &JsValue, key: &str) -> Option<f64> {
    Reflect::get(event, &key.into()).ok().and_then(|a| a.as_f64())
}
fn slopes(event: &JsValue) -> Option<(f64, f64)> {
    slope_from_phone(angle(event, "beta"), angle(event, "gamma"))
}
fn bearing(event: &JsValue) -> Option<f64> {
    let absolute = Reflect::get(event, &"absolute".into()).is_ok_and(|a| a.is_truthy());
    bearing_from_phone(angle(event, "alpha"), angle(event, "beta"), absolute, angle(event, "webkitCompassHeading"))
}

/// A button that takes both slopes from the device; along the way out and across it, degrees.
#[component]
pub fn Sensor(take: Callback<(f64, f64)>) -> impl IntoView {
    let trouble = RwSignal::new(None::<&'static str>);
    let ask = move |_| ask(slopes, move |read| take.run(read), trouble);
    view! {
        <div class="sensor">
            <button type="button" class="quiet" on:click=ask>{say("scene.sensor")}</button>
            <p class="small">{say("scene.sensor-how")}</p>
            <Trouble trouble/>
        </div>
    }
}

/// A button that takes a bearing from the device, degrees from north. What can't be used is told beside it.
#[component]
pub fn Compass(take: Callback<f64, Result<(), Vec<Complaint>>>) -> impl IntoView {
    let trouble = RwSignal::new(None::<&'static str>);
    let wrong = RwSignal::new(Vec::<Complaint>::new());
    let put = move |degrees| wrong.set(take.run(degrees).err().unwrap_or_default());
    let ask = move |_| {
        wrong.set(Vec::new());
        ask(bearing, put, trouble);
    };
    view! {
        <div class="sensor">
            <button type="button" class="quiet" on:click=ask>{say("scene.compass")}</button>
            <p class="small">{say("scene.compass-how")}</p>
            <Trouble trouble/>
            <Told id=String::new() all=*wrong/>
        </div>
    }
}

/// Why the device told nothing.
#[component]
fn Trouble(trouble: RwSignal<Option<&'static str>>) -> impl IntoView {
    let s = session();
    view! { <p role="status">{move || trouble.get().map(|key| s.translate("control", key))}</p> }
}

/// Asks the device once.
fn ask<T: 'static>(read: Reading<T>, take: impl Fn(T) + 'static, trouble: RwSignal<Option<&'static str>>) {
    trouble.set(None);
    spawn_local(async move {
        match allowed().await {
            Some(true) => listen(read, take, trouble),
            Some(false) => trouble.set(Some("sensor-refused")),
            None => trouble.set(Some("sensor-none")),
        }
    });
}

/// Whether the reader allows it; none where there is nothing to allow.
async fn allowed() -> Option<bool> {
    let kind = Reflect::get(&window(), &KIND.into()).ok().filter(|k| k.is_function())?;
    let Some(ask) = Reflect::get(&kind, &"requestPermission".into()).ok().and_then(|f| f.dyn_into::<Function>().ok())
    else {
        return Some(true);
    };
    let answer = ask.call0(&kind).ok()?.dyn_into::<Promise>().ok()?;
    Some(JsFuture::from(answer).await.ok().and_then(|a| a.as_string()).as_deref() == Some("granted"))
}

fn listen<T: 'static>(read: Reading<T>, take: impl Fn(T) + 'static, trouble: RwSignal<Option<&'static str>>) {
    let heard = Rc::new(Cell::new(false));
    let done = Rc::clone(&heard);
    let hear = Closure::<dyn FnMut(JsValue)>::new(move |event: JsValue| {
        // A screen that is gone takes nothing, and one reading is enough.
        if done.get() || trouble.try_get_untracked().is_none() {
            return;
        }
        if let Some(reading) = read(&event) {
            done.set(true);
            take(reading);
        }
    });
    let page = window();
    for event in EVENTS {
        // Where an event is not known nothing comes of listening to it.
        let _ = page.add_event_listener_with_callback(event, hear.as_ref().unchecked_ref());
    }
    set_timeout(
        move || {
            for event in EVENTS {
                // It was added just now.
                let _ = window().remove_event_listener_with_callback(event, hear.as_ref().unchecked_ref());
            }
            if !heard.get() {
                trouble.set(Some("sensor-none"));
            }
        },
        PATIENCE,
    );
}
