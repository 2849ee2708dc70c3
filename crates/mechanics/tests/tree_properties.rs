//! What must hold for every tree, stump and strap: thicker never weaker, lower never weaker, wetter never stronger; across
//! the ends of the tests and of the model. And what is no measure is an error.

#![allow(clippy::unwrap_used)] // a tree that gives no number fails the test

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use unmire_mechanics::anchor::{
    Around, StumpStrength, TreeStrength, band_pressure, beyond_tests, left_of_stump, stump_strength, tree_strength,
};
use unmire_mechanics::hitch::{Legs, basket};
use unmire_model::anchor::{Rooting, SoilGroup, Stump, StumpSigns, Tree, TreeSigns};
use unmire_model::trail::Input;
use unmire_model::{Angle, Force, Length, Mass, Range, Silent, Time, Trail};

fn m(v: f64) -> Length {
    Length::from_m(v)
}
fn exact<Q: unmire_model::range::Scalar>(q: Q) -> Input<Range<Q>> {
    Input::assumed(Range::hull(q, q, q), "test")
}
fn deg(v: f64) -> Angle {
    Angle::from_deg(v)
}

const SOILS: [SoilGroup; 5] =
    [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat, SoilGroup::Unknown];
const ROOTING: [Rooting; 3] = [Rooting::Shallow, Rooting::Medium, Rooting::Deep];

/// Every species of the table, and the three ways of not knowing one.
fn kinds() -> usize {
    unmire_tables::species::ROWS.len() + 3
}
fn kind(i: usize) -> (Option<String>, Option<bool>) {
    match unmire_tables::species::ROWS.get(i) {
        Some(r) => (Some(r.key.to_owned()), None),
        None => (None, [None, Some(true), Some(false)][i - unmire_tables::species::ROWS.len()]),
    }
}
fn tree(i: usize, diameter: Range<Length>, height: Option<f64>, soil: usize, rooting: usize) -> Tree {
    let (species, conifer) = kind(i);
    Tree {
        species,
        conifer,
        diameter: Input::assumed(diameter, "test"),
        height: height.map(|h| exact(m(h))),
        soil: SOILS[soil],
        rooting: ROOTING[rooting],
        signs: TreeSigns::all(false),
    }
}
fn point(d: f64) -> Range<Length> {
    Range::hull(m(d), m(d), m(d))
}
fn holds(t: &Tree, strap: f64, wet: bool, rise: f64) -> TreeStrength {
    tree_strength(t, m(strap), wet, deg(rise), &mut Silent).unwrap()
}
fn stump(i: usize, d: f64, years: Option<f64>, soil: usize, rooting: usize) -> Stump {
    let (species, conifer) = kind(i);
    Stump {
        species,
        conifer,
        diameter: exact(m(d)),
        height: Some(Input::assumed(m(2.0), "test")),
        felled_ago: years.map(|y| exact(Time::from_s(y * 365.25 * 86_400.0))),
        soil: SOILS[soil],
        rooting: ROOTING[rooting],
        signs: StumpSigns::all(false),
    }
}
fn stands(s: &Stump, strap: f64, wet: bool, rise: f64) -> StumpStrength {
    stump_strength(s, m(strap), wet, deg(rise), &mut Silent).unwrap()
}

/// Never more at any end, with a hair for rounding.
fn no_more(a: &Range<Force>, b: &Range<Force>) -> bool {
    a.values().iter().zip(b.values()).all(|(x, y)| x.as_n() <= y.as_n() * (1.0 + 1e-12))
}
fn ways(t: &TreeStrength) -> [Range<Force>; 4] {
    [t.ultimate, t.root, t.bending, t.shear]
}
fn no_more_tree(a: &TreeStrength, b: &TreeStrength) -> bool {
    ways(a).iter().zip(ways(b)).all(|(x, y)| no_more(x, &y))
}
fn no_more_stump(a: &StumpStrength, b: &StumpStrength) -> bool {
    let ways = |s: &StumpStrength| [s.ultimate, s.root, s.bending, s.split];
    ways(a).iter().zip(ways(b)).all(|(x, y)| no_more(x, &y))
}

