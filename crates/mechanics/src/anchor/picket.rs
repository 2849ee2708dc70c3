//! Driven pickets, lashed in line.

use super::capacity::{AnchorCapacity, AnchorMode, Pulled, Way};
use super::earth::{doubt, earth_strength, rule};
use super::made::steel_pickets;
use crate::error::{MechanicsError, between, not_negative, positive};
use crate::standing::Warning;
use unmire_model::anchor::{Pickets, Stakes};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Range};
use unmire_tables::generated as g;

/// The pickets of a listed layout, row by row from the load backwards.
pub(crate) fn rows_of(key: &str) -> Vec<u32> {
    key.split('-').filter_map(|n| n.parse().ok()).collect()
}

/// Whether a layout has at least the pickets of another in each of its rows.
fn holds_within(rows: &[u32], listed: &[u32]) -> bool {
    rows.len() >= listed.len() && rows.iter().zip(listed).all(|(have, want)| have >= want)
}

/// What a layout of wooden pickets holds in loam, as listed: the strongest listed layout that it contains, row by row from the load. So
/// a further picket never weakens it, and it is never more than a listed layout that contains it. A layout recalled only counts with
/// less at the low end and more at the high end. Also says which layout counted at the likely value.
///
/// # Source
/// Table `picket`: `navedtra-14251` (read), two rows `fm-5-125-tables` (memory). How an unlisted layout counts: `own-judgement`.
///
/// # Errors
/// If there is no row, or one without a picket.
pub fn listed_layout(rows: &[u32]) -> Result<(Range<Force>, &'static str), MechanicsError> {
    if rows.is_empty() || rows.contains(&0) {
        return Err(MechanicsError::BadInput {
            what: "the rows of the picket holdfast",
            got: 0.0,
            expected: "at least one picket in every row, as [3, 2, 1]",
        });
    }
    let mut best: Option<(Range<Force>, &'static str)> = None;
    for r in g::picket::ROWS.iter().filter(|r| holds_within(rows, &rows_of(r.key))) {
        let (less, more) = doubt(r.how)?;
        let of = Range::hull(r.holds * less, r.holds, r.holds * more);
        best = Some(match best {
            None => (of, r.key),
            Some((so_far, key)) => {
                (so_far.combine(&of, Force::max), if of.likely() > so_far.likely() { r.key } else { key })
            }
        });
    }
    best.ok_or(MechanicsError::Missing { what: "a listed layout of pickets", help: "the table picket is not whole" })
}

/// Share of what pickets hold that is left by how deep they are driven: `(d / d₀)²`, no more than 1. d₀ is 3 ft for wooden pickets, 1 m
/// for steel ones.
///
/// # Source
/// `own-judgement`: the moment that the earth gives grows at least with the square of the depth; depths: `navedtra-14251`,
/// `disaster-rescue` 8.3 (read).
///
/// # Errors
/// If the depth is not between zero and 3 m.
pub fn driven_share(stakes: Stakes, driven: Length) -> Result<f64, MechanicsError> {
    positive("the driven depth", driven.as_m(), "greater than zero, for example 0.9 m")?;
    between("the driven depth", driven.as_m(), 0.0, 3.0, "up to 3 m, for example 0.9 m")?;
    let share = driven / full_depth(stakes)?;
    Ok((share * share).min(1.0))
}

pub(crate) fn full_depth(stakes: Stakes) -> Result<Length, MechanicsError> {
    Ok(match stakes {
        Stakes::Wood => Length::from_foot(rule("picket_driven_ft")?),
        Stakes::Steel => Length::from_m(rule("picket_steel_driven_m")?),
    })
}

/// Least and greatest distance from row to row.
pub(crate) fn spacing_limits(stakes: Stakes) -> Result<(Length, Length), MechanicsError> {
    let high = Length::from_foot(rule("picket_spacing_high_ft")?);
    let low = match stakes {
        Stakes::Wood => Length::from_foot(rule("picket_spacing_low_ft")?),
        Stakes::Steel => Length::from_m(rule("picket_steel_spacing_m")?),
    };
    Ok((low, high))
}

/// Factors at the low and the high end on what is listed. Wood: some stakes gave at 1 kN where 2 to 3 kN are usual. Steel: the listed
/// value is a working load; the low end is what failed in practice, by the square of the depth, the high end twice the working load.
fn scatter(stakes: Stakes) -> Result<(f64, f64), MechanicsError> {
    let failed = rule("stake_failed_kn")?;
    match stakes {
        Stakes::Wood => {
            let usual = 0.5 * (rule("stake_usual_low_kn")? + rule("stake_usual_high_kn")?);
            Ok((failed / usual, rule("picket_high")?))
        }
        Stakes::Steel => {
            let deeper = full_depth(stakes)? / Length::from_m(rule("stake_driven_m")?);
            let each = steel_pickets(1)?;
            Ok(((failed * deeper * deeper / each.as_kn()).min(1.0), rule("picket_steel_high")?))
        }
    }
}

/// What stands in loam, driven to full depth.
fn in_loam(stakes: Stakes, rows: &[u32]) -> Result<(Range<Force>, &'static str), MechanicsError> {
    let listed = listed_layout(rows)?;
    match stakes {
        Stakes::Wood => Ok(listed),
        Stakes::Steel => {
            let f = steel_pickets(rows.iter().sum())?;
            Ok((Range::hull(f, f, f), "steel_1_5m"))
        }
    }
}

/// Share that a line higher than the lists mean leaves: `e / (e + h − h₀)`, no more than 1. h height of the line, e two thirds of the
/// driven depth, about which a stake turns; h₀ = 0.1 m, a line near the ground.
///
/// # Source
/// `own-judgement`: the same moment about the turning point; the lists say that the line lies near the ground.
///
/// # Errors
/// If the height is negative or the driven depth not greater than zero.
pub fn height_share(height: Length, driven: Length) -> Result<f64, MechanicsError> {
    let h = not_negative("the height of the line", height.as_m(), "zero or more, for example 0.1 m")?;
    let e =
        positive("the driven depth", driven.as_m(), "greater than zero, for example 0.9 m")? * rule("picket_turning")?;
    Ok(e / (e + (h - rule("picket_line_m")?).max(0.0)))
}

/// What pickets hold: what is listed for their layout in loam, times the soil's factor, times the share of their driven depth and
/// that of the height of the line, with the scatter of practice at the low end. Where the distance of the rows is not told or not within the rule, only the front row counts at
/// the low end: what stands behind works through the lashing alone. A line that rises more steeply than the pickets lean draws them:
/// unknown.
///
/// # Source
/// Wood: [`listed_layout`]. Steel: `disaster-rescue` 8.3 (read), a working load. Low end: `stake-practice-page` (secondary), some gave at
/// 1 kN. The rest: `own-judgement`.
///
/// # Errors
/// If the soil is in no row, a row is empty, there are more than 20, or a measure is not in order.
pub fn pickets(
    of: &Pickets,
    height: Length,
    pulled: &Pulled,
    rec: &mut impl Recorder,
) -> Result<AnchorCapacity, MechanicsError> {
    let mut warnings = Vec::new();
    let total: u32 = of.rows.iter().fold(0, |sum, n| sum.saturating_add(*n));
    between("the number of pickets", f64::from(total), 1.0, 20.0, "1 to 20")?;
    let (loam, counted) = in_loam(of.stakes, &of.rows)?;
    let soil = earth_strength(&of.earth, pulled.saturated, rec)?;
    warnings.extend(soil.warnings.iter().cloned());
    let rake = Angle::from_deg(rule("picket_rake_deg")?);
    let depth = of.driven.value;
    let share = Range::hull(
        driven_share(of.stakes, depth.low())?,
        driven_share(of.stakes, depth.likely())?,
        driven_share(of.stakes, depth.high())?,
    );
    let lever = height_share(height, depth.low())?;
    if lever < 1.0 {
        warnings.push(Warning::new(
            "pickets-high-line",
            format!(
                "the line lies {:.2} m above the ground: the lever on the pickets is longer than the lists mean",
                height.as_m()
            ),
        ));
    }
    if share.low() < 1.0 {
        warnings.push(Warning::new(
            "pickets-shallow",
            format!(
                "driven less than {:.2} m deep: it counts with the square of the depth",
                full_depth(of.stakes)?.as_m()
            ),
        ));
    }
    match of.stakes {
        Stakes::Wood if rows_of(counted) != of.rows => warnings.push(Warning::new(
            "pickets-layout-unlisted",
            format!("this layout is in no table: it counts as {counted}, the strongest listed one within it"),
        )),
        Stakes::Wood => {}
        Stakes::Steel => warnings.push(Warning::new(
            "pickets-steel-working-load",
            "for steel pickets a working load is published, not what they hold: it counts as the likely value",
        )),
    }
    let front = front_only(of, &mut warnings)?;
    let at_low = match front {
        None => loam.low(),
        Some(front) => in_loam(of.stakes, &[front])?.0.low().min(loam.low()),
    };
    let (less, more) = scatter(of.stakes)?;
    let holds = Range::hull(
        at_low * (less * soil.picket.low() * share.low() * lever),
        loam.likely() * (soil.picket.likely() * share.likely() * height_share(height, depth.likely())?),
        loam.high() * (more * soil.picket.high() * share.high() * height_share(height, depth.high())?),
    );
    rec.record(|| {
        let (table, source) = match of.stakes {
            Stakes::Wood => ("picket", "navedtra-14251"),
            Stakes::Steel => ("picket_steel", "disaster-rescue"),
        };
        let origin = Origin::Table { table, row: counted.to_owned(), source };
        Step::range(
            "what the pickets hold",
            "F",
            "F = listed · soil · (d / d₀)² · e / (e + h − h₀) · scatter",
            &holds,
            source,
        )
        .input_range("listed", &Range::hull(at_low, loam.likely(), loam.high()), origin)
        .input_range(
            "soil",
            &soil.picket,
            Origin::Table { table: "anchor_soil", row: soil.key.to_owned(), source: "fm-5-125-tables" },
        )
        .given("d", &of.driven)
        .input("h", height.as_m(), Dimension::Length, Origin::Earlier)
        .input("e / (e + h − h₀), low end", lever, Dimension::Ratio, Origin::Constant("own-judgement"))
        .input("scatter, low end", less, Dimension::Ratio, Origin::Constant("stake-practice-page"))
        .input("scatter, high end", more, Dimension::Ratio, Origin::Constant("own-judgement"))
    });
    let way = vec![Way { mode: AnchorMode::PicketsDraw, holds }];
    if pulled.rise > rake + Angle::from_deg(1e-6) {
        let reason = format!(
            "the line rises by {:.0}°, more steeply than pickets lean ({:.0}°): it draws them; bring the line nearer to the ground",
            pulled.rise.as_deg(),
            rake.as_deg()
        );
        return Ok(AnchorCapacity::unknown(reason, way, warnings));
    }
    Ok(AnchorCapacity::weakest(way, warnings))
}

/// How many stand in front, where only these count at the low end.
fn front_only(of: &Pickets, warnings: &mut Vec<Warning>) -> Result<Option<u32>, MechanicsError> {
    if of.rows.len() < 2 {
        return Ok(None);
    }
    let (low, high) = spacing_limits(of.stakes)?;
    // A tape reads to the centimetre, and the rule is in feet.
    let hair = Length::from_cm(1.5);
    let text = match &of.spacing {
        None => "how far the rows stand apart is not told".to_owned(),
        Some(s) => {
            not_negative("the distance of the rows", s.value.as_m(), "zero or more, for example 1.2 m")?;
            if s.value >= low - hair && s.value <= high + hair {
                return Ok(None);
            }
            format!(
                "the rows stand {:.2} m apart, the rule is {:.1} to {:.1} m",
                s.value.as_m(),
                low.as_m(),
                high.as_m()
            )
        }
    };
    warnings.push(Warning::new("pickets-spacing", format!("{text}: only the front row counts at the low end")));
    Ok(of.rows.first().copied())
}
