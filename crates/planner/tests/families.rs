//! Every family is found where the site and the kit allow it, and what is found is in balance and pulls the right way.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use unmire_model::layout::Family;
use unmire_planner::choices::choices;
use unmire_planner::report::Report;
use unmire_planner::{Options, plan};

fn planned(name: &str) -> Report {
    plan(&common::case(name), &Options { limit: 50, ..Options::default() }).unwrap()
}
fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/tests/cases/{name}.toml", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

#[test]
fn every_family_is_among_the_choices_of_some_site() {
    let sites = [
        common::case("mixed-bag"),
        common::case("helper-and-hand-winch"),
        common::parse(
            &text("mixed-bag")
                .replace("direction = \"ahead\"\ngrade", "direction = \"back\"\ngrade")
                .replace("position = [13.0, 1.0, 0.3]", "position = [-13.0, 1.0, 0.3]"),
        ),
        common::parse(
            &text("helper-and-hand-winch").replace("position = [29.0, -0.5, 0.6]", "position = [14.5, -2.5, 0.6]"),
        ),
    ];
    let found: Vec<Family> =
        sites.iter().flat_map(|c| choices(c).iter().map(|r| r.family).collect::<Vec<_>>()).collect();
    for family in Family::ALL {
        assert!(found.contains(&family), "{} is nowhere", family.word());
    }
}

#[test]
fn balance_forces_of_every_plan_add_up_to_nothing_but_weights() {
    for name in ["mixed-bag", "helper-and-hand-winch"] {
        let report = planned(name);
        assert!(!report.plans.is_empty());
        for p in &report.plans {
            let sum = p.anchors.iter().fold(unmire_model::Vec3::ZERO, |s, a| s + a.stall.unwrap_or(a.work));
            // Blocks of these kits have no mass: nothing remains.
            let most = p.anchors.iter().map(|a| a.stall.unwrap_or(a.work).norm()).fold(0.0, f64::max);
            assert!(sum.norm() < 1e-6 * most, "{}: {sum:?}", p.summary);
            assert!(p.residual.as_n() <= 1e-9 * most.max(1.0));
        }
    }
}

#[test]
fn balance_the_rig_pulls_the_stuck_vehicle_along_the_way_out_with_the_need() {
    for name in ["mixed-bag", "helper-and-hand-winch"] {
        let case = common::case(name);
        let out = case.way_out_direction(case.way_out.grade.value.likely());
        for p in &planned(name).plans {
            let pull: f64 = p
                .anchors
                .iter()
                .filter(|a| a.point == "fairlead of W1" || (a.point.starts_with("point") && !a.point.contains(" of ")))
                .map(|a| a.work.dot(out))
                .sum();
            let need = p.demand.force.high().as_n();
            // Each anchor shows its worse sheave end; with blocks the sum may be a little more than the need, never less.
            assert!(pull >= need * (1.0 - 1e-9) && pull < need * 1.1, "{}: {pull} for {need}", p.summary);
        }
    }
}

#[test]
fn a_reverse_pull_goes_backwards_although_the_winch_looks_ahead() {
    let back = text("mixed-bag")
        .replace("direction = \"ahead\"\ngrade", "direction = \"back\"\ngrade")
        .replace("position = [13.0, 1.0, 0.3]", "position = [-13.0, 1.0, 0.3]")
        .replace("position = [13.5, -0.6, 0.3]", "position = [-13.5, -0.6, 0.3]");
    let case = common::parse(&back);
    let report = plan(&case, &Options { limit: 50, ..Options::default() }).unwrap();
    let reverse: Vec<_> = report.plans.iter().filter(|p| p.family == Family::ReversePull).collect();
    assert!(!reverse.is_empty(), "{:?}", report.findings);
    for p in reverse {
        let fairlead = p.anchors.iter().find(|a| a.point == "fairlead of W1").unwrap();
        assert!(p.points.iter().any(|q| q.kind == "anchor" && q.at.x < -5.0));
        let sum: f64 = p
            .anchors
            .iter()
            .filter(|a| a.point.starts_with("point") || a.point.starts_with("fairlead"))
            .map(|a| a.work.x)
            .sum();
        assert!(sum < 0.0, "{}: {sum}", p.summary);
        assert!(fairlead.work.norm() > 0.0);
    }
}

