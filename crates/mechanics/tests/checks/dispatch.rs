//! From a row's formula to the function, and back to the row's unit.

use crate::row::Row;
use crate::units;
use unmire_mechanics::{anchor, ground, hitch, recoil, rope, shackle, sheave, stability, winch};
use unmire_model::anchor::{Rooting, SoilGroup};
use unmire_model::gear::{Bearing, Label, Material};
use unmire_model::ground::Depth;
use unmire_model::role::{BreakingStrength, WorkingLoadLimit};
use unmire_model::trail::Input;
use unmire_model::vehicle::{Drum, Winch, WinchLine};
use unmire_model::{Angle, Area, Energy, Force, Length, Mass, Moment, Pressure, Range, Silent, Vec3};

type Outcome = Result<f64, String>;

/// The computed value in the row's unit.
pub fn value(r: &Row) -> Outcome {
    let (room, _) = r.formula.split_once("::").ok_or_else(|| format!("formula {} names no room", r.formula))?;
    if let Some(found) = crate::pull::value(r, || plain_winch(Material::Hmpe)) {
        return Ok(found? / units::size(&r.unit)?);
    }
    let si = match room {
        "ground" => ground_value(r),
        "sheave" => sheave_value(r),
        "hitch" => hitch_value(r),
        "shackle" => shackle_value(r),
        "rope" => rope_value(r),
        "winch" => winch_value(r),
        "anchor" => crate::trees::value(r)?.map_or_else(|| anchor_value(r), Ok),
        "stability" => stability_value(r),
        "recoil" => recoil_value(r),
        "kinetic" => crate::kinetic::value(r),
        "role" => role_value(r),
        _ => Err(unknown(r)),
    }?;
    Ok(si / units::size(&r.unit)?)
}

fn unknown(r: &Row) -> String {
    format!("nothing answers to {} / {}", r.formula, r.out)
}
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
/// A weight given as such, or as a mass.
fn weight(r: &Row) -> Result<Force, String> {
    if r.has("mass") { r.num("mass").map(|m| Mass::from_kg(m).weight()) } else { force(r, "weight") }
}
/// A slope given as an angle or as a grade.
fn slope(r: &Row) -> Result<Angle, String> {
    if r.has("grade") { r.num("grade").map(Angle::of_grade) } else { angle(r, "slope") }
}
/// A tension ratio given as such, or as an efficiency.
fn ratio(r: &Row) -> Outcome {
    if r.has("efficiency") { r.num("efficiency").map(|e| 1.0 / e) } else { r.num("ratio") }
}
fn exact(v: f64) -> Range<f64> {
    Range::hull(v, v, v)
}

/// One end of a range.
fn end(r: &Row, out: &str, range: &Range<f64>) -> Outcome {
    match out {
        "low" => Ok(range.low()),
        "likely" => Ok(range.likely()),
        "high" => Ok(range.high()),
        _ => Err(unknown(r)),
    }
}
fn depth(r: &Row) -> Result<Depth, String> {
    match r.text("depth")? {
        "wheel" => Ok(Depth::Wheel),
        "wheel-arch" => Ok(Depth::WheelArch),
        "cab" => Ok(Depth::Cab),
        other => Err(format!("depth {other}")),
    }
}

