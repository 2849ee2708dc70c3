//! Rigs in numbers: chosen, drawn, compared, with the working behind every number.

use crate::cases::CLAY;
use crate::kit::open;
use serde_json::{Value, json};
use unmire_browser::{DESKTOP, Key, Page, root};

/// What the program says of an example, as JSON.
fn expected(stem: &str) -> Value {
    let text = std::fs::read_to_string(root().join(format!("examples/{stem}.expected.json"))).unwrap();
    serde_json::from_str(&text).unwrap()
}
/// The rig that is chosen is drawn, its legs and its parts are those of the report, the weakest part says so.
pub fn regress_the_chosen_rig_is_drawn_and_told(page: &Page<'_>) {
    let report = expected("wheel-deep-mud");
    let plans = report["plans"].as_array().unwrap();
    assert!(plans.len() > 1);
    open(page, CLAY);
    page.becomes("the number of rigs", || page.texts(".rig .name").len(), plans.len());
    let mut drawn = Vec::new();
    for (i, plan) in plans.iter().enumerate() {
        page.js(&format!("document.querySelectorAll('.rig')[{i}].click()"));
        page.until("it is the one", || {
            page.js(&format!("return document.querySelectorAll('.rig')[{i}].getAttribute('aria-pressed')")) == "true"
        });
        let number = |what: &str| plan[what].as_array().unwrap().len();
        page.becomes("the number of legs", || page.texts(".legs > li").len(), number("legs"));
        page.still();
        let parts = page.texts(".checks > li");
        assert_eq!(parts.len(), number("checks"));
        let words = ["holds", "holds below a stop load", "unknown", "overloaded"];
        for part in &parts {
            let verdict = part.trim_start_matches("Weakest part").trim();
            assert!(words.iter().any(|w| verdict.contains(w)) && !verdict.starts_with(char::is_alphabetic), "{part}");
        }
        let weakest = usize::try_from(plan["weakest_check"].as_u64().unwrap()).unwrap();
        let told: Vec<usize> = (0..parts.len()).filter(|p| parts[*p].starts_with("Weakest part")).collect();
        assert_eq!(told, [weakest], "{}", plan["family"]);
        let svg = page.js("return document.querySelector('.side img.drawing').src");
        let members: Vec<&str> = plan["legs"].as_array().unwrap().iter().map(|l| l["to"].as_str().unwrap()).collect();
        assert!(!members.is_empty() && !drawn.contains(&svg), "the drawing follows");
        drawn.push(svg);
    }
    page.is_accessible();
    page.shot_whole("rigs-detail-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("rigs-detail-desktop");
}

/// Two rigs stand side by side, each with its verdict, its numbers and its drawing.
pub fn regress_two_rigs_are_compared(page: &Page<'_>) {
    open(page, CLAY);
    page.choose("Compare the rig that is shown with", "2. Straight pull");
    page.becomes("the number of drawings", || page.texts(".pictures-of img").len(), 2);
    page.becomes("the head", || page.texts(".compare thead th"), ["1. Double line", "2. Straight pull"]);
    let verdicts = || page.texts(".compare td .verdict");
    page.becomes("the verdicts", verdicts, ["◐ holds below a stop load", "◐ holds below a stop load"]);
    let rows = page.texts(".compare tbody th");
    let cells = page.texts(".compare tbody td");
    assert_eq!(cells.len(), 2 * rows.len());
    let row = |name: &str| {
        let i = rows.iter().position(|r| r == name).unwrap_or_else(|| panic!("{rows:?}"));
        [cells[2 * i].clone(), cells[2 * i + 1].clone()]
    };
    assert_eq!(row("Weakest part"), ["near", "near"]);
    assert_eq!(row("Stop at (line pull)"), ["13.9 kN", "27.8 kN"]);
    assert_eq!(row("Pieces"), ["9", "7"]);
    assert!(!cells.contains(&String::new()), "{cells:?}");
    page.is_accessible();
    page.shot_whole("compare-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("compare-desktop");
    // The one that is shown now is no choice any more.
    page.js("document.querySelectorAll('.rig')[1].click()");
    let others = |all: &Vec<String>| !all.is_empty() && !all.iter().any(|o| o == "2. Straight pull");
    page.eventually("the choice follows", || page.texts(".compare option"), others);
}

/// A number opens its working: formula, the numbers in it, where each came from, the source. By key as by hand.
pub fn regress_a_number_opens_its_working(page: &Page<'_>) {
    open(page, CLAY);
    page.until("a number has the focus", || {
        page.js("const s = document.querySelector('.checks summary'); s.focus(); return document.activeElement === s")
            == true
    });
    page.key(Key::Enter);
    let formulas = || page.texts(".checks details[open] .formula");
    let formulas = page.eventually("the working is there", formulas, |f| !f.is_empty());
    let open = "document.querySelector('.checks details[open]')";
    assert!(formulas.iter().all(|f| f.contains('=')), "{formulas:?}");
    assert!(formulas.iter().any(|f| f.contains("kN")), "{formulas:?}");
    let all = page.js(&format!("return {open}.innerText"));
    let all = all.as_str().unwrap();
    assert!(all.contains("source: ") && all.contains('['), "{all}");
    assert!(["line ", "table ", "ASSUMED: ", "policy", "worked out above"].iter().any(|o| all.contains(o)), "{all}");
    page.is_accessible();
    page.shot_whole("working-phone");
    page.key(Key::Enter);
    page.becomes("whether it is closed", || page.js(&format!("return {open} === null")), true);
    // The whole of it has a step for the need, with the line of the file that a value came from.
    page.js("document.querySelector('.whole summary').click()");
    page.eventually("the whole working is there", || page.texts(".whole .formula"), |f| f.len() > formulas.len());
    let whole = page.js("return document.querySelector('.whole').innerText");
    let case = std::fs::read_to_string(root().join("examples/wheel-deep-mud.toml")).unwrap();
    let line = 1 + case.lines().position(|l| l.starts_with("mire_share")).unwrap();
    assert!(whole.as_str().unwrap().contains(&format!("line {line} of the file")), "line {line}");
    page.is_accessible();
}

/// With text twice as large and everything open nothing is cut off at the side, and targets are large enough.
pub fn regress_open_workings_fit_a_phone(page: &Page<'_>) {
    open(page, CLAY);
    page.choose("Compare the rig that is shown with", "2. Straight pull");
    page.becomes("the number of drawings", || page.texts(".pictures-of img").len(), 2);
    page.js("for (const d of document.querySelectorAll('.detail summary')) d.click()");
    page.eventually("all workings are there", || page.texts("details[open] .formula").len(), |n| *n > 20);
    for size in [100, 200] {
        page.text_size(size);
        page.still();
        let wide = page.js("return document.documentElement.scrollWidth");
        assert!(wide.as_i64() <= Some(360), "{wide} wide at {size} %");
        let small = page.js(
            "return [...document.querySelectorAll('main a, main button, main select, main summary')] \
             .filter(e => { const r = e.getBoundingClientRect(); return r.width < 48 || r.height < 48; }).map(e => e.outerHTML)",
        );
        assert_eq!(small, json!([]), "{size} %");
    }
}
