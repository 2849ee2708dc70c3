//! The scene: anchors moved by a pointer, by keys, by typed numbers; the rig solved anew meanwhile.

use crate::cases::{CLAY, case_text};
use serde_json::Value;
use unmire_browser::{DESKTOP, Key, PHONE, Page};

pub fn open(page: &Page<'_>) {
    page.click("link", "Settings");
    page.click("radio", "Metric: kN, kg, m");
    page.click("link", "Cases");
    page.click("button", CLAY);
    page.reads("Pull needed:");
    page.click("link", "Scene");
    page.find("heading", "Scene");
    page.eventually("the legs are there", || page.texts(".legs tbody tr"), |rows| !rows.is_empty());
    page.still();
}
/// The tensions of all legs, as they stand in the table.
pub fn tensions(page: &Page<'_>) -> String {
    page.texts(".legs td").join(" ")
}
/// The number of the first anchor that the rig hangs on, as its handle stands on the drawing.
fn used(page: &Page<'_>) -> usize {
    let n = || {
        page.js("const rows = [...document.querySelectorAll('.legs th[scope=row]')].map(t => t.innerText).join(' '); \
         return [...document.querySelectorAll('.handle.anchor')].findIndex(h => rows.includes(h.textContent.trim()));")
    };
    let n = page.eventually("the rig hangs on an anchor", n, |n| n.as_u64().is_some());
    usize::try_from(n.as_u64().unwrap()).unwrap()
}

/// While a finger drags an anchor every tension follows; when it lets go the case says where the anchor is.
pub fn regress_a_dragged_anchor_changes_the_tensions(page: &Page<'_>) {
    open(page);
    let n = used(page);
    let (before, text) = (tensions(page), case_text(page));
    let middle = page.js(&format!(
        "const h = document.querySelectorAll('.handle.anchor')[{n}]; h.scrollIntoView({{ block: 'center', behavior: 'instant' }}); \
         const r = h.querySelector('.hold').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2];"
    ));
    let (x, y) = (middle[0].as_f64().unwrap(), middle[1].as_f64().unwrap());
    page.drag_start(x, y);
    let mut seen = vec![before.clone()];
    for step in 1..=4 {
        page.drag_move(x - 12.0 * f64::from(step), y + 6.0 * f64::from(step));
        page.eventually("the tensions follow", || tensions(page), |t| t != seen.last().unwrap());
        page.still();
        seen.push(tensions(page));
    }
    assert_eq!(case_text(page), text, "nothing is written while it moves");
    page.drag_end();
    page.eventually("the case says so", || case_text(page), |t| !t.is_empty() && *t != text);
    page.still();
    assert_eq!(&tensions(page), seen.last().unwrap(), "what is written is what was seen");
    assert!(seen.iter().skip(1).all(|t| *t != before), "{seen:#?}");
    page.reads("The case can be read.");
    page.reads("The case was changed since.");
}

/// Everything that a drag does can be done by steps, by typing and by keys.
pub fn regress_an_anchor_is_moved_without_a_drag(page: &Page<'_>) {
    open(page);
    let n = used(page);
    let id = page.js(&format!("return document.querySelectorAll('.handle.anchor')[{n}].textContent.trim()"));
    let id = id.as_str().unwrap().to_owned();
    page.click("button", &id);
    let value = |label: &str| {
        page.js(&format!(
            "const l = [...document.querySelectorAll('.card label')].find(l => l.innerText === '{label}'); return document.getElementById(l.htmlFor).value"
        ))
    };
    let far = page.eventually("there is a distance", || value("Distance or paces"), |v| v.is_string());
    let seen = tensions(page);
    page.click("button", "Distance or paces: more");
    page.eventually("it is farther", || value("Distance or paces"), |v| v.is_string() && *v != far);
    page.click("button", "Direction or compass bearing: less");
    page.eventually("the tensions follow", || tensions(page), |t| *t != seen);
    page.fill("Distance or paces", "20 m");
    page.key(Key::Enter);
    page.becomes("its distance in the field", || value("Distance or paces"), "20 m");
    page.fill("Direction or compass bearing", "12 deg left");
    page.key(Key::Enter);
    page.becomes("its direction in the field", || value("Direction or compass bearing"), "12 deg left");
    // The arrow keys, half a metre at a time.
    page.js(&format!("document.querySelectorAll('.handle.anchor')[{n}].focus()"));
    page.still();
    let seen = tensions(page);
    page.key(Key::Right);
    page.eventually("the tensions follow the key", || tensions(page), |t| *t != seen);
    page.eventually("the handle keeps the focus", || page.focused(), |f| f.1.starts_with(&format!("{id}, ")));
}

