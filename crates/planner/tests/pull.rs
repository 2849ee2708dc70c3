//! The whole pull: its account of work, its peaks, what stops it and what follows.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use unmire_model::case::Case;
use unmire_model::drive::{Battery, Drive, Electrics, Motor, SheetPoint};
use unmire_model::ground::{Ahead, Stretch};
use unmire_model::layout::{Family, Hold, Layout, Puller, Station, Who};
use unmire_model::trail::Input;
use unmire_model::{Angle, Charge, Current, Force, Length, Range, Speed, Voltage};
use unmire_planner::pull::report::Pull;
use unmire_planner::pull::{PullOptions, play_rig};
use unmire_planner::{Options, plan};

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/tests/cases/{name}.toml", env!("CARGO_MANIFEST_DIR"))).unwrap()
}
fn one_stage(steps: usize) -> PullOptions {
    PullOptions { steps, stages: 1, ..PullOptions::default() }
}
/// Every rig that a plan of these cases gives, whatever its verdict.
fn rigs() -> Vec<(Case, Family, Layout)> {
    let back = text("mixed-bag")
        .replace("direction = \"ahead\"\ngrade", "direction = \"back\"\ngrade")
        .replace("position = [13.0, 1.0, 0.3]", "position = [-13.0, 1.0, 0.3]")
        .replace("position = [13.5, -0.6, 0.3]", "position = [-13.5, -0.6, 0.3]");
    let weighed = text("mixed-bag").replace("bearing = \"bronze\"", "bearing = \"plain\"\nmass = \"9 kg\"");
    let cases = [
        common::case("mixed-bag"),
        common::case("helper-and-hand-winch"),
        common::case("eight-trees"),
        common::parse(&back),
        common::parse(&weighed),
    ];
    let mut out = Vec::new();
    for case in cases {
        let report = plan(&case, &Options { limit: 50, ..Options::default() }).unwrap();
        for p in report.plans {
            out.push((case.clone(), p.family, p.layout.unwrap()));
        }
    }
    out.push((common::case("helper-and-hand-winch"), Family::SteadyTow, tow()));
    out
}
/// The helper drives away on an extension strap.
fn tow() -> Layout {
    let names = |n: &[&str]| n.iter().map(|s| (*s).to_owned()).collect::<Vec<_>>();
    let puller =
        Puller::Tow { helper: "H".into(), point: "front".into(), connectors: names(&["x1"]), line: names(&["e2"]) };
    let hold = Hold::Point { on: Who::Stuck, point: "F1".into(), connectors: names(&["x2"]) };
    Layout {
        family: Family::SteadyTow,
        puller,
        stations: vec![Station { block: None, extensions: vec![], connectors: vec![], hold }],
        tie_back: None,
        holding: None,
        beside: vec![],
        line: 0,
    }
}
fn worst_of(p: &Pull, f: impl Fn(&unmire_planner::pull::report::Row) -> f64) -> f64 {
    p.history.iter().map(f).fold(0.0, f64::max)
}

#[test]
fn balance_the_winchs_work_is_resistance_friction_and_stored_energy_to_a_thousandth() {
    let rigs = rigs();
    let families: Vec<Family> = rigs.iter().map(|r| r.1).collect();
    for wanted in [Family::StraightPull, Family::DoubleLine, Family::TripleLine, Family::SteadyTow, Family::HandWinch] {
        assert!(families.contains(&wanted), "{} is not among them: {families:?}", wanted.word());
    }
    for (case, family, layout) in &rigs {
        let p = play_rig(case, layout, &[], &one_stage(100)).unwrap();
        let a = p.stages[0].account;
        let left = a.left().as_j().abs() / a.puller.as_j();
        println!("{} {}: {:.0} J, left {left:.2e}", case.title, family.word(), a.puller.as_j());
        assert!(a.puller.as_j() > 0.0, "{}", family.word());
        assert!(left < 1e-3, "{}: {a:?}", family.word());
    }
}

#[test]
fn balance_halving_the_step_changes_no_peak_by_more_than_half_a_per_cent() {
    for (case, family, layout) in &rigs() {
        let coarse = play_rig(case, layout, &[], &one_stage(50)).unwrap();
        let fine = play_rig(case, layout, &[], &one_stage(100)).unwrap();
        let near = |a: f64, b: f64, what: &str| {
            assert!((a - b).abs() <= 5e-3 * a.abs().max(b.abs()), "{} {what}: {a} and {b}", family.word());
        };
        assert_eq!(coarse.worst.len(), fine.worst.len());
        for w in &coarse.worst {
            let other = fine.worst.iter().find(|o| o.part == w.part && o.what == w.what).unwrap();
            if let (Some(a), Some(b)) = (w.demand, other.demand) {
                near(a.as_n(), b.as_n(), &w.part);
            }
            if let (Some(a), Some(b)) = (w.demand_stall, other.demand_stall) {
                near(a.as_n(), b.as_n(), &w.part);
            }
        }
        near(
            worst_of(&coarse, |r| r.line_tension.high().as_n()),
            worst_of(&fine, |r| r.line_tension.high().as_n()),
            "line",
        );
        let end = |p: &Pull| p.history.last().unwrap().clone();
        let (a, b) = (end(&coarse), end(&fine));
        near(a.time.likely().as_s(), b.time.likely().as_s(), "time");
        near(a.charge.likely().as_ah(), b.charge.likely().as_ah(), "charge");
        assert!((a.travel - b.travel).abs().as_m() < 0.05);
    }
}

