//! From a row's formula to the functions of rock and earth.

use crate::row::Row;
use unmire_mechanics::anchor;
use unmire_model::anchor::Stakes;
use unmire_model::{Angle, Force, Length, Mass, Pressure};

fn no(e: impl core::fmt::Debug) -> String {
    format!("{e:?}")
}
fn force(r: &Row, key: &str) -> Result<Force, String> {
    r.num(key).map(Force::from_n)
}
fn length(r: &Row, key: &str) -> Result<Length, String> {
    r.num(key).map(Length::from_m)
}
fn angle(r: &Row, key: &str) -> Result<Angle, String> {
    r.num(key).map(Angle::from_rad)
}
fn pressure(r: &Row, key: &str) -> Result<Pressure, String> {
    r.num(key).map(Pressure::from_pa)
}

/// The computed value in SI.
pub fn value(r: &Row) -> Result<f64, String> {
    let weight = || r.num("mass").map(|m| Mass::from_kg(m).weight());
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("anchor::picket_layout", "") => anchor::picket_layout(r.text("layout")?, r.text("soil")?).map_err(no)?.as_n(),
        ("anchor::steel_pickets", "") => anchor::steel_pickets(r.count("count")?).map_err(no)?.as_n(),
        ("anchor::listed_layout", "likely") => {
            let rows: Result<Vec<u32>, _> = r.text("rows")?.split('-').map(str::parse).collect();
            anchor::listed_layout(&rows.map_err(no)?).map_err(no)?.0.likely().as_n()
        }
        ("anchor::driven_share", "") => {
            let stakes = if r.text("stakes")? == "wood" { Stakes::Wood } else { Stakes::Steel };
            anchor::driven_share(stakes, length(r, "driven")?).map_err(no)?
        }
        ("anchor::height_share", "") => anchor::height_share(length(r, "height")?, length(r, "driven")?).map_err(no)?,
        ("anchor::deadman_length", "") => {
            anchor::deadman_length(force(r, "pull")?, pressure(r, "holds")?, length(r, "face")?).map_err(no)?.as_m()
        }
        ("anchor::deadman_area_force", "") => {
            anchor::deadman_area_force(pressure(r, "holds")?, length(r, "length")?, length(r, "face")?)
                .map_err(no)?
                .as_n()
        }
        ("anchor::deadman_distance", "") => {
            anchor::deadman_distance(length(r, "tower")?, length(r, "depth")?, r.num("slope")?).map_err(no)?.as_m()
        }
        ("anchor::holding_power", "") => {
            let rise = if r.has("run") { Angle::of_grade(1.0 / r.num("run")?) } else { angle(r, "rise")? };
            anchor::holding_power(length(r, "depth")?, rise).map_err(no)?.pressure.as_pa()
        }
        ("anchor::passive_coefficient", "") => anchor::passive_coefficient(angle(r, "friction")?).map_err(no)?,
        ("anchor::active_coefficient", "") => anchor::active_coefficient(angle(r, "friction")?).map_err(no)?,
        ("anchor::strip_in_sand", "") => anchor::strip_in_sand(
            r.num("weight")?,
            angle(r, "friction")?,
            length(r, "top")?,
            length(r, "bottom")?,
            length(r, "breadth")?,
        )
        .map_err(no)?
        .as_n(),
        ("anchor::plate_in_clay", "") => anchor::plate_in_clay(
            r.num("factor")?,
            pressure(r, "cohesion")?,
            length(r, "breadth")?,
            length(r, "height")?,
        )
        .map_err(no)?
        .as_n(),
        ("anchor::bolt_bond", "") => {
            anchor::bolt_bond(length(r, "hole")?, length(r, "bond")?, pressure(r, "strength")?).map_err(no)?.as_n()
        }
        ("anchor::boulder_sliding", "") => {
            anchor::boulder_sliding(weight()?, r.num("friction")?, force(r, "earth")?, angle(r, "rise")?)
                .map_err(no)?
                .as_n()
        }
        ("anchor::boulder_tipping", "") => {
            anchor::boulder_tipping(weight()?, length(r, "base")?, length(r, "height")?, angle(r, "rise")?)
                .map_err(no)?
                .ok_or("no arm")?
                .as_n()
        }
        ("anchor::bridled", "low") => anchor::bridled(r.count("count")?).map_err(no)?.low(),
        _ => return Err(format!("nothing answers to {} / {}", r.formula, r.out)),
    })
}
