//! Watching the base of a tree or a stump while it is pulled: when to stop, and how far it gives before.
//!
//! A root plate turns before it fails. Pulling tests stop at a quarter of a degree, without harm; the greatest moment comes at
//! a few degrees. So a tilt at the base is the one thing in the field that says how near the end is.

use super::kind::constant;
use crate::error::{MechanicsError, between, not_negative, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Range};

/// The rotation of the base that means stop: 0.25°, where pulling tests end that do the tree no harm.
///
/// # Source
/// `detter-2023`, abstract and appendix, read.
///
/// # Errors
/// If the table lacks the row.
pub fn stop_rotation() -> Result<Angle, MechanicsError> {
    Ok(Angle::from_deg(constant("tilt_limit_deg")?))
}

/// The rotation of the base at which the moment is greatest: past it, less pull turns the tree further. 1.6° to 2.9°,
/// whatever the species or the size.
///
/// # Source
/// `dundee-2025`, abstract, read: 21 trees, partly saturated ground.
///
/// # Errors
/// If the table lacks the rows.
pub fn peak_rotation() -> Result<Range<Angle>, MechanicsError> {
    let (low, high) = (constant("tilt_peak_low_deg")?, constant("tilt_peak_high_deg")?);
    Ok(Range::hull(Angle::from_deg(low), Angle::from_deg(0.5 * (low + high)), Angle::from_deg(high)))
}

/// How far a mark at this height over the ground moves while the base turns by this angle: `s = h tan θ`. So a straight
/// stick fixed to the foot serves as well as an inclinometer.
///
/// # Source
/// `statics` (plane geometry), closed form.
///
/// # Errors
/// If the height is not greater than zero or the angle not between zero and a quarter turn.
///
/// # Assumes
/// The base turns about a point at the ground. It turns about a deeper one, so a mark moves more than this against things
/// that stand still: who stops at s stops early.
pub fn movement_of_mark(rotation: Angle, height: Length, rec: &mut impl Recorder) -> Result<Length, MechanicsError> {
    let h = positive("the height of the mark", height.as_m(), "greater than zero, for example 1 m")?;
    let a =
        between("the rotation of the base", rotation.as_rad(), 0.0, 1.5, "0° up to less than 90°, for example 0.25°")?;
    let s = Length::from_m(h * libm::tan(a));
    rec.record(|| {
        Step::new("movement of a mark on the stem", "s", "s = h tan θ", s.as_m(), Dimension::Length, "statics")
            .input("h", h, Dimension::Length, Origin::Earlier)
            .input("θ", a, Dimension::Angle, Origin::Earlier)
    });
    Ok(s)
}

/// What the root plate will hold at most, from the pull that turned its base by 0.25°: `F_u = 2.5 F`. The range is one in
/// twenty either way, from the scatter of 283 trees about a fit on the same measure: `exp(∓ 1.645 · 0.23)`.
///
/// # Source
/// `detter-2023`, read: factor and scatter from the appendix, Tables A2 and A3.
///
/// # Errors
/// If the pull is not greater than zero.
///
/// # Assumes
/// The same attachment, the same direction and the same ground as when the tilt was read.
pub fn ultimate_from_tilt(pull_at_stop: Force, rec: &mut impl Recorder) -> Result<Range<Force>, MechanicsError> {
    let f = positive("the pull at 0.25°", pull_at_stop.as_n(), "greater than zero, for example 8 kN")?;
    let (k, sd) = (constant("tilt_ultimate_factor")?, constant("tilt_ultimate_scatter")?);
    let way = libm::exp(1.645 * sd);
    let likely = f * k;
    let ultimate = Range::hull(Force::from_n(likely / way), Force::from_n(likely), Force::from_n(likely * way));
    rec.record(|| {
        Step::range(
            "what the root plate holds, from its tilt",
            "F_u",
            "F_u = 2.5 F, F the pull at 0.25°",
            &ultimate,
            "detter-2023",
        )
        .input("F", f, Dimension::Force, Origin::Earlier)
        .input("scatter", sd, Dimension::Ratio, Origin::Constant("detter-2023"))
    });
    Ok(ultimate)
}

