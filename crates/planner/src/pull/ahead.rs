//! Where the last places of a walk lead: a parabola through the last three solutions is where the next search begins.

use unmire_mechanics::rig::Equilibrium;
use unmire_model::{Force, Vec3};

/// How many solutions are remembered.
const KEPT: usize = 3;

/// Solutions at places that lie apart, the newest last.
#[derive(Clone, Debug, Default)]
pub(super) struct Ahead {
    past: Vec<(f64, Vec<Vec3>, Vec<Force>)>,
}

impl Ahead {
    /// Forgets all, for a rig under another need.
    pub(super) fn forget(&mut self) {
        self.past.clear();
    }

    /// Takes a solution in, unless it is closer than `apart` to the newest: too close, they tell no direction.
    pub(super) fn take(&mut self, s: f64, e: &Equilibrium, apart: f64) {
        if e.positions.is_empty() {
            return self.forget();
        }
        if self.past.last().is_some_and(|(last, p, _)| s - last < apart && p.len() == e.positions.len()) {
            return;
        }
        // The oldest makes room, and its memory is used again.
        let mut newest = if self.past.len() < KEPT { Default::default() } else { self.past.remove(0) };
        newest.0 = s;
        newest.1.clone_from(&e.positions);
        newest.2.clone_from(&e.tensions);
        self.past.push(newest);
    }

    /// Puts where it leads into `into`; tells whether there was anything to go by. The search starts there and proves what it
    /// finds: a bad guess costs time, nothing else.
    pub(super) fn guess(&self, s: f64, into: &mut Equilibrium) -> bool {
        let Some((_, positions, tensions)) = self.past.last() else { return false };
        let mut weights = [0.0; KEPT];
        for (i, (w, (a, ..))) in weights.iter_mut().zip(&self.past).enumerate() {
            *w = 1.0;
            for (j, (b, ..)) in self.past.iter().enumerate() {
                if i != j {
                    *w *= (s - b) / (a - b);
                }
            }
        }
        if !weights.iter().all(|w| w.is_finite()) {
            return false;
        }
        into.positions.clear();
        into.positions.resize(positions.len(), Vec3::ZERO);
        into.tensions.clear();
        into.tensions.resize(tensions.len(), Force::ZERO);
        for (w, (_, positions, tensions)) in weights.into_iter().zip(&self.past) {
            for (to, p) in into.positions.iter_mut().zip(positions) {
                *to += *p * w;
            }
            for (to, t) in into.tensions.iter_mut().zip(tensions) {
                *to += *t * w;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(s: f64) -> Equilibrium {
        Equilibrium {
            positions: vec![Vec3::new(1.0 - s, 2.0 * s * s, 0.5)],
            tensions: vec![Force::from_n(100.0 + 3.0 * s - s * s)],
            ..Equilibrium::default()
        }
    }

    #[test]
    fn closed_form_a_parabola_is_followed() {
        let (mut ahead, mut into) = (Ahead::default(), Equilibrium::default());
        assert!(!ahead.guess(1.0, &mut into));
        for s in [-3.0, 0.0, 0.5, 0.5001, 0.9] {
            ahead.take(s, &at(s), 0.1);
        }
        assert!(ahead.guess(1.7, &mut into));
        let want = at(1.7);
        assert!((into.positions[0] - want.positions[0]).norm() < 1e-12, "{into:?}");
        assert!((into.tensions[0] - want.tensions[0]).as_n().abs() < 1e-10, "{into:?}");
    }

    #[test]
    fn regress_two_lead_straight_on_one_stays_and_none_says_so() {
        let (mut ahead, mut into) = (Ahead::default(), Equilibrium::default());
        ahead.take(0.0, &at(0.0), 0.1);
        assert!(ahead.guess(1.0, &mut into));
        assert_eq!(into.positions, at(0.0).positions);
        ahead.take(1.0, &at(1.0), 0.1);
        assert!(ahead.guess(2.0, &mut into));
        assert!((into.positions[0] - Vec3::new(-1.0, 4.0, 0.5)).norm() < 1e-12, "{into:?}");
        ahead.take(2.0, &Equilibrium::default(), 0.1);
        assert!(!ahead.guess(3.0, &mut into));
    }
}
