//! The program of the page and of its worker; both run this one file.

#[cfg(target_arch = "wasm32")]
fn main() {
    unmire_web::start();
}

/// Outside a browser there is nothing to start.
#[cfg(not(target_arch = "wasm32"))]
fn main() {}
