//! The app in a browser: edits a case file, plans it in a worker, shows the sheet, and needs no network.
//!
//! Everything that decides something is plain Rust and is tested outside a browser; only the view and what speaks to the
//! browser is compiled for wasm32 alone. Nothing here computes a load: [`engine`] asks the planner.
//!
//! | module | what it is for |
//! |---|---|
//! | [`document`] | a case while it is edited: values at paths, complaints with the path they point at |
//! | [`engine`] | a job in, an answer out: the same bytes as the command line |
//! | [`examples`] | the invented cases that come with the app |

pub mod document;
pub mod engine;
pub mod examples;
pub mod hand;

#[cfg(target_arch = "wasm32")]
mod app;
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
