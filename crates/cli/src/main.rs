//! unmire: the program.
fn main() {}