fn ground_value(r: &Row) -> Outcome {
    let s = &mut Silent;
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("ground::grade_by_degrees", "") => ground::grade_by_degrees(weight(r)?, r.num("grade")?).as_n(),
        ("ground::grade_by_sixty", "") => ground::grade_by_sixty(weight(r)?, slope(r)?).as_n(),
        ("ground::grade_resistance", "") => ground::grade_resistance(weight(r)?, slope(r)?, s).as_n(),
        ("ground::grade_resistance", "slope") => slope(r)?.as_rad(),
        ("ground::slope_by_fifteen", "") => ground::slope_by_fifteen(weight(r)?, slope(r)?).as_n(),
        ("ground::haul_road_resistance", "") => {
            ground::haul_road_resistance(weight(r)?, r.num("grade_pct")?, r.num("rolling_pct")?).as_n()
        }
        ("ground::rolling_resistance", "") => {
            ground::rolling_resistance(weight(r)?, r.num("share")?, slope(r)?, s).as_n()
        }
        ("ground::body_factor", "") => ground::body_factor(weight(r)?, r.num("factor")?).as_n(),
        ("ground::ground_factor_resistance", "") => {
            ground::ground_factor_resistance(weight(r)?, r.num("ground_factor")?).map_err(no)?.as_n()
        }
        ("ground::drawbar", "") => ground::drawbar(force(r, "gross")?, force(r, "resistance")?).as_n(),
        ("ground::penetration_share", "") => ground::penetration_share(length(r, "depth")?).map_err(no)?,
        ("ground::doctrines", "share") => {
            let key = r.text("key")?;
            ground::doctrines(depth(r)?).iter().find(|d| d.key == key).ok_or_else(|| unknown(r))?.share.likely()
        }
        ("ground::sinkage", "") => {
            let soil = ground::soil(r.text("soil")?).map_err(no)?;
            ground::sinkage(&soil, force(r, "load")?, length(r, "width")?, length(r, "diameter")?).map_err(no)?.as_m()
        }
        ("ground::soil_thrust", "") => {
            let soil = ground::soil(r.text("soil")?).map_err(no)?;
            ground::soil_thrust(&soil, force(r, "load")?, Area::from_m2(r.num("area")?)).map_err(no)?.as_n()
        }
        ("ground::rolling", out) => end(r, out, &ground::rolling(r.text("surface")?).map_err(no)?.share)?,
        ("ground::soil", out) => {
            let soil = ground::soil(r.text("soil")?).map_err(no)?;
            match out {
                "n" => soil.n,
                "k_c" => soil.k_c,
                "k_phi" => soil.k_phi,
                "cohesion" => soil.cohesion_kpa,
                "phi" => soil.friction_deg,
                _ => return Err(unknown(r)),
            }
        }
        ("ground::effect", out) => {
            let word = r.text("action")?;
            let action = ground::ActionKind::ALL.into_iter().find(|a| a.word() == word).ok_or_else(|| unknown(r))?;
            end(r, out, &ground::effect(action).map_err(no)?.factor)?
        }
        ("ground::mire_band", out) => end(r, out, &ground::mire_band(depth(r)?).map_err(no)?.share)?,
        ("ground::bekker", out) => {
            let soil = ground::soil(r.text("soil")?).map_err(no)?;
            let load = force(r, "load")?;
            let b = ground::bekker(&soil, load, length(r, "width")?, length(r, "diameter")?, s).map_err(no)?;
            match out {
                "sinkage" => b.sinkage.as_m(),
                "depth_ratio" => b.depth_ratio,
                "resistance" => b.resistance.as_n(),
                "resistance_share" => b.resistance / load,
                "four_wheels" => b.resistance.as_n() * 4.0,
                "valid" => f64::from(u8::from(b.doubt.is_none())),
                _ => return Err(unknown(r)),
            }
        }
        _ => return Err(unknown(r)),
    })
}

