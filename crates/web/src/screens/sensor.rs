//! Slopes from the device's own sense of which way is down, where the browser gives it and the reader allows it. Nothing is
//! asked before a button is pressed, and one reading is taken.

use crate::dom::prelude::*;
use crate::scene::question::slope_from_phone;
use crate::session::{say, session};
use js_sys::{Function, Promise, Reflect};
use leptos::task::spawn_local;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;

/// How long a device may take to tell its angles.
const PATIENCE: core::time::Duration = core::time::Duration::from_millis(1500);
/// The event and the kind of it.
const EVENT: &str = "deviceorientation";
const KIND: &str = "DeviceOrientationEvent";

/// A button that takes both slopes from the device; along the way out and across it, degrees.
#[component]
pub fn Sensor(take: Callback<(f64, f64)>) -> impl IntoView {
    let s = session();
    let trouble = RwSignal::new(None::<&'static str>);
    let ask = move |_| {
        trouble.set(None);
        spawn_local(async move {
            match allowed().await {
                Some(true) => listen(take, trouble),
                Some(false) => trouble.set(Some("sensor-refused")),
                None => trouble.set(Some("sensor-none")),
            }
        });
    };
    view! {
        <div class="sensor">
            <button type="button" class="quiet" on:click=ask>{say("scene.sensor")}</button>
            <p class="small">{say("scene.sensor-how")}</p>
            <p role="status">{move || trouble.get().map(|key| s.words.with(|w| w.translate("control", key)))}</p>
        </div>
    }
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

fn listen(take: Callback<(f64, f64)>, trouble: RwSignal<Option<&'static str>>) {
    let done = StoredValue::new(false);
    let hear = Closure::<dyn FnMut(JsValue)>::new(move |event: JsValue| {
        let angle = |key: &str| Reflect::get(&event, &key.into()).ok().and_then(|a| a.as_f64());
        if done.try_get_value() != Some(false) {
            return;
        }
        if let Some(slopes) = slope_from_phone(angle("beta"), angle("gamma")) {
            done.set_value(true);
            take.run(slopes);
        }
    });
    let page = window();
    if page.add_event_listener_with_callback(EVENT, hear.as_ref().unchecked_ref()).is_err() {
        trouble.set(Some("sensor-none"));
        return;
    }
    set_timeout(
        move || {
            // It was added just now.
            let _ = window().remove_event_listener_with_callback(EVENT, hear.as_ref().unchecked_ref());
            if done.try_get_value() == Some(false) {
                trouble.try_set(Some("sensor-none"));
            }
        },
        PATIENCE,
    );
}
