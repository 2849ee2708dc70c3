//! Anchors that share: against what can be written down, and what must hold whatever the numbers are.
#![allow(clippy::unwrap_used)]

use core::f64::consts::PI;
use unmire_mechanics::anchor::sharing::{Joined, Sharing, SharingError, SharingLeg, share};
use unmire_model::rig::{Node, Sling, Structure};
use unmire_model::{Force, Length, Range, Silent, Trail, Vec3};

fn at(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3::new(x, y, z)
}
fn exact(v: f64) -> Range<f64> {
    Range::hull(v, v, v)
}
/// A leg so stiff that only its anchor gives, of known length.
fn leg(x: f64, y: f64, long: f64, k: f64) -> SharingLeg {
    SharingLeg {
        anchor: at(x, y, 0.0),
        length: Length::from_m(long),
        error: Length::ZERO,
        ea: Range::exact(Force::from_n(1e12)).unwrap(),
        stiffness: exact(k),
    }
}
fn of(pull: Vec3, legs: &[SharingLeg]) -> Sharing {
    share(pull, legs, &Joined::Fixed, &mut Silent).unwrap()
}
fn equalised(pull: Vec3, legs: &[SharingLeg], mu: f64) -> Sharing {
    // A line of 10 MN gives by a few millimetres; stiffer than that, rounding leaves more than the certificate allows.
    let ea = Range::exact(Force::from_kn(1e4)).unwrap();
    let legs: Vec<SharingLeg> = legs.iter().map(|l| SharingLeg { ea, ..l.clone() }).collect();
    share(pull, &legs, &Joined::Equalising { friction: exact(mu), between: Some(Length::from_m(1.0)) }, &mut Silent)
        .unwrap()
}
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got}, but {want} is right");
}

#[test]
fn closed_form_springs_side_by_side_share_by_their_stiffness() {
    for (a, b) in [(3e5, 3e5), (1e5, 5e5), (2e4, 9e5)] {
        // Both legs along one line: springs side by side.
        let s = of(at(20e3, 0.0, 0.0), &[leg(0.0, 0.0, 3.0, a), leg(0.0, 0.0, 3.0, b)]);
        near(s.anchors[0].share.likely(), a / (a + b), 1e-6);
        near(s.anchors[1].share.likely(), b / (a + b), 1e-6);
        near(s.unevenness, 2.0 * a.max(b) / (a + b), 1e-6);
        near(s.ring_moves.as_m(), 18e3 / (a + b), 1e-6);
        near(s.anchors[0].gives.as_m(), 20e3 / (a + b), 1e-6);
    }
    let s = of(at(0.0, 7e3, 0.0), &[leg(0.0, 0.0, 2.0, 1e5), leg(0.0, 0.0, 2.0, 2e5), leg(0.0, 0.0, 2.0, 4e5)]);
    for (a, k) in s.anchors.iter().zip([1.0, 2.0, 4.0]) {
        near(a.share.likely(), k / 7.0, 1e-6);
    }
}

#[test]
fn closed_form_the_strap_counts_in_series_with_its_anchor() {
    // 300 kN/m of strap (EA 600 kN over 2 m) on 300 kN/m of anchor: 150 kN/m against 300 kN/m.
    let mut soft = leg(0.0, 0.0, 2.0, 3e5);
    soft.ea = Range::exact(Force::from_kn(600.0)).unwrap();
    let s = of(at(9e3, 0.0, 0.0), &[soft, leg(0.0, 0.0, 2.0, 3e5)]);
    near(s.anchors[0].share.likely(), 1.0 / 3.0, 1e-6);
}

#[test]
fn closed_form_a_fan_of_three_on_one_line_of_anchors() {
    // Anchors on a line across the pull, legs that meet at one point when slack: a small movement d along the pull
    // stretches each by d cos a, so that T_i = P k_i cos a_i / Σ k cos² a, if the fan is the same to both sides.
    let (h, w, k) = (10.0_f64, 4.0_f64, 4e7);
    let long = (h * h + w * w).sqrt();
    let cos = h / long;
    let legs = [leg(0.0, w, long, k), leg(0.0, 0.0, h, 2.0 * k), leg(0.0, -w, long, k)];
    let s = of(at(10e3, 0.0, 0.0), &legs);
    let sum = 2.0 * cos * cos + 2.0;
    near(s.anchors[0].share.likely(), cos / sum, 1e-4);
    near(s.anchors[1].share.likely(), 2.0 / sum, 1e-4);
    near(s.anchors[2].share.likely(), cos / sum, 1e-4);
    near(s.included.as_rad(), 2.0 * libm::atan(w / h), 1e-3);
}

