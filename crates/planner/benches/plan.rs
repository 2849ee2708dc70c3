//! How long a plan takes: eight trees, a helper with a winch, a hand winch, 25 pieces; and the least case, one tree. How long a look at
//! the best rig takes while a finger moves an anchor.

#![allow(clippy::unwrap_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use unmire_casefile::Document;
use unmire_model::case::Case;
use unmire_planner::{Glancer, Options, glance, plan};

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

fn glances(c: &mut Criterion) {
    let mut group = c.benchmark_group("glance");
    for path in ["../../examples/wheel-deep-mud.toml", "tests/cases/eight-trees.toml"] {
        let mut case = case(path);
        let (options, report) = (Options::default(), plan(&case, &Options::default()).unwrap());
        let best = &report.plans[0];
        let (layout, actions) = (best.layout.clone().unwrap(), &best.actions);
        let actions: Vec<&str> = actions.iter().map(|a| a.word.as_str()).collect();
        // The anchor a step further than where the rig was found.
        case.anchors[0].position.y += 0.3;
        glance(&case, &layout, &actions, &options).unwrap();
        group.bench_function(path, |b| b.iter(|| glance(black_box(&case), &layout, &actions, &options)));
        // As a page does it, from the last look.
        let mut glancer = Glancer::of(&case, &actions, &options).unwrap();
        group.bench_function(format!("{path}, again"), |b| b.iter(|| glancer.glance(black_box(&case), &layout)));
    }
    group.finish();
}

criterion_group!(benches, plans, glances);
criterion_main!(benches);
