//! Closed forms for the formulas that no printed value covers.

use unmire_mechanics::anchor::{parked, stem_mass, stem_mass_by_diameter, stem_volume_honer};
use unmire_mechanics::ground::{compaction_resistance, sinkage, soil};
use unmire_mechanics::hitch::{HitchError, Legs, bridle_legs, choker_length, hitch, straight};
use unmire_mechanics::rope::mass_per_metre;
use unmire_mechanics::shackle::spread_allowed;
use unmire_mechanics::sheave::{efficiency, efficiency_recorded};
use unmire_mechanics::stability::{Pull, ground_axes, pitch};
use unmire_mechanics::tow::tow_pull;
use unmire_mechanics::winch::{
    Lay, capacity_formula, drum_capacity, drum_capacity_constant, fairlead_angle, hand_winch_stall, wraps_per_layer,
};
use unmire_model::gear::{Bearing, Material};
use unmire_model::ground::WayOut;
use unmire_model::layout::Hitch;
use unmire_model::trail::Input;
use unmire_model::vehicle::{Drum, Helper, Vehicle};
use unmire_model::{Angle, Force, Length, Mass, Range, STANDARD_GRAVITY, Silent, Trail, Vec3};

fn m(v: f64) -> Length {
    Length::from_m(v)
}
fn exact<Q: unmire_model::range::Scalar>(q: Q) -> Input<Range<Q>> {
    Input::assumed(Range::hull(q, q, q), "test")
}
fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{a} is not {b}");
}

fn vehicle(mass: f64) -> Vehicle {
    Vehicle {
        name: "v".into(),
        mass: exact(Mass::from_kg(mass)),
        payload: None,
        wheelbase: Some(Input::assumed(m(2.8), "test")),
        track: Some(Input::assumed(m(1.6), "test")),
        cg_height: Some(exact(m(0.8))),
        points: vec![],
        winch: None,
        tyres: None,
    }
}

fn helper(mass: f64, mu: Option<f64>, slope_deg: f64, heading_deg: f64) -> Helper {
    Helper {
        vehicle: vehicle(mass),
        position: Vec3::ZERO,
        heading: Angle::from_deg(heading_deg),
        friction: mu.map(exact),
        slope: Input::assumed(Angle::from_deg(slope_deg), "test"),
        braked_share: exact(1.0),
        chocked: None,
        backed_by: None,
        can_tow: true,
        line: 0,
    }
}

/// A pull at the ground: it can't tip anything.
fn level_with_the_ground(force: Vec3) -> [Pull; 1] {
    [Pull { at: Vec3::ZERO, force }]
}

#[test]
fn closed_form_a_helper_on_the_level_holds_friction_times_weight_whichever_way_it_stands() {
    let w = 2400.0 * STANDARD_GRAVITY;
    for heading in [0.0, 70.0, 180.0] {
        let pull = level_with_the_ground(Vec3::new(1.0, 0.3, 0.0));
        let c = parked::parked(&helper(2400.0, Some(0.35), 0.0, heading), &pull, &mut Silent).unwrap();
        close(c.ultimate.unwrap().likely().as_n(), 0.35 * w);
    }
}

#[test]
fn closed_form_a_helper_nose_up_is_pulled_down_its_slope_from_behind() {
    // Heading +x and nose up: a pull towards −x along the slope goes down it.
    let th = Angle::from_deg(10.0);
    let down = Vec3::new(-th.cos(), 0.0, -th.sin());
    let c = parked::parked(&helper(2500.0, Some(0.6), 10.0, 0.0), &level_with_the_ground(down), &mut Silent).unwrap();
    let want = parked::sliding_pull(Mass::from_kg(2500.0).weight(), 1.0, 0.6, th, Angle::ZERO, false).unwrap();
    close(c.ultimate.unwrap().likely().as_n(), want.as_n());
}

