//! Less need before more pull: what digging, unloading, lower tyre pressure, boards and draining bring.

use crate::error::MechanicsError;
use crate::lookup;
use unmire_model::ground::{Depth, Stuck};
use unmire_model::{Range, Time};
use unmire_tables::How;

/// What can be done before pulling harder.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ActionKind {
    /// Take out what can be taken out.
    Unload,
    /// Dig in the way of the wheels and free the belly.
    Dig,
    /// Let the water off or break the suction.
    Drain,
    /// Boards, mats or packing under the wheels.
    Boards,
    /// Lower the tyre pressure.
    AirDown,
    /// Cut back the ledge, take out the root, pack the step.
    ClearObstacle,
}
impl ActionKind {
    /// All of them, in the order in which a crew would do them.
    pub const ALL: [Self; 6] = [Self::Unload, Self::Dig, Self::Drain, Self::Boards, Self::AirDown, Self::ClearObstacle];
    /// The stable word, as in outputs.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Unload => "unload",
            Self::Dig => "dig",
            Self::Drain => "drain",
            Self::Boards => "boards",
            Self::AirDown => "lower-tyre-pressure",
            Self::ClearObstacle => "clear-obstacle",
        }
    }
    /// Its row in the table.
    pub(crate) const fn row(self) -> &'static str {
        match self {
            Self::Unload => "unload",
            Self::Dig => "dig",
            Self::Drain => "drain",
            Self::Boards => "boards",
            Self::AirDown => "air_down",
            Self::ClearObstacle => "clear_obstacle",
        }
    }
}

/// What an action does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// Factor on what it acts on: low when it works well, high when it brings little.
    pub factor: Range<f64>,
    /// How long it takes.
    pub time: Range<Time>,
    /// What is done, in words.
    pub what: &'static str,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
    /// What must be told beside it.
    pub note: &'static str,
}

/// What an action does, as a range.
///
/// # Source
/// Table `action`: one trainer's measured case for digging (`trainer-post`, secondary); the rest `own-judgement`.
///
/// # Errors
/// If the table has no such row.
pub fn effect(action: ActionKind) -> Result<Effect, MechanicsError> {
    lookup::action(action.row()).map(|(e, _)| e)
}

/// Factors of several actions together, at each end: the strongest counts in full, the next one with half of its effect, the
/// others not at all. Two measures on the same mud do not multiply.
///
/// # Source
/// `own-judgement`.
#[must_use]
pub fn combined_factor(factors: &[Range<f64>]) -> Range<f64> {
    let end = |pick: fn(&Range<f64>) -> f64| {
        let (mut first, mut second) = (1.0_f64, 1.0_f64);
        for f in factors {
            let v = pick(f);
            if v < first {
                second = first;
                first = v;
            } else if v < second {
                second = v;
            }
        }
        first * (1.0 - 0.5 * (1.0 - second))
    };
    Range::hull(end(Range::low), end(Range::likely), end(Range::high))
}

/// The actions that can bring something here.
///
/// # Source
/// `hse-debogging` (read) names unloading, draining and thatching before any rope.
#[must_use]
pub fn applicable_actions(stuck: &Stuck) -> Vec<ActionKind> {
    let mired = stuck.depth.value != Depth::NotMired;
    ActionKind::ALL
        .into_iter()
        .filter(|a| match a {
            ActionKind::Unload => stuck.unloadable.as_ref().is_some_and(|u| u.value.high().as_kg() > 0.0),
            ActionKind::Dig => mired || stuck.bellied,
            ActionKind::Drain | ActionKind::Boards | ActionKind::AirDown => mired,
            ActionKind::ClearObstacle => stuck.obstacle.as_ref().is_some_and(|o| o.value.high().as_n() > 0.0),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_two_measures_do_not_multiply() {
        let a = Range::new(0.2, 0.5, 0.9).unwrap();
        let b = Range::new(0.5, 0.75, 1.0).unwrap();
        let c = Range::new(0.6, 0.85, 1.0).unwrap();
        let f = combined_factor(&[b, a, c]);
        assert!((f.low() - 0.2 * 0.75).abs() < 1e-15);
        assert!((f.likely() - 0.5 * 0.875).abs() < 1e-15);
        assert!((f.high() - 0.9).abs() < 1e-15);
        assert_eq!(combined_factor(&[]), Range::exact(1.0).unwrap());
        assert_eq!(combined_factor(&[a]), a);
    }
}
