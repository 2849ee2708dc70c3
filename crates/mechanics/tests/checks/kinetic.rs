//! Rows of checks/kinetic.toml to the functions of `kinetic`.

use crate::row::Row;
use unmire_mechanics::kinetic::{
    KineticRope, Law, Problem, Resistance, Unloading, impact_force, impact_stiffness, kinetic_pull, peak_fixed,
    peak_fixed_linear, peak_linear, run_up_slack, run_up_speed, speed_for_cap, strength_used,
};
use unmire_model::{Force, Length, Mass, Silent, Speed};

type Outcome = Result<f64, String>;

fn no(e: impl core::fmt::Debug) -> String {
    format!("{e:?}")
}
fn force(r: &Row, key: &str) -> Result<Force, String> {
    r.num(key).map(Force::from_n)
}
fn force_or_none(r: &Row, key: &str) -> Result<Force, String> {
    if r.has(key) { force(r, key) } else { Ok(Force::ZERO) }
}
fn length(r: &Row, key: &str) -> Result<Length, String> {
    r.num(key).map(Length::from_m)
}
fn mass(r: &Row, key: &str) -> Result<Mass, String> {
    r.num(key).map(Mass::from_kg)
}
fn speed(r: &Row) -> Result<Speed, String> {
    r.num("speed").map(Speed::from_m_s)
}

/// Stiffness in N/m: from EA, or from the strain at half the strength.
fn stiffness(r: &Row) -> Outcome {
    let ea = if r.has("half_at") { 0.5 * r.num("strength")? / r.num("half_at")? } else { r.num("ea")? };
    Ok(ea / r.num("length")?)
}

fn rope(r: &Row) -> Result<KineticRope, String> {
    let length = length(r, "length")?;
    let law = if r.has("exponent") {
        Law::Power { strength: force(r, "strength")?, strain: r.num("strain")?, exponent: r.num("exponent")? }
    } else if r.has("law") {
        if r.text("law")? != "mid" {
            return Err(format!("law {}", r.text("law")?));
        }
        Law::Polynomial { strength: force(r, "strength")?, strain: r.num("strain")?, c: [0.35, 0.25, 0.4] }
    } else {
        KineticRope::linear(length, stiffness(r)?).law
    };
    let unloading = if r.has("way_back") {
        Some(Unloading { residual: r.num("residual")?, exponent: r.num("way_back")? })
    } else {
        None
    };
    let viscous = if r.has("viscous") { r.num("viscous")? } else { 0.0 };
    Ok(KineticRope { length, law, unloading, viscous, breaking: None })
}

fn problem(r: &Row) -> Result<Problem, String> {
    let resistance = if r.has("over") {
        Resistance::Decaying {
            breakaway: force(r, "breakaway")?,
            moving: force(r, "moving")?,
            over: length(r, "over")?,
        }
    } else if r.has("resistance") {
        Resistance::Constant(force(r, "resistance")?)
    } else {
        // K2 rolls freely; every other pull without a resistance does not move.
        match r.id.starts_with("K2-") {
            true => Resistance::Constant(Force::ZERO),
            false => Resistance::Fixed,
        }
    };
    let start = if r.has("start") { r.num("start").map(Speed::from_m_s)? } else { speed(r)? };
    let mut p = Problem::plain(mass(r, "puller")?, start, mass(r, "stuck")?, resistance, rope(r)?);
    p.puller.traction = force_or_none(r, "traction")?;
    if r.has("slack") {
        p.slack = length(r, "slack")?;
    }
    Ok(p)
}

/// The value in SI.
pub fn value(r: &Row) -> Outcome {
    let s = &mut Silent;
    Ok(match (r.formula.as_str(), r.out.as_str()) {
        ("kinetic::kinetic_pull", out) => {
            let o = kinetic_pull(&problem(r)?, s).map_err(no)?;
            match out {
                "peak" => o.peak.as_n(),
                "stretch" => o.stretch.as_m(),
                "strain" => o.strain,
                "travel" => o.travel.as_m(),
                _ => return Err(format!("no {out} of a pull")),
            }
        }
        ("kinetic::strength_used", out) => {
            let rho = r.num("rho")?;
            let used = strength_used(speed(r)?, r.num("kappa")?, rho, length(r, "length")?).map_err(no)?;
            if out == "weight" { used * rho } else { used }
        }
        ("kinetic::peak_fixed_linear", "") => {
            let traction = force_or_none(r, "traction")?;
            peak_fixed_linear(mass(r, "puller")?, speed(r)?, stiffness(r)?, traction).map_err(no)?.as_n()
        }
        ("kinetic::peak_linear", "") => {
            let (m1, m2) = (mass(r, "puller")?, mass(r, "stuck")?);
            let (p, resistance) = (force_or_none(r, "traction")?, force(r, "resistance")?);
            peak_linear(m1, m2, speed(r)?, stiffness(r)?, p, resistance).map_err(no)?.0.as_n()
        }
        ("kinetic::peak_fixed", out) => {
            let (m, p) = (mass(r, "puller")?, force_or_none(r, "traction")?);
            let v = if r.has("slack") {
                run_up_speed(Speed::ZERO, p, length(r, "slack")?, m, s).map_err(no)?
            } else {
                speed(r)?
            };
            let rope = rope(r)?;
            let (f, e) = peak_fixed(&rope, m, v, p).map_err(no)?;
            if out == "strain" { e / rope.length } else { f.as_n() }
        }
        ("kinetic::run_up_speed", "") => {
            let start = r.num("start").map(Speed::from_m_s)?;
            run_up_speed(start, force(r, "traction")?, length(r, "slack")?, mass(r, "mass")?, s).map_err(no)?.as_m_s()
        }
        ("kinetic::run_up_slack", "") => {
            run_up_slack(speed(r)?, force(r, "traction")?, mass(r, "mass")?).map_err(no)?.as_m()
        }
        ("kinetic::speed_for_cap", "") => {
            speed_for_cap(force(r, "cap")?, mass(r, "puller")?, stiffness(r)?, Force::ZERO).map_err(no)?.as_m_s()
        }
        ("kinetic::impact_force", "") => {
            let f = r.num("fall")? / r.num("length")?;
            impact_force(mass(r, "mass")?, f, force(r, "ea")?).map_err(no)?.as_n()
        }
        ("kinetic::impact_stiffness", "") => {
            let f = r.num("fall")? / r.num("length")?;
            impact_stiffness(mass(r, "mass")?, f, force(r, "impact")?).map_err(no)?.as_n()
        }
        ("kinetic::loss_share", "") => rope(r)?.loss_share(length(r, "stretch")?).map_err(no)?,
        ("kinetic::energy_at", "") => {
            let rope = rope(r)?;
            rope.energy_at(rope.stretch_at(force(r, "force")?).map_err(no)?).map_err(no)?.as_j()
        }
        _ => return Err(format!("nothing answers to {} / {}", r.formula, r.out)),
    })
}
