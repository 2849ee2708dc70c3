//! How to build an anchor that holds a pull: what pieces, how deep, how far apart, how much digging. What a sheet proposes has been
//! fed through the same [`capacity`](super::capacity()) that judges an anchor of the case.
//!
//! Enough means: the low end of what it holds is the pull times the divisor. The divisor is the caller's: a policy's, or 1.

use super::capacity::{AnchorCapacity, Pulled};
use super::deadman::{deadman, flattest, proportion};
use super::earth::rule;
use super::picket::{full_depth, pickets, rows_of, spacing_limits};
use super::plate::{plates, plates_in};
use crate::error::{MechanicsError, between, positive};
use unmire_model::anchor::{AnchorKind, Deadman, DeadmanShape, Earth, Pickets, Plates, Stakes};
use unmire_model::trail::{Dimension, Input, Origin, Recorder, Silent, Step};
use unmire_model::{Angle, Force, Length, Range, Time};
use unmire_tables::generated as g;
use unmire_tables::row;

/// What an anchor is asked to hold, and who builds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ask {
    /// The pull on it.
    pub pull: Force,
    /// What the low end of what it holds is divided by before it is compared with the pull: 1 or more.
    pub divisor: f64,
    /// How it is pulled.
    pub pulled: Pulled,
    /// How many people work.
    pub crew: u32,
}

/// What kind of anchor is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuildKind {
    /// Pickets.
    Pickets,
    /// A deadman.
    Deadman,
    /// Plates or screws.
    Plates,
}

/// Something that is needed, and how often.
#[derive(Clone, Debug, PartialEq)]
pub struct BuildPiece {
    /// What, in words.
    pub what: String,
    /// How many.
    pub count: u32,
    /// Its length, if that matters.
    pub length: Option<Length>,
    /// Its diameter, or the height of its face.
    pub thickness: Option<Length>,
}

/// A measure of what is built.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// Cubic metres.
    Volume(f64),
}

/// A measure with its name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BuildMeasure {
    /// What is measured, in words.
    pub what: &'static str,
    /// How much.
    pub measure: Measure,
}

/// How to build an anchor.
#[derive(Clone, Debug, PartialEq)]
pub struct BuildSheet {
    /// What kind.
    pub kind: BuildKind,
    /// The pull it was asked for.
    pub pull: Force,
    /// The divisor it was asked for.
    pub divisor: f64,
    /// Whether what is proposed is enough. If not, the strongest that the rules allow is proposed all the same, and `reason` says so.
    pub enough: bool,
    /// Why it is not enough.
    pub reason: Option<String>,
    /// What is proposed, as an anchor of a case.
    pub proposal: AnchorKind,
    /// What that holds.
    pub capacity: AnchorCapacity,
    /// What is needed.
    pub pieces: Vec<BuildPiece>,
    /// Its measures.
    pub measures: Vec<BuildMeasure>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// How long the crew works at it.
    pub time: Option<Range<Time>>,
}

/// What is at hand for a deadman.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Buried {
    /// A log of this diameter can be cut; how long at this depth of its middle?
    LogThick {
        /// Its diameter.
        diameter: Length,
        /// Depth of its middle.
        depth: Length,
    },
    /// This log; how deep?
    Log {
        /// Its diameter.
        diameter: Length,
        /// Its length.
        length: Length,
    },
    /// This beam; how deep?
    Beam {
        /// Height of its face.
        face: Length,
        /// Its length.
        length: Length,
    },
    /// This wheel; how deep?
    Wheel {
        /// Diameter of its tyre.
        diameter: Length,
    },
}

/// Logs are cut, and trenches dug, to this.
const STEP_M: f64 = 0.05;
/// At most so many dig in one trench.
const DIGGERS: u32 = 2;
/// Most plates that a bridle joins.
const MOST_PLATES: u32 = 6;
/// Room to dig in, beside and before what is buried.
const ROOM_M: f64 = 0.6;

fn checked(ask: &Ask) -> Result<Force, MechanicsError> {
    positive("the pull", ask.pull.as_n(), "greater than zero, for example 15 kN")?;
    between("the divisor", ask.divisor, 1.0, 10.0, "1 to 10, for example 2")?;
    between("the crew", f64::from(ask.crew), 1.0, 20.0, "1 to 20 people")?;
    Ok(ask.pull * ask.divisor)
}

fn holds(capacity: &AnchorCapacity, wanted: Force) -> bool {
    capacity.ultimate.is_some_and(|u| u.low() >= wanted)
}

