//! Parked vehicles as anchors: sliding, tipping, chocks, and one that holds another.
#![allow(clippy::unwrap_used)]

use unmire_mechanics::anchor::series::{First, Gives, InSeries, Tie, series};
use unmire_mechanics::anchor::{AnchorCapacity, AnchorMode, movement_parked, parked};
use unmire_mechanics::stability::Pull;
use unmire_model::trail::Input;
use unmire_model::vehicle::{Helper, Vehicle};
use unmire_model::{Angle, Force, Length, Mass, Range, STANDARD_GRAVITY, Silent, Trail, Vec3};

fn given<T>(v: T) -> Input<T> {
    Input::assumed(v, "test")
}
fn exact(v: f64) -> Range<f64> {
    Range::hull(v, v, v)
}
fn helper(kg: f64, friction: f64) -> Helper {
    let one = |v: f64| Range::exact(Length::from_m(v)).unwrap();
    Helper {
        vehicle: Vehicle {
            name: "V2".into(),
            mass: given(Range::exact(Mass::from_kg(kg)).unwrap()),
            payload: None,
            wheelbase: Some(given(Length::from_m(2.8))),
            track: Some(given(Length::from_m(1.6))),
            cg_height: Some(given(one(0.8))),
            points: vec![],
            winch: None,
            tyres: None,
        },
        position: Vec3::ZERO,
        heading: Angle::ZERO,
        friction: Some(given(exact(friction))),
        slope: given(Angle::ZERO),
        braked_share: given(exact(1.0)),
        chocked: None,
        backed_by: None,
        can_tow: false,
        line: 0,
    }
}
fn pull(height: f64, force: Vec3) -> [Pull; 1] {
    [Pull { at: Vec3::new(2.2, 0.0, height), force }]
}
fn of(h: &Helper, pulls: &[Pull]) -> AnchorCapacity {
    parked::parked(h, pulls, &mut Silent).unwrap()
}
fn codes(c: &AnchorCapacity) -> Vec<&'static str> {
    c.warnings.iter().map(|w| w.code).collect()
}
fn likely(c: &AnchorCapacity) -> f64 {
    c.ultimate.unwrap().likely().as_kn()
}
const AHEAD: Vec3 = Vec3::new(1.0, 0.0, 0.0);

/// The manual's vehicle on wet grass, and the worked examples of the same kind.
#[test]
fn published_three_tonnes_on_wet_grass_are_dragged_at_about_ten_kilonewtons() {
    let c = of(&helper(3000.0, 0.35), &pull(0.5, AHEAD));
    assert!((likely(&c) - 10.3).abs() < 0.05);
    assert_eq!(c.mode, AnchorMode::TyresSlide);
}

#[test]
fn closed_form_on_gravel_up_down_and_with_a_rising_line() {
    let at = |slope: f64, force: Vec3| {
        let h = Helper { slope: given(Angle::from_deg(slope)), ..helper(2500.0, 0.6) };
        likely(&of(&h, &pull(0.0, force)))
    };
    let (th, rise) = (Angle::from_deg(10.0), Angle::from_deg(10.0));
    let near = |got: f64, want: f64| assert!((got - want).abs() < 0.05, "{got}, but {want} is right");
    near(at(0.0, AHEAD), 14.7);
    near(at(10.0, Vec3::new(-th.cos(), 0.0, -th.sin())), 10.2);
    near(at(10.0, Vec3::new(th.cos(), 0.0, th.sin())), 18.74);
    near(at(0.0, Vec3::new(rise.cos(), 0.0, rise.sin())), 13.5);
}

#[test]
fn closed_form_a_high_line_on_grippy_ground_tips_it_before_it_slides() {
    let w = 2000.0 * STANDARD_GRAVITY / 1000.0;
    // Sideways at 1.2 m: W · 0.8 / 1.2 against 0.8 W.
    let c = of(&helper(2000.0, 0.8), &pull(1.2, Vec3::new(0.0, 1.0, 0.0)));
    assert_eq!(c.mode, AnchorMode::Tipping);
    assert!((likely(&c) - w * 0.8 / 1.2).abs() < 1e-9);
    let modes: Vec<AnchorMode> = c.ways.iter().map(|w| w.mode).collect();
    assert_eq!(modes, [AnchorMode::Tipping, AnchorMode::TyresSlide]);
    // Lengthwise it slides first.
    let c = of(&helper(2000.0, 0.8), &pull(1.2, AHEAD));
    assert!((likely(&c) - w * 0.8).abs() < 1e-9);
    assert!((c.ways[1].holds.likely().as_kn() - w * 1.4 / 1.2).abs() < 1e-9);
}

