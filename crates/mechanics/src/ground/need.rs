//! The need: what must be overcome, from the case's words.

use super::action::{ActionKind, combined_factor};
use super::alternatives::alternatives;
use super::arithmetic::{product, sum};
use super::bekker::Bekker;
use super::mired::mire_band;
use super::rolling::rolling;
use super::terramechanics::{Terra, terramechanics};
use crate::error::{MechanicsError, between, positive};
use crate::lookup;
use crate::standing::Warning;
use unmire_model::case::Case;
use unmire_model::ground::{Depth, Ground, NeedMethod, Stuck, WayOut};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Angle, Force, Mass, Range};
use unmire_tables::How;

/// What the need depends on.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    /// The stuck vehicle.
    pub vehicle: &'a Vehicle,
    /// How it is stuck.
    pub stuck: &'a Stuck,
    /// The ground.
    pub ground: &'a Ground,
    /// The way out.
    pub way_out: &'a WayOut,
}
impl<'a> Scene<'a> {
    /// The scene of a case.
    ///
    /// # Source
    /// None: a selection.
    #[must_use]
    pub fn of(case: &'a Case) -> Self {
        Self { vehicle: &case.vehicle, stuck: &case.stuck, ground: &case.ground, way_out: &case.way_out }
    }
}

/// One part of the need.
#[derive(Clone, Debug, PartialEq)]
pub struct NeedPart {
    /// Its name: `mire`, `rolling`, `grade`, `obstacle`, `locked-wheels`, `belly`, `righting`, `compaction`, `own-wheels`.
    pub name: &'static str,
    /// How much; negative where it helps.
    pub range: Range<Force>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
}

/// The same need by another rule, for comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedEstimate {
    /// Its name.
    pub name: String,
    /// What it says.
    pub range: Range<Force>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
    /// Whether the verdict uses it.
    pub used: bool,
    /// What must be told beside it.
    pub note: String,
}

/// The need.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// All of it, along the way out: low, likely, high.
    pub total: Range<Force>,
    /// The weight that moves, after what is taken out.
    pub weight: Range<Force>,
    /// The method that the total comes from.
    pub method: NeedMethod,
    /// Its parts; they add up to the total.
    pub parts: Vec<NeedPart>,
    /// What other rules say.
    pub alternatives: Vec<NamedEstimate>,
    /// Terramechanics, one wheel at the likely weight, where the soil and the tyres are described.
    pub terramechanics: Option<Bekker>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// The need as found.
///
/// # Source
/// Not mired: `statics` with the table `rolling`. Mired: table `mire_band` (`own-judgement`: low ends secondary, high ends from
/// memory) or the case's own share. Terramechanics: `bekker` (memory) with `wong-2008` (secondary).
///
/// # Errors
/// If the surface or the soil is in no table, or a number is not an ordinary one.
pub fn need(scene: &Scene<'_>, rec: &mut impl Recorder) -> Result<Need, MechanicsError> {
    need_after(scene, &[], rec)
}

/// The need after these actions were done: unloading lowers the weight, digging and the like lower the mire's part,
/// clearing lowers the obstacle's.
///
/// # Source
/// `statics`, as [`need`]; effects: table `action` (its best case of digging secondary, the rest `own-judgement`).
///
/// # Errors
/// As [`need`].
pub fn need_after(scene: &Scene<'_>, actions: &[ActionKind], rec: &mut impl Recorder) -> Result<Need, MechanicsError> {
    let weight = moving_weight(scene, actions, rec)?;
    let terra = terramechanics(scene, &weight, rec)?;
    let mut tally =
        Tally { scene: *scene, weight, factor: Factors::of(actions)?, parts: Vec::new(), warnings: Vec::new() };
    let used_terra = tally.which_method(terra.as_ref());
    match (used_terra, &terra) {
        (true, Some(t)) => tally.compaction(t),
        _ if scene.stuck.depth.value == Depth::NotMired => tally.rolling(rec)?,
        _ => tally.mire(rec)?,
    }
    let along = tally.slope(rec);
    tally.hindrances(rec)?;
    tally.own_wheels(terra.as_ref(), rec);
    let total = tally.total(rec)?;
    let alternatives = alternatives(scene, &weight, terra.as_ref(), used_terra, &along);
    Ok(Need {
        total,
        weight,
        method: if used_terra { NeedMethod::Terramechanics } else { NeedMethod::Doctrine },
        parts: tally.parts,
        alternatives,
        terramechanics: terra.map(|t| t.wheel),
        warnings: tally.warnings,
    })
}

