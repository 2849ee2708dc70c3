//! The scene: anchors moved by a pointer, by keys, by typed numbers; the rig solved anew meanwhile.

use crate::cases::CLAY;
use unmire_browser::{DESKTOP, Key, PHONE, Page};

fn open(page: &Page<'_>) {
    page.click("link", "Settings");
    page.click("radio", "Metric: kN, kg, m");
    page.click("link", "Cases");
    page.click("button", CLAY);
    page.reads("Pull needed:");
    page.click("link", "Scene");
    page.find("heading", "Scene");
    page.until("the legs are there", || {
        page.js("return document.querySelectorAll('.legs tbody tr').length").as_i64() > Some(0)
    });
}
/// The tensions of all legs, as they stand in the table.
fn tensions(page: &Page<'_>) -> String {
    page.js("return [...document.querySelectorAll('.legs td')].map(t => t.innerText).join(' ')")
        .as_str()
        .unwrap()
        .to_owned()
}
/// The number of the first anchor that the rig hangs on, as its handle stands on the drawing.
fn used(page: &Page<'_>) -> usize {
    let n = page
        .js("const rows = [...document.querySelectorAll('.legs th[scope=row]')].map(t => t.innerText).join(' '); \
         return [...document.querySelectorAll('.handle')].findIndex(h => rows.includes(h.textContent.trim()));");
    usize::try_from(n.as_i64().unwrap()).expect("the rig hangs on an anchor")
}

/// While a finger drags an anchor every tension follows; when it lets go the case says where the anchor is.
pub fn regress_a_dragged_anchor_changes_the_tensions(page: &Page<'_>) {
    open(page);
    let n = used(page);
    page.js(&format!("document.querySelectorAll('.handle')[{n}].scrollIntoView({{ block: 'center' }})"));
    let (before, text) = (tensions(page), page.js("return document.querySelector('textarea').value"));
    let middle = page.js(&format!(
        "const r = document.querySelectorAll('.handle .hold')[{n}].getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2];"
    ));
    let (x, y) = (middle[0].as_f64().unwrap(), middle[1].as_f64().unwrap());
    page.drag_start(x, y);
    let mut seen = vec![before.clone()];
    for step in 1..=4 {
        page.drag_move(x - 12.0 * f64::from(step), y + 6.0 * f64::from(step));
        page.until("the tensions follow", || tensions(page) != *seen.last().unwrap());
        seen.push(tensions(page));
    }
    assert_eq!(page.js("return document.querySelector('textarea').value"), text, "nothing is written while it moves");
    page.drag_end();
    page.until("the case says so", || page.js("return document.querySelector('textarea').value") != text);
    assert_eq!(&tensions(page), seen.last().unwrap(), "what is written is what was seen");
    assert!(seen.iter().skip(1).all(|t| *t != before), "{seen:#?}");
    page.reads("The case can be read.");
    page.reads("The case was changed since.");
}

/// Everything that a drag does can be done by steps, by typing and by keys.
pub fn regress_an_anchor_is_moved_without_a_drag(page: &Page<'_>) {
    open(page);
    let n = used(page);
    let id = page.js(&format!("return document.querySelectorAll('.handle')[{n}].textContent.trim()"));
    let id = id.as_str().unwrap().to_owned();
    page.click("button", &id);
    let value = |label: &str| {
        page.js(&format!(
            "const l = [...document.querySelectorAll('.card label')].find(l => l.innerText === '{label}'); return document.getElementById(l.htmlFor).value"
        ))
    };
    let (far, seen) = (value("Distance or paces"), tensions(page));
    page.click("button", "Distance or paces: more");
    page.until("it is farther", || value("Distance or paces") != far);
    page.click("button", "Direction or compass bearing: less");
    page.until("the tensions follow", || tensions(page) != seen);
    page.fill("Distance or paces", "20 m");
    page.key(Key::Enter);
    page.until("it is 20 m away", || value("Distance or paces") == "20 m");
    page.fill("Direction or compass bearing", "12 deg left");
    page.key(Key::Enter);
    page.until("it turned", || value("Direction or compass bearing") == "12 deg left");
    // The arrow keys, half a metre at a time.
    page.js(&format!("document.querySelectorAll('.handle')[{n}].focus()"));
    let seen = tensions(page);
    page.key(Key::Right);
    page.until("the tensions follow the key", || tensions(page) != seen);
    assert!(page.focused().1.starts_with(&format!("{id}, ")), "{:?}", page.focused());
}

/// What can't be used stays in its field with the reader's own words; the case stays as it was.
pub fn regress_bad_numbers_are_told_at_their_field(page: &Page<'_>) {
    open(page);
    let text = page.js("return document.querySelector('textarea').value");
    page.fill("Distance or paces", "20 tons");
    page.key(Key::Enter);
    let told = || page.js("return document.querySelector('.card .told').innerText");
    page.until("it is told", || told().as_str().is_some_and(|t| t.contains("20 m") || t.contains("expected")));
    assert_eq!(page.js("return document.querySelector('.card input').getAttribute('aria-invalid')"), "true");
    assert_eq!(page.js("return document.querySelector('textarea').value"), text);
    page.is_accessible();
    page.shot("bad-number-phone");
    page.fill("Distance or paces", "20 m");
    page.key(Key::Enter);
    page.until("it is told no more", || told() == "");
}

/// Anchors of every kind come and go; what a new one lacks is told at its own field.
pub fn regress_anchors_come_and_go(page: &Page<'_>) {
    open(page);
    let count = || page.js("return document.querySelectorAll('.handle').length").as_i64().unwrap();
    let before = count();
    page.click("button", "Add");
    page.until("there is one more", || count() == before + 1);
    page.reads("Anchor tree-1");
    page.fill("Girth, with a strap round it", "1.57 m");
    page.key(Key::Enter);
    page.reads("As a diameter: 0.5 m");
    page.js(
        "const s = document.querySelector('#add-kind'); s.value = 'pickets'; s.dispatchEvent(new Event('change'));",
    );
    page.click("button", "Add");
    page.reads("Anchor pickets-1");
    page.until("what it lacks is told", || {
        page.js("return document.querySelectorAll('.card .told p').length").as_i64() > Some(1)
    });
    page.is_accessible();
    page.shot("pickets-phone");
    page.click("button", "Remove pickets-1");
    page.reads("The case can be read.");
    page.click("button", "tree-1");
    page.click("button", "Remove tree-1");
    page.until("it is gone", || count() == before);
}

/// The scene is legible and accessible in both sizes.
pub fn regress_the_scene_is_accessible(page: &Page<'_>) {
    open(page);
    page.until("assumptions are weighed", || {
        page.text().contains("This matters most") || page.text().contains("Nothing is marked")
    });
    page.is_accessible();
    page.shot("scene-phone");
    let small = page.js(
        "return [...document.querySelectorAll('.handle .hold')].map(h => h.getBoundingClientRect()).filter(r => r.width < 48 || r.height < 48).length",
    );
    assert_eq!(small, 0);
    page.size(DESKTOP);
    page.is_accessible();
    page.shot("scene-desktop");
    page.size(PHONE);
    for question in ["Does its belly rest on the ground?", "Is the ground soaked?", "Slope of the way out"] {
        page.click("button", "Next");
        page.reads(question);
        page.is_accessible();
    }
}