/// What can't be used stays in its field with the reader's own words; the case stays as it was.
pub fn regress_bad_numbers_are_told_at_their_field(page: &Page<'_>) {
    open(page);
    let text = case_text(page);
    page.fill("Distance or paces", "20 tons");
    page.key(Key::Enter);
    let told = || page.js("return document.querySelector('.card .told').innerText");
    page.eventually("it is told", told, |t| t.as_str().is_some_and(|t| t.contains("20 m") || t.contains("expected")));
    let invalid = || page.js("return document.querySelector('.card input').getAttribute('aria-invalid')");
    page.becomes("what the field says of itself", invalid, "true");
    assert_eq!(case_text(page), text);
    page.is_accessible();
    page.shot("bad-number-phone");
    page.fill("Distance or paces", "20 m");
    page.key(Key::Enter);
    page.becomes("what is told", told, "");
}

/// Anchors of every kind come and go; what a new one lacks is told at its own field.
pub fn regress_anchors_come_and_go(page: &Page<'_>) {
    open(page);
    let count = || page.texts(".handle.anchor .name").len();
    let before = count();
    page.click("button", "Add");
    page.becomes("the number of anchors", count, before + 1);
    page.reads("Anchor tree-1");
    page.fill("Girth, with a strap round it", "1.57 m");
    page.key(Key::Enter);
    page.reads("As a diameter: 0.5 m");
    page.js(
        "const s = document.querySelector('#add-kind'); s.value = 'pickets'; s.dispatchEvent(new Event('change'));",
    );
    page.click("button", "Add");
    page.reads("Anchor pickets-1");
    page.eventually("what it lacks is told", || page.texts(".card .told p"), |told| told.len() > 1);
    page.is_accessible();
    page.shot("pickets-phone");
    page.click("button", "Remove pickets-1");
    page.reads("The case can be read.");
    page.click("button", "tree-1");
    page.click("button", "Remove tree-1");
    page.becomes("the number of anchors", count, before);
}

/// The middle of something that can be taken hold of, in the window that is scrolled to it.
pub fn middle(page: &Page<'_>, css: &str) -> (f64, f64) {
    page.still();
    page.js(&format!("document.querySelector('{css}').scrollIntoView({{ block: 'center', behavior: 'instant' }})"));
    let m = page.js(&format!(
        "const r = document.querySelector('{css} .hold').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2];"
    ));
    (m[0].as_f64().unwrap(), m[1].as_f64().unwrap())
}
/// The vehicle is dragged: everything else stays where it is on the ground, so that every anchor is elsewhere seen from it.
pub fn regress_the_vehicle_is_moved_by_drag_and_by_steps(page: &Page<'_>) {
    open(page);
    let text = || case_text(page);
    let (before, seen) = (text(), tensions(page));
    let (x, y) = middle(page, ".handle.car");
    page.drag_start(x, y);
    page.drag_move(x + 30.0, y + 5.0);
    page.eventually("the tensions follow", || tensions(page), |t| *t != seen);
    page.still();
    let shown = tensions(page);
    assert_eq!(text(), before);
    page.drag_end();
    let other = |than: String| move |now: &String| !now.is_empty() && *now != than;
    page.eventually("the case says so", text, other(before));
    page.still();
    assert_eq!(tensions(page), shown, "what is written is what was seen");
    page.reads("The case can be read.");
    let dragged = text();
    page.click("button", "To the left (+) or right (−): more");
    page.eventually("the step is written", text, other(dragged));
    page.fill("Ahead (+) or back (−)", "2 tons");
    page.key(Key::Enter);
    page.reads("can mean short tons");
    page.fill("Ahead (+) or back (−)", "1 m");
    page.key(Key::Enter);
    page.reads_no_more("can mean short tons");
    page.js("document.querySelector('.handle.car').focus()");
    page.still();
    let stepped = text();
    page.key(Key::Up);
    page.eventually("the key moves it", text, other(stepped));
    page.reads("The case can be read.");
}

