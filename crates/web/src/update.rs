//! The service worker, seen from the page: whether the app is kept on the device, and whether a new version waits.

use crate::dom::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{ServiceWorker, ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState};

/// What is known of it.
#[derive(Clone, Copy)]
pub struct Update {
    /// Whether the app is kept, so that it opens without a network.
    pub kept: RwSignal<bool>,
    /// Whether a new version waits to be taken.
    pub waits: RwSignal<bool>,
    waiting: StoredValue<Option<ServiceWorker>>,
    taken: StoredValue<bool>,
}

impl Update {
    /// Registers the service worker and watches it. A browser without one shows the app all the same.
    pub fn start() -> Self {
        let it = Self {
            kept: RwSignal::new(false),
            waits: RwSignal::new(false),
            waiting: StoredValue::new(None),
            taken: StoredValue::new(false),
        };
        // Outside a secure context there is none.
        let there = js_sys::Reflect::get(&window().navigator(), &"serviceWorker".into());
        if let Some(container) = there.ok().and_then(|c| c.dyn_into::<ServiceWorkerContainer>().ok()) {
            let reload = Closure::<dyn FnMut()>::new(move || {
                // The first version takes over a page that was loaded without it; that changes nothing.
                if it.taken.get_value() {
                    let _ = window().location().reload();
                }
            });
            container.set_oncontrollerchange(Some(reload.as_ref().unchecked_ref()));
            reload.forget();
            spawn_local(async move {
                // Without it the app works as long as it is open.
                let _ = it.watch(&container).await;
            });
        }
        it
    }
    async fn watch(self, container: &ServiceWorkerContainer) -> Result<(), JsValue> {
        let registration: ServiceWorkerRegistration =
            JsFuture::from(container.register("./sw.js")).await?.dyn_into()?;
        if let (Some(waiting), Some(_)) = (registration.waiting(), container.controller()) {
            self.offer(waiting);
        }
        let (here, of) = (registration.clone(), container.clone());
        let found = Closure::<dyn FnMut()>::new(move || {
            if let Some(new) = here.installing() {
                self.follow(new, &of);
            }
        });
        registration.set_onupdatefound(Some(found.as_ref().unchecked_ref()));
        found.forget();
        JsFuture::from(container.ready()?).await?;
        self.kept.set(true);
        Ok(())
    }
    /// Waits until a new version has been fetched whole. The very first one is not offered: nothing else runs.
    fn follow(self, new: ServiceWorker, container: &ServiceWorkerContainer) {
        let (it, of) = (new.clone(), container.clone());
        let change = Closure::<dyn FnMut()>::new(move || {
            if it.state() == ServiceWorkerState::Installed && of.controller().is_some() {
                self.offer(it.clone());
            }
        });
        new.set_onstatechange(Some(change.as_ref().unchecked_ref()));
        change.forget();
    }
    fn offer(self, waiting: ServiceWorker) {
        self.waiting.set_value(Some(waiting));
        self.waits.set(true);
    }
    /// Takes the new version: the page is loaded anew with it.
    pub fn take(self) {
        self.taken.set_value(true);
        if let Some(waiting) = self.waiting.get_value() {
            let _ = waiting.post_message(&"take-over".into());
        }
    }
}
