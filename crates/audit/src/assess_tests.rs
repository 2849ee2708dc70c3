//! Tests of the judging of one part and of a rig.

use crate::assess::{Assessment, Pulls, assess, margin_of};
use crate::compare::compare;
use crate::facts::{Detectors, PartFact, PartKind};
use crate::judge::{judge, judge_quietly, judge_strength};
use crate::policy::{Counts, Policy};
use crate::testkit::{anchor_part, case, facts, kn, layout, part};
use crate::verdict::Verdict;
use unmire_model::{Angle, Force};

fn pulls(work: f64, stall: f64) -> Pulls {
    Pulls { work: kn(work), stall: Some(kn(stall)), rated: Some(kn(40.0)) }
}
fn by_default(part: &PartFact, pulls: &Pulls, detector: bool) -> Assessment {
    assess(part, Policy::default_policy().row(part.kind).unwrap(), pulls, detector)
}
/// A part at a block that turns the line so that its two parts stand at `between` to each other.
fn at_a_block<'a>(kind: PartKind, breaking: Force, stall: Force, between: Angle, share: f64) -> PartFact<'a> {
    let station = stall * (2.0 * (between * 0.5).cos());
    let mut p = part(kind, None, None);
    p.capacity.breaking = Some(breaking);
    p.share = share;
    p.station_stall = Some(station);
    p.demand_stall = Some(station * share);
    p.demand_work = Some(station * share * 0.2);
    p
}

/// The regulator's example (see `checks/policy/`) at every angle: four stalls stay four stalls.
#[test]
fn closed_form_four_stalls_stay_four_at_any_angle() {
    let stall = Force::from_tonnef(5.0);
    let pulls = Pulls { work: stall * 0.2, stall: Some(stall), rated: None };
    let connector = |tonnes: f64| {
        let mut p = part(PartKind::Connector, None, None);
        p.capacity.breaking = Some(Force::from_tonnef(tonnes));
        (p.demand_work, p.demand_stall, p.station_stall) = (Some(pulls.work), Some(stall), Some(stall));
        by_default(&p, &pulls, false)
    };
    assert_eq!(connector(10.0).verdict, Verdict::Holds);
    assert_eq!(connector(9.99).verdict, Verdict::Overloaded);
    assert_eq!(connector(10.0).required_stall, Some(2.0));
    for kind in [PartKind::Block, PartKind::BlockConnector, PartKind::BlockStrap] {
        for degrees in [0.0, 60.0, 90.0, 120.0, 150.0] {
            let at = |tonnes: f64| {
                let strength = Force::from_tonnef(tonnes);
                by_default(&at_a_block(kind, strength, stall, Angle::from_deg(degrees), 1.0), &pulls, false)
            };
            assert_eq!(at(20.0).verdict, Verdict::Holds, "{kind:?} {degrees}");
            assert_eq!(at(19.99).verdict, Verdict::Overloaded, "{kind:?} {degrees}");
            assert!((at(20.0).margin.unwrap() - 1.0).abs() < 1e-12);
        }
    }
}

#[test]
fn closed_form_four_stalls_are_two_of_the_own_load_right_round_and_more_at_an_angle() {
    let stall = kn(50.0);
    let required = |degrees: f64| {
        let p = at_a_block(PartKind::Block, kn(300.0), stall, Angle::from_deg(degrees), 1.0);
        by_default(&p, &pulls(10.0, 50.0), false).required_stall.unwrap()
    };
    assert!((required(0.0) - 2.0).abs() < 1e-12);
    assert!((required(90.0) - 2.0 * 2.0_f64.sqrt()).abs() < 1e-12);
    assert!((required(120.0) - 4.0).abs() < 1e-12);
}

#[test]
fn closed_form_legs_that_share_are_asked_for_their_share() {
    // Two legs at 60 degrees to each other under a block that turns the line right round: 1 / (2 cos 30) of 2 T each.
    let share = 1.0 / (2.0 * Angle::from_deg(30.0).cos());
    let p = at_a_block(PartKind::BlockStrap, kn(200.0 * share), kn(50.0), Angle::ZERO, share);
    let a = by_default(&p, &pulls(10.0, 50.0), false);
    assert!((a.required_stall.unwrap() - 2.0).abs() < 1e-12);
    assert!((a.margin.unwrap() - 1.0).abs() < 1e-12, "4 stalls of 50 kN times the share are exactly there");
}

#[test]
fn closed_form_a_station_above_two_pulls_keeps_the_floor_on_the_own_load() {
    // Block and dead end on one strap: 3 T; four stalls would be only 1.33 times that.
    let mut p = part(PartKind::BlockStrap, Some(300.0), None);
    (p.demand_stall, p.station_stall, p.demand_work) = (Some(kn(150.0)), Some(kn(150.0)), Some(kn(30.0)));
    assert_eq!(by_default(&p, &pulls(10.0, 50.0), false).required_stall, Some(2.0));
}

