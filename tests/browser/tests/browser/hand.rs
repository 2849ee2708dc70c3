//! Handing a case on: as the file that the command line reads, and as codes from one screen to another with no network.

use crate::cases::CLAY;
use crate::kit::open;
use serde_json::json;
use std::process::Command;
use unmire_browser::{DESKTOP, PHONE, Page, Server, root};

/// An example that needs a kit file.
const DOUBLE: &str = "Clay ride: the crew's double line, checked before the pull";

fn example(file: &str) -> String {
    std::fs::read_to_string(root().join("examples").join(file)).unwrap()
}
/// Opens an example and shows its codes; gives what a camera reads off them.
fn codes(page: &Page<'_>, title: &str) -> Vec<String> {
    open(page, title);
    page.click("link", "Brief");
    page.click("button", "Show as QR codes");
    page.reads("Code 1 of");
    let mut read = vec![page.read_code()];
    let of: usize = read[0].split('/').nth(2).unwrap().parse().unwrap();
    for n in 2..=of {
        page.click("button", "Next code");
        page.reads(&format!("Code {n} of {of}"));
        read.push(page.read_code());
    }
    let shown = || page.js("return document.querySelector('#hand-text').value");
    page.becomes("the text, which says what the pictures say,", shown, read.join("\n"));
    read
}

/// A case with its kit goes from one device to another by the pictures of its codes, with no network on either, and
/// comes out as the same files, byte for byte.
pub fn regress_codes_carry_a_case_without_a_network(page: &Page<'_>) {
    let read = codes(page, DOUBLE);
    assert!(read.len() > 1);
    page.is_accessible();
    page.shot_whole("hand-codes-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("hand-codes-desktop");
    page.size(PHONE);
    // Another device: another address, so another store. It was loaded once, and now there is no network.
    let other = Server::start(page.program());
    page.open_at(&other.address());
    page.js_later("await navigator.serviceWorker.ready; return null;", Vec::new());
    page.until("the page is under control", || page.js("return navigator.serviceWorker.controller !== null") == true);
    other.stop();
    page.server.stop();
    page.reload();
    page.find("heading", "Take a case from another phone");
    page.still();
    assert!(!page.text().contains("On this device"), "another device knows nothing of the first");
    // In another order, the first twice, a line broken.
    let mut parts = read.clone();
    parts.reverse();
    parts.push(read[0].clone());
    page.fill("Text of the codes", &parts[0]);
    page.click("button", "Take it in");
    page.reads(&format!("1 of {} codes are here.", read.len()));
    page.fill("Text of the codes", &parts[1..].join("\n"));
    page.click("button", "Take it in");
    page.reads("The case's own rig:");
    page.click("link", "Brief");
    let (name, text) = page.saves(|| page.click("button", "Save the case file"));
    assert_eq!((name.as_str(), &text), ("check-double-line.toml", &example("check-double-line.toml")));
    let (name, text) = page.saves(|| page.click("button", "Save the kit file"));
    assert_eq!((name.as_str(), &text), ("club-bag.toml", &example("kit/club-bag.toml")));
}

/// A wrong text, a damaged one and one of another version are told, and nothing is opened.
pub fn regress_wrong_codes_are_told(page: &Page<'_>) {
    let read = codes(page, CLAY);
    page.click("link", "Cases");
    let mut damaged: Vec<String> = read.clone();
    let with = if damaged[0].as_bytes()[60] == b'0' { "1" } else { "0" };
    damaged[0].replace_range(60..=60, with);
    for (text, told) in [
        ("good morning".to_owned(), "This is no part of a case."),
        (read[0].replacen("UNMIRE1", "UNMIRE9", 1), "It was packed by another version of the app. Update both."),
        (damaged.join("\n"), "Something was changed on the way. Begin again with the first code."),
    ] {
        page.js_later(
            "const f = document.querySelector('.hand textarea'); f.value = a[0]; f.dispatchEvent(new Event('input', { bubbles: true })); return null;",
            vec![json!(text)],
        );
        page.click("button", "Take it in");
        page.reads(told);
        page.is_accessible();
    }
    page.shot_whole("hand-wrong-phone");
    page.find("heading", "Take a case from another phone");
}

/// The camera: what the browser's own reader of codes sees is taken part by part until the case is whole, and the
/// camera is let go. The picture and the reader are given by the trial: this browser has neither.
pub fn regress_a_camera_takes_the_codes(page: &Page<'_>) {
    let read = codes(page, CLAY);
    page.js_later(
        "const seen = a[0]; let n = 0; \
         window.BarcodeDetector = class { constructor(o) { if (o.formats[0] !== 'qr_code') throw 'formats'; } \
             async detect(v) { if (v.tagName !== 'VIDEO') throw 'video'; return n < seen.length ? [{ rawValue: seen[n++] }] : []; } }; \
         const stream = document.createElement('canvas'), pen = stream.getContext('2d'); setInterval(() => pen.fillRect(Math.random(), 0, 9, 9), 50); \
         window.track = null; \
         navigator.mediaDevices.getUserMedia = async c => { if (c.video.facingMode !== 'environment') throw 'facing'; \
             const s = stream.captureStream(5); window.track = s.getTracks()[0]; return s; }; return null;",
        vec![json!(read)],
    );
    page.click("link", "Cases");
    page.click("button", "Read codes with the camera");
    page.reads("Pull needed:");
    page.find("heading", "Rigs");
    page.becomes("the camera", || page.js("return window.track.readyState"), "ended");
    page.click("link", "Brief");
    let (_, text) = page.saves(|| page.click("button", "Save the case file"));
    assert_eq!(text, example("wheel-deep-mud.toml"));
    // Where it is not allowed the page says what else can be done.
    page.js("navigator.mediaDevices.getUserMedia = async () => { throw new DOMException('no', 'NotAllowedError'); }");
    page.click("link", "Cases");
    page.click("button", "Read codes with the camera");
    page.reads("The camera could not be used.");
    page.is_accessible();
}

/// What the page saves the program reads, with the same plan; what the program reads the page opens and saves unchanged.
pub fn regress_the_file_is_the_one_that_the_program_reads(page: &Page<'_>) {
    open(page, CLAY);
    page.click("button", "Put this rig into the case");
    page.reads("The case's own rig:");
    page.click("link", "Brief");
    page.click("button", "Look again");
    page.reads_no_more("The case was changed since.");
    page.reads("Stop when");
    let (name, text) = page.saves(|| page.click("button", "Save the case file"));
    let folder = std::env::temp_dir().join(format!("unmire-out-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join(&name);
    std::fs::write(&file, &text).unwrap();
    let out = Command::new(page.program()).arg("check").arg(&file).arg("--json").output().unwrap();
    assert!(out.stderr.is_empty(), "{}", String::from_utf8_lossy(&out.stderr));
    let report: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let plan = &report["plans"][0];
    // The program counts nothing as done before the pull, and neither does the page once it opens the file anew.
    assert_eq!((&plan["family"], &plan["verdict"]), (&json!("double-line"), &json!("overloaded")));
    let weakest = plan["weakest"].as_str().unwrap();
    page.click("link", "Cases");
    page.give_files("input[type=file]", &[&file]);
    page.reads("The case's own rig: ■ overloaded");
    page.reads(&format!("Weakest: {weakest}, "));
    page.reads("Nothing is counted as done before the pull.");
    page.click("link", "Brief");
    let (_, again) = page.saves(|| page.click("button", "Save the case file"));
    assert_eq!(again, text);
    let _ = std::fs::remove_dir_all(&folder);
}
