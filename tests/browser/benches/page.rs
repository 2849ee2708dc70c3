//! How quick the app is in a browser: until it can be used, and one frame while a finger drags an anchor.
//!
//! `cargo bench -p unmire-browser`. The processor is slowed six times for the drag, as a cheap phone is slower than this
//! machine.
#![allow(clippy::print_stdout, reason = "what was measured is printed")]
#![allow(clippy::unwrap_used, reason = "a measurement that cannot go on has failed")]

use serde_json::{Value, json};
use unmire_browser::Page;

/// Drags something to and fro, paints one dot, or does nothing, and gives for each frame (ms): the time until what follows from the move has
/// been solved and painted, until the page has been laid out, and until the browser has drawn the frame. If asked, it counts how
/// often a number that is painted changes, which takes time.
const DRAG: &str = "
    const handle = a[1]?.startsWith('.'), h = document.querySelector(handle ? a[1] : '.handle.anchor');
    const dot = document.querySelector('.plan + canvas').getContext('2d');
    h.scrollIntoView({ block: 'center', behavior: 'instant' });
    const r = h.querySelector('.hold').getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2;
    const event = (type, dx, dy) => new PointerEvent(type, { bubbles: true, pointerId: 1, clientX: x + dx, clientY: y + dy });
    const port = new MessageChannel(), frames = [], context = CanvasRenderingContext2D.prototype, drawImage = context.drawImage;
    let changes = 0, before = '', painted = '';
    if (a[2]) {
        // Every letter of a number is the same part of a picture whenever it is put.
        context.drawImage = function (image, ...at) {
            if (!this.canvas.matches('.head')) painted += at.length > 2 ? at.slice(0, 2) + ' ' : '';
            drawImage.call(this, image, ...at);
        };
    }
    if (handle) h.dispatchEvent(event('pointerdown', 0, 0));
    for (let i = 0; i < a[0]; i++) {
        await new Promise(requestAnimationFrame);
        const move = event('pointermove', 40 * Math.sin(i / 9), 25 * Math.sin(i / 7));
        const start = performance.now();
        if (handle) h.dispatchEvent(move);
        else if (a[1]) dot.fillRect(i % 50, 9, 1, 1);
        // What follows a moment later is part of it.
        for (let turn = 0; turn < 3; turn++) await null;
        const scripted = performance.now() - start;
        document.querySelector('.plan').getBoundingClientRect();
        document.querySelector('.legs').getBoundingClientRect();
        const laidOut = performance.now() - start;
        if (painted !== before) changes++;
        [before, painted] = [painted, ''];
        // What comes next is the browser's part of this frame, and then the message.
        const again = performance.now();
        await new Promise(done => { port.port1.onmessage = done; port.port2.postMessage(0); });
        frames.push([scripted, laidOut, laidOut + performance.now() - again]);
    }
    h.dispatchEvent(event('pointercancel', 0, 0));
    context.drawImage = drawImage;
    return { frames, changes };";

fn main() {
    // Cargo asks benchmarks for their lists and tries them as tests too.
    if !std::env::args().any(|a| a == "--bench") {
        return;
    }
    unmire_browser::once(|page| {
        ready(page);
        // Not by names: to be asked for names once makes a browser keep them up to date from then on, at a cost.
        page.js("[...document.querySelectorAll('button.row')].find(b => b.textContent === 'Clay ride: in to the hubs, pines near and far').click()");
        page.reads("Pull needed:");
        page.js("location.hash = '#/scene'");
        page.until("the legs are there", || {
            page.js("return document.querySelectorAll('.legs tbody tr').length").as_i64() > Some(0)
        });
        let drags = [Some(".handle.anchor"), Some(".handle.car"), Some("one dot"), None];
        for (what, slower) in drags.into_iter().flat_map(|what| [(what, 1.0), (what, 6.0)]) {
            page.slower(slower);
            // The first ones warm up.
            let (_, changes) = drag(page, what, 60, true);
            let uses = ["ScriptDuration", "RecalcStyleDuration", "LayoutDuration", "TaskDuration"];
            let before = uses.map(|u| page.processor_time(u));
            let (frames, _) = drag(page, what, 400, false);
            let used = uses.map(|u| page.processor_time(u));
            let said = what.map_or("nothing moves".to_owned(), |what| format!("{what} moves"));
            println!("{said}, processor {slower} times slower, {changes} of 60 frames changed a number:");
            for ((what, a), b) in uses.iter().zip(before).zip(used) {
                println!("  {what}: {:.2} ms of processor time a frame", (b - a) / 400.0 * 1e3);
            }
            for (i, what) in ["solved and painted", "laid out too", "drawn too"].into_iter().enumerate() {
                println!("  {what}: {}", told(frames.iter().map(|f| f[i]).collect()));
            }
        }
        page.slower(1.0);
    });
}

fn drag(page: &Page<'_>, what: Option<&str>, frames: u32, count: bool) -> (Vec<[f64; 3]>, u64) {
    let told = page.js_later(DRAG, vec![json!(frames), json!(what), json!(count)]);
    let pair = |f: &Value| [0, 1, 2].map(|i| f[i].as_f64().unwrap());
    (told["frames"].as_array().unwrap().iter().map(pair).collect(), told["changes"].as_u64().unwrap())
}

/// Middle, a tenth, 95th percentile, greatest and mean.
fn told(mut all: Vec<f64>) -> String {
    all.sort_by(f64::total_cmp);
    let at = |share: f64| all[((all.len() as f64 * share) as usize).min(all.len() - 1)];
    let mean = all.iter().sum::<f64>() / all.len() as f64;
    format!(
        "{:.1} ms (a tenth under {:.1}, 95 %: {:.1}, most {:.1}, mean {mean:.2})",
        at(0.5),
        at(0.1),
        at(0.95),
        at(1.0)
    )
}

/// Until the app can be used: at the first visit, and from the device.
fn ready(page: &Page<'_>) {
    let time = || page.js("return performance.getEntriesByName('ready')[0].startTime").as_f64().unwrap();
    let first = time();
    page.js_later("await navigator.serviceWorker.ready; return null;", Vec::new());
    page.until("the page is under control", || page.js("return navigator.serviceWorker.controller !== null") == true);
    let later = (0..15)
        .map(|_| {
            page.reload();
            time()
        })
        .collect();
    println!("ready: at the first visit {first:.0} ms; from the device {}", told(later));
}
