//! The whole pull: played in the worker, looked at place by place.

use crate::kit::open;
use serde_json::Value;
use std::process::Command;
use unmire_browser::{DESKTOP, Page, root};

const HOLE: &str = "Clay ride: in to the hubs, pines near and far";
const FILE: &str = "examples/wheel-deep-mud.toml";

fn here(page: &Page<'_>) -> Vec<String> {
    let all = page.js("return [...document.querySelectorAll('.moment dd')].map(e => e.innerText.trim())");
    all.as_array().unwrap().iter().map(|v| v.as_str().unwrap().to_owned()).collect()
}

/// The slider moves the drawing and the numbers; both ends are those of the command line; buttons do as well.
pub fn regress_a_pull_is_played_and_looked_at(page: &Page<'_>) {
    let out = Command::new(page.program()).args(["pull", FILE, "--json"]).current_dir(root()).output().unwrap();
    let told: Value = serde_json::from_slice(&out.stdout).unwrap();
    let rows = told["history"].as_array().unwrap();
    open(page, HOLE);
    page.click("button", "Play the whole pull");
    page.until("it is played", || here(page).len() == 10);
    assert_eq!(page.js("return Number(document.querySelector('.along input').max)"), rows.len() - 1);
    let shown = || page.js("return document.querySelector('.here').innerHTML");
    let value = || page.js("return Number(document.querySelector('.along input').value)").as_u64().unwrap();
    let first = shown();
    let layer = |i: usize| rows[i]["layer"].to_string();
    assert_eq!(here(page)[5], layer(0));
    page.js(
        "const e = document.querySelector('.along input'); e.value = e.max; e.dispatchEvent(new Event('input', { bubbles: true }))",
    );
    page.until("the last place is there", || shown() != first);
    assert_eq!(here(page)[5], layer(rows.len() - 1));
    assert_eq!(value() as usize, rows.len() - 1);
    page.is_accessible();
    page.shot_whole("pull-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("pull-desktop");
    let last = value();
    page.click("button", "Back on the way");
    page.until("a step back", || value() < last);
    page.click("button", "On along the way");
    page.until("a step on", || value() == last);
    // Another rig: what was played is not its pull.
    page.js("document.querySelectorAll('.rig')[1].click()");
    page.until("it is taken away", || here(page).is_empty());
}
