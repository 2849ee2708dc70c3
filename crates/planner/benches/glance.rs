//! How long a look at a rig takes while a finger moves an anchor: solved and judged where it stands.

#![allow(clippy::unwrap_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use unmire_casefile::Document;
use unmire_model::case::Case;
use unmire_model::layout::Layout;
use unmire_planner::{Options, glance, plan};

fn case(path: &str) -> Case {
    let text = std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    match unmire_casefile::read(&text, &mut |_: &str| Err("no kit files here".to_owned())) {
        Ok(Document::Case(case)) => *case,
        _ => panic!("{path} is no case"),
    }
}

/// The best rig that the planner finds, what is done first, and the case with its first anchor a step further.
fn found(path: &str) -> (Case, Layout, Vec<String>) {
    let mut case = case(path);
    let report = plan(&case, &Options::default()).unwrap();
    let best = &report.plans[0];
    case.anchors[0].position.y += 0.3;
    (case, best.layout.clone().unwrap(), best.actions.iter().map(|a| a.word.to_string()).collect())
}

fn glances(c: &mut Criterion) {
    let mut group = c.benchmark_group("glance");
    for path in ["../../examples/wheel-deep-mud.toml", "tests/cases/eight-trees.toml"] {
        let (case, layout, actions) = found(path);
        let actions: Vec<&str> = actions.iter().map(String::as_str).collect();
        let options = Options::default();
        glance(&case, &layout, &actions, &options).unwrap();
        group.bench_function(path, |b| b.iter(|| glance(black_box(&case), &layout, &actions, &options)));
    }
    group.finish();
}

criterion_group!(benches, glances);
criterion_main!(benches);
