//! Terramechanics: how deep a rigid wheel sinks and what compacting the soil costs, after Bekker.
//!
//! Compaction only: no bulldozing, no suction of mud. Valid for wheels that do not sink deep; beyond that the vehicle is
//! bogged and the field multiples apply.

use crate::error::{MechanicsError, between, positive};
use crate::lookup;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Area, Force, Length, Recorder};
use unmire_tables::How;

/// A soil's parameters. Units as in the literature: kN, m, kPa, degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soil {
    /// Its key.
    pub key: &'static str,
    /// Sinkage exponent.
    pub n: f64,
    /// Cohesive modulus, kN/m^(n+1).
    pub k_c: f64,
    /// Frictional modulus, kN/m^(n+2).
    pub k_phi: f64,
    /// Cohesion, kPa.
    pub cohesion_kpa: f64,
    /// Angle of internal friction, degrees.
    pub friction_deg: f64,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
}

/// A soil by its key.
///
/// # Source
/// Table `bekker`: `wong-2008` Table 2.3, as transcribed in public code files (secondary).
///
/// # Errors
/// If it is in no row.
pub fn soil(key: &str) -> Result<Soil, MechanicsError> {
    lookup::soil(key)
}

/// Why the result of Bekker's formula should not be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BekkerDoubt {
    /// It sinks deeper than a sixth of its diameter: bogged, use the force-factor method.
    Bogged,
    /// The exponent is above 1.3.
    Exponent,
    /// The wheel is not larger than half a metre.
    SmallWheel,
}
impl BekkerDoubt {
    /// What to tell the reader.
    ///
    /// # Source
    /// The limits: `bekker`, memory.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Bogged => {
                "bogged: the wheel would sink deeper than a sixth of its diameter, use the force-factor method"
            }
            Self::Exponent => "the soil's exponent is above 1.3: outside the formula's range",
            Self::SmallWheel => "the wheel's diameter is not above 0.5 m: outside the formula's range",
        }
    }
}

/// What Bekker's formula gives for one wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bekker {
    /// Depth of the rut.
    pub sinkage: Length,
    /// Depth ÷ wheel diameter.
    pub depth_ratio: f64,
    /// Resistance of compacting the soil, one wheel.
    pub resistance: Force,
    /// Why it should not be used, if so.
    pub doubt: Option<BekkerDoubt>,
}

/// Sinkage of a rigid wheel: `z = [3 W / ((3 − n) (k_c + b k_φ) √D)]^(2 / (2 n + 1))`. W wheel load, b width, D diameter of the wheel.
///
/// # Source
/// `bekker`, memory (standard form; Wong ch. 2).
///
/// # Errors
/// If an input is not greater than zero or n not under 3.
pub fn sinkage(soil: &Soil, load: Force, width: Length, diameter: Length) -> Result<Length, MechanicsError> {
    let w = positive("the wheel's load", load.as_kn(), "a force greater than zero")?;
    let b = positive("the wheel's width", width.as_m(), "a length greater than zero, for example 255 mm")?;
    let d = positive("the wheel's diameter", diameter.as_m(), "a length greater than zero, for example 0.8 m")?;
    let n = between("the soil's exponent", soil.n, 1e-3, 2.9, "between 0 and 3, for example 1.1")?;
    let k = positive("the soil's modulus", soil.k_c + b * soil.k_phi, "greater than zero")?;
    Ok(Length::from_m(libm::pow(3.0 * w / ((3.0 - n) * k * d.sqrt()), 2.0 / (2.0 * n + 1.0))))
}

/// Resistance of compacting a rut of this depth, one wheel: `R = (k_c + b k_φ) zⁿ⁺¹ / (n + 1)`.
///
/// # Source
/// `bekker`, memory (standard form; Wong ch. 2).
///
/// # Errors
/// If an input is not greater than zero.
pub fn compaction_resistance(soil: &Soil, width: Length, depth: Length) -> Result<Force, MechanicsError> {
    let b = positive("the wheel's width", width.as_m(), "a length greater than zero")?;
    let z = positive("the depth of the rut", depth.as_m(), "a length greater than zero")?;
    Ok(Force::from_kn((soil.k_c + b * soil.k_phi) * libm::pow(z, soil.n + 1.0) / (soil.n + 1.0)))
}

/// Sinkage and compaction resistance of one rigid wheel, and whether the formula may be used: z ≤ D / 6, n ≤ 1.3, D > 0.5 m.
///
/// # Source
/// `bekker`, memory; parameters as in [`soil`].
///
/// # Errors
/// If an input is not greater than zero.
///
/// # Assumes
/// A rigid wheel: a soft tyre on soft ground sinks less.
pub fn bekker(
    soil: &Soil,
    load: Force,
    width: Length,
    diameter: Length,
    rec: &mut impl Recorder,
) -> Result<Bekker, MechanicsError> {
    let z = sinkage(soil, load, width, diameter)?;
    let r = compaction_resistance(soil, width, z)?;
    let depth_ratio = z / diameter;
    let doubt = if depth_ratio > 1.0 / 6.0 {
        Some(BekkerDoubt::Bogged)
    } else if soil.n > 1.3 {
        Some(BekkerDoubt::Exponent)
    } else if diameter.as_m() <= 0.5 {
        Some(BekkerDoubt::SmallWheel)
    } else {
        None
    };
    rec.record(|| {
        Step::new(
            "depth of the rut, one wheel",
            "z",
            "z = [3 W / ((3 − n) (k_c + b k_φ) √D)]^(2 / (2 n + 1))",
            z.as_m(),
            Dimension::Length,
            "bekker",
        )
        .input("W", load.as_n(), Dimension::Force, Origin::Earlier)
        .input("n", soil.n, Dimension::Other, origin(soil))
        .input("k_c", soil.k_c, Dimension::Other, origin(soil))
        .input("k_φ", soil.k_phi, Dimension::Other, origin(soil))
        .input("b", width.as_m(), Dimension::Length, Origin::Earlier)
        .input("D", diameter.as_m(), Dimension::Length, Origin::Earlier)
    });
    rec.record(|| {
        let mut s = Step::new(
            "resistance of compacting the soil, one wheel",
            "R",
            "R = (k_c + b k_φ) zⁿ⁺¹ / (n + 1)",
            r.as_n(),
            Dimension::Force,
            "bekker",
        )
        .input("z", z.as_m(), Dimension::Length, Origin::Earlier)
        .note("compaction only: neither bulldozing nor the suction of mud is in it");
        if let Some(d) = doubt {
            s = s.note(d.text());
        }
        s
    });
    Ok(Bekker { sinkage: z, depth_ratio, resistance: r, doubt })
}

/// The most that the soil under one driven wheel can push back: `H = A c + W tan φ`.
///
/// # Source
/// `bekker`, memory (Mohr-Coulomb limit; Wong ch. 2).
///
/// # Errors
/// If load or area are negative.
pub fn soil_thrust(soil: &Soil, load: Force, area: Area) -> Result<Force, MechanicsError> {
    let w = crate::error::not_negative("the wheel's load", load.as_kn(), "zero or more")?;
    let a = crate::error::not_negative("the contact area", area.as_m2(), "zero or more")?;
    let phi = between("the soil's friction angle", soil.friction_deg, 0.0, 60.0, "0° to 60°")?;
    Ok(Force::from_kn(a * soil.cohesion_kpa + w * libm::tan(phi.to_radians())))
}

fn origin(soil: &Soil) -> Origin {
    Origin::Table { table: "bekker", row: soil.key.to_owned(), source: soil.source }
}
