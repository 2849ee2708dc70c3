//! Pictures of every screen for `docs/app.md`: `cargo xtask shots` makes them anew. No trial: nothing is judged here but by
//! whoever looks at them.

use crate::cases::CLAY;
use crate::kit::open;
use crate::scene::middle;
use std::path::PathBuf;
use unmire_browser::{DESKTOP, PHONE, Page, Size};

/// The variable that names the folder for the pictures.
pub const FOLDER: &str = "UNMIRE_SCREENS";

/// What a sheet of A4 shows inside its margins.
const PAPER: Size = Size(734, 1062);

/// Takes one picture of what is in a window of this size, scrolled to the first thing that a selector finds.
fn one(page: &Page<'_>, name: &str, size: Size, top: &str) {
    page.size(size);
    page.still();
    page.until(&format!("{name}: there is {top}"), || {
        page.js(&format!(
            "document.querySelector('{top}').scrollIntoView({{ block: 'start', behavior: 'instant' }}); return true"
        )) == true
    });
    // The window scrolls a little further, so that nothing touches its edge.
    page.js("scrollBy({ top: -12, behavior: 'instant' }); document.activeElement.blur()");
    picture(page, name);
}
fn picture(page: &Page<'_>, name: &str) {
    let folder = PathBuf::from(std::env::var_os(FOLDER).expect("a folder for pictures"));
    page.small_picture(&folder.join(format!("{name}.webp")));
}
fn both(page: &Page<'_>, name: &str, top: &str) {
    one(page, &format!("{name}-phone"), PHONE, top);
    one(page, &format!("{name}-desktop"), DESKTOP, top);
    page.size(PHONE);
}

/// The first minute: the gate, a question, the scene with a first rig and what is assumed.
pub fn first_minute(page: &Page<'_>) {
    page.click("link", "Settings");
    page.click("radio", "Metric: kN, kg, m");
    page.click("link", "Cases");
    page.find("heading", "First, look round");
    both(page, "start", "body");
    crate::first::pass_the_gate(page);
    crate::first::answer_up_to(page, 1);
    page.find("heading", "How deep is it in?");
    both(page, "question", "body");
    crate::first::answer_from(page, 1);
    page.find("heading", "Scene");
    page.reads("This matters most");
    both(page, "first-rig", "body");
    both(page, "assumed", ".scene-more");
}

/// A case that is planned: its rigs, the working of a number, two compared, the whole pull, the scene, the kit, the brief on
/// the screen and on paper, its codes, the settings, and the scene while something is moved.
pub fn planned_case(page: &Page<'_>) {
    open(page, CLAY);
    both(page, "rigs", "body");
    page.js("document.querySelector('.checks summary').click()");
    page.eventually("the working is there", || page.texts(".checks details[open] .formula"), |f| !f.is_empty());
    both(page, "working", ".checks details[open]");
    page.js("document.querySelector('.checks summary').click()");
    page.choose("Compare the rig that is shown with", "2. Straight pull");
    page.becomes("the number of drawings", || page.texts(".pictures-of img").len(), 2);
    both(page, "compare", ".compare");
    page.click("button", "Play the whole pull");
    page.eventually("it is played", || page.texts(".moment dd"), |h| !h.is_empty());
    page.js(
        "const e = document.querySelector('.along input'); e.value = Math.round(e.max / 2); e.dispatchEvent(new Event('input', { bubbles: true }))",
    );
    both(page, "pull", ".along");
    page.click("link", "Scene");
    page.eventually("the legs are there", || page.texts(".legs tbody tr"), |rows| !rows.is_empty());
    both(page, "scene", ".scene-plan");
    page.click("link", "Kit");
    page.reads("strap");
    page.js("document.querySelectorAll('.fold')[1].click()");
    both(page, "kit", ".pieces");
    page.click("link", "Brief");
    page.reads("Cautions");
    both(page, "brief", "body");
    page.js("dispatchEvent(new Event('beforeprint'))");
    one(page, "brief-paper", PAPER, "body");
    page.js("dispatchEvent(new Event('afterprint'))");
    page.size(PHONE);
    page.click("button", "Show as QR codes");
    page.reads("Code 1 of");
    both(page, "codes", ".hand");
    page.click("link", "Settings");
    page.find("heading", "Settings");
    both(page, "settings", "body");
    page.click("link", "Scene");
    page.eventually("the legs are there", || page.texts(".legs tbody tr"), |rows| !rows.is_empty());
    for (name, size) in [("moved-phone", PHONE), ("moved-desktop", DESKTOP)] {
        page.size(size);
        let (x, y) = middle(page, ".handle.anchor");
        page.drag_start(x, y);
        page.drag_move(x - 20.0, y + 10.0);
        page.drag_move(x - 36.0, y + 18.0);
        picture(page, name);
        page.drag_move(x, y);
        page.drag_end();
    }
}

/// The same screen in every look, and in the other language.
pub fn looks(page: &Page<'_>) {
    open(page, CLAY);
    for (radio, name) in [("Dark", "dark"), ("Bright sun", "sun"), ("Light", "light")] {
        page.click("link", "Settings");
        page.click("radio", radio);
        page.click("link", "Scene");
        page.eventually("the legs are there", || page.texts(".legs tbody tr"), |rows| !rows.is_empty());
        one(page, &format!("{name}-phone"), PHONE, ".scene-first");
        if name == "dark" {
            one(page, "dark-desktop", DESKTOP, "body");
            page.size(PHONE);
        }
    }
    page.click("link", "Settings");
    page.click("radio", "Deutsch");
    page.click("link", "Aufbau");
    page.find("heading", "Aufbauten");
    both(page, "german", "body");
}
