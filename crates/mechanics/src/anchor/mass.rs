//! The stem's green mass: from diameter and height, or from the diameter alone.

use crate::error::{MechanicsError, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Length, Mass, Range};
use unmire_tables::generated as g;
use unmire_tables::row;

/// Green mass of a stem, and how it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StemMass {
    /// The mass.
    pub mass: Range<Mass>,
    /// Whether it comes from the diameter alone.
    pub by_diameter_alone: bool,
}

/// Stem volume in m³: `V = a DBHᵇ Hᶜ`, DBH in cm, H in m.
///
/// # Source
/// `fonweban-2012`, read (model files).
///
/// # Errors
/// If the row is not there, or a measure is not greater than zero.
pub fn stem_volume(key: &str, diameter: Length, height: Length) -> Result<f64, MechanicsError> {
    let r = row(g::stem_volume::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "stem volumes",
        key: key.to_owned(),
        known: g::stem_volume::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let d = positive("the diameter at breast height", diameter.as_cm(), "greater than zero, for example 30 cm")?;
    let h = positive("the tree's height", height.as_m(), "greater than zero, for example 18 m")?;
    Ok(r.a * libm::pow(d, r.b) * libm::pow(h, r.c))
}

/// Stem volume in m³ of Canadian species: `V = 0.004389 DBH² (1 − 0.04365 p₀)² / (p₁ + 0.3048 p₂ / H)`, DBH in cm, H in m.
///
/// # Source
/// `norforestgales`, read (Honer's form).
///
/// # Errors
/// As [`stem_volume`].
pub fn stem_volume_honer(key: &str, diameter: Length, height: Length) -> Result<f64, MechanicsError> {
    let r = row(g::stem_volume_honer::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "stem volumes of Canadian species",
        key: key.to_owned(),
        known: g::stem_volume_honer::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let d = positive("the diameter at breast height", diameter.as_cm(), "greater than zero, for example 30 cm")?;
    let h = positive("the tree's height", height.as_m(), "greater than zero, for example 18 m")?;
    let taper = 1.0 - 0.04365 * r.p0;
    Ok(0.004389 * d * d * taper * taper / (r.p1 + 0.3048 * r.p2 / h))
}

/// Volume by whichever of the two forms has the row.
fn volume(key: &str, diameter: Length, height: Length) -> Result<f64, MechanicsError> {
    if row(g::stem_volume_honer::ROWS, key).is_some() {
        stem_volume_honer(key, diameter, height)
    } else {
        stem_volume(key, diameter, height)
    }
}

/// Green stem mass from volume and green density: `SW = V ρ`.
///
/// # Source
/// `fgr-vignette`, read.
///
/// # Errors
/// If an input is not greater than zero.
pub fn green_stem_mass(volume_m3: f64, density_kg_m3: f64) -> Result<Mass, MechanicsError> {
    let v = positive("the stem's volume", volume_m3, "greater than zero")?;
    let rho = positive("the green density", density_kg_m3, "greater than zero, for example 850 kg/m³")?;
    Ok(Mass::from_kg(v * rho))
}

/// Above-ground dry biomass: `exp(b₀ + b₁ ln DBH)` kg, DBH in cm.
///
/// # Source
/// `jenkins-2003`, read as a package's data; the order of the groups is from memory.
///
/// # Errors
/// If the group is not there or the diameter is not greater than zero.
pub fn dry_biomass(group: &str, diameter: Length) -> Result<Mass, MechanicsError> {
    let (mass, _) = biomass(group, diameter)?;
    Ok(mass)
}

fn biomass(group: &str, diameter: Length) -> Result<(Mass, bool), MechanicsError> {
    let r = row(g::biomass::ROWS, group).ok_or_else(|| MechanicsError::UnknownKey {
        table: "biomass groups",
        key: group.to_owned(),
        known: g::biomass::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let d = positive("the diameter at breast height", diameter.as_cm(), "greater than zero, for example 30 cm")?;
    Ok((Mass::from_kg(libm::exp(r.b0 + r.b1 * libm::log(d))), r.softwood))
}

/// Dry stem (wood and bark): the above-ground mass times the component shares `exp(a₀ + a₁ / DBH)`.
///
/// # Source
/// `jenkins-2003`, read as a package's data.
///
/// # Errors
/// As [`dry_biomass`].
pub fn dry_stem_mass(group: &str, diameter: Length) -> Result<Mass, MechanicsError> {
    let (all, softwood) = biomass(group, diameter)?;
    let d = diameter.as_cm();
    let share = |key: &'static str| {
        row(g::biomass_ratio::ROWS, key).map(|r| libm::exp(r.a0 + r.a1 / d)).ok_or(MechanicsError::Missing {
            what: "a component share of the biomass",
            help: "the table biomass_ratio lacks a row",
        })
    };
    let (wood, bark) = if softwood {
        (share("softwood_wood")?, share("softwood_bark")?)
    } else {
        (share("hardwood_wood")?, share("hardwood_bark")?)
    };
    Ok(all * (wood + bark))
}

/// Green stem mass from the diameter alone: dry stem times one plus the water in it, kept at the low end (0.8 softwood,
/// 0.6 hardwood) as the likely value.
///
/// # Source
/// `jenkins-2003` (read as a package's data); water: `own-judgement`, low end.
///
/// # Errors
/// As [`dry_biomass`].
pub fn stem_mass_by_diameter(group: &str, diameter: Length) -> Result<Mass, MechanicsError> {
    let (_, softwood) = biomass(group, diameter)?;
    let water = super::kind::constant(if softwood { "moisture_softwood" } else { "moisture_hardwood" })?;
    Ok(dry_stem_mass(group, diameter)? * (1.0 + water))
}

/// Green stem mass of a tree: by volume and density where the height is known, else from the diameter alone with a span of
/// 30 % either way.
///
/// # Source
/// As [`stem_volume`], [`green_stem_mass`] and [`stem_mass_by_diameter`]; the span: `own-judgement`.
///
/// # Errors
/// As those.
pub fn stem_mass(
    volume_key: &str,
    density_kg_m3: f64,
    biomass_group: &str,
    diameter: &Range<Length>,
    height: Option<&Range<Length>>,
    rec: &mut impl Recorder,
) -> Result<StemMass, MechanicsError> {
    if let Some(h) = height {
        let at = |d: Length, h: Length| green_stem_mass(volume(volume_key, d, h)?, density_kg_m3);
        let mass = Range::hull(
            at(diameter.low(), h.low())?,
            at(diameter.likely(), h.likely())?,
            at(diameter.high(), h.high())?,
        );
        rec.record(|| {
            Step::range("green mass of the stem", "SW", "SW = V(DBH, H) · green density", &mass, "fonweban-2012")
                .input_range("DBH", diameter, Origin::Earlier)
                .input_range("H", h, Origin::Earlier)
                .input("ρ", density_kg_m3, Dimension::Density, Origin::Constant("norforestgales"))
        });
        return Ok(StemMass { mass, by_diameter_alone: false });
    }
    let at = |d: Length| stem_mass_by_diameter(biomass_group, d);
    let span = super::kind::constant("span_by_diameter")?;
    let mass =
        Range::hull(at(diameter.low())? * (1.0 - span), at(diameter.likely())?, at(diameter.high())? * (1.0 + span));
    rec.record(|| {
        Step::range(
            "green mass of the stem, height not known",
            "SW",
            "SW = exp(b₀ + b₁ ln DBH) · stem share · (1 + water), ± 30 %",
            &mass,
            "jenkins-2003",
        )
        .input_range("DBH", diameter, Origin::Earlier)
        .note("the height is not known: the mass comes from the diameter alone, and trees of one diameter differ in height")
    });
    Ok(StemMass { mass, by_diameter_alone: true })
}
