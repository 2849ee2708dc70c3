//! Handing a case from one device to another with no network: packed, written in the letters that a QR code holds best,
//! and cut into as many codes as it takes.
//!
//! A part is a text of its own, so that it can also be sent or typed over by hand:
//! `UNMIRE1/2/5/1B2C3D4E/…` is the second of five parts of the set `1B2C3D4E`; behind the last slash stands a piece of
//! the packed case in Base45. The set is told by a checksum of all that was packed, which joining checks again.

mod base45;
mod encode;
mod parts;
mod qr;

pub use parts::{HandError, Handed, Heard, MOST_PARTS, hear, join, split};
pub use qr::{Code, code};
