//! The first minute: the gate, ten questions, a first rig with everything that it assumes.

use crate::cases::case_text;
use unmire_browser::{DESKTOP, Key, PHONE, Page};

/// The lines of the gate.
const GATE: [&str; 7] = [
    "Is everybody out, counted, unhurt and uphill or well aside of it?",
    "Is the vehicle held: brake, gear, chocks, or a holding line where it can roll or slide?",
    "Is traffic stopped or warned on both sides?",
    "Is the water not rising, not moving it, and not in the way of the people?",
    "Can it roll over or run away, now or when it comes free? Nobody on the low side.",
    "No fire, no hot parts in dry grass, extinguisher at hand?",
    "No fuel, gas or battery acid leaking?",
];
/// Questions and answers, but for the depth, which is a picture.
const ANSWERS: [(&str, &str); 9] = [
    ("What does the stuck vehicle weigh, with people and load?", "2.2 t .. 2.6 t"),
    ("How does the ground slope along the way out, and across it?", "4 deg up, 6 deg left high"),
    ("How far is it to ground that it can drive on?", "6 m .. 10 m"),
    ("Where is the best tree, seen from the vehicle?", "22 m ahead, 1 m up"),
    (
        "How thick is that tree round the stem at breast height, and does it show a sign that rules it out?",
        "1.9 m; no signs",
    ),
    ("What pull is printed on the vehicle's winch?", "9,500 lb"),
    ("What line is on it?", "28 m; 10 mm; synthetic; MBS 88 kN"),
    ("How many people are there, and how many of them were trained for this?", "3, 1"),
    (
        "What is in the bag?",
        "tree strap, WLL 3 t (7:1), 3 m, 75 mm; 2 bow shackle, WLL 4.75 t (6:1); block, WLL 8 t; shovel",
    ),
];

/// Passes the gate.
pub(crate) fn pass_the_gate(page: &Page<'_>) {
    for line in GATE {
        page.click("checkbox", line);
    }
    page.click("button", "Begin: ten short questions");
}
fn next(page: &Page<'_>) {
    page.key(Key::Enter);
}
fn answer_all(page: &Page<'_>) {
    answer_from(page, 0);
}
/// Answers so many questions by typing.
pub(crate) fn answer_up_to(page: &Page<'_>, n: usize) {
    for (question, answer) in &ANSWERS[..n] {
        page.find("heading", question);
        page.fill("Your answer", answer);
        next(page);
    }
}
/// Answers all questions from one on.
pub(crate) fn answer_from(page: &Page<'_>, from: usize) {
    for (i, (question, answer)) in ANSWERS.into_iter().enumerate().skip(from) {
        if i == 1 {
            page.find("heading", "How deep is it in?");
            page.click("button", "in to the hubs");
        }
        page.find("heading", question);
        page.fill("Your answer", answer);
        next(page);
    }
}

/// Nothing is asked before each line of the gate is ticked.
pub fn regress_the_gate_comes_first(page: &Page<'_>) {
    page.find("heading", "First, look round");
    page.is_accessible();
    page.shot("gate-phone");
    page.click("checkbox", GATE[0]);
    page.click("button", "Begin: ten short questions");
    page.reads("Not ticked yet: 6.");
    page.still();
    assert!(!page.text().contains("Question 1 of 10"));
    for line in &GATE[1..] {
        page.click("checkbox", line);
    }
    page.click("button", "Begin: ten short questions");
    page.reads("Question 1 of 10");
}

/// A case built by hand from the questions: a first rig with its weakest part and its stop rule, and what is assumed.
pub fn regress_ten_questions_make_a_first_rig(page: &Page<'_>) {
    pass_the_gate(page);
    answer_all(page);
    page.find("heading", "Scene");
    page.reads("Weakest:");
    page.reads("What is assumed");
    page.reads("This matters most");
    let said = ["mass = \"2.2 t .. 2.6 t\"", "depth = \"wheel\"", "girth = \"1.9 m\"", "rated_pull = \"9,500 lb\""];
    let text = page.eventually(
        &format!("the case says {said:?}"),
        || case_text(page),
        |text| said.iter().all(|s| text.contains(s)),
    );
    let listed = || page.texts(".assumed > li").len();
    let assumed = text.matches("assumed = ").count();
    assert!(assumed > 1, "{text}");
    page.becomes("the number of assumptions that are listed", listed, assumed);
    page.is_accessible();
    page.shot("first-rig-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot("first-rig-desktop");
    page.size(PHONE);
    // One tap, and a measured value takes the place of an assumed one.
    page.click("button", "Replace: Height of the centre of gravity");
    page.fill("Height of the centre of gravity: measured value", "0.7 m");
    page.key(Key::Enter);
    page.becomes("the number of assumptions that are still listed", listed, assumed - 1);
    page.eventually("it is in the case", || case_text(page), |t| t.contains("cg_height = \"0.7 m\""));
}

/// A bad answer stays where it is, with the words of the reader of answers beside it; a good one goes on.
pub fn regress_a_bad_answer_is_told_at_its_field(page: &Page<'_>) {
    pass_the_gate(page);
    page.find("heading", ANSWERS[0].0);
    page.fill("Your answer", "2 tons");
    next(page);
    let told = || page.js("return document.querySelector('#answer-told').innerText");
    page.eventually("it is told", told, |t| t.as_str().is_some_and(|t| t.contains("ton")));
    let invalid = || page.js("return document.querySelector('#answer').getAttribute('aria-invalid')");
    page.becomes("what the field says of itself", invalid, "true");
    page.is_accessible();
    page.shot("bad-answer-phone");
    page.fill("Your answer", "2 t");
    next(page);
    page.find("heading", "How deep is it in?");
    page.is_accessible();
    page.shot("depth-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot("depth-desktop");
    page.size(PHONE);
    page.click("button", "I don’t know");
    // Steps make an answer too, and a reload loses none.
    page.find("heading", ANSWERS[1].0);
    for _ in 0..3 {
        page.click("button", "Along the way out: more");
    }
    page.is_accessible();
    page.shot("slope-phone");
    let answer = || page.js("return document.querySelector('#answer').value");
    page.becomes("the answer", answer, "3 deg up, 0 deg left high");
    page.fill("Your answer", "3 deg up, 2 deg right high");
    next(page);
    page.find("heading", ANSWERS[2].0);
    page.reload();
    page.find("heading", ANSWERS[2].0);
}

/// The whole first minute with keys alone.
pub fn regress_the_first_minute_needs_no_pointer(page: &Page<'_>) {
    for line in GATE {
        page.tab_to("checkbox", line);
        page.press(" ");
    }
    page.tab_to("button", "Begin: ten short questions");
    page.key(Key::Enter);
    for n in 1..=10 {
        // The girth of no tree is not asked for.
        if n == 6 {
            continue;
        }
        page.reads(&format!("Question {n} of 10"));
        page.tab_to("button", "I don’t know");
        page.key(Key::Enter);
    }
    page.find("heading", "Scene");
    // Nobody placed a tree, so there is no rig, and it is said why.
    page.reads("No rig could be made.");
    let why = || page.texts(".first li");
    page.eventually("the anchor is named as the reason", why, |w| w.iter().any(|t| t.contains("anchor")));
}
