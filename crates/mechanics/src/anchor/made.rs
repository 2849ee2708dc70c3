//! Made anchors by the field tables: pickets and buried logs. Cross-checks for a stated capacity; the case states what a made
//! anchor holds.

use crate::error::{MechanicsError, positive};
use unmire_model::{Force, Length, Pressure};
use unmire_tables::generated as g;
use unmire_tables::row;

/// What a layout of driven pickets holds, loam value times the soil's factor.
///
/// # Source
/// Table `picket`: `navedtra-14251` (read), some rows `fm-5-125-tables` (memory); soil factors from memory.
///
/// # Errors
/// If layout or soil are in no row.
pub fn picket_layout(layout: &str, soil: &str) -> Result<Force, MechanicsError> {
    let p = row(g::picket::ROWS, layout).ok_or_else(|| MechanicsError::UnknownKey {
        table: "picket layouts",
        key: layout.to_owned(),
        known: g::picket::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let s = row(g::picket_soil::ROWS, soil).ok_or_else(|| MechanicsError::UnknownKey {
        table: "picket soils",
        key: soil.to_owned(),
        known: g::picket_soil::ROWS.iter().map(|r| r.key).collect(),
    })?;
    Ok(p.holds * s.factor)
}

/// Working load of n steel pickets: each so much, up to a ceiling.
///
/// # Source
/// `disaster-rescue` 8.3, read.
///
/// # Errors
/// If the table has no row.
pub fn steel_pickets(count: u32) -> Result<Force, MechanicsError> {
    let r = g::picket_steel::ROWS
        .first()
        .ok_or(MechanicsError::Missing { what: "the row of steel pickets", help: "the table picket_steel is empty" })?;
    Ok((r.each * f64::from(count)).min(r.ceiling))
}

/// Length of a deadman for a pull: `L = F / (HP · D_f) + 1 ft`, HP holding pressure, D_f height of the face; the foot is for the
/// trench of the line.
///
/// # Source
/// `tm-5-5420-278-10` WP 0035, read.
///
/// # Errors
/// If an input is not greater than zero.
pub fn deadman_length(pull: Force, holds: Pressure, face: Length) -> Result<Length, MechanicsError> {
    let f = positive("the pull", pull.as_n(), "greater than zero")?;
    let hp = positive("the holding pressure", holds.as_pa(), "greater than zero")?;
    let d = positive("the height of the face", face.as_m(), "greater than zero")?;
    Ok(Length::from_m(f / (hp * d)) + Length::from_foot(1.0))
}

/// What a deadman holds: `F = HP · (L − 1 ft) · D_f`, the same table the other way round.
///
/// # Source
/// `tm-5-5420-278-10` WP 0035, read.
///
/// # Errors
/// If it is not longer than a foot or another input is not greater than zero.
pub fn deadman_area_force(holds: Pressure, length: Length, face: Length) -> Result<Force, MechanicsError> {
    let hp = positive("the holding pressure", holds.as_pa(), "greater than zero")?;
    let l = positive("the length less a foot", (length - Length::from_foot(1.0)).as_m(), "greater than zero")?;
    let d = positive("the height of the face", face.as_m(), "greater than zero")?;
    Ok(Force::from_n(hp * l * d))
}

/// Distance of a deadman from a tower: `(H + D) / slope`.
///
/// # Source
/// `tm-5-5420-278-10` p. 00-23, read.
///
/// # Errors
/// If the slope is not greater than zero.
pub fn deadman_distance(tower: Length, depth: Length, slope: f64) -> Result<Length, MechanicsError> {
    let s = positive("the slope of the line", slope, "rise over run, for example 0.25")?;
    Ok((tower + depth) / s)
}
