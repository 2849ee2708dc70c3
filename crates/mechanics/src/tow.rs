//! What a helper can pull by driving: its tyres' grip, less its own rolling and the weight along its slope.

use crate::anchor::parked::{helper_normal, sliding_pull_any};
use crate::error::MechanicsError;
use crate::standing::Warning;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::vehicle::Helper;
use unmire_model::{Force, Range, Vec3};

/// What a helper can pull in a steady tow.
#[derive(Clone, Debug, PartialEq)]
pub struct TowPull {
    /// Pull on the line: low, likely, high. None if the friction of its tyres is not told.
    pub pull: Option<Range<Force>>,
    /// Why there is none.
    pub reason: Option<String>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// What a helper's driven tyres can give in a steady tow against a line along this direction (from it towards the load, case's
/// frame). The grip is that of driven wheels, `d μ N`, d their share of the weight; its own rolling resistance `r W` comes off.
///
/// # Source
/// `statics` (friction cone), derived; friction from the case; the share of driven wheels where it is not told: half at the low
/// end, all of it at the likely and high ends, `own-judgement`; rolling share of its ground given by the caller.
///
/// # Errors
/// If a number of the helper is not in order.
///
/// # Assumes
/// Steady: the line is taut before, and nothing is snatched.
pub fn tow_pull(
    helper: &Helper,
    direction: Vec3,
    driven_share: Option<&Range<f64>>,
    rolling: &Range<f64>,
    rec: &mut impl Recorder,
) -> Result<TowPull, MechanicsError> {
    let mut warnings = Vec::new();
    let Some(mu) = &helper.friction else {
        return Ok(TowPull {
            pull: None,
            reason: Some("the friction of its tyres on its ground is not told".to_owned()),
            warnings,
        });
    };
    let share = driven_share.copied().unwrap_or_else(|| {
        warnings.push(Warning::new(
            "driven-share-assumed",
            "how many of its wheels drive is not told: half of its weight at the low end, all of it at the likely one",
        ));
        Range::hull(0.5, 1.0, 1.0)
    });
    let weight = helper.vehicle.moving_mass().increasing(unmire_model::Mass::weight);
    let up = helper_normal(helper);
    let mut spins = false;
    let mut at = |w: Force, d: f64, mu: f64, r: f64| -> Result<Force, MechanicsError> {
        let (grip, by_itself) = sliding_pull_any(w, d, mu, up, direction)?;
        spins |= by_itself;
        let left = grip - w * r;
        if left < Force::ZERO {
            spins = true;
            return Ok(Force::ZERO);
        }
        Ok(left)
    };
    // Resistance takes off most where grip is least.
    let pull = Range::hull(
        at(weight.low(), share.low(), mu.value.low(), rolling.high())?,
        at(weight.likely(), share.likely(), mu.value.likely(), rolling.likely())?,
        at(weight.high(), share.high(), mu.value.high(), rolling.low())?,
    );
    if spins {
        warnings.push(Warning::new("tow-no-grip", "at the low end its tyres give nothing beyond moving itself"));
    }
    rec.record(|| {
        Step::range("what the towing vehicle can give", "T", "|T p + W g| = d μ N, less r W", &pull, "statics")
            .input_range("W", &weight, Origin::Earlier)
            .input_range("d", &share, Origin::Earlier)
            .given("μ", mu)
            .input_range("r", rolling, Origin::Earlier)
            .input("θ", helper.slope.value.as_rad(), Dimension::Angle, helper.slope.origin.clone())
    });
    Ok(TowPull { pull: Some(pull), reason: None, warnings })
}
