//! The brief on paper: type as large as one page allows.

use crate::dom::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::HtmlElement;

/// What a page of either usual paper has inside its margins of 8 mm: the width of A4, the height of US Letter less a
/// little; CSS pixels. The style sheet gives the same width.
const HEIGHT: i32 = 985;
/// Sizes of type that are tried, quarters of a point, the largest first.
const SIZES: core::ops::RangeInclusive<u32> = 22..=48;

/// Lays the page out for paper whenever it is printed, and back afterwards.
pub(super) fn follow() {
    on_window("beforeprint", |_| {
        fit();
    });
    on_window("afterprint", |_| {
        if let Some(root) = document().document_element() {
            let _ = root.remove_attribute("data-paper");
        }
    });
}

/// Takes the largest type with which everything stands on one page; the smallest if none does.
fn fit() -> Option<()> {
    let root: HtmlElement = document().document_element()?.dyn_into().ok()?;
    let main: HtmlElement = document().get_element_by_id("content")?.dyn_into().ok()?;
    root.set_attribute("data-paper", "").ok()?;
    for quarters in SIZES.rev() {
        root.style().set_property("--print", &format!("{}pt", f64::from(quarters) / 4.0)).ok()?;
        if main.offset_height() <= HEIGHT {
            break;
        }
    }
    Some(())
}