#[test]
fn closed_form_chocks_count_as_wheels_that_do_not_turn_and_no_more() {
    let half = Helper { braked_share: given(Range::new(0.4, 0.5, 0.6).unwrap()), ..helper(2000.0, 0.5) };
    let w = 2000.0 * STANDARD_GRAVITY / 1000.0;
    let with = |chocked| of(&Helper { chocked, ..half.clone() }, &pull(0.5, AHEAD));
    let chocked = with(Some(true));
    assert!((chocked.ultimate.unwrap().low().as_kn() - 0.5 * w).abs() < 1e-9);
    assert!((likely(&chocked) - 0.5 * w).abs() < 1e-9);
    assert!(codes(&chocked).contains(&"parked-chocked"));
    for not in [Some(false), None] {
        let c = with(not);
        assert!((c.ultimate.unwrap().low().as_kn() - 0.2 * w).abs() < 1e-9);
        assert!(codes(&c).contains(&"parked-not-chocked") && !codes(&c).contains(&"parked-chocked"));
    }
}

#[test]
fn closed_form_what_is_not_told_of_its_shape_is_told_to_the_reader() {
    let mut h = helper(2000.0, 0.5);
    h.vehicle.wheelbase = None;
    let c = of(&h, &pull(0.5, AHEAD));
    assert!(codes(&c).contains(&"parked-tipping-not-checked"));
    assert!(c.warnings.iter().any(|w| w.text.contains("the wheelbase is not told")));
    assert!(!codes(&of(&helper(2000.0, 0.5), &pull(0.5, AHEAD))).contains(&"parked-tipping-not-checked"));
}

#[test]
fn closed_form_one_that_slides_or_tips_by_itself_holds_nothing() {
    let steep = Helper { slope: given(Angle::from_deg(25.0)), ..helper(2000.0, 0.3) };
    let c = of(&steep, &pull(0.5, -AHEAD));
    assert_eq!(c.ultimate.unwrap().low(), Force::ZERO);
    assert!(codes(&c).contains(&"parked-slides"));
    let mut tall = Helper { slope: given(Angle::from_deg(40.0)), ..helper(2000.0, 1.2) };
    tall.vehicle.cg_height = Some(given(Range::exact(Length::from_m(2.0)).unwrap()));
    let c = of(&tall, &pull(0.5, -AHEAD));
    assert_eq!((c.ultimate.unwrap().low(), c.mode), (Force::ZERO, AnchorMode::Tipping));
    assert!(codes(&c).contains(&"parked-tips"));
}

/// Two vehicles one behind the other: the front one slides and goes on holding, so that both come to their own.
#[test]
fn closed_form_a_vehicle_behind_another_adds_what_it_holds_once_the_front_one_slides() {
    let one = |kg: f64, mu: f64| {
        let holds = of(&helper(kg, mu), &pull(0.5, AHEAD)).ultimate.unwrap();
        InSeries { moves: movement_parked().unwrap(), ultimate: holds, gives: Gives::Slides }
    };
    let (front, back) = (one(3000.0, 0.35), one(2500.0, 0.6));
    let tie = Tie {
        length: Length::from_m(4.0),
        ea: Range::hull(Force::from_kn(200.0), Force::from_kn(400.0), Force::from_kn(500.0)),
        slack: Range::hull(Length::ZERO, Length::from_cm(5.0), Length::from_cm(30.0)),
        holds: Force::from_kn(60.0),
        off: Angle::ZERO,
    };
    let s = series(&front, &tie, &back, &mut Silent).unwrap();
    assert!((s.ultimate.low().as_kn() - 10.3 - 14.7).abs() < 0.05, "{:?}", s.ultimate);
    assert!(s.first == First::Front && !s.may_never);
    // With much slack nothing of the back works before the front slides.
    assert!((s.starts.high().as_kn() - 10.3).abs() < 0.05);
}

#[test]
fn balance_recording_changes_no_bit() {
    let h = Helper { chocked: Some(true), slope: given(Angle::from_deg(6.0)), ..helper(2300.0, 0.4) };
    let mut trail = Trail::default();
    let p = [
        Pull { at: Vec3::new(2.2, 0.0, 0.6), force: Vec3::new(9e3, 800.0, 300.0) },
        Pull { at: Vec3::new(2.1, 0.4, 0.5), force: Vec3::new(8e3, 500.0, 200.0) },
    ];
    let a = parked::parked(&h, &p, &mut trail).unwrap();
    assert_eq!(a, of(&h, &p));
    assert_eq!(trail.steps.len(), 2);
    assert!(parked::parked(&h, &[], &mut Silent).is_err());
}
