//! Who reads whom and who owns whom, without a word about types: this part is compiled once.
//!
//! Nothing of anybody else's runs while the graph is borrowed: neither what is watched, nor a cleanup, nor the end of a value.

use core::mem::replace;
use std::any::{Any, TypeId};
use std::cell::RefCell;
use std::rc::Rc;

/// A value. It is never changed in place while somebody may look at it: another takes its place.
pub type Value = Rc<dyn Any>;
/// Works out a value from the last one, or does something; gives none if nothing has changed.
type Run = Rc<dyn Fn(Option<&Value>) -> Option<Value>>;

/// One of the nodes: where it is, and which of all that were ever made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Id {
    slot: usize,
    serial: u32,
}

/// Whether what a node has worked out still holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd)]
enum State {
    #[default]
    Holds,
    /// Something behind what it read has changed.
    Asks,
    /// What it read has changed.
    Over,
}

#[derive(Default)]
struct Node {
    serial: u32,
    state: State,
    value: Option<Value>,
    run: Option<Run>,
    /// Whether it runs by itself, and not when it is asked.
    effect: bool,
    sources: Vec<Id>,
    watchers: Vec<Id>,
    owner: Option<Id>,
    owned: Vec<Id>,
    cleanups: Vec<Box<dyn FnOnce()>>,
    contexts: Vec<Value>,
}

struct Graph {
    nodes: Vec<Option<Node>>,
    free: Vec<usize>,
    serial: u32,
    /// Who owns what is made now.
    owner: Option<Id>,
    /// Who reads now.
    reader: Option<Id>,
    /// Effects that are to run.
    due: Vec<Id>,
    /// Whether somebody has been told that there are some.
    woken: bool,
    wake: Option<fn()>,
}

thread_local! {
    static GRAPH: RefCell<Graph> = const { RefCell::new(Graph {
        nodes: Vec::new(), free: Vec::new(), serial: 0, owner: None, reader: None, due: Vec::new(), woken: false, wake: None,
    }) };
}

fn with<T>(f: impl FnOnce(&mut Graph) -> T) -> T {
    GRAPH.with(|g| f(&mut g.borrow_mut()))
}

impl Graph {
    fn node(&mut self, id: Id) -> Option<&mut Node> {
        self.nodes.get_mut(id.slot)?.as_mut().filter(|n| n.serial == id.serial)
    }
    fn add(&mut self, mut node: Node) -> Id {
        self.serial = self.serial.wrapping_add(1);
        node.serial = self.serial;
        let slot = self.free.pop().unwrap_or(self.nodes.len());
        let id = Id { slot, serial: self.serial };
        if let Some(owner) = node.owner.and_then(|o| self.node(o)) {
            owner.owned.push(id);
        }
        match self.nodes.get_mut(slot) {
            Some(place) => *place = Some(node),
            None => self.nodes.push(Some(node)),
        }
        id
    }
    /// Takes a node out. The caller drops it when the graph is free.
    fn remove(&mut self, id: Id) -> Option<Node> {
        self.forget_sources(id);
        self.node(id)?;
        let node = self.nodes.get_mut(id.slot)?.take()?;
        self.free.push(id.slot);
        if let Some(owner) = node.owner.and_then(|o| self.node(o)) {
            owner.owned.retain(|o| *o != id);
        }
        Some(node)
    }
    /// A node and all that it owns, owners before what they own.
    fn family(&mut self, id: Id) -> Vec<Id> {
        let mut all = vec![id];
        let mut at = 0;
        while let Some(next) = all.get(at).copied() {
            if let Some(n) = self.node(next) {
                all.extend_from_slice(&n.owned);
            }
            at += 1;
        }
        all
    }
    fn forget_sources(&mut self, id: Id) {
        let mut sources = self.node(id).map(|n| core::mem::take(&mut n.sources)).unwrap_or_default();
        for source in sources.drain(..) {
            if let Some(s) = self.node(source)
                && let Some(at) = s.watchers.iter().position(|w| *w == id)
            {
                s.watchers.swap_remove(at);
            }
        }
        // Its room is used again.
        if let Some(node) = self.node(id) {
            node.sources = sources;
        }
    }
    fn track(&mut self, id: Id) {
        let Some(reader) = self.reader else { return };
        let Some(node) = self.node(reader) else { return };
        if node.sources.contains(&id) {
            return;
        }
        node.sources.push(id);
        if let Some(node) = self.node(id) {
            node.watchers.push(reader);
        }
    }
    fn mark(&mut self, id: Id, state: State) {
        let Some(node) = self.node(id) else { return };
        let held = node.state == State::Holds;
        if state > node.state {
            node.state = state;
        }
        if held && node.effect {
            self.due.push(id);
        } else if held {
            self.mark_watchers(id, State::Asks);
        }
    }
    fn mark_watchers(&mut self, id: Id, state: State) {
        let mut at = 0;
        while let Some(w) = self.node(id).and_then(|n| n.watchers.get(at).copied()) {
            self.mark(w, state);
            at += 1;
        }
    }
    fn state(&mut self, id: Id) -> Option<State> {
        self.node(id).map(|n| n.state)
    }
    /// The effect that is next: the one that was made first.
    fn next(&mut self) -> Option<Id> {
        let at = self.due.iter().enumerate().min_by_key(|(_, id)| id.serial).map(|(at, _)| at)?;
        Some(self.due.swap_remove(at))
    }
}