#[test]
fn closed_form_the_stop_load_is_the_pull_at_which_the_ratio_is_reached() {
    let mut p = part(PartKind::Connector, Some(60.0), None);
    let a = by_default(&p, &pulls(10.0, 50.0), true);
    assert_eq!(a.verdict, Verdict::HoldsBelowStopLoad);
    assert!((a.stop_load.unwrap().as_kn() - 30.0).abs() < 1e-9, "60 kN at 2 times");
    // A block's part that sees twice the line: 100 kN at four line pulls.
    p = at_a_block(PartKind::Block, kn(100.0), kn(50.0), Angle::ZERO, 1.0);
    let a = by_default(&p, &pulls(10.0, 50.0), true);
    assert!((a.stop_load.unwrap().as_kn() - 25.0).abs() < 1e-9);
    // Without a detector it is overloaded, and so with one whose stop load is under the work.
    assert_eq!(by_default(&p, &pulls(10.0, 50.0), false).verdict, Verdict::Overloaded);
    assert_eq!(by_default(&p, &pulls(25.1, 50.0), true).verdict, Verdict::Overloaded);
    assert_eq!(by_default(&p, &pulls(25.0, 50.0), true).verdict, Verdict::HoldsBelowStopLoad);
}

#[test]
fn closed_form_the_trade_rule_counts_at_rated_pull() {
    let trade = Policy::by_name("trade-rated-pull").unwrap();
    let row = trade.row(PartKind::EndStrap).unwrap();
    assert_eq!(row.counts, Counts::RatedPull);
    let at = |kn: f64| assess(&part(PartKind::EndStrap, Some(kn), None), row, &pulls(10.0, 50.0), true);
    assert_eq!(at(80.0).verdict, Verdict::Holds, "twice 40 kN");
    let short = at(60.0);
    assert_eq!(short.verdict, Verdict::HoldsBelowStopLoad);
    assert!((short.stop_load.unwrap().as_kn() - 30.0).abs() < 1e-9);
}

#[test]
fn an_anchor_needs_its_own_detector() {
    let (case, layout) = (case(), layout());
    let mut f = facts(&case, &layout);
    // 20 kN a third, 30 kN the low end: enough for 10 kN of work, short of 50 kN of stall.
    f.parts = vec![anchor_part(PartKind::NaturalAnchor, "A1", 30.0, 60.0)];
    let word = |d: Detectors, f: &mut crate::facts::Facts| {
        f.detectors = d;
        judge_strength(f, &Policy::default_policy()).verdict
    };
    let some = |s: &str| Some(s.to_owned());
    let cell = Detectors { load_cell: some("L"), current: true, ..Detectors::default() };
    let tilt = Detectors { tilt_meter: some("T"), ..Detectors::default() };
    let mark = Detectors { movement_marker: some("M"), ..Detectors::default() };
    assert_eq!(word(Detectors::default(), &mut f), Verdict::Overloaded);
    assert_eq!(word(cell.clone(), &mut f), Verdict::Overloaded);
    assert_eq!(word(mark.clone(), &mut f), Verdict::Overloaded);
    assert_eq!(word(tilt.clone(), &mut f), Verdict::HoldsBelowStopLoad);
    f.parts = vec![anchor_part(PartKind::NaturalAnchor, "R1", 30.0, 60.0)];
    assert_eq!(word(tilt.clone(), &mut f), Verdict::Overloaded);
    assert_eq!(word(mark.clone(), &mut f), Verdict::HoldsBelowStopLoad);
    f.parts = vec![part(PartKind::Connector, Some(60.0), None)];
    assert_eq!(word(tilt, &mut f), Verdict::Overloaded);
    assert_eq!(word(mark, &mut f), Verdict::Overloaded);
    assert_eq!(word(cell, &mut f), Verdict::HoldsBelowStopLoad);
}

#[test]
fn an_anchor_has_one_reduction_and_not_two() {
    let at = |low: f64, likely: f64, stated: bool| {
        let mut p = anchor_part(PartKind::NaturalAnchor, "A1", low, likely);
        p.capacity.stated = stated;
        by_default(&p, &pulls(10.0, 50.0), false)
    };
    assert_eq!(at(50.0, 100.0, false).verdict, Verdict::Holds, "the low end does at stall");
    assert_eq!(at(35.0, 150.0, false).verdict, Verdict::Holds, "a third of the likely value does at stall");
    assert_eq!(at(33.0, 300.0, false).verdict, Verdict::Overloaded, "but no half as much again as the low end");
    assert_eq!(at(5.0, 150.0, false).required_work, Some(30.0), "the work stays under the low end");
    assert_eq!(at(0.0, 150.0, false).verdict, Verdict::Overloaded, "a low end of nothing bears nothing");
    assert_eq!(at(45.0, 140.0, false).verdict, Verdict::Overloaded);
    assert_eq!(at(25.0, 29.0, false).required_work, Some(3.0));
    assert_eq!(at(25.0, 29.0, false).verdict, Verdict::Overloaded, "a third at work");
    let stated = at(50.0, 60.0, true);
    assert_eq!((stated.verdict, stated.required_stall), (Verdict::Holds, Some(1.0)));
    assert_eq!(stated.capacity, Some(kn(50.0)));
}

