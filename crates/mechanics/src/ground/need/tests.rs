//! The need against closed forms, and that recording changes nothing.

use super::*;
use crate::ground::{can_run_away, effect};
use unmire_model::ground::{Depth, Ground, NeedMethod, Stuck, WayOut};
use unmire_model::trail::{Input, Trail};
use unmire_model::vehicle::Tyres;
use unmire_model::vehicle::Vehicle;
use unmire_model::{Angle, Force, Length, Range};
use unmire_model::{Mass, Silent};

fn exact<Q: unmire_model::range::Scalar>(q: Q) -> Input<Range<Q>> {
    Input::assumed(Range::hull(q, q, q), "test")
}

struct Parts {
    vehicle: Vehicle,
    stuck: Stuck,
    ground: Ground,
    way_out: WayOut,
}
impl Parts {
    fn scene(&self) -> Scene<'_> {
        Scene { vehicle: &self.vehicle, stuck: &self.stuck, ground: &self.ground, way_out: &self.way_out }
    }
}

fn parts(depth: Depth, grade_deg: f64) -> Parts {
    Parts {
        vehicle: Vehicle {
            name: "v".into(),
            mass: exact(Mass::from_kg(2800.0)),
            payload: None,
            wheelbase: None,
            track: None,
            cg_height: None,
            points: vec![],
            winch: None,
            tyres: None,
        },
        stuck: Stuck {
            depth: Input::assumed(depth, "test"),
            mire_share: None,
            obstacle: None,
            locked_share: None,
            drive_helps: false,
            bellied: false,
            unloadable: None,
            overturned: false,
        },
        ground: Ground {
            surface: Input::assumed("mud_shallow".to_owned(), "test"),
            soil: None,
            method: NeedMethod::Doctrine,
            saturated: false,
            season: None,
        },
        way_out: WayOut {
            bearing: Input::assumed(Angle::ZERO, "test"),
            grade: exact(Angle::from_deg(grade_deg)),
            side_slope: Input::assumed(Angle::ZERO, "test"),
            distance: exact(Length::from_m(6.0)),
        },
    }
}

const W: f64 = 2800.0 * unmire_model::STANDARD_GRAVITY;

#[test]
fn closed_form_not_mired_is_rolling_and_slope() {
    let n = need(&parts(Depth::NotMired, 4.0).scene(), &mut Silent).unwrap();
    let th = 4.0_f64.to_radians();
    assert!((n.total.likely().as_n() - W * (0.25 * libm::cos(th) + libm::sin(th))).abs() < 1e-6);
    let sum: f64 = n.parts.iter().map(|p| p.range.high().as_n()).sum();
    assert!((sum - n.total.high().as_n()).abs() < 1e-9);
}

#[test]
fn closed_form_mired_adds_the_sine_and_never_one_weight() {
    let n = need(&parts(Depth::Wheel, 4.0).scene(), &mut Silent).unwrap();
    let g = libm::sin(4.0_f64.to_radians());
    assert!((n.total.low().as_n() - W * (0.5 + g)).abs() < 1e-6);
    assert!((n.total.high().as_n() - W * (1.0 + g)).abs() < 1e-6);
    let coarse = n.alternatives.iter().find(|a| a.name.contains("one weight")).unwrap();
    assert!((coarse.range.likely().as_n() - 2.0 * W).abs() < 1e-6 && !coarse.used);
    assert!(n.warnings.iter().any(|w| w.code == "mire-from-memory"));
}

#[test]
fn closed_form_the_share_that_the_case_states_replaces_the_band() {
    let mut p = parts(Depth::Cab, 0.0);
    p.stuck.mire_share = Some(Input::assumed(Range::new(0.8, 1.0, 1.2).unwrap(), "test"));
    let n = need(&p.scene(), &mut Silent).unwrap();
    assert!((n.total.high().as_n() - 1.2 * W).abs() < 1e-6);
    assert!(n.warnings.iter().all(|w| w.code != "mire-from-memory"));
}

#[test]
fn closed_form_actions_lower_the_need_and_unloading_the_weight() {
    let mut p = parts(Depth::WheelArch, 3.0);
    p.stuck.unloadable = Some(exact(Mass::from_kg(300.0)));
    let before = need(&p.scene(), &mut Silent).unwrap();
    let dug = need_after(&p.scene(), &[ActionKind::Dig], &mut Silent).unwrap();
    let both = need_after(&p.scene(), &[ActionKind::Dig, ActionKind::Unload], &mut Silent).unwrap();
    assert!(dug.total.likely() < before.total.likely() && both.total.likely() < dug.total.likely());
    let w = 2500.0 * unmire_model::STANDARD_GRAVITY;
    let g = libm::sin(3.0_f64.to_radians());
    // The two factors together, as the table has them, on the band's likely 1.5 weights.
    let factors = [ActionKind::Dig, ActionKind::Unload].map(|a| effect(a).unwrap().factor);
    let f = combined_factor(&factors).likely();
    assert!(f < 1.0 && (both.total.likely().as_n() - w * (1.5 * f + g)).abs() < 1e-6);
}