/// A stretch of the way.
fn stretch(long: f64, bearing: f64, grade: f64, ahead: Ahead) -> Stretch {
    let exact = |v: f64| Range::hull(Angle::from_deg(v), Angle::from_deg(v), Angle::from_deg(v));
    Stretch {
        length: Input::assumed(Length::from_m(long), "test"),
        bearing: Some(Input::assumed(Angle::from_deg(bearing), "test")),
        grade: Some(Input::assumed(exact(grade), "test")),
        side_slope: None,
        ahead,
    }
}
fn best(case: &Case) -> Layout {
    plan(case, &Options::default()).unwrap().plans[0].layout.clone().unwrap()
}
fn codes(p: &Pull) -> Vec<&str> {
    p.stops.iter().chain(&p.events).map(|e| e.code).collect()
}

#[test]
fn closed_form_a_straight_pull_takes_in_what_the_vehicle_goes_and_ends_where_the_hook_meets_the_fairlead() {
    let case = common::parse(&text("mixed-bag").replace("distance = \"4 m .. 6 m\"", "distance = \"9 m .. 12 m\""));
    let layout = best(&common::case("mixed-bag"));
    let p = play_rig(&case, &layout, &[], &one_stage(120)).unwrap();
    assert_eq!(p.history[0].travel, Length::ZERO);
    for r in &p.history {
        // One line from the fairlead to the strap: its length is the distance of its ends.
        let at = |name: &str| r.points.iter().find(|q| q.0 == name).unwrap().1;
        let far = (at("fairlead of W1") - at("dead end")).norm();
        assert!((r.line_out.as_m() - far).abs() < 1e-9);
        // The pull along the way is the need: tension times the cosine of the angle between them.
        let out = case.way_out_direction(case.way_out.grade.value.likely());
        let cos = (at("dead end") - at("fairlead of W1")).unit().unwrap().dot(out);
        assert!((r.line_tension.high().as_n() * cos - r.resistance.high().as_n()).abs() < 1e-6);
    }
    let end = p.history.last().unwrap();
    assert!((end.line_out.as_m() - 0.5).abs() < 3e-3, "{}", end.line_out.as_m());
    assert_eq!(p.stops.iter().find(|s| s.ends_stage).unwrap().code, "two-blocking");
    assert!(!p.arrives() && !p.passes());
}

#[test]
fn closed_form_what_must_be_overcome_follows_the_stretches() {
    let mut case = common::case("mixed-bag");
    let surface = Ahead::Surface(Input::assumed("firm_grass".to_owned(), "test"));
    let share = Input::assumed(Range::hull(0.2, 0.3, 0.5), "test");
    case.path = vec![
        stretch(2.0, 0.0, 2.0, Ahead::AsFound),
        stretch(1.0, 0.0, 12.0, Ahead::Share(share)),
        stretch(3.0, 0.0, 0.0, surface),
    ];
    let p = play_rig(&case, &best(&common::case("mixed-bag")), &[], &one_stage(60)).unwrap();
    let w = case.vehicle.mass.value.high().weight().as_n();
    let at = |s: f64| {
        let r = p.history.iter().rev().find(|r| r.travel.as_m() < s).unwrap();
        r.resistance.high().as_n()
    };
    let sin = |d: f64| Angle::from_deg(d).sin();
    assert!((at(1.9) - w * (0.8 + sin(2.0))).abs() < 1e-6 * w);
    assert!((at(2.9) - w * (0.5 + sin(12.0))).abs() < 1e-6 * w);
    let rolling = unmire_mechanics::ground::rolling("firm_grass").unwrap().share.high();
    assert!((at(5.9) - w * rolling).abs() < 1e-6 * w);
    // Both sides of a border stand in the history.
    let two: Vec<_> = p.history.iter().filter(|r| (r.travel.as_m() - 2.0).abs() < 1e-9).collect();
    assert_eq!(two.len(), 2);
    let a = p.stages[0].account;
    assert!(a.left().as_j().abs() < 1e-3 * a.puller.as_j(), "{a:?}");
    assert!(!codes(&p).contains(&"way-as-found"));
}

