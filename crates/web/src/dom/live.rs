//! What changes: regions between two marks that are built anew, and lists whose rows are kept by a key.

use super::{Nodes, document};
use crate::signals::{Scope, Signal, watch};
use std::any::Any;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, Node};

/// The marks round a region that changes.
struct Marks {
    start: Node,
    end: Node,
}

impl Marks {
    fn new() -> Self {
        Self { start: document().create_comment("").into(), end: document().create_comment("").into() }
    }
    /// The nodes between the marks, as they stand now.
    fn inside(&self) -> Vec<Node> {
        let mut out = Vec::new();
        let mut at = self.start.next_sibling();
        while let Some(n) = at {
            if n == self.end {
                break;
            }
            at = n.next_sibling();
            out.push(n);
        }
        out
    }
    /// With the marks.
    fn all(&self) -> Vec<Node> {
        let mut out = vec![self.start.clone()];
        out.extend(self.inside());
        out.push(self.end.clone());
        out
    }
    fn put(&self, new: &[Node]) {
        let Some(parent) = self.end.parent_node() else { return };
        for n in new {
            let _ = parent.insert_before(n, Some(&self.end));
        }
    }
    fn clear(old: &[Node]) {
        for n in old {
            if let Some(parent) = n.parent_node() {
                let _ = parent.remove_child(n);
            }
        }
    }
    fn replace(&self, new: &[Node]) {
        let old = self.inside();
        // A text that changes stays the node it is.
        if let ([a], [b]) = (old.as_slice(), new)
            && a.node_type() == Node::TEXT_NODE
            && b.node_type() == Node::TEXT_NODE
        {
            let (is, becomes) = (a.node_value(), b.node_value());
            if is != becomes {
                a.set_node_value(becomes.as_deref());
            }
            return;
        }
        let focus = Focus::within(&old);
        Self::clear(&old);
        self.put(new);
        if let Some(f) = focus {
            f.restore(new);
        }
    }
}

/// What has the focus in a region: its id, or its place among the elements.
struct Focus {
    id: String,
    path: Vec<u32>,
}

impl Focus {
    fn within(nodes: &[Node]) -> Option<Self> {
        let active = document().active_element()?;
        let at = nodes.iter().filter(|n| n.has_type::<Element>()).position(|n| n.contains(Some(&active)))?;
        let top = nodes.iter().filter(|n| n.has_type::<Element>()).nth(at)?;
        let mut path = Vec::new();
        let mut here: Element = active.clone();
        while here.unchecked_ref::<Node>() != top {
            let mut before = 0;
            let mut sibling = here.previous_element_sibling();
            while let Some(s) = sibling {
                before += 1;
                sibling = s.previous_element_sibling();
            }
            path.push(before);
            here = here.parent_element()?;
        }
        path.push(u32::try_from(at).ok()?);
        Some(Self { id: active.id(), path })
    }

    fn restore(mut self, nodes: &[Node]) {
        let by_id = (!self.id.is_empty()).then(|| document().get_element_by_id(&self.id)).flatten();
        let found = by_id.or_else(|| {
            let at = usize::try_from(self.path.pop()?).ok()?;
            let mut here = nodes.iter().filter_map(|n| n.dyn_ref::<Element>()).nth(at)?.clone();
            while let Some(k) = self.path.pop() {
                here = here.children().item(k)?;
            }
            Some(here)
        });
        if let Some(e) = found.as_ref().and_then(|e| e.dyn_ref::<HtmlElement>()) {
            let _ = e.focus();
        }
    }
}

/// A region that is built anew when something that it read has changed.
pub fn live(make: Box<dyn Fn() -> Nodes>) -> Nodes {
    let marks = Marks::new();
    let first = Rc::new(RefCell::new(Some(Vec::new())));
    let (start, end) = (marks.start.clone(), marks.end.clone());
    let seen = first.clone();
    watch(Box::new(move || {
        let new = make();
        match seen.borrow_mut().as_mut() {
            // Not in the page yet.
            Some(nodes) => *nodes = new.0,
            None => marks.replace(&new.0),
        }
    }));
    let mut nodes = vec![start];
    nodes.extend(first.borrow_mut().take().unwrap_or_default());
    nodes.push(end);
    Nodes(nodes)
}

