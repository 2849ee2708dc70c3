//! Letting a vehicle down a slope on a line: what the line must hold, and what holds it.

use crate::error::{MechanicsError, between, not_negative, positive};
use unmire_model::trail::{Origin, Step};
use unmire_model::{Angle, Force, Range, Recorder};

/// Tension of a line along a slope that lets a vehicle roll down slowly: `T = W (sin θ − r cos θ)`, never below nothing. The high
/// end takes the steepest slope and the least rolling resistance. θ is how steep it goes down, zero or more.
///
/// # Source
/// `statics` (forces along the slope), derived.
///
/// # Errors
/// If weight, slope or rolling share are negative or no ordinary numbers, or the slope is 90° or more.
///
/// # Assumes
/// Slow and steady: no jerk when the brake grips. A stop with a jerk adds to it.
pub fn lowering_tension(
    weight: &Range<Force>,
    down: &Range<Angle>,
    rolling: &Range<f64>,
    rec: &mut impl Recorder,
) -> Result<Range<Force>, MechanicsError> {
    positive("the weight that is let down", weight.low().as_n(), "greater than zero")?;
    between("the slope", down.low().as_rad(), 0.0, 1.57, "0° to under 90°, for example 12°")?;
    between("the slope", down.high().as_rad(), 0.0, 1.57, "0° to under 90°, for example 12°")?;
    not_negative("the rolling share", rolling.low(), "zero or more, for example 0.05")?;
    let at = |w: Force, th: Angle, r: f64| (w * (th.sin() - r * th.cos())).max(Force::ZERO);
    let t = Range::hull(
        at(weight.low(), down.low(), rolling.high()),
        at(weight.likely(), down.likely(), rolling.likely()),
        at(weight.high(), down.high(), rolling.low()),
    );
    rec.record(|| {
        Step::range("tension of the lowering line", "T", "T = W (sin θ − r cos θ)", &t, "statics")
            .input_range("W", weight, Origin::Earlier)
            .input_range("θ", down, Origin::Earlier)
            .input_range("r", rolling, Origin::Earlier)
    });
    Ok(t)
}

/// What a trunk sees that a line is wound round as a brake, tail leading back beside the load: at most load and tail together.
///
/// # Source
/// `statics` (two parallel forces), derived; the cautious end of every direction of the tail.
///
/// # Errors
/// If a force is negative.
pub fn brake_trunk_load(load: Force, tail: Force) -> Result<Force, MechanicsError> {
    not_negative("the load on the line", load.as_n(), "zero or more")?;
    not_negative("the force on the tail", tail.as_n(), "zero or more")?;
    Ok(load + tail)
}

/// What a winch's own brake holds on a layer: its rated pull there.
///
/// # Source
/// `sae-j706` (secondary): the brake holds the rated load and lowers it 50 ft without fade; on a higher layer the same torque holds
/// less (`rated-line-pull-page`, read).
///
/// # Errors
/// If the rated pull is not greater than zero or the share not above 0 and at most 1.
pub fn winch_brake_holds(rated_first_layer: Force, share: f64) -> Result<Force, MechanicsError> {
    positive("the rated pull of the winch", rated_first_layer.as_n(), "greater than zero")?;
    between("the layer's share of the first layer's pull", share, 1e-6, 1.0, "above 0 and at most 1, for example 0.8")?;
    Ok(rated_first_layer * share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Silent, Trail};

    fn exact<Q: unmire_model::range::Scalar>(v: Q) -> Range<Q> {
        Range::hull(v, v, v)
    }

    #[test]
    fn closed_form_on_thirty_degrees_without_rolling_it_is_half_the_weight() {
        let t = lowering_tension(&exact(Force::from_kn(20.0)), &exact(Angle::from_deg(30.0)), &exact(0.0), &mut Silent);
        assert!((t.unwrap().likely().as_kn() - 10.0).abs() < 1e-12);
        // Rolling resistance of tan θ keeps it by itself.
        let r = exact(Angle::from_deg(10.0).tan());
        let t = lowering_tension(&exact(Force::from_kn(20.0)), &exact(Angle::from_deg(10.0)), &r, &mut Silent).unwrap();
        assert!(t.high().as_n().abs() < 1e-9);
        let up = exact(Angle::from_deg(-3.0));
        assert!(lowering_tension(&exact(Force::from_kn(20.0)), &up, &exact(0.0), &mut Silent).is_err());
    }

    #[test]
    fn closed_form_trunk_and_brake() {
        assert_eq!(brake_trunk_load(Force::from_kn(8.0), Force::from_n(200.0)).unwrap(), Force::from_n(8200.0));
        assert!(brake_trunk_load(Force::from_kn(-8.0), Force::ZERO).is_err());
        assert_eq!(winch_brake_holds(Force::from_kn(40.0), 0.75).unwrap(), Force::from_kn(30.0));
        assert!(winch_brake_holds(Force::from_kn(40.0), 1.2).is_err());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_lowering_line() {
        let w = Range::hull(Force::from_kn(18.0), Force::from_kn(20.0), Force::from_kn(22.0));
        let th = Range::hull(Angle::from_deg(5.0), Angle::from_deg(8.0), Angle::from_deg(12.0));
        let r = Range::hull(0.02, 0.05, 0.1);
        let mut trail = Trail::default();
        assert_eq!(lowering_tension(&w, &th, &r, &mut Silent), lowering_tension(&w, &th, &r, &mut trail));
        assert_eq!(trail.steps.len(), 1);
    }
}
