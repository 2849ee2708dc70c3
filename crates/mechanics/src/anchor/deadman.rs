//! A deadman: something long or flat, buried across the pull. Two methods stand side by side, the field table of holding power and
//! earth pressure, and the range spans both.

use super::capacity::{AnchorCapacity, AnchorMode, Pulled, Way};
use super::earth::{EarthStrength, counts_as_full_height, doubt, earth_strength, plate_in_clay, rule, strip_in_sand};
use super::made::deadman_area_force;
use crate::error::{MechanicsError, between, positive};
use crate::standing::Warning;
use unmire_model::anchor::{Deadman, DeadmanShape};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Pressure, Range};
use unmire_tables::generated as g;
use unmire_tables::row;

/// What holding power the table gives, and how it was come by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldingPower {
    /// Pressure on the face in loam.
    pub pressure: Pressure,
    /// Nearer to the surface than the table: taken down with the square of the depth.
    pub shallower: bool,
    /// Deeper than the table: its deepest row counts.
    pub deeper: bool,
    /// Steeper than 1 in 1: the row for an upright line counts, which is recalled only.
    pub steeper: bool,
}

/// Runs of the table for a rise of one, flattest first.
const RUNS: [f64; 4] = [4.0, 3.0, 2.0, 1.0];

/// Rise of the flattest line of the table, 1 in 4.
pub(crate) fn flattest() -> Angle {
    Angle::from_rad(libm::atan(1.0 / RUNS[0]))
}

fn rows_of(run: f64) -> Vec<(f64, f64)> {
    let rows = g::deadman::ROWS.iter().filter(|r| (r.run - run).abs() < 1e-9);
    rows.map(|r| (r.depth.as_m(), r.holds.as_pa())).collect()
}

/// A column of the table at a depth, with whether it is under or over its ends. Between two rows a power of the depth through both:
/// it runs under the straight line, for the table grows faster than the depth.
fn at_depth(rows: &[(f64, f64)], depth: f64) -> Option<(f64, bool, bool)> {
    let (first, last) = (rows.first()?, rows.last()?);
    if depth < first.0 {
        let share = depth / first.0;
        return Some((first.1 * share * share, true, false));
    }
    if depth >= last.0 {
        return Some((last.1, false, depth > last.0 + 1e-9));
    }
    rows.windows(2).find_map(|w| match w {
        [a, b] if depth < b.0 => {
            let power = libm::log(b.1 / a.1) / libm::log(b.0 / a.0);
            Some((a.1 * libm::pow(depth / a.0, power), false, false))
        }
        _ => None,
    })
}

/// Holding power of a buried face in loam, by the depth of its middle and the rise of the line. Between the depths of the table a
/// power of the depth, under the straight line; between its slopes straight in the angle, which is under straight in the slope. Nearer
/// to the surface than 3 ft with the square of the depth; deeper than 7 ft as at 7 ft; flatter than 1 in 4 as 1 in 4; steeper than 1 in
/// 1 as upright.
///
/// # Source
/// `tm-5-5420-278-10` WP 0035 Table 9 (read); upright: `fm-5-125-tables` (memory). How it goes between and outside: `own-judgement`.
///
/// # Errors
/// If the depth is not greater than zero or the rise not between level and upright.
pub fn holding_power(depth: Length, rise: Angle) -> Result<HoldingPower, MechanicsError> {
    let d = positive("the depth of the face", depth.as_m(), "greater than zero, for example 1.2 m")?;
    let b = between("the rise of the line", rise.as_deg(), 0.0, 90.0, "0° to 90°, for example 14° for 1 in 4")?;
    let empty = MechanicsError::Missing { what: "a row of holding power", help: "the table deadman is not whole" };
    let column = |run: f64| at_depth(&rows_of(run), d).ok_or_else(|| empty.clone());
    let angle = |run: f64| Angle::from_rad(libm::atan(1.0 / run)).as_deg();
    let done = |(pa, shallower, deeper): (f64, bool, bool), steeper| HoldingPower {
        pressure: Pressure::from_pa(pa),
        shallower,
        deeper,
        steeper,
    };
    if b <= angle(RUNS[0]) + 1e-9 {
        return Ok(done(column(RUNS[0])?, false));
    }
    for (flat, steep) in RUNS.iter().zip(RUNS.iter().skip(1)) {
        let (a0, a1) = (angle(*flat), angle(*steep));
        if b <= a1 + 1e-9 {
            let (v0, v1) = (column(*flat)?, column(*steep)?);
            let share = ((b - a0) / (a1 - a0)).min(1.0);
            return Ok(done((v0.0 + share * (v1.0 - v0.0), v0.1, v0.2), false));
        }
    }
    let upright: Vec<(f64, f64)> =
        g::deadman_vertical::ROWS.iter().map(|r| (r.depth.as_m(), r.holds.as_pa())).collect();
    Ok(done(at_depth(&upright, d).ok_or(empty)?, true))
}