/// As long as it is there, what is made belongs to the owner that was named, and what is read is read by the named reader.
/// Only the innermost one may end.
#[derive(Debug)]
pub struct Still {
    owner: Option<Id>,
    reader: Option<Id>,
}
impl Still {
    /// For an owner and a reader.
    pub(super) fn within(owner: Option<Id>, reader: Option<Id>) -> Self {
        with(|g| Self { owner: replace(&mut g.owner, owner), reader: replace(&mut g.reader, reader) })
    }
    /// For the owner of now, while nobody reads.
    #[must_use]
    pub fn untracked() -> Self {
        Self::within(owner(), None)
    }
}
impl Drop for Still {
    fn drop(&mut self) {
        with(|g| (g.owner, g.reader) = (self.owner, self.reader));
    }
}

/// Who owns what is made now.
pub fn owner() -> Option<Id> {
    with(|g| g.owner)
}

/// A node with a value.
pub fn value(value: Value) -> Id {
    with(|g| g.add(Node { value: Some(value), owner: g.owner, ..Node::default() }))
}

/// A node that owns others.
pub fn scope(owner: Option<Id>) -> Id {
    with(|g| g.add(Node { owner, ..Node::default() }))
}

/// A node that works out its value when it is asked.
pub fn memo(run: Run) -> Id {
    with(|g| g.add(Node { run: Some(run), state: State::Over, owner: g.owner, ..Node::default() }))
}

/// A node that does something: now, or with the next effects.
pub fn act(act: Box<dyn Fn()>, now: bool) {
    let run: Run = Rc::new(move |_| {
        act();
        None
    });
    let id = with(|g| {
        let id = g.add(Node { run: Some(run), state: State::Over, effect: true, owner: g.owner, ..Node::default() });
        if !now {
            g.due.push(id);
        }
        id
    });
    if now { refresh(id) } else { wake() }
}

/// What a node has; none if it is gone.
pub fn read(id: Id, track: bool) -> Option<Value> {
    refresh(id);
    with(|g| {
        if track {
            g.track(id);
        }
        g.node(id)?.value.clone()
    })
}

/// Gives another value to a node. Nothing is done if it is gone.
pub fn put(id: Id, value: Value) {
    let mut value = Some(value);
    with(|g| {
        if let Some(node) = g.node(id) {
            // The old one ends when the graph is free.
            value = replace(&mut node.value, value.take());
            g.mark_watchers(id, State::Over);
        }
    });
    drop(value);
    wake();
}