fn fixed() -> ProptestConfig {
    ProptestConfig {
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(20_260_307),
        cases: 512,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(fixed())]

    #[test]
    fn balance_a_thicker_tree_is_never_weaker_at_any_end_in_any_way(
        i in 0..kinds(), soil in 0..5_usize, rooting in 0..3_usize, d in 0.03..2.0_f64, spread in 1.0..1.4_f64,
        more in [1.0..1.5_f64, 1.0..1.5_f64, 1.0..1.5_f64], height in prop::option::of(3.0..55.0_f64), strap in 0.0..3.0_f64,
        wet in any::<bool>(),
    ) {
        let a = Range::hull(m(d), m(d * spread), m(d * spread * spread));
        // Each end grows by its own factor, kept in order.
        let (l, k) = (d * more[0], (d * spread * more[1]).max(d * more[0]));
        let b = Range::hull(m(l), m(k), m((d * spread * spread * more[2]).max(k)));
        let of = |r| holds(&tree(i, r, height, soil, rooting), strap, wet, 0.0);
        let (a, b) = (of(a), of(b));
        prop_assert!(no_more_tree(&a, &b), "{a:?}\n{b:?}");
        prop_assert!(a.ultimate.low() > Force::ZERO);
        for w in ways(&a) {
            prop_assert!(no_more(&a.ultimate, &w));
        }
    }

    #[test]
    fn balance_a_taller_tree_never_tips_sooner(
        i in 0..kinds(), soil in 0..5_usize, rooting in 0..3_usize, d in 0.05..1.5_f64, h in 2.0..50.0_f64, more in 0.0..20.0_f64,
    ) {
        let of = |h| holds(&tree(i, point(d), Some(h), soil, rooting), 0.4, false, 0.0).root;
        prop_assert!(no_more(&of(h), &of(h + more)));
    }

    #[test]
    fn balance_a_lower_strap_or_a_flatter_line_never_holds_less(
        i in 0..kinds(), d in 0.05..1.5_f64, strap in 0.0..2.0_f64, more in 0.0..1.5_f64, rise in -90.0..90.0_f64,
        steeper in 0.0..90.0_f64, wet in any::<bool>(),
    ) {
        let t = tree(i, point(d), Some(15.0), 1, 1);
        prop_assert!(no_more_tree(&holds(&t, strap + more, wet, rise), &holds(&t, strap, wet, rise)));
        // A level line is never worse than any other.
        prop_assert!(no_more_tree(&holds(&t, strap, wet, rise), &holds(&t, strap, wet, 0.0)));
        prop_assert!(no_more_tree(&holds(&t, strap, wet, (rise + steeper).min(90.0)), &holds(&t, strap, wet, rise)));
        let s = stump(i, d, Some(1.0), 1, 1);
        prop_assert!(no_more_stump(&stands(&s, strap + more, wet, rise), &stands(&s, strap, wet, rise)));
    }

    #[test]
    fn balance_deeper_roots_and_drier_ground_never_hold_less(
        i in 0..kinds(), soil in 0..5_usize, d in 0.05..1.5_f64, height in prop::option::of(3.0..50.0_f64), strap in 0.0..2.0_f64,
    ) {
        let of = |rooting, wet| holds(&tree(i, point(d), height, soil, rooting), strap, wet, 0.0);
        for wet in [false, true] {
            prop_assert!(no_more_tree(&of(0, wet), &of(1, wet)) && no_more_tree(&of(1, wet), &of(2, wet)));
        }
        for rooting in 0..3 {
            prop_assert!(no_more_tree(&of(rooting, true), &of(rooting, false)));
        }
        let s = |wet| stands(&stump(i, d, None, soil, 0), strap, wet, 0.0);
        prop_assert!(no_more_stump(&s(true), &s(false)));
    }

    #[test]
    fn balance_not_knowing_the_soil_never_makes_the_low_end_better(
        i in 0..kinds(), soil in 0..4_usize, rooting in 0..3_usize, d in 0.05..1.5_f64, height in prop::option::of(3.0..50.0_f64),
    ) {
        let low = |soil, rooting| holds(&tree(i, point(d), height, soil, rooting), 0.4, false, 0.0).root.low().as_n();
        prop_assert!(low(4, rooting) <= low(soil, rooting) && low(4, 1) <= low(soil, rooting));
    }

    #[test]
    fn balance_gley_is_never_likelier_to_hold_more_than_freely_draining_soil(
        i in 0..kinds(), rooting in 0..3_usize, d in 0.05..1.2_f64,
    ) {
        let likely = |soil| holds(&tree(i, point(d), Some(15.0), soil, rooting), 0.4, false, 0.0).root.likely();
        prop_assert!(likely(1) <= likely(0));
    }

    #[test]
    fn balance_a_thicker_or_fresher_stump_is_never_weaker(
        i in 0..kinds(), soil in 0..5_usize, rooting in 0..3_usize, d in 0.05..2.5_f64, more in 0.0..0.5_f64,
        years in prop::option::of(0.0..10.0_f64), older in 0.0..5.0_f64, strap in 0.0..1.5_f64,
    ) {
        let of = |d, years| stands(&stump(i, d, years, soil, rooting), strap, false, 0.0);
        let a = of(d, years);
        prop_assert!(no_more_stump(&a, &of(d + more, years)));
        prop_assert!(a.ultimate.low() > Force::ZERO && a.left.low() > 0.0 && a.left.high() <= 1.0);
        if let Some(y) = years {
            prop_assert!(no_more_stump(&of(d, Some(y + older)), &a));
            prop_assert!(of(d, None).ultimate.low() <= of(d, Some(y)).ultimate.low());
        }
    }

    #[test]
    fn balance_a_stump_never_holds_more_than_the_tree_that_stood_there(
        i in 0..kinds(), soil in 0..5_usize, d in 0.15..1.2_f64, years in 0.0..10.0_f64,
    ) {
        let s = stands(&stump(i, d, Some(years), soil, 1), 0.3, false, 0.0);
        let t = holds(&tree(i, s.breast_diameter, None, soil, 1), 0.3, false, 0.0);
        prop_assert!(no_more(&s.root, &t.root));
    }

    #[test]
    fn closed_form_beyond_the_tests_the_moment_goes_on_growing_but_more_slowly(t in 50.0..3000.0_f64, x in 1.0..20.0_f64, y in 1.0..2.0_f64) {
        let k = |m: f64| beyond_tests(Mass::from_kg(m), Mass::from_kg(t)).unwrap();
        prop_assert!(k(t * x * y) <= k(t * x) && k(t / x) == 1.0);
        prop_assert!(t * x * y * k(t * x * y) >= t * x * k(t * x));
    }

    #[test]
    fn balance_a_wider_strap_a_thicker_stem_or_more_turns_never_press_harder(
        pull in 1e3..2e5_f64, w in 0.01..0.3_f64, d in 0.1..1.5_f64, a in 0.0..150.0_f64, more in 1.0..3.0_f64, n in 1..4_u32,
    ) {
        let at = |around, w, d, n| band_pressure(Force::from_n(pull), around, m(w), m(d), n, &mut Silent).unwrap();
        let around = Around::Basket { included: deg(a) };
        let p = at(around, w, d, n);
        prop_assert!(at(around, w * more, d, n) <= p && at(around, w, d * more, n) <= p && at(around, w, d, n + 1) <= p);
        let closer = Around::Basket { included: deg(a * 0.5) };
        prop_assert!(at(closer, w, d, n) <= p);
        // A choker is a basket whose legs stand at 120 degrees.
        let wide = Around::Basket { included: deg(120.0) };
        let ratio = at(Around::Choker, w, d, n) / at(wide, w, d, n);
        prop_assert!((ratio - 1.0).abs() < 1e-12);
    }

    #[test]
    fn balance_pressure_of_a_hitch_and_of_a_band_are_one(r in 0.05..0.8_f64, l in 1.0..12.0_f64, w in 0.03..0.2_f64, pull in 1e3..1e5_f64) {
        if let Ok(h) = basket(m(r), m(l), &mut Silent) {
            let pull = Force::from_n(pull);
            let a = h.contact_pressure(pull, Legs::Equal, m(w), &mut Silent).unwrap();
            let b = band_pressure(pull, Around::Basket { included: h.included }, m(w), m(2.0 * r), 1, &mut Silent).unwrap();
            prop_assert!((a / b - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn balance_recording_changes_no_bit_of_trees_and_stumps(
        i in 0..kinds(), soil in 0..5_usize, rooting in 0..3_usize, d in 0.03..2.0_f64, height in prop::option::of(3.0..50.0_f64),
        strap in 0.0..2.0_f64, wet in any::<bool>(), rise in -20.0..60.0_f64, years in prop::option::of(0.0..12.0_f64),
    ) {
        let mut trail = Trail::default();
        let t = tree(i, point(d), height, soil, rooting);
        let kept = tree_strength(&t, m(strap), wet, deg(rise), &mut trail).unwrap();
        prop_assert_eq!(holds(&t, strap, wet, rise), kept);
        let s = stump(i, d, years, soil, rooting);
        let kept = stump_strength(&s, m(strap), wet, deg(rise), &mut trail).unwrap();
        prop_assert_eq!(stands(&s, strap, wet, rise), kept);
        prop_assert!(trail.steps.len() >= 9 && trail.steps.iter().all(|s| s.si.iter().all(|v| v.is_finite())));
    }
}

#[test]
fn closed_form_what_is_no_measure_is_an_error() {
    let good = tree(0, point(0.3), Some(15.0), 0, 0);
    for bad in [0.0, -0.3, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        for d in [point(bad), Range::hull(m(0.3), m(0.3), m(bad)), Range::hull(m(bad), m(0.3), m(0.3))] {
            // A range whose high end is nought is turned round by the hull: its low end is nought then.
            let t = tree_strength(&tree(0, d, Some(15.0), 0, 0), m(0.4), false, Angle::ZERO, &mut Silent);
            assert!(t.is_err(), "{bad} {d:?}: {t:?}");
            let s = stump_strength(
                &Stump { diameter: Input::assumed(d, "test"), ..stump(0, 0.3, None, 0, 0) },
                m(0.4),
                false,
                Angle::ZERO,
                &mut Silent,
            );
            assert!(s.is_err(), "{bad} {d:?}: {s:?}");
        }
        let h = tree_strength(&tree(0, point(0.3), Some(bad), 0, 0), m(0.4), false, Angle::ZERO, &mut Silent);
        assert!(h.is_err(), "{bad}");
        if bad != 0.0 {
            assert!(tree_strength(&good, m(bad), false, Angle::ZERO, &mut Silent).is_err());
            assert!(left_of_stump(Some(&Range::hull(bad, bad, bad))).is_err());
        }
        if !(-90.0..=90.0).contains(&bad) {
            assert!(tree_strength(&good, m(0.4), false, deg(bad), &mut Silent).is_err());
        }
    }
    assert!(tree_strength(&good, m(0.0), false, Angle::ZERO, &mut Silent).is_ok());
}