#[test]
fn closed_form_two_alike_legs_carry_t_over_two_cos() {
    for half in [5.0_f64, 15.0, 30.0, 45.0, 60.0] {
        let (a, long) = (half.to_radians(), 4.0);
        let (x, y) = (-long * libm::cos(a), long * libm::sin(a));
        let legs = [leg(x, y, long, 1e9), leg(x, -y, long, 1e9)];
        let s = of(at(30e3, 0.0, 0.0), &legs);
        near(s.anchors[0].share.likely(), 0.5 / libm::cos(a), 1e-4);
        near(s.anchors[1].share.likely(), 0.5 / libm::cos(a), 1e-4);
        near(s.unevenness, 1.0, 1e-4);
        near(s.included.as_rad(), 2.0 * a, 1e-3);
    }
}

#[test]
fn closed_form_two_spread_legs_hold_by_geometry_whatever_the_anchors_give() {
    // Statically determinate: to first order the sine rule of rigid anchors, P sin b / sin (a + b).
    let (a, b, long) = (20.0_f64.to_radians(), 35.0_f64.to_radians(), 6.0);
    let legs = |k: Range<f64>| {
        [(a, 1.0), (b, -1.0)].map(|(angle, side)| SharingLeg {
            stiffness: k,
            ..leg(-long * libm::cos(angle), side * long * libm::sin(angle), long, 1.0)
        })
    };
    let s = of(at(20e3, 0.0, 0.0), &legs(Range::new(2e6, 4e6, 4e7).unwrap()));
    let rigid = [libm::sin(b) / libm::sin(a + b), libm::sin(a) / libm::sin(a + b)];
    for (anchor, want) in s.anchors.iter().zip(rigid) {
        near(anchor.share.likely(), want, 0.01);
        // Anchors that give from one to twenty move the ring by a centimetre, and the shares by little.
        near(anchor.share.low(), want, 0.02);
        near(anchor.share.high(), want, 0.02);
    }
}

#[test]
fn closed_form_five_centimetres_too_long_on_stiff_anchors_hangs_slack() {
    let legs = [leg(0.0, 0.0, 3.0, 5e6), leg(0.0, 0.0, 3.05, 5e6), leg(0.0, 0.0, 3.0, 5e6)];
    let s = of(at(30e3, 0.0, 0.0), &legs);
    // The other two give 3 mm under 15 kN each.
    assert_eq!(s.slack().collect::<Vec<_>>(), [1]);
    near(s.anchors[0].share.likely(), 0.5, 1e-6);
    near(s.unevenness, 1.5, 1e-6);
    // As an error of setting it may be any of them: each may hang slack, and the others then hold it all.
    let unsure = legs.map(|l| SharingLeg { length: Length::from_m(3.0), error: Length::from_cm(2.5), ..l });
    let s = of(at(30e3, 0.0, 0.0), &unsure);
    for a in &s.anchors {
        assert!(a.may_hang_slack);
        near(a.share.high(), 1.0, 1e-9);
        near(a.share.likely(), 1.0 / 3.0, 1e-6);
    }
    assert_eq!(s.slack().count(), 0);
}

#[test]
fn closed_form_a_line_that_runs_makes_both_ends_alike_without_friction() {
    for (x, half) in [(0.0, 1.0), (1.5, 1.0), (0.0, 4.0)] {
        let legs = [leg(x, half, 5.0, 2e5), leg(0.0, -half, 6.0, 8e5)];
        let s = equalised(at(20e3, 1e3, 0.0), &legs, 0.0);
        near(s.anchors[0].force.likely().as_n(), s.anchors[1].force.likely().as_n(), 1e-3);
        let sum = s.anchors[0].likely + s.anchors[1].likely;
        near((sum - at(20e3, 1e3, 0.0)).norm(), 0.0, 1e-3);
    }
}

