//! A boulder or a block: it holds by its weight until it slides or tips; what is buried of its front helps.

use super::capacity::{AnchorCapacity, AnchorMode, Pulled, Way};
use super::earth::{active_coefficient, earth_strength, passive_coefficient};
use crate::error::{MechanicsError, between, not_negative, positive};
use crate::standing::Warning;
use unmire_model::anchor::Boulder;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Mass, Range};
use unmire_tables::generated as g;
use unmire_tables::row;

fn of_shape(key: &'static str) -> Result<(Range<f64>, &'static g::boulder::Row), MechanicsError> {
    row(g::boulder::ROWS, key).map(|r| (r.band(), r)).ok_or_else(|| MechanicsError::UnknownKey {
        table: "boulders and blocks",
        key: key.to_owned(),
        known: g::boulder::ROWS.iter().map(|r| r.key).collect(),
    })
}

/// Pull at which a boulder slides on level ground: `T = (μ W + P) / (cos β + μ sin β)`. W its weight, μ friction under it, P what the
/// earth in front of its buried face resists with, β rise of the line above the level.
///
/// # Source
/// `statics`: `T cos β = μ (W − T sin β) + P`, derived.
///
/// # Errors
/// If weight or friction are not greater than zero, P is negative, or the line falls or rises beyond the upright.
pub fn boulder_sliding(weight: Force, friction: f64, earth: Force, rise: Angle) -> Result<Force, MechanicsError> {
    let w = positive("the weight of the boulder", weight.as_n(), "greater than zero")?;
    let mu = between("the friction under the boulder", friction, 1e-3, 2.0, "0.001 to 2, for example 0.4")?;
    let p = not_negative("the resistance of the earth in front", earth.as_n(), "zero or more")?;
    let b = rising(rise)?;
    Ok(Force::from_n((mu * w + p) / (libm::cos(b) + mu * libm::sin(b))))
}

/// Pull at which a boulder tips about its front edge: `T = W a / (h cos β + a sin β)`, a half of its base along the pull, h height of
/// the line over its middle, β its rise. None where the line has no arm: level and on the ground.
///
/// # Source
/// `statics`, derived: moments about the front edge, the weight over the middle of the base.
///
/// # Errors
/// If weight or base are not greater than zero, the height is negative, or the line falls or rises beyond the upright.
pub fn boulder_tipping(
    weight: Force,
    base: Length,
    height: Length,
    rise: Angle,
) -> Result<Option<Force>, MechanicsError> {
    let w = positive("the weight of the boulder", weight.as_n(), "greater than zero")?;
    let a = 0.5 * positive("the base of the boulder", base.as_m(), "greater than zero")?;
    let h = not_negative("the height of the strap", height.as_m(), "zero or more, for example 0.3 m")?;
    let b = rising(rise)?;
    let arm = h * libm::cos(b) + a * libm::sin(b);
    Ok((arm > 1e-9 * a).then(|| Force::from_n(w * a / arm)))
}

fn rising(rise: Angle) -> Result<f64, MechanicsError> {
    between(
        "the rise of the line",
        rise.as_rad(),
        0.0,
        core::f64::consts::FRAC_PI_2,
        "0° to 90°; a falling line counts as level",
    )
}

/// The rise that counts: a falling line as level, one that is steeper than the worst as the worst.
fn counted(rise: Angle, worst: f64) -> Angle {
    rise.max(Angle::ZERO).min(Angle::from_rad(worst))
}

