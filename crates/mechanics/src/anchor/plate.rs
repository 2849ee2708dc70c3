//! Plates and screws: they hold what they were shown to hold when they were set.

use super::capacity::{AnchorCapacity, AnchorMode, Way};
use super::earth::rule;
use crate::error::{MechanicsError, positive};
use crate::standing::Warning;
use unmire_model::anchor::Plates;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Force, Range};

/// More than this many behind one bridle count as this many: legs of unequal length leave the rest idle. Own judgement.
const MOST_BRIDLED: f64 = 4.0;

/// How many of n like anchors behind a bridle count: low `n/2`, likely `3 n/4`, but not less than one; high n. Legs are never equally
/// long, and the shorter one takes more until it moves.
///
/// # Source
/// `own-judgement` (table `made_rule`).
///
/// # Errors
/// If there is none.
pub fn bridled(count: u32) -> Result<Range<f64>, MechanicsError> {
    let n = positive("how many share the pull", f64::from(count), "one or more")?.min(MOST_BRIDLED);
    let share = |key| rule(key).map(|k| (k * n).max(1.0));
    Ok(Range::hull(share("bridle_low")?, share("bridle_likely")?, n))
}

/// What shares a pull behind a bridle: as many times what one holds as count. More than one is told.
pub(super) fn together(
    count: u32,
    each: &Range<Force>,
    rec: &mut impl Recorder,
    warnings: &mut Vec<Warning>,
) -> Result<Range<Force>, MechanicsError> {
    let counted = bridled(count)?;
    let holds = counted.combine(each, |n, f| f * n);
    if count > 1 {
        warnings.push(Warning::new(
            "bridle-shares-unevenly",
            format!("{count} share the pull through a bridle: at the low end each counts with half, for the shortest leg takes most"),
        ));
        rec.record(|| {
            Step::range(
                "what they hold together",
                "T",
                "as many as count, times what each holds",
                &holds,
                "own-judgement",
            )
            .input("n", f64::from(count), Dimension::Count, Origin::Earlier)
            .input_range("counted", &counted, Origin::Constant("own-judgement"))
            .input_range("each", each, Origin::Earlier)
        });
    }
    Ok(holds)
}

/// What must be told beside every proof pull.
pub(super) fn proof_direction() -> Warning {
    Warning::new(
        "proof-pull-direction",
        "the proof pull counts only in the direction of the work, in the same ground and with nothing dug near it since",
    )
}

/// Plates in the ground as it is now: a proof pull on drier ground shows nothing, and the reader is told.
pub(super) fn plates_in(
    of: &Plates,
    saturated: bool,
    rec: &mut impl Recorder,
) -> Result<AnchorCapacity, MechanicsError> {
    let mut c = plates(of, rec)?;
    if saturated {
        c.warnings.push(Warning::new(
            "proof-ground-wetter",
            "the ground is saturated: a proof pull on drier ground shows nothing, pull it again",
        ));
    }
    Ok(c)
}

/// What plates or screws hold: no more than the proof pull of each when it was set; without one nobody knows. Charts by soil tests
/// exist and were not read.
///
/// # Source
/// `own-judgement`: no more than the proof pull; several through a bridle: [`bridled`].
///
/// # Errors
/// If there is none, or the proof pull is not greater than zero.
pub fn plates(of: &Plates, rec: &mut impl Recorder) -> Result<AnchorCapacity, MechanicsError> {
    let mut warnings = Vec::new();
    bridled(of.count)?;
    let Some(proof) = &of.proof else {
        let reason = format!(
            "{} holds no more than a proof pull showed when it was set, and none is told; charts by soil were not read",
            of.what
        );
        return Ok(AnchorCapacity::unknown(reason, Vec::new(), warnings));
    };
    let f = Force::from_n(positive("the proof pull", proof.value.as_n(), "greater than zero, for example 15 kN")?);
    warnings.push(proof_direction());
    let each = Range::hull(f, f, f);
    rec.record(|| {
        Step::range("what each was shown to hold", "F", "no more than its proof pull", &each, "own-judgement").input(
            "proof",
            f.as_n(),
            Dimension::Force,
            proof.origin.clone(),
        )
    });
    let holds = together(of.count, &each, rec, &mut warnings)?;
    Ok(AnchorCapacity::weakest(vec![Way { mode: AnchorMode::Proof, holds }], warnings))
}
