//! The page's elements, made by calls that are one code for all screens. `view!` of [`unmire_markup`] is the markup for it.
//!
//! A piece of a screen is a list of nodes, and what changes is a boxed closure behind one kind of effect
//! ([`watch`](crate::signals::watch)). A region that changes is built anew; what had the focus in it has it again.

mod attr;
mod live;
mod page;
mod value;

pub use attr::{IntoAttr, IntoProp};
pub use live::{each, live, show};
pub use page::{document, event_target, event_target_checked, event_target_value, on_window, set_timeout, window};
pub use value::{CollectView, IntoView};

use crate::signals::{RwSignal, Scope};
use wasm_bindgen::{JsCast, JsValue};

/// What every screen uses.
pub mod prelude {
    pub use super::{
        CollectView, IntoView, document, event_target, event_target_checked, event_target_value, on_window,
        set_timeout, window,
    };
    pub use crate::signals::{
        Callback, RwSignal, Signal, StoredValue, effect, expect_context, on_cleanup, provide_context, untrack,
    };
    pub use unmire_markup::{component, view};
    pub use wasm_bindgen_futures::spawn_local;
}

const DRAWING: &str = "http://www.w3.org/2000/svg";

/// A piece of a screen: nodes that stand side by side.
#[derive(Clone, Debug, Default)]
pub struct Nodes(Vec<web_sys::Node>);

impl Nodes {
    /// Nothing.
    pub fn empty() -> Self {
        Self::default()
    }
    /// With another piece after it.
    pub fn and(mut self, next: Self) -> Self {
        self.0.extend(next.0);
        self
    }
    /// The nodes.
    pub fn nodes(&self) -> &[web_sys::Node] {
        &self.0
    }
}

/// A text.
pub fn text(t: &str) -> Nodes {
    Nodes(vec![document().create_text_node(t).into()])
}

/// An element of the page.
pub fn element(tag: &str) -> El {
    El::of(document().create_element(tag))
}

/// An element of a drawing.
pub fn drawn(tag: &str) -> El {
    El::of(document().create_element_ns(Some(DRAWING), tag))
}

/// An element that is being made.
#[derive(Debug)]
pub struct El(web_sys::Element);

impl El {
    #[expect(clippy::expect_used, reason = "the names come from the markup of this program, and a browser knows them")]
    fn of(made: Result<web_sys::Element, JsValue>) -> Self {
        Self(made.expect("the name of an element"))
    }
    /// As a view.
    pub fn view(self) -> Nodes {
        Nodes(vec![self.0.into()])
    }
    /// Puts an attribute that stays.
    pub fn fixed(&self, name: &str, value: &str) {
        let _ = self.0.set_attribute(name, value);
    }
    /// Puts an attribute.
    pub fn attr(&self, name: &'static str, value: impl IntoAttr) {
        attr::put(&self.0, name, value.into_attr());
    }
    /// Puts a property.
    pub fn prop(&self, name: &'static str, value: impl IntoProp) {
        attr::put_prop(&self.0, name, value.into_prop());
    }
    /// Puts or takes a class.
    pub fn class(&self, name: &'static str, on: impl Fn() -> bool + 'static) {
        attr::put_class(&self.0, name, Box::new(on));
    }
    /// Puts a text at the end.
    pub fn text(&self, text: &str) {
        let _ = self.0.append_child(&document().create_text_node(text));
    }
    /// Puts what stands in it at the end.
    pub fn child(&self, child: Nodes) {
        for n in child.0 {
            let _ = self.0.append_child(&n);
        }
    }
    /// Runs something on an event of a kind.
    pub fn on<E: JsCast + 'static>(&self, event: &str, mut run: impl FnMut(E) + 'static) {
        page::listen(&self.0, event, Box::new(move |e| run(e.unchecked_into())));
    }
    /// Makes it known to the program.
    pub fn known_as<E: JsCast + Clone + 'static>(&self, by: RwSignal<Option<E>>) {
        by.set(self.0.dyn_ref().cloned());
    }
}

/// Puts a whole app into the page, where it stays as long as the page.
pub fn mount(app: impl FnOnce() -> Nodes) {
    // What changes is dealt with when what runs now has come to its end.
    crate::signals::on_wake(|| wasm_bindgen_futures::spawn_local(async { crate::signals::flush() }));
    let (_, view) = Scope::here().child(app);
    if let Some(body) = document().body() {
        for n in view.nodes() {
            let _ = body.append_child(n);
        }
    }
}
