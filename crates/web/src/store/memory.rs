//! Documents in memory: gone with the page.

use super::{Entry, Sort, Store, StoreError, sorted};
use std::cell::RefCell;

/// A store that forgets.
#[derive(Debug, Default)]
pub struct Memory {
    entries: RefCell<Vec<Entry>>,
}
impl Store for Memory {
    async fn save(&self, entry: &Entry) -> Result<(), StoreError> {
        let mut entries = self.entries.borrow_mut();
        entries.retain(|e| e.id != entry.id);
        entries.push(entry.clone());
        Ok(())
    }
    async fn load(&self, id: &str) -> Result<Option<Entry>, StoreError> {
        Ok(self.entries.borrow().iter().find(|e| e.id == id).cloned())
    }
    async fn list(&self, sort: Sort) -> Result<Vec<Entry>, StoreError> {
        Ok(sorted(self.entries.borrow().iter().cloned(), sort))
    }
    async fn remove(&self, id: &str) -> Result<(), StoreError> {
        self.entries.borrow_mut().retain(|e| e.id != id);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::pin::pin;
    use std::task::{Context, Poll, Waker};

    /// What needs to wait for nothing.
    fn now<T>(future: impl Future<Output = T>) -> T {
        match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
            Poll::Ready(value) => value,
            Poll::Pending => panic!("it waits"),
        }
    }
    fn entry(id: &str, sort: Sort, changed: f64) -> Entry {
        let (name, title) = (format!("{id}.toml"), id.to_uppercase());
        Entry { id: id.to_owned(), sort, name, title, text: "text".to_owned(), kits: Vec::new(), changed }
    }

    #[test]
    fn regress_what_is_saved_is_found_and_what_is_removed_is_not() {
        let store = Memory::default();
        for (id, sort, changed) in [("a", Sort::Case, 1.0), ("b", Sort::Case, 2.0), ("bag", Sort::Kit, 3.0)] {
            now(store.save(&entry(id, sort, changed))).unwrap();
        }
        now(store.save(&entry("a", Sort::Case, 4.0))).unwrap();
        let ids: Vec<String> = now(store.list(Sort::Case)).unwrap().into_iter().map(|e| e.id).collect();
        assert_eq!(ids, ["a", "b"]);
        assert_eq!(now(store.load("bag")).unwrap(), Some(entry("bag", Sort::Kit, 3.0)));
        now(store.remove("bag")).unwrap();
        assert_eq!(now(store.load("bag")).unwrap(), None);
        assert!(now(store.list(Sort::Kit)).unwrap().is_empty());
    }
    #[test]
    fn regress_an_entry_survives_being_written() {
        let one = entry("a", Sort::Case, 1.5);
        let text = serde_json::to_string(&one).unwrap();
        assert_eq!(crate::tree::read::<Entry>(&text).unwrap(), one);
    }
}
