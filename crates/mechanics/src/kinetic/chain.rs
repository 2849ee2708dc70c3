//! From the tension of the rope to the force at every part of the chain, and back from what the parts allow to the rope's limit.

use crate::error::{MechanicsError, positive};
use crate::hitch::bridle_legs;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Range, Silent};

/// How a part is loaded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Loaded {
    /// It carries the whole tension: rope, shackle in line, single recovery point.
    Whole,
    /// It is on one leg of a bridle: the angle of that leg from the line of pull, and that of the other leg on its other side.
    Leg {
        /// Its own leg.
        own: Angle,
        /// The other leg.
        other: Angle,
    },
}

/// A part of the chain between the two vehicles.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainPart {
    /// Its name.
    pub name: String,
    /// How it is loaded.
    pub loaded: Loaded,
    /// The most that it may see, all reductions and the ratio that is asked made; none: unknown, and then the chain has no limit.
    pub allows: Option<Force>,
}

/// What a part sees.
#[derive(Clone, Debug, PartialEq)]
pub struct PartPeak {
    /// Its name.
    pub name: String,
    /// Force on it at the peak.
    pub force: Range<Force>,
    /// Force on it ÷ tension in the rope.
    pub share: f64,
    /// What it allows ÷ the high end of the force; none: unknown.
    pub margin: Option<f64>,
}

/// Force on a part ÷ tension in the rope.
///
/// # Source
/// `statics`, as [`bridle_legs`]; derived.
///
/// # Errors
/// If the angles of a bridle are not in order.
///
/// # Assumes
/// The rope has no mass, so the tension is the same at both its ends; the bridle's own stretch is not counted: a rig with it is a
/// little softer than reckoned.
pub fn part_share(loaded: Loaded) -> Result<f64, MechanicsError> {
    match loaded {
        Loaded::Whole => Ok(1.0),
        Loaded::Leg { own, other } => Ok(bridle_legs(Force::from_n(1.0), own, other, &mut Silent)?.first.as_n()),
    }
}

/// The force at every part at the peak, in the order of the parts.
///
/// # Source
/// `statics`: [`part_share`]; derived.
///
/// # Errors
/// If the angles of a bridle, or what a part allows, are not in order.
pub fn chain_peaks(
    peak: &Range<Force>,
    parts: &[ChainPart],
    rec: &mut impl Recorder,
) -> Result<Vec<PartPeak>, MechanicsError> {
    let mut out = Vec::with_capacity(parts.len());
    for part in parts {
        let share = part_share(part.loaded)?;
        let force = peak.increasing(|f| f * share);
        let margin = match part.allows {
            None => None,
            Some(a) => Some(positive("what a part allows", a.as_n(), "greater than zero")? / force.high().as_n()),
        };
        rec.record(|| {
            Step::range(format!("greatest force on {}", part.name), "F_i", "F_i = share · F", &force, "statics")
                .input("share", share, Dimension::Ratio, Origin::Earlier)
                .input_range("F", peak, Origin::Earlier)
        });
        out.push(PartPeak { name: part.name.clone(), force, share, margin });
    }
    Ok(out)
}

/// The tension in the rope that the weakest part allows.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainLimit {
    /// That tension.
    pub limit: Force,
    /// The number of the part that sets it.
    pub part: usize,
}

/// What the chain allows in the rope: the least of what a part allows ÷ its share. None if any part is unknown, with the number of the first
/// such part: unknown never passes.
///
/// # Source
/// `statics`: [`part_share`]; derived.
///
/// # Errors
/// If there are no parts, or angles or what a part allows are not in order.
pub fn chain_limit(parts: &[ChainPart], rec: &mut impl Recorder) -> Result<Result<ChainLimit, usize>, MechanicsError> {
    let mut best: Option<ChainLimit> = None;
    for (i, part) in parts.iter().enumerate() {
        let Some(allows) = part.allows else { return Ok(Err(i)) };
        let share = part_share(part.loaded)?;
        let a = positive("what a part allows", allows.as_n(), "greater than zero")?;
        // A leg without a share never limits.
        let limit = Force::from_n(if share > 0.0 { a / share } else { f64::INFINITY });
        if best.as_ref().is_none_or(|b| limit < b.limit) {
            best = Some(ChainLimit { limit, part: i });
        }
    }
    let best = best.ok_or(MechanicsError::Missing {
        what: "the parts of the chain",
        help: "name every part between the vehicles",
    })?;
    rec.record(|| {
        let name = parts.get(best.part).map_or("", |p| p.name.as_str());
        Step::new(
            "tension that the weakest part allows",
            "F_max",
            "F_max = min(allowed ÷ share)",
            best.limit.as_n(),
            Dimension::Force,
            "statics",
        )
        .note(format!("set by {name}"))
    });
    Ok(Ok(best))
}
