//! How long one equilibrium takes: from a cold start (where the file has the free points) and from the one before.
#![allow(missing_docs, clippy::expect_used, clippy::print_stdout)]

#[path = "../tests/rig_common/mod.rs"]
mod rig_common;

use criterion::{Criterion, criterion_group, criterion_main};
use rig_common::{case_named, random_rig};
use std::hint::black_box;
use unmire_mechanics::rig::{Equilibrium, Solver};
use unmire_model::rig::{Drive, Line, Node, Sling, Structure, Turn};
use unmire_model::{Force, Length, Vec3};

/// Two floating blocks with friction: a redirect between two trees, a travelling block on the vehicle's bridle, the
/// dead end on a third tree. Free points start in the middle of their own anchors.
fn two_blocks() -> Structure {
    let sling = |name, a, b, long| Sling::new(name, a, b, Length::from_m(long), Force::from_kn(1200.0));
    let mut line = Line::hauled("line", vec![0, 6, 7, 5], Force::from_kn(20.0));
    line.turns = vec![Turn::Sheave { ratio: 0.95 }, Turn::Sheave { ratio: 0.9 }];
    let mut s = Structure {
        nodes: vec![
            Node::fixed("winch", Vec3::new(0.0, 0.0, 0.5)),
            Node::fixed("tree 1", Vec3::new(12.0, 9.0, 1.5)),
            Node::fixed("tree 2", Vec3::new(18.0, 7.0, 0.8)),
            Node::fixed("left hook", Vec3::new(16.0, -14.0, -2.0)),
            Node::fixed("right hook", Vec3::new(17.1, -14.0, -2.0)),
            Node::fixed("tree 3", Vec3::new(24.0, 4.0, 1.2)),
            Node::free("redirect", Vec3::ZERO).with_weight(Force::from_n(60.0)),
            Node::free("traveller", Vec3::ZERO).with_weight(Force::from_n(60.0)),
        ],
        slings: vec![sling("s1", 1, 6, 4.5), sling("s2", 2, 6, 5.0), sling("v1", 3, 7, 2.5), sling("v2", 4, 7, 2.5)],
        lines: vec![line],
    };
    s.nodes[6].at = (s.nodes[1].at + s.nodes[2].at) * 0.5;
    s.nodes[7].at = (s.nodes[3].at + s.nodes[4].at) * 0.5;
    s
}

fn equilibria(c: &mut Criterion) {
    let mut rigs: Vec<(String, Structure)> =
        ["R03", "R12", "R13", "R14"].into_iter().map(|id| (id.to_string(), case_named(id).structure)).collect();
    rigs.push(("two floating blocks".into(), two_blocks()));
    let mut ring = two_blocks();
    ring.lines[0].turns = vec![Turn::Ring { friction: 0.2 }, Turn::Sheave { ratio: 0.9 }];
    rigs.push(("two floating blocks, one a ring".into(), ring));
    for (name, rig) in &rigs {
        let mut solver = Solver::default();
        let mut eq = Equilibrium::default();
        solver.solve_into(rig, &mut eq).expect("an equilibrium");
        println!("{name}: {} steps, residual {:.1e} N", eq.iterations, eq.residual.as_n());
        c.bench_function(&format!("{name}, cold"), |b| {
            b.iter(|| solver.solve_into(black_box(rig), &mut eq).expect("an equilibrium"));
        });
        // The next position of the same rig: a tenth of a per cent more pull.
        let mut next = rig.clone();
        match &mut next.lines[0].drive {
            Drive::Tension(t) => *t = *t * 1.001,
            Drive::Pull { force, .. } => *force = *force * 1.001,
            Drive::Length { rest_length, .. } => *rest_length = *rest_length * 0.9999,
        }
        c.bench_function(&format!("{name}, warm"), |b| {
            let mut other = false;
            b.iter(|| {
                other = !other;
                solver.solve_from(black_box(if other { &next } else { rig }), &mut eq).expect("an equilibrium");
            });
        });
    }
    let many: Vec<Structure> = (0..200).map(random_rig).collect();
    let mut solver = Solver::default();
    let mut eq = Equilibrium::default();
    c.bench_function("200 random rigs of 1 to 4 blocks, cold", |b| {
        b.iter(|| {
            for rig in &many {
                solver.solve_into(black_box(rig), &mut eq).expect("an equilibrium");
            }
        });
    });
}

criterion_group!(benches, equilibria);
criterion_main!(benches);
