//! What must hold for every input: thicker never weaker, longer never shorter, steeper never easier, and no bit changed by recording.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use unmire_mechanics::anchor::parked::{sliding_pull, sliding_pull_any};
use unmire_mechanics::anchor::tree_strength;
use unmire_mechanics::hitch::{Legs, basket, choke_factor, choker};
use unmire_mechanics::rope::wire_bend_factor;
use unmire_mechanics::shackle::side_load_factor;
use unmire_mechanics::sheave::{advantage_fixed_lead, capstan_ratio, doctrine_line_pull, resultant};
use unmire_mechanics::stability::{Pull, ground_axes, hold_tension, roll};
use unmire_mechanics::winch::{Lay, drum_capacity, drum_line, winch_at};
use unmire_model::anchor::{Rooting, SoilGroup, Tree, TreeSigns};
use unmire_model::gear::{Label, Material};
use unmire_model::ground::WayOut;
use unmire_model::trail::Input;
use unmire_model::vehicle::{Drum, Vehicle, Winch, WinchLine};
use unmire_model::{Angle, Force, Length, Mass, Range, Silent, Trail, Vec3};

fn m(v: f64) -> Length {
    Length::from_m(v)
}
fn exact<Q: unmire_model::range::Scalar>(q: Q) -> Input<Range<Q>> {
    Input::assumed(Range::hull(q, q, q), "test")
}

fn tree(species: Option<&str>, diameter: f64, height: Option<f64>, soil: SoilGroup, rooting: Rooting) -> Tree {
    Tree {
        species: species.map(str::to_owned),
        conifer: None,
        diameter: exact(m(diameter)),
        height: height.map(|h| exact(m(h))),
        soil,
        rooting,
        signs: TreeSigns::default(),
    }
}

fn winch(rated: f64, drum: f64, width: f64, line: f64, length: f64) -> Winch {
    Winch {
        id: "W".into(),
        position: Vec3::ZERO,
        direction: Vec3::new(1.0, 0.0, 0.0),
        rated_pull: Input::assumed(Force::from_n(rated), "test"),
        stall: None,
        drum: Some(Drum { diameter: m(drum), width: m(width) }),
        line: WinchLine { material: Material::Hmpe, diameter: m(line), length: m(length), label: Label::Missing },
        min_wraps: None,
        mount: Label::Missing,
        fairlead_limit: None,
        current_calibrated: false,
        drive: None,
        line_no: 0,
    }
}

fn vehicle(mass: f64, track: f64, cg: f64) -> Vehicle {
    Vehicle {
        name: "v".into(),
        mass: exact(Mass::from_kg(mass)),
        payload: None,
        wheelbase: None,
        track: Some(Input::assumed(m(track), "test")),
        cg_height: Some(exact(m(cg))),
        points: vec![],
        winch: None,
        tyres: None,
    }
}

fn way_out(grade: f64, side: f64) -> WayOut {
    WayOut {
        bearing: Input::assumed(Angle::ZERO, "test"),
        grade: exact(Angle::from_deg(grade)),
        side_slope: Input::assumed(Angle::from_deg(side), "test"),
        distance: exact(m(5.0)),
    }
}

const SPECIES: [Option<&str>; 5] = [Some("sitka_spruce"), Some("oak"), Some("birch"), Some("jack_pine"), None];

