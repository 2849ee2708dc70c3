//! The page's side of the worker: jobs in, news out, and a way to take a job back. The page never waits for one.

#[cfg(target_arch = "wasm32")]
mod client;
mod queue;

#[cfg(target_arch = "wasm32")]
pub use client::{News, Work};
pub use queue::{Queue, Waiting};
