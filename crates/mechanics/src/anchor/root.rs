//! The root plate: when the tree tips out of the ground.

use crate::error::{MechanicsError, not_negative, positive};
use unmire_model::anchor::{Rooting, SoilGroup};
use unmire_model::{Force, Length, Mass, Moment, Range};
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
    if let Some(r) = row(g::creg_single::ROWS, key) {
        return Ok((Range::hull(r.c, r.c, r.c), true));
    }
    let r = row(g::creg::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "root-plate coefficients",
        key: key.to_owned(),
        known: g::creg::ROWS.iter().map(|r| r.key).chain(g::creg_single::ROWS.iter().map(|r| r.key)).collect(),
    })?;
    let soils: [[f64; 3]; 4] = [
        [r.a_shallow, r.a_medium, r.a_deep],
        [r.b_shallow, r.b_medium, r.b_deep],
        [r.c_shallow, r.c_medium, r.c_deep],
        [r.d_shallow, r.d_medium, r.d_deep],
    ];
    let pick = |c: [f64; 3]| {
        let [shallow, medium, deep] = c;
        match rooting {
            Rooting::Shallow => Range::hull(shallow, shallow, shallow),
            Rooting::Deep => Range::hull(deep, deep, deep),
            // Medium also stands for 'not known'.
            Rooting::Medium => Range::hull(shallow, medium, deep),
        }
    };
    let [a, b, c, d] = soils.map(pick);
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
    Ok((range, false))
}