#[test]
fn balance_on_a_way_with_corners_the_work_is_accounted_for() {
    let mut case = common::case("mixed-bag");
    case.path = vec![
        stretch(2.0, 0.0, 2.0, Ahead::AsFound),
        stretch(2.0, 20.0, 5.0, Ahead::AsFound),
        stretch(2.0, -10.0, -2.0, Ahead::AsFound),
    ];
    let mut arrived = 0;
    for (other, family, layout) in rigs() {
        if other.title != case.title || family == Family::ReversePull {
            continue;
        }
        let p = play_rig(&case, &layout, &[], &one_stage(100)).unwrap();
        let a = p.stages[0].account;
        assert!(a.left().as_j().abs() < 1e-3 * a.puller.as_j(), "{}: {a:?}", family.word());
        assert!(a.turning.as_j().abs() > 0.0, "{a:?}");
        let end = p.history.last().unwrap();
        if p.stages[0].done {
            arrived += 1;
            assert!((end.turned.as_deg() + 10.0).abs() < 1e-9, "{}", end.turned.as_deg());
        }
    }
    assert!(arrived > 0);
}

#[test]
fn a_rig_that_is_right_at_the_start_and_wrong_later_ends_there_and_the_next_is_planned() {
    // The anchor stands aside of the way: the nearer it comes, the more of the pull goes sideways.
    let aside = text("mixed-bag")
        .replace("position = [13.0, 1.0, 0.3]", "position = [9.0, 2.4, 0.3]")
        .replace("label = \"MBS 9 t\"", "label = \"MBS 6.2 t\"");
    let case = common::parse(&aside);
    let mut alone = case.clone();
    alone.anchors.retain(|a| a.id == "A1");
    let layout = best(&alone);
    let p = play_rig(&case, &layout, &[], &PullOptions::default()).unwrap();
    let first = &p.stages[0];
    assert!(first.verdict_at_start.passes() && first.verdict.passes());
    assert!(!first.done && first.to.as_m() > 0.2, "{first:?}");
    assert!(p.stages.len() > 1, "{:?}", p.stops);
    let stop = p.stops.iter().find(|s| s.ends_stage).unwrap();
    assert_eq!(stop.travel, first.to);
    // Way, time and charge go on from stage to stage.
    for (a, b) in p.history.iter().zip(p.history.iter().skip(1)) {
        assert!(b.travel >= a.travel && b.time.likely() >= a.time.likely() && b.charge.high() >= a.charge.high());
    }
    assert!(p.stages.windows(2).all(|w| w[0].to == w[1].from));
    // The vehicle does not jump from one stage to the next.
    let border: Vec<_> = p.history.iter().filter(|r| r.travel == first.to).collect();
    assert!(border.len() >= 2 && (border[0].at - border[1].at).norm() < 1e-9);
}

#[test]
fn closed_form_time_is_line_over_speed_and_charge_is_current_times_time() {
    let mut case = common::case("mixed-bag");
    let point = |kn: f64, a: f64, m_min: f64| SheetPoint {
        pull: Force::from_kn(kn),
        current: Some(Current::from_a(a)),
        speed: Some(Speed::from_m_s(m_min / 60.0)),
    };
    let exact = |v: f64| Range::hull(v, v, v);
    let ah = |v: f64| Range::hull(Charge::from_ah(v), Charge::from_ah(v), Charge::from_ah(v));
    let winch = case.vehicle.winch.as_mut().unwrap();
    // A sheet without slope, and a drum so thick that all line lies on one layer: speed and current stay what they are.
    winch.drum.as_mut().unwrap().diameter = Length::from_m(0.5);
    winch.drive = Some(Drive {
        motor: Motor::Electric(Box::new(Electrics {
            nominal: Input::assumed(Voltage::from_v(12.0), "test"),
            battery: Some(Battery {
                capacity: Input::assumed(ah(40.0), "test"),
                filled: Input::assumed(exact(0.9), "test"),
                resistance: None,
            }),
            alternator: None,
            run_at_rated: None,
            rest: None,
        })),
        sheet: vec![point(0.0, 300.0, 3.0), point(60.0, 300.0, 3.0)],
    });
    let p = play_rig(&case, &best(&case), &[], &one_stage(50)).unwrap();
    let (first, last) = (p.history.first().unwrap(), p.history.last().unwrap());
    let line = (first.line_out - last.line_out).as_m();
    assert!((last.time.likely().as_s() - line / 0.05).abs() < 1e-6);
    assert!((last.charge.likely().as_as() - 300.0 * line / 0.05).abs() < 1e-3);
    // What a battery of 40 Ah loses: half and more of what is printed is not there at such a current.
    let filled = 0.9 - last.charge.likely().as_ah() / (40.0 * 0.55);
    assert!((last.filled.unwrap().likely() - filled).abs() < 1e-9);
    assert!(first.voltage.unwrap().likely() > last.voltage.unwrap().likely());
    assert!(codes(&p).contains(&"battery-low"), "{:?}", codes(&p));
    assert!(!p.findings.iter().any(|f| f.code == "current-assumed" || f.code == "battery-untold"));
    assert!(p.findings.iter().any(|f| f.code == "duty-assumed"));
}