fn exact(l: Length) -> Range<Length> {
    Range::hull(l, l, l)
}

fn proposed<T>(value: T) -> Input<T> {
    Input::assumed(value, "proposed by the build sheet")
}

fn rate(key: &str) -> Result<Range<f64>, MechanicsError> {
    row(g::anchor_work::ROWS, key).map(|r| r.band()).ok_or_else(|| MechanicsError::UnknownKey {
        table: "work of building an anchor",
        key: key.to_owned(),
        known: g::anchor_work::ROWS.iter().map(|r| r.key).collect(),
    })
}

const fn length(what: &'static str, l: Length) -> BuildMeasure {
    BuildMeasure { what, measure: Measure::Length(l) }
}

/// Which layout of pickets is enough in this earth: the listed one with the fewest pickets, driven and spaced by the rule. If none is,
/// the strongest is given and marked as not enough: pickets never hold much more than 18 kN.
///
/// # Source
/// Layouts, depth, rake, spacing, lashing: `navedtra-14251` (read), steel: `disaster-rescue` 8.3 (read); what they hold: [`pickets`];
/// time: `own-judgement` (table `anchor_work`).
///
/// # Errors
/// If pull, divisor, crew or earth are not in order.
pub fn build_pickets(
    ask: &Ask,
    stakes: Stakes,
    earth: &Earth,
    rec: &mut impl Recorder,
) -> Result<BuildSheet, MechanicsError> {
    let wanted = checked(ask)?;
    let driven = full_depth(stakes)?;
    let (near, far) = spacing_limits(stakes)?;
    let near_ground = Length::from_m(rule("picket_line_m")?);
    let spacing = (near + far) * 0.5;
    let of = |rows: Vec<u32>| Pickets {
        stakes,
        rows,
        driven: proposed(exact(driven)),
        spacing: Some(proposed(spacing)),
        earth: earth.clone(),
    };
    let mut layouts: Vec<Vec<u32>> = g::picket::ROWS.iter().map(|r| rows_of(r.key)).collect();
    unmire_model::order::sort_by_key(&mut layouts, |rows| rows.iter().sum::<u32>());
    let mut best: Option<(Vec<u32>, Force)> = None;
    for rows in layouts {
        let c = pickets(&of(rows.clone()), near_ground, &ask.pulled, &mut Silent)?;
        let Some(u) = c.ultimate else { continue };
        if best.as_ref().is_none_or(|(_, f)| u.low() > *f) {
            best = Some((rows, u.low()));
        }
        if u.low() >= wanted {
            break;
        }
    }
    let drawn = best.is_none();
    let rows = best.map_or_else(|| vec![1], |(rows, _)| rows);
    let total: u32 = rows.iter().sum();
    let proposal = of(rows.clone());
    let capacity = pickets(&proposal, near_ground, &ask.pulled, rec)?;
    let enough = holds(&capacity, wanted);
    let reason = if enough {
        None
    } else if drawn {
        capacity.reason.clone()
    } else {
        Some("no listed layout of pickets is enough: the strongest holds about 18 kN in good loam. Bury a deadman, or share the pull".to_owned())
    };
    let rake = Angle::from_deg(rule("picket_rake_deg")?);
    let (what, size, thick) = match stakes {
        Stakes::Wood => {
            ("picket of sound round wood, at least this thick and long", Length::from_foot(5.0), Length::from_inch(3.0))
        }
        Stakes::Steel => {
            ("picket of steel bar, at least this thick and long", Length::from_m(1.5), Length::from_mm(25.0))
        }
    };
    // One from row to row, one round every row of several.
    let many = rows.iter().filter(|n| **n > 1).count();
    let lashings = u32::try_from(rows.len() - 1 + many).unwrap_or(u32::MAX);
    let mut pieces =
        vec![BuildPiece { what: what.to_owned(), count: total, length: Some(size), thickness: Some(thick) }];
    if lashings > 0 {
        pieces.push(BuildPiece {
            what: "lashing of rope or wire, with a stick to twist it tight".to_owned(),
            count: lashings,
            length: None,
            thickness: None,
        });
    }
    let mut measures = vec![
        length("driven depth", driven),
        BuildMeasure { what: "lean away from the pull", measure: Measure::Angle(rake) },
    ];
    if rows.len() > 1 {
        measures.push(length("distance from row to row, at least", near));
        measures.push(length("distance from row to row, at most", far));
    }
    let in_words = rows.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    let mut steps = vec![
        "Lay the line out and drive every row square across it, in undisturbed ground.".to_owned(),
        format!(
            "From the load backwards, drive {in_words} in a row; let each lean {:.0}° away from the pull.",
            rake.as_deg()
        ),
        format!("Drive each at least {:.2} m deep; one that a stone stops is pulled and set elsewhere.", driven.as_m()),
    ];
    if rows.len() > 1 {
        steps.push("Lash the head of each picket to the foot of the one behind it, four to six turns, and twist the lashing tight.".to_owned());
        steps.push("Where several stand in a row, lash them together as one.".to_owned());
    }
    steps.push(format!(
        "Attach the line at the foot of the front row, not more than {:.1} m above the ground.",
        near_ground.as_m()
    ));
    steps.push("Take up the slack slowly and look at every head: one that leans further ends the pull.".to_owned());
    let each = rate("picket_min")?;
    let hands = f64::from(ask.crew.min(total.max(1)));
    let time = each.increasing(|m| Time::from_min(m * f64::from(total) / hands));
    rec.record(|| {
        Step::range("time to build", "t", "t = pickets · minutes each / hands", &time, "own-judgement")
            .input("pickets", f64::from(total), Dimension::Count, Origin::Earlier)
            .input("hands", hands, Dimension::Count, Origin::Earlier)
    });
    Ok(BuildSheet {
        kind: BuildKind::Pickets,
        pull: ask.pull,
        divisor: ask.divisor,
        enough,
        reason,
        proposal: AnchorKind::Pickets(proposal),
        capacity,
        pieces,
        measures,
        steps,
        time: Some(time),
    })
}