fn sheave_value(r: &Row) -> Outcome {
    let s = &mut Silent;
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("sheave::resultant", "") => {
            sheave::resultant(force(r, "first")?, force(r, "second")?, angle(r, "angle")?, s).as_n()
        }
        ("sheave::capstan_ratio", "") => sheave::capstan_ratio(r.num("friction")?, angle(r, "wrap")?).map_err(no)?,
        ("sheave::ring_efficiency", out) => {
            let eta = sheave::ring_efficiency(&exact(r.num("friction")?), angle(r, "wrap")?, s).map_err(no)?.likely();
            match out {
                "likely" => eta,
                // Both parts of the line along the pull.
                "block" => {
                    let t = force(r, "line")?;
                    sheave::resultant(t, t * eta, Angle::ZERO, s).as_n()
                }
                _ => return Err(unknown(r)),
            }
        }
        ("sheave::efficiency", "likely") => {
            let bearing = match r.text("bearing")? {
                "plain" => Bearing::Plain,
                "bronze" => Bearing::Bronze,
                "roller" => Bearing::Roller,
                other => return Err(format!("bearing {other}")),
            };
            sheave::efficiency(bearing).likely()
        }
        ("sheave::advantage_fixed_lead", "") => {
            sheave::advantage_fixed_lead(r.count("parts")?, ratio(r)?).map_err(no)?
        }
        ("sheave::advantage_moving_lead", out) => {
            let ma = sheave::advantage_moving_lead(r.count("parts")?, ratio(r)?).map_err(no)?;
            match out {
                "" => ma,
                "pull" => force(r, "load")?.as_n() / ma,
                _ => return Err(unknown(r)),
            }
        }
        ("sheave::lead_line_factor", out) => {
            let f = sheave::lead_line_factor(r.count("parts")?, ratio(r)?, r.count("redirects")?).map_err(no)?;
            match out {
                "" => f,
                "pull" => force(r, "load")?.as_n() * f,
                _ => return Err(unknown(r)),
            }
        }
        ("sheave::doctrine_line_pull", out) => {
            let share = sheave::DOCTRINE_SHARE_PER_SHEAVE;
            let p = sheave::doctrine_line_pull(force(r, "load")?, r.num("advantage")?, r.count("sheaves")?, share, s)
                .map_err(no)?;
            match out {
                "total" => p.total.as_n(),
                "line_pull" => p.line_pull.as_n(),
                "tackle_resistance" => p.tackle_resistance.as_n(),
                _ => return Err(unknown(r)),
            }
        }
        ("sheave::doctrine_parts", "parts") => {
            f64::from(sheave::doctrine_parts(force(r, "load")?, force(r, "winch")?).map_err(no)?.parts)
        }
        ("sheave::doctrine_tackle_limit", "") => {
            sheave::doctrine_tackle_limit(force(r, "limit")?, r.count("parts")?, r.count("sheaves")?).as_n()
        }
        ("sheave::compound_advantage", "") => sheave::compound_advantage(r.num("first")?, r.num("second")?),
        _ => return Err(unknown(r)),
    })
}

fn hitch_value(r: &Row) -> Outcome {
    let s = &mut Silent;
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("hitch::level_leg", "") => hitch::level_leg(weight(r)?, angle(r, "angle")?).map_err(no)?.as_n(),
        ("hitch::shared_level_leg", "") => {
            hitch::shared_level_leg(weight(r)?, r.count("legs")?, angle(r, "angle")?).map_err(no)?.as_n()
        }
        ("hitch::shared_level_leg", "capacity") => {
            1.0 / hitch::shared_level_leg(Force::from_n(1.0), 1, angle(r, "angle")?).map_err(no)?.as_n()
        }
        ("hitch::level_leg_by_length", out) => {
            let f = hitch::level_leg_by_length(length(r, "height")?, length(r, "length")?).map_err(no)?;
            match out {
                "" => f,
                "leg" => weight(r)?.as_n() / f64::from(r.count("legs")?) * f,
                _ => return Err(unknown(r)),
            }
        }
        ("hitch::single_choker_reduction", out) => {
            let f = hitch::single_choker_reduction(length(r, "height")?, length(r, "length")?).map_err(no)?;
            match out {
                "" => f,
                "rating" => force(r, "rating")?.as_n() * f,
                _ => return Err(unknown(r)),
            }
        }
        ("hitch::vertical_share", "") => {
            weight(r)?.as_n() * hitch::vertical_share(length(r, "a")?, length(r, "b")?).map_err(no)?
        }
        ("hitch::pair_lift_legs", out) => {
            let p = hitch::pair_lift_legs(weight(r)?, length(r, "a")?, length(r, "b")?, length(r, "height")?)
                .map_err(no)?;
            leg(r, out, &p)?
        }
        ("hitch::bridle_legs", out) => {
            let p = hitch::bridle_legs(force(r, "pull")?, angle(r, "first")?, angle(r, "second")?, s).map_err(no)?;
            leg(r, out, &p)?
        }
        ("hitch::included_angle_leg", "") => {
            hitch::included_angle_leg(force(r, "pull")?, angle(r, "included")?).map_err(no)?.as_n()
        }
        ("hitch::included_angle_leg", "capacity") => {
            1.0 / hitch::included_angle_leg(Force::from_n(1.0), angle(r, "included")?).map_err(no)?.as_n()
        }
        ("hitch::choke_factor", "") => hitch::choke_factor(angle(r, "choke")?),
        ("hitch::choke_factor", "capacity") => {
            force(r, "vertical")?.as_n() * hitch::choker_share() * hitch::choke_factor(angle(r, "choke")?)
        }
        ("hitch::choker_share", "") => hitch::choker_share(),
        ("hitch::natural_choke_angle", "") => hitch::natural_choke_angle(r.num("friction")?).map_err(no)?.as_rad(),
        ("hitch::contact_pressure", "") => {
            hitch::contact_pressure(force(r, "tension")?, length(r, "width")?, length(r, "radius")?).as_pa()
        }
        ("hitch::basket_length", "") => {
            hitch::basket_length(length(r, "radius")?, length(r, "reach")?).map_err(no)?.as_m()
        }
        ("hitch::basket", out) => {
            let h = hitch::basket(length(r, "radius")?, length(r, "strap")?, s).map_err(no)?;
            match out {
                "reach" => h.reach.as_m(),
                "equal_share" => h.leg_share(hitch::Legs::Equal),
                _ => return Err(unknown(r)),
            }
        }
        _ => return Err(unknown(r)),
    })
}

