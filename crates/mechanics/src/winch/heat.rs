//! Heat of an electric winch's motor: how much of a run from cold is used up, and how long it must rest.
//!
//! Copper warms with the square of the current. A run from cold at the rated pull may last so long; at another current it may
//! last longer by the square of the ratio. Nothing is credited for cooling while it runs or between two quick runs.

use crate::error::{MechanicsError, positive};
use unmire_model::trail::{Origin, Step};
use unmire_model::{Range, Recorder, Time};

/// Longest run from cold at this share of the rated current: `t = t_r / i²`.
///
/// # Source
/// `statics` (heat of a resistance is `I² R t`), derived. Held against `winch-manual-duty-a` (read): 20 s at the rated pull
/// and 45 s at 65 per cent of it.
///
/// # Errors
/// If the share is not greater than zero.
pub fn longest_run(current_share: f64, run_at_rated: &Range<Time>) -> Result<Range<Time>, MechanicsError> {
    let i = positive("the current as a share of that at the rated pull", current_share, "above 0, for example 0.6")?;
    Ok(run_at_rated.increasing(|t: Time| t / (i * i)))
}

/// What a run uses up of what the motor takes from cold: `h = i² t / t_r`; 1 is all of it.
///
/// # Source
/// `statics`, as [`longest_run`].
pub fn heat(
    current_share: &Range<f64>,
    time: &Range<Time>,
    run_at_rated: &Range<Time>,
    rec: &mut impl Recorder,
) -> Range<f64> {
    let at = |i: f64, t: Time, full: Time| i * i * (t / full);
    let h = Range::hull(
        at(current_share.low(), time.low(), run_at_rated.high()),
        at(current_share.likely(), time.likely(), run_at_rated.likely()),
        at(current_share.high(), time.high(), run_at_rated.low()),
    );
    rec.record(|| {
        Step::range("heat of the motor, in runs from cold", "h", "h = i² t / t_r", &h, "statics")
            .input_range("i", current_share, Origin::Earlier)
            .input_range("t", time, Origin::Earlier)
            .input_range("t_r", run_at_rated, Origin::Earlier)
    });
    h
}

/// Rests that so much heat asks for: one after each whole run from cold but the last.
///
/// # Source
/// `own-judgement`: run until warm through, rest until cold.
#[must_use]
pub fn rests(heat: f64) -> u32 {
    // Not a number asks for none here; the heat itself shows it.
    let runs = heat.ceil();
    if (2.0..1e6).contains(&runs) { runs as u32 - 1 } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Silent, Trail};

    fn exact<Q: unmire_model::range::Scalar>(v: Q) -> Range<Q> {
        Range::hull(v, v, v)
    }

    #[test]
    fn closed_form_half_the_current_runs_four_times_as_long() {
        let t = longest_run(0.5, &exact(Time::from_s(20.0))).unwrap();
        assert!((t.likely().as_s() - 80.0).abs() < 1e-12);
        assert!(longest_run(0.0, &exact(Time::from_s(20.0))).is_err());
        let h = heat(&exact(0.5), &exact(Time::from_s(80.0)), &exact(Time::from_s(20.0)), &mut Silent);
        assert!((h.likely() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn closed_form_a_rest_after_each_whole_run_but_the_last() {
        assert_eq!([0.0, 0.4, 1.0, 1.1, 2.0, 2.5].map(rests), [0, 0, 0, 1, 1, 2]);
        assert_eq!(rests(f64::NAN), 0);
        assert_eq!(rests(f64::INFINITY), 0);
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_heat() {
        let (i, t) =
            (Range::hull(0.4, 0.5, 0.7), Range::hull(Time::from_s(30.0), Time::from_s(60.0), Time::from_s(90.0)));
        let full = Range::hull(Time::from_s(20.0), Time::from_s(60.0), Time::from_s(180.0));
        let mut trail = Trail::default();
        assert_eq!(heat(&i, &t, &full, &mut Silent), heat(&i, &t, &full, &mut trail));
        assert_eq!(trail.steps.len(), 1);
    }
}
