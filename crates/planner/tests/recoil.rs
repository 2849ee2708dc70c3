//! What flies when something lets go: over every rig that the cases of these tests give.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use unmire_audit::facts::PartKind;
use unmire_mechanics::recoil::inside;
use unmire_model::case::Case;
use unmire_model::gear::{Label, PieceKind};
use unmire_model::layout::Family;
use unmire_model::{Mass, Vec3};
use unmire_planner::recoil::{RecoilReport, of_plan, recoil};
use unmire_planner::report::Plan;
use unmire_planner::{Options, plan};

const CASES: [&str; 2] = ["mixed-bag", "helper-and-hand-winch"];

fn options() -> Options {
    Options { limit: 50, ..Options::default() }
}
fn every_rig(case: &Case) -> Vec<RecoilReport> {
    let report = plan(case, &options()).unwrap();
    assert!(!report.plans.is_empty());
    let site = report.site.clone();
    report.plans.into_iter().map(|p| of_plan(case, &options(), p, site.clone()).unwrap()).collect()
}
fn all() -> Vec<RecoilReport> {
    CASES.iter().flat_map(|name| every_rig(&common::case(name))).collect()
}
fn of_family(family: Family) -> RecoilReport {
    all().into_iter().find(|r| r.plan.family == family).unwrap_or_else(|| panic!("no {}", family.word()))
}

#[test]
fn every_part_that_is_checked_has_its_failure_and_something_flies() {
    for r in all() {
        for c in r.plan.checks.iter().filter(|c| c.kind != PartKind::ParkedVehicle) {
            let f = r.thrown.failures.iter().find(|f| f.part == c.part);
            let f = f.unwrap_or_else(|| panic!("{}: the failure of {} is missing", r.plan.summary, c.part));
            assert!(!f.flies.is_empty(), "{}: nothing flies if {} fails", r.plan.summary, c.part);
        }
        for f in &r.thrown.failures {
            for fly in &f.flies {
                let n = fly.direction.norm();
                assert!((n - 1.0).abs() < 1e-9, "{}: {} flies nowhere: {n}", r.plan.summary, fly.what);
                assert!(!fly.way.is_empty() && !fly.what.is_empty());
            }
        }
    }
}

#[test]
fn balance_the_energies_of_the_members_add_up_to_what_lets_go() {
    for r in all() {
        // The tie-back and the holding line are lines of their own.
        let main: Vec<_> =
            r.thrown.members.iter().filter(|m| !m.what.contains("tie-back") && !m.what.contains("holding")).collect();
        if main.len() < r.thrown.members.len() {
            continue;
        }
        let sum: f64 = main
            .iter()
            .filter_map(|m| m.energy_stall.as_ref().or(m.energy_work.as_ref()))
            .map(|e| e.high().as_j())
            .sum();
        let Some(total) = r.thrown.energy_stall.or(r.thrown.energy_work) else { continue };
        assert!((sum - total.as_j()).abs() < 1e-9 * sum, "{}: {sum} and {}", r.plan.summary, total.as_j());
        for f in &r.thrown.failures {
            if let Some(e) = f.energy {
                assert!((e - total).abs().as_j() < 1e-9 * sum, "{}", f.part);
            }
            for fly in &f.flies {
                // Nothing carries more than there is.
                assert!(fly.energy.is_none_or(|e| e.as_j() <= total.as_j() * (1.0 + 1e-12)));
            }
        }
    }
}

#[test]
fn closed_form_a_straight_pull_by_hand() {
    let r = of_family(Family::StraightPull);
    let line = &r.thrown.members[0];
    let ea = line.ea.unwrap();
    // HMPE: 37.5 times its strength at the soft end.
    assert!((ea.low().as_n() - 37.5 * 9.0 * 9806.65).abs() < 1e-3);
    let (t, l) = (line.stall.unwrap().as_n(), line.length.as_m());
    let u = t * t * l / (2.0 * ea.low().as_n());
    assert!((line.energy_stall.unwrap().high().as_j() - u).abs() < 1e-9 * u);
    let m = 495.72 * 0.01 * 0.01;
    let tip = t / (ea.low().as_n() * m).sqrt();
    assert!((line.tip.unwrap().as_m_s() - tip).abs() < 1e-9 * tip);
    // The end of the line flies back along it, no faster than its own wave: nothing else holds it.
    let end = r.thrown.failures.iter().rfind(|f| f.kind == PartKind::NaturalAnchor).unwrap();
    let back = &end.flies[0];
    let along = (r.plan.points.iter().find(|p| p.kind == "winch").unwrap().at - back.at).unit().unwrap();
    assert!(back.direction.dot(along) > 1.0 - 1e-6, "{:?} {along:?}", back.direction);
    let bound = back.bound.unwrap().speed.as_m_s();
    let by_energy = (2.0 * end.energy.unwrap().as_j() / back.mass.unwrap().low().as_kg()).sqrt();
    assert!((bound - tip.min(by_energy)).abs() < 1e-9 * bound);
}

