//! The page and its window.

use crate::signals::on_cleanup;
use core::time::Duration;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, Event, EventTarget, HtmlInputElement, Window};

thread_local! {
    static PAGE: Option<(Window, Document)> = web_sys::window().and_then(|w| Some((w.clone(), w.document()?)));
}

/// The window.
pub fn window() -> Window {
    PAGE.with(|p| there(p).0.clone())
}
/// The document in it.
pub fn document() -> Document {
    PAGE.with(|p| there(p).1.clone())
}
#[expect(clippy::expect_used, reason = "the view is started in a page only")]
fn there(page: &Option<(Window, Document)>) -> &(Window, Document) {
    page.as_ref().expect("a page")
}

/// Runs something on an event.
pub(super) fn listen(at: &EventTarget, event: &str, run: Box<dyn FnMut(Event)>) {
    // The browser lets go of it with the element.
    let run = Closure::wrap(run).into_js_value();
    let _ = at.add_event_listener_with_callback(event, run.unchecked_ref());
}

/// Runs something on an event of the window, as long as the scope of now is there.
pub fn on_window(event: &'static str, run: impl FnMut(Event) + 'static) {
    let run: Closure<dyn FnMut(Event)> = Closure::new(run);
    let _ = window().add_event_listener_with_callback(event, run.as_ref().unchecked_ref());
    on_cleanup(move || {
        let _ = window().remove_event_listener_with_callback(event, run.as_ref().unchecked_ref());
    });
}

/// Runs something once, after a while.
pub fn set_timeout(run: impl FnOnce() + 'static, after: Duration) {
    let run = Closure::once_into_js(run);
    let ms = i32::try_from(after.as_millis()).unwrap_or(i32::MAX);
    // A window takes every time.
    let _ = window().set_timeout_with_callback_and_timeout_and_arguments_0(run.unchecked_ref(), ms);
}

/// What an event came from; the caller knows what that is.
pub fn event_target<T: JsCast>(event: &Event) -> T {
    event.target().map_or(JsValue::UNDEFINED, JsValue::from).unchecked_into()
}
/// What a field has in it, whatever kind of field it is.
pub fn event_target_value(event: &Event) -> String {
    event_target::<HtmlInputElement>(event).value()
}
/// Whether a box is ticked.
pub fn event_target_checked(event: &Event) -> bool {
    event_target::<HtmlInputElement>(event).checked()
}
