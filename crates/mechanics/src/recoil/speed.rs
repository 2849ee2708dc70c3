//! How fast what flies can be at most.

use crate::error::{MechanicsError, not_negative, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Energy, Force, Length, Mass, Speed};

/// Factor on the fastest wave bound where fittings lie between the pieces of a line or it has more than two pieces: a heavy
/// piece that was set in motion can pull a light one behind it to more than either bound.
///
/// Our own judgement: a search among such lines found up to 1.25 times the plain bound; the tests hold 1.5 against many more.
const BETWEEN: f64 = 1.5;
/// The same for a line of two pieces without a fitting between them: the chain passed the plain bound by 0.44 per cent.
const TWO: f64 = 1.02;

/// One piece of a line under tension: the ends of its ranges that make it fastest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinePiece {
    /// Its tension.
    pub tension: Force,
    /// Its stiffness EA, low end.
    pub ea: Force,
    /// Mass of one metre of it, low end.
    pub mass_per_metre: Mass,
}

/// A stretchy grip that still holds the line when something else lets go: a block or an end on its strap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// How far the line gives when the grip gives: force on the grip ÷ tension of the line; 2 for a line there and back.
    pub ratio: f64,
    /// Energy of its straps.
    pub energy: Energy,
    /// Mass between strap and line, low end.
    pub mass: Mass,
}

/// Which of the bounds is the lesser.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The wave along the line.
    Wave,
    /// The stored energy.
    Energy,
}
impl Limit {
    /// A stable word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Wave => "wave",
            Self::Energy => "energy",
        }
    }
}

/// An upper bound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// No faster than this.
    pub speed: Speed,
    /// What sets it.
    pub limit: Limit,
}

/// Speed of the free end of a line of one material when it lets go: `v = F / √(EA m′)`.
///
/// # Source
/// `longitudinal-wave` (read): `v = s / √(E ρ)` from impulse and momentum; with s = F/A and m′ = ρ A it is this.
///
/// # Errors
/// If an input is not an ordinary number, or EA or the mass is not greater than zero.
///
/// # Assumes
/// Elastic, no loss, no drag: an upper bound.
pub fn wave_speed(tension: Force, ea: Force, mass_per_metre: Mass) -> Result<Speed, MechanicsError> {
    let f = not_negative("the tension", tension.as_n(), "zero or more")?;
    let k = positive("the stiffness EA", ea.as_n(), "a force greater than zero")?;
    let m = positive("the mass of a metre of line", mass_per_metre.as_kg(), "greater than zero, for example 0.05 kg")?;
    Ok(Speed::from_m_s(f / (k * m).sqrt()))
}

/// The same for any loading curve: `v ≤ √(F ε / m′)`, F and ε where the line lets go.
///
/// A line that stiffens runs down its curve bit by bit, `v = ∫ √(F′/m′) dε`, which is no more than this (Schwarz); one that
/// softens does it in a single step and reaches it. For a straight curve both are `F / √(EA m′)`.
///
/// # Source
/// `derived`: momentum over a step or a fan of waves.
///
/// # Errors
/// As [`wave_speed`].
pub fn wave_speed_by_strain(tension: Force, strain: f64, mass_per_metre: Mass) -> Result<Speed, MechanicsError> {
    let f = not_negative("the tension", tension.as_n(), "zero or more")?;
    let e = not_negative("the strain", strain, "zero or more")?;
    let m = positive("the mass of a metre of line", mass_per_metre.as_kg(), "greater than zero, for example 0.05 kg")?;
    Ok(Speed::from_m_s((f * e / m).sqrt()))
}

/// The speed that all of an energy would give to a mass: `v = √(2 U / M)`.
///
/// # Source
/// `statics`: energy is kept; derived.
///
/// # Errors
/// If the energy is negative or the mass is not greater than zero.
pub fn energy_speed(energy: Energy, mass: Mass) -> Result<Speed, MechanicsError> {
    let u = not_negative("the stored energy", energy.as_j(), "zero or more")?;
    let m = positive("the mass that flies", mass.as_kg(), "greater than zero, for example 1 kg")?;
    Ok(Speed::from_m_s((2.0 * u / m).sqrt()))
}

/// About how fast a fitting is on a line of *one* material whose other end is held:
/// `v = F / √(EA m′) · min(1, 1 / √(M / m + 1/3))`, m = m′ L.
///
/// No bound: against the chain of point masses it is 2 per cent high at M = m / 2 and 2 per cent low at M = 1.6 m. For a line of
/// several materials it says nothing. Use [`thrown_along`] for a bound.
///
/// # Source
/// `derived`; held by `recoil-chain`.
///
/// # Errors
/// As [`wave_speed`]; if the length is not greater than zero or the fitting's mass is negative.
pub fn fitting_speed(
    tension: Force,
    ea: Force,
    mass_per_metre: Mass,
    length: Length,
    fitting: Mass,
) -> Result<Speed, MechanicsError> {
    let tip = wave_speed(tension, ea, mass_per_metre)?;
    let l = positive("the length", length.as_m(), "greater than zero, for example 25 m")?;
    let m = not_negative("the mass of the fitting", fitting.as_kg(), "zero or more")?;
    let ratio = m / (mass_per_metre.as_kg() * l);
    Ok(tip * (1.0 / (ratio + 1.0 / 3.0).sqrt()).min(1.0))
}