#[test]
fn where_the_slope_takes_it_nothing_is_pulled_and_a_lowering_line_is_asked_for() {
    let down = text("mixed-bag")
        .replace("depth = \"wheel\"", "depth = \"not mired\"")
        .replace("surface = \"wet grass\"", "surface = \"hard road\"")
        .replace("mire_share = \"40 % .. 60 % .. 80 %\"\n", "")
        .replace("grade = \"1 deg .. 3 deg up\"", "grade = \"14 deg .. 10 deg down\"");
    let case = common::parse(&down);
    let p = play_rig(&case, &best(&common::case("mixed-bag")), &[], &one_stage(20)).unwrap();
    assert!(codes(&p).contains(&"no-need"));
    assert!(p.history.iter().all(|r| r.line_tension.high() == Force::ZERO));
    let l = &p.lowering[0];
    let w = case.vehicle.mass.value.high().weight();
    let least = unmire_mechanics::ground::rolling("hard_road").unwrap().share.low();
    let steepest = Angle::from_deg(14.0);
    let want = w * (steepest.sin() - least * steepest.cos());
    assert!((l.tension.high() - want).abs().as_n() < 1e-6);
    assert!(p.stability.iter().all(|s| s.can_run_away && s.holding.unwrap() > Force::ZERO));
}

#[test]
fn where_no_rig_pulls_and_the_slope_takes_it_what_could_let_it_down_is_told() {
    let steep = text("mixed-bag")
        .replace("grade = \"1 deg .. 3 deg up\"", "grade = \"24 deg down .. 20 deg down\"")
        .replace("mire_share = \"40 % .. 60 % .. 80 %\"", "mire_share = \"3 % .. 5 % .. 8 %\"")
        .replace("position = [13.0, 1.0, 0.3]", "position = [-13.0, 1.0, 4.5]")
        .replace("position = [13.5, -0.6, 0.3]", "position = [-13.5, -0.6, 4.5]");
    let case = common::parse(&steep);
    let p = unmire_planner::pull::play(&case, &PullOptions::default()).unwrap();
    assert!(p.stages.is_empty() && p.history.is_empty() && !p.passes());
    // In mire nobody counts on what holds it: all of the weight along the slope.
    let w = case.vehicle.moving_mass().high().weight().as_n();
    let l = &p.lowering[0];
    assert!((l.tension.high().as_n() - w * Angle::from_deg(24.0).sin()).abs() < 1e-6 * w);
    assert!(l.ways.iter().any(|way| way.what.contains("A1") && way.turns.is_some()), "{:?}", l.ways);
    let said = plan(&case, &Options::default()).unwrap();
    assert!(!said.passes() && said.findings.iter().any(|f| f.code == "no-need"), "{:?}", said.findings);
    // On level ground there is nothing to let down, and no rig is an error as before.
    let level = common::parse(
        &text("mixed-bag")
            .replace("position = [13.0, 1.0, 0.3]", "position = [-13.0, 1.0, 0.3]")
            .replace("position = [13.5, -0.6, 0.3]", "position = [-13.5, -0.6, 0.3]")
            .replace("grade = \"1 deg .. 3 deg up\"", "grade = \"1 deg up .. 3 deg up\""),
    );
    assert!(unmire_planner::pull::play(&level, &PullOptions::default()).is_err());
}

#[test]
fn every_number_of_a_pull_is_one_and_the_legs_pull_what_the_rig_says() {
    for (case, family, layout) in rigs() {
        let p = play_rig(&case, &layout, &[], &one_stage(25)).unwrap();
        for r in &p.history {
            assert!(r.line_tension.high().is_finite() && r.time.likely().is_finite(), "{}", family.word());
            assert!(r.legs.iter().all(|l| l.tension.is_finite() && l.length.is_finite()));
            assert!(
                r.line_tension.low() <= r.line_tension.likely() && r.line_tension.likely() <= r.line_tension.high()
            );
        }
        assert!(!p.worst.is_empty() && !p.stability.is_empty());
        // A plan judges the worst of the pull if the rig passes at its start, else its start.
        let mut given = case.clone();
        given.rig = Some(layout.clone());
        let check = unmire_planner::check(&given, &Options::default()).unwrap();
        let first = &p.stages[0];
        let want = if first.verdict_at_start.passes() { first.verdict } else { first.verdict_at_start };
        assert_eq!(check.plans[0].verdict, want, "{}", family.word());
    }
}