/// How long a log, or how deep what is at hand, so that the low end is enough; with its trench, the trench of the line at 1 in 4, the
/// digging and the time. Lengths and depths in steps of 5 cm, rounded up. No longer than the proportion, no deeper than 7 ft.
///
/// # Source
/// What it holds: [`deadman`]. Trench, undercut by 15°, line from the bottom of the log: `navedtra-14251` (read); strap between the buried
/// thing and the line, connector in sight: `wac-296-54-569` (6) (read); rates of digging: table `anchor_work` (`hand-digging-norms`, read,
/// half of it at the low end: `own-judgement`).
///
/// # Errors
/// If pull, divisor, crew, earth or what is at hand are not in order.
pub fn build_deadman(
    ask: &Ask,
    buried: &Buried,
    earth: &Earth,
    rec: &mut impl Recorder,
) -> Result<BuildSheet, MechanicsError> {
    let wanted = checked(ask)?;
    let of = |shape: DeadmanShape, depth: Length| Deadman {
        shape,
        depth: proposed(exact(depth)),
        line_rise: proposed(flattest()),
        earth: earth.clone(),
        own_strength: None,
    };
    let log = |diameter: Length, long: Length| DeadmanShape::Log {
        diameter: proposed(exact(diameter)),
        length: proposed(exact(long)),
    };
    let deepest = g::deadman::ROWS.iter().map(|r| r.depth).fold(Length::ZERO, Length::max);
    let least_depth = |h: Length| Length::from_m(0.5 * h.as_m() + 0.3);
    // The tries from the least to the most that the rules allow.
    let (shape_at, from, to): (Box<dyn Fn(Length) -> Deadman + '_>, Length, Length) = match *buried {
        Buried::LogThick { diameter, depth } => {
            positive("the diameter of the log", diameter.as_m(), "greater than zero, for example 0.3 m")?;
            let most = proportion(&log(diameter, diameter))?.unwrap_or(1.0);
            let most = steps_down(diameter * most);
            (Box::new(move |l| of(log(diameter, l), depth)), Length::from_m(0.4).min(most), most)
        }
        Buried::Log { diameter, length } => {
            (Box::new(move |d| of(log(diameter, length), d)), least_depth(diameter), deepest)
        }
        Buried::Beam { face, length } => {
            let beam = move || DeadmanShape::Beam { face: proposed(exact(face)), length: proposed(exact(length)) };
            (Box::new(move |d| of(beam(), d)), least_depth(face), deepest)
        }
        Buried::Wheel { diameter } => {
            let wheel = move || DeadmanShape::Wheel { diameter: proposed(exact(diameter)) };
            (Box::new(move |d| of(wheel(), d)), least_depth(diameter), deepest)
        }
    };
    let found = least_enough(from, to, |l| Ok(holds(&deadman(&shape_at(l), &ask.pulled, &mut Silent)?, wanted)))?;
    let proposal = shape_at(found.unwrap_or(to.max(from)));
    let capacity = deadman(&proposal, &ask.pulled, rec)?;
    let enough = holds(&capacity, wanted);
    let reason = (!enough).then(|| match buried {
        Buried::LogThick { .. } => "no log of this thickness is enough at this depth: longer than five times its thickness counts for nothing. Dig deeper, or take a thicker one".to_owned(),
        _ => "it is not enough as deep as the table goes (7 ft, 2.1 m): take something longer or thicker, or share the pull".to_owned(),
    });
    dug(ask, proposal, capacity, enough, reason, rec)
}