/// How stiff a root plate is against a level pull at the attachment, N per metre of movement of the attachment.
///
/// The base turns by θ about a point e under the ground, so the attachment moves `(h + e) tan θ`; the plate holds `F_u` at its
/// peak and `F_u / 2.5` at 0.25°. Then
///
/// - high `F_u,high / (2.5 (h + e) tan 0.25°)` and likely the same with the likely `F_u`: the secant up to the limit at which a
///   pull is stopped, where a rig should work;
/// - low `F_u,low / ((h + e) tan 2.9°)`: the secant up to the latest peak of a weak one.
///
/// Ultimate is that of the root plate in a level pull at h, not that of the stem.
///
/// # Source
/// Load at 0.25°: `detter-2023` (read). Peak rotation: `dundee-2025` (read). The rotation's centre: `own-judgement`, the same
/// offset as in [`super::force_at_strap`]. The rest is `statics`, derived.
///
/// # Errors
/// If an end of the ultimate is not greater than zero or the height is negative.
///
/// # Assumes
/// The stem itself is stiff, which holds for a strap low on it. Below 0.25° the plate is stiffer than its secant; the
/// span from low to high is more than tenfold and has room for that. A centre nearer to the surface makes it stiffer.
pub fn stiffness_of_root_plate(
    ultimate: &Range<Force>,
    height: Length,
    rec: &mut impl Recorder,
) -> Result<Range<f64>, MechanicsError> {
    let h = not_negative("the height of the attachment", height.as_m(), "zero or more, for example 0.4 m")?;
    for f in ultimate.values() {
        positive("what the root plate holds", f.as_n(), "greater than zero, for example 40 kN")?;
    }
    let lever = h + constant("lever_offset")?;
    let at_stop = lever * libm::tan(stop_rotation()?.as_rad()) * constant("tilt_ultimate_factor")?;
    let at_peak = lever * libm::tan(peak_rotation()?.high().as_rad());
    let k = Range::hull(
        ultimate.low().as_n() / at_peak,
        ultimate.likely().as_n() / at_stop,
        ultimate.high().as_n() / at_stop,
    );
    rec.record(|| {
        Step::range(
            "stiffness of the root plate at the attachment, N/m",
            "k",
            "high, likely: k = F_u / (2.5 (h + e) tan 0.25°); low: k = F_u / ((h + e) tan 2.9°)",
            &k,
            "detter-2023",
        )
        .input_range("F_u", ultimate, Origin::Earlier)
        .input("h + e", lever, Dimension::Length, Origin::Constant("own-judgement"))
        .note("the rotation at the peak comes from 21 trees (dundee-2025), the centre of rotation is our own judgement")
    });
    Ok(k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Silent, Trail};

    fn kn(l: f64, m: f64, h: f64) -> Range<Force> {
        Range::new(Force::from_kn(l), Force::from_kn(m), Force::from_kn(h)).unwrap()
    }

    #[test]
    fn published_the_base_stops_at_a_quarter_of_a_degree_long_before_its_peak() {
        assert_eq!(stop_rotation().unwrap(), Angle::from_deg(0.25));
        let peak = peak_rotation().unwrap();
        assert_eq!((peak.low(), peak.high()), (Angle::from_deg(1.6), Angle::from_deg(2.9)));
    }

    #[test]
    fn closed_form_a_mark_at_one_metre_moves_four_and_a_half_millimetres() {
        // tan 0.25° = 0.0043633.
        let s = movement_of_mark(stop_rotation().unwrap(), Length::from_m(1.0), &mut Silent).unwrap();
        assert!((s.as_mm() - 4.3633).abs() < 1e-3, "{}", s.as_mm());
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(movement_of_mark(stop_rotation().unwrap(), Length::from_m(bad), &mut Silent).is_err());
            assert!(movement_of_mark(Angle::from_deg(bad.min(-1.0)), Length::from_m(1.0), &mut Silent).is_err());
        }
    }

    #[test]
    fn closed_form_stiffness_is_load_over_movement_at_the_strap() {
        let (mut trail, f, h) = (Trail::default(), kn(20.0, 40.0, 60.0), Length::from_m(0.5));
        let k = stiffness_of_root_plate(&f, h, &mut trail).unwrap();
        assert_eq!(k, stiffness_of_root_plate(&f, h, &mut Silent).unwrap());
        assert_eq!(trail.steps.len(), 1);
        // 60 kN / 2.5 over 1.5 m · tan 0.25°, and 20 kN over 1.5 m · tan 2.9°.
        let tan = |d: f64| libm::tan(d.to_radians());
        assert!((k.high() * 1.5 * tan(0.25) - 24_000.0).abs() < 1e-6);
        assert!((k.likely() * 1.5 * tan(0.25) - 16_000.0).abs() < 1e-6);
        assert!((k.low() * 1.5 * tan(2.9) - 20_000.0).abs() < 1e-6);
    }

    #[test]
    fn balance_a_stronger_plate_or_a_lower_strap_is_stiffer() {
        let at = |f: &Range<Force>, h: f64| stiffness_of_root_plate(f, Length::from_m(h), &mut Silent).unwrap();
        let (weak, strong) = (kn(20.0, 40.0, 60.0), kn(21.0, 42.0, 63.0));
        for h in [0.0, 0.3, 0.6, 2.0] {
            let (a, b, c) = (at(&weak, h), at(&strong, h), at(&weak, h + 0.1));
            assert!(a.low() < b.low() && a.likely() < b.likely() && a.high() < b.high());
            assert!(c.low() < a.low() && c.likely() < a.likely() && c.high() < a.high());
        }
    }

    #[test]
    fn closed_form_what_is_no_ordinary_pull_is_an_error() {
        let h = Length::from_m(0.4);
        assert!(stiffness_of_root_plate(&kn(0.0, 1.0, 2.0), h, &mut Silent).is_err());
        for bad in [-0.1, f64::NAN, f64::INFINITY] {
            assert!(stiffness_of_root_plate(&kn(1.0, 1.0, 2.0), Length::from_m(bad), &mut Silent).is_err());
            assert!(ultimate_from_tilt(Force::from_n(bad), &mut Silent).is_err());
        }
    }

    #[test]
    fn published_the_pull_at_a_quarter_of_a_degree_is_two_fifths_of_the_ultimate() {
        let u = ultimate_from_tilt(Force::from_kn(8.0), &mut Silent).unwrap();
        assert!((u.likely().as_kn() - 20.0).abs() < 1e-12);
        assert!((libm::log(u.likely() / u.low()) - 1.645 * 0.23).abs() < 1e-12);
    }
}
