//! Hand-made reports for the tests of the views. Everything in them is invented, and no number is meant to be right.

#![allow(dead_code, reason = "each test file uses some of these")]

use unmire_audit::facts::PartKind;
use unmire_audit::verdict::{Effect, Finding, Grade, Verdict};
use unmire_model::layout::Family;
use unmire_model::trail::{Dimension, Origin, Recorder, Step, Trail};
use unmire_model::{Angle, Charge, Force, Length, Range, Time, Vec3};
use unmire_planner::report::{
    Action, Alternative, AnchorForce, Demand, DemandPart, GateItem, KeepOut, PlacedPiece, Plan, PlanCheck, PlanLeg,
    PlanPoint, PlanPull, PlanStability, PlanWinch, PolicyWords, Report, Site, StepItem, StopRule,
};

pub fn kn(low: f64, likely: f64, high: f64) -> Range<Force> {
    Range::new(Force::from_kn(low), Force::from_kn(likely), Force::from_kn(high)).unwrap()
}
pub fn minutes(low: f64, likely: f64, high: f64) -> Range<Time> {
    Range::new(Time::from_min(low), Time::from_min(likely), Time::from_min(high)).unwrap()
}
fn f(kn: f64) -> Force {
    Force::from_kn(kn)
}
fn m(m: f64) -> Length {
    Length::from_m(m)
}

fn demand(low: f64, likely: f64, high: f64) -> Demand {
    Demand {
        force: kn(low, likely, high),
        method: "field doctrine".into(),
        parts: vec![
            DemandPart {
                name: "mire".into(),
                force: kn(low - 2.0, likely - 2.0, high - 2.5),
                source: "doctrine-mire".into(),
                how: "secondary".into(),
            },
            DemandPart {
                name: "grade".into(),
                force: kn(2.0, 2.0, 2.5),
                source: "statics".into(),
                how: "derived".into(),
            },
        ],
        alternatives: vec![Alternative {
            name: "terramechanics".into(),
            force: kn(low * 0.6, likely * 0.7, high * 0.9),
            source: "bekker".into(),
            how: "read".into(),
            used: false,
        }],
    }
}

fn disc(x: f64, y: f64, r: f64) -> Vec<(f64, f64)> {
    (0..48)
        .map(|i| {
            let a = f64::from(i) * core::f64::consts::TAU / 48.0;
            (x + r * libm::cos(a), y + r * libm::sin(a))
        })
        .collect()
}

fn check(part: &str, what: &str, kind: PartKind, work: f64, stall: f64, cap: Option<f64>, ask: f64) -> PlanCheck {
    let ratio = |d: f64| cap.map(|c| c / d);
    let verdict = match cap {
        None => Verdict::Unknown,
        Some(c) if c / work < ask => Verdict::Overloaded,
        Some(c) if c / stall < ask => Verdict::HoldsBelowStopLoad,
        Some(_) => Verdict::Holds,
    };
    PlanCheck {
        code: "strength-of-part".into(),
        part: part.into(),
        kind,
        what: what.into(),
        demand_work: Some(f(work)),
        demand_stall: Some(f(stall)),
        capacity: cap.map(f),
        capacity_kind: if cap.is_some() { "breaking strength".into() } else { String::new() },
        ratio_work: ratio(work),
        ratio_stall: ratio(stall),
        required_work: Some(ask),
        required_stall: Some(ask),
        stop_load: (verdict == Verdict::HoldsBelowStopLoad).then(|| f(cap.unwrap_or(0.0) / ask / stall * 48.0)),
        verdict,
        source: "invented-rule".into(),
        unknown_because: cap.is_none().then(|| "the label gives no unit".into()),
    }
}

