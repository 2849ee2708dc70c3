//! Values that are watched: what shows one is shown anew when it changes. One code for all types, for one thread.
//!
//! | word | what it is |
//! |---|---|
//! | [`RwSignal`] | a value that can be set |
//! | [`Signal`] | a value to be read: one that is set, or one that follows from others and is worked out when somebody asks |
//! | [`effect`], [`watch`] | something that is done again when what it read has changed |
//! | [`StoredValue`], [`Callback`] | a value that nobody watches; something to be called |
//! | [`Scope`] | what owns all of these: they go with it |
//!
//! - Handles are small and can be copied. What is behind one lives as long as the scope in which it was made; a run of an effect is
//!   one too, so what the run before made is gone when the next begins.
//! - A value that follows from others and comes out as it was wakes nobody.
//! - What is to be done again is done a moment later, all of it together, whoever was made first before whatever he made
//!   ([`flush`], for which [`on_wake`] says who calls it).
//! - Setting what is gone does nothing. Who may ask for something that is gone asks with `try_`; to read it is a fault of the program.

mod graph;
mod handles;
#[cfg(test)]
mod tests;

pub use graph::{Still, at_once, flush, on_wake};
pub use handles::{
    Callback, RwSignal, Scope, Signal, StoredValue, effect, expect_context, on_cleanup, provide_context, untrack, watch,
};