/// A face at one end of what is known of it.
#[derive(Clone, Copy, Debug)]
struct Face {
    height: Length,
    /// Length that counts: no longer than the proportion allows, the foot of the trench not yet taken off.
    length: Length,
    depth: Length,
}
impl Face {
    fn top(&self) -> Length {
        self.depth - self.height * 0.5
    }
    fn bottom(&self) -> Length {
        self.depth + self.height * 0.5
    }
    /// What is left beside the line's trench.
    fn breadth(&self) -> Result<Length, MechanicsError> {
        let foot = Length::from_foot(1.0);
        let left = positive(
            "the length of the face less the foot of the line's trench",
            (self.length - foot).as_m(),
            "greater than zero: something longer or thicker",
        )?;
        Ok(Length::from_m(left))
    }
}

/// Greatest length over height of the face, as the table's rules say.
pub(crate) fn proportion(shape: &DeadmanShape) -> Result<Option<f64>, MechanicsError> {
    let key = match shape {
        DeadmanShape::Log { .. } => "log_length_over_diameter",
        DeadmanShape::Beam { .. } => "timber_length_over_face",
        DeadmanShape::Wheel { .. } => return Ok(None),
    };
    let r = row(g::deadman_rule::ROWS, key).ok_or(MechanicsError::Missing {
        what: "the proportion of a deadman",
        help: "the table deadman_rule is not whole",
    })?;
    Ok(Some(r.value))
}

/// The face at the low end, likely and at the high end.
fn faces(of: &Deadman, warnings: &mut Vec<Warning>) -> Result<[Face; 3], MechanicsError> {
    let (height, length) = match &of.shape {
        DeadmanShape::Log { diameter, length } => (diameter.value, length.value),
        DeadmanShape::Beam { face, length } => (face.value, length.value),
        DeadmanShape::Wheel { diameter } => {
            warnings.push(Warning::new(
                "deadman-wheel",
                "a wheel counts as a square face of the same area, less the foot of the line's trench; no table speaks of wheels",
            ));
            let side = diameter.value.increasing(|d| d * libm::sqrt(core::f64::consts::FRAC_PI_4));
            (side, side)
        }
    };
    positive("the height of the face", height.low().as_m(), "greater than zero, for example 0.3 m")?;
    positive("the length of the face", length.low().as_m(), "greater than zero, for example 1.5 m")?;
    positive("the depth of the face", of.depth.value.low().as_m(), "greater than zero, for example 1.2 m")?;
    if of.depth.value.low() < height.high() * 0.5 {
        return Err(MechanicsError::BadInput {
            what: "the depth of the middle of the face",
            got: of.depth.value.low().as_m(),
            expected: "at least half of the height of the face, so that all of it is buried",
        });
    }
    let limit = proportion(&of.shape)?;
    let counted = |h: Length, l: Length| limit.map_or(l, |k| l.min(h * k));
    if limit.is_some_and(|k| length.high() > height.high() * k + Length::from_mm(0.1)) {
        warnings.push(Warning::new(
            "deadman-too-long",
            format!(
                "it is longer than {} times its thickness: what is longer bends and counts for nothing",
                limit.unwrap_or(0.0)
            ),
        ));
    }
    let face = |height, length, depth| Face { height, length: counted(height, length), depth };
    let d = of.depth.value;
    Ok([
        face(height.low(), length.low(), d.low()),
        face(height.likely(), length.likely(), d.likely()),
        face(height.high(), length.high(), d.high()),
    ])
}