fn site() -> Site {
    Site {
        heading: Some((Angle::from_deg(40.0), "magnetic".into())),
        way_out: Angle::from_deg(10.0),
        way_out_distance: m(9.0),
        vehicles: vec![("the wagon".into(), vec![(2.2, 0.9), (2.2, -0.9), (-2.1, -0.9), (-2.1, 0.9)])],
        anchors: vec![
            ("A1".into(), "oak, 45 cm".into(), Vec3::new(19.0, 2.5, 1.1), m(0.225)),
            ("A2".into(), "birch, 20 cm".into(), Vec3::new(14.0, -6.0, 0.6), m(0.1)),
        ],
        obstacles: vec![
            ("O1".into(), "fence".into(), vec![(6.0, -9.0), (24.0, -8.0)], false),
            ("O2".into(), "path to the road".into(), vec![(-6.0, 5.0), (0.0, 4.0), (0.0, 6.5), (-6.0, 7.0)], true),
        ],
        slopes: (Angle::from_deg(4.0), Angle::from_deg(-3.0)),
    }
}

fn trail() -> Trail {
    let mut t = Trail::default();
    t.record(|| {
        Step::range("resistance of the mire", "R_m", "R_m = m · W", &kn(24.0, 27.5, 32.9), "doctrine-mire")
            .input_range(
                "m",
                &Range::new(0.8, 1.0, 1.2).unwrap(),
                Origin::Table { table: "mire", row: "wheel".into(), source: "doctrine-mire" },
            )
            .input_range("W", &kn(27.0, 27.5, 28.0), Origin::File { line: 7 })
            .note("the row is known from a secondary source")
    });
    t.record(|| {
        Step::new("asked of the line at stall", "k", "k = policy row", 2.0, Dimension::Ratio, "invented-rule")
            .input("k", 2.0, Dimension::Ratio, Origin::Policy("line".into()))
            .input("μ", 0.2, Dimension::Ratio, Origin::Assumed("nobody measured it".into()))
    });
    t
}