#[test]
fn closed_form_a_redirect_throws_its_block_into_the_angle() {
    let mut seen = 0;
    for r in all() {
        for (point, ring) in &r.thrown.bights {
            let corner = |i: usize| Vec3::new(ring[i].0, ring[i].1, 0.0);
            let (before, at, after) = (corner(0), corner(1), corner(2));
            let open = (before - at).angle_to(after - at).unwrap();
            for f in r.thrown.failures.iter().filter(|f| f.kind == PartKind::BlockStrap || f.kind == PartKind::Block) {
                let Some(fly) =
                    f.flies.iter().find(|x| x.aside && (x.at - at).level().norm() < 1e-6 && x.from == *point)
                else {
                    continue;
                };
                if r.plan.family == Family::FloatingRedirect && f.kind == PartKind::BlockStrap {
                    continue; // Thrown by the other anchor's leg as well.
                }
                let d = fly.direction.level();
                let off = d.angle_to(before - at).unwrap().as_rad() + d.angle_to(after - at).unwrap().as_rad();
                assert!(off < open.as_rad() + 0.05, "{}: {} of {}", r.plan.summary, f.part, point);
                assert!(fly.bound.is_none_or(|b| b.limit.word() == "energy"));
                seen += 1;
            }
        }
    }
    assert!(seen >= 3, "{seen}");
}

#[test]
fn the_ground_is_that_of_the_plan_and_holds_every_place_from_which_something_flies() {
    for r in all() {
        assert_eq!(r.thrown.keep_out, r.plan.keep_out, "{}", r.plan.summary);
        let rings = &r.thrown.keep_out.rings;
        let held = |x: f64, y: f64| rings.iter().any(|ring| inside(ring, (x, y)));
        assert_eq!(rings.len(), 1, "{}", r.plan.summary);
        for at in &r.thrown.hard_points {
            for k in 0..36 {
                let a = f64::from(k) * 0.175;
                let far = r.thrown.keep_out.radius.as_m() * (1.0 - 1e-9);
                let (x, y) = (at.x + far * libm::cos(a), at.y + far * libm::sin(a));
                assert!(held(x, y), "{}: the disc round {at:?} sticks out", r.plan.summary);
            }
        }
        for fly in r.thrown.failures.iter().flat_map(|f| &f.flies) {
            assert!(held(fly.at.x, fly.at.y));
            // It sets off from a loaded hard point, or from a line between two.
            let near = r.thrown.hard_points.iter().any(|p| (*p - fly.at).norm() < 1e-6);
            assert!(near || fly.from == "the line", "{}: {} from {}", r.plan.summary, fly.what, fly.from);
        }
        for (_, ring) in &r.thrown.bights {
            let (x, y) = (ring.iter().map(|p| p.0).sum::<f64>() / 3.0, ring.iter().map(|p| p.1).sum::<f64>() / 3.0);
            assert!(held(x, y));
        }
        // At least 1.5 times the tensioned line.
        let line: f64 = r.plan.legs.iter().filter(|l| l.member == "line").map(|l| l.length.as_m()).sum();
        assert!(r.thrown.keep_out.radius.as_m() >= 1.5 * line * 0.999, "{}", r.plan.summary);
    }
}

#[test]
fn places_lie_outside_aside_and_not_on_the_low_side() {
    let mut found = 0;
    for r in all() {
        for p in &r.thrown.places {
            assert!(!r.thrown.keep_out.rings.iter().any(|ring| inside(ring, p.at)));
            for at in &r.thrown.hard_points {
                let d = (Vec3::new(p.at.0, p.at.1, 0.0) - *at).level().norm();
                assert!(d > r.thrown.keep_out.radius.as_m() && d >= p.nearest.as_m() - 1e-9);
            }
            assert!(p.off_line.as_deg() >= 30.0);
            for s in r.thrown.rules.iter().filter(|s| s.distance > p.nearest) {
                assert!(p.short_of.iter().any(|w| w == s.what));
            }
            found += 1;
        }
    }
    assert!(found > 10, "{found}");
    // A slope of 20 degrees up ahead: nobody is sent behind the vehicle.
    let path = format!("{}/tests/cases/mixed-bag.toml", env!("CARGO_MANIFEST_DIR"));
    let steep =
        std::fs::read_to_string(path).unwrap().replace("grade = \"1 deg .. 3 deg up\"", "grade = \"12 deg up\"");
    let r = recoil(&common::parse(&steep), &options()).unwrap();
    assert!(!r.thrown.places.is_empty());
    for p in &r.thrown.places {
        assert!(p.at.0 > -0.6 * p.at.1.abs(), "{:?} is on the low side", p.at);
    }
}

