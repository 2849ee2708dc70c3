//! Attributes and properties: a value, or something that gives one and is watched.

use crate::signals::{RwSignal, Signal, watch};
use wasm_bindgen::JsValue;

/// A value of an attribute; none takes the attribute away.
type Value = Option<String>;

/// What stands in an attribute.
pub enum Attr {
    /// It stays.
    Is(Value),
    /// It is watched.
    Live(Box<dyn Fn() -> Value>),
}

impl Attr {
    fn now(self) -> Value {
        match self {
            Self::Is(v) => v,
            Self::Live(f) => f(),
        }
    }
}

/// What can stand in an attribute.
pub trait IntoAttr {
    /// Makes it.
    fn into_attr(self) -> Attr;
}

impl IntoAttr for &str {
    fn into_attr(self) -> Attr {
        Attr::Is(Some(self.to_owned()))
    }
}
impl IntoAttr for String {
    fn into_attr(self) -> Attr {
        Attr::Is(Some(self))
    }
}
/// There without a value, or not there.
impl IntoAttr for bool {
    fn into_attr(self) -> Attr {
        Attr::Is(self.then(String::new))
    }
}
impl<T: IntoAttr> IntoAttr for Option<T> {
    fn into_attr(self) -> Attr {
        self.map_or(Attr::Is(None), IntoAttr::into_attr)
    }
}
macro_rules! numbers {
    ($($number:ident)*) => {$(
        impl IntoAttr for $number {
            fn into_attr(self) -> Attr {
                Attr::Is(Some(self.to_string()))
            }
        }
    )*};
}
numbers!(f64 usize i32);
impl<T: IntoAttr, F: Fn() -> T + 'static> IntoAttr for F {
    fn into_attr(self) -> Attr {
        Attr::Live(Box::new(move || self().into_attr().now()))
    }
}

pub(super) fn put(at: &web_sys::Element, name: &'static str, value: Attr) {
    match value {
        Attr::Is(v) => set(at, name, v),
        Attr::Live(f) => {
            let at = at.clone();
            watch(Box::new(move || set(&at, name, f())));
        }
    }
}

fn set(at: &web_sys::Element, name: &str, value: Value) {
    let _ = match value {
        Some(v) => at.set_attribute(name, &v),
        None => at.remove_attribute(name),
    };
}

/// A property that is watched, or is put once.
pub enum Prop {
    /// It is put once.
    Is(JsValue),
    /// It is watched.
    Live(Box<dyn Fn() -> JsValue>),
}

/// What can stand in a property.
pub trait IntoProp {
    /// Makes it.
    fn into_prop(self) -> Prop;
}
impl IntoProp for String {
    fn into_prop(self) -> Prop {
        Prop::Is(self.into())
    }
}
impl IntoProp for &str {
    fn into_prop(self) -> Prop {
        Prop::Is(self.into())
    }
}
impl IntoProp for bool {
    fn into_prop(self) -> Prop {
        Prop::Is(self.into())
    }
}
impl<T: Into<JsValue>, F: Fn() -> T + 'static> IntoProp for F {
    fn into_prop(self) -> Prop {
        Prop::Live(Box::new(move || self().into()))
    }
}

macro_rules! signals {
    ($($signal:ident)*) => {$(
        impl<T: IntoAttr + Clone + 'static> IntoAttr for $signal<T> {
            fn into_attr(self) -> Attr {
                Attr::Live(Box::new(move || self.get().into_attr().now()))
            }
        }
        impl<T: Into<JsValue> + Clone + 'static> IntoProp for $signal<T> {
            fn into_prop(self) -> Prop {
                Prop::Live(Box::new(move || self.get().into()))
            }
        }
    )*};
}
signals!(Signal RwSignal);

pub(super) fn put_prop(at: &web_sys::Element, name: &'static str, value: Prop) {
    let set = |at: &web_sys::Element, v: &JsValue| {
        let _ = js_sys::Reflect::set(at, &name.into(), v);
    };
    match value {
        Prop::Is(v) => set(at, &v),
        Prop::Live(f) => {
            let at = at.clone();
            watch(Box::new(move || set(&at, &f())));
        }
    }
}

pub(super) fn put_class(at: &web_sys::Element, name: &'static str, on: Box<dyn Fn() -> bool>) {
    let list = at.class_list();
    watch(Box::new(move || {
        let _ = list.toggle_with_force(name, on());
    }));
}
