//! Kinetic ropes, run-ups and bare problems by chance, and without their line numbers.

use super::{Dice, maybe};
use unmire_model::kinetic::{
    BareAsked, BareLaw, BarePull, BarePuller, BareRope, BareStuck, Elongation, Resistance, RopeState, RunUp, Stretching,
};
use unmire_model::{Angle, Force, Length, Mass, Speed, Time};

pub fn run_up_unlined(r: &mut RunUp) {
    maybe(&mut r.speed);
    maybe(&mut r.slack);
    maybe(&mut r.travel);
    maybe(&mut r.fastest);
    maybe(&mut r.moving);
    maybe(&mut r.over);
}

impl Dice {
    pub fn stretching(&mut self, kinetic: bool) -> Stretching {
        if !kinetic {
            return Stretching::default();
        }
        let n = self.below(4);
        let mut last = (0.0, 0.0);
        let elongation = (0..n)
            .map(|_| {
                last = (last.0 + self.between(0.02, 0.3), last.1 + self.between(0.02, 0.2));
                Elongation { at: last.0, stretch: last.1 }
            })
            .collect();
        Stretching {
            construction: self.maybe(Self::text),
            state: self.pick(&RopeState::ALL).0,
            wet: self.maybe(Self::yes),
            elongation,
        }
    }
    pub fn run_up(&mut self) -> RunUp {
        let lets_go = self.yes();
        RunUp {
            speed: self.maybe(|d| d.range::<Speed>(0.0, 2.0)),
            slack: self.maybe(|d| d.range::<Length>(0.0, 3.0)),
            travel: self.maybe(|d| {
                let l = d.length(0.1, 5.0);
                d.input(l)
            }),
            fastest: self.maybe(|d| {
                let v = Speed::from_m_s(d.between(2.0, 10.0));
                d.input(v)
            }),
            moving: if lets_go { Some(self.range::<f64>(0.1, 1.0)) } else { None },
            over: if lets_go {
                let l = self.length(0.05, 5.0);
                Some(self.input(l))
            } else {
                None
            },
        }
    }
    pub fn bare_pull(&mut self) -> BarePull {
        let force = |d: &mut Self, high: f64| Force::from_n(d.between(0.0, high));
        let slope = |d: &mut Self| if d.yes() { Angle::ZERO } else { Angle::from_deg(d.between(-30.0, 30.0)) };
        let resistance = match self.below(3) {
            0 => Resistance::Constant(force(self, 50e3)),
            1 => Resistance::Decaying {
                breakaway: Force::from_n(self.between(20e3, 50e3)),
                moving: force(self, 20e3),
                over: self.length(0.1, 2.0),
            },
            _ => Resistance::Fixed,
        };
        let (strength, strain) = (Force::from_n(self.between(20e3, 400e3)), self.between(0.01, 0.5));
        let law = match self.below(4) {
            0 => BareLaw::Linear { strength, strain },
            1 => BareLaw::Power { strength, strain, exponent: self.between(1.0, 3.0) },
            2 => {
                let a = self.between(0.0, 0.5);
                let b = self.between(0.0, 0.5);
                BareLaw::Polynomial { strength, strain, c: [a, b, 1.0 - a - b] }
            }
            _ => {
                let mut last = (0.0, 0.0);
                let n = 1 + self.below(12);
                BareLaw::Measured(
                    (0..n)
                        .map(|_| {
                            last = (last.0 + self.between(0.01, 0.1), last.1 + self.between(1e3, 30e3));
                            (last.0, Force::from_n(last.1))
                        })
                        .collect(),
                )
            }
        };
        BarePull {
            title: self.maybe(Self::text),
            puller: BarePuller {
                mass: Mass::from_kg(self.between(500.0, 20e3)),
                speed: Speed::from_m_s(self.between(0.0, 10.0)),
                traction: force(self, 20e3),
                slope: slope(self),
                brakes: self.maybe(|d| force(d, 30e3)),
            },
            stuck: BareStuck { mass: Mass::from_kg(self.between(500.0, 20e3)), resistance, slope: slope(self) },
            rope: BareRope {
                length: self.length(1.0, 50.0),
                law,
                unloading: self.maybe(|d| (d.between(0.0, 0.9), d.between(1.0, 5.0))),
                viscous: if self.yes() { 0.0 } else { self.between(1.0, 9e3) },
                breaking: self.maybe(|d| Force::from_n(d.between(20e3, 400e3))),
            },
            slack: if self.yes() { Length::ZERO } else { self.length(0.1, 5.0) },
            travel_limit: self.maybe(|d| d.length(6.0, 20.0)),
            time_limit: self.maybe(|d| Time::from_s(d.between(1.0, 60.0))),
            asked: self.maybe(|d| BareAsked {
                travel: d.length(0.1, 5.0),
                limit: Force::from_n(d.between(10e3, 90e3)),
                fastest: Speed::from_m_s(d.between(1.0, 10.0)),
            }),
        }
    }
}
