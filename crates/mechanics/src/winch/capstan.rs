//! A line round a driven capstan, or round a trunk as a brake: how many turns, what the tail must hold, when it slips.
//!
//! The capstan law gives the greatest ratio of the two tensions. A capstan pulls as long as the tail is held with at least
//! T / e^(2 π n μ); what the tail does not hold slips. As a brake the same law lets the load down against the hand on the tail.

use crate::error::{MechanicsError, positive};
use crate::lookup;
use crate::sheave::capstan_ratio;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Force, Range, Recorder};

/// Most turns that are laid on: beyond it they climb over each other. Own judgement.
const MOST_TURNS: u32 = 12;

/// Least whole turns with which a tail force holds a pull: `n = ln(T / t) / (2 π μ)`, rounded up; one at least.
///
/// # Source
/// `capstan`, read. The limit of twelve turns: `own-judgement`.
///
/// # Errors
/// If a force or the friction is not greater than zero, or more than twelve turns were needed.
pub fn capstan_turns(pull: Force, tail: Force, friction: f64) -> Result<u32, MechanicsError> {
    let t = positive("the pull on the line", pull.as_n(), "greater than zero")?;
    let h = positive("the force on the tail", tail.as_n(), "greater than zero, for example 150 N")?;
    let mu = positive("the friction coefficient", friction, "greater than zero, for example 0.2")?;
    let exact = libm::log(t / h) / (2.0 * core::f64::consts::PI * mu);
    // A hair of room: a ratio that was reckoned from whole turns gives them back.
    let turns = (exact - 1e-9).ceil().max(1.0);
    if turns > f64::from(MOST_TURNS) {
        return Err(MechanicsError::BadInput {
            what: "the turns that this friction and this tail would need",
            got: turns,
            expected: "twelve at most: hold the tail harder, or take a rougher surface",
        });
    }
    Ok(turns as u32)
}

/// What the tail must hold at least with so many turns: `t = T / e^(2 π n μ)`. The high end is for the least friction.
///
/// # Source
/// `capstan`, read.
///
/// # Errors
/// If the friction is negative.
pub fn capstan_tail(
    pull: Force,
    turns: f64,
    friction: &Range<f64>,
    rec: &mut impl Recorder,
) -> Result<Range<Force>, MechanicsError> {
    let round = Angle::from_rad(2.0 * core::f64::consts::PI * turns);
    let least = pull / capstan_ratio(friction.high(), round)?;
    let likely = pull / capstan_ratio(friction.likely(), round)?;
    let most = pull / capstan_ratio(friction.low(), round)?;
    let r = Range::hull(least, likely, most);
    rec.record(|| {
        Step::range("force that the tail must hold", "t", "t = T / exp(2 π n μ)", &r, "capstan")
            .input("T", pull.as_n(), Dimension::Force, Origin::Earlier)
            .input("n", turns, Dimension::Count, Origin::Earlier)
            .input_range("μ", friction, Origin::Earlier)
    });
    Ok(r)
}

/// The greatest pull before it slips with this force on the tail: `T = t e^(2 π n μ)`. Judge by the low end.
///
/// # Source
/// `capstan`, read.
///
/// # Errors
/// If the friction is negative.
pub fn capstan_grip(
    tail: Force,
    turns: f64,
    friction: &Range<f64>,
    rec: &mut impl Recorder,
) -> Result<Range<Force>, MechanicsError> {
    let round = Angle::from_rad(2.0 * core::f64::consts::PI * turns);
    let low = tail * capstan_ratio(friction.low(), round)?;
    let likely = tail * capstan_ratio(friction.likely(), round)?;
    let high = tail * capstan_ratio(friction.high(), round)?;
    let r = Range::hull(low, likely, high);
    rec.record(|| {
        Step::range("pull at which the line slips on the capstan", "T", "T = t exp(2 π n μ)", &r, "capstan")
            .input("t", tail.as_n(), Dimension::Force, Origin::Earlier)
            .input("n", turns, Dimension::Count, Origin::Earlier)
            .input_range("μ", friction, Origin::Earlier)
    });
    Ok(r)
}

/// Friction of a fibre line on a capstan where the case states none.
///
/// # Source
/// Table `line_friction` row `capstan`: `own-judgement`.
#[must_use]
pub fn capstan_friction() -> Range<f64> {
    lookup::line_friction("capstan")
}

/// Friction of a fibre line on bark.
///
/// # Source
/// Table `line_friction` row `bark`: `own-judgement`.
#[must_use]
pub fn bark_friction() -> Range<f64> {
    lookup::line_friction("bark")
}

/// What one person holds on a tail.
///
/// # Source
/// Table `line_friction` row `hand_on_tail`: `own-judgement`.
#[must_use]
pub fn hand_on_tail() -> Range<Force> {
    lookup::line_friction("hand_on_tail").increasing(Force::from_n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Silent, Trail};

    #[test]
    fn closed_form_the_turns_that_are_needed_hold_and_one_less_does_not() {
        for (pull, tail, mu) in
            [(20_000.0, 150.0, 0.1), (8_000.0, 100.0, 0.2), (30_000.0, 250.0, 0.31), (100.0, 150.0, 0.2)]
        {
            let (t, h) = (Force::from_n(pull), Force::from_n(tail));
            let n = capstan_turns(t, h, mu).unwrap();
            let exact = Range::hull(mu, mu, mu);
            assert!(capstan_grip(h, f64::from(n), &exact, &mut Silent).unwrap().low() >= t * (1.0 - 1e-9));
            if n > 1 {
                assert!(capstan_grip(h, f64::from(n - 1), &exact, &mut Silent).unwrap().low() < t);
            }
        }
        assert!(capstan_turns(Force::from_kn(30.0), Force::from_n(1.0), 0.05).is_err());
        assert!(capstan_turns(Force::from_kn(30.0), Force::ZERO, 0.2).is_err());
    }

    #[test]
    fn closed_form_tail_and_grip_are_the_same_law_read_both_ways() {
        let mu = Range::hull(0.1, 0.2, 0.3);
        let t = capstan_tail(Force::from_kn(10.0), 3.0, &mu, &mut Silent).unwrap();
        let g = capstan_grip(t.high(), 3.0, &mu, &mut Silent).unwrap();
        assert!((g.low().as_kn() - 10.0).abs() < 1e-9);
        assert!(t.low() < t.likely() && t.likely() < t.high());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_capstan() {
        let (mu, mut trail) = (capstan_friction(), Trail::default());
        let f = Force::from_kn(12.0);
        assert_eq!(capstan_tail(f, 4.0, &mu, &mut Silent), capstan_tail(f, 4.0, &mu, &mut trail));
        assert_eq!(capstan_grip(f, 4.0, &mu, &mut Silent), capstan_grip(f, 4.0, &mu, &mut trail));
        assert_eq!(trail.steps.len(), 2);
        assert!(bark_friction().low() > 0.0 && hand_on_tail().low() > Force::ZERO);
    }
}
