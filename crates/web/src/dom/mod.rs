//! The page's elements, made by calls that are one code for all screens. `view!` of [`unmire_markup`] is the markup for it.
//!
//! Leptos has signals, effects and components; its own views are a type for every piece of every screen, which made half
//! of the app's weight. Here a piece of a screen is a list of nodes, and what changes is a boxed closure behind one kind of
//! effect. A region that changes is built anew; what had the focus in it has it again.

mod attr;
mod live;
mod value;

pub use attr::{IntoAttr, IntoProp};
pub use live::{each, live, show};
pub use value::{CollectView, IntoView};

use leptos::ev::EventDescriptor;
use leptos::html::ElementType;
use leptos::prelude::NodeRef;
use leptos::tachys::html::node_ref::NodeRefContainer;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};

/// What every screen uses.
#[allow(unused_imports, reason = "a prelude serves screens that are still to come")]
pub mod prelude {
    pub use super::{Children, CollectView, IntoView, Nodes};
    pub use leptos::prelude::{
        Callable, Callback, Effect, Get, GetUntracked, GetValue, LocalStorage, Memo, NodeRef, Read, RwSignal, Set,
        SetValue, Signal, StoredValue, Track, Update, UpdateValue, With, WithUntracked, WithValue, Write, component,
        document, event_target, event_target_checked, event_target_value, expect_context, on_cleanup, provide_context,
        set_timeout, window, window_event_listener,
    };
    pub use unmire_markup::view;
}

/// What stands between the tags of a component: it takes `children: Children` as its prop.
#[allow(dead_code, reason = "a prelude serves screens that are still to come")]
pub type Children = Box<dyn FnOnce() -> Nodes>;

const DRAWING: &str = "http://www.w3.org/2000/svg";

/// A piece of a screen: nodes that stand side by side.
#[derive(Clone, Debug, Default)]
pub struct Nodes(Vec<web_sys::Node>);

impl Nodes {
    /// Nothing.
    pub fn empty() -> Self {
        Self::default()
    }
    /// Pieces one after another.
    pub fn of(parts: impl IntoIterator<Item = Nodes>) -> Self {
        Self(parts.into_iter().flat_map(|v| v.0).collect())
    }
    /// The nodes.
    pub fn nodes(&self) -> &[web_sys::Node] {
        &self.0
    }
}

/// A text.
pub fn text(t: &str) -> Nodes {
    Nodes(vec![page().create_text_node(t).into()])
}

/// An element of the page.
pub fn element(tag: &str) -> El {
    El::of(page().create_element(tag))
}

/// An element of a drawing.
pub fn drawn(tag: &str) -> El {
    El::of(page().create_element_ns(Some(DRAWING), tag))
}

fn page() -> web_sys::Document {
    leptos::prelude::document()
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
        let _ = self.0.append_child(&page().create_text_node(text));
    }
    /// Puts what stands in it at the end.
    pub fn child(&self, child: Nodes) {
        for n in child.0 {
            let _ = self.0.append_child(&n);
        }
    }
    /// Runs something on an event.
    pub fn on<E>(&self, event: E, mut run: impl FnMut(E::EventType) + 'static)
    where
        E: EventDescriptor,
        E::EventType: JsCast,
    {
        listen(&self.0, &event.name(), Box::new(move |e| run(e.unchecked_into())));
    }
    /// Makes it known to the program.
    pub fn known_as<E>(&self, by: NodeRef<E>)
    where
        E: ElementType,
        NodeRef<E>: NodeRefContainer<E>,
    {
        by.load(&self.0);
    }
}

fn listen(at: &web_sys::Element, event: &str, run: Box<dyn FnMut(web_sys::Event)>) {
    // The browser lets go of it with the element.
    let run = Closure::wrap(run).into_js_value();
    let _ = at.add_event_listener_with_callback(event, run.unchecked_ref());
}

/// Puts a whole app into the page.
pub fn mount(app: impl FnOnce() -> Nodes) {
    // Already there: all is well.
    let _ = any_spawner::Executor::init_wasm_bindgen();
    let owner = leptos::prelude::Owner::new();
    let view = owner.with(app);
    if let Some(body) = page().body() {
        for n in view.nodes() {
            let _ = body.append_child(n);
        }
    }
    // It lives as long as the page.
    core::mem::forget(owner);
}