/// The same inputs on every run: a failure must be one that everybody sees.
fn fixed() -> ProptestConfig {
    ProptestConfig { failure_persistence: None, rng_seed: RngSeed::Fixed(20_260_101), ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(fixed())]

    #[test]
    fn balance_longer_strap_never_reaches_less(r in 0.05..1.5_f64, l in 0.5..20.0_f64, more in 1e-6..5.0_f64) {
        let (a, b) = (basket(m(r), m(l), &mut Silent), basket(m(r), m(l + more), &mut Silent));
        if let Ok(a) = a {
            let b = b.unwrap();
            prop_assert!(b.reach > a.reach && b.included <= a.included);
            prop_assert!(b.leg_share(Legs::Equal) <= a.leg_share(Legs::Equal));
        }
    }

    #[test]
    fn balance_basket_parts_add_up_to_the_strap_and_legs_balance_the_pull(r in 0.05..1.5_f64, l in 0.5..20.0_f64) {
        if let Ok(h) = basket(m(r), m(l), &mut Silent) {
            prop_assert!((2.0 * h.leg.as_m() + h.contact_arc.as_m() - l).abs() < 1e-11 * l);
            let t = h.leg_share(Legs::Equal);
            prop_assert!((2.0 * t * libm::cos(0.5 * h.included.as_rad()) - 1.0).abs() < 1e-12);
            prop_assert!(h.included.as_deg() <= 120.0 + 1e-6);
        }
    }

    #[test]
    fn balance_the_worst_leg_is_between_the_equal_leg_and_the_pull_over_the_sine(
        r in 0.05..1.5_f64, l in 0.5..20.0_f64, mu in 0.0..0.8_f64, more in 0.0..0.4_f64,
    ) {
        if let Ok(h) = basket(m(r), m(l), &mut Silent) {
            let (w, w2) = (h.leg_share(Legs::Worst { friction: mu }), h.leg_share(Legs::Worst { friction: mu + more }));
            prop_assert!(w >= h.leg_share(Legs::Equal) - 1e-12 && w2 >= w - 1e-12);
            let angle = h.included.as_rad();
            let bound = if angle > core::f64::consts::FRAC_PI_2 { 1.0 / libm::sin(angle) } else { 1.0 };
            prop_assert!(w <= bound + 1e-9);
        }
    }

    #[test]
    fn balance_a_choker_reaches_further_than_a_basket_with_the_same_strap(r in 0.05..1.0_f64, l in 1.0..20.0_f64) {
        if let (Ok(c), Ok(b)) = (choker(m(r), m(l), 0.0, &mut Silent), basket(m(r), m(l), &mut Silent)) {
            // From where the basket hangs nearly parallel on.
            if l > 8.0 * r * 1.5 {
                prop_assert!(c.reach > b.reach);
            }
            prop_assert!(c.choke.unwrap().as_deg() >= 120.0 - 1e-6);
        }
    }

    #[test]
    fn balance_a_smaller_choke_angle_never_holds_more(a in 0.0..180.0_f64, b in 0.0..180.0_f64) {
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        prop_assert!(choke_factor(Angle::from_deg(low)) <= choke_factor(Angle::from_deg(high)));
    }

    #[test]
    fn balance_a_tighter_bend_never_leaves_more(a in 1.0..60.0_f64, b in 1.0..60.0_f64) {
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        prop_assert!(wire_bend_factor(low, &mut Silent).unwrap() <= wire_bend_factor(high, &mut Silent).unwrap());
    }

    #[test]
    fn balance_more_side_load_never_leaves_more(a in 0.0..90.0_f64, b in 0.0..90.0_f64) {
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        let f = |d: f64| side_load_factor(Angle::from_deg(d), &mut Silent).unwrap();
        prop_assert!(f(high) <= f(low));
    }

    #[test]
    fn balance_a_block_never_sees_more_than_both_tensions(a in 0.0..1e5_f64, b in 0.0..1e5_f64, deg in 0.0..180.0_f64) {
        let f = resultant(Force::from_n(a), Force::from_n(b), Angle::from_deg(deg), &mut Silent).as_n();
        prop_assert!(f <= a + b + 1e-9 && f >= (a - b).abs() - 1e-9);
    }

    #[test]
    fn balance_friction_only_ever_costs(parts in 1..12_u32, k in 1.0..1.3_f64, more in 0.0..0.2_f64) {
        let ma = |k| advantage_fixed_lead(parts, k).unwrap();
        prop_assert!(ma(k + more) <= ma(k) + 1e-12 && ma(k) <= f64::from(parts) + 1e-12);
        let p = doctrine_line_pull(Force::from_n(1000.0), f64::from(parts), parts, 0.1, &mut Silent).unwrap();
        prop_assert!(p.line_pull.as_n() * f64::from(parts) >= 1000.0);
    }

    #[test]
    fn closed_form_capstan_ratios_multiply_over_the_wrap(mu in 0.0..0.6_f64, a in 0.0..6.0_f64, b in 0.0..6.0_f64) {
        let r = |w| capstan_ratio(mu, Angle::from_rad(w)).unwrap();
        prop_assert!((r(a) * r(b) / r(a + b) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn balance_a_thicker_tree_is_never_weaker(
        s in 0..5_usize, d in 0.08..0.8_f64, more in 0.0..0.3_f64, h in 5.0..30.0_f64, known in any::<bool>(), strap in 0.0..2.0_f64,
    ) {
        let height = known.then_some(h);
        let of = |d| tree_strength(&tree(SPECIES[s], d, height, SoilGroup::Unknown, Rooting::Medium), m(strap), false, Angle::ZERO, &mut Silent).unwrap().ultimate;
        let (a, b) = (of(d), of(d + more));
        prop_assert!(a.low() <= b.low() && a.likely() <= b.likely() && a.high() <= b.high());
        prop_assert!(a.low() > Force::ZERO);
    }

    #[test]
    fn balance_a_higher_strap_or_wetter_ground_never_holds_more(
        s in 0..5_usize, d in 0.1..0.6_f64, strap in 0.0..2.0_f64, more in 0.0..1.0_f64,
    ) {
        let t = tree(SPECIES[s], d, Some(15.0), SoilGroup::Gley, Rooting::Shallow);
        let at = |h, wet| tree_strength(&t, m(h), wet, Angle::ZERO, &mut Silent).unwrap().ultimate;
        prop_assert!(at(strap + more, false).low() <= at(strap, false).low());
        prop_assert!(at(strap, true).low() <= at(strap, false).low());
    }

    #[test]
    fn balance_not_knowing_never_makes_the_low_end_better(s in 0..4_usize, d in 0.1..0.6_f64, soil in 0..4_usize, deep in any::<bool>()) {
        let soils = [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat];
        let rooting = if deep { Rooting::Deep } else { Rooting::Shallow };
        let at = |soil, rooting| tree_strength(&tree(SPECIES[s], d, Some(15.0), soil, rooting), m(0.4), false, Angle::ZERO, &mut Silent).unwrap().ultimate;
        prop_assert!(at(SoilGroup::Unknown, Rooting::Medium).low() <= at(soils[soil], rooting).low());
    }

    #[test]
    fn balance_the_drum_holds_what_lies_on_it(
        drum in 0.03..0.3_f64, width in 0.1..0.5_f64, line in 0.005..0.02_f64, on in 0.0..60.0_f64,
    ) {
        let d = Drum { diameter: m(drum), width: m(width) };
        for lay in [Lay::Stacked, Lay::Nested] {
            let at = drum_line(&d, m(line), m(on), lay).unwrap();
            let full = drum_capacity(&d, m(line), at.layer, lay).unwrap().as_m();
            let below = drum_capacity(&d, m(line), at.layer - 1, lay).unwrap().as_m();
            prop_assert!(on <= full + 1e-9 && (on >= below - 1e-9));
            prop_assert!(at.pull_share <= 1.0 && at.pull_share > 0.0);
        }
    }

    #[test]
    fn balance_more_line_out_never_pulls_less(
        rated in 1e4..6e4_f64, drum in 0.04..0.1_f64, line in 0.006..0.012_f64, out in 0.0..20.0_f64, more in 0.0..8.0_f64,
    ) {
        let w = winch(rated, drum, 0.23, line, 28.0);
        let (mut trail, mut silent) = (Trail::default(), Silent);
        let a = winch_at(&w, m(out), &mut silent).unwrap();
        let b = winch_at(&w, m(out + more), &mut silent).unwrap();
        prop_assert!(a.pull.low() <= b.pull.low() && a.stall.high() <= b.stall.high());
        prop_assert!(a.turns_left.unwrap() >= b.turns_left.unwrap());
        prop_assert!(a.stall.high() >= a.pull.low());
        prop_assert_eq!(a, winch_at(&w, m(out), &mut trail).unwrap());
    }

    #[test]
    fn balance_a_parked_vehicle_holds_less_down_the_slope_than_up(
        w in 1e4..5e4_f64, n in 0.3..1.0_f64, mu in 0.05..0.9_f64, deg in 0.0..20.0_f64, rise in 0.0..20.0_f64,
    ) {
        let at = |up| sliding_pull(Force::from_n(w), n, mu, Angle::from_deg(deg), Angle::from_deg(rise), up).unwrap();
        prop_assert!(at(false) <= at(true));
    }

    #[test]
    fn balance_at_the_sliding_pull_friction_is_used_up(
        w in 1e4..5e4_f64, n in 0.3..1.0_f64, mu in 0.1..0.9_f64, deg in 0.0..15.0_f64, turn in -180.0..180.0_f64, rise in 0.0..15.0_f64,
    ) {
        let (th, a, b) = (Angle::from_deg(deg), Angle::from_deg(turn), Angle::from_deg(rise));
        let up = Vec3::new(-th.sin(), 0.0, th.cos());
        let along = Vec3::new(th.cos(), 0.0, th.sin());
        let flat = along * a.cos() + up.cross(along) * a.sin();
        let dir = flat * b.cos() + up * b.sin();
        let (t, itself) = sliding_pull_any(Force::from_n(w), n, mu, up, dir).unwrap();
        if !itself {
            let pull = dir * t.as_n() - Vec3::UP * w;
            let pressed = n * mu * w * up.z - mu * dir.dot(up) * t.as_n();
            let along_ground = (pull - up * pull.dot(up)).norm();
            prop_assert!((along_ground - pressed).abs() < 1e-6 * w);
        }
    }

    #[test]
    fn balance_the_holding_line_does_what_it_was_asked(
        mass in 1500.0..4000.0_f64, track in 1.3..1.8_f64, cg in 0.6..1.3_f64, side in 5.0..30.0_f64,
        lateral in -3000.0..3000.0_f64, allowed in 0.3..0.8_f64,
    ) {
        let (v, axes) = (vehicle(mass, track, cg), ground_axes(&way_out(3.0, side), Angle::from_deg(3.0)));
        let pulls = [Pull { at: Vec3::new(2.0, 0.4, 0.5), force: Vec3::new(8000.0, lateral, 0.0) }];
        let (at, along) = (Vec3::new(0.0, 0.6, 0.7), Vec3::new(0.0, 1.0, 0.35));
        if let Some(t) = hold_tension(&v, &axes, &pulls, at, along, allowed, &mut Silent).unwrap() {
            let held = [pulls[0], Pull { at, force: along.unit().unwrap() * t.as_n() }];
            let used = roll(&v, &axes, &held, &mut Silent).unwrap().used.unwrap();
            prop_assert!(used.likely() <= allowed + 1e-6);
        }
    }

    #[test]
    fn balance_a_higher_centre_of_gravity_never_stands_firmer(
        mass in 1500.0..4000.0_f64, cg in 0.5..1.2_f64, more in 0.0..0.4_f64, side in 0.0..30.0_f64, downhill in 0.0..4000.0_f64,
    ) {
        let axes = ground_axes(&way_out(0.0, side), Angle::ZERO);
        let pulls = [Pull { at: Vec3::new(2.0, 0.0, 0.5), force: Vec3::new(8000.0, -downhill, 0.0) }];
        let at = |h| roll(&vehicle(mass, 1.6, h), &axes, &pulls, &mut Silent).unwrap().used.unwrap().high();
        prop_assert!(at(cg + more) >= at(cg) - 1e-12);
    }
}