#[test]
fn what_is_not_known_never_passes() {
    let pulls = pulls(10.0, 50.0);
    for policy in Policy::all() {
        for kind in PartKind::ALL {
            let row = policy.row(kind).unwrap();
            let strong = || {
                let mut p = anchor_part(kind, "A1", 1e4, 1e4);
                (p.capacity.breaking, p.capacity.working) = (Some(kn(1e4)), Some(kn(1e4)));
                p
            };
            assert_eq!(assess(&strong(), row, &pulls, true).verdict, Verdict::Holds, "{} {kind:?}", policy.name);
            let mut broken: Vec<PartFact> = (0..6).map(|_| strong()).collect();
            broken[0].capacity = crate::facts::Capacity::default();
            broken[1].demand_work = None;
            broken[2].demand_work = Some(kn(f64::NAN));
            broken[3].demand_stall = Some(kn(f64::NAN));
            broken[4].demand_stall = Some(kn(f64::INFINITY));
            broken[5].demand_work = Some(kn(-1.0));
            for (i, b) in broken.iter().enumerate() {
                assert_eq!(assess(b, row, &pulls, true).verdict, Verdict::Unknown, "{} {kind:?} {i}", policy.name);
            }
            let no_pull = Pulls { stall: None, ..pulls };
            assert_eq!(assess(&strong(), row, &no_pull, true).verdict, Verdict::Unknown);
        }
        let blind = part(PartKind::Block, None, None);
        assert_eq!(margin_of(&blind, &policy, &pulls, true), (Verdict::Unknown, None));
    }
}

#[test]
fn a_nan_capacity_is_unknown_and_no_capacity_is_overloaded() {
    let p = part(PartKind::Connector, Some(f64::NAN), None);
    assert_eq!(by_default(&p, &pulls(10.0, 50.0), true).verdict, Verdict::Unknown);
    let p = part(PartKind::Connector, Some(0.0), None);
    assert_eq!(by_default(&p, &pulls(10.0, 50.0), true).verdict, Verdict::Overloaded);
}