#[test]
fn closed_form_the_wheels_give_nothing_at_the_high_end_and_at_most_the_traction_at_the_low_end() {
    let mut p = parts(Depth::Wheel, 0.0);
    p.stuck.drive_helps = true;
    let without = need(&p.scene(), &mut Silent).unwrap();
    assert!(without.warnings.iter().any(|w| w.code == "own-wheels-not-counted"));
    p.ground.soil = Some(Input::assumed("clayey_soil_thailand_38".to_owned(), "test"));
    p.vehicle.tyres = Some(Tyres { diameter: Length::from_m(0.8), width: Length::from_m(0.255) });
    let with = need(&p.scene(), &mut Silent).unwrap();
    assert_eq!(with.total.high(), without.total.high());
    assert!(with.total.low() < without.total.low());
    let help = with.parts.iter().find(|q| q.name == "own-wheels").unwrap().range.low();
    assert!(-help < without.total.low() && help < Force::ZERO);
}

#[test]
fn closed_form_a_bogged_wheel_sends_terramechanics_back_to_the_doctrine() {
    let mut p = parts(Depth::NotMired, 0.0);
    p.ground.method = NeedMethod::Terramechanics;
    p.vehicle.tyres = Some(Tyres { diameter: Length::from_m(0.8), width: Length::from_m(0.255) });
    p.ground.soil = Some(Input::assumed("sandy_loam_lll_22".to_owned(), "test"));
    let bogged = need(&p.scene(), &mut Silent).unwrap();
    assert_eq!(bogged.method, NeedMethod::Doctrine);
    assert!(bogged.warnings.iter().any(|w| w.code == "terramechanics-not-valid" && w.text.contains("bogged")));
    p.ground.soil = Some(Input::assumed("dry_sand_lll".to_owned(), "test"));
    let sand = need(&p.scene(), &mut Silent).unwrap();
    assert_eq!(sand.method, NeedMethod::Terramechanics);
    assert!((sand.total.likely() / Force::from_n(W) - 0.28).abs() < 0.02);
    assert!(sand.alternatives.iter().any(|a| a.used));
}

#[test]
fn closed_form_downhill_never_becomes_a_negative_need_in_silence() {
    let n = need(&parts(Depth::NotMired, -30.0).scene(), &mut Silent).unwrap();
    assert_eq!(n.total.high(), Force::ZERO);
    assert!(n.warnings.iter().any(|w| w.code == "may-run-away"));
    assert!(can_run_away(&parts(Depth::NotMired, -3.0).way_out));
    assert!(!can_run_away(&parts(Depth::NotMired, 0.0).way_out));
}

#[test]
fn closed_form_a_side_slope_under_the_wheels_is_no_runaway_but_a_way_out_to_the_side_is() {
    let mut p = parts(Depth::NotMired, 0.0);
    p.way_out.side_slope = Input::assumed(Angle::from_deg(20.0), "test");
    assert!(!can_run_away(&p.way_out));
    p.way_out.bearing = Input::assumed(Angle::from_deg(90.0), "test");
    assert!(can_run_away(&p.way_out));
}

#[test]
fn balance_recording_changes_no_bit_of_the_need() {
    let mut p = parts(Depth::WheelArch, 5.0);
    p.stuck.bellied = true;
    p.stuck.locked_share = Some(exact(0.25));
    p.stuck.drive_helps = true;
    p.ground.soil = Some(Input::assumed("dry_sand_lll".to_owned(), "test"));
    p.vehicle.tyres = Some(Tyres { diameter: Length::from_m(0.8), width: Length::from_m(0.255) });
    let mut trail = Trail::default();
    let a = need_after(&p.scene(), &ActionKind::ALL, &mut Silent).unwrap();
    let b = need_after(&p.scene(), &ActionKind::ALL, &mut trail).unwrap();
    assert_eq!(a, b);
    assert!(trail.steps.len() >= 6);
}

#[test]
fn closed_form_an_unknown_surface_lists_the_known_ones() {
    let mut p = parts(Depth::NotMired, 0.0);
    p.ground.surface = Input::assumed("bog_of_doom".to_owned(), "test");
    let e = need(&p.scene(), &mut Silent).unwrap_err();
    assert!(e.to_string().contains("bog_of_doom") && e.to_string().contains("wet_grass"));
}
