//! The way out: straight, bent, and the site as it is seen from further along.

use super::*;
use unmire_model::trail::Input;

fn exact<Q: unmire_model::range::Scalar>(v: Q) -> Input<Range<Q>> {
    Input::assumed(Range::hull(v, v, v), "test")
}
fn stretch(long: f64, deg: f64, grade: f64, ahead: Ahead) -> Stretch {
    Stretch {
        length: Input::assumed(Length::from_m(long), "test"),
        bearing: Some(Input::assumed(Angle::from_deg(deg), "test")),
        grade: Some(exact(Angle::from_deg(grade))),
        side_slope: None,
        ahead,
    }
}
/// A way without a case: needs are of no matter here.
fn path(stretches: &[(f64, f64, f64)], turn: f64) -> Path {
    let mut at = 0.0;
    let none = Range::hull(Force::ZERO, Force::ZERO, Force::ZERO);
    let legs: Vec<Leg> = stretches
        .iter()
        .map(|&(long, deg, grade)| {
            let from = at;
            at += long;
            Leg {
                from,
                to: at,
                bearing: Angle::from_deg(deg),
                grade: Angle::from_deg(grade),
                need: none,
                lift: Force::ZERO,
                stretch: Some(stretch(long, deg, grade, Ahead::AsFound)),
            }
        })
        .collect();
    let mut p = Path { legs, length: at, drawn_on: 0.0, turn, corners: Vec::new() };
    p.corners = p.corners();
    p
}
fn near(a: Vec3, b: Vec3, tol: f64) {
    assert!((a - b).norm() < tol, "{a:?} and {b:?}");
}

#[test]
fn closed_form_straight_up_a_slope() {
    let p = path(&[(10.0, 0.0, 30.0)], 2.0);
    near(p.pose(4.0).at, Vec3::new(4.0 * 0.75_f64.sqrt(), 0.0, 2.0), 1e-12);
    assert_eq!(p.pose(4.0).turned, Angle::ZERO);
}

#[test]
fn closed_form_a_corner_is_an_arc_of_one_circle() {
    // A right angle to the left over 2 m of way: radius 4 / π, chord 2 R sin 45° at 45°.
    let p = path(&[(5.0, 0.0, 0.0), (5.0, 90.0, 0.0)], 2.0);
    let r = 2.0 / core::f64::consts::FRAC_PI_2;
    near(p.pose(4.0).at, Vec3::new(4.0, 0.0, 0.0), 1e-12);
    near(p.pose(6.0).at, Vec3::new(4.0 + r, r, 0.0), 1e-12);
    assert!((p.pose(5.0).turned.as_deg() - 45.0).abs() < 1e-9);
    assert!((p.pose(6.0).turned.as_deg() - 90.0).abs() < 1e-9);
    near(p.pose(10.0).at, Vec3::new(4.0 + r, r + 4.0, 0.0), 1e-12);
}

#[test]
fn balance_the_way_is_walked_at_its_own_length_and_without_jumps() {
    let p = path(&[(3.0, 10.0, 5.0), (2.0, -40.0, 12.0), (6.0, 100.0, -3.0)], 1.7);
    let (mut last, mut sum) = (p.pose(0.0), 0.0);
    let n = 20_000;
    for i in 1..=n {
        let here = p.pose(11.0 * f64::from(i) / f64::from(n));
        let step = (here.at - last.at).norm();
        // Never longer than the way that is gone; an arc's chord is shorter by less than a thousandth of a millimetre here.
        assert!(step <= 11.0 / f64::from(n) * (1.0 + 1e-9), "{step}");
        assert!((here.turned - last.turned).abs().as_deg() < 0.1);
        sum += step;
        last = here;
    }
    assert!((sum - 11.0).abs() < 1e-5, "{sum}");
}

#[test]
fn closed_form_seen_and_on_site_undo_each_other() {
    let p = path(&[(5.0, 0.0, 4.0), (5.0, 70.0, -2.0)], 2.0);
    for s in [0.0, 3.0, 4.7, 5.5, 9.0] {
        let pose = p.pose(s);
        let q = Vec3::new(12.0, -3.0, 1.5);
        near(pose.on_site(pose.seen(q)), q, 1e-12);
    }
    // Turned left by 70°, what lay along that direction is straight ahead.
    let pose = p.pose(9.0);
    let ahead = pose.at + Vec3::new(1.0, 0.0, 0.0).turned(Angle::from_deg(70.0)) * 4.0;
    near(pose.seen(ahead), Vec3::new(4.0, 0.0, 0.0), 1e-12);
}

#[test]
fn closed_form_half_a_turn_is_taken_the_short_way() {
    assert!((small(Angle::from_deg(350.0).as_rad()) - Angle::from_deg(-10.0).as_rad()).abs() < 1e-12);
    assert!((small(Angle::from_deg(-350.0).as_rad()) - Angle::from_deg(10.0).as_rad()).abs() < 1e-12);
}