/// The fastest that the end of a line can be when it lets go: the greater of
///
/// * the fastest wave bound over its pieces, `max F / √(EA m′)`; times 1.02 for two pieces, and 1.5 where fittings lie between
///   them (`fittings_between`) or there are more than two;
/// * for every grip that still holds it elsewhere, `2 ρ √(2 U / M)`: its strap throws the block back, the line over it runs ρ
///   times as fast, and the end of a taut line that is pulled away moves up to twice as fast as its other end.
///
/// # Source
/// `longitudinal-wave` (read) for one piece; several pieces: `derived`, held by `recoil-chain` and the chains of the tests; the
/// factors: `own-judgement`.
///
/// # Errors
/// As [`wave_speed`]; if there is no piece, or a grip has no mass.
pub fn line_end_speed(
    pieces: &[LinePiece],
    fittings_between: bool,
    held: &[Held],
    rec: &mut impl Recorder,
) -> Result<Speed, MechanicsError> {
    let mut fastest = Speed::ZERO;
    let mut from: Option<LinePiece> = None;
    for p in pieces {
        let v = wave_speed(p.tension, p.ea, p.mass_per_metre)?;
        if from.is_none() || v > fastest {
            (fastest, from) = (v, Some(*p));
        }
    }
    let Some(piece) = from else {
        return Err(MechanicsError::Missing { what: "a piece of line", help: "a line has at least one piece" });
    };
    let factor = match pieces.len() {
        _ if fittings_between => BETWEEN,
        1 => 1.0,
        2 => TWO,
        _ => BETWEEN,
    };
    let mut bound = fastest * factor;
    rec.record(|| {
        let s = Step::new(
            "fastest wave bound over the pieces of the line",
            "v",
            "v = k · max F / √(EA m′)",
            bound.as_m_s(),
            Dimension::Speed,
            "longitudinal-wave",
        )
        .input("F", piece.tension.as_n(), Dimension::Force, Origin::Earlier)
        .input("EA", piece.ea.as_n(), Dimension::Force, Origin::Earlier)
        .input("m′ (of one metre)", piece.mass_per_metre.as_kg(), Dimension::Mass, Origin::Earlier)
        .input("k", factor, Dimension::Ratio, Origin::Constant("own-judgement"));
        if factor > 1.0 { s.note("it has several pieces, or fittings lie between them") } else { s }
    });
    for h in held {
        let ratio = not_negative("how far the line gives when its grip gives", h.ratio, "zero or more")?;
        let v = energy_speed(h.energy, h.mass)? * (2.0 * ratio);
        if v > bound {
            bound = v;
            rec.record(|| {
                Step::new(
                    "a strap that throws its block back draws the line along",
                    "v",
                    "v = 2 ρ √(2 U / M)",
                    v.as_m_s(),
                    Dimension::Speed,
                    "derived",
                )
                .input("ρ", ratio, Dimension::Ratio, Origin::Earlier)
                .input("U", h.energy.as_j(), Dimension::Energy, Origin::Earlier)
                .input("M", h.mass.as_kg(), Dimension::Mass, Origin::Earlier)
            });
        }
    }
    Ok(bound)
}

/// The bound for what flies along a line: the lesser of the line's end and the energy. Without a mass it is a bare end.
///
/// # Source
/// `derived`: both bounds hold; see [`line_end_speed`] and [`energy_speed`].
///
/// # Errors
/// As [`energy_speed`].
pub fn thrown_along(
    line_end: Speed,
    energy: Energy,
    mass: Option<Mass>,
    rec: &mut impl Recorder,
) -> Result<Bound, MechanicsError> {
    let line = not_negative("the speed of the line's end", line_end.as_m_s(), "zero or more")?;
    let by_energy = mass.filter(|m| *m != Mass::ZERO).map(|m| energy_speed(energy, m)).transpose()?;
    let bound = match by_energy {
        Some(v) if v.as_m_s() < line => Bound { speed: v, limit: Limit::Energy },
        _ => Bound { speed: line_end, limit: Limit::Wave },
    };
    rec.record(|| {
        let s = Step::new(
            "no faster than",
            "v",
            "v = min(line's end, √(2 U / M))",
            bound.speed.as_m_s(),
            Dimension::Speed,
            "derived",
        )
        .input("line's end", line, Dimension::Speed, Origin::Earlier)
        .input("U", energy.as_j(), Dimension::Energy, Origin::Earlier);
        match mass {
            Some(m) => s.input("M", m.as_kg(), Dimension::Mass, Origin::Earlier),
            None => s.note("a bare end: no mass to share the energy with"),
        }
    });
    Ok(bound)
}