fn plan(margin: f64) -> Plan {
    let cap = 200.0 * margin;
    let checks = vec![
        check("A1", "oak as an anchor", PartKind::NaturalAnchor, 37.0, 92.0, Some(46.0 * margin), 1.0),
        check("K1", "strap in basket round A1", PartKind::BlockStrap, 37.0, 92.0, Some(cap), 2.0),
        check("line of W1", "winch line", PartKind::Line, 19.5, 48.0, Some(110.0), 2.0),
        check("K7", "shackle at F2", PartKind::Connector, 17.6, 48.0, None, 2.0),
    ];
    Plan {
        verdict: checks.iter().map(|c| c.verdict).fold(Verdict::Holds, Verdict::worse),
        family: Family::DoubleLine,
        lacks_detector: false,
        why: "the least load on the line with the pieces at hand".into(),
        summary: "Double line from the wagon's own winch: block at A1 (oak, 45 cm), end of the line back to F2.".into(),
        demand: demand(14.0, 19.0, 26.0),
        actions: vec![Action {
            word: "dig".into(),
            text: "Dig the wheels out and a ramp ahead of each.".into(),
            before: kn(26.0, 29.5, 35.4),
            after: kn(14.0, 19.0, 26.0),
            time: minutes(15.0, 25.0, 40.0),
            source: "trainer-dig".into(),
            how: "secondary".into(),
        }],
        pieces: vec![
            PlacedPiece { id: "K1".into(), what: "tree strap 75 mm, 3 m".into(), place: "in basket round A1".into() },
            PlacedPiece { id: "K3".into(), what: "snatch block".into(), place: "at A1".into() },
            PlacedPiece { id: "K7".into(), what: "bow shackle".into(), place: "at F2".into() },
        ],
        points: vec![
            PlanPoint { name: "W1".into(), kind: "winch".into(), at: Vec3::new(2.3, 0.0, 0.7) },
            PlanPoint { name: "block at A1".into(), kind: "block".into(), at: Vec3::new(17.6, 2.2, 1.5) },
            PlanPoint { name: "A1".into(), kind: "anchor".into(), at: Vec3::new(19.0, 2.5, 1.5) },
            PlanPoint { name: "F2".into(), kind: "recovery-point".into(), at: Vec3::new(2.2, -0.45, 0.55) },
        ],
        legs: vec![
            PlanLeg {
                member: "line".into(),
                from: "W1".into(),
                to: "block at A1".into(),
                length: m(15.46),
                tension_work: f(19.5),
                tension_stall: Some(f(48.0)),
            },
            PlanLeg {
                member: "line".into(),
                from: "block at A1".into(),
                to: "F2".into(),
                length: m(15.68),
                tension_work: f(17.6),
                tension_stall: Some(f(48.0)),
            },
            PlanLeg {
                member: "K1".into(),
                from: "block at A1".into(),
                to: "A1".into(),
                length: m(1.43),
                tension_work: f(37.0),
                tension_stall: Some(f(92.0)),
            },
        ],
        anchors: vec![AnchorForce {
            point: "A1".into(),
            work: Vec3::new(-36_200.0, -7000.0, -1800.0),
            stall: Some(Vec3::new(-90_000.0, -17_500.0, -4500.0)),
        }],
        weakest: Some(0),
        lowest_margin: checks.first().and_then(|c| c.ratio_stall),
        checks,
        findings: vec![Finding {
            code: "strap-width-on-bark",
            effect: Effect::Caution,
            subject: "K1".into(),
            text: "The strap presses on the bark with 0.6 MPa at work.".into(),
            remedy: "Put a wider strap or padding there.".into(),
        }],
        residual: Force::from_n(3.1e-7),
        stop: StopRule {
            line_pull: Some(f(24.0)),
            cell_reading: Some(f(24.0)),
            when: vec![
                "the load cell at the winch shows 24 kN".into(),
                "the tilt at the foot of A1 changes by more than a quarter of a degree".into(),
            ],
        },
        winch: Some(PlanWinch {
            id: "W1".into(),
            layer: Some(2),
            ability: Some(f(31.0)),
            pull: f(19.5),
            stall: f(48.0),
            stall_assumed: true,
            line_out: m(31.1),
            wraps_left: Some(12.4),
        }),
        stability: Some(PlanStability {
            used: Some(Range::new(0.1, 0.12, 0.2).unwrap()),
            used_with_holding: None,
            sideways_pull: f(-2.3),
            off_line: Angle::from_deg(-1.6),
        }),
        pull: Some(PlanPull {
            verdict: Verdict::HoldsBelowStopLoad,
            arrives: false,
            reaches: m(5.4),
            length: m(9.0),
            why_it_ends: "A leg of the line is as short as its block and hook are long.".into(),
            weakest: Some(("K1".into(), m(5.2))),
            lowest_margin: Some(1.07),
            pull_work: f(21.0),
            stop_load: Some(f(24.0)),
            pulling: minutes(2.0, 4.0, 9.0),
            resting: minutes(0.0, 14.0, 90.0),
            charge: Some(Range::new(Charge::from_ah(2.0), Charge::from_ah(6.0), Charge::from_ah(15.0)).unwrap()),
        }),
        time: minutes(25.0, 35.0, 60.0),
        steps: vec![
            StepItem { phase: "prepare", text: "Dig the wheels out and a ramp ahead of each.".into() },
            StepItem { phase: "rig", text: "Put K1 round A1, low on the trunk, flat and untwisted.".into() },
            StepItem { phase: "check", text: "Take up the slack and look at every connection.".into() },
            StepItem { phase: "pull", text: "Pull in short lengths. Stop at 24 kN at the winch.".into() },
            StepItem { phase: "release", text: "Hold the vehicle with chocks before the line goes slack.".into() },
        ],
        cautions: vec!["Nobody steps over a loaded line.".into(), "The operator stays behind the open bonnet.".into()],
        keep_out: KeepOut {
            rule: "1.5 times the longest tensioned line round every loaded hard point".into(),
            rings: vec![disc(2.3, 0.0, 24.0), disc(17.6, 2.2, 24.0), disc(19.0, 2.5, 24.0)],
            radius: m(24.0),
            others: vec![("twice the line's length".into(), m(62.2), "invented-rule-2".into())],
            exceptions: vec!["The driver in the cab, doors shut, behind a raised bonnet.".into()],
        },
        other_policies: vec![
            ("working-load".into(), Verdict::Overloaded, Some(0.41)),
            ("trade".into(), Verdict::Holds, Some(1.1)),
        ],
        layout: None,
        trail: trail(),
    }
}

