//! Two masses, a rope and their forces in bare SI numbers, and the modes between which events switch.

use super::curve::{Curve, power};

/// Position and speed of the puller, position and speed of the stuck vehicle, energy that the viscous term has taken.
pub(super) type State = [f64; 5];

/// The numbers of a problem.
#[derive(Clone, Copy, Debug)]
pub(super) struct System {
    pub m1: f64,
    pub m2: f64,
    pub traction: f64,
    /// Traction less the puller's weight along its slope.
    pub drive: f64,
    pub g1: f64,
    pub hold: f64,
    pub g2: f64,
    pub rb: f64,
    pub rm: f64,
    /// 1 ÷ the distance over which the resistance falls; zero: constant.
    pub inv_d: f64,
    pub curve: Curve,
    pub length: f64,
    /// Residual and exponent of the way back.
    pub loss: Option<(f64, f64)>,
    pub viscous: f64,
    pub breaking: f64,
    pub travel: f64,
    pub time: f64,
    pub closing_squared: f64,
}

/// What the puller does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Front {
    /// It drives.
    Driving,
    /// It has been stopped and stands on its brakes.
    Held,
    /// The rope drags it back on its brakes.
    Dragged,
}

/// What the stuck vehicle does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Back {
    /// It stands.
    Stands,
    /// It moves with the pull.
    Forward,
    /// It rolls back.
    Backward,
}

/// Which laws hold between two events.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mode {
    pub front: Front,
    pub back: Back,
    /// On the way back; else on the loading law.
    pub returning: bool,
    /// Greatest stretch so far, where the way back starts; its tension; stretch at which it is slack again.
    pub em: f64,
    pub tm: f64,
    pub er: f64,
    /// The viscous term holds the rope back from following: no force though it is still long.
    pub limp: bool,
    pub piece: usize,
    /// Greatest tension so far.
    pub crest: f64,
}

impl System {
    /// Elastic part of the tension.
    #[inline]
    pub(super) fn elastic(&self, m: &Mode, e: f64) -> f64 {
        if !m.returning {
            return self.curve.force(m.piece, e);
        }
        match self.loss {
            Some((_, q)) if e > m.er => m.tm * power((e - m.er) / (m.em - m.er), q),
            _ => 0.0,
        }
    }
    /// Slope of the elastic part.
    #[inline]
    pub(super) fn slope(&self, m: &Mode, e: f64) -> f64 {
        if !m.returning {
            return self.curve.slope(m.piece, e);
        }
        match self.loss {
            Some((_, q)) if e > m.er => m.tm * q / (m.em - m.er) * power((e - m.er) / (m.em - m.er), q - 1.0),
            _ => 0.0,
        }
    }
    /// Elastic and viscous part together, even where that is under zero.
    #[inline]
    pub(super) fn pull(&self, m: &Mode, y: &State) -> f64 {
        let t = self.elastic(m, y[0] - y[2]);
        if self.viscous > 0.0 { t + self.viscous * (y[1] - y[3]) } else { t }
    }
    /// Tension.
    #[inline]
    pub(super) fn tension(&self, m: &Mode, y: &State) -> f64 {
        if m.limp { 0.0 } else { self.pull(m, y) }
    }
    /// Resistance after some travel.
    #[inline]
    pub(super) fn resistance(&self, s: f64) -> f64 {
        if self.inv_d == 0.0 || s <= 0.0 {
            return self.rb;
        }
        self.rm + (self.rb - self.rm) * libm::exp(-s * self.inv_d)
    }
    /// Work against the resistance from the start to there, counted from zero.
    pub(super) fn resisted(&self, s: f64) -> f64 {
        if self.inv_d == 0.0 || s <= 0.0 {
            return if s == 0.0 { 0.0 } else { self.rb * s };
        }
        self.rm * s - (self.rb - self.rm) / self.inv_d * libm::expm1(-s * self.inv_d)
    }
    /// Accelerations of both.
    #[inline]
    pub(super) fn accelerations(&self, m: &Mode, y: &State, t: f64) -> (f64, f64) {
        let a1 = match m.front {
            Front::Driving => (self.drive - t) / self.m1,
            Front::Held => 0.0,
            Front::Dragged => (self.hold - self.g1 - t) / self.m1,
        };
        let a2 = match m.back {
            Back::Stands => 0.0,
            Back::Forward => (t - self.g2 - self.resistance(y[2])) / self.m2,
            Back::Backward => (t - self.g2 + self.resistance(y[2])) / self.m2,
        };
        (a1, a2)
    }
    /// The right-hand side.
    #[inline]
    pub(super) fn rate(&self, m: &Mode, y: &State) -> State {
        let t = self.tension(m, y);
        let (a1, a2) = self.accelerations(m, y, t);
        let lost = if self.viscous > 0.0 { (t - self.elastic(m, y[0] - y[2])) * (y[1] - y[3]) } else { 0.0 };
        [y[1], a1, y[3], a2, lost]
    }
    /// Rate of the tension.
    #[inline]
    pub(super) fn tension_rate(&self, m: &Mode, y: &State) -> f64 {
        let s = self.slope(m, y[0] - y[2]) * (y[1] - y[3]);
        if self.viscous > 0.0 {
            let (a1, a2) = self.accelerations(m, y, self.tension(m, y));
            s + self.viscous * (a1 - a2)
        } else {
            s
        }
    }
    /// Work that went into the rope, but for the viscous term, and what of it the rope still gives back.
    pub(super) fn rope_energy(&self, m: &Mode, e: f64) -> (f64, f64) {
        let loaded = |e: f64| self.curve.energy(self.curve.piece_at(e), e);
        let Some((_, q)) = self.loss else {
            let w = loaded(e);
            return (w, w);
        };
        let whole = |e: f64, r: f64| self.curve.force(self.curve.piece_at(e), e) * e * (1.0 - r) / (q + 1.0);
        if !m.returning {
            let r = self.loss.map_or(0.0, |l| l.0);
            return (loaded(e), if e > 0.0 { whole(e, r) } else { 0.0 });
        }
        let part = |e: f64| {
            if e > m.er { m.tm * (m.em - m.er) / (q + 1.0) * power((e - m.er) / (m.em - m.er), q + 1.0) } else { 0.0 }
        };
        let left = part(e);
        (loaded(m.em) - part(m.em) + left, left)
    }
}
