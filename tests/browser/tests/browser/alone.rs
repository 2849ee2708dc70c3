//! The app keeps to itself: nobody else is asked for anything, whatever the reader does.

use crate::cases::CLAY;
use serde_json::json;
use unmire_browser::Page;

/// A place that is nowhere, under a name that nobody has.
const ELSEWHERE: &str = "elsewhere.invalid";

/// Goes to every screen and does what asks for most: a search and a pull in the worker, drawings, codes.
fn walk(page: &Page<'_>) {
    page.js_later("await navigator.serviceWorker.ready; return null;", Vec::new());
    page.click("button", CLAY);
    page.reads("Pull needed:");
    page.click("button", "Play the whole pull");
    page.eventually("it is played", || page.texts(".moment dd"), |all| !all.is_empty());
    for screen in ["Scene", "Kit", "Brief", "Settings", "Cases", "Rigs"] {
        page.click("link", screen);
        page.becomes("the title", || page.js("return document.title"), format!("{screen} · unmire"));
        page.still();
    }
    page.click("link", "Brief");
    page.click("button", "Show as QR codes");
    page.reads("Code 1 of");
    page.reload();
    page.reads("Cautions");
}

/// Every screen is walked through, and the page's own address is all that was asked. The page could not do otherwise: its
/// policy refuses every other address, in whatever way it is asked.
pub fn regress_nobody_else_is_asked_for_anything(page: &Page<'_>) {
    let before = page.asked_elsewhere(ELSEWHERE).len();
    let all = page.asked_elsewhere("");
    walk(page);
    let own = page.server.address();
    let asked = page.js("return performance.getEntriesByType('resource').map(e => e.name)");
    let asked: Vec<&str> = asked.as_array().unwrap().iter().filter_map(|a| a.as_str()).collect();
    let ours = |a: &str| a.starts_with(&own) || a.starts_with("data:") || a.starts_with("blob:");
    assert!(asked.len() >= 3 && asked.iter().all(|a| ours(a)), "{asked:#?}");
    assert_eq!(page.asked_elsewhere(""), all, "somebody else was asked");
    // Now on purpose.
    page.console_may_say("Content Security Policy");
    page.console_may_say(ELSEWHERE);
    let refused = page.js_later(
        "const at = `http://${a[0]}/x`, told = []; \
         addEventListener('securitypolicyviolation', e => told.push(e.effectiveDirective)); \
         const lost = p => p.then(() => false, () => true); \
         const element = (tag, key) => lost(new Promise((good, bad) => { const e = document.createElement(tag); \
             e.onload = good; e.onerror = bad; e[key] = at; if (tag === 'link') e.rel = 'stylesheet'; document.head.append(e); })); \
         const all = [await lost(fetch(at)), await lost(fetch(at, { mode: 'no-cors' })), await element('img', 'src'), \
             await element('script', 'src'), await element('link', 'href'), await lost(import(at))]; \
         navigator.sendBeacon(at, 'x'); \
         all.push(await lost(new Promise((good, bad) => { const s = new WebSocket(at.replace('http', 'ws')); s.onopen = good; s.onerror = bad; }))); \
         await new Promise(done => setTimeout(done, 200)); \
         return [all, [...new Set(told)].sort()];",
        vec![json!(ELSEWHERE)],
    );
    assert_eq!(refused[0], json!([true, true, true, true, true, true, true]));
    assert_eq!(refused[1], json!(["connect-src", "img-src", "script-src-elem", "style-src-elem"]));
    assert_eq!(page.asked_elsewhere(ELSEWHERE).len(), before, "the policy lets something out");
    // A page without a policy is heard, so that the silence above says something.
    page.open_nothing();
    let ask = "await fetch(`http://${a[0]}/control`, { mode: 'no-cors' }).catch(() => null); return null;";
    page.js_later(ask, vec![json!(ELSEWHERE)]);
    page.eventually("it is heard", || page.asked_elsewhere(ELSEWHERE).len(), |n| *n > before);
}
