//! The first look: the app opens, can be installed, and is accessible.

use serde_json::Value;
use unmire_browser::{DESKTOP, Page};

/// The app opens with its name, in any window.
pub fn regress_the_page_opens_and_names_the_app(page: &Page<'_>) {
    page.find("heading", "unmire");
    page.is_accessible();
    page.shot("start-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot("start-desktop");
}

/// What a browser asks for before it offers to install an app.
pub fn regress_manifest_and_service_worker_are_there(page: &Page<'_>) {
    let manifest = page.js_later(
        "const m = await (await fetch(document.querySelector('link[rel=manifest]').href)).json(); \
         for (const i of m.icons) { const r = await fetch(i.src); if (!r.ok) throw i.src; i.type_served = r.headers.get('content-type'); } \
         return m;",
        Vec::new(),
    );
    assert_eq!(manifest["name"], "unmire");
    assert_eq!(manifest["display"], "standalone");
    let icons = manifest["icons"].as_array().unwrap();
    assert!(icons.iter().all(|i| i["type"] == i["type_served"]), "{icons:#?}");
    // One icon may serve for several.
    let serves = |all: &Value, one: &str| all.as_str().is_some_and(|all| all.split(' ').any(|p| p == one));
    for purpose in ["any", "maskable"] {
        assert!(icons.iter().any(|i| serves(&i["purpose"], purpose) && i["sizes"] == "512x512"), "{purpose}");
    }
    let state = page.js_later("const r = await navigator.serviceWorker.ready; return r.active.state;", Vec::new());
    assert!(state == "activated" || state == "activating", "{state}");
}

/// How long it takes until the app can be used: at the first visit, and when it comes from the device. The bounds are
/// wide, for this runs beside other things; the figures are printed.
pub fn regress_it_is_ready_soon(page: &Page<'_>) {
    let ready = || page.js("return performance.getEntriesByName('ready')[0].startTime").as_f64().unwrap();
    let first = ready();
    page.js_later("await navigator.serviceWorker.ready; return null;", Vec::new());
    page.until("the page is under control", || page.js("return navigator.serviceWorker.controller !== null") == true);
    let mut later = Vec::new();
    for _ in 0..5 {
        page.reload();
        later.push(ready());
    }
    later.sort_by(f64::total_cmp);
    eprintln!("ready after {first:.0} ms at the first visit, then from the device after {later:.0?} ms");
    assert!(first < 60_000.0 && later[2] < 30_000.0);
}
