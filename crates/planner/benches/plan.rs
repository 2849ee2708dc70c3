//! How long a plan takes: eight trees, a helper with a winch, a hand winch, 25 pieces; and the least case, one tree.

#![allow(clippy::unwrap_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use unmire_casefile::Document;
use unmire_model::case::Case;
use unmire_planner::{Options, plan};

fn case(path: &str) -> Case {
    let text = std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    match unmire_casefile::read(&text, &mut |_: &str| Err("no kit files here".to_owned())) {
        Ok(Document::Case(case)) => *case,
        _ => panic!("{path} is no case"),
    }
}

fn plans(c: &mut Criterion) {
    let mut group = c.benchmark_group("plan");
    group.sample_size(20);
    for (name, path) in [
        ("8 anchors, 25 pieces", "tests/cases/eight-trees.toml"),
        ("2 anchors, 12 pieces", "tests/cases/mixed-bag.toml"),
        ("1 anchor", "../../examples/wet-grass.toml"),
    ] {
        let case = case(path);
        group.bench_function(name, |b| b.iter(|| plan(black_box(&case), &Options::default())));
    }
    group.finish();
}

criterion_group!(benches, plans);
criterion_main!(benches);
