//! The account of the work of a pull, over rigs and ways that nobody drew by hand.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use proptest::prelude::*;
use std::sync::OnceLock;
use unmire_model::case::Case;
use unmire_model::ground::{Ahead, Stretch};
use unmire_model::layout::Layout;
use unmire_model::trail::Input;
use unmire_model::{Angle, Length, Range, Vec3};
use unmire_planner::pull::{PullOptions, play_rig};
use unmire_planner::{Options, plan};

/// Every rig of two cases, planned once.
fn rigs() -> &'static [(Case, Layout)] {
    static ALL: OnceLock<Vec<(Case, Layout)>> = OnceLock::new();
    ALL.get_or_init(|| {
        let mut out = Vec::new();
        for name in ["mixed-bag", "helper-and-hand-winch"] {
            let case = common::case(name);
            let found = plan(&case, &Options { limit: 50, ..Options::default() }).unwrap();
            out.extend(found.plans.into_iter().filter_map(|p| p.layout).map(|l| (case.clone(), l)));
        }
        assert!(out.len() >= 6, "{}", out.len());
        out
    })
}

fn about(v: f64) -> Range<Angle> {
    Range::hull(Angle::from_deg(v - 1.0), Angle::from_deg(v), Angle::from_deg(v + 1.0))
}

fn stretch() -> impl Strategy<Value = Stretch> {
    (1.0..4.0f64, -20.0..20.0f64, -4.0..14.0f64, prop::option::of(0.1..0.8f64)).prop_map(
        |(long, bearing, grade, share)| Stretch {
            length: Input::assumed(Length::from_m(long), "drawn by lot"),
            bearing: Some(Input::assumed(Angle::from_deg(bearing), "drawn by lot")),
            grade: Some(Input::assumed(about(grade), "drawn by lot")),
            side_slope: None,
            ahead: share.map_or(Ahead::AsFound, |s| {
                Ahead::Share(Input::assumed(Range::hull(0.8 * s, s, 1.2 * s), "drawn by lot"))
            }),
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn balance_the_work_is_accounted_for_over_rigs_and_ways_drawn_by_lot(
        which in any::<prop::sample::Index>(),
        way in prop::collection::vec(stretch(), 1..4),
        moved in prop::collection::vec((-1.5..1.5f64, -1.5..1.5f64, -0.8..0.8f64), 8),
        share in 0.2..0.8f64,
    ) {
        let (case, layout) = which.get(rigs());
        let mut case = case.clone();
        case.path = way;
        case.stuck.mire_share = Some(Input::assumed(Range::hull(0.8 * share, share, 1.1 * share), "drawn by lot"));
        for (a, (x, y, z)) in case.anchors.iter_mut().zip(moved) {
            a.position += Vec3::new(x, y, z);
        }
        let options = PullOptions { steps: 100, stages: 1, ..PullOptions::default() };
        // A line that crosses something or is too short there is told as such, and is not what is tried here.
        let Ok(p) = play_rig(&case, layout, &[], &options) else { return Err(TestCaseError::reject("no such rig")) };
        let a = p.stages[0].account;
        let most = [a.puller, a.resistance, a.potential, a.turning].iter().fold(0.0, |m: f64, e| m.max(e.as_j().abs()));
        prop_assert!(most.is_finite());
        // Where the slope takes it from the start nothing is pulled.
        prop_assume!(most > 100.0);
        prop_assert!(a.left().as_j().abs() < 1e-3 * most, "{:.0} J of {most:.0} J: {a:?}", a.left().as_j());
    }
}
