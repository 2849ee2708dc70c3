//! Where each load is greatest: the moments that must be judged.

use super::place::Place;
use unmire_mechanics::rig::Equilibrium;

/// Loads that differ by a smaller share are the same: balances are certified to it. Of places with the same load the first is told,
/// not the one where rounding makes it greater.
pub(super) const SAME: f64 = 1e-9;

/// Whether a load is greater than another, and by more than rounding.
pub(super) fn greater(a: f64, b: f64) -> bool {
    a > b + SAME * b.abs()
}

/// One load's greatest value so far, and where.
#[derive(Clone, Copy, Debug)]
struct Peak {
    value: f64,
    s: f64,
    leg: usize,
}

/// Greatest values of every leg, sling, point and turn, at work and at stall, and of the pull over what the puller can.
#[derive(Clone, Debug, Default)]
pub(crate) struct Peaks {
    work: Vec<Peak>,
    stall: Vec<Peak>,
    weak: Option<Peak>,
}

impl Peaks {
    /// Takes a place.
    pub fn take(&mut self, p: &Place) {
        note(&mut self.work, &[&p.poor, &p.good], p);
        note(&mut self.stall, &[&p.stall], p);
        let asked = p.pull.high() / p.ability;
        if asked.is_finite() && self.weak.is_none_or(|w| greater(asked, w.value)) {
            self.weak = Some(Peak { value: asked, s: p.s, leg: p.leg });
        }
    }
    /// The places, each once; two that are nearer to each other than `apart` on one stretch count as one.
    pub fn places(&self, apart: f64) -> Vec<(f64, usize)> {
        let mut all: Vec<(f64, usize)> =
            self.work.iter().chain(&self.stall).chain(&self.weak).map(|p| (p.s, p.leg)).collect();
        unmire_model::order::sort_by(&mut all, |a, b| a.1.cmp(&b.1).then(a.0.total_cmp(&b.0)));
        all.dedup_by(|b, a| a.1 == b.1 && b.0 - a.0 < apart);
        all
    }
}

fn note(list: &mut Vec<Peak>, solutions: &[&Equilibrium], p: &Place) {
    let mut at = 0;
    let mut take = |list: &mut Vec<Peak>, value: f64| {
        match list.get_mut(at) {
            Some(k) if greater(value, k.value) => *k = Peak { value, s: p.s, leg: p.leg },
            Some(_) => {}
            None => list.push(Peak { value, s: p.s, leg: p.leg }),
        }
        at += 1;
    };
    let Some(one) = solutions.iter().find(|e| !e.legs.is_empty()) else { return };
    let most = |f: &dyn Fn(&Equilibrium) -> f64| solutions.iter().map(|e| f(e)).fold(0.0, f64::max);
    for i in 0..one.legs.len() {
        take(list, most(&|e| e.legs.get(i).map_or(0.0, |l| l.tension.as_n())));
    }
    for i in 0..one.slings.len() {
        take(list, most(&|e| e.slings.get(i).map_or(0.0, |l| l.tension.as_n())));
    }
    for i in 0..one.forces.len() {
        take(list, most(&|e| e.forces.get(i).map_or(0.0, |f| f.norm())));
    }
    for i in 0..one.turns.len() {
        take(list, most(&|e| e.turns.get(i).map_or(0.0, |t| t.resultant.norm())));
    }
}
