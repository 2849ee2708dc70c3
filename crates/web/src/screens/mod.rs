//! The screens, one a file. Each reads the [`Session`](crate::session::Session) and is shown alone. Beside them stand their
//! larger parts: `first` is the first minute; `plan_view`, `handle`, `moving`, `anchors`, `others`, `stuck` and `assumptions` make up the scene.

mod anchors;
mod assumptions;
pub mod brief;
mod controls;
mod first;
pub mod hand;
mod handle;
pub mod kit;
mod moving;
mod others;
mod own;
pub mod parts;
mod pictures;
mod plan_view;
mod rest;
pub mod rigs;
pub mod scene;
mod sensor;
pub mod settings;
pub mod start;
mod stuck;
