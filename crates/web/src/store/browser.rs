//! Documents in the browser's IndexedDB.

use super::{Entry, Sort, Store, StoreError, sorted};
use js_sys::{Array, Function, JSON, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{IdbDatabase, IdbObjectStore, IdbObjectStoreParameters, IdbRequest, IdbTransactionMode};

/// The database.
const NAME: &str = "unmire";
/// Its version. A new one needs a step in the upgrade below; what is there is never thrown away.
const VERSION: u32 = 1;
/// The one list in it.
const ENTRIES: &str = "entries";

/// A store that stays.
#[derive(Debug)]
pub struct Browser {
    database: IdbDatabase,
}
impl Browser {
    /// Opens it, or makes it.
    ///
    /// # Errors
    /// If the browser allows none.
    pub async fn open() -> Result<Self, StoreError> {
        let factory = web_sys::window().ok_or(JsValue::NULL).and_then(|w| w.indexed_db()).map_err(said)?;
        let factory = factory.ok_or_else(|| StoreError("this browser has none".to_owned()))?;
        let request = factory.open_with_u32(NAME, VERSION).map_err(said)?;
        let new = request.clone();
        let upgrade = Closure::once_into_js(move || {
            let parameters = IdbObjectStoreParameters::new();
            parameters.set_key_path(&"id".into());
            // If it can't be made, opening fails and the page says so.
            let _ = new.result().and_then(|database| {
                database
                    .unchecked_into::<IdbDatabase>()
                    .create_object_store_with_optional_parameters(ENTRIES, &parameters)
            });
        });
        request.set_onupgradeneeded(Some(upgrade.unchecked_ref()));
        Ok(Self { database: done(&request).await?.unchecked_into() })
    }
    /// Asks something of the list; what is written is kept when this comes back.
    async fn ask(
        &self,
        mode: IdbTransactionMode,
        ask: impl FnOnce(&IdbObjectStore) -> Result<IdbRequest, JsValue>,
    ) -> Result<JsValue, StoreError> {
        let transaction = self.database.transaction_with_str_and_mode(ENTRIES, mode).map_err(said)?;
        let request = transaction.object_store(ENTRIES).and_then(|store| ask(&store)).map_err(said)?;
        let kept = heard(|ok, fail| {
            transaction.set_oncomplete(Some(ok));
            transaction.set_onabort(Some(fail));
        });
        let found = done(&request).await?;
        match kept.await {
            Ok(_) => Ok(found),
            Err(_) => Err(told(transaction.error())),
        }
    }
}
impl Store for Browser {
    async fn save(&self, entry: &Entry) -> Result<(), StoreError> {
        let text = serde_json::to_string(entry).map_err(|e| StoreError(e.to_string()))?;
        let value = JSON::parse(&text).map_err(said)?;
        self.ask(IdbTransactionMode::Readwrite, |list| list.put(&value)).await.map(drop)
    }
    async fn load(&self, id: &str) -> Result<Option<Entry>, StoreError> {
        let found = self.ask(IdbTransactionMode::Readonly, |list| list.get(&id.into())).await?;
        (!found.is_undefined()).then(|| entry(&found)).transpose()
    }
    async fn list(&self, sort: Sort) -> Result<Vec<Entry>, StoreError> {
        let all = self.ask(IdbTransactionMode::Readonly, IdbObjectStore::get_all).await?;
        // One that can't be read must not hide the others.
        Ok(sorted(Array::from(&all).iter().filter_map(|v| entry(&v).ok()), sort))
    }
    async fn remove(&self, id: &str) -> Result<(), StoreError> {
        self.ask(IdbTransactionMode::Readwrite, |list| list.delete(&id.into())).await.map(drop)
    }
}

/// What one of two calls will bring: the first that something went well, the second that it did not.
fn heard(listen: impl Fn(&Function, &Function)) -> JsFuture {
    JsFuture::from(Promise::new(&mut |ok, fail| listen(&ok, &fail)))
}

/// What a request gives in the end.
async fn done(request: &IdbRequest) -> Result<JsValue, StoreError> {
    let end = heard(|ok, fail| {
        request.set_onsuccess(Some(ok));
        request.set_onerror(Some(fail));
    });
    match end.await {
        Ok(_) => request.result().map_err(said),
        Err(_) => Err(told(request.error().ok().flatten())),
    }
}

fn entry(value: &JsValue) -> Result<Entry, StoreError> {
    let text = JSON::stringify(value).map_err(said)?;
    crate::tree::read(&String::from(text)).map_err(|e| StoreError(e.to_string()))
}

/// What the browser says of a failure.
fn told(fault: Option<web_sys::DomException>) -> StoreError {
    StoreError(fault.map_or_else(|| "the browser does not say why".to_owned(), |e| e.message()))
}

fn said(e: JsValue) -> StoreError {
    StoreError(format!("{e:?}"))
}
