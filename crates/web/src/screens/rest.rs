//! What waits while something is moved: the drawing, fields, tables and names follow when the finger rests for a moment or lets go, so
//! that what is painted over the drawing keeps up with the finger on a slow phone.

use crate::dom::prelude::*;
use crate::scene::thing::Moved;
use core::time::Duration;

/// How long what is moved must keep still.
const PAUSE: Duration = Duration::from_millis(120);

/// Whether something moves, and when it last rested.
#[derive(Clone, Copy)]
pub struct Rest {
    /// Set and not followed from what moves: with each move all that hangs on it would be looked at.
    moving: RwSignal<bool>,
    rested: RwSignal<u32>,
    /// Moves so far, and whether somebody waits for their end.
    moves: StoredValue<(u32, bool)>,
}

impl Rest {
    /// Of what is under the finger.
    pub fn of(moved: RwSignal<Option<Moved>>) -> Self {
        let rest = Self { moving: RwSignal::new(false), rested: RwSignal::new(0), moves: StoredValue::new((0, false)) };
        effect(move || {
            let moves = moved.with(Option::is_some);
            if rest.moving.get_untracked() != moves {
                rest.moving.set(moves);
            }
            if moves {
                let waits = rest.moves.update_value(|(n, waits)| {
                    *n = n.wrapping_add(1);
                    core::mem::replace(waits, true)
                });
                if waits == Some(false) {
                    rest.wait();
                }
            }
        });
        rest
    }
    /// Whether something is moved.
    pub fn moving(self) -> bool {
        self.moving.get()
    }
    /// What is read is followed; while something is moved, only where it rests.
    pub fn read<T>(self, f: impl FnOnce() -> T) -> T {
        if !self.moving.get() {
            return f();
        }
        self.rested.track();
        untrack(f)
    }
    fn wait(self) {
        let Some((before, _)) = self.moves.try_get_value() else { return };
        set_timeout(
            move || match self.moves.try_get_value() {
                Some((now, _)) if now != before => self.wait(),
                Some(_) => {
                    self.moves.update_value(|m| m.1 = false);
                    self.rested.update(|n| *n = n.wrapping_add(1));
                }
                // The screen is gone.
                None => {}
            },
            PAUSE,
        );
    }
}