/// The parts as they come together.
struct Tally<'a> {
    scene: Scene<'a>,
    weight: Range<Force>,
    factor: Factors,
    parts: Vec<NeedPart>,
    warnings: Vec<Warning>,
}

impl Tally<'_> {
    fn add(&mut self, name: &'static str, range: Range<Force>, source: &'static str, how: How) {
        self.parts.push(NeedPart { name, range, source, how });
    }
    fn warn(&mut self, code: &'static str, text: impl Into<String>) {
        self.warnings.push(Warning::new(code, text));
    }

    /// Whether terramechanics was asked for and may be used.
    fn which_method(&mut self, terra: Option<&Terra>) -> bool {
        if self.scene.ground.method != NeedMethod::Terramechanics {
            return false;
        }
        match terra {
            Some(t) => match t.wheel.doubt {
                None => true,
                Some(d) => {
                    self.warn("terramechanics-not-valid", format!("{}; the doctrine's band is used", d.text()));
                    false
                }
            },
            None => {
                self.warn(
                    "terramechanics-not-valid",
                    "terramechanics was asked for, but the soil or the tyres are not described: the doctrine's band is used",
                );
                false
            }
        }
    }

    /// What compacting the soil costs.
    fn compaction(&mut self, terra: &Terra) {
        if self.scene.stuck.depth.value != Depth::NotMired {
            self.warn(
                "terramechanics-mired",
                "the vehicle is mired, and the formula knows neither bulldozing nor suction: the need may be higher",
            );
        }
        self.warn(
            "terramechanics-scatter",
            "the range comes from the weight alone: how far this soil differs from the one in the table is not in it",
        );
        self.add("compaction", terra.total, "bekker", How::Memory);
    }

    /// Wheels that turn.
    fn rolling(&mut self, rec: &mut impl Recorder) -> Result<(), MechanicsError> {
        let row = rolling(&self.scene.ground.surface.value)?;
        let grade = self.scene.way_out.grade.value;
        // cos θ falls with the steepness, whichever way the slope goes.
        let cosines = grade.values().map(Angle::cos);
        let [a, b, c] = cosines;
        let level_between = grade.low().as_rad() < 0.0 && grade.high().as_rad() > 0.0;
        let cos = Range::hull(a.min(c), b, if level_between { 1.0 } else { a.max(c) });
        let turning = locked_share(self.scene.stuck)?.decreasing(|s: f64| 1.0 - s);
        let range = product(&product(&product(&self.weight, &row.share), &cos), &turning);
        rec.record(|| {
            Step::range(
                "rolling resistance",
                "R",
                "R = W r cos θ · share of the weight on wheels that turn",
                &range,
                "statics",
            )
            .input_range("W", &self.weight, Origin::Earlier)
            .input_range(
                "r",
                &row.share,
                Origin::Table { table: "rolling", row: row.key.to_owned(), source: row.source },
            )
            .given("θ", &self.scene.way_out.grade)
            .note(row.how.words())
        });
        self.add("rolling", range, row.source, row.how);
        Ok(())
    }

    /// What the mire holds: the case's own share, or the band.
    fn mire(&mut self, rec: &mut impl Recorder) -> Result<(), MechanicsError> {
        let (share, source, how, origin) = match &self.scene.stuck.mire_share {
            Some(given) => (given.value, "statics", How::Derived, given.origin.clone()),
            None => {
                let band = mire_band(self.scene.stuck.depth.value)?;
                self.warn(
                    "mire-from-memory",
                    "the high end of the mire's share is a field multiple recalled from memory, the low end from club rules: \
                     measure with a gentle pull and a load cell where you can",
                );
                let origin = Origin::Table { table: "mire_band", row: band.key.to_owned(), source: band.source };
                (band.share, band.source, band.how, origin)
            }
        };
        between("the mire's share of the weight", share.low(), 0.0, 10.0, "0 or more, for example 0.8 .. 1.2")?;
        let held = product(&product(&self.weight, &share), &self.factor.mire);
        rec.record(|| {
            let s = Step::range("what the mire holds", "R", "R = W m · factor of the actions", &held, source)
                .input_range("W", &self.weight, Origin::Earlier)
                .input_range("m", &share, origin.clone())
                .note(how.words());
            if self.factor.mire.is_exact() {
                s
            } else {
                s.input_range("factor", &self.factor.mire, Origin::Constant("own-judgement"))
            }
        });
        self.add("mire", held, source, how);
        Ok(())
    }

    /// The weight along the way out.
    fn slope(&mut self, rec: &mut impl Recorder) -> Range<Force> {
        let along = product(&self.weight, &self.scene.way_out.grade.value.increasing(|a: Angle| a.sin()));
        rec.record(|| {
            Step::range("weight along the way out", "G", "G = W sin θ", &along, "statics")
                .input_range("W", &self.weight, Origin::Earlier)
                .given("θ", &self.scene.way_out.grade)
        });
        self.add("grade", along, "statics", How::Derived);
        along
    }

    /// An obstacle, wheels that don't turn, a belly on the ground, a vehicle on its side.
    fn hindrances(&mut self, rec: &mut impl Recorder) -> Result<(), MechanicsError> {
        let stuck = self.scene.stuck;
        if let Some(obstacle) = &stuck.obstacle {
            let range = product(&obstacle.value, &self.factor.obstacle);
            rec.record(|| {
                Step::range("the obstacle", "O", "O as stated · factor of clearing it", &range, "statics")
                    .given("O", obstacle)
            });
            self.add("obstacle", range, "statics", How::Derived);
        }
        let sliding = lookup::locked_wheels();
        if stuck.locked_share.is_some() {
            let locked = locked_share(stuck)?;
            let range = product(&product(&self.weight, &sliding.share), &locked);
            rec.record(|| {
                Step::range("wheels that don't turn", "B", "B = W · share on them · 0.67", &range, "trade-faq")
                    .input_range("W", &self.weight, Origin::Earlier)
                    .input_range("share on them", &locked, Origin::Earlier)
            });
            self.add("locked-wheels", range, sliding.source, sliding.how);
        }
        if stuck.bellied {
            self.warn(
                "bellied",
                "the belly rests on the ground: no rule with a source covers that; dig it free before any pull",
            );
            // The deeper rows of the band and a measured share have the belly in them.
            if stuck.mire_share.is_none() && matches!(stuck.depth.value, Depth::NotMired | Depth::Wheel) {
                let dragged = Range::hull(0.0, 0.5 * sliding.share.likely(), sliding.share.high());
                let range = product(&product(&self.weight, &dragged), &self.factor.mire);
                rec.record(|| {
                    Step::range(
                        "the belly on the ground",
                        "B",
                        "B = W · 0 … 0.67, as wheels that slide",
                        &range,
                        "own-judgement",
                    )
                    .input_range("W", &self.weight, Origin::Earlier)
                });
                self.add("belly", range, "own-judgement", How::OwnJudgement);
            }
        }
        if stuck.overturned {
            let row = lookup::righting();
            self.warn(
                "overturned",
                "the vehicle lies on its side or roof: righting needs about half of its weight (from memory) and its own plan; \
                 this need is for moving it as it lies",
            );
            let range = product(&self.weight, &row.share);
            self.add("righting", range, row.source, row.how);
        }
        Ok(())
    }

    /// Its own wheels: nothing at the high end, at the low end never more than computed traction.
    fn own_wheels(&mut self, terra: Option<&Terra>, rec: &mut impl Recorder) {
        let before = sum(&self.parts).low();
        if !self.scene.stuck.drive_helps || before.as_n() <= 0.0 {
            return;
        }
        let Some(t) = terra else {
            self.warn(
                "own-wheels-not-counted",
                "nothing is counted for its own wheels: no published share exists, and the soil and the tyres are not described",
            );
            return;
        };
        if t.traction.low() >= before {
            self.warn(
                "own-wheels-may-do",
                "at the low end the soil could push back hard enough for the vehicle's own wheels to drive it out",
            );
        }
        let range = Range::hull(-t.traction.low().min(before), Force::ZERO, Force::ZERO);
        rec.record(|| {
            Step::range(
                "what its own wheels give",
                "P",
                "0 at the high end; at the low end at most A c + W tan φ",
                &range,
                "bekker",
            )
            .input_range("A c + W tan φ", &t.traction, Origin::Earlier)
        });
        self.add("own-wheels", range, "bekker", How::Memory);
    }

    /// The sum, never below zero and never in silence.
    fn total(&mut self, rec: &mut impl Recorder) -> Result<Range<Force>, MechanicsError> {
        let raw = sum(&self.parts);
        let total = if raw.low().as_n() < 0.0 {
            self.warn(
                "may-run-away",
                "the slope may take the vehicle away by itself: at the low end no pull is needed, but something must hold it back",
            );
            raw.increasing(|f: Force| f.max(Force::ZERO))
        } else {
            raw
        };
        if !(total.low().is_finite() && total.likely().is_finite() && total.high().is_finite()) {
            return Err(MechanicsError::BadInput {
                what: "the need",
                got: total.high().as_n(),
                expected: "an ordinary number; check masses, shares and slopes",
            });
        }
        rec.record(|| Step::range("the need along the way out", "F", "sum of the parts", &total, "statics"));
        Ok(total)
    }
}

