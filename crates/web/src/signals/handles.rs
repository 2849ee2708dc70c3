//! Handles with a type. They do nothing but look at a value as what it is, so that another type costs next to nothing.

use super::graph::{self, Id, Still, Value};
use core::marker::PhantomData;
use core::ops::Deref;
use std::any::TypeId;
use std::rc::Rc;

/// To read what is gone, or what nobody gives, is a fault of the program.
#[cold]
#[inline(never)]
#[expect(clippy::panic, reason = "there is no value to go on with; `try_` is for who may come too late")]
fn gone() -> ! {
    panic!("something was read that is gone or was never there")
}

fn seen<T: 'static>(value: Option<&Value>) -> Option<&T> {
    value.and_then(|v| v.downcast_ref())
}

fn there<T: 'static>(value: Option<&Value>) -> &T {
    match seen(value) {
        Some(v) => v,
        None => gone(),
    }
}

/// Changes a value, in its place if nobody else looks at it.
fn change<T: Clone + 'static, U>(id: Id, f: impl FnOnce(&mut T) -> U) -> Option<U> {
    let mut value = graph::take(id)?.downcast::<T>().ok()?;
    let out = f(Rc::make_mut(&mut value));
    graph::put(id, value);
    Some(out)
}

macro_rules! copied {
    ($($name:ident<$($p:ident),*>)*) => {$(
        impl<$($p),*> Clone for $name<$($p),*> {
            fn clone(&self) -> Self {
                *self
            }
        }
        impl<$($p),*> Copy for $name<$($p),*> {}
    )*};
}
copied!(Signal<T> RwSignal<T> StoredValue<T> Callback<I, O>);

/// A value to be read: one that is set, or one that follows from others.
#[derive(Debug)]
pub struct Signal<T> {
    id: Id,
    of: PhantomData<fn() -> T>,
}

impl<T: 'static> Signal<T> {
    fn at(id: Id) -> Self {
        Self { id, of: PhantomData }
    }
    /// A value that follows from others. It is worked out when somebody asks and something has changed.
    pub fn new(f: impl Fn() -> T + 'static) -> Self
    where
        T: PartialEq,
    {
        Self::at(graph::memo(Rc::new(move |last| Self::other(last, f()))))
    }
    /// The same, from its own last value too.
    pub fn with_last(f: impl Fn(Option<&T>) -> T + 'static) -> Self
    where
        T: PartialEq,
    {
        Self::at(graph::memo(Rc::new(move |last| Self::other(last, f(seen(last))))))
    }
    #[inline(never)]
    fn other(last: Option<&Value>, new: T) -> Option<Value>
    where
        T: PartialEq,
    {
        (seen(last) != Some(&new)).then(|| Rc::new(new) as Value)
    }
    /// Looks at it, and follows it.
    pub fn with<U>(self, f: impl FnOnce(&T) -> U) -> U {
        f(there(graph::read(self.id, true).as_ref()))
    }
    /// Looks at it.
    pub fn with_untracked<U>(self, f: impl FnOnce(&T) -> U) -> U {
        f(there(graph::read(self.id, false).as_ref()))
    }
    /// The value, followed.
    pub fn get(self) -> T
    where
        T: Clone,
    {
        Self::copy(self.id, true)
    }
    /// The value.
    pub fn get_untracked(self) -> T
    where
        T: Clone,
    {
        Self::copy(self.id, false)
    }
    /// The value; none if it is gone.
    pub fn try_get_untracked(self) -> Option<T>
    where
        T: Clone,
    {
        seen(graph::read(self.id, false).as_ref()).cloned()
    }
    #[inline(never)]
    fn copy(id: Id, track: bool) -> T
    where
        T: Clone,
    {
        there::<T>(graph::read(id, track).as_ref()).clone()
    }
    /// Follows it.
    pub fn track(self) {
        drop(graph::read(self.id, true));
    }
}

/// A value that can be set.
#[derive(Debug)]
pub struct RwSignal<T>(Signal<T>);

impl<T: 'static> RwSignal<T> {
    /// One that begins with a value.
    pub fn new(value: T) -> Self {
        Self(Signal::at(graph::value(Rc::new(value))))
    }
    /// Puts another value in its place and wakes who follows it.
    pub fn set(self, value: T) {
        graph::put(self.0.id, Rc::new(value));
    }
    /// Changes it and wakes who follows it.
    pub fn update(self, f: impl FnOnce(&mut T))
    where
        T: Clone,
    {
        change(self.0.id, f);
    }
}
impl<T: Default + 'static> Default for RwSignal<T> {
    fn default() -> Self {
        Self::new(T::default())
    }
}
impl<T> Deref for RwSignal<T> {
    type Target = Signal<T>;
    fn deref(&self) -> &Signal<T> {
        &self.0
    }
}
impl<T> From<RwSignal<T>> for Signal<T> {
    fn from(s: RwSignal<T>) -> Self {
        s.0
    }
}