/// The least length in steps that is enough, between two ends; more is never weaker.
fn least_enough(
    from: Length,
    to: Length,
    enough: impl Fn(Length) -> Result<bool, MechanicsError>,
) -> Result<Option<Length>, MechanicsError> {
    let at = |i: u32| Length::from_m((libm::ceil(from.as_m() / STEP_M - 1e-9) + f64::from(i)) * STEP_M);
    let mut i = 0;
    // Some hundred tries at most: 7 ft or a log's length in steps of 5 cm.
    while at(i) <= to && i < 1000 {
        if enough(at(i))? {
            return Ok(Some(at(i)));
        }
        i += 1;
    }
    Ok(None)
}

fn steps_down(l: Length) -> Length {
    Length::from_m(libm::floor(l.as_m() / STEP_M + 1e-9) * STEP_M)
}

/// The trench, the digging, the words.
fn dug(
    ask: &Ask,
    proposal: Deadman,
    capacity: AnchorCapacity,
    enough: bool,
    reason: Option<String>,
    rec: &mut impl Recorder,
) -> Result<BuildSheet, MechanicsError> {
    let depth = proposal.depth.value.likely();
    let (what, thick, long) = match &proposal.shape {
        DeadmanShape::Log { diameter, length } => ("sound log", diameter.value.likely(), length.value.likely()),
        DeadmanShape::Beam { face, length } => {
            ("sound beam, its face towards the pull", face.value.likely(), length.value.likely())
        }
        DeadmanShape::Wheel { diameter } => {
            ("wheel, upright, flat side towards the pull", diameter.value.likely(), diameter.value.likely())
        }
    };
    let foot = Length::from_foot(1.0);
    let bottom = depth + thick * 0.5;
    let room = Length::from_m(ROOM_M);
    let (trench_long, trench_wide) = (long + foot, thick.max(room));
    let rise = proposal.line_rise.value;
    let cable_long = bottom / rise.tan();
    let undercut = Angle::from_deg(rule("undercut_deg")?);
    let of_trench = trench_long.as_m() * trench_wide.as_m() * bottom.as_m();
    let of_cable = 0.5 * bottom.as_m() * cable_long.as_m() * foot.as_m();
    let of_undercut = 0.5 * bottom.as_m() * bottom.as_m() * undercut.tan() * trench_long.as_m();
    let volume = of_trench + of_cable + of_undercut;
    let (dig, fill) = (rate(&proposal.earth.soil.value)?, rate("fill")?);
    let hands = f64::from(ask.crew.min(DIGGERS));
    let hours = dig.combine(&fill, |d, f| volume / (d * hands) + volume / (f * hands));
    let time = hours.increasing(Time::from_hour);
    rec.record(|| {
        Step::new(
            "earth to be moved",
            "V",
            "V = trench + ½ · bottom · line's trench · 1 ft + undercut",
            volume,
            Dimension::Volume,
            "statics",
        )
        .input("trench", of_trench, Dimension::Volume, Origin::Earlier)
        .input("line's trench", of_cable, Dimension::Volume, Origin::Earlier)
        .input("undercut", of_undercut, Dimension::Volume, Origin::Earlier)
    });
    rec.record(|| {
        let origin =
            |row: &str| Origin::Table { table: "anchor_work", row: row.to_owned(), source: "hand-digging-norms" };
        Step::range(
            "time to dig, to fill and to tamp",
            "t",
            "t = V / (dig · hands) + V / (fill · hands)",
            &time,
            "hand-digging-norms",
        )
        .input_range("dig, m³/h", &dig, origin(&proposal.earth.soil.value))
        .input_range("fill, m³/h", &fill, origin("fill"))
        .input("hands", hands, Dimension::Count, Origin::Constant("own-judgement"))
    });
    let mut steps = vec![
        format!(
            "Dig a trench square across the pull, {:.2} m long, {:.2} m wide, {:.2} m deep; leave the earth on the side of the load undisturbed.",
            trench_long.as_m(),
            trench_wide.as_m(),
            bottom.as_m()
        ),
        format!("Undercut the face on the side of the load by {:.0}°, so that it bears from the bottom.", undercut.as_deg()),
        format!(
            "Cut a narrow trench for the line, from the bottom of the face upwards, rising {:.0}°: {:.2} m long.",
            rise.as_deg(),
            cable_long.as_m()
        ),
        "Put a strap, at least as strong as the line, round the middle; it leaves from the bottom. Never fasten the line to it directly.".to_owned(),
        "Keep the connector between strap and line out of the earth, where it can be seen.".to_owned(),
        "Press it against the face, stake it there, fill behind and above in layers of 0.1 to 0.2 m and tamp each.".to_owned(),
        "Mark the strap at the mouth of the trench. Pull slowly: it moves before it bites. If the mark goes on moving, stop.".to_owned(),
    ];
    if bottom > Length::from_m(1.2) {
        steps.insert(
            1,
            "Deeper than 1.2 m a trench can bury somebody: slope its sides or shore it, and nobody works in it alone."
                .to_owned(),
        );
    }
    let measures = vec![
        length("depth of its middle", depth),
        length("length of the trench", trench_long),
        length("width of the trench", trench_wide),
        length("depth of the trench", bottom),
        BuildMeasure { what: "undercut of the face", measure: Measure::Angle(undercut) },
        BuildMeasure { what: "rise of the line's trench", measure: Measure::Angle(rise) },
        length("length of the line's trench", cable_long),
        length("width of the line's trench, at most", foot),
        BuildMeasure { what: "earth to be moved", measure: Measure::Volume(volume) },
    ];
    let pieces = vec![
        BuildPiece { what: what.to_owned(), count: 1, length: Some(long), thickness: Some(thick) },
        BuildPiece {
            what: "strap, at least as strong as the line".to_owned(),
            count: 1,
            length: None,
            thickness: None,
        },
        BuildPiece { what: "stake to hold it against the face".to_owned(), count: 2, length: None, thickness: None },
    ];
    Ok(BuildSheet {
        kind: BuildKind::Deadman,
        pull: ask.pull,
        divisor: ask.divisor,
        enough,
        reason,
        proposal: AnchorKind::Deadman(proposal),
        capacity,
        pieces,
        measures,
        steps,
        time: Some(time),
    })
}