/// What a deadman holds. By the table: `HP · (L − 1 ft) · h` times the soil's factor, taken as ultimate. By earth pressure: in soil with
/// friction `½ γ (Kp − Ka)(d₂² − d₁²) B`, at the high end as a plate of full height where the rule allows it; in clay at the low end
/// `(2 c + γ z) B h` where that is less than `4 c B h`, likely `4 c B h`, at the high end `9 c B h` deep down. B is the length less the
/// foot of the trench. A rising line takes from earth pressure what it takes from the table. The low end is the lower of all low ends,
/// the likely value the lowest likely one, the high end the highest; the strength of the thing itself, where it is told, caps all.
///
/// The line that counts is the steeper of the trench and of the pull.
///
/// # Source
/// `tm-5-5420-278-10` WP 0035 (read); `rankine`; `plate-anchor-rules` (memory). `(2 c + γ z)`: Rankine's passive pressure without suction
/// behind the plate, derived. How both methods are joined: `own-judgement`.
///
/// # Errors
/// If the soil is in no row, a measure is not in order, part of the face lies above the ground, or nothing is left beside the trench.
///
/// # Assumes
/// Undisturbed earth before the face, level ground, filled and tamped behind.
pub fn deadman(of: &Deadman, pulled: &Pulled, rec: &mut impl Recorder) -> Result<AnchorCapacity, MechanicsError> {
    let mut warnings = vec![Warning::new(
        "deadman-creeps",
        "it moves by some per cent of its depth before it bites: pull slowly, let it settle, take up the slack",
    )];
    let trench =
        between("the rise of the trench", of.line_rise.value.as_deg(), 0.0, 90.0, "0° to 90°, for example 14°")?;
    let rise = Angle::from_deg(trench.max(pulled.rise.as_deg()).min(90.0));
    if pulled.rise.as_deg() > trench + 0.5 {
        warnings.push(Warning::new(
            "deadman-line-steeper",
            format!(
                "the line rises by {:.0}°, its trench by {trench:.0}°: it counts as the steeper",
                pulled.rise.as_deg()
            ),
        ));
    }
    let faces = faces(of, &mut warnings)?;
    let soil = earth_strength(&of.earth, pulled.saturated, rec)?;
    warnings.extend(soil.warnings.iter().cloned());

    let mut ways =
        vec![Way { mode: AnchorMode::HoldingPower, holds: by_table(of, &faces, rise, &soil, rec, &mut warnings)? }];
    let reliefs = relief(rise)?;
    for holds in [in_sand(&faces, &soil, reliefs, rec)?, in_clay(&faces, &soil, reliefs, rec)?].into_iter().flatten() {
        ways.push(Way { mode: AnchorMode::EarthFails, holds });
    }
    let least =
        |f: fn(&Range<Force>) -> Force| ways.iter().map(|w| f(&w.holds)).reduce(Force::min).unwrap_or(Force::ZERO);
    let most = ways.iter().map(|w| w.holds.high()).reduce(Force::max).unwrap_or(Force::ZERO);
    let earth = Range::hull(least(Range::low), least(Range::likely), most);
    let ultimate = match &of.own_strength {
        Some(own) => {
            let f = Force::from_n(positive("the strength of what is buried", own.value.as_n(), "greater than zero")?);
            ways.push(Way { mode: AnchorMode::OwnStrength, holds: Range::hull(f, f, f) });
            earth.increasing(|e| e.min(f))
        }
        None => {
            warnings.push(Warning::new(
                "deadman-own-strength",
                "whether what is buried bends or breaks first is not reckoned: sound wood within the proportion, or state its strength",
            ));
            earth
        }
    };
    rec.record(|| {
        Step::range(
            "what the deadman holds",
            "F",
            "spans the table and earth pressure; no more than its own strength",
            &ultimate,
            "own-judgement",
        )
        .input_range("by earth", &earth, Origin::Earlier)
        .input("rise", rise.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    Ok(AnchorCapacity { ultimate: Some(ultimate), ..AnchorCapacity::weakest(ways, warnings) })
}

/// Share of a level pull that a rising line leaves, low, likely and high: what the table's own columns leave, the least over its depths,
/// so that a deeper face is never weaker.
fn relief(rise: Angle) -> Result<[f64; 3], MechanicsError> {
    let (mut least, mut steeper) = (1.0_f64, false);
    for r in g::deadman::ROWS {
        let (here, flat) = (holding_power(r.depth, rise)?, holding_power(r.depth, flattest())?);
        least = least.min(here.pressure.as_pa() / flat.pressure.as_pa());
        steeper = here.steeper;
    }
    let (less, more) = if steeper { doubt(unmire_tables::How::Memory)? } else { (1.0, 1.0) };
    Ok([least * less, least, least * more])
}

fn by_table(
    of: &Deadman,
    faces: &[Face; 3],
    rise: Angle,
    soil: &EarthStrength,
    rec: &mut impl Recorder,
    warnings: &mut Vec<Warning>,
) -> Result<Range<Force>, MechanicsError> {
    let powers = [
        holding_power(faces[0].depth, rise)?,
        holding_power(faces[1].depth, rise)?,
        holding_power(faces[2].depth, rise)?,
    ];
    if powers[0].shallower {
        warnings.push(Warning::new(
            "deadman-shallow",
            "its middle lies less than 3 ft (0.9 m) deep, above the table: its holding power goes down with the square of the depth",
        ));
    }
    if powers[2].deeper {
        warnings.push(Warning::new(
            "deadman-deep",
            "its middle lies deeper than 7 ft (2.1 m), below the table: it counts as at 7 ft. Never enter such a trench unshored",
        ));
    }
    let (less, more) = if powers[1].steeper {
        warnings.push(Warning::new(
            "deadman-steep",
            "the line rises more steeply than 1 in 1: the value for an upright line counts, and that one is from memory",
        ));
        doubt(unmire_tables::How::Memory)?
    } else {
        (1.0, 1.0)
    };
    let at = |i: usize, k: f64| -> Result<Force, MechanicsError> {
        let (Some(f), Some(p)) = (faces.get(i), powers.get(i)) else {
            return Err(MechanicsError::Missing { what: "an end of the deadman", help: "there are three" });
        };
        f.breadth()?;
        Ok(deadman_area_force(p.pressure, f.length, f.height)? * k)
    };
    let holds = Range::hull(
        at(0, soil.deadman.low() * less)?,
        at(1, soil.deadman.likely())?,
        at(2, soil.deadman.high() * more)?,
    );
    rec.record(|| {
        let pressure = Range::hull(powers[0].pressure, powers[1].pressure, powers[2].pressure);
        let height = Range::hull(faces[0].height, faces[1].height, faces[2].height);
        let length = Range::hull(faces[0].length, faces[1].length, faces[2].length);
        let table = if powers[1].steeper { "deadman_vertical" } else { "deadman" };
        Step::range(
            "what the deadman holds by the table",
            "T",
            "T = HP · (L − 1 ft) · h · k",
            &holds,
            "tm-5-5420-278-10",
        )
        .input_range(
            "HP",
            &pressure,
            Origin::Table { table, row: "by depth and rise".to_owned(), source: "tm-5-5420-278-10" },
        )
        .input_range("L", &length, Origin::Earlier)
        .input_range("h", &height, Origin::Earlier)
        .given("depth", &of.depth)
        .input_range(
            "k",
            &soil.deadman,
            Origin::Table { table: "anchor_soil", row: soil.key.to_owned(), source: "tm-5-5420-278-10" },
        )
        .note(
            "L no more than its proportion to h; whether a factor is inside the table is not stated: taken as ultimate",
        )
    });
    Ok(holds)
}

/// By earth pressure in soil with friction. The rule of full height ends where the plate gets deeper; a deeper plate is no weaker, so
/// that value is kept until the strip has caught up.
fn in_sand(
    faces: &[Face; 3],
    soil: &EarthStrength,
    reliefs: [f64; 3],
    rec: &mut impl Recorder,
) -> Result<Option<Range<Force>>, MechanicsError> {
    let Some(phi) = &soil.friction else { return Ok(None) };
    let strip = |f: &Face, w: f64, phi: Angle| strip_in_sand(w, phi, f.top(), f.bottom(), f.breadth()?);
    let [low, likely, high] = faces;
    let deep = strip(high, soil.weight.high(), phi.high())?;
    // Full height holds down to a middle of one and a half times the height: there the lower edge lies at twice the height.
    let reach = if counts_as_full_height(high.top(), high.bottom()) { high.bottom() } else { high.height * 2.0 };
    let full = strip_in_sand(soil.weight.high(), phi.high(), Length::ZERO, reach, high.breadth()?)?;
    let holds = Range::hull(
        strip(low, soil.weight.low(), phi.low())? * reliefs[0],
        strip(likely, soil.weight.likely(), phi.likely())? * reliefs[1],
        deep.max(full) * reliefs[2],
    );
    rec.record(|| {
        let top = Range::hull(low.top(), likely.top(), high.top());
        let bottom = Range::hull(low.bottom(), likely.bottom(), high.bottom());
        Step::range(
            "what the deadman holds by earth pressure",
            "T",
            "T = ½ γ (Kp − Ka)(d₂² − d₁²) B · relief; at the high end d₁ = 0 where the rule allows it",
            &holds,
            "rankine",
        )
        .input_range("γ, N/m³", &soil.weight, Origin::Earlier)
        .input_range("φ", phi, Origin::Earlier)
        .input_range("d₁", &top, Origin::Earlier)
        .input_range("d₂", &bottom, Origin::Earlier)
        .input_range("relief", &Range::hull(reliefs[0], reliefs[1], reliefs[2]), Origin::Earlier)
        .note("the relief is what the table loses by the same rise of the line; full height: a rule from memory")
    });
    Ok(Some(holds))
}

/// By earth pressure in clay. At the high end `k = max(4, 9 · min(1, z / (4 h)))`.
fn in_clay(
    faces: &[Face; 3],
    soil: &EarthStrength,
    reliefs: [f64; 3],
    rec: &mut impl Recorder,
) -> Result<Option<Range<Force>>, MechanicsError> {
    let Some(c) = &soil.cohesion else { return Ok(None) };
    let (shallow, deep, ratio) = (rule("clay_shallow")?, rule("clay_deep")?, rule("clay_deep_ratio")?);
    let [low, likely, high] = faces;
    let without_suction = 2.0 + soil.weight.low() * low.depth.as_m() / c.low().as_pa();
    // A taller plate is no weaker than the deep one within it: so much of its height counts as deep.
    let deep_share = (high.depth / (high.height * ratio)).min(1.0);
    let at_high = shallow.max(deep * deep_share);
    let plate = |f: &Face, k: f64, c: Pressure| plate_in_clay(k, c, f.breadth()?, f.height);
    let holds = Range::hull(
        plate(low, shallow.min(without_suction), c.low())? * reliefs[0],
        plate(likely, shallow, c.likely())? * reliefs[1],
        plate(high, at_high, c.high())? * reliefs[2],
    );
    rec.record(|| {
        Step::range(
            "what the deadman holds in clay",
            "T",
            "T = k c B h · relief; k = 2 + γ z / c at the low end, no more than 4; 4 likely; up to 9 deep down at the high end",
            &holds,
            "plate-anchor-rules",
        )
        .input_range("c", c, Origin::Earlier)
        .input("k low", shallow.min(without_suction), Dimension::Ratio, Origin::Earlier)
        .input("k high", at_high, Dimension::Ratio, Origin::Constant("plate-anchor-rules"))
        .input_range("relief", &Range::hull(reliefs[0], reliefs[1], reliefs[2]), Origin::Earlier)
        .note("4 and 9 are from memory")
    });
    Ok(Some(holds))
}