/// A block is hung at another anchor: chosen beside the drawing, by a key, by a drag.
pub fn regress_a_block_is_hung_elsewhere(page: &Page<'_>) {
    page.click("button", "Clay ride: the crew's double line, checked before the pull");
    page.reads("The case's own rig:");
    page.click("link", "Scene");
    page.find("heading", "Scene");
    page.click("button", "Add");
    page.reads("Anchor tree-1");
    page.click("button", "block-1");
    let hangs = |at: &str| {
        let wanted = format!("anchors = [{{ anchor = \"{at}\"");
        page.eventually(&format!("it hangs at {at}"), || case_text(page), |t| t.contains(&wanted));
    };
    hangs("oak");
    page.js("const s = document.querySelector('#hangs-at'); s.value = 'tree-1'; s.dispatchEvent(new Event('change'));");
    hangs("tree-1");
    page.js("document.querySelector('.handle.hung').focus()");
    page.key(Key::Right);
    hangs("oak");
    let (x, y) = middle(page, ".handle.hung");
    let new = page.js("const r = [...document.querySelectorAll('.handle.anchor')].find(h => h.textContent.trim() === 'tree-1').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2];");
    page.drag_start(x, y);
    page.drag_move(new[0].as_f64().unwrap() + 42.0, new[1].as_f64().unwrap() - 20.0);
    page.drag_end();
    hangs("tree-1");
    page.is_accessible();
}

/// Helpers' vehicles and obstacles come, are placed, say what is wrong with them, and go.
pub fn regress_helpers_and_obstacles_come_and_go(page: &Page<'_>) {
    open(page);
    let says = |what: &str| {
        page.eventually(&format!("the case says {what}"), || case_text(page), |t| t.contains(what));
    };
    let count = || page.js("return document.querySelectorAll('.handle.other').length").as_i64();
    let before = count().unwrap();
    page.is_accessible();
    page.click("button", "Add the vehicle or obstacle");
    page.becomes("the number of other things, with a helper,", count, Some(before + 1));
    page.reads("The case can be read.");
    says("name = \"helper-1\"");
    page.fill("Mass", "2.8 t .. 2.9 t");
    page.key(Key::Enter);
    says("mass = \"2.8 t .. 2.9 t\"");
    page.is_accessible();
    page.shot_whole("helper-phone");
    page.js(
        "const s = document.querySelector('#add-other'); s.value = 'obstacle'; s.dispatchEvent(new Event('change'));",
    );
    page.click("button", "Add the vehicle or obstacle");
    page.becomes("the number of other things, with an obstacle,", count, Some(before + 2));
    page.fill("Corners: metres ahead, left; next corner", "3, -6; 23, x");
    page.key(Key::Enter);
    page.until("what is wrong is told", || {
        page.js("return document.querySelector('[id=obstacle-0--outline-told]').innerText.length > 20") == true
    });
    let typed = || page.js("return document.querySelector('[id=obstacle-0--outline]').value");
    page.becomes("what was typed", typed, "3, -6; 23, x");
    page.fill("Corners: metres ahead, left; next corner", "3, -6; 8, -6; 8, -9");
    page.key(Key::Enter);
    says("outline = [[3.0, -6.0], [8.0, -6.0], [8.0, -9.0]]");
    let seen = case_text(page);
    page.click("button", "Ahead (+) or back (−): more");
    page.eventually("it was moved", || case_text(page), |t| !t.is_empty() && *t != seen);
    page.is_accessible();
    page.click("button", "Remove obstacle-1");
    page.click("button", "helper-1");
    page.click("button", "Remove helper-1");
    page.becomes("the number of other things", count, Some(before));
    page.reads("The case can be read.");
}

/// Paces and a compass bearing stand in the case as they were taken; a device tells slopes.
pub fn regress_paces_bearings_and_the_device(page: &Page<'_>) {
    open(page);
    let says = |what: &str| {
        page.eventually(&format!("the case says {what}"), || case_text(page), |t| t.contains(what));
    };
    page.fill("Distance or paces", "20 paces");
    page.key(Key::Enter);
    says("paces = 20");
    page.fill("Direction or compass bearing", "210 deg");
    page.key(Key::Enter);
    says("bearing = \"210 deg\"");
    page.tilt(40.0, 7.0, 9.0);
    for _ in 0..3 {
        page.click("button", "Next");
    }
    page.reads("Slope of the way out");
    page.click("button", "Take it from this phone");
    says("grade = \"7 deg up\"");
    says("side_slope = \"9 deg left high\"");
}