fn leg(r: &Row, out: &str, legs: &hitch::BridleLegs) -> Outcome {
    match out {
        "first" => Ok(legs.first.as_n()),
        "second" => Ok(legs.second.as_n()),
        _ => Err(unknown(r)),
    }
}

fn shackle_value(r: &Row) -> Outcome {
    let s = &mut Silent;
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("shackle::rule_of_thumb", "") => shackle::rule_of_thumb(length(r, "bow")?).map_err(no)?.as_n(),
        ("shackle::rule_of_thumb_metric", "") => shackle::rule_of_thumb_metric(length(r, "bow")?).map_err(no)?.as_n(),
        ("shackle::side_load_factor", "") => shackle::side_load_factor(angle(r, "angle")?, s).map_err(no)?,
        ("shackle::side_load_factor", "limit") => {
            force(r, "limit")?.as_n() * shackle::side_load_factor(angle(r, "angle")?, s).map_err(no)?
        }
        ("shackle::temperature_factor", "") => shackle::temperature_factor(r.num("celsius")?).map_err(no)?,
        _ => return Err(unknown(r)),
    })
}

fn wire(r: &Row) -> Result<Force, String> {
    rope::wire_breaking_force(length(r, "diameter")?, r.num("grade")?, r.num("k")?).map_err(no)
}

