//! What the tables say of a tree's species, and what stands in where nobody knows it.

use crate::error::MechanicsError;
use crate::standing::Warning;
use unmire_model::Pressure;
use unmire_tables::generated as g;
use unmire_tables::{How, row};

/// A constant of the tree model.
pub(super) fn constant(key: &'static str) -> Result<f64, MechanicsError> {
    row(g::tree_constant::ROWS, key).map(|r| r.value).ok_or_else(|| MechanicsError::UnknownKey {
        table: "constants of the tree model",
        key: key.to_owned(),
        known: g::tree_constant::ROWS.iter().map(|r| r.key).collect(),
    })
}

/// What the tables say of a tree's kind.
pub(super) struct Kind {
    /// Its row of `species`, if it has one.
    pub species: Option<&'static str>,
    /// Modulus of rupture.
    pub rupture: Pressure,
    /// Factor on it at the low end: less than one where it is recalled.
    pub rupture_low: f64,
    /// Factor for knots.
    pub knot: f64,
    /// Green density, kg/m³.
    pub density: f64,
    /// Row of the stem volumes.
    pub volume: &'static str,
    /// Row of `biomass`.
    pub biomass: &'static str,
    /// Shear strength along the grain.
    pub shear: Pressure,
    /// Factor on it at the low end: less than one where it is recalled.
    pub shear_low: f64,
    /// Row of the root-plate coefficients.
    pub coefficient: &'static str,
    /// Row of what another study found.
    pub second: Option<&'static str>,
    /// Whether no pull tests stand behind the coefficient.
    pub fallback: bool,
}
impl Kind {
    /// Of a species, or of a conifer, a broadleaf or nobody knows which.
    ///
    /// # Source
    /// Tables `species`, `wood_green`, `creg` and `tree_constant`: `norforestgales` (read), `wood-handbook`.
    ///
    /// # Errors
    /// If the species is in no table.
    pub fn of(
        species: Option<&str>,
        conifer: Option<bool>,
        warnings: &mut Vec<Warning>,
    ) -> Result<Self, MechanicsError> {
        match species {
            Some(key) => Self::listed(key, warnings),
            None => Self::unlisted(conifer, warnings),
        }
    }

    fn listed(key: &str, warnings: &mut Vec<Warning>) -> Result<Self, MechanicsError> {
        let s = row(g::species::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
            table: "species",
            key: key.to_owned(),
            known: g::species::ROWS.iter().map(|r| r.key).collect(),
        })?;
        let wood = s.wood.and_then(|w| row(g::wood_green::ROWS, w));
        let (shear, shear_how) = match wood.and_then(|w| w.shear.map(|f| (f, w.how))) {
            Some(known) => known,
            None => (least_shear(), How::Memory),
        };
        // A coefficient without pull tests behind it is not used.
        let pulled = |c: &str| row(g::creg::ROWS, c).is_none_or(|r| r.pulled.is_some());
        let tested = s.creg.filter(|c| pulled(c));
        if tested.is_none() {
            warnings.push(Warning::new(
                "tree-no-pull-tests",
                format!(
                    "no pull tests stand behind the root plate of {key}: the cautious coefficient for its kind is used"
                ),
            ));
        }
        if s.how == How::Memory {
            warnings.push(Warning::new(
                "tree-from-memory",
                format!("the wood of {key} is recalled and was not read: its low end is reduced for that"),
            ));
        }
        Ok(Self {
            species: Some(s.key),
            rupture: s.mor,
            rupture_low: from_memory(s.how)?,
            knot: s.knot_factor,
            density: s.green_density,
            volume: s.volume,
            biomass: s.biomass,
            shear,
            shear_low: from_memory(shear_how)?,
            coefficient: tested.unwrap_or(if s.conifer { "conifer" } else { "broadleaf" }),
            second: s.second,
            fallback: tested.is_none(),
        })
    }

    fn unlisted(conifer: Option<bool>, warnings: &mut Vec<Warning>) -> Result<Self, MechanicsError> {
        warnings.push(Warning::new(
            "tree-species-unknown",
            match conifer {
                Some(true) => "species not known: the lowest measured values of conifers are used",
                Some(false) => "species not known: the lowest values of broadleaves are used",
                None => "neither species nor kind is known: the lower of conifer and broadleaf is used",
            },
        ));
        let as_conifer = conifer != Some(false);
        let (mor, knot, density) = if as_conifer {
            ("mor_conifer_mpa", "knot_conifer", "density_conifer")
        } else {
            ("mor_broadleaf_mpa", "knot_broadleaf", "density_broadleaf")
        };
        Ok(Self {
            species: None,
            rupture: Pressure::from_mpa(constant(mor)?),
            rupture_low: 1.0,
            knot: constant(knot)?,
            density: constant(density)?,
            volume: "general",
            biomass: if as_conifer { "cedar_larch" } else { "mixed_hardwood" },
            shear: least_shear(),
            shear_low: from_memory(How::Memory)?,
            coefficient: if as_conifer { "conifer" } else { "broadleaf" },
            second: None,
            fallback: true,
        })
    }
}

/// Least green shear strength of the listed woods, for a species without one.
fn least_shear() -> Pressure {
    g::wood_green::ROWS
        .iter()
        .filter_map(|r| r.shear)
        .fold(Pressure::from_pa(f64::INFINITY), |a, b| if b < a { b } else { a })
}

/// What a recalled strength counts with at the low end.
fn from_memory(how: How) -> Result<f64, MechanicsError> {
    if how == How::Memory { constant("from_memory") } else { Ok(1.0) }
}
