//! Rows about trees, their bark, and what is seen at their base.

use crate::row::Row;
use unmire_mechanics::anchor::{self, watch};
use unmire_model::anchor::{Rooting, SoilGroup, Tree, TreeSigns};
use unmire_model::ground::Season;
use unmire_model::trail::Input;
use unmire_model::{Angle, Force, Length, Mass, Pressure, Range, Silent};

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
fn end(out: &str, range: &Range<f64>) -> Result<f64, String> {
    match out {
        "low" => Ok(range.low()),
        "likely" => Ok(range.likely()),
        "high" => Ok(range.high()),
        other => Err(format!("no end {other}")),
    }
}

/// How a band lies round a stem.
fn around(r: &Row) -> Result<anchor::Around, String> {
    match r.text("around")? {
        "basket" => {
            let included = if r.has("included") { angle(r, "included")? } else { Angle::ZERO };
            Ok(anchor::Around::Basket { included })
        }
        "choker" => Ok(anchor::Around::Choker),
        other => Err(format!("no way round: {other}")),
    }
}

/// What the bark of a tree without a species stands.
fn bark(r: &Row) -> Result<f64, String> {
    let season = match r.has("season").then(|| r.text("season")).transpose()? {
        None => None,
        Some("growing") => Some(Season::Growing),
        Some("dormant") => Some(Season::Dormant),
        Some(other) => return Err(format!("no season {other}")),
    };
    let tree = Tree {
        species: None,
        conifer: r.has("conifer").then(|| r.flag("conifer")).transpose()?,
        diameter: Input::assumed(Range::exact(Length::from_cm(30.0)).map_err(no)?, "not used"),
        height: None,
        soil: SoilGroup::Unknown,
        rooting: Rooting::Medium,
        signs: TreeSigns::all(false),
    };
    Ok(anchor::bark_limit(&tree, season, &mut Silent).map_err(no)?.pressure.as_pa())
}

/// The computed value in SI; none if the formula is not about trees.
pub fn value(r: &Row) -> Result<Option<f64>, String> {
    let silent = &mut Silent;
    let si = match (r.formula.as_str(), r.out.as_str()) {
        ("anchor::stem_bending_force", "equal_to_shear") => {
            let breaking =
                anchor::stem_breaking_moment(length(r, "diameter")?, pressure(r, "rupture")?, r.num("knot")?);
            let shear = anchor::stem_shear_force(length(r, "diameter")?, pressure(r, "shear")?).map_err(no)?;
            breaking.map_err(no)?.as_nm() / shear.as_n()
        }
        ("anchor::lever_at_strap", "") => {
            anchor::lever_at_strap(length(r, "strap")?, angle(r, "rise")?).map_err(no)?.as_m()
        }
        ("anchor::beyond_tests", "") => {
            let mass = |key| r.num(key).map(Mass::from_kg);
            anchor::beyond_tests(mass("stem")?, mass("tested")?).map_err(no)?
        }
        ("anchor::band_pressure", "") => {
            let (w, d) = (length(r, "width")?, length(r, "diameter")?);
            let p = anchor::band_pressure(force(r, "pull")?, around(r)?, w, d, r.count("wraps")?, silent);
            p.map_err(no)?.as_pa()
        }
        ("anchor::least_width", "") => {
            let d = length(r, "diameter")?;
            let w = anchor::least_width(force(r, "pull")?, around(r)?, d, r.count("wraps")?, pressure(r, "limit")?);
            w.map_err(no)?.as_m()
        }
        ("anchor::bark_limit", "") => bark(r)?,
        ("anchor::watch::movement_of_mark", "") => {
            watch::movement_of_mark(angle(r, "rotation")?, length(r, "height")?, silent).map_err(no)?.as_m()
        }
        ("anchor::watch::ultimate_from_tilt", out) => {
            let u = watch::ultimate_from_tilt(force(r, "pull")?, silent).map_err(no)?;
            end(out, &u.increasing(Force::as_n))?
        }
        ("anchor::watch::stiffness_of_root_plate", out) => {
            let u = Range::new(force(r, "low")?, force(r, "likely")?, force(r, "high")?).map_err(no)?;
            end(out, &watch::stiffness_of_root_plate(&u, length(r, "strap")?, silent).map_err(no)?)?
        }
        _ => return Ok(None),
    };
    Ok(Some(si))
}
