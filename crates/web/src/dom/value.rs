//! What can stand in the page: texts, numbers, views, lists of them, and closures and signals that give them.

use super::{Nodes, live, text};
use crate::signals::{RwSignal, Signal};

/// What can be made into a piece of a screen.
pub trait IntoView: Sized {
    /// Makes it.
    fn into_view(self) -> Nodes;
    /// The same: arms of a `match` that look alike.
    fn into_any(self) -> Nodes {
        self.into_view()
    }
}

impl IntoView for Nodes {
    fn into_view(self) -> Nodes {
        self
    }
}
impl IntoView for () {
    fn into_view(self) -> Nodes {
        Nodes::empty()
    }
}
impl IntoView for &str {
    fn into_view(self) -> Nodes {
        text(self)
    }
}
impl IntoView for String {
    fn into_view(self) -> Nodes {
        text(&self)
    }
}
impl IntoView for usize {
    fn into_view(self) -> Nodes {
        text(&self.to_string())
    }
}
impl<T: IntoView> IntoView for Option<T> {
    fn into_view(self) -> Nodes {
        self.map_or_else(Nodes::empty, IntoView::into_view)
    }
}
impl<T: IntoView> IntoView for Vec<T> {
    fn into_view(self) -> Nodes {
        self.into_iter().collect_view()
    }
}
impl<T: IntoView, F: Fn() -> T + 'static> IntoView for F {
    fn into_view(self) -> Nodes {
        live(Box::new(move || self().into_view()))
    }
}

macro_rules! signals {
    ($($signal:ident)*) => {$(
        impl<T: IntoView + Clone + 'static> IntoView for $signal<T> {
            fn into_view(self) -> Nodes {
                live(Box::new(move || self.get().into_view()))
            }
        }
    )*};
}
signals!(Signal RwSignal);

/// Collects pieces.
pub trait CollectView {
    /// One after another.
    fn collect_view(self) -> Nodes;
}
impl<I: IntoIterator<Item: IntoView>> CollectView for I {
    fn collect_view(self) -> Nodes {
        let mut all = Nodes::empty();
        for piece in self {
            all = all.and(piece.into_view());
        }
        all
    }
}