/// One of two views, as long as a condition is one or the other.
pub fn show(when: impl Fn() -> bool + 'static, make: impl Fn(bool) -> Nodes + 'static) -> Nodes {
    let when = Signal::new(when);
    live(Box::new(move || make(when.get())))
}

/// One row of a list.
struct Row {
    marks: Marks,
    scope: Scope,
}

impl Row {
    fn new(parent: Scope, make: Box<dyn FnOnce() -> Nodes>) -> Self {
        let (scope, view) = parent.child(make);
        let marks = Marks::new();
        let shelf = document().create_document_fragment();
        for n in core::iter::once(&marks.start).chain(view.nodes()).chain([&marks.end]) {
            let _ = shelf.append_child(n);
        }
        Self { marks, scope }
    }
    fn drop_it(self) {
        Marks::clear(&self.marks.all());
        self.scope.end();
    }
}

/// A row in its place: its key, and none if it has moved on.
type Placed = (Rc<dyn Any>, Option<Row>);

/// A row that is wanted: its key, and how it is made if there is none.
struct Wanted {
    key: Rc<dyn Any>,
    make: Box<dyn FnOnce() -> Nodes>,
}

/// A list whose rows stay while their keys do.
pub fn each<T, K>(
    list: impl Fn() -> Vec<T> + 'static,
    key: impl Fn(&T) -> K + 'static,
    make: impl Fn(T) -> Nodes + 'static,
) -> Nodes
where
    T: 'static,
    K: PartialEq + 'static,
{
    let make = Rc::new(make);
    let wanted = move |item: T| {
        let (key, make) = (Rc::new(key(&item)), make.clone());
        Wanted { key, make: Box::new(move || make(item)) }
    };
    let same = |a: &dyn Any, b: &dyn Any| a.downcast_ref::<K>() == b.downcast_ref::<K>();
    rows(Box::new(move || list().into_iter().map(&wanted).collect()), same)
}

fn rows(list: Box<dyn Fn() -> Vec<Wanted>>, same: fn(&dyn Any, &dyn Any) -> bool) -> Nodes {
    let marks = Marks::new();
    let (start, end) = (marks.start.clone(), marks.end.clone());
    let parent = Scope::here();
    let rows = RefCell::new(Vec::<Placed>::new());
    let shelf = document().create_document_fragment();
    let _ = shelf.append_child(&start);
    let _ = shelf.append_child(&end);
    watch(Box::new(move || {
        let items = list();
        let mut old = rows.take();
        let mut new = Vec::with_capacity(items.len());
        for Wanted { key, make } in items {
            let kept = old.iter_mut().find(|(o, row)| row.is_some() && same(&**o, &*key));
            let row = kept.and_then(|(_, row)| row.take()).unwrap_or_else(|| Row::new(parent, make));
            new.push((key, Some(row)));
        }
        old.into_iter().filter_map(|(_, row)| row).for_each(Row::drop_it);
        arrange(&marks, new.iter().filter_map(|(_, row)| row.as_ref()));
        rows.replace(new);
    }));
    let mut nodes = Vec::new();
    let mut at = Some(start);
    while let Some(n) = at {
        at = n.next_sibling();
        nodes.push(n);
    }
    Nodes(nodes)
}

/// Puts rows in their order; what stands right stays.
fn arrange<'r>(marks: &Marks, rows: impl Iterator<Item = &'r Row>) {
    let Some(parent) = marks.end.parent_node() else { return };
    let mut at = marks.start.next_sibling();
    for row in rows {
        if at.as_ref() == Some(&row.marks.start) {
            at = row.marks.end.next_sibling();
            continue;
        }
        for n in row.marks.all() {
            let _ = parent.insert_before(&n, at.as_ref());
        }
    }
}
