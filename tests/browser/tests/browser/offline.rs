//! No network: the server is stopped, and everything goes on.

use crate::cases::CLAY;
use crate::plan::{ask, jobs};
use serde_json::{Value, json};
use unmire_browser::{Host, Key, Page};

/// Kept on the device means kept by the service worker that controls the page.
fn kept(page: &Page<'_>) {
    page.js_later("await navigator.serviceWorker.ready; return null;", Vec::new());
    page.until("the page is under control", || page.js("return navigator.serviceWorker.controller !== null") == true);
}

/// Loaded once, the app opens and plans with no server, with the same bytes; other addresses are refused.
pub fn regress_it_opens_and_plans_without_a_network(page: &Page<'_>) {
    kept(page);
    // The browser itself tells of what it was refused.
    page.console_may_say("404");
    page.server.stop();
    page.reload();
    page.click("button", CLAY);
    page.reads("Pull needed:");
    page.shot("offline-phone");
    let (name, _, job) = jobs().into_iter().find(|j| j.0 == "side-slope.toml").unwrap();
    let answer = &ask(page, &[job])[0];
    let stem = name.trim_end_matches(".toml");
    let expected = std::fs::read_to_string(crate::plan::examples().join(format!("{stem}.expected.json"))).unwrap();
    assert!(answer["json"] == expected, "{name} without a network");
    let refused = page.js_later(
        "const all = []; for (const a of ['./nothing', './sw.js.map', './?x=1']) all.push((await fetch(a)).status); return all;",
        Vec::new(),
    );
    assert_eq!(refused, json!([404, 404, 200]));
    page.click("link", "Settings");
    page.reads("Ready: the app is kept on this device.");
}

/// Puts a new version on a host: another page, with its hash in the list of the service worker, or with a wrong one.
fn publish(page: &Page<'_>, host: &Host, mark: &str, right: bool) {
    let new = host.read("index.html").replace("<body", &format!("<body data-version=\"{mark}\""));
    let hash = page.js_later(
        "const h = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(a[0]))); \
         return btoa(String.fromCharCode(...h));",
        vec![json!(if right { new.clone() } else { format!("{new} ") })],
    );
    let keeper = host.read("sw.js");
    let line = keeper.lines().find(|l| l.contains("\"index.html\"")).unwrap().to_owned();
    let changed = format!("  \"index.html\": \"sha256-{}\",", hash.as_str().unwrap());
    host.write("index.html", &new);
    host.write(
        "sw.js",
        &keeper.replace(&line, &changed).replace("const version = \"", &format!("const version = \"{mark}")),
    );
}

/// A new version waits until the reader takes it; one that does not match its list is never taken. What is kept on the
/// device is there after it as it was before, to the last sign.
pub fn regress_a_new_version_waits_for_the_reader(page: &Page<'_>) {
    let host = Host::start("update");
    page.open_at(&host.address());
    kept(page);
    // A case that was changed, and a bag.
    crate::kit::open(page, CLAY);
    page.click("button", "Put this rig into the case");
    page.reads("The case's own rig:");
    page.click("link", "Kit");
    page.fill("Name of this bag", "The wagon's bag");
    page.key(Key::Tab);
    page.click("button", "Keep the case's pieces as a bag");
    page.reads("Use “The wagon's bag” in this case");
    let entries = || crate::cases::kept(page);
    let full = |all: &Vec<Value>| all.len() == 2 && all.iter().any(|e| e["text"].to_string().contains("[rig]"));
    let before = page.eventually("the case and the bag are kept", entries, full);
    let version = || page.js("return document.body.dataset.version ?? ''");
    let offer = "A new version is here.";
    page.console_may_say("integrity");
    publish(page, &host, "broken", false);
    page.js_later("await (await navigator.serviceWorker.ready).update().catch(() => null); return null;", Vec::new());
    page.until("the broken version is given up", || {
        page.js_later("const r = await navigator.serviceWorker.ready; return !r.installing && !r.waiting;", Vec::new())
            == true
    });
    page.still();
    assert!(!page.text().contains(offer));
    let old = host.read("index.html").replace(" data-version=\"broken\"", "");
    host.write("index.html", &old);
    publish(page, &host, "second", true);
    page.reload();
    page.reads(offer);
    assert_eq!(version(), "", "the old version is still shown");
    page.is_accessible();
    page.click("button", "Reload with it");
    page.becomes("the version", version, "second");
    page.ready();
    page.reads_no_more(offer);
    assert_eq!(entries(), before, "what is kept");
    page.click("link", "Cases");
    page.reads("On this device");
    page.js("document.querySelector('.pair .row').click()");
    page.reads("The case's own rig:");
    page.click("link", "Kit");
    page.reads("Use “The wagon's bag” in this case");
}
