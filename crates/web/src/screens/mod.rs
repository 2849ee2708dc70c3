//! The screens, one a file. Each reads the [`Session`](crate::session::Session) and is shown alone.

pub mod brief;
pub mod kit;
pub mod parts;
pub mod rigs;
pub mod scene;
pub mod settings;
pub mod start;