fn rope_value(r: &Row) -> Outcome {
    let s = &mut Silent;
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("rope::wire_bend_factor", "") => rope::wire_bend_factor(r.num("ratio")?, s).map_err(no)?,
        ("rope::wire_bend_factor", "by_diameters") => {
            rope::wire_bend_factor(length(r, "sheave")? / length(r, "rope")?, s).map_err(no)?
        }
        ("rope::wire_bend_factor", "strength") => {
            wire(r)?.as_n() * rope::wire_bend_factor(r.num("ratio")?, s).map_err(no)?
        }
        ("rope::wire_fatigue_ratio", "") => rope::wire_fatigue_ratio(r.num("better")?, r.num("worse")?).map_err(no)?,
        ("rope::fibre_line_strength", "") => {
            rope::fibre_line_strength(length(r, "circumference")?, r.flag("nylon")?).map_err(no)?.as_n()
        }
        ("rope::fibre_line_circumference", "") => rope::fibre_line_circumference(force(r, "load")?).map_err(no)?.as_m(),
        ("rope::fibre_block_shell", "") => rope::fibre_block_shell(length(r, "circumference")?).as_m(),
        ("rope::chain_field_rule", "") => rope::chain_field_rule(length(r, "diameter")?).map_err(no)?.as_n(),
        ("rope::chain_breaking_force", "") => {
            rope::chain_breaking_force(r.num("grade")?, length(r, "diameter")?).map_err(no)?.as_n()
        }
        ("rope::wire_clips", "") => f64::from(rope::wire_clips(length(r, "diameter")?).map_err(no)?),
        ("rope::wire_breaking_force", "") => wire(r)?.as_n(),
        ("rope::wire_breaking_force", "sling_limit") => {
            wire(r)?.as_n() * rope::termination_factor(r.text("end")?, false).map_err(no)? / r.num("factor")?
        }
        ("rope::termination_factor", "") => {
            rope::termination_factor(r.text("end")?, r.flag("fibre_core")?).map_err(no)?
        }
        ("rope::wet_factor", "") => rope::wet_factor(material(r)?, true),
        ("rope::stiffness", "likely") => {
            rope::stiffness(material(r)?, None, force(r, "breaking")?, None, s).map_err(no)?.likely().as_n()
        }
        ("rope::mass_per_metre", "likely") => {
            rope::mass_per_metre(material(r)?, length(r, "diameter")?).map_err(no)?.likely().as_kg()
        }
        ("rope::wire_stiffness", "likely") => rope::wire_stiffness(length(r, "diameter")?).map_err(no)?.likely().as_n(),
        ("rope::termination_factor", "strength") => {
            wire(r)?.as_n() * rope::termination_factor(r.text("end")?, false).map_err(no)?
        }
        ("rope::wet_factor", "strength") => force(r, "breaking")?.as_n() * rope::wet_factor(material(r)?, true),
        ("rope::elongation", "") => {
            rope::elongation(force(r, "pull")?, length(r, "length")?, force(r, "ea")?).map_err(no)?.as_m()
        }
        ("rope::stiffness_ratio", "likely") => rope::stiffness_ratio(material(r)?, None).map_err(no)?.likely(),
        _ => return Err(unknown(r)),
    })
}

fn material(r: &Row) -> Result<Material, String> {
    match r.text("material")? {
        "nylon" => Ok(Material::Nylon),
        "polyester" => Ok(Material::Polyester),
        "hmpe" => Ok(Material::Hmpe),
        other => Err(format!("material {other}")),
    }
}

fn winch_value(r: &Row) -> Outcome {
    let drum = || -> Result<(Drum, Length), String> {
        Ok((Drum { diameter: length(r, "drum")?, width: length(r, "width")? }, length(r, "line")?))
    };
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("winch::layer_pull_by_step", "") => {
            winch::layer_pull_by_step(force(r, "first")?, r.num("step")?, r.count("layer")?).map_err(no)?.as_n()
        }
        ("winch::layer_pull", "") => {
            let (d, line) = drum()?;
            winch::layer_pull(force(r, "first")?, &d, line, r.count("layer")?, winch::Lay::Stacked).map_err(no)?.as_n()
        }
        ("winch::drum_capacity", "layer") => {
            let (d, line) = drum()?;
            let k = r.count("layer")?;
            let upto = |k| winch::drum_capacity(&d, line, k, winch::Lay::Stacked).map_err(no);
            (upto(k)? - upto(k - 1)?).as_m()
        }
        ("winch::fleet_lead", "") => {
            winch::fleet_lead(length(r, "half_width")?, angle(r, "angle")?).map_err(no)?.as_m()
        }
        ("winch::fleet_angle", "") => {
            winch::fleet_angle(length(r, "half_width")?, length(r, "lead")?).map_err(no)?.as_rad()
        }
        ("winch::turns_required", "") => {
            let material = if r.text("line")? == "wire" { Material::SteelWire } else { Material::Hmpe };
            winch::turns_required(&plain_winch(material)).0
        }
        ("winch::fairlead_limit", "") => winch::fairlead_limit(&plain_winch(Material::Hmpe)).0.as_rad(),
        ("winch::drum_capacity_constant", "") => winch::drum_capacity_constant(length(r, "line")?).map_err(no)?,
        _ => return Err(unknown(r)),
    })
}