#[test]
fn a_piece_is_used_once_and_comes_from_the_kit() {
    for name in ["mixed-bag", "helper-and-hand-winch"] {
        let case = common::case(name);
        for p in &planned(name).plans {
            for (i, piece) in p.pieces.iter().enumerate() {
                assert!(case.piece(&piece.id).is_some());
                assert!(!p.pieces[..i].iter().any(|q| q.id == piece.id), "{} twice: {}", piece.id, p.summary);
            }
        }
    }
}

#[test]
fn keeping_the_working_changes_no_bit() {
    let case = common::case("mixed-bag");
    let plain = plan(&case, &Options::default()).unwrap();
    let mut kept = plan(&case, &Options { explain: true, ..Options::default() }).unwrap();
    assert!(kept.plans.iter().all(|p| p.trail.steps.len() > 10));
    for p in &mut kept.plans {
        p.trail = Default::default();
    }
    assert_eq!(plain, kept);
}

#[test]
fn checking_a_planned_rig_gives_the_same_plan() {
    let mut case = common::case("mixed-bag");
    let report = plan(&case, &Options::default()).unwrap();
    let best = &report.plans[0];
    assert!(best.actions.is_empty());
    case.rig = best.layout.clone();
    let again = unmire_planner::check(&case, &Options::default()).unwrap();
    assert_eq!(again.plans[0].verdict, best.verdict);
    assert_eq!(again.plans[0].checks, best.checks);
    assert_eq!(again.plans[0].legs, best.legs);
}

#[test]
fn raising_a_label_never_worsens_the_best_rig_and_a_missing_one_never_passes() {
    let base = planned("mixed-bag");
    let stronger = common::parse(&text("mixed-bag").replace("label = \"MBS 16 t\"", "label = \"MBS 30 t\""));
    let stronger = plan(&stronger, &Options::default()).unwrap();
    assert!(stronger.plans[0].verdict <= base.plans[0].verdict);
    let unmarked = common::parse(&text("mixed-bag").replace("mount = \"WLL 6 t\"", "mount = \"missing\""));
    let unmarked = plan(&unmarked, &Options::default()).unwrap();
    assert!(!unmarked.passes());
    assert!(unmarked.plans.iter().all(|p| !p.verdict.passes()));
}

#[test]
fn a_line_never_crosses_an_obstacle() {
    let fenced = text("mixed-bag")
        + "\n[[obstacle]]\nid = \"fence\"\nwhat = \"a fence\"\nbars = \"lines\"\noutline = [[8, 0.2], [8, 5]]\n";
    let report = plan(&common::parse(&fenced), &Options { limit: 50, ..Options::default() }).unwrap();
    assert!(!report.plans.is_empty());
    for p in &report.plans {
        assert!(!p.points.iter().any(|q| q.name == "anchor A1"), "{}", p.summary);
    }
}

#[test]
fn where_every_line_would_cross_an_obstacle_the_best_attempts_are_shown_and_barred() {
    let fenced = text("mixed-bag")
        + "\n[[obstacle]]\nid = \"fence\"\nwhat = \"a fence\"\nbars = \"lines\"\noutline = [[8, -9], [8, 9]]\n";
    let report = plan(&common::parse(&fenced), &Options::default()).unwrap();
    assert!(!report.plans.is_empty() && !report.passes());
    for p in &report.plans {
        assert!(p.findings.iter().any(|f| f.code == "obstacle-crossing"), "{}", p.summary);
    }
}

#[test]
fn where_only_a_detector_is_missing_that_rig_comes_first_and_says_so() {
    let bare = text("mixed-bag").replace("stall = \"40 kN .. 46 kN\"", "stall = \"100 kN .. 130 kN\"");
    let detectors = ["\n[[piece]]\nid = \"cell\"", "\n[[piece]]\nid = \"tilt\""];
    let with = plan(&common::parse(&bare), &Options::default()).unwrap();
    let cut = bare.find(detectors[0]).unwrap();
    let without = plan(&common::parse(&bare[..cut]), &Options::default()).unwrap();
    assert!(with.passes() && !without.passes());
    assert!(without.plans[0].why.contains("With a detector"), "{}", without.plans[0].why);
}