#[test]
fn closed_form_without_friction_told_nothing_is_known() {
    let pull = level_with_the_ground(Vec3::new(1.0, 0.0, 0.0));
    let c = parked::parked(&helper(2500.0, None, 0.0, 0.0), &pull, &mut Silent).unwrap();
    assert!(c.ultimate.is_none() && c.reason.is_some());
    let r = Range::hull(0.05, 0.05, 0.05);
    let t = tow_pull(&helper(2500.0, None, 0.0, 0.0), Vec3::new(1.0, 0.0, 0.0), None, &r, &mut Silent).unwrap();
    assert!(t.pull.is_none() && t.reason.is_some());
}

#[test]
fn closed_form_a_steady_tow_gives_grip_less_its_own_rolling() {
    let w = 2000.0 * STANDARD_GRAVITY;
    let (all, r) = (Range::hull(1.0, 1.0, 1.0), Range::hull(0.05, 0.05, 0.05));
    let mut trail = Trail::default();
    let of = helper(2000.0, Some(0.5), 0.0, 0.0);
    let t = tow_pull(&of, Vec3::new(-1.0, 0.0, 0.0), Some(&all), &r, &mut trail).unwrap();
    close(t.pull.unwrap().likely().as_n(), w * (0.5 - 0.05));
    assert_eq!(t, tow_pull(&of, Vec3::new(-1.0, 0.0, 0.0), Some(&all), &r, &mut Silent).unwrap());
    // Driven share not told: half of the weight at the low end.
    let t = tow_pull(&of, Vec3::new(-1.0, 0.0, 0.0), None, &r, &mut Silent).unwrap();
    close(t.pull.unwrap().low().as_n(), w * (0.25 - 0.05));
    assert_eq!(t.warnings[0].code, "driven-share-assumed");
}

#[test]
fn closed_form_an_upward_pull_at_the_nose_pitches_about_the_rear_axle() {
    // F up at x = 2.2 m ahead of the middle, rear axle 1.4 m behind it: tips at F = W · 1.4 / (2.2 + 1.4).
    let w = 2000.0 * STANDARD_GRAVITY;
    let level = WayOut {
        bearing: Input::assumed(Angle::ZERO, "test"),
        grade: exact(Angle::ZERO),
        side_slope: Input::assumed(Angle::ZERO, "test"),
        distance: exact(m(5.0)),
    };
    let axes = ground_axes(&level, Angle::ZERO);
    let lift = w * 1.4 / 3.6;
    let p = [Pull { at: Vec3::new(2.2, 0.0, 0.5), force: Vec3::new(0.0, 0.0, lift) }];
    let found = pitch(&vehicle(2000.0), &axes, &p, &mut Silent).unwrap();
    close(found.used.unwrap().likely(), 1.0);
    assert!(!found.over_nose);
}

#[test]
fn closed_form_axes_are_square_and_follow_the_ground() {
    let way = WayOut {
        bearing: Input::assumed(Angle::from_deg(30.0), "test"),
        grade: exact(Angle::from_deg(8.0)),
        side_slope: Input::assumed(Angle::from_deg(12.0), "test"),
        distance: exact(m(5.0)),
    };
    let a = ground_axes(&way, Angle::from_deg(8.0));
    close(a.ahead.dot(a.left), 0.0);
    close(a.ahead.dot(a.up), 0.0);
    close(a.ahead.cross(a.left).dot(a.up), 1.0);
    // Going along the way out the ground rises by the grade, across it by the side slope.
    let rise = |level: Vec3| -(level.dot(a.up)) / a.up.z;
    let along = Vec3::new(1.0, 0.0, 0.0).turned(Angle::from_deg(30.0));
    let across = Vec3::new(0.0, 1.0, 0.0).turned(Angle::from_deg(30.0));
    close(rise(along), Angle::from_deg(8.0).tan());
    close(rise(across), Angle::from_deg(12.0).tan());
    // The nose rises by what the plane does along the heading.
    close(a.nose_slope().tan(), rise(Vec3::new(1.0, 0.0, 0.0)));
}