#[test]
fn closed_form_friction_in_the_ring_leaves_e_to_the_mu_wrap() {
    // Anchors close together, the ring far away: the line turns by all but 180 degrees.
    for mu in [0.1, 0.2, libm::log(2.0) / PI] {
        let legs = [leg(0.0, 0.001, 50.0, 1e9), leg(0.0, -0.001, 50.0, 1e9)];
        let s = equalised(at(10e3, 0.0, 0.0), &legs, mu);
        let ratio = libm::exp(mu * PI);
        for a in &s.anchors {
            near(a.share.likely(), 0.5, 1e-4);
            near(a.share.high(), ratio / (1.0 + ratio), 1e-3);
            near(a.share.low(), 1.0 / (1.0 + ratio), 1e-3);
        }
    }
    // The extreme of two to one: one end takes two thirds.
    let mu = libm::log(2.0) / PI;
    let s = equalised(at(10e3, 0.0, 0.0), &[leg(0.0, 0.001, 50.0, 1e9), leg(0.0, -0.001, 50.0, 1e9)], mu);
    near(s.anchors[0].share.high(), 2.0 / 3.0, 1e-3);
}

#[test]
fn closed_form_two_lines_give_the_third_anchor_half() {
    let legs = [leg(0.0, 0.002, 40.0, 1e8), leg(0.0, 0.0, 40.0, 1e8), leg(0.0, -0.002, 60.0, 1e8)];
    let s = equalised(at(12e3, 0.0, 0.0), &legs, 0.0);
    for (a, want) in s.anchors.iter().zip([0.25, 0.25, 0.5]) {
        near(a.share.likely(), want, 1e-3);
    }
    // By design, not by friction: half on one of three.
    near(s.unevenness, 1.5, 1e-3);
    assert!(
        share(at(1.0, 0.0, 0.0), &legs, &Joined::Equalising { friction: exact(0.1), between: None }, &mut Silent)
            .is_err()
    );
}

#[test]
fn balance_an_anchor_as_a_short_sling_of_its_own_is_the_same() {
    // The other model: the leg hangs on a sling of 0.1 mm that stands for the anchor.
    let legs = [(0.0, 2.0, 4.0, 3e5), (2.0, -1.0, 4.0, 9e5), (-1.5, -1.2, 4.0, 2e5)];
    let shared: Vec<SharingLeg> = legs
        .iter()
        .map(|&(x, y, l, k)| SharingLeg { ea: Range::exact(Force::from_kn(400.0)).unwrap(), ..leg(x, y, l, k) })
        .collect();
    let s = of(at(0.0, 0.0, -25e3), &shared);
    let mut other = Structure::default();
    other.nodes.push(Node::free("ring", at(0.0, 0.0, -4.0)).with_weight(Force::from_kn(25.0)));
    for &(x, y, l, k) in &legs {
        let fixed = other.nodes.len();
        other.nodes.push(Node::fixed("anchor", at(x, y, 0.0)));
        other.nodes.push(Node::free("end", at(x, y, -2e-4)));
        other.slings.push(Sling::new("anchor", fixed, fixed + 1, Length::from_m(1e-4), Force::from_n(k * 1e-4)));
        other.slings.push(Sling::new("leg", fixed + 1, 0, Length::from_m(l), Force::from_kn(400.0)));
    }
    let eq = unmire_mechanics::rig::solve(&other, &mut Silent).unwrap();
    for (a, sling) in s.anchors.iter().zip(eq.slings.iter().step_by(2)) {
        // The short sling is 0.1 mm of leg that the first model does not have.
        near(a.force.likely().as_n(), sling.tension.as_n(), 15.0);
    }
}

