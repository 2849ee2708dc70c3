//! Drives of winches and stretches of the way out by chance, and without their line numbers.

use super::{Dice, input, maybe};
use unmire_model::drive::{Battery, Drive, Electrics, Motor, SheetPoint};
use unmire_model::ground::{Ahead, Stretch};
use unmire_model::{Angle, Charge, Current, Force, Length, Ohms, Range, Speed, Time, Voltage};

pub fn drive_unlined(d: &mut Drive) {
    match &mut d.motor {
        Motor::Electric(e) => {
            input(&mut e.nominal);
            if let Some(b) = &mut e.battery {
                input(&mut b.capacity);
                input(&mut b.filled);
                maybe(&mut b.resistance);
            }
            maybe(&mut e.alternator);
            maybe(&mut e.run_at_rated);
            maybe(&mut e.rest);
        }
        Motor::Hydraulic => {}
        Motor::Capstan { friction, .. } => maybe(friction),
    }
}

pub fn stretch_unlined(s: &mut Stretch) {
    input(&mut s.length);
    maybe(&mut s.bearing);
    maybe(&mut s.grade);
    maybe(&mut s.side_slope);
    match &mut s.ahead {
        Ahead::AsFound => {}
        Ahead::Surface(x) => input(x),
        Ahead::Share(x) => input(x),
    }
}

impl Dice {
    pub fn drive(&mut self) -> Drive {
        let motor = match self.below(4) {
            0 => Motor::Hydraulic,
            1 => Motor::Capstan {
                turns: 1 + self.below(8) as u32,
                friction: self.maybe(|d| d.range::<f64>(0.05, 0.3)),
                diameter: self.maybe(|d| d.length(0.05, 0.2)),
            },
            _ => Motor::Electric(Box::new(Electrics {
                nominal: {
                    let v = self.pick(&[12.0, 24.0]);
                    self.input(Voltage::from_v(v))
                },
                battery: self.maybe(|d| Battery {
                    capacity: d.range::<Charge>(100_000.0, 900_000.0),
                    filled: d.range::<f64>(0.0, 1.0),
                    resistance: d.maybe(|d| d.range::<Ohms>(0.002, 0.03)),
                }),
                alternator: self.maybe(|d| d.range::<Current>(0.0, 200.0)),
                run_at_rated: self.maybe(|d| d.range::<Time>(20.0, 300.0)),
                rest: self.maybe(|d| d.range::<Time>(60.0, 3600.0)),
            })),
        };
        let (mut pull, mut current, mut speed) = (0.0, 60.0, 0.15);
        let sheet = (0..self.below(6))
            .map(|_| {
                pull += self.between(500.0, 5000.0);
                current += self.between(0.0, 80.0);
                speed *= self.between(0.5, 1.0);
                let current = self.maybe(|_| Current::from_a(current));
                let speed = if current.is_none() || self.yes() { Some(Speed::from_m_s(speed)) } else { None };
                SheetPoint { pull: Force::from_n(pull), current, speed }
            })
            .collect();
        Drive { motor, sheet }
    }
    pub fn stretch(&mut self) -> Stretch {
        let ahead = match self.below(3) {
            0 => Ahead::AsFound,
            1 => {
                let surface = self.pick(&["wet_grass", "dry_grass"]).to_owned();
                Ahead::Surface(self.input(surface))
            }
            _ => Ahead::Share(self.range::<f64>(0.0, 3.0)),
        };
        let length = self.between(0.2, 60.0);
        Stretch {
            length: self.input(Length::from_m(length)),
            bearing: self.maybe(|d| {
                let b = d.between(-170.0, 170.0);
                d.input(Angle::from_deg(b))
            }),
            grade: self.maybe(|d| {
                let (low, more) = (d.between(-20.0, 20.0), d.between(0.0, 8.0));
                d.input(Range::between(Angle::from_deg(low), Angle::from_deg(low + more)).unwrap())
            }),
            side_slope: self.maybe(|d| {
                let a = d.between(-20.0, 20.0);
                d.input(Angle::from_deg(a))
            }),
            ahead,
        }
    }
}