/// What a boulder holds: the lower of sliding and tipping, at each end. Its signs are judged before.
///
/// Mass: as told, or length · breadth · height · fullness · density. Friction: its row, the lowest on a saturated site. The base is a
/// share of its length. A line that rises beyond the worst angle (`tan β = μ` for sliding, `a/h` for tipping) counts as at that
/// angle; one that falls counts as level. The earth before its buried face counts with nothing at the low end if the soil is not
/// known, else with a share, for friction gives before earth pressure has grown.
///
/// # Source
/// `statics`; friction: table `foundation_friction`; density, fullness, base, share: table `boulder` (`own-judgement`).
///
/// # Errors
/// If a key is in no table or a measure is not in order.
///
/// # Assumes
/// Level ground, the line over the middle of its breadth.
pub fn boulder(
    of: &Boulder,
    height: Length,
    pulled: &Pulled,
    rec: &mut impl Recorder,
) -> Result<AnchorCapacity, MechanicsError> {
    let mut warnings = vec![Warning::new(
        "boulder-level-ground",
        "reckoned on level ground: pulled down a slope it holds less; mark the ground at its edge and stop when it moves",
    )];
    not_negative("the height of the strap", height.as_m(), "zero or more, for example 0.3 m")?;
    if let Some(size) = &of.size {
        for side in size {
            positive("a side of the boulder", side.value.low().as_m(), "greater than zero")?;
        }
        if height > size[2].value.high() {
            let reason =
                "the strap would lie above the top of the boulder: say another height of the strap or of the boulder";
            return Ok(AnchorCapacity::unknown(reason, Vec::new(), warnings));
        }
    }
    let Some(mass) = mass(of, rec, &mut warnings)? else {
        return Ok(AnchorCapacity::unknown("neither the boulder's mass nor its size is told", Vec::new(), warnings));
    };
    let weight = mass.increasing(Mass::weight);
    let friction = friction(of, pulled.saturated, &mut warnings)?;
    let earth = in_front(of, pulled.saturated, rec, &mut warnings)?;
    let base = base(of, &mut warnings)?;

    let slides = |w: Force, mu: f64, p: Force| boulder_sliding(w, mu, p, counted(pulled.rise, libm::atan(mu)));
    let sliding = Range::hull(
        slides(weight.low(), friction.0.low(), earth.low())?,
        slides(weight.likely(), friction.0.likely(), earth.likely())?,
        slides(weight.high(), friction.0.high(), earth.high())?,
    );
    let tips = |w: Force, b: Length| {
        let worst = libm::atan2(0.5 * b.as_m(), height.as_m());
        boulder_tipping(w, b, height, counted(pulled.rise, worst))
    };
    let tipping =
        (tips(weight.low(), base.low())?, tips(weight.likely(), base.likely())?, tips(weight.high(), base.high())?);
    rec.record(|| {
        Step::range(
            "pull at which the boulder slides",
            "T_slide",
            "T = (μ W + P) / (cos β + μ sin β)",
            &sliding,
            "statics",
        )
        .input_range("μ", &friction.0, friction.1.clone())
        .input_range("W", &weight, Origin::Earlier)
        .input_range("P", &earth, Origin::Earlier)
        .input("β", pulled.rise.as_rad(), Dimension::Angle, Origin::Earlier)
        .note("a falling line counts as level; one that rises beyond atan μ as at atan μ")
    });
    let mut ways = vec![Way { mode: AnchorMode::Sliding, holds: sliding }];
    if let (Some(low), Some(likely), Some(high)) = tipping {
        let holds = Range::hull(low, likely, high);
        rec.record(|| {
            Step::range(
                "pull at which the boulder tips",
                "T_tip",
                "T = W a / (h cos β + a sin β), a = base / 2",
                &holds,
                "statics",
            )
            .input_range("W", &weight, Origin::Earlier)
            .input_range("base", &base, Origin::Earlier)
            .input("h", height.as_m(), Dimension::Length, Origin::Earlier)
            .input("β", pulled.rise.as_rad(), Dimension::Angle, Origin::Earlier)
        });
        ways.push(Way { mode: AnchorMode::Tipping, holds });
    }
    Ok(AnchorCapacity::weakest(ways, warnings))
}

fn mass(
    of: &Boulder,
    rec: &mut impl Recorder,
    warnings: &mut Vec<Warning>,
) -> Result<Option<Range<Mass>>, MechanicsError> {
    if let Some(mass) = &of.mass {
        positive("the mass of the boulder", mass.value.low().as_kg(), "greater than zero, for example 2 t")?;
        return Ok(Some(mass.value));
    }
    let Some(size) = &of.size else { return Ok(None) };
    let [length, breadth, height] = size.each_ref().map(|side| side.value);
    let (density, density_row) = of_shape("density")?;
    let (fullness, fullness_row) = of_shape("fullness")?;
    let volume = length.combine(&breadth, |a, b| a.as_m() * b.as_m()).combine(&height, |a, h| a * h.as_m());
    let mass = volume.combine(&density.combine(&fullness, |d, f| d * f), |v, k| Mass::from_kg(v * k));
    warnings.push(Warning::new(
        "boulder-mass-by-size",
        "the boulder's mass comes from its size: between an ellipsoid and a squared block, hard stone",
    ));
    rec.record(|| {
        let table = |r: &g::boulder::Row| Origin::Table { table: "boulder", row: r.key.to_owned(), source: r.source };
        Step::range(
            "mass of the boulder",
            "m",
            "m = length · breadth · height · fullness · density",
            &mass,
            "own-judgement",
        )
        .given("length", &size[0])
        .given("breadth", &size[1])
        .given("height", &size[2])
        .input_range("fullness", &fullness, table(fullness_row))
        .input_range("density, kg/m³", &density, table(density_row))
    });
    Ok(Some(mass))
}

