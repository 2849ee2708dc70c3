//! The root plate: when the tree tips out of the ground.

use super::kind::{Kind, constant};
use crate::error::{MechanicsError, not_negative, positive};
use unmire_model::anchor::{Rooting, SoilGroup};
use unmire_model::{Angle, Force, Length, Mass, Moment, Range};
use unmire_tables::generated as g;
use unmire_tables::row;

/// Moment at which the root plate fails: `M = C · SW`. C in N·m per kg of green stem mass.
///
/// # Source
/// `fgr-vignette` (read), after `nicoll-2006`; coefficients: `norforestgales` (read).
///
/// # Errors
/// If an input is not greater than zero.
pub fn root_moment(coefficient_nm_per_kg: f64, stem: Mass) -> Result<Moment, MechanicsError> {
    let c = positive("the root-plate coefficient", coefficient_nm_per_kg, "greater than zero, for example 110 N·m/kg")?;
    let m = positive("the stem's mass", stem.as_kg(), "greater than zero")?;
    Ok(Moment::from_nm(c * m))
}

/// Level pull at strap height h that makes this moment: `F = M / (h + e)`. e stands for the rotation centre below the ground
/// and for the sliding modes that tests with high pulls never showed; without it a low strap would give absurd forces.
///
/// # Source
/// `own-judgement` (e = 1 m is not published).
///
/// # Errors
/// If the height is negative or e not greater than zero.
pub fn force_at_strap(moment: Moment, height: Length, offset: Length) -> Result<Force, MechanicsError> {
    let h = not_negative("the height of the strap", height.as_m(), "zero or more, for example 0.4 m")?;
    let e = positive("the lever's offset", offset.as_m(), "greater than zero, for example 1 m")?;
    Ok(Force::from_n(moment.as_nm() / (h + e)))
}

/// The lever of a pull that rises by β over the level, about the point e under the ground:
/// `(h + e) cos β + x sin β`, x how far in front of the stem the plate turns. A falling line gets no credit: `h + e`. Nor does one
/// that rises past the angle of the greatest lever, `√((h + e)² + x²)`: a steeper line never counts as better.
///
/// # Source
/// `statics`; e and x: `own-judgement` (table `tree_constant`).
///
/// # Errors
/// If the height is negative or the rise is no angle up to straight up or down.
pub fn lever_at_strap(height: Length, rise: Angle) -> Result<Length, MechanicsError> {
    let h = not_negative("the height of the strap", height.as_m(), "zero or more, for example 0.4 m")?;
    let upright = core::f64::consts::FRAC_PI_2;
    let b = crate::error::between("the rise of the line", rise.as_rad(), -upright, upright, "between -90° and 90°")?;
    let (level, hinge) = (h + constant("lever_offset")?, constant("hinge_distance")?);
    let worst = libm::atan2(hinge, level);
    let b = if b < 0.0 { 0.0 } else { b.min(worst) };
    Ok(Length::from_m(level * libm::cos(b) + hinge * libm::sin(b)))
}

/// The four soils of a row, each shallow, medium, deep; one value where the row tells nothing apart.
fn soils(key: &str) -> Result<([[f64; 3]; 4], bool), MechanicsError> {
    if let Some(r) = row(g::creg_single::ROWS, key) {
        return Ok(([[r.c; 3]; 4], true));
    }
    let r = row(g::creg::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "root-plate coefficients",
        key: key.to_owned(),
        known: g::creg::ROWS.iter().map(|r| r.key).chain(g::creg_single::ROWS.iter().map(|r| r.key)).collect(),
    })?;
    let all = [
        [r.a_shallow, r.a_medium, r.a_deep],
        [r.b_shallow, r.b_medium, r.b_deep],
        [r.c_shallow, r.c_medium, r.c_deep],
        [r.d_shallow, r.d_medium, r.d_deep],
    ];
    Ok((all, false))
}

/// Root-plate coefficient by row, soil and rooting, as low, likely and high over what is not known; and whether the row has only
/// one value for all soils.
///
/// Known soil and rooting give one value. Unknown rooting spans shallow to deep with the mean in the middle; unknown soil
/// spans all soils, with the poorest soil's mean as the likely value.
///
/// # Source
/// Tables `creg` and `creg_single`: `norforestgales`, `byrne-2005` (read); spanning: derived.
///
/// # Errors
/// If neither table has the row.
pub fn slope_of_root_moment(
    key: &str,
    soil: SoilGroup,
    rooting: Rooting,
) -> Result<(Range<f64>, bool), MechanicsError> {
    let (all, single) = soils(key)?;
    let [a, b, c, d] = all.map(|[shallow, medium, deep]| match rooting {
        Rooting::Shallow => Range::hull(shallow, shallow, shallow),
        Rooting::Deep => Range::hull(deep, deep, deep),
        // Medium also stands for 'not known'.
        Rooting::Medium => Range::hull(shallow, medium, deep),
    });
    let range = match soil {
        SoilGroup::FreelyDraining => a,
        SoilGroup::Gley => b,
        SoilGroup::Peaty => c,
        SoilGroup::DeepPeat => d,
        SoilGroup::Unknown => {
            let min = |f: fn(&Range<f64>) -> f64| f(&a).min(f(&b)).min(f(&c)).min(f(&d));
            let max = f64::max(f64::max(a.high(), b.high()), f64::max(c.high(), d.high()));
            Range::hull(min(Range::low), min(Range::likely), max)
        }
    };
    Ok((range, single))
}

