//! Nothing is allocated while an equilibrium is searched, once the buffers have grown.
#![allow(clippy::unwrap_used)]
mod rig_common;

use rig_common::{case_named, random_rig};
use unmire_mechanics::rig::{Equilibrium, Solver};
use unmire_model::rig::{Structure, Turn};

#[test]
fn regress_no_allocation_once_the_buffers_have_grown() {
    let mut rigs: Vec<Structure> = ["R03", "R12", "R13", "R14"].iter().map(|id| case_named(id).structure).collect();
    rigs.extend((0..50).map(random_rig));
    let mut ring = case_named("R12").structure;
    ring.lines[0].turns[0] = Turn::Ring { friction: 0.2 };
    rigs.push(ring);
    let mut solver = Solver::default();
    let mut eq = Equilibrium::default();
    let mut all = |rounds: usize| {
        let mut steps = 0;
        for _ in 0..rounds {
            for rig in &rigs {
                solver.solve_into(rig, &mut eq).unwrap();
                steps += eq.iterations;
                solver.solve_from(rig, &mut eq).unwrap();
            }
        }
        steps
    };
    // The counter counts: the first round makes the buffers grow.
    assert!(allocation_counter::measure(|| assert!(all(1) > 0)).count_total > 10);
    let mut steps = 0;
    let info = allocation_counter::measure(|| steps = all(3));
    assert_eq!(info.count_total, 0);
    assert!(steps > 500, "{steps} steps are too few to tell");
}