fn friction(
    of: &Boulder,
    saturated: bool,
    warnings: &mut Vec<Warning>,
) -> Result<(Range<f64>, Origin), MechanicsError> {
    let key = of.on.as_ref().map_or("unknown", |on| on.value.as_str());
    let r = row(g::foundation_friction::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "friction of stone on ground",
        key: key.to_owned(),
        known: g::foundation_friction::ROWS.iter().map(|r| r.key).collect(),
    })?;
    if r.key == "unknown" {
        warnings.push(Warning::new(
            "boulder-friction-unknown",
            "what the boulder stands on is not told: the friction of the poorest ground counts at the low end",
        ));
    }
    let high = if saturated { r.low } else { r.high };
    let range = Range::hull(r.low, 0.5 * (r.low + high), high);
    Ok((range, Origin::Table { table: "foundation_friction", row: r.key.to_owned(), source: r.source }))
}

/// The base along the pull.
fn base(of: &Boulder, warnings: &mut Vec<Warning>) -> Result<Range<Length>, MechanicsError> {
    let length = match &of.size {
        Some(size) => size[0].value,
        None => {
            positive("the radius of the boulder", of.radius.as_m(), "greater than zero, for example 0.6 m")?;
            warnings.push(Warning::new(
                "boulder-base-assumed",
                "the boulder's length is not told: its width where the strap lies counts as its length",
            ));
            let d = of.radius * 2.0;
            Range::hull(d, d, d)
        }
    };
    Ok(length.combine(&of_shape("base")?.0, |l, k| l * k))
}

/// What the earth in front of the buried face resists with.
fn in_front(
    of: &Boulder,
    saturated: bool,
    rec: &mut impl Recorder,
    warnings: &mut Vec<Warning>,
) -> Result<Range<Force>, MechanicsError> {
    let nothing = Range::hull(Force::ZERO, Force::ZERO, Force::ZERO);
    let Some(buried) = &of.buried else { return Ok(nothing) };
    not_negative("the buried depth of the boulder", buried.value.low().as_m(), "zero or more, for example 0.3 m")?;
    let Some(earth) = &of.earth else {
        warnings.push(Warning::new(
            "boulder-earth-unknown",
            "the soil before its buried front is not told: nothing of it is counted",
        ));
        return Ok(nothing);
    };
    let soil = earth_strength(earth, saturated, rec)?;
    let known = soil.key != "unknown" || earth.friction_angle.is_some() || earth.cohesion.is_some();
    warnings.extend(soil.warnings);
    let breadth = of.size.as_ref().map_or_else(
        || {
            let d = of.radius * 2.0;
            Range::hull(d, d, d)
        },
        |s| s[1].value,
    );
    let depth = buried.value.increasing(|d| d.as_m());
    // Each end of every input together: low with low, high with high.
    let sand = |w: f64, f: Angle, d: f64, b: Length| {
        let k = passive_coefficient(f)? - active_coefficient(f)?;
        Ok::<f64, MechanicsError>(0.5 * w * k * d * d * b.as_m())
    };
    let sand = match &soil.friction {
        Some(f) => Some(Range::hull(
            sand(soil.weight.low(), f.low(), depth.low(), breadth.low())?,
            sand(soil.weight.likely(), f.likely(), depth.likely(), breadth.likely())?,
            sand(soil.weight.high(), f.high(), depth.high(), breadth.high())?,
        )),
        None => None,
    };
    let clay = soil.cohesion.as_ref().map(|c| {
        let area = depth.combine(&breadth, |d, b| d * b.as_m());
        area.combine(c, |a, c| 2.0 * c.as_pa() * a)
    });
    let least = match (sand, clay) {
        (Some(a), Some(b)) => a.combine(&b, f64::min),
        (Some(a), None) | (None, Some(a)) => a,
        (None, None) => return Ok(nothing),
    };
    let share = of_shape("passive")?.0;
    let share = if known { share } else { Range::hull(0.0, 0.0, share.high()) };
    let holds = least.combine(&share, |p, k| Force::from_n(p * k));
    rec.record(|| {
        Step::range(
            "resistance of the earth before the buried front",
            "P",
            "½ γ (Kp − Ka) D² B with friction, 2 c D B in clay; a share of it",
            &holds,
            "rankine",
        )
        .input_range("D", &buried.value, buried.origin.clone())
        .input_range("B", &breadth, Origin::Earlier)
        .input_range("share", &share, Origin::Constant("own-judgement"))
    });
    Ok(holds)
}
