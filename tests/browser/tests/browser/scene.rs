//! The scene: anchors moved by a pointer, by keys, by typed numbers; the rig solved anew meanwhile.

use crate::cases::{CLAY, case_text};
use serde_json::Value;
use unmire_browser::{DESKTOP, Key, PHONE, Page};

fn open(page: &Page<'_>) {
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
fn tensions(page: &Page<'_>) -> String {
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
fn verdict(page: &Page<'_>) -> String {
    page.texts(".now .verdict").concat()
}

/// A rig that holds is dragged until it is overloaded, and back: the verdict above the drawing follows while the finger moves,
/// and nothing is pushed away from the finger.
pub fn regress_a_rig_goes_from_holds_to_overloaded_while_it_is_dragged(page: &Page<'_>) {
    open(page);
    page.size(DESKTOP);
    page.eventually("it holds", || verdict(page), |v| v.contains("holds"));
    let told =
        || page.js("return document.querySelector('.board [role=status]').textContent").as_str().unwrap().to_owned();
    let board = || page.js("const r = document.querySelector('.plan').getBoundingClientRect(); return [r.x, r.y]");
    let (x, y) = middle(page, ".handle.anchor");
    let (stood, place) = (told(), board());
    assert_eq!(stood, "");
    page.js(READ);
    page.drag_start(x, y);
    let mut seen = vec![stood];
    for step in 1..=24 {
        page.drag_move(x - 12.0 * f64::from(step), y + 8.0 * f64::from(step));
        page.eventually("it follows", told, |now| now != seen.last().unwrap());
        seen.push(told());
        assert_eq!(painted_above(page), *seen.last().unwrap(), "what is painted is what is told");
        if seen.last().unwrap().starts_with("overloaded") {
            break;
        }
    }
    let last = seen.last().unwrap();
    assert!(last.starts_with("overloaded") && last.contains("Weakest: "), "{seen:#?}");
    assert!(last.ends_with("As it stands now. The whole pull is judged when you let go."), "{seen:#?}");
    page.eventually("the table follows when it rests", || tensions(page), |t| t.contains("kN"));
    assert_eq!(verdict(page), "", "what was judged of the place before is not shown");
    assert_eq!(board(), place, "the drawing stays under the finger");
    page.shot("dragged-desktop");
    page.drag_move(x, y);
    let holds = page.eventually("it holds again", told, |t| t.contains("holds"));
    assert_eq!(painted_above(page), holds);
    page.drag_end();
    page.becomes("what is told of it", told, String::new());
    page.becomes(
        "whether the verdict waits",
        || page.js("return document.querySelector('.first.waits') === null"),
        true,
    );
    assert!(verdict(page).contains("holds"));
    page.size(PHONE);
}

/// Reads what is painted on a canvas: which part of a picture is which text is known from when it was written there, also of a
/// picture that was made of that. `painted` gives the texts, from top to bottom.
const READ: &str = "
    const page = CanvasRenderingContext2D.prototype, unseen = OffscreenCanvasRenderingContext2D.prototype;
    const { fillText, drawImage, clearRect, fillRect } = page, still = OffscreenCanvas.prototype.transferToImageBitmap;
    const put = new Map(), of = c => put.get(c) ?? put.set(c, []).get(c);
    const wipe = (c, x, y, w, h) => put.set(c, of(c).filter(t => !(t.x >= x && t.x + t.w <= x + w && t.y >= y && t.y < y + h)));
    page.clearRect = function (...at) { wipe(this.canvas, ...at); clearRect.apply(this, at); };
    page.fillRect = function (...at) { wipe(this.canvas, ...at); fillRect.apply(this, at); };
    page.fillText = function (text, x, y, ...most) {
        (this.canvas.texts ??= []).push({ text, x, y });
        if (this.canvas.isConnected) of(this.canvas).push({ text, x, y, w: 0 });
        fillText.call(this, text, x, y, ...most);
    };
    const copy = unseen.drawImage;
    unseen.drawImage = function (image, ...at) { this.canvas.texts = image.texts; copy.call(this, image, ...at); };
    OffscreenCanvas.prototype.transferToImageBitmap = function () {
        const texts = this.texts;
        return Object.assign(still.call(this), { texts });
    };
    page.drawImage = function (image, ...at) {
        const [x, y, w, h, toX, toY] = at;
        const text = (image.texts ?? []).find(t => at.length > 2 && t.x >= x && t.x < x + w && t.y > y && t.y <= y + h);
        if (text) {
            wipe(this.canvas, toX, toY, w, h);
            of(this.canvas).push({ text: text.text, x: toX, y: toY, w });
        }
        drawImage.call(this, image, ...at);
    };
    window.painted = css => {
        const lines = [];
        for (const t of of(document.querySelector(css)).toSorted((a, b) => a.y - b.y || a.x - b.x)) {
            const last = lines.at(-1);
            if (last && last.y === t.y && last.end === t.x) [last.text, last.end] = [last.text + t.text, t.x + t.w];
            else lines.push({ text: t.text, y: t.y, end: t.x + t.w });
        }
        return lines.map(l => l.text);
    };";

/// What is painted above the drawing, without the verdict's shape.
fn painted_above(page: &Page<'_>) -> String {
    let text = page.js("return window.painted('canvas.head').join(' ')");
    let text = text.as_str().unwrap_or_default().replace(['●', '◐', '■', '?'], "");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is painted over the drawing while a finger moves something is what the drawing shows when it lets go: the lines and
/// their tensions, the handle, the vehicle with its way out.
pub fn regress_what_is_painted_is_what_is_drawn(page: &Page<'_>) {
    open(page);
    page.js(READ);
    let painted = || page.js("return window.painted('.plan + canvas').sort().join('; ')");
    let said = || page.js("return document.querySelector('.board [role=status]').textContent");
    let drawn = || {
        page.js("return [...document.querySelectorAll('.plan .tension')].filter(t => t.textContent).map(t => t.textContent).sort().join('; ')")
    };
    let away = || {
        page.js(
            "return [...document.querySelectorAll('.away')].map(e => e.dataset.of ?? e.className.baseVal).join('; ')",
        )
    };
    page.js("window.Apart = OffscreenCanvas");
    let older = "delete window.OffscreenCanvas";
    for (browser, css, hidden) in
        [("", ".handle.anchor", "rig away"), ("", ".handle.car", "vehicle-0"), (older, ".handle.anchor", "rig away")]
    {
        page.js(browser);
        let (x, y) = middle(page, css);
        page.drag_start(x, y);
        page.drag_move(x - 20.0, y + 11.0);
        page.drag_move(x - 24.0, y + 14.0);
        page.eventually("the rig is painted and not drawn", away, |a| a.as_str().is_some_and(|a| a.contains(hidden)));
        page.still();
        let under = page.js(&format!(
            "const c = document.querySelector('.plan + canvas'), r = c.getBoundingClientRect(), k = c.width / r.width; \
             const dot = new Apart(1, 1).getContext('2d', {{ willReadFrequently: true }}); \
             dot.drawImage(c, (r.x - {}) * k, (r.y - {}) * k); return dot.getImageData(0, 0, 1, 1).data[3]",
            x - 24.0,
            y + 14.0
        ));
        assert_eq!(under, 255, "the handle is painted under the finger");
        let seen = painted();
        assert!(seen.as_str().is_some_and(|s| s.contains(" kN; ")), "{seen}");
        page.becomes("what the drawing below says where it rests", drawn, seen.clone());
        let (above, said) = (painted_above(page), said());
        let said = said.as_str().unwrap_or_default().split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(above, said, "what stands above the drawing is what is told to who can't see it");
        assert!(above.contains("Weakest: "), "{above}");
        page.drag_end();
        page.becomes("what is not drawn", away, Value::String(String::new()));
        page.becomes("what the drawing says where it was let go", drawn, seen);
    }
}

/// The drawing may move on the page while something is held.
pub fn regress_what_is_held_stays_under_the_finger_though_the_page_was_scrolled(page: &Page<'_>) {
    open(page);
    let text = case_text(page);
    let dragged = |css: &str, scrolled: i32, rests: bool| {
        // From where it stood at first.
        page.js(&format!(
            "const t = document.querySelector('textarea'); t.value = {}; t.dispatchEvent(new Event('change'))",
            Value::String(text.clone())
        ));
        page.becomes("the case as it was", || case_text(page), text.clone());
        let (x, y) = middle(page, css);
        page.drag_start(x, y);
        page.drag_move(x - 10.0, y + 5.0);
        page.js(&format!("scrollBy({{ top: {scrolled}, behavior: 'instant' }})"));
        if rests {
            page.drag_move(x - 11.0, y + 5.0);
            page.still();
        }
        // There on the drawing, wherever that is.
        page.drag_move(x - 20.0, y + 39.0 - f64::from(scrolled));
        page.still();
        let told = page.js("return document.querySelector('.board [role=status]').textContent");
        page.drag_end();
        (told, page.eventually("the case says so", || case_text(page), |t| *t != text))
    };
    for (css, rests) in [(".handle.anchor", false), (".handle.anchor", true), (".handle.car", false)] {
        assert_eq!(dragged(css, 31, rests), dragged(css, 0, rests), "{css}");
    }
}

/// What is held can go, and the window can get another size: then nothing is moved any more and all can be moved again.
pub fn regress_a_drag_that_is_cut_short_leaves_the_scene_whole(page: &Page<'_>) {
    open(page);
    let away = || page.js("return document.querySelectorAll('.away, .waits').length").as_i64();
    let cut: [(&str, &dyn Fn()); 2] = [
        ("the window gets another size", &|| page.size(DESKTOP)),
        ("the anchor is removed", &|| {
            page.js("[...document.querySelectorAll('button')].find(b => b.textContent.trim().startsWith('Remove ')).click()");
        }),
    ];
    for (what, cut) in cut {
        let text = case_text(page);
        let (x, y) = middle(page, ".handle.anchor");
        page.drag_start(x, y);
        page.drag_move(x - 20.0, y + 11.0);
        page.eventually("it is painted", away, |n| *n > Some(1));
        assert_eq!(case_text(page), text);
        cut();
        page.becomes(&format!("what is not drawn when {what}"), away, Some(0));
        let text = case_text(page);
        page.drag_move(x - 30.0, y + 16.0);
        page.drag_end();
        page.still();
        assert_eq!(case_text(page), text, "nothing is written when {what}");
        // The next drag goes on as ever.
        let (x, y) = middle(page, ".handle.anchor");
        page.drag_start(x, y);
        page.drag_move(x - 20.0, y + 11.0);
        page.eventually("it is painted", away, |n| *n > Some(0));
        page.drag_end();
        page.eventually("the case says so", || case_text(page), |t| *t != text);
    }
    page.size(PHONE);
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