/// How many plates or screws behind a bridle are enough, each pulled on proof with this.
///
/// # Source
/// [`plates`]; no more than six: `own-judgement`; time: `own-judgement` (table `anchor_work`).
///
/// # Errors
/// If pull, divisor, crew or proof pull are not in order.
pub fn build_plates(
    ask: &Ask,
    what: &str,
    proof: Force,
    rec: &mut impl Recorder,
) -> Result<BuildSheet, MechanicsError> {
    let wanted = checked(ask)?;
    let of = |count| Plates { what: what.to_owned(), count, proof: Some(proposed(proof)), depth: None, earth: None };
    let mut count = 1;
    while count < MOST_PLATES && !holds(&plates(&of(count), &mut Silent)?, wanted) {
        count += 1;
    }
    let proposal = of(count);
    let capacity = plates_in(&proposal, ask.pulled.saturated, rec)?;
    let enough = holds(&capacity, wanted);
    let reason = (!enough).then(|| {
        format!("{MOST_PLATES} of them behind a bridle are not enough at this proof pull: a greater proof pull, or another anchor")
    });
    let mut pieces = vec![BuildPiece { what: what.to_owned(), count, length: None, thickness: None }];
    let mut steps = vec![
        "Set each in the direction of the work, in undisturbed ground, as its maker says.".to_owned(),
        format!(
            "Pull each on proof with {:.1} kN in the direction of the work; one that moves on is set anew.",
            proof.as_kn()
        ),
    ];
    if count > 1 {
        pieces.push(BuildPiece {
            what: "bridle that joins them, its legs long and equal".to_owned(),
            count: 1,
            length: None,
            thickness: None,
        });
        steps.push("Join them with a bridle, its legs as long and as equal as you can; look at all of them when it comes tight.".to_owned());
    }
    steps.push("Mark the ground at each. If one moves during the pull, stop.".to_owned());
    let hands = f64::from(ask.crew.min(count));
    let time = rate("plate_min")?.increasing(|m| Time::from_min(m * f64::from(count) / hands));
    Ok(BuildSheet {
        kind: BuildKind::Plates,
        pull: ask.pull,
        divisor: ask.divisor,
        enough,
        reason,
        proposal: AnchorKind::Plates(proposal),
        capacity,
        pieces,
        measures: Vec::new(),
        steps,
        time: Some(time),
    })
}