#[test]
fn closed_form_the_printed_capacity_formula_is_the_sum_of_full_layers() {
    // Flange depth and width whole multiples of the line: (A + D) A B π / (12 d²) is exact for turns packed in squares.
    let (d, barrel) = (Length::from_inch(0.5), Length::from_inch(4.0));
    let (width, flange) = (Length::from_inch(10.0), Length::from_inch(2.0));
    let drum = Drum { diameter: barrel, width };
    close(wraps_per_layer(&drum, d).unwrap(), 20.0);
    let k = drum_capacity_constant(d).unwrap();
    let printed = capacity_formula(flange, barrel, width, k).unwrap();
    close(printed.as_m(), drum_capacity(&drum, d, 4, Lay::Stacked).unwrap().as_m());
    close(Lay::Nested.step(), libm::sqrt(3.0) / 2.0);
}

#[test]
fn closed_form_the_fairlead_sees_the_angle_between_two_directions() {
    let a = fairlead_angle(Vec3::new(1.0, 0.0, 0.0), Vec3::new(10.0, 10.0, 0.0), &mut Silent).unwrap();
    close(a.as_deg(), 45.0);
    assert!(fairlead_angle(Vec3::new(1.0, 0.0, 0.0), Vec3::ZERO, &mut Silent).is_err());
}

#[test]
fn closed_form_a_lever_puller_without_a_stated_stall_gets_a_marked_band() {
    let (band, assumed) = hand_winch_stall(Force::from_kn(16.0), None);
    assert!(assumed && band.low() == Force::from_kn(16.0) && band.high() > Force::from_kn(16.0));
    let stated = Range::hull(Force::from_kn(18.0), Force::from_kn(20.0), Force::from_kn(22.0));
    assert_eq!(hand_winch_stall(Force::from_kn(16.0), Some(&stated)), (stated, false));
}

#[test]
fn closed_form_sinkage_and_compaction_combine_as_printed() {
    // R = 1 / [(3−n)^((2n+2)/(2n+1)) (n+1) k^(1/(2n+1))] · [3W/√D]^((2n+2)/(2n+1)), k = k_c + b k_φ.
    for key in ["dry_sand_lll", "lete_sand_wong", "sandy_loam_michigan_23", "grenville_loam_24"] {
        let s = soil(key).unwrap();
        let (w, b, d) = (6.0, 0.255, 0.8);
        let z = sinkage(&s, Force::from_kn(w), m(b), m(d)).unwrap();
        let r = compaction_resistance(&s, m(b), z).unwrap().as_kn();
        let (n, k) = (s.n, s.k_c + b * s.k_phi);
        let e = (2.0 * n + 2.0) / (2.0 * n + 1.0);
        let want = libm::pow(3.0 * w / libm::sqrt(d), e)
            / (libm::pow(3.0 - n, e) * (n + 1.0) * libm::pow(k, 1.0 / (2.0 * n + 1.0)));
        close(r, want);
    }
}

#[test]
fn closed_form_a_bridle_balances_the_pull_along_and_across() {
    for (a, b) in [(10.0, 50.0), (45.0, 45.0), (5.0, 100.0)] {
        let (x, y) = (Angle::from_deg(a), Angle::from_deg(b));
        let t = bridle_legs(Force::from_n(1000.0), x, y, &mut Silent).unwrap();
        close(t.first.as_n() * x.cos() + t.second.as_n() * y.cos(), 1000.0);
        close(t.first.as_n() * x.sin(), t.second.as_n() * y.sin());
    }
    assert!(bridle_legs(Force::from_n(1000.0), Angle::from_deg(90.0), Angle::from_deg(90.0), &mut Silent).is_err());
}

#[test]
fn closed_form_a_choker_is_its_loop_and_its_standing_part() {
    // At 120° of choke, β = 60°: the loop 2 r / tan 60° + r 300°, the eye at r / sin 60°.
    let r = 0.25;
    let l = choker_length(m(r), m(1.5), Angle::from_deg(120.0)).unwrap().as_m();
    let loop_length = 2.0 * r / libm::sqrt(3.0) + r * 300.0_f64.to_radians();
    close(l, loop_length + 1.5 - 2.0 * r / libm::sqrt(3.0));
}

