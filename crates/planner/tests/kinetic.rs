//! Kinetic pulls of cases and of bare problems.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use unmire_audit::Policy;
use unmire_audit::verdict::{Effect, Verdict};
use unmire_casefile::{Document, read, render};
use unmire_mechanics::kinetic::{kinetic_pull, kinetic_range};
use unmire_model::case::Case;
use unmire_model::kinetic::{BareLaw, BarePull, BarePuller, BareRope, BareStuck, Resistance};
use unmire_model::{Angle, Energy, Force, Length, Mass, Silent, Speed};
use unmire_planner::kinetic::{Answer, KineticReport, SpeedFrom, Ways, bare, kinetic, ways};
use unmire_planner::{Options, check, plan};

fn folder() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}
fn case(text: &str) -> Case {
    let mut resolve = |p: &str| std::fs::read_to_string(folder().join(p)).map_err(|e| e.to_string());
    match read(text, &mut resolve).unwrap_or_else(|d| panic!("{}", render(&d, "case", 100))) {
        Document::Case(c) => *c,
        _ => panic!("no case"),
    }
}
fn text(name: &str) -> String {
    std::fs::read_to_string(folder().join(name)).unwrap()
}
fn sand() -> String {
    text("kinetic-loose-sand.toml")
}
fn pulled(text: &str) -> KineticReport {
    kinetic(&case(text), &Options::default()).unwrap()
}
fn best(text: &str) -> Answer {
    pulled(text).answers.into_iter().next().unwrap()
}
fn without(text: &str, line: &str) -> String {
    assert!(text.contains(line), "{line}");
    text.replace(line, "")
}
fn with(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

fn no_shovel(text: &str) -> String {
    with(text, "id = \"shovel\"\nkind = \"shovel\"", "id = \"shovel\"\nkind = \"jack\"")
}

#[test]
fn balance_a_case_gives_what_the_mechanics_give() {
    for name in ["kinetic-loose-sand.toml", "kinetic-too-deep.toml"] {
        let a = best(&text(name));
        let again = kinetic_range(&a.inputs, &mut Silent).unwrap();
        assert_eq!(a.pull, again, "{name}");
        assert_eq!(a.high.outcome, again.high);
        // Every part of a single line carries the whole peak, to the solver's residual.
        for c in &a.checks {
            let load = c.demand_work.unwrap();
            assert!((load / a.pull.peak.high() - 1.0).abs() < 1e-9, "{}: {load:?}", c.part);
        }
        let Some(l) = &a.limit else { panic!("no limit") };
        let least = a.checks.iter().filter_map(|c| c.capacity.zip(c.required_work)).map(|(c, r)| c * (1.0 / r));
        let least = least.reduce(Force::min).unwrap();
        assert!((l.force / least - 1.0).abs() < 1e-9);
    }
}

#[test]
fn balance_inside_the_window_the_chain_holds_and_beyond_it_does_not() {
    // No speed is stated: the slow end of the window is taken.
    // Without a shovel: what does not pass as found is not made to pass by digging.
    let open = without(&no_shovel(&sand()), "speed = \"6.5 km/h .. 7.5 km/h\"");
    let open = without(&open, "slack = { value = \"0.5 m .. 1 m\", assumed = \"laid out in an S\" }");
    let open = with(&open, "travel = \"0.5 m\"", "travel = \"0.4 m\"\nfastest = \"20 km/h\"");
    let a = best(&open);
    assert!(a.passes() && a.speed_from == SpeedFrom::Window && a.verdict == Verdict::Holds);
    let w = a.window.unwrap();
    assert!(!w.capped && w.slowest < w.fastest);
    assert!((a.speed.high().as_m_s() - w.slowest.as_m_s()).abs() < 1e-12);
    let at = |v: Speed| {
        let stated = format!("travel = \"0.4 m\"\nspeed = \"{} m/s\"", v.as_m_s());
        best(&with(&open, "travel = \"0.4 m\"", &stated))
    };
    assert!(at(w.fastest).passes());
    let over = at(w.fastest * 1.02);
    assert!(!over.passes() && over.too_fast() && over.verdict == Verdict::Overloaded);
    assert!(over.findings.iter().any(|f| f.code == "kinetic-too-fast" && f.effect == Effect::Bars));
    let under = at(w.slowest * 0.9);
    assert!(!under.passes() && under.too_slow() && under.verdict == Verdict::Holds);
    // From rest through slack the mechanics make the speed.
    let slack = best(&with(&open, "travel = \"0.4 m\"", "travel = \"0.4 m\"\nslack = \"0.3 m\""));
    assert_eq!(slack.speed_from, SpeedFrom::Slack);
    assert!(slack.inputs.speed.high() == Speed::ZERO && slack.speed.high() > Speed::ZERO);
}

#[test]
fn regress_unknown_never_passes() {
    // A point without a label: nobody knows what is too much.
    let s = with(&sand(), "label = \"WLL 6 t\"", "label = \"unreadable\"");
    let a = best(&s);
    assert!(!a.passes() && a.limit.is_none() && a.verdict == Verdict::Unknown);
    assert_eq!(a.window.unwrap_err().code(), "kinetic-part-unknown");
    // No grip told: no traction, no answer.
    let r = pulled(&without(&sand(), "friction = \"0.40 .. 0.50 .. 0.60\""));
    assert!(!r.passes() && r.answers.is_empty() && r.findings[0].code == "kinetic-no-chain");
    // No strength of the rope: refused, not known.
    let r = pulled(&with(&sand(), "label = \"MBS 110 kN\"", "label = \"missing\""));
    assert!(!r.passes() && r.answers.is_empty());
    assert!(r.refused.iter().any(|x| x.code == "kinetic-unknown-strength" && x.unknown));
    // A tow ball is no place for it.
    let ball = with(&sand(), "id = \"rear\"\nkind = \"recovery point\"", "id = \"rear\"\nkind = \"tow ball\"");
    assert!(!pulled(&ball).passes());
}

#[test]
fn regress_static_gear_is_refused_with_its_reason() {
    let codes = |t: &str| pulled(t).refused.into_iter().map(|r| (r.piece, r.code)).collect::<Vec<_>>();
    assert!(codes(&sand()).contains(&("tow-strap".to_owned(), "kinetic-static-strap")));
    for (material, kinetic, code) in [
        ("hmpe", "true", "kinetic-winch-line"),
        ("steel wire", "true", "kinetic-wire"),
        ("chain", "false", "kinetic-chain"),
        ("nylon", "false", "kinetic-not-made-for-it"),
        ("polyester", "true", "kinetic-unknown-law"),
        ("not known", "true", "kinetic-unknown-law"),
    ] {
        let mut t = with(&sand(), "material = \"nylon\"", &format!("material = \"{material}\""));
        t = with(
            &t,
            "kinetic = true\nconstruction = \"double braid\"\nstate = \"worked\"\nwet = false",
            &format!("kinetic = {kinetic}"),
        );
        let r = pulled(&t);
        assert!(!r.passes() && r.answers.is_empty() && r.none_because.is_some(), "{material}");
        assert!(r.refused.iter().any(|x| x.piece == "rope" && x.code == code), "{material}: {:?}", r.refused);
    }
    let low = "elongation = [{ at = \"50 %\", stretch = \"1 %\" }]\nstate = \"worked\"";
    assert!(codes(&with(&sand(), "state = \"worked\"", low)).contains(&("rope".to_owned(), "kinetic-low-stretch")));
    // The winch line of a case is refused too.
    assert!(codes(&text("kinetic-too-deep.toml")).contains(&("line of W1".to_owned(), "kinetic-winch-line")));
}

#[test]
fn regress_steel_is_between_the_vehicles_only_where_it_must_be() {
    assert!(best(&sand()).without_steel);
    let steel = best(&with(&sand(), "count = 2\nlabel = \"MBS 140 kN\"", "label = \"MBS 140 kN\""));
    assert!(steel.passes() && !steel.without_steel);
    assert!(steel.findings.iter().any(|f| f.code == "kinetic-steel-in-line"));
}

#[test]
fn balance_what_flies_has_no_less_energy_than_the_rope_took_up() {
    for name in ["kinetic-loose-sand.toml", "kinetic-too-deep.toml"] {
        let a = best(&text(name));
        assert!(a.thrown.is_known() && !a.thrown.at_stall);
        let stored = a.thrown.energy_work.unwrap();
        assert!(stored >= a.rope_energy.high() * (1.0 - 1e-9), "{name}: {stored:?} {:?}", a.rope_energy);
        assert!(stored <= a.rope_energy.high() * 2.5, "{name}");
        // The ground: one and a half times the rope with its stretch.
        let least = (a.inputs.rope.length.high() + a.pull.stretch.high()) * 1.5;
        assert!(a.thrown.keep_out.radius.as_m() >= least.as_m() * 0.97, "{:?} {least:?}", a.thrown.keep_out.radius);
    }
}

#[test]
fn regress_actions_are_taken_only_where_they_bring_it_over_the_line() {
    let a = best(&sand());
    assert!(a.passes() && a.actions.is_empty());
    // Too much for the points as found, and the kit has a shovel.
    let deep = with(&sand(), "\"20 % .. 28 % .. 36 %\"", "\"60 % .. 80 % .. 110 %\"");
    let deep = with(&deep, "travel = \"0.5 m\"", "travel = \"0.1 m\"");
    let a = best(&deep);
    let b = best(&no_shovel(&deep));
    assert!(!b.passes() && b.actions.is_empty());
    if a.passes() {
        assert!(!a.actions.is_empty());
    } else {
        assert!(a.actions.is_empty() && a.findings.iter().any(|f| f.code == "kinetic-nor-after-actions"));
    }
}

#[test]
fn regress_a_kinetic_rope_is_refused_as_a_winch_extension() {
    let t = text("check-double-line.toml");
    let rope = "\n[[piece]]\nid = \"snatch\"\nkind = \"rope\"\nlabel = \"MBS 200 kN\"\nmaterial = \"nylon\"\ndiameter = \"28 mm\"\nlength = \"9 m\"\nkinetic = true\ncondition = \"checked\"\n";
    let mut c = case(&format!("{t}{rope}"));
    let layout = c.rig.as_mut().unwrap();
    let last = layout.stations.last_mut().unwrap();
    last.extensions.push("snatch".to_owned());
    let spare = c
        .kit
        .iter()
        .find(|p| {
            matches!(p.kind, unmire_model::gear::PieceKind::SoftShackle | unmire_model::gear::PieceKind::Shackle { .. })
        })
        .unwrap();
    last.connectors.insert(0, spare.id.clone());
    let r = check(&c, &Options::default()).unwrap();
    let bars = |code: &str| r.plans[0].findings.iter().any(|f| f.code == code && f.effect == Effect::Bars);
    assert!(!r.passes() && bars("kinetic-in-static"), "{:?}", r.plans[0].findings);
}

fn compared(text: &str) -> Option<Ways> {
    let (case, options) = (case(text), Options::default());
    ways(&case, &options, &plan(&case, &options).unwrap())
}

#[test]
fn regress_the_winch_that_passes_comes_first() {
    let ways = compared(&text("kinetic-too-deep.toml")).unwrap();
    let words: Vec<_> = ways.all.iter().map(|w| w.word).collect();
    assert_eq!(words, ["winch", "kinetic", "neither"]);
    assert_eq!(ways.all[ways.advised].word, "winch");
    let ways = compared(&sand()).unwrap();
    assert_eq!(ways.all[ways.advised].word, "kinetic");
    assert!(ways.all.iter().any(|w| w.word == "tow" && !w.passes));
    // Nothing passes: neither.
    let deep = with(&no_shovel(&sand()), "\"20 % .. 28 % .. 36 %\"", "\"200 % .. 220 % .. 250 %\"");
    let ways = compared(&deep).unwrap();
    assert_eq!(ways.all[ways.advised].word, "neither");
    // Where nobody can drive there is nothing to compare.
    assert!(compared(&text("wet-grass.toml")).is_none());
}

#[test]
fn regress_recording_and_policies_change_no_number_of_the_pull() {
    let c = case(&sand());
    let told = kinetic(&c, &Options { explain: true, ..Options::default() }).unwrap();
    let mut silent = kinetic(&c, &Options::default()).unwrap();
    assert!(told.trail.steps.len() > 10 && silent.trail.steps.is_empty());
    silent.trail = told.trail.clone();
    assert_eq!(silent, told);
    for policy in Policy::all() {
        let a = kinetic(&c, &Options { policy, ..Options::default() }).unwrap().answers.into_iter().next().unwrap();
        assert_eq!(a.pull.peak, told.answers[0].pull.peak);
    }
}

fn problem() -> impl Strategy<Value = BarePull> {
    let law = prop_oneof![
        (20e3..400e3, 0.02..0.4).prop_map(|(s, e)| BareLaw::Linear { strength: Force::from_n(s), strain: e }),
        (20e3..400e3, 0.05..0.4, 1.0..2.5).prop_map(|(s, e, x)| BareLaw::Power {
            strength: Force::from_n(s),
            strain: e,
            exponent: x
        }),
        (20e3..400e3, 0.05..0.4).prop_map(|(s, e)| BareLaw::Polynomial {
            strength: Force::from_n(s),
            strain: e,
            c: [0.35, 0.25, 0.4]
        }),
    ];
    let resistance = prop_oneof![
        (0.0..40e3).prop_map(|r| Resistance::Constant(Force::from_n(r))),
        (10e3..40e3, 0.1..1.0, 0.1..2.0).prop_map(|(r, k, d)| Resistance::Decaying {
            breakaway: Force::from_n(r),
            moving: Force::from_n(r * k),
            over: Length::from_m(d)
        }),
        Just(Resistance::Fixed),
    ];
    let masses = (800.0..8000.0, 800.0..8000.0, 0.2..5.0, 0.0..8e3);
    (law, resistance, masses, 4.0..30.0, proptest::option::of((0.0..0.5, 2.5..5.0))).prop_map(
        |(law, resistance, (m1, m2, v, p), l, unloading)| BarePull {
            title: None,
            puller: BarePuller {
                mass: Mass::from_kg(m1),
                speed: Speed::from_m_s(v),
                traction: Force::from_n(p),
                slope: Angle::ZERO,
                brakes: None,
            },
            stuck: BareStuck { mass: Mass::from_kg(m2), resistance, slope: Angle::ZERO },
            rope: BareRope { length: Length::from_m(l), law, unloading, viscous: 0.0, breaking: None },
            slack: Length::ZERO,
            travel_limit: Some(Length::from_m(5.0)),
            time_limit: None,
            asked: None,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, rng_seed: RngSeed::Fixed(29), ..ProptestConfig::default() })]

    #[test]
    fn balance_a_bare_problem_gives_what_the_mechanics_give(p in problem()) {
        let r = bare(&p, "by chance", false).unwrap();
        let o = kinetic_pull(&r.problem, &mut Silent).unwrap();
        prop_assert_eq!(r.history.outcome, o);
        prop_assert_eq!(r.rope_energy, o.energy.rope_greatest);
        let e = o.energy;
        let came = (e.run_up + e.traction).as_j().max(1.0);
        prop_assert!(e.unaccounted.as_j().abs() <= 1e-3 * came);
        prop_assert!(e.rope_greatest >= Energy::ZERO);
    }
}