/// Takes the value out of a node, for somebody who puts it back at once.
pub fn take(id: Id) -> Option<Value> {
    with(|g| g.node(id)?.value.take())
}

/// Sees to it that what a node has worked out holds.
fn refresh(id: Id) {
    let (state, sources) = with(|g| match g.node(id) {
        Some(n) if n.state == State::Asks => (State::Asks, n.sources.clone()),
        Some(n) => (n.state, Vec::new()),
        None => (State::Holds, Vec::new()),
    });
    if state == State::Holds {
        return;
    }
    for source in sources {
        refresh(source);
        if with(|g| g.state(id)) != Some(State::Asks) {
            break;
        }
    }
    let over = with(|g| {
        g.node(id).is_some_and(|n| {
            let over = n.state == State::Over;
            n.state = State::Holds;
            over
        })
    });
    if over {
        run(id);
    }
}

fn run(id: Id) {
    clear(id, false);
    let found = with(|g| {
        g.forget_sources(id);
        let node = g.node(id)?;
        Some((node.run.clone()?, node.value.clone()))
    });
    let Some((run, old)) = found else { return };
    let still = Still::within(Some(id), Some(id));
    let new = run(old.as_ref());
    drop(still);
    if let Some(new) = new {
        put(id, new);
    }
}

/// Ends all that a node owns, and the node too if that is asked for: first every cleanup, then the values.
pub fn clear(id: Id, itself: bool) {
    let family = with(|g| g.family(id));
    let still = Still::within(None, None);
    for at in family.iter().rev() {
        let cleanups = with(|g| g.node(*at).map(|n| core::mem::take(&mut n.cleanups))).unwrap_or_default();
        for cleanup in cleanups {
            cleanup();
        }
    }
    drop(still);
    let from = usize::from(!itself);
    let gone = with(|g| {
        let contexts = g.node(id).map(|n| (core::mem::take(&mut n.contexts), core::mem::take(&mut n.owned)));
        (contexts, family.iter().skip(from).map(|i| g.remove(*i)).collect::<Vec<_>>())
    });
    drop(gone);
}

/// Keeps something to be done when the owner of now ends or runs again.
pub fn on_cleanup(cleanup: Box<dyn FnOnce()>) {
    with(|g| {
        if let Some(owner) = g.owner.and_then(|o| g.node(o)) {
            owner.cleanups.push(cleanup);
        }
    });
}

/// Gives a value to all that the owner of now owns.
pub fn provide(value: Value) {
    with(|g| {
        if let Some(owner) = g.owner.and_then(|o| g.node(o)) {
            owner.contexts.push(value);
        }
    });
}

/// The value of a type that the nearest owner gives.
pub fn context(of: TypeId) -> Option<Value> {
    with(|g| {
        let mut at = g.owner;
        while let Some(node) = at.and_then(|o| g.node(o)) {
            let found = node.contexts.iter().rev().find(|v| (***v).type_id() == of);
            if found.is_some() {
                return found.cloned();
            }
            at = node.owner;
        }
        None
    })
}

/// Says who is told, once, that there are effects to run: he calls [`flush`] when what runs now has come to its end.
pub fn on_wake(wake: fn()) {
    with(|g| g.wake = Some(wake));
}

fn wake() {
    let told = with(|g| {
        let new = !g.woken && !g.due.is_empty();
        g.woken |= new;
        g.wake.filter(|_| new)
    });
    if let Some(told) = told {
        told();
    }
}

/// Runs all effects that are due, and those that become due by them.
pub fn flush() {
    with(|g| g.woken = true);
    while let Some(next) = with(Graph::next) {
        refresh(next);
    }
    with(|g| g.woken = false);
}

/// Does something and runs what follows from it at once, and not when what runs now has come to its end.
pub fn at_once(act: impl FnOnce()) {
    with(|g| g.woken = true);
    act();
    flush();
}

/// How many nodes there are.
#[cfg(test)]
pub fn count() -> usize {
    with(|g| g.nodes.iter().flatten().count())
}