/// A winch of which nothing but its line is told.
fn plain_winch(material: Material) -> Winch {
    Winch {
        id: "W".into(),
        position: Vec3::ZERO,
        direction: Vec3::new(1.0, 0.0, 0.0),
        rated_pull: Input::assumed(Force::from_kn(40.0), "a row"),
        stall: None,
        drum: None,
        line: WinchLine {
            material,
            diameter: Length::from_mm(10.0),
            length: Length::from_m(25.0),
            label: Label::Missing,
        },
        min_wraps: None,
        mount: Label::Missing,
        fairlead_limit: None,
        current_calibrated: false,
        drive: None,
        line_no: 0,
    }
}

/// A root-plate moment from its makings.
fn root_moment(r: &Row) -> Result<Moment, String> {
    anchor::root_moment(r.num("coefficient")?, stem_mass(r)?).map_err(no)
}

fn stem_mass(r: &Row) -> Result<Mass, String> {
    let v = anchor::stem_volume(r.text("volume")?, length(r, "diameter")?, length(r, "height")?).map_err(no)?;
    anchor::green_stem_mass(v, r.num("density")?).map_err(no)
}

fn anchor_value(r: &Row) -> Outcome {
    let breaking = || {
        let mor = Pressure::from_pa(r.num("rupture")?);
        anchor::stem_breaking_moment(length(r, "diameter")?, mor, r.num("knot")?).map_err(no)
    };
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("anchor::section_modulus", "") => anchor::section_modulus(length(r, "diameter")?).map_err(no)?,
        ("anchor::stem_breaking_moment", "") => breaking()?.as_nm(),
        ("anchor::stem_bending_force", "") => {
            anchor::stem_bending_force(breaking()?, length(r, "height")?).map_err(no)?.as_n()
        }
        ("anchor::stem_bending_force", "root_moment") => {
            anchor::stem_bending_force(root_moment(r)?, length(r, "height_of_pull")?).map_err(no)?.as_n()
        }
        ("anchor::stem_shear_force", "") => {
            anchor::stem_shear_force(length(r, "diameter")?, Pressure::from_pa(r.num("shear")?)).map_err(no)?.as_n()
        }
        ("anchor::hollow_ratio", "") => anchor::hollow_ratio(length(r, "outer")?, length(r, "inner")?).map_err(no)?,
        ("anchor::stem_volume", "") => {
            anchor::stem_volume(r.text("volume")?, length(r, "diameter")?, length(r, "height")?).map_err(no)?
        }
        ("anchor::green_stem_mass", "") => stem_mass(r)?.as_kg(),
        ("anchor::root_moment", "") => root_moment(r)?.as_nm(),
        ("anchor::force_at_strap", "") => {
            let f = anchor::force_at_strap(root_moment(r)?, length(r, "strap")?, length(r, "offset")?).map_err(no)?;
            f.as_n() / if r.has("divisor") { r.num("divisor")? } else { 1.0 }
        }
        ("anchor::arborist_stem_force", "") => anchor::arborist_stem_force(
            length(r, "diameter")?,
            length(r, "height")?,
            angle(r, "angle")?,
            Pressure::from_pa(r.num("compression")?),
            r.num("density")?,
        )
        .map_err(no)?
        .as_n(),
        ("anchor::dry_stem_mass", "") => {
            anchor::dry_stem_mass(r.text("group")?, length(r, "diameter")?).map_err(no)?.as_kg()
        }
        ("anchor::slope_of_root_moment", "likely") => {
            let soil = match r.text("soil")? {
                "freely-draining" => SoilGroup::FreelyDraining,
                "gley" => SoilGroup::Gley,
                "peaty" => SoilGroup::Peaty,
                "deep-peat" => SoilGroup::DeepPeat,
                other => return Err(format!("soil {other}")),
            };
            let rooting = match r.text("rooting")? {
                "shallow" => Rooting::Shallow,
                "medium" => Rooting::Medium,
                "deep" => Rooting::Deep,
                other => return Err(format!("rooting {other}")),
            };
            anchor::slope_of_root_moment(r.text("key")?, soil, rooting).map_err(no)?.0.likely()
        }
        ("anchor::parked::tyre_friction", out) => {
            end(r, out, &anchor::parked::tyre_friction(r.text("ground")?).map_err(no)?.friction)?
        }
        ("anchor::dry_biomass", "") => {
            anchor::dry_biomass(r.text("group")?, length(r, "diameter")?).map_err(no)?.as_kg()
        }
        ("anchor::parked::sliding_pull", "") => anchor::parked::sliding_pull(
            weight(r)?,
            r.num("share")?,
            r.num("friction")?,
            slope(r)?,
            angle(r, "rise")?,
            r.flag("uphill")?,
        )
        .map_err(no)?
        .as_n(),
        ("anchor::parked::tipping_pull", "") => {
            anchor::parked::tipping_pull(weight(r)?, length(r, "arm")?, length(r, "height")?).map_err(no)?.as_n()
        }
        ("anchor::sharing::share", "force") => crate::sharing::shared(r)?.force.likely().as_n(),
        ("anchor::sharing::share", "share") => crate::sharing::shared(r)?.share.likely(),
        ("anchor::sharing::share", "most") => crate::sharing::shared(r)?.share.high(),
        _ => return crate::made::value(r),
    })
}