#[test]
fn more_strength_never_gives_a_worse_word() {
    for policy in Policy::all() {
        for kind in PartKind::ALL {
            let row = policy.row(kind).unwrap();
            for detector in [false, true] {
                for share in [0.3, 0.58, 1.0] {
                    for work in [0.0, 1.0, 10.0, 49.0] {
                        let mut last: Option<(Verdict, f64, f64)> = None;
                        for step in 1..400 {
                            let c = f64::from(step);
                            let mut p = anchor_part(kind, "A1", c * 0.6, c);
                            (p.capacity.breaking, p.capacity.working) = (Some(kn(c)), Some(kn(c * 0.2)));
                            p.share = share;
                            (p.demand_stall, p.station_stall) = (Some(kn(90.0 * share)), Some(kn(90.0)));
                            p.demand_work = Some(kn(1.8 * work * share));
                            let a = assess(&p, row, &pulls(work, 50.0), detector);
                            let stop = a.stop_load.map_or(f64::INFINITY, Force::as_kn);
                            let m = a.margin.unwrap_or(f64::INFINITY);
                            if let Some((v, lm, ls)) = last {
                                assert!(a.verdict <= v && m >= lm && stop >= ls, "{} {kind:?} {c}", policy.name);
                            }
                            last = Some((a.verdict, m, stop));
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn a_rig_is_as_good_as_its_worst_part_and_names_the_weakest() {
    let (case, layout) = (case(), layout());
    let mut f = facts(&case, &layout);
    f.parts = vec![
        part(PartKind::Line, Some(90.0), None),
        part(PartKind::Connector, Some(60.0), None),
        part(PartKind::EndStrap, Some(80.0), None),
    ];
    f.detectors.load_cell = Some("L".into());
    let j = judge(&f, &Policy::default_policy());
    assert_eq!(j.verdict, Verdict::HoldsBelowStopLoad);
    assert_eq!(j.weakest, Some(1));
    assert!((j.stop_load.unwrap().as_kn() - 30.0).abs() < 1e-9);
    assert!((j.lowest_margin.unwrap() - 0.6).abs() < 1e-12);
    let q = judge_quietly(&f, &Policy::default_policy());
    assert_eq!((q.verdict, q.stop_load, q.lowest_margin), (j.verdict, j.stop_load, j.lowest_margin));
    f.parts[2].capacity.breaking = None;
    let j = judge(&f, &Policy::default_policy());
    assert_eq!((j.verdict, j.weakest, j.stop_load), (Verdict::Unknown, Some(1), None));
    assert_eq!(j.unknown_parts().collect::<Vec<_>>(), [2]);
}

#[test]
fn a_rig_without_parts_or_pull_is_unknown() {
    let (case, layout) = (case(), layout());
    let mut f = facts(&case, &layout);
    assert_eq!(judge(&f, &Policy::default_policy()).verdict, Verdict::Unknown);
    f.parts = vec![part(PartKind::Line, Some(900.0), None)];
    assert_eq!(judge(&f, &Policy::default_policy()).verdict, Verdict::Holds);
    f.pull_work = kn(f64::NAN);
    assert_eq!(judge(&f, &Policy::default_policy()).verdict, Verdict::Unknown);
}

#[test]
fn policies_are_set_side_by_side() {
    let (case, layout) = (case(), layout());
    let mut f = facts(&case, &layout);
    f.parts = vec![part(PartKind::Line, Some(60.0), None), part(PartKind::Connector, Some(300.0), Some(45.0))];
    let c = compare(&f, &Policy::all());
    let words: Vec<_> = c.opinions.iter().map(|o| o.verdict).collect();
    assert_eq!(words, [Verdict::Holds, Verdict::Overloaded, Verdict::Overloaded, Verdict::Overloaded]);
    assert_eq!(c.differences.iter().map(|d| d.part).collect::<Vec<_>>(), [0, 1]);
    assert_eq!(c.differences[1].verdicts[2], Verdict::Overloaded, "45 kN of working load limit under 50 kN of stall");
}

/// The table of `docs/decisions/default-policy.md`: winch rated at 9,500 lb, stall 1.4 times that.
#[test]
fn closed_form_what_the_default_asks_of_a_sensible_bag() {
    let stall = Force::from_lbf(9500.0) * 1.4;
    let pulls = Pulls { work: stall * 0.2, stall: Some(stall), rated: Some(Force::from_lbf(9500.0)) };
    let at = |kind: PartKind, breaking: Force, loads: f64| {
        let mut p = part(kind, None, None);
        p.capacity.breaking = Some(breaking);
        let station =
            if matches!(kind, PartKind::Block | PartKind::BlockConnector | PartKind::BlockStrap) { 2.0 } else { loads };
        p.share = loads / station;
        (p.demand_stall, p.station_stall) = (Some(stall * loads), Some(stall * station));
        p.demand_work = Some(stall * (0.2 * loads));
        let a = by_default(&p, &pulls, true);
        (a.verdict == Verdict::Holds, a.stop_load.map(|s| s.as_kn().floor()))
    };
    let t = Force::from_tonnef;
    let short = |stop: f64| (false, Some(stop));
    let holds = (true, None);
    assert_eq!(at(PartKind::Line, kn(88.0 * 0.9), 1.0), holds);
    assert_eq!(at(PartKind::Connector, t(3.25 * 5.0), 1.0), holds);
    assert_eq!(at(PartKind::BlockConnector, t(4.75 * 6.0), 2.0), holds);
    assert_eq!(at(PartKind::BlockConnector, t(4.75 * 5.0), 2.0), short(58.0));
    assert_eq!(at(PartKind::Block, t(8.0 * 4.0), 2.0), holds);
    assert_eq!(at(PartKind::Block, t(4.0 * 4.0), 2.0), short(39.0));
    assert_eq!(at(PartKind::Block, t(8.0), 2.0), short(19.0));
    let equal_legs = 2.0 * Angle::from_deg(15.0).cos();
    assert_eq!(at(PartKind::EndStrap, t(10.0) * equal_legs, 1.0), holds);
    // One leg carries three quarters of what both would.
    let worst_leg = 1.36;
    assert_eq!(at(PartKind::BlockStrap, t(10.0) * worst_leg, 2.0), short(33.0));
    assert_eq!(at(PartKind::BlockStrap, t(3.0 * 7.0) * worst_leg, 2.0), holds);
    assert_eq!(at(PartKind::RecoveryPoint, t(3.25 * 2.0), 1.0), short(31.0));
    assert_eq!(at(PartKind::RecoveryPoint, t(3.25 * 2.0), 0.5 / Angle::from_deg(30.0).cos()), short(55.0));
    assert_eq!(at(PartKind::WinchMount, Force::from_lbf(12_000.0) * 2.0, 1.0), short(53.0));
}
