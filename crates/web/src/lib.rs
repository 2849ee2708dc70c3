//! The app in the browser.

#[cfg(target_arch = "wasm32")]
mod app;

/// Starts what this global scope is for.
#[cfg(target_arch = "wasm32")]
pub fn start() {
    app::mount();
}
