//! What is seen while something is held: what is painted and told, and that it stays under the finger.

use crate::cases::case_text;
use crate::scene::{middle, open, tensions};
use serde_json::Value;
use unmire_browser::{DESKTOP, PHONE, Page};

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
