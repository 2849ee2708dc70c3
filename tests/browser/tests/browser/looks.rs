//! Language, units, themes, text size, keyboard: whoever reads.

use crate::cases::CLAY;
use unmire_browser::{DESKTOP, Key, PHONE, Page};

/// Both languages, from the first word to the verdict; what is chosen stays.
pub fn regress_the_page_speaks_german(page: &Page<'_>) {
    page.click("link", "Settings");
    page.click("radio", "Deutsch");
    page.find("heading", "Optionen");
    page.becomes("the language", || page.js("return document.documentElement.lang"), "de");
    page.click("radio", "US: lbf, lb, ft");
    page.reload();
    page.find("heading", "Optionen");
    page.click("link", "Fälle");
    page.click("button", CLAY);
    page.reads("Nötiger Zug:");
    page.reads("lbf");
    page.is_accessible();
    page.shot("german-phone");
}

/// Every look has enough contrast, in every size; the bright one for the sun too.
pub fn regress_every_look_is_legible(page: &Page<'_>) {
    page.click("button", CLAY);
    page.reads("Pull needed:");
    for (name, look) in [("Light", "light"), ("Dark", "dark"), ("Bright sun", "sun")] {
        page.click("link", "Settings");
        page.click("radio", name);
        page.becomes("the look", || page.js("return document.documentElement.dataset.theme"), look);
        page.is_accessible();
        page.click("link", "Rigs");
        page.reads("Pull needed:");
        page.is_accessible();
        page.shot(&format!("{look}-phone"));
        page.size(DESKTOP);
        page.shot(&format!("{look}-desktop"));
        page.size(PHONE);
    }
    page.click("link", "Settings");
    page.click("radio", "As the device");
    page.becomes("the look", || page.js("return document.documentElement.dataset.theme ?? 'none'"), "none");
    page.prefers(&[("prefers-color-scheme", "dark")]);
    page.is_accessible();
}

/// With text twice as large nothing is cut off at the side, and every target stays large enough for a glove.
pub fn regress_large_text_and_large_targets(page: &Page<'_>) {
    page.click("button", CLAY);
    page.reads("Pull needed:");
    for size in [100, 200] {
        page.text_size(size);
        for screen in ["Cases", "Scene", "Kit", "Rigs", "Brief", "Settings"] {
            page.click("link", screen);
            page.becomes("the title", || page.js("return document.title"), format!("{screen} · unmire"));
            page.still();
            let wide = page.js("return document.documentElement.scrollWidth");
            assert!(wide.as_i64() <= Some(360), "{screen} at {size} % is {wide} wide");
            let small = page.js(
                "return [...document.querySelectorAll('a, button, input, select, textarea, summary')] \
                 .map(e => e.closest('label') ?? e).filter(e => !e.classList.contains('skip') && e.offsetParent !== null) \
                 .filter(e => { const r = e.getBoundingClientRect(); return r.width < 48 || r.height < 48; }).map(e => e.outerHTML)",
            );
            assert_eq!(small, serde_json::json!([]), "{screen} at {size} %: smaller than 48 pixels");
            page.shot_whole(&format!("{}-{size}", screen.to_lowercase()));
        }
    }
}

/// How much moves on the page: animations and transitions that run, and elements whose style would have them run or would
/// scroll by and by.
const MOVES: &str = "
    const still = s => s.animationName === 'none' && s.transitionDuration.split(', ').every(t => parseFloat(t) === 0) && s.scrollBehavior === 'auto';
    const all = [...document.querySelectorAll('*')].filter(e => !still(getComputedStyle(e))).map(e => e.tagName);
    return [...document.getAnimations().map(a => String(a.animationName)), ...all];";

/// Nothing moves by itself for a reader who wants that, on any screen; not even what a style sheet would have move.
pub fn regress_still_for_who_wants_no_motion(page: &Page<'_>) {
    let nothing = serde_json::json!([]);
    page.prefers(&[("prefers-reduced-motion", "reduce")]);
    page.click("button", CLAY);
    assert_eq!(page.js(MOVES), nothing, "while it is planned");
    page.reads("Pull needed:");
    for screen in ["Rigs", "Scene", "Kit", "Brief", "Settings", "Cases"] {
        page.click("link", screen);
        page.becomes("the title", || page.js("return document.title"), format!("{screen} · unmire"));
        assert_eq!(page.js(MOVES), nothing, "{screen}");
    }
    // A style that would move everything is held; without the wish it moves.
    page.js("const s = document.styleSheets[0], end = () => s.cssRules.length; \
         s.insertRule('@keyframes drift { to { opacity: 0.5 } }', end()); \
         s.insertRule('main { animation: drift 60s infinite; transition: color 60s; }', end()); \
         s.insertRule('html { scroll-behavior: smooth; }', end());");
    assert_eq!(page.js(MOVES), nothing, "the wish holds for what is yet to come");
    page.prefers(&[("prefers-reduced-motion", "no-preference")]);
    page.becomes("what moves", || page.js(MOVES), serde_json::json!(["drift", "HTML", "MAIN"]));
}

/// Everything can be done with keys alone: open an example, look at the second rig, go to the brief.
pub fn regress_keys_alone_are_enough(page: &Page<'_>) {
    page.tab_to("button", CLAY);
    page.key(Key::Enter);
    page.reads("Pull needed:");
    // What has the focus is in view, and nothing that sticks to an edge covers it.
    for _ in 0..25 {
        page.key(Key::Tab);
        let covered = || {
            page.js(
            "const e = document.activeElement, r = e.getBoundingClientRect(); if (e === document.body) return null; \
             const y = Math.min(Math.max(r.top, 1) + 8, r.bottom - 1), over = document.elementFromPoint(r.left + r.width / 2, y); \
             return over && (e.contains(over) || over.contains(e) || over.closest('label')?.contains(e)) ? null : e.outerHTML",
        )
        };
        page.becomes("what is covered", covered, serde_json::Value::Null);
    }
    page.tab_to("link", "Brief");
    page.key(Key::Enter);
    page.find("heading", "Brief");
    page.reads("Cautions");
    page.js("history.back()");
    page.find("heading", "Rigs");
}