#[test]
fn balance_forces_add_up_to_the_pull_and_recording_changes_no_bit() {
    let mut seed = 7_u64;
    let mut random = |low: f64, high: f64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
    };
    for n in [2, 3, 4] {
        for _ in 0..25 {
            let legs: Vec<SharingLeg> = (0..n)
                .map(|_| {
                    let k = random(5e4, 1e6);
                    SharingLeg {
                        anchor: at(random(-2.0, 2.0), random(-4.0, 4.0), random(0.0, 1.0)),
                        length: Length::from_m(random(3.0, 8.0)),
                        error: Length::from_cm(random(0.0, 10.0)),
                        ea: Range::new(Force::from_kn(200.0), Force::from_kn(400.0), Force::from_kn(500.0)).unwrap(),
                        stiffness: Range::new(k, 2.0 * k, 6.0 * k).unwrap(),
                    }
                })
                .collect();
            let pull = at(random(5e3, 50e3), random(-5e3, 5e3), random(-2e3, 2e3));
            let mut kept = Trail::default();
            let s = share(pull, &legs, &Joined::Fixed, &mut kept).unwrap();
            assert_eq!(s, of(pull, &legs));
            assert_eq!(kept.steps.len(), n);
            let sum = s.anchors.iter().fold(Vec3::ZERO, |m, a| m + a.likely);
            near((sum - pull).norm(), 0.0, 1e-7 * pull.norm());
            for a in &s.anchors {
                assert!(a.force.low() <= a.force.likely() && a.force.likely() <= a.force.high());
                assert!(a.may_hang_slack == (a.force.low() == Force::ZERO));
            }
            // Turned and moved as a whole, it shares alike.
            let turned: Vec<SharingLeg> = legs
                .iter()
                .map(|l| SharingLeg { anchor: at(90.0 - l.anchor.y, l.anchor.x, l.anchor.z + 7.0), ..l.clone() })
                .collect();
            let t = of(at(-pull.y, pull.x, pull.z), &turned);
            for (a, b) in s.anchors.iter().zip(&t.anchors) {
                near(a.force.high().as_n(), b.force.high().as_n(), 1e-4);
            }
        }
    }
}

#[test]
fn balance_legs_side_by_side_the_stiffer_one_never_gets_less() {
    let soft = Range::new(1e5, 2e5, 3e5).unwrap();
    for more in [1.0, 1.01, 2.0, 10.0] {
        let stiff = soft.increasing(|k| k * more);
        let legs = [soft, stiff, soft].map(|k| SharingLeg {
            stiffness: k,
            error: Length::from_cm(3.0),
            ..leg(0.0, 0.0, 3.0, 1.0)
        });
        let s = of(at(15e3, 0.0, 0.0), &legs);
        for other in [0, 2] {
            assert!(s.anchors[1].force.likely().as_n() >= s.anchors[other].force.likely().as_n() - 1e-6);
            assert!(s.anchors[1].force.high().as_n() >= s.anchors[other].force.high().as_n() - 1e-6);
        }
    }
}

#[test]
fn balance_what_is_known_better_is_never_more_uneven() {
    let legs = |error: f64, wide: f64| {
        [(0.0, 1.0), (0.0, 0.0), (0.0, -1.0)].map(|(x, y)| SharingLeg {
            stiffness: Range::new(4e5 / wide, 4e5, 4e5 * wide).unwrap(),
            error: Length::from_cm(error),
            ..leg(x, y, 6.0, 1.0)
        })
    };
    let mut last = 0.0;
    for (error, wide) in [(0.0, 1.0), (0.0, 1.5), (1.0, 1.5), (1.0, 3.0), (5.0, 3.0), (10.0, 8.0)] {
        let s = of(at(20e3, 0.0, 0.0), &legs(error, wide));
        assert!(s.unevenness >= last - 1e-9, "{error} {wide}: {} after {last}", s.unevenness);
        last = s.unevenness;
    }
}

/// A running line is the more even one only while its friction leaves less than the legs' stiffness and length would: with well
/// known, equal legs it is the other way round.
#[test]
fn balance_a_running_line_is_more_even_than_unsure_legs_and_less_even_than_sure_ones() {
    let legs = |wide: f64, error: f64| {
        [0.5, -0.5].map(|y| SharingLeg {
            stiffness: Range::new(3e5 / wide, 3e5, 3e5 * wide).unwrap(),
            error: Length::from_cm(error),
            ..leg(0.0, y, 8.0, 1.0)
        })
    };
    let pull = at(20e3, 0.0, 0.0);
    for mu in [0.0, 0.1, 0.25] {
        let runs = equalised(pull, &legs(3.0, 5.0), mu).unevenness;
        let keeps = of(pull, &legs(3.0, 5.0)).unevenness;
        assert!(runs <= keeps + 1e-9, "{mu}: {runs} against {keeps}");
    }
    // Without friction it is as even as can be.
    near(equalised(pull, &legs(3.0, 5.0), 0.0).unevenness, 1.0, 1e-3);
    assert!(equalised(pull, &legs(1.0, 0.0), 0.25).unevenness > of(pull, &legs(1.0, 0.0)).unevenness + 0.1);
}