/// A double line that holds below a stop load, with a second rig behind it.
pub fn passing() -> Report {
    let mut first = plan(1.0);
    first.checks.pop();
    first.verdict = Verdict::HoldsBelowStopLoad;
    let mut second = first.clone();
    second.family = Family::StraightPull;
    second.summary = "Straight pull from the wagon's own winch to A1 (oak, 45 cm).".into();
    second.why = "fewer pieces, more load on the line".into();
    second.lowest_margin = Some(0.45);
    Report {
        title: "The wagon in the clay (invented)".into(),
        policy: Some(PolicyWords {
            name: "default".into(),
            title: "Regulator's hardware rule, natural anchors at work".into(),
            doc: "Connectors at least twice the stall, block fittings at least four times.".into(),
            grade: Grade::Regulation,
        }),
        demand: Some(demand(26.0, 29.5, 35.4)),
        findings: vec![Finding {
            code: "mass-assumed",
            effect: Effect::Note,
            subject: "the wagon".into(),
            text: "The payload is assumed.".into(),
            remedy: "Weigh it, or give it as a range.".into(),
        }],
        gate: vec![
            GateItem { word: "people", text: "Is everybody out, and counted?".into() },
            GateItem { word: "held", text: "Is the vehicle held so that it cannot roll?".into() },
        ],
        plans: vec![first, second],
        looked_at: 214,
        played: 5,
        ways: None,
        site: site(),
    }
}

/// No rig passes; one part is not known and one is short.
pub fn failing() -> Report {
    let mut r = passing();
    let mut p = plan(0.5);
    p.why = "A1 is short at work".into();
    p.lowest_margin = Some(0.62);
    p.stop.line_pull = None;
    r.plans = vec![p];
    r
}

/// A bare rig: statics alone.
pub fn bare() -> Report {
    let p = plan(1.0);
    Report {
        title: "a weight between two slings".into(),
        policy: None,
        demand: None,
        findings: vec![],
        gate: vec![],
        plans: vec![Plan {
            why: String::new(),
            summary: String::new(),
            actions: vec![],
            pieces: vec![],
            checks: vec![],
            findings: vec![],
            weakest: None,
            lowest_margin: None,
            stop: StopRule { line_pull: None, cell_reading: None, when: vec![] },
            winch: None,
            stability: None,
            pull: None,
            steps: vec![],
            cautions: vec![],
            other_policies: vec![],
            keep_out: KeepOut {
                rule: String::new(),
                rings: vec![],
                radius: Length::ZERO,
                others: vec![],
                exceptions: vec![],
            },
            legs: p
                .legs
                .iter()
                .cloned()
                .map(|mut l| {
                    l.tension_stall = None;
                    l
                })
                .collect(),
            anchors: p
                .anchors
                .iter()
                .cloned()
                .map(|mut a| {
                    a.stall = None;
                    a
                })
                .collect(),
            ..p
        }],
        looked_at: 1,
        played: 0,
        ways: None,
        site: Site::default(),
    }
}

/// Holds a text against the reviewed file; `UPDATE_EXPECT=1` writes it anew.
pub fn expect(file: &str, text: &str) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/expected").join(file);
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        return;
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(text == expected, "{file} differs from what was reviewed; look at it with UPDATE_EXPECT=1 and git diff");
}
