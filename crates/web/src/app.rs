//! The shell of the page.

use leptos::prelude::*;

/// Puts the app into the page.
pub fn mount() {
    if let Some(boot) = document().get_element_by_id("boot") {
        boot.remove();
    }
    leptos::mount::mount_to_body(|| view! { <main><h1>"unmire"</h1></main> });
    if let Some(root) = document().document_element() {
        let _ = root.set_attribute("data-ready", "yes");
    }
    let keeper = window().navigator().service_worker();
    let _ = keeper.register("./sw.js");
}
