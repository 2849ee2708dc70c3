//! What stays on the device: cases and kits, as the texts that they are.
//!
//! The page keeps them in the browser's IndexedDB. Where a browser allows none (a private window, for one) they are kept
//! in memory for as long as the page is open, and the page says so.

#[cfg(target_arch = "wasm32")]
mod browser;
mod memory;

#[cfg(target_arch = "wasm32")]
pub use browser::Browser;
pub use memory::Memory;

use core::fmt;
use serde::Serialize;

/// What kind of document an entry is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    /// A case.
    Case,
    /// A bag of gear.
    Kit,
}

/// A document that is kept.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// What tells it from all others.
    pub id: String,
    /// What kind of document it is.
    pub sort: Sort,
    /// What its file is called.
    pub name: String,
    /// What the reader knows it by.
    pub title: String,
    /// Its text.
    pub text: String,
    /// The kit files that a case refers to, as path and text.
    pub kits: Vec<(String, String)>,
    /// When it was last changed, milliseconds since 1970.
    pub changed: f64,
}

/// Why something can't be kept or found again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoreError(pub String);
impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
impl core::error::Error for StoreError {}

/// A place for documents. A page has one thread, so nothing here needs to cross one.
#[allow(async_fn_in_trait, reason = "a page has one thread")]
pub trait Store {
    /// Keeps a document, in the place of one with the same id.
    ///
    /// # Errors
    /// If the browser does not keep it.
    async fn save(&self, entry: &Entry) -> Result<(), StoreError>;
    /// A document by its id; none if it is not there.
    ///
    /// # Errors
    /// If the browser does not give it.
    async fn load(&self, id: &str) -> Result<Option<Entry>, StoreError>;
    /// Every document of a kind, the last changed first.
    ///
    /// # Errors
    /// If the browser does not give them.
    async fn list(&self, sort: Sort) -> Result<Vec<Entry>, StoreError>;
    /// Forgets a document.
    ///
    /// # Errors
    /// If the browser does not forget it.
    async fn remove(&self, id: &str) -> Result<(), StoreError>;
}

/// Those of a kind, the last changed first.
fn sorted(all: impl Iterator<Item = Entry>, sort: Sort) -> Vec<Entry> {
    let mut out: Vec<Entry> = all.filter(|e| e.sort == sort).collect();
    unmire_model::order::sort_by(&mut out, |a, b| b.changed.total_cmp(&a.changed).then_with(|| a.id.cmp(&b.id)));
    out
}
