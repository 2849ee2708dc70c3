//! The brief: what the crew does, in large type, on one sheet of paper.

use crate::cases::CLAY;
use unmire_browser::{A4, DESKTOP, LETTER, PHONE, Page, Size, pages};

/// What a sheet of A4 shows inside its margins.
const PAPER: Size = Size(734, 1062);

/// Every case that comes with the app and has a rig.
const PLANNED: [&str; 3] = [
    CLAY,
    "Meadow above a gully: low wheels sinking, roof loaded",
    "Clay ride: the crew's double line, checked before the pull",
];

fn open(page: &Page<'_>, title: &str) {
    crate::kit::open(page, title);
    page.click("link", "Brief");
    page.find("heading", "Brief");
}

/// What a crew needs is there, in the order of the work, and in large type.
pub fn regress_the_brief_says_what_to_do(page: &Page<'_>) {
    open(page, CLAY);
    let wanted = [
        "Stop when",
        "Before anything is rigged",
        "Who does what",
        "Ground to keep clear",
        "Prepare",
        "Rig",
        "Check",
        "Pull",
        "Release",
        "Pieces and their places",
        "Cautions",
    ];
    let all = |headings: &Vec<String>| wanted.iter().all(|w| headings.iter().any(|h| h == w));
    page.eventually(&format!("the brief has {wanted:?}"), || page.texts(".brief h2"), all);
    page.reads("Stop at 13.9 kN line pull");
    page.reads("Anybody calls STOP");
    // Steps count on from one part to the next.
    let starts = page.js("return [...document.querySelectorAll('.phase ol')].map(o => [o.start, o.children.length])");
    let mut next = 1;
    for part in starts.as_array().unwrap() {
        assert_eq!(part[0].as_i64(), Some(next), "{starts}");
        next += part[1].as_i64().unwrap();
    }
    assert!(next > 15);
    let type_size = page.js("return parseFloat(getComputedStyle(document.querySelector('.phase li')).fontSize)");
    assert!(type_size.as_f64() >= Some(19.0), "{type_size} px");
    page.is_accessible();
    page.shot_whole("brief-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("brief-desktop");
}

/// Every brief fits on one page, of either paper, with type as large as that allows, and takes most of it.
pub fn regress_the_brief_prints_on_one_page(page: &Page<'_>) {
    for (i, title) in PLANNED.iter().enumerate() {
        open(page, title);
        page.reads("Cautions");
        page.still();
        for (name, paper) in [("a4", A4), ("letter", LETTER)] {
            let pdf = page.print(paper);
            keep(&format!("brief-{i}-{name}"), &pdf);
            assert_eq!(pages(&pdf), 1, "{title} on {name}");
        }
        page.size(PAPER);
        page.js("dispatchEvent(new Event('beforeprint'))");
        page.shot_whole(&format!("brief-{i}-paper"));
        page.js("dispatchEvent(new Event('afterprint'))");
        page.size(PHONE);
        let size =
            || page.js("return parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--print'))");
        page.eventually(&format!("{title}: type of 6.5 pt or more"), size, |s| s.as_f64() >= Some(6.5));
    }
}

/// Keeps a PDF beside the screenshots, if somebody named a folder for them.
fn keep(name: &str, pdf: &[u8]) {
    if let Some(folder) = std::env::var_os("UNMIRE_SHOTS") {
        std::fs::write(std::path::PathBuf::from(folder).join(format!("{name}.pdf")), pdf).unwrap();
    }
}
