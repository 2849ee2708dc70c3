//! Documents in the browser's IndexedDB.

use super::{Entry, Sort, Store, StoreError, sorted};
use idb::{
    Database, DatabaseEvent as _, Factory, KeyPath, ObjectStore, ObjectStoreParams, Transaction, TransactionMode,
};
use js_sys::JSON;
use wasm_bindgen::JsValue;

/// The database.
const NAME: &str = "unmire";
/// Its version. A new one needs a step in the upgrade below; what is there is never thrown away.
const VERSION: u32 = 1;
/// The one list in it.
const ENTRIES: &str = "entries";

/// A store that stays.
#[derive(Debug)]
pub struct Browser {
    database: Database,
}
impl Browser {
    /// Opens it, or makes it.
    ///
    /// # Errors
    /// If the browser allows none.
    pub async fn open() -> Result<Self, StoreError> {
        let factory = Factory::new().map_err(said)?;
        let mut request = factory.open(NAME, Some(VERSION)).map_err(said)?;
        request.on_upgrade_needed(|event| {
            let mut key = ObjectStoreParams::new();
            key.key_path(Some(KeyPath::new_single("id")));
            // If it can't be made, opening fails and the page says so.
            let _ = event.database().and_then(|d| d.create_object_store(ENTRIES, key));
        });
        Ok(Self { database: request.await.map_err(said)? })
    }
    fn entries(&self, mode: TransactionMode) -> Result<(Transaction, ObjectStore), StoreError> {
        let transaction = self.database.transaction(&[ENTRIES], mode).map_err(said)?;
        let store = transaction.object_store(ENTRIES).map_err(said)?;
        Ok((transaction, store))
    }
}
impl Store for Browser {
    async fn save(&self, entry: &Entry) -> Result<(), StoreError> {
        let text = serde_json::to_string(entry).map_err(|e| StoreError(e.to_string()))?;
        let value = JSON::parse(&text).map_err(unclear)?;
        let (transaction, store) = self.entries(TransactionMode::ReadWrite)?;
        store.put(&value, None).map_err(said)?.await.map_err(said)?;
        transaction.commit().map_err(said)?.await.map_err(said)?;
        Ok(())
    }
    async fn load(&self, id: &str) -> Result<Option<Entry>, StoreError> {
        let (_transaction, store) = self.entries(TransactionMode::ReadOnly)?;
        let found = store.get(JsValue::from(id)).map_err(said)?.await.map_err(said)?;
        found.as_ref().map(entry).transpose()
    }
    async fn list(&self, sort: Sort) -> Result<Vec<Entry>, StoreError> {
        let (_transaction, store) = self.entries(TransactionMode::ReadOnly)?;
        let all = store.get_all(None, None).map_err(said)?.await.map_err(said)?;
        // One that can't be read must not hide the others.
        Ok(sorted(all.iter().filter_map(|v| entry(v).ok()), sort))
    }
    async fn remove(&self, id: &str) -> Result<(), StoreError> {
        let (transaction, store) = self.entries(TransactionMode::ReadWrite)?;
        store.delete(JsValue::from(id)).map_err(said)?.await.map_err(said)?;
        transaction.commit().map_err(said)?.await.map_err(said)?;
        Ok(())
    }
}

fn entry(value: &JsValue) -> Result<Entry, StoreError> {
    let text = JSON::stringify(value).map_err(unclear)?;
    crate::tree::read(&String::from(text)).map_err(|e| StoreError(e.to_string()))
}

fn said(e: idb::Error) -> StoreError {
    StoreError(e.to_string())
}

fn unclear(e: JsValue) -> StoreError {
    StoreError(format!("{e:?}"))
}
