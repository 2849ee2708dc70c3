//! The tables of keys: what a document may say. The reader, the JSON Schema and the documentation are made from them.

pub mod anchor;
pub mod bare;
pub mod case;
pub mod drive;
pub mod kinetic;
pub mod kit;
pub mod label;
pub mod layout;
pub mod path;
pub mod vehicle;