#[test]
fn balance_what_is_out_of_order_is_an_error() {
    let good = [leg(0.0, 1.0, 3.0, 1e5), leg(0.0, -1.0, 3.0, 1e5)];
    let pull = at(1e3, 0.0, 0.0);
    let fails = |pull: Vec3, legs: &[SharingLeg]| {
        assert!(matches!(share(pull, legs, &Joined::Fixed, &mut Silent), Err(SharingError::Input(_))));
    };
    fails(Vec3::ZERO, &good);
    fails(at(f64::NAN, 0.0, 0.0), &good);
    fails(pull, &good[..1]);
    fails(pull, &[&good[..], &good[..], &good[..1]].concat());
    for bad in [
        SharingLeg { length: Length::ZERO, ..good[0].clone() },
        SharingLeg { error: Length::from_m(-0.1), ..good[0].clone() },
        SharingLeg { error: Length::from_m(3.0), ..good[0].clone() },
        SharingLeg { stiffness: exact(0.0), ..good[0].clone() },
        SharingLeg { ea: Range::exact(Force::ZERO).unwrap(), ..good[0].clone() },
    ] {
        fails(pull, &[bad, good[1].clone()]);
    }
    let far = SharingLeg { anchor: at(f64::INFINITY, 0.0, 0.0), ..good[0].clone() };
    assert!(share(pull, &[far, good[1].clone()], &Joined::Fixed, &mut Silent).is_err());
}

/// Corners are enough: what lies inside the ranges never gives an anchor more or less than some corner does.
#[test]
fn balance_nothing_inside_the_ranges_goes_beyond_their_corners() {
    let mut seed = 11_u64;
    let mut random = |low: f64, high: f64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
    };
    for n in [2, 3, 4] {
        for _ in 0..12 {
            let legs: Vec<SharingLeg> = (0..n)
                .map(|i| {
                    let k = random(1e5, 6e5);
                    let y = 1.5 * f64::from(i) + random(-0.5, 0.5);
                    let x = random(-0.5, 0.5);
                    SharingLeg {
                        anchor: at(x, y, 0.0),
                        // Set so that the legs come taut about together.
                        length: Length::from_m((at(7.0, 2.0, 0.0) - at(x, y, 0.0)).norm()),
                        error: Length::from_cm(random(0.0, 6.0)),
                        ea: Range::new(Force::from_kn(200.0), Force::from_kn(300.0), Force::from_kn(500.0)).unwrap(),
                        stiffness: Range::new(k, 2.0 * k, 5.0 * k).unwrap(),
                    }
                })
                .collect();
            let pull = at(random(8e3, 40e3), random(-4e3, 4e3), 0.0);
            let whole = of(pull, &legs);
            for _ in 0..12 {
                let inside: Vec<SharingLeg> = legs
                    .iter()
                    .map(|l| {
                        let t = random(0.0, 1.0);
                        let ea = l.ea.low() + (l.ea.high() - l.ea.low()) * random(0.0, 1.0);
                        SharingLeg {
                            stiffness: exact(l.stiffness.low() + (l.stiffness.high() - l.stiffness.low()) * t),
                            ea: Range::exact(ea).unwrap(),
                            length: l.length + l.error * random(-1.0, 1.0),
                            error: Length::ZERO,
                            anchor: l.anchor,
                        }
                    })
                    .collect();
                let one = of(pull, &inside);
                for (a, b) in whole.anchors.iter().zip(&one.anchors) {
                    let f = b.force.likely().as_n();
                    assert!(f <= a.force.high().as_n() + 1e-6 * pull.norm(), "{f} beyond {:?}", a.force);
                    assert!(f >= a.force.low().as_n() - 1e-6 * pull.norm(), "{f} below {:?}", a.force);
                }
            }
        }
    }
}