#[test]
fn a_damper_shrinks_nothing() {
    let without = common::case("mixed-bag");
    let mut with = without.clone();
    let mut damper = with.kit[0].clone();
    damper.id = "damper".to_owned();
    damper.kind = PieceKind::Damper;
    with.kit.push(damper);
    let (a, b) = (recoil(&without, &options()).unwrap(), recoil(&with, &options()).unwrap());
    assert_eq!((a.thrown.dampers, b.thrown.dampers), (0, 1));
    assert_eq!(a.thrown.keep_out, b.thrown.keep_out);
    assert_eq!(a.thrown.failures, b.thrown.failures);
    assert_eq!(a.thrown.places, b.thrown.places);
}

/// A winch that stalls higher stores more and throws no slower, whatever fails; and the ground does not shrink.
#[test]
fn closed_form_more_pull_never_lowers_a_bound() {
    let case = common::case("mixed-bag");
    let report = plan(&case, &options()).unwrap();
    for p in report.plans {
        let of = |k: f64| {
            let mut case = case.clone();
            let stall = case.vehicle.winch.as_mut().unwrap().stall.as_mut().unwrap();
            stall.value = stall.value.increasing(|f| f * k);
            of_plan(&case, &options(), p.clone(), report.site.clone()).unwrap()
        };
        let mut before = of(1.0);
        for k in [1.05, 1.2, 1.5] {
            let after = of(k);
            assert!(after.thrown.energy_stall > before.thrown.energy_stall, "{}", p.summary);
            for (a, b) in before.thrown.failures.iter().zip(&after.thrown.failures) {
                assert_eq!(a.part, b.part);
                // Blocks settle a little differently: a hair of room.
                if let (Some(x), Some(y)) = (a.speed(), b.speed()) {
                    assert!(y.as_m_s() >= x.as_m_s() * (1.0 - 1e-3), "{}: {} {x:?} {y:?}", p.summary, a.part);
                }
            }
            assert!(after.thrown.keep_out.radius.as_m() >= before.thrown.keep_out.radius.as_m() * (1.0 - 1e-3));
            before = after;
        }
    }
}

#[test]
fn what_is_weighed_is_taken_and_a_heavier_block_is_never_bounded_higher() {
    let case = common::case("mixed-bag");
    let r = of_family(Family::DoubleLine);
    let weighed = |kg: f64| {
        let mut case = case.clone();
        for p in &mut case.kit {
            if matches!(p.kind, PieceKind::Block { .. }) {
                p.mass = Some(Mass::from_kg(kg));
            }
        }
        of_plan(&case, &options(), r.plan.clone(), r.site.clone()).unwrap()
    };
    let (light, heavy) = (weighed(2.0), weighed(8.0));
    let strap =
        |r: &RecoilReport| r.thrown.failures.iter().find(|f| f.kind == PartKind::BlockStrap).unwrap().flies[0].clone();
    let (a, b) = (strap(&light), strap(&heavy));
    assert!(b.mass.unwrap().low() > a.mass.unwrap().low());
    assert!(b.bound.unwrap().speed < a.bound.unwrap().speed);
    assert!(r.thrown.findings.iter().any(|f| f.code == "flying-mass-assumed" && f.subject.contains("b1")));
}

/// The line's label is gone: its strength, its stiffness and so every bound are unknown, and nothing passes.
#[test]
fn what_is_not_known_bounds_nothing() {
    let mut case = common::case("mixed-bag");
    let report = plan(&case, &options()).unwrap();
    let p: Plan = report.plans.into_iter().next().unwrap();
    case.vehicle.winch.as_mut().unwrap().line.label = Label::Missing;
    let r = of_plan(&case, &options(), p, report.site).unwrap();
    assert!(!r.thrown.is_known() && !r.passes());
    assert_eq!((r.thrown.energy_stall, r.thrown.energy_work), (None, None));
    let line = r.thrown.failures.iter().find(|f| f.kind == PartKind::Line).unwrap();
    assert!(line.energy.is_none() && line.speed().is_none() && line.unknown_because.is_some());
    assert!(r.thrown.findings.iter().any(|f| f.code == "recoil-unknown"));
    assert!(r.thrown.findings.iter().any(|f| f.code == "stretch-assumed"));
    // The ground is there all the same.
    assert!(!r.thrown.keep_out.rings.is_empty());
}

#[test]
fn regress_explaining_changes_no_number() {
    for name in CASES {
        let case = common::case(name);
        let quiet = recoil(&case, &options()).unwrap();
        let mut told = recoil(&case, &Options { explain: true, ..options() }).unwrap();
        assert!(told.trail.steps.iter().any(|s| s.what.starts_with("if ")));
        told.trail.steps.clear();
        assert_eq!(quiet, told);
    }
}