/// A value that nobody follows.
#[derive(Debug)]
pub struct StoredValue<T>(Signal<T>);

impl<T: 'static> StoredValue<T> {
    /// One that begins with a value.
    pub fn new(value: T) -> Self {
        Self(Signal::at(graph::value(Rc::new(value))))
    }
    /// Looks at it.
    pub fn with_value<U>(self, f: impl FnOnce(&T) -> U) -> U {
        self.0.with_untracked(f)
    }
    /// The value.
    pub fn get_value(self) -> T
    where
        T: Clone,
    {
        self.0.get_untracked()
    }
    /// The value; none if it is gone.
    pub fn try_get_value(self) -> Option<T>
    where
        T: Clone,
    {
        self.0.try_get_untracked()
    }
    /// Puts another value in its place.
    pub fn set_value(self, value: T) {
        graph::put(self.0.id, Rc::new(value));
    }
    /// Changes it. Gives nothing if it is gone.
    pub fn update_value<U>(self, f: impl FnOnce(&mut T) -> U) -> Option<U>
    where
        T: Clone,
    {
        change(self.0.id, f)
    }
}

/// Something to be called.
#[derive(Debug)]
pub struct Callback<I, O = ()> {
    id: Id,
    of: PhantomData<fn(I) -> O>,
}
impl<I: 'static, O: 'static> Callback<I, O> {
    /// Keeps it.
    pub fn new(f: impl Fn(I) -> O + 'static) -> Self {
        let f: Box<dyn Fn(I) -> O> = Box::new(f);
        Self { id: graph::value(Rc::new(f)), of: PhantomData }
    }
    /// Calls it.
    pub fn run(self, with: I) -> O {
        there::<Box<dyn Fn(I) -> O>>(graph::read(self.id, false).as_ref())(with)
    }
    /// Calls it; none if it is gone.
    pub fn try_run(self, with: I) -> Option<O> {
        Some(seen::<Box<dyn Fn(I) -> O>>(graph::read(self.id, false).as_ref())?(with))
    }
}

/// What owns other things.
#[derive(Clone, Copy, Debug)]
pub struct Scope(Option<Id>);
impl Scope {
    /// That of now.
    pub fn here() -> Self {
        Self(graph::owner())
    }
    /// One within it, with what is made in it.
    pub fn child<T>(self, make: impl FnOnce() -> T) -> (Self, T) {
        let id = Some(graph::scope(self.0));
        let _still = Still::within(id, None);
        (Self(id), make())
    }
    /// Ends it and all that it owns.
    pub fn end(self) {
        if let Some(id) = self.0 {
            graph::clear(id, true);
        }
    }
}

/// Does something a moment later, and again when what it read has changed, as long as its scope is there.
pub fn effect(f: impl Fn() + 'static) {
    graph::act(Box::new(f), false);
}
/// The same, the first time at once.
pub fn watch(f: Box<dyn Fn()>) {
    graph::act(f, true);
}
/// Reads without following.
pub fn untrack<T>(f: impl FnOnce() -> T) -> T {
    let _still = Still::untracked();
    f()
}
/// Does something when the scope of now ends.
pub fn on_cleanup(f: impl FnOnce() + 'static) {
    graph::on_cleanup(Box::new(f));
}
/// Gives a value to all within the scope of now.
pub fn provide_context<T: 'static>(value: T) {
    graph::provide(Rc::new(value));
}
/// The value of a type that the nearest scope gives.
pub fn expect_context<T: Clone + 'static>() -> T {
    there::<T>(graph::context(TypeId::of::<T>()).as_ref()).clone()
}