/// The bound for what is thrown by legs that meet at an angle: the energy alone.
///
/// The wave bound does not hold there. A line that loses what it was turned round straightens, and what was in the bend is thrown
/// sideways: the chain of the tests throws 2 kg at 1.9 times the wave bound of a wire, and never past this one.
///
/// # Source
/// `statics`: energy is kept; derived.
///
/// # Errors
/// As [`energy_speed`].
pub fn thrown_aside(energy: Energy, mass: Mass, rec: &mut impl Recorder) -> Result<Bound, MechanicsError> {
    let speed = energy_speed(energy, mass)?;
    rec.record(|| {
        Step::new("thrown aside, no faster than", "v", "v = √(2 U / M)", speed.as_m_s(), Dimension::Speed, "statics")
            .input("U", energy.as_j(), Dimension::Energy, Origin::Earlier)
            .input("M", mass.as_kg(), Dimension::Mass, Origin::Earlier)
    });
    Ok(Bound { speed, limit: Limit::Energy })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Silent, Trail};

    const fn wire() -> LinePiece {
        LinePiece { tension: Force::from_kn(40.0), ea: Force::from_kn(3456.575), mass_per_metre: Mass::from_kg(0.387) }
    }

    #[test]
    fn closed_form_a_straight_curve_gives_the_linear_wave_bound() {
        let w = wire();
        let linear = wave_speed(w.tension, w.ea, w.mass_per_metre).unwrap();
        let by_strain = wave_speed_by_strain(w.tension, w.tension / w.ea, w.mass_per_metre).unwrap();
        assert!((linear - by_strain).abs().as_m_s() < 1e-12);
    }

    #[test]
    fn closed_form_a_stiffening_line_is_slower_than_its_bound() {
        // F = F1 (ε/ε1)²: ∫ √(F′/m′) dε = √(2 F1 / m′) ε1^-1 · (2/3) ε1^1.5 = (2 √2 / 3) √(F1 ε1 / m′).
        let (f, e, m) = (Force::from_kn(60.0), 0.2, Mass::from_kg(0.28));
        let bound = wave_speed_by_strain(f, e, m).unwrap().as_m_s();
        let n = 200_000;
        let fan: f64 = (0..n)
            .map(|i| (f64::from(i) + 0.5) / f64::from(n) * e)
            .map(|x| (2.0 * f.as_n() * x / (e * e) / m.as_kg()).sqrt() * e / f64::from(n))
            .sum();
        assert!((fan / bound - 2.0 * 2.0_f64.sqrt() / 3.0).abs() < 1e-6);
    }

    #[test]
    fn closed_form_the_lesser_bound_counts() {
        let end = line_end_speed(&[wire()], false, &[], &mut Silent).unwrap();
        let u = Energy::from_j(5786.07);
        let heavy = thrown_along(end, u, Some(Mass::from_kg(100.0)), &mut Silent).unwrap();
        assert_eq!(heavy.limit, Limit::Energy);
        assert!((heavy.speed.as_m_s() - (2.0_f64 * 57.8607).sqrt()).abs() < 1e-9);
        let light = thrown_along(end, u, Some(Mass::from_kg(2.0)), &mut Silent).unwrap();
        assert_eq!((light.limit, light.speed), (Limit::Wave, end));
        assert_eq!(thrown_along(end, u, None, &mut Silent).unwrap().speed, end);
    }

    #[test]
    fn closed_form_a_grip_that_is_thrown_back_counts_twice_its_ratio() {
        let held = Held { ratio: 2.0, energy: Energy::from_j(200.0), mass: Mass::from_kg(1.0) };
        let v = line_end_speed(&[wire()], false, &[held], &mut Silent).unwrap().as_m_s();
        assert!((v - 4.0 * 20.0).abs() < 1e-12);
    }

    #[test]
    fn closed_form_what_is_no_number_gives_none() {
        assert!(line_end_speed(&[], false, &[], &mut Silent).is_err());
        assert!(wave_speed(Force::from_n(f64::NAN), Force::from_n(1.0), Mass::from_kg(1.0)).is_err());
        assert!(energy_speed(Energy::from_j(1.0), Mass::ZERO).is_err());
        assert!(thrown_aside(Energy::from_j(-1.0), Mass::from_kg(1.0), &mut Silent).is_err());
        let bad = Held { ratio: f64::NAN, energy: Energy::ZERO, mass: Mass::from_kg(1.0) };
        assert!(line_end_speed(&[wire()], false, &[bad], &mut Silent).is_err());
    }

    #[test]
    fn closed_form_recording_changes_no_bit() {
        let held = [Held { ratio: 2.0, energy: Energy::from_j(900.0), mass: Mass::from_kg(1.5) }];
        let mut trail = Trail::default();
        let kept = line_end_speed(&[wire(), wire(), wire()], true, &held, &mut trail).unwrap();
        assert_eq!(kept, line_end_speed(&[wire(), wire(), wire()], true, &held, &mut Silent).unwrap());
        let (u, m) = (Energy::from_j(5000.0), Some(Mass::from_kg(3.0)));
        assert_eq!(thrown_along(kept, u, m, &mut trail).unwrap(), thrown_along(kept, u, m, &mut Silent).unwrap());
        assert!(trail.steps.len() >= 3);
    }
}
