//! Opening a case and looking at its rigs, as a reader does.

use serde_json::Value;
use unmire_browser::{DESKTOP, Key, PHONE, Page, root};

/// The title of an example that has several rigs.
pub(crate) const CLAY: &str = "Clay ride: in to the hubs, pines near and far";

/// The case as the text that stands on the screen for the scene.
pub(crate) fn case_text(page: &Page<'_>) -> String {
    page.js("return document.querySelector('textarea').value").as_str().unwrap_or_default().to_owned()
}
/// What the browser keeps on the device for this app: the entries of its store, the last changed last.
pub(crate) fn kept(page: &Page<'_>) -> Vec<Value> {
    let all = page.js_later(
        "const done = r => new Promise((good, bad) => { r.onsuccess = () => good(r.result); r.onerror = () => bad(r.error); }); \
         const base = await done(indexedDB.open('unmire')); \
         try { return (await done(base.transaction('entries').objectStore('entries').getAll())).sort((a, b) => a.changed - b.changed); } \
         finally { base.close(); }",
        Vec::new(),
    );
    all.as_array().cloned().unwrap_or_default()
}

/// An example is planned and shown: the drawing, the rigs, each with its verdict and what is weakest.
pub fn regress_an_example_is_planned_and_shown(page: &Page<'_>) {
    page.click("button", CLAY);
    page.find("heading", "Rigs");
    page.reads("Pull needed:");
    page.reads("times what is asked");
    let verdicts = page.eventually("there are verdicts", || page.texts(".rig .verdict"), |v| !v.is_empty());
    let words = ["holds", "holds below a stop load", "unknown", "overloaded"];
    assert!(
        verdicts.iter().all(|v| words.iter().any(|w| v.ends_with(w)) && !v.starts_with(char::is_alphabetic)),
        "{verdicts:?}"
    );
    // The drawing is really drawn, with its own style.
    page.becomes("its width", || page.js("return document.querySelector('img.drawing').naturalWidth"), 640);
    let painted = page.js_later(
        "const i = document.querySelector('img.drawing'); const c = new OffscreenCanvas(640, 400).getContext('2d'); c.drawImage(i, 0, 0); \
         return new Set(new Uint32Array(c.getImageData(0, 0, 640, 400).data.buffer)).size;",
        Vec::new(),
    );
    assert!(painted.as_i64() > Some(20), "{painted} colours");
    page.is_accessible();
    page.shot("rigs-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot("rigs-desktop");
    page.size(PHONE);
    for screen in ["Scene", "Kit", "Brief", "Settings"] {
        page.click("link", screen);
        page.becomes("the title", || page.js("return document.title"), format!("{screen} · unmire"));
        page.is_accessible();
        page.shot(&format!("{}-phone", screen.to_lowercase()));
    }
}

/// A case file with its kit file, chosen as files are; the second rig's drawing follows the choice.
pub fn regress_files_are_opened(page: &Page<'_>) {
    let examples = root().join("examples");
    page.give_files(
        "input[type=file]",
        &[&examples.join("kit/club-bag.toml"), &examples.join("check-double-line.toml")],
    );
    page.reads("Clay ride: the crew's double line, checked before the pull");
    page.reads("The case's own rig:");
    page.click("button", "Look for other rigs");
    page.eventually("there are several rigs", || page.texts(".rig").len(), |n| *n > 1);
    let drawing = || page.js("return document.querySelector('img.drawing')?.src?.length ?? 0");
    let first = page.eventually("there is a drawing", drawing, |n| *n != 0);
    page.js("document.querySelectorAll('.rig')[1].click()");
    page.eventually("there is another drawing", drawing, |n| *n != 0 && *n != first);
}

/// What is wrong with a file is said, with the line; mended as a text it is planned.
pub fn regress_a_broken_case_is_mended(page: &Page<'_>) {
    let text = std::fs::read_to_string(root().join("examples/wet-grass.toml")).unwrap();
    let broken = text.replacen("mass = \"", "mass = \"about ", 1);
    assert_ne!(text, broken);
    let file = std::env::temp_dir().join(format!("unmire-broken-{}.toml", std::process::id()));
    std::fs::write(&file, broken).unwrap();
    page.give_files("input[type=file]", &[&file]);
    page.find("heading", "The case can't be read yet");
    page.reads("vehicle.mass");
    let _ = std::fs::remove_file(&file);
    page.is_accessible();
    page.click("link", "Scene");
    page.reads("Mistakes: 1");
    page.fill("The case as text", &text);
    page.key(Key::Tab);
    page.reads("The case can be read.");
    page.click("button", "Look for rigs");
    page.reads("Pull needed:");
}

/// A found rig put into the case is judged on the page's own thread, and the case then says so itself.
pub fn regress_a_rig_is_taken_into_the_case(page: &Page<'_>) {
    page.click("button", CLAY);
    page.click("button", "Put this rig into the case");
    page.reads("The case's own rig:");
    page.reads("The case was changed since.");
    page.click("link", "Scene");
    page.find("heading", "Scene");
    page.eventually("the rig is in the case", || case_text(page), |t| t.contains("[rig]\nfamily = "));
    page.reads("The case can be read.");
}

/// What was opened is still there after a reload, and goes when it is deleted.
pub fn regress_cases_stay_on_the_device(page: &Page<'_>) {
    page.click("button", CLAY);
    page.reads("Pull needed:");
    page.eventually("it is kept", || kept(page), |all| all.len() == 1);
    page.reload();
    page.reads("Pull needed:");
    page.click("link", "Cases");
    page.reads("On this device");
    page.reload();
    page.reads("On this device");
    page.accept_next_question();
    page.click("button", &format!("Delete “{CLAY}”"));
    page.reads_no_more("On this device");
    page.eventually("nothing is kept", || kept(page), Vec::is_empty);
}
