//! How long it takes to play a pull: 20 m with three blocks, 200 places; stepped alone, and stepped and judged.

#![allow(clippy::unwrap_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use unmire_casefile::Document;
use unmire_model::case::Case;
use unmire_model::layout::{AnchorLeg, Family, Hitch, Hold, Layout, Puller, Station, Who};
use unmire_planner::pull::{PullOptions, history, play_rig};

/// The case of eight trees with a longer way, a longer line and two trees behind its end.
fn case() -> Case {
    let path = format!("{}/tests/cases/eight-trees.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path)
        .unwrap()
        .replace("distance = \"4 m .. 6 m\"", "distance = \"20 m\"")
        .replace("length = \"28 m\", label = \"MBS 9 t\"", "length = \"130 m\", label = \"MBS 9 t\"")
        .replace("[17.5, -2.6, 0.3]", "[27.5, -2.6, 0.3]")
        .replace("[19, 0.4, 0.3]", "[28, 1.4, 0.3]")
        + "\n[[piece]]\nid = \"b3\"\nkind = \"block\"\nlabel = \"MBS 16 t\"\nbearing = \"bronze\"\nsheave = \"90 mm\"\nline_max = \"12 mm\"\ncondition = \"checked\"\n";
    match unmire_casefile::read(&text, &mut |_: &str| Err("no kit files here".to_owned())) {
        Ok(Document::Case(case)) => *case,
        Ok(_) => panic!("no case"),
        Err(e) => panic!("{e:?}"),
    }
}

fn tree(block: &str, anchor: &str, strap: &str, connector: &str) -> Station {
    let leg = AnchorLeg {
        anchor: anchor.into(),
        hitch: Hitch::Basket,
        strap: Some(strap.into()),
        extensions: vec![],
        connectors: vec![connector.into()],
    };
    Station { block: Some(block.into()), extensions: vec![], connectors: vec![], hold: Hold::Anchors(vec![leg]) }
}
fn point(block: Option<&str>, point: &str, connector: &str) -> Station {
    let hold = Hold::Point { on: Who::Stuck, point: point.into(), connectors: vec![connector.into()] };
    Station { block: block.map(Into::into), extensions: vec![], connectors: vec![], hold }
}

/// From the winch to a tree, back to the vehicle, to the other tree and back: four parts pull.
fn three_blocks() -> Layout {
    Layout {
        family: Family::TripleLine,
        puller: Puller::Winch { on: Who::Stuck },
        stations: vec![
            tree("b1", "A8", "s2", "x4"),
            point(Some("b2"), "F1", "x5"),
            tree("b3", "A7", "s4", "x6"),
            point(None, "F2", "x7"),
        ],
        tie_back: None,
        holding: None,
        beside: vec![],
        line: 0,
    }
}

fn pulls(c: &mut Criterion) {
    let (case, layout) = (case(), three_blocks());
    let options = PullOptions { steps: 200, stages: 1, ..PullOptions::default() };
    let rows = history(&case, &layout, &[], &options).unwrap();
    assert!(rows.len() > 200 && rows.last().unwrap().travel.as_m() > 19.9, "{}", rows.len());
    let mut group = c.benchmark_group("pull of 20 m, three blocks, 200 places");
    group.bench_function("stepped", |b| b.iter(|| history(black_box(&case), &layout, &[], &options)));
    group.bench_function("stepped and judged", |b| b.iter(|| play_rig(black_box(&case), &layout, &[], &options)));
    group.finish();
}

criterion_group!(benches, pulls);
criterion_main!(benches);