/// The ground that nobody may stand on is drawn with the rig, hatched and with its edge and its words, just as the planner
/// gives it; it goes while something moves and comes back. The drawings of the rigs and of the brief have it too.
pub fn regress_the_ground_to_keep_clear_is_drawn(page: &Page<'_>) {
    let report = std::fs::read_to_string(unmire_browser::root().join("examples/wheel-deep-mud.expected.json")).unwrap();
    let report: Value = serde_json::from_str(&report).unwrap();
    let keep = &report["plans"][0]["keep_out"];
    let rule = keep["rule"].as_str().unwrap();
    let shown = || page.js("return document.querySelector('.plan .keep').getAttribute('d')");
    open(page);
    let path = page.eventually("it is drawn", shown, |d| d.is_string());
    let path = path.as_str().unwrap();
    let corners: usize = keep["rings"].as_array().unwrap().iter().map(|r| r.as_array().unwrap().len()).sum();
    assert_eq!(path.matches(['M', 'L']).count(), corners, "{path}");
    assert!(corners > 8);
    page.reads(rule);
    page.reads("At least 32.1 m round every loaded point.");
    page.becomes("the words", || page.texts(".plan .name").contains(&"hatched: keep clear".to_owned()), true);
    let fill = || page.js("return getComputedStyle(document.querySelector('.plan .keep')).fill");
    page.becomes("the hatch", fill, "url(\"#hatch\")");
    for look in ["Dark", "Bright sun", "Light"] {
        page.click("link", "Settings");
        page.click("radio", look);
        page.click("link", "Scene");
        page.eventually("it is drawn", shown, |d| d.is_string());
        page.is_accessible();
        page.shot_whole(&format!("keep-clear-{look}"));
    }
    let (x, y) = middle(page, ".handle.anchor");
    page.drag_start(x, y);
    page.drag_move(x - 30.0, y + 10.0);
    page.becomes("whether it is gone", || page.js("return document.querySelector('.plan .keep') === null"), true);
    page.drag_end();
    page.eventually("it is drawn anew", shown, |d| d.as_str().is_some_and(|d| d != path));
    for screen in ["Rigs", "Brief"] {
        page.click("link", screen);
        let drawing = || page.js("return decodeURIComponent(document.querySelector('img.drawing').src)");
        page.eventually("the drawing has it", drawing, |d| {
            d.as_str().is_some_and(|d| d.contains("keep-edge") && d.contains("Ground to keep clear"))
        });
    }
}

/// The bearing of an anchor from the device's compass; one that tells no north, one that is not allowed and one that is not
/// there are told in words, and the field can be typed into as before.
pub fn regress_the_compass_of_the_device(page: &Page<'_>) {
    const FIELD: &str = "Direction or compass bearing";
    open(page);
    let says = |what: &str| {
        page.eventually(&format!("the case says {what}"), || case_text(page), |t| t.contains(what));
    };
    // The card of the anchor has one, and so has the card of the vehicle.
    let ask = || {
        page.until("the compass is asked", || {
            page.js("document.querySelector('.scene-anchors .card .sensor button').click(); return true") == true
        });
    };
    // Alpha counts against the clock. A device that stands up points nowhere.
    page.js("window.turn = setInterval(() => { for (const beta of [80, 5]) dispatchEvent(new DeviceOrientationEvent( \
             'deviceorientationabsolute', { alpha: beta === 80 ? 1 : 150, beta, gamma: 2, absolute: true })); }, 20);");
    ask();
    says("bearing = \"210 deg\"");
    page.js("clearInterval(window.turn)");
    let text = case_text(page);
    // Angles that are not counted from north are no bearing.
    page.tilt(40.0, 7.0, 9.0);
    ask();
    page.reads("This device tells no angles. Type them.");
    page.js("DeviceOrientationEvent.requestPermission = async () => 'denied'");
    ask();
    page.reads("The device was not allowed to tell its angles. Type them.");
    page.is_accessible();
    assert_eq!(case_text(page), text);
    page.fill(FIELD, "95 deg");
    page.key(Key::Enter);
    says("bearing = \"95 deg\"");
    page.js("DeviceOrientationEvent.requestPermission = async () => { throw new Error('no gesture'); }");
    ask();
    page.reads("The device was not allowed to tell its angles. Type them.");
    page.js("DeviceOrientationEvent.requestPermission = async () => 'granted'");
    page.js(
        "window.turn = setInterval(() => { const e = new Event('deviceorientation'); \
             Object.assign(e, { alpha: 3, beta: 0, gamma: 0, webkitCompassHeading: 301.6 }); dispatchEvent(e); }, 20);",
    );
    ask();
    says("bearing = \"302 deg\"");
    page.js("clearInterval(window.turn); delete window.DeviceOrientationEvent");
    // The slopes are asked of it in the same way.
    for _ in 0..3 {
        page.click("button", "Next");
    }
    page.reads("Slope of the way out");
    page.click("button", "Take it from this phone");
    page.reads("This device tells no angles. Type them.");
    page.is_accessible();
}

/// The scene is legible and accessible in both sizes.
pub fn regress_the_scene_is_accessible(page: &Page<'_>) {
    open(page);
    page.eventually(
        "assumptions are weighed",
        || page.text(),
        |t| t.contains("This matters most") || t.contains("Nothing is marked"),
    );
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