#[test]
fn closed_form_hitches_by_name_give_what_each_is() {
    let (r, l) = (m(0.2), m(3.0));
    let s = hitch(Hitch::Straight, None, l, &mut Silent).unwrap();
    assert_eq!(s, straight(l).unwrap());
    close(s.reach.as_m(), 3.0);
    close(s.leg_tension(Force::from_n(500.0), Legs::Equal, &mut Silent).as_n(), 500.0);
    assert_eq!(s.bark_tension(Force::from_n(500.0), Legs::Equal), Force::ZERO);
    assert_eq!(hitch(Hitch::Basket, None, l, &mut Silent), Err(HitchError::NoRadius));
    let b = hitch(Hitch::Basket, Some(r), l, &mut Silent).unwrap();
    close(b.basket_pct(Legs::Equal), libm::cos(0.5 * b.included.as_rad()));
    close(b.choke_pct(), 1.0);
    let c = hitch(Hitch::Choker, Some(r), l, &mut Silent).unwrap();
    close(c.choke_pct(), 0.87);
    close(c.bark_tension(Force::from_n(500.0), Legs::Equal).as_n(), 500.0);
}

#[test]
fn closed_form_two_legs_in_a_bow_open_to_120_degrees_and_no_further() {
    assert!(spread_allowed(Angle::from_deg(120.0)).is_ok());
    assert!(spread_allowed(Angle::from_deg(120.1)).is_err());
    assert!(spread_allowed(Angle::from_rad(f64::NAN)).is_err());
}

#[test]
fn closed_form_recording_a_sheave_changes_nothing_and_says_where_it_comes_from() {
    let mut trail = Trail::default();
    for b in [Bearing::Plain, Bearing::Bronze, Bearing::Roller, Bearing::Unknown] {
        let e = efficiency(b);
        assert_eq!(e, efficiency_recorded(b, &mut trail));
        assert!(e.low() > 0.85 && e.high() < 1.0);
    }
    assert_eq!(trail.steps.len(), 4);
}

#[test]
fn closed_form_a_stem_by_its_diameter_alone_is_dry_stem_and_water() {
    // Pine 30 cm: exp(−2.5356 + 2.4349 ln 30) · (exp(−0.3737 − 1.8055/30) + exp(−2.0980 − 1.1432/30)) · 1.8.
    let all = libm::exp(-2.5356 + 2.4349 * libm::log(30.0));
    let share = libm::exp(-0.3737 - 1.8055 / 30.0) + libm::exp(-2.0980 - 1.1432 / 30.0);
    let one = stem_mass_by_diameter("pine", Length::from_cm(30.0)).unwrap().as_kg();
    close(one, all * share * 1.8);
    let d = Range::hull(Length::from_cm(30.0), Length::from_cm(30.0), Length::from_cm(30.0));
    let span = stem_mass("general", 850.0, "pine", &d, None, &mut Silent).unwrap();
    assert!(span.by_diameter_alone);
    close(span.mass.low().as_kg(), 0.7 * one);
    close(span.mass.high().as_kg(), 1.3 * one);
}

#[test]
fn closed_form_stem_volume_of_a_canadian_species() {
    let v = stem_volume_honer("jack_pine", Length::from_cm(25.0), m(18.0)).unwrap();
    let taper = 1.0 - 0.04365 * 0.151;
    close(v, 0.004389 * 625.0 * taper * taper / (0.897 + 0.3048 * 348.53 / 18.0));
}

#[test]
fn published_wire_rope_masses_lie_in_their_own_band() {
    // 10 mm: 34.5 kg a 100 m; 3/8 in: 0.24 lb a foot.
    let at = |d| mass_per_metre(Material::SteelWire, d).unwrap();
    let metric = at(Length::from_mm(10.0));
    assert!(metric.low().as_kg() <= 0.345 && 0.345 <= metric.high().as_kg());
    let inch = at(Length::from_inch(0.375));
    let printed = Mass::from_lb(0.24).as_kg() / Length::from_foot(1.0).as_m();
    assert!(inch.low().as_kg() <= printed && printed <= inch.high().as_kg());
    assert!(mass_per_metre(Material::Unknown, Length::from_mm(10.0)).is_err());
}
