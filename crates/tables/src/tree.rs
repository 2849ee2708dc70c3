//! Which coefficients hold for a tree.

use crate::generated::{creg, creg_single, species, tested_stem_mass, tree_constant};
use crate::{Cited, row};
use unmire_model::anchor::{Rooting, SoilGroup};
use unmire_model::{Mass, Origin};

/// A root-plate coefficient, and what is behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct RootCoefficient {
    /// Overturning moment per kilogram of green stem mass, N m/kg.
    pub nm_per_kg: f64,
    /// Where it came from.
    pub origin: Origin,
    /// How it is known.
    pub how: crate::How,
    /// Whether pulled trees of this species stand behind it.
    pub pull_tested: bool,
    /// Whether the row holds for the soil that was named.
    pub for_this_soil: bool,
}

/// A species by its key.
#[must_use]
pub fn species(key: &str) -> Option<&'static species::Row> {
    row(species::ROWS, key)
}

/// A constant of the tree model by its key.
#[must_use]
pub fn constant(key: &str) -> Option<&'static tree_constant::Row> {
    row(tree_constant::ROWS, key)
}

/// The coefficient of a species on a soil; where no pull tests are listed, the fallback for conifers or broadleaves.
/// With an unknown soil the least of the four soils is taken.
#[must_use]
pub fn root_coefficient(
    of: Option<&species::Row>,
    conifer: bool,
    soil: SoilGroup,
    rooting: Rooting,
) -> Option<RootCoefficient> {
    let conifer = of.map_or(conifer, |s| s.conifer);
    let key = of.and_then(|s| s.creg);
    if let Some(r) = key.and_then(|k| row(creg::ROWS, k)).filter(|r| r.pulled.is_some()) {
        let by_soil = |s: SoilGroup| match (s, rooting) {
            (SoilGroup::FreelyDraining, Rooting::Shallow) => r.a_shallow,
            (SoilGroup::FreelyDraining, Rooting::Medium) => r.a_medium,
            (SoilGroup::FreelyDraining, Rooting::Deep) => r.a_deep,
            (SoilGroup::Gley | SoilGroup::Unknown, Rooting::Shallow) => r.b_shallow,
            (SoilGroup::Gley | SoilGroup::Unknown, Rooting::Medium) => r.b_medium,
            (SoilGroup::Gley | SoilGroup::Unknown, Rooting::Deep) => r.b_deep,
            (SoilGroup::Peaty, Rooting::Shallow) => r.c_shallow,
            (SoilGroup::Peaty, Rooting::Medium) => r.c_medium,
            (SoilGroup::Peaty, Rooting::Deep) => r.c_deep,
            (SoilGroup::DeepPeat, Rooting::Shallow) => r.d_shallow,
            (SoilGroup::DeepPeat, Rooting::Medium) => r.d_medium,
            (SoilGroup::DeepPeat, Rooting::Deep) => r.d_deep,
        };
        return Some(RootCoefficient {
            nm_per_kg: by_soil(soil),
            origin: r.origin(),
            how: r.how,
            pull_tested: true,
            for_this_soil: soil != SoilGroup::Unknown,
        });
    }
    let single = key.and_then(|k| row(creg_single::ROWS, k));
    let fallback = || row(creg_single::ROWS, if conifer { "conifer" } else { "broadleaf" });
    let r = single.or_else(fallback)?;
    Some(RootCoefficient {
        nm_per_kg: r.c,
        origin: r.origin(),
        how: r.how,
        pull_tested: single.is_some(),
        for_this_soil: false,
    })
}

/// The greatest stem mass that was tested for a species on a soil; none if no test is listed.
#[must_use]
pub fn tested_mass(species: &str, soil: SoilGroup) -> Option<Mass> {
    let word = match soil {
        SoilGroup::FreelyDraining => "freely-draining",
        SoilGroup::Gley => "gley",
        SoilGroup::Peaty => "peaty",
        SoilGroup::DeepPeat => "deep-peat",
        SoilGroup::Unknown => return None,
    };
    tested_stem_mass::ROWS.iter().find(|r| r.species == species && r.soil == word).map(|r| r.low)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::generated::{biomass, stem_volume, stem_volume_honer, wood_green};

    #[test]
    fn published_coefficients_of_the_model_file() {
        let c = |key, soil, rooting| root_coefficient(species(key), true, soil, rooting).map(|r| r.nm_per_kg);
        assert_eq!(c("douglas_fir", SoilGroup::Gley, Rooting::Shallow), Some(129.7));
        assert_eq!(c("douglas_fir", SoilGroup::FreelyDraining, Rooting::Medium), Some(149.1));
        assert_eq!(c("sitka_spruce", SoilGroup::DeepPeat, Rooting::Deep), Some(196.2));
    }
    #[test]
    fn closed_form_unknown_soil_takes_the_least() {
        for s in species::ROWS {
            for rooting in [Rooting::Shallow, Rooting::Medium, Rooting::Deep] {
                let at = |soil| root_coefficient(Some(s), true, soil, rooting).map_or(f64::NAN, |r| r.nm_per_kg);
                for soil in [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat] {
                    assert!(at(SoilGroup::Unknown) <= at(soil), "{} {soil:?} {rooting:?}", s.key);
                }
            }
        }
    }
    #[test]
    fn regress_oak_has_no_pull_tests_and_gets_the_fallback() {
        let oak = root_coefficient(species("oak"), false, SoilGroup::FreelyDraining, Rooting::Medium).unwrap();
        assert_eq!((oak.nm_per_kg, oak.pull_tested), (110.0, false));
        let unknown = root_coefficient(None, true, SoilGroup::Unknown, Rooting::Medium).unwrap();
        assert_eq!((unknown.nm_per_kg, unknown.pull_tested), (75.0, false));
    }
    #[test]
    fn regress_the_keys_of_a_species_resolve() {
        for s in species::ROWS {
            assert!(row(stem_volume::ROWS, s.volume).is_some() || row(stem_volume_honer::ROWS, s.volume).is_some());
            assert!(row(biomass::ROWS, s.biomass).is_some(), "{}", s.key);
            assert!(s.wood.is_none_or(|w| row(wood_green::ROWS, w).is_some()), "{}", s.key);
            assert!(
                s.creg.is_none_or(|c| row(creg::ROWS, c).is_some() || row(creg_single::ROWS, c).is_some()),
                "{}",
                s.key
            );
        }
        for t in tested_stem_mass::ROWS {
            assert!(species(t.species).is_some(), "{}", t.key);
        }
    }
}
