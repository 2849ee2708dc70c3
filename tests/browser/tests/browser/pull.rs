//! The whole pull: played in the worker, looked at place by place.

use crate::kit::open;
use serde_json::Value;
use std::process::Command;
use unmire_browser::{DESKTOP, Page, root};

const HOLE: &str = "Clay ride: in to the hubs, pines near and far";
const FILE: &str = "examples/wheel-deep-mud.toml";

fn here(page: &Page<'_>) -> Vec<String> {
    page.texts(".moment dd")
}

/// The slider moves the drawing and the numbers; both ends are those of the command line; buttons do as well.
pub fn regress_a_pull_is_played_and_looked_at(page: &Page<'_>) {
    let out = Command::new(page.program()).args(["pull", FILE, "--json"]).current_dir(root()).output().unwrap();
    let told: Value = serde_json::from_slice(&out.stdout).unwrap();
    let rows = told["history"].as_array().unwrap();
    open(page, HOLE);
    page.click("button", "Play the whole pull");
    page.eventually("it is played", || here(page), |h| h.len() == 10);
    page.becomes(
        "the last place",
        || page.js("return Number(document.querySelector('.along input').max)"),
        rows.len() - 1,
    );
    let shown = || page.js("return document.querySelector('.here').innerHTML");
    let value = || page.js("return Number(document.querySelector('.along input').value)").as_u64();
    let here_layer = || here(page).get(5).cloned().unwrap_or_default();
    let first = shown();
    let layer = |i: usize| rows[i]["layer"].to_string();
    page.becomes("the layer at the first place", here_layer, layer(0));
    page.js(
        "const e = document.querySelector('.along input'); e.value = e.max; e.dispatchEvent(new Event('input', { bubbles: true }))",
    );
    page.eventually("the last place is there", shown, |s| s.is_string() && *s != first);
    page.becomes("the layer at the last place", here_layer, layer(rows.len() - 1));
    assert_eq!(value(), Some(rows.len() as u64 - 1));
    page.is_accessible();
    page.shot_whole("pull-phone");
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("pull-desktop");
    let last = value();
    page.click("button", "Back on the way");
    page.eventually("it is a step back", value, |v| v.is_some() && *v < last);
    page.click("button", "On along the way");
    page.becomes("the place after a step on", value, last);
    // Another rig: what was played is not its pull.
    page.js("document.querySelectorAll('.rig')[1].click()");
    page.eventually("it is taken away", || here(page), Vec::is_empty);
}