fn stability_value(r: &Row) -> Outcome {
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("stability::roll_ratio", "") => {
            stability::roll_ratio(length(r, "cg")?, length(r, "track")?, slope(r)?).map_err(no)?
        }
        ("stability::effective_angle", "") => {
            stability::effective_angle(r.num("used")?, length(r, "cg")?, length(r, "track")?).map_err(no)?.as_rad()
        }
        _ => return Err(unknown(r)),
    })
}

fn recoil_value(r: &Row) -> Outcome {
    let mass = |key| r.num(key).map(Mass::from_kg);
    let s = &mut Silent;
    Ok(match r.formula.as_str() {
        "recoil::published_distances" => {
            let of = recoil::Lengths {
                longest_line: length(r, "line")?,
                paid_out: length(r, "out_")?,
                strap: Some(length(r, "strap")?),
                ..recoil::Lengths::default()
            };
            let rule = r.text("rule")?;
            let rules = recoil::published_distances(&of);
            return rules.iter().find(|s| s.key == rule).map(|s| s.distance.as_m()).ok_or_else(|| unknown(r));
        }
        "recoil::stored_energy" => {
            recoil::stored_energy(force(r, "tension")?, length(r, "length")?, force(r, "ea")?, s).map_err(no)?.as_j()
        }
        "recoil::wave_speed" => {
            let v = recoil::wave_speed(force(r, "tension")?, force(r, "ea")?, mass("mass_per_metre")?);
            v.map_err(no)?.as_m_s()
        }
        "recoil::fitting_speed" => {
            let (f, ea, m) = (force(r, "tension")?, force(r, "ea")?, mass("mass_per_metre")?);
            recoil::fitting_speed(f, ea, m, length(r, "length")?, mass("fitting")?).map_err(no)?.as_m_s()
        }
        "recoil::energy_speed" => {
            recoil::energy_speed(Energy::from_j(r.num("energy")?), mass("mass")?).map_err(no)?.as_m_s()
        }
        _ => return Err(unknown(r)),
    })
}

fn role_value(r: &Row) -> Outcome {
    let factor = r.num("factor")?;
    Ok(match r.formula.as_str() {
        "role::working_load_limit" => BreakingStrength(force(r, "breaking")?).working_load_limit(factor).force().as_n(),
        "role::breaking_strength" => WorkingLoadLimit(force(r, "working")?).breaking_strength(factor).force().as_n(),
        _ => return Err(unknown(r)),
    })
}