/// The four soils of the tables, in the order of their columns.
const SOILS: [(SoilGroup, &str); 4] = [
    (SoilGroup::FreelyDraining, "freely-draining"),
    (SoilGroup::Gley, "gley"),
    (SoilGroup::Peaty, "peaty"),
    (SoilGroup::DeepPeat, "deep-peat"),
];

/// The greatest stem mass that was tested, and whether the source lists one for just this species, soil and rooting class.
/// Where it lists none, the least of the species, and where that has none, a low one of all.
fn tested(
    species: Option<&str>,
    soil: &str,
    class: fn(&g::tested_stem_mass::Row) -> Option<Mass>,
) -> Result<(Mass, bool), MechanicsError> {
    let of = || g::tested_stem_mass::ROWS.iter().filter(|r| Some(r.species) == species);
    if let Some(m) = of().find(|r| r.soil == soil).and_then(class) {
        return Ok((m, true));
    }
    let least = of().flat_map(|r| [r.shallow, r.medium, r.deep]).flatten().reduce(|a, b| if b < a { b } else { a });
    Ok((least.map_or_else(|| constant("unlisted_tested_mass").map(Mass::from_kg), Ok)?, false))
}

/// What the root-plate coefficient counts with at the low end for a stem of this mass: 1 up to the tested mass, beyond it
/// `(tested / mass)^0.25`. The moment goes on growing with the mass, but more slowly.
///
/// # Source
/// `own-judgement` (table `tree_constant`, `beyond_tests`): beyond the tests the moment grows with about the square of the
/// diameter.
///
/// # Errors
/// If a mass is not greater than zero.
pub fn beyond_tests(stem: Mass, tested: Mass) -> Result<f64, MechanicsError> {
    let m = positive("the stem's mass", stem.as_kg(), "greater than zero")?;
    let t = positive("the tested stem mass", tested.as_kg(), "greater than zero")?;
    if m <= t { Ok(1.0) } else { Ok(libm::pow(t / m, constant("beyond_tests")?)) }
}

/// What a root plate bears, before scatter and wet ground.
pub(super) struct RootPlate {
    /// The moment that tips it.
    pub moment: Range<Moment>,
    /// Its coefficient, the low end with another study's value and with what lies beyond the tests.
    pub coefficient: Range<f64>,
    /// Whether the tests tell soils apart.
    pub single: bool,
    /// The lowest of what the tests gave, before either.
    pub by_tests: f64,
    /// What another study found, if that is lower.
    pub second: Option<f64>,
    /// The tested stem mass that the low end went by.
    pub tested: Mass,
    /// Whether the source lists it for this species, soil and rooting.
    pub listed: bool,
    /// What lies beyond the tests counts with this at the low end.
    pub beyond: f64,
}

/// The moment that tips the root plate of a stem of this mass.
///
/// Low end: the least over the soils it may be; deep rooting never counts less than shallow, so that the tests of shallow
/// ones speak for it too; another study's lower coefficient goes before; beyond the tested mass it grows more slowly.
pub(super) fn root_plate(
    kind: &Kind,
    soil: SoilGroup,
    rooting: Rooting,
    mass: &Range<Mass>,
) -> Result<RootPlate, MechanicsError> {
    let (range, single) = slope_of_root_moment(kind.coefficient, soil, rooting)?;
    let (all, _) = soils(kind.coefficient)?;
    let second = match kind.second {
        Some(key) if !kind.fallback => Some(slope_of_root_moment(key, soil, rooting)?.0.low()),
        _ => None,
    };
    let mut least: Option<(f64, Mass, bool, f64)> = None;
    for ((group, word), [shallow, _, deep]) in SOILS.iter().zip(all) {
        if soil != SoilGroup::Unknown && soil != *group {
            continue;
        }
        let at = |c: f64, class: fn(&g::tested_stem_mass::Row) -> Option<Mass>| {
            let (limit, listed) = tested(kind.species, word, class)?;
            let k = beyond_tests(mass.low(), limit)?;
            let c = second.map_or(c, |s| s.min(c));
            Ok::<_, MechanicsError>((c * k, limit, listed, k))
        };
        let mut here = at(shallow, |r| r.shallow.or(r.medium))?;
        if rooting == Rooting::Deep {
            let deeper = at(deep, |r| r.deep)?;
            if deeper.0 > here.0 {
                here = deeper;
            }
        }
        if least.is_none_or(|l| here.0 < l.0) {
            least = Some(here);
        }
    }
    let (low, tested, listed, beyond) = least.ok_or(MechanicsError::Missing {
        what: "a soil of the root-plate model",
        help: "name one of freely draining, gley, peaty, deep peat, or leave it out",
    })?;
    let coefficient = Range::hull(low, range.likely(), range.high());
    Ok(RootPlate {
        moment: Range::hull(
            root_moment(coefficient.low(), mass.low())?,
            root_moment(coefficient.likely(), mass.likely())?,
            root_moment(coefficient.high(), mass.high())?,
        ),
        coefficient,
        single,
        by_tests: range.low(),
        second: second.filter(|s| *s < range.low()),
        tested,
        listed,
        beyond,
    })
}
