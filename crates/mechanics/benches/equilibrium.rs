//! How long one equilibrium takes.
#![allow(missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};

fn equilibria(_c: &mut Criterion) {}

criterion_group!(benches, equilibria);
criterion_main!(benches);