/// Factors that the actions put on the parts.
struct Factors {
    mire: Range<f64>,
    obstacle: Range<f64>,
}
impl Factors {
    fn of(actions: &[ActionKind]) -> Result<Self, MechanicsError> {
        let (mut mire, mut obstacle) = (Vec::new(), Vec::new());
        for (i, a) in actions.iter().enumerate() {
            // The same action twice brings nothing more.
            if actions.iter().take(i).any(|b| b == a) {
                continue;
            }
            let (e, on) = lookup::action(a.row())?;
            if on == "obstacle" {
                obstacle.push(e.factor);
            } else {
                mire.push(e.factor);
            }
        }
        Ok(Self { mire: combined_factor(&mire), obstacle: combined_factor(&obstacle) })
    }
}

/// All that moves, less what is taken out.
fn moving_weight(
    scene: &Scene<'_>,
    actions: &[ActionKind],
    rec: &mut impl Recorder,
) -> Result<Range<Force>, MechanicsError> {
    let (vehicle, stuck) = (scene.vehicle, scene.stuck);
    let mass = vehicle.moving_mass();
    let mass = match (&stuck.unloadable, actions.contains(&ActionKind::Unload)) {
        (Some(out), true) => Range::hull(
            mass.low() - out.value.high(),
            mass.likely() - out.value.likely(),
            mass.high() - out.value.low(),
        ),
        _ => mass,
    };
    positive(
        "the mass that moves, less what is taken out",
        mass.low().as_kg(),
        "a mass greater than zero, for example 2.4 t",
    )?;
    let weight = mass.increasing(Mass::weight);
    rec.record(|| {
        let mut s = Step::range("weight that moves", "W", "W = (mass + payload − unloaded) g", &weight, "cgpm-1901")
            .given("mass", &vehicle.mass)
            .input("g", unmire_model::STANDARD_GRAVITY, Dimension::Other, Origin::Constant("cgpm-1901"));
        if let Some(p) = &vehicle.payload {
            s = s.given("payload", p);
        }
        if let (Some(u), true) = (&stuck.unloadable, actions.contains(&ActionKind::Unload)) {
            s = s.given("unloaded", u);
        }
        s
    });
    Ok(weight)
}

fn locked_share(stuck: &Stuck) -> Result<Range<f64>, MechanicsError> {
    match &stuck.locked_share {
        None => Ok(Range::hull(0.0, 0.0, 0.0)),
        Some(s) => {
            let expected = "a share between 0 and 1, for example 0.25 for one wheel of four";
            between("the share of the weight on locked wheels", s.value.low(), 0.0, 1.0, expected)?;
            between("the share of the weight on locked wheels", s.value.high(), 0.0, 1.0, expected)?;
            Ok(s.value)
        }
    }
}

#[cfg(test)]
mod tests;
