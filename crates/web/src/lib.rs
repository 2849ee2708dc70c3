//! The app in a browser: edits a case file, plans it in a worker, shows the sheet, and needs no network.
//!
//! Everything that decides something is plain Rust and is tested outside a browser; only the view and what speaks to the
//! browser is compiled for wasm32 alone. Nothing here computes a load: [`engine`] asks the planner.
//!
//! | module | what it is for |
//! |---|---|
//! | [`document`] | a case while it is edited: values at paths, complaints with the path they point at |
//! | [`engine`] | a job in, an answer out: the same bytes as the command line |
//! | [`work`] | the worker that does long jobs, seen from the page |
//! | [`store`] | what stays on the device |
//! | [`catalogue`] | every word of the page, in two languages |
//! | [`settings`], [`units`], [`screen`] | what the reader has chosen; numbers in the reader's units; which screen |
//! | [`tree`] | reports and messages from JSON, in little code |
//! | [`bag`] | gear while it is edited |
//! | [`show`] | what only shows something: a rig in numbers, the brief, as HTML |
//! | [`hand`] | a case as the texts of a few QR codes |
//! | [`scene`] | the place: what is where on the drawing, placing anchors, what is assumed |
//! | [`examples`] | the invented cases that come with the app |
//! | [`signals`] | values that are watched, and what is done when they change |
//! | `dom` | elements, signals in them, lists: one code for all screens, wasm32 only |
//! | `session`, `app`, `screens`, `update`, `worker` | the view, for wasm32 only: state, shell, screens, new versions, the worker's side |

#![cfg_attr(target_arch = "wasm32", allow(const_item_mutation, reason = "there `Silent` is a constant"))]

pub mod bag;
pub mod catalogue;
pub mod document;
pub mod engine;
pub mod examples;
pub mod hand;
pub mod scene;
pub mod screen;
pub mod settings;
pub mod show;
pub mod signals;
pub mod store;
pub mod tree;
pub mod units;
pub mod work;

#[cfg(target_arch = "wasm32")]
mod app;
#[cfg(target_arch = "wasm32")]
mod dom;
#[cfg(target_arch = "wasm32")]
mod file;
#[cfg(target_arch = "wasm32")]
mod screens;
#[cfg(target_arch = "wasm32")]
mod session;
#[cfg(target_arch = "wasm32")]
mod update;
#[cfg(target_arch = "wasm32")]
mod worker;

/// Starts what this global scope is for: a worker takes jobs, a page shows the app.
#[cfg(target_arch = "wasm32")]
pub fn start() {
    use wasm_bindgen::JsCast as _;
    match js_sys::global().dyn_into::<web_sys::DedicatedWorkerGlobalScope>() {
        Ok(scope) => worker::start(&scope),
        Err(_) => app::mount(),
    }
}
