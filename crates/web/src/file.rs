//! Handing a text to the reader as a file.

use crate::dom::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::JsValue;
use web_sys::{Blob, BlobPropertyBag, HtmlAnchorElement, Url};

/// Has the browser save a text under a name.
pub fn save(name: &str, text: &str) {
    // A browser that can't make a file of a text has no place for it either; the text stays in the page.
    let _ = try_save(name, text);
}

fn try_save(name: &str, text: &str) -> Result<(), JsValue> {
    let kind = BlobPropertyBag::new();
    kind.set_type("text/plain");
    let parts = js_sys::Array::of1(&JsValue::from(text));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &kind)?;
    let address = Url::create_object_url_with_blob(&blob)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&address);
    link.set_download(name);
    link.click();
    Url::revoke_object_url(&address)
}
