//! The need: what must be overcome, from the case's words.

use super::action::{ActionKind, combined_factor};
use super::bekker::{Bekker, bekker, soil, soil_thrust};
use super::mired::{doctrines, mire_band};
use super::rolling::{grade_by_sixty, rolling, slope_by_fifteen};
use crate::error::MechanicsError;
use crate::lookup;
use crate::standing::Warning;
use unmire_model::case::Case;
use unmire_model::ground::{Depth, Ground, NeedMethod, Stuck, WayOut};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::vehicle::Vehicle;
use unmire_model::{Angle, Area, Force, Length, Mass, Range};
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
/// As [`need`]; effects: table `action` (one secondary row, the rest `own-judgement`).
///
/// # Errors
/// As [`need`].
pub fn need_after(scene: &Scene<'_>, actions: &[ActionKind], rec: &mut impl Recorder) -> Result<Need, MechanicsError> {
    let Scene { vehicle, stuck, ground, way_out } = *scene;
    let depth = stuck.depth.value;
    let grade = way_out.grade.value;
    let mut warnings = Vec::new();

    let weight = moving_weight(vehicle, stuck, actions, rec)?;
    let factor = Factors::of(actions)?;
    let rolling_row = rolling(&ground.surface.value)?;

    // Terramechanics, beside.
    let terra = terramechanics(scene, &weight, rec)?;
    let use_terra = ground.method == NeedMethod::Terramechanics
        && match &terra {
            Some(t) => match t.wheel.doubt {
                None => true,
                Some(d) => {
                    warnings.push(Warning::new(
                        "terramechanics-not-valid",
                        format!("{}; the doctrine's band is used", d.text()),
                    ));
                    false
                }
            },
            None => {
                warnings.push(Warning::new(
                    "terramechanics-not-valid",
                    "terramechanics was asked for, but the soil or the tyres are not described: the doctrine's band is used",
                ));
                false
            }
        };

    let mut parts = Vec::new();
    // What the ground holds.
    if let (true, Some(t)) = (use_terra, &terra) {
        if depth != Depth::NotMired {
            warnings.push(Warning::new(
                "terramechanics-mired",
                "the vehicle is mired, and the formula knows neither bulldozing nor suction: the need may be higher",
            ));
        }
        parts.push(NeedPart { name: "compaction", range: t.total, source: "bekker", how: How::Memory });
    } else if depth == Depth::NotMired {
        let share = rolling_row.share;
        // cos θ is at its greatest at the gentlest slope.
        let cos = Range::hull(grade.high().cos(), grade.likely().cos(), grade.low().cos());
        let locked = locked_share(stuck)?;
        let turning = locked.decreasing(|s: f64| 1.0 - s);
        let range = product(&product(&product(&weight, &share), &cos), &turning);
        rec.record(|| {
            Step::range(
                "rolling resistance",
                "R",
                "R = W r cos θ · share of the weight on wheels that turn",
                &range,
                "statics",
            )
            .input_range("W", &weight, Origin::Earlier)
            .input_range(
                "r",
                &share,
                Origin::Table { table: "rolling", row: rolling_row.key.to_owned(), source: rolling_row.source },
            )
            .given("θ", &way_out.grade)
            .note(rolling_row.how.words())
        });
        parts.push(NeedPart { name: "rolling", range, source: rolling_row.source, how: rolling_row.how });
    } else {
        let (share, source, how, origin) = match &stuck.mire_share {
            Some(given) => (given.value, "statics", How::Derived, given.origin.clone()),
            None => {
                let band = mire_band(depth)?;
                warnings.push(Warning::new(
                    "mire-from-memory",
                    "the high end of the mire's share is a field multiple recalled from memory, the low end from club rules: \
                     measure with a gentle pull and a load cell where you can",
                ));
                (
                    band.share,
                    band.source,
                    band.how,
                    Origin::Table { table: "mire_band", row: band.key.to_owned(), source: band.source },
                )
            }
        };
        let held = product(&product(&weight, &share), &factor.mire);
        rec.record(|| {
            let mut s = Step::range("what the mire holds", "R", "R = W m · factor of the actions", &held, source)
                .input_range("W", &weight, Origin::Earlier)
                .input_range("m", &share, origin.clone())
                .note(how.words());
            if !factor.mire.is_exact() {
                s = s.input_range("factor", &factor.mire, Origin::Constant("own-judgement"));
            }
            s
        });
        parts.push(NeedPart { name: "mire", range: held, source, how });
    }

    // The slope.
    let along = product(&weight, &grade.increasing(|a: Angle| a.sin()));
    rec.record(|| {
        Step::range("weight along the way out", "G", "G = W sin θ", &along, "statics")
            .input_range("W", &weight, Origin::Earlier)
            .given("θ", &way_out.grade)
    });
    parts.push(NeedPart { name: "grade", range: along, source: "statics", how: How::Derived });

    // What stands in the way or doesn't turn.
    if let Some(obstacle) = &stuck.obstacle {
        let range = product(&obstacle.value, &factor.obstacle);
        parts.push(NeedPart { name: "obstacle", range, source: "statics", how: How::Derived });
    }
    if stuck.locked_share.is_some() {
        let locked = locked_share(stuck)?;
        let row = lookup::locked_wheels();
        let range = product(&product(&weight, &row.share), &locked);
        rec.record(|| {
            Step::range("wheels that don't turn", "B", "B = W · share on them · 0.67", &range, row.source)
                .input_range("W", &weight, Origin::Earlier)
                .input_range("share on them", &locked, Origin::Earlier)
        });
        parts.push(NeedPart { name: "locked-wheels", range, source: row.source, how: row.how });
    }
    if stuck.bellied {
        warnings.push(Warning::new(
            "bellied",
            "the belly rests on the ground: no rule with a source covers that; dig it free before any pull",
        ));
        // The deeper rows of the band and a measured share have the belly in them.
        let counted = stuck.mire_share.is_none() && matches!(depth, Depth::NotMired | Depth::Wheel);
        if counted {
            let row = lookup::locked_wheels();
            let dragged = Range::hull(0.0, 0.5 * row.share.likely(), row.share.high());
            let range = product(&product(&weight, &dragged), &factor.mire);
            rec.record(|| {
                Step::range(
                    "the belly on the ground",
                    "B",
                    "B = W · 0 … 0.67, as wheels that slide",
                    &range,
                    "own-judgement",
                )
                .input_range("W", &weight, Origin::Earlier)
            });
            parts.push(NeedPart { name: "belly", range, source: "own-judgement", how: How::OwnJudgement });
        }
    }
    if stuck.overturned {
        let row = lookup::righting();
        warnings.push(Warning::new(
            "overturned",
            "the vehicle lies on its side or roof: righting needs about half of its weight (from memory) and its own plan; \
             this need is for moving it as it lies",
        ));
        parts.push(NeedPart {
            name: "righting",
            range: product(&weight, &row.share),
            source: row.source,
            how: row.how,
        });
    }

    // Its own wheels: nothing at the high end, at the low end never more than computed traction.
    let before_help = sum(&parts);
    if stuck.drive_helps && before_help.low().as_n() > 0.0 {
        match &terra {
            Some(t) => {
                let help = t.traction.low().min(before_help.low());
                if t.traction.low() >= before_help.low() {
                    warnings.push(Warning::new(
                        "own-wheels-may-do",
                        "at the low end the soil could push back hard enough for the vehicle's own wheels to drive it out",
                    ));
                }
                let range = Range::hull(-help, Force::ZERO, Force::ZERO);
                rec.record(|| {
                    Step::range("what its own wheels give", "P", "0 at the high end; at the low end at most A c + W tan φ", &range, "bekker")
                        .input_range("A c + W tan φ", &t.traction, Origin::Earlier)
                });
                parts.push(NeedPart { name: "own-wheels", range, source: "bekker", how: How::Memory });
            }
            None => warnings.push(Warning::new(
                "own-wheels-not-counted",
                "nothing is counted for its own wheels: no published share exists, and the soil and the tyres are not described",
            )),
        }
    }

    let raw = sum(&parts);
    let total = if raw.low().as_n() < 0.0 {
        warnings.push(Warning::new(
            "may-run-away",
            "the slope may take the vehicle away by itself: at the low end no pull is needed, but something must hold it back",
        ));
        Range::hull(raw.low().max(Force::ZERO), raw.likely().max(Force::ZERO), raw.high().max(Force::ZERO))
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

    let alternatives = alternatives(scene, &weight, terra.as_ref(), use_terra, &along);
    Ok(Need {
        total,
        weight,
        method: if use_terra { NeedMethod::Terramechanics } else { NeedMethod::Doctrine },
        parts,
        alternatives,
        terramechanics: terra.map(|t| t.wheel),
        warnings,
    })
}

/// Whether the vehicle can run away once it is free: the slope along its wheels now, or along the way out where it will stand,
/// against the least rolling resistance of firm ground.
///
/// # Source
/// `statics`; least rolling share 0.01, `carvill-1993` (secondary).
#[must_use]
pub fn can_run_away(way_out: &WayOut) -> bool {
    let least = 0.01;
    [way_out.grade.value.low(), way_out.grade.value.high()].into_iter().any(|grade| {
        let nose = crate::stability::ground_axes(way_out, grade).nose_slope();
        let tan = grade.abs().max(nose.abs()).tan();
        // Not a number counts as steep.
        tan > least || tan.is_nan()
    })
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
    vehicle: &Vehicle,
    stuck: &Stuck,
    actions: &[ActionKind],
    rec: &mut impl Recorder,
) -> Result<Range<Force>, MechanicsError> {
    let mass = vehicle.moving_mass();
    let mass = match (&stuck.unloadable, actions.contains(&ActionKind::Unload)) {
        (Some(out), true) => Range::hull(
            mass.low() - out.value.high(),
            mass.likely() - out.value.likely(),
            mass.high() - out.value.low(),
        ),
        _ => mass,
    };
    crate::error::positive(
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
            crate::error::between("the share of the weight on locked wheels", s.value.low(), 0.0, 1.0, expected)?;
            crate::error::between("the share of the weight on locked wheels", s.value.high(), 0.0, 1.0, expected)?;
            Ok(s.value)
        }
    }
}

/// Terramechanics of the whole vehicle.
struct Terra {
    /// One wheel at the likely weight.
    wheel: Bekker,
    /// Compaction under four wheels.
    total: Range<Force>,
    /// The most that the soil pushes back under four driven wheels.
    traction: Range<Force>,
    /// Standing of the soil's row.
    how: How,
}

fn terramechanics(
    scene: &Scene<'_>,
    weight: &Range<Force>,
    rec: &mut impl Recorder,
) -> Result<Option<Terra>, MechanicsError> {
    let (Some(key), Some(tyres)) = (&scene.ground.soil, &scene.vehicle.tyres) else {
        return Ok(None);
    };
    let row = soil(&key.value)?;
    let cos = scene.way_out.grade.value.likely().cos();
    let at = |w: Force, rec: &mut _| bekker(&row, w * (0.25 * cos), tyres.width, tyres.diameter, rec);
    let mut silent = unmire_model::Silent;
    let low = bekker(&row, weight.low() * (0.25 * cos), tyres.width, tyres.diameter, &mut silent)?;
    let high = bekker(&row, weight.high() * (0.25 * cos), tyres.width, tyres.diameter, &mut silent)?;
    let wheel = at(weight.likely(), rec)?;
    let total = Range::hull(low.resistance * 4.0, wheel.resistance * 4.0, high.resistance * 4.0);
    // Contact length of a rigid wheel sunk by z: the chord √(z (D − z)), z at most half of the wheel.
    let thrust = |w: Force, z: Length| {
        let d = tyres.diameter.as_m();
        let z = if z.as_m() > 0.5 * d { 0.5 * d } else { z.as_m() };
        let area = Area::from_m2(tyres.width.as_m() * (z * (d - z)).sqrt());
        soil_thrust(&row, w * (0.25 * cos), area).map(|t| t * 4.0)
    };
    let traction = Range::hull(
        thrust(weight.low(), low.sinkage)?,
        thrust(weight.likely(), wheel.sinkage)?,
        thrust(weight.high(), high.sinkage)?,
    );
    Ok(Some(Terra { wheel, total, traction, how: row.how }))
}

/// What the other rules say of the same need.
fn alternatives(
    scene: &Scene<'_>,
    weight: &Range<Force>,
    terra: Option<&Terra>,
    terra_used: bool,
    along: &Range<Force>,
) -> Vec<NamedEstimate> {
    let depth = scene.stuck.depth.value;
    let slope = scene.way_out.grade.value;
    let mut out = Vec::new();
    for d in doctrines(depth) {
        out.push(NamedEstimate {
            name: format!("{}: {}", d.family, d.key),
            range: product(weight, &d.share).plus(along),
            source: d.source,
            how: d.how,
            used: false,
            note: join(d.condition, d.note),
        });
        if d.family == "us-multiples" && slope.high().as_rad() > 0.0 {
            let g = lookup::grade_as_one_weight();
            out.push(NamedEstimate {
                name: format!("{}: {} with the grade as one weight", d.family, d.key),
                range: product(weight, &d.share).plus(&product(weight, &g.share)),
                source: g.source,
                how: g.how,
                used: false,
                note: "deliberately coarse; instead of the sine of the slope, never added to it".to_owned(),
            });
        }
    }
    let scheme = if depth == Depth::NotMired {
        lookup::ground_factor(&scene.ground.surface.value)
    } else {
        lookup::ground_factor("bog")
    };
    if let Some((key, share, source, how)) = scheme {
        let margin = 1.0 + lookup::commonwealth_margin().share.likely();
        let hill = Range::hull(
            grade_by_sixty(weight.low(), slope.low()),
            grade_by_sixty(weight.likely(), slope.likely()),
            grade_by_sixty(weight.high(), slope.high()),
        );
        out.push(NamedEstimate {
            name: format!("commonwealth scheme: {key}"),
            range: product(weight, &Range::hull(share, share, share)).plus(&hill).increasing(|f: Force| f * margin),
            source,
            how,
            used: false,
            note: "weight ÷ ground factor, degrees ÷ 60 of the weight, and a quarter on the sum".to_owned(),
        });
    }
    if depth == Depth::NotMired
        && let Ok(r) = rolling(&scene.ground.surface.value)
    {
        let hill = Range::hull(
            slope_by_fifteen(weight.low(), slope.low()),
            slope_by_fifteen(weight.likely(), slope.likely()),
            slope_by_fifteen(weight.high(), slope.high()),
        );
        out.push(NamedEstimate {
            name: "trade: a quarter of the weight for 15 degrees".to_owned(),
            range: product(weight, &r.share).plus(&hill),
            source: "4x4-australia-2016",
            how: How::Read,
            used: false,
            note: "linear; up to 4.5 % under the sine below 30 degrees".to_owned(),
        });
    }
    if scene.stuck.bellied {
        let h = lookup::hung_on_rock();
        out.push(NamedEstimate {
            name: "club: hung up".to_owned(),
            range: product(weight, &h.share).plus(along),
            source: h.source,
            how: h.how,
            used: false,
            note: "three weights where the vehicle hangs on rock".to_owned(),
        });
    }
    if let Some(t) = terra {
        out.push(NamedEstimate {
            name: "terramechanics: compaction under four rigid wheels".to_owned(),
            range: t.total.plus(along),
            source: "bekker",
            how: if t.how == How::Memory { t.how } else { How::Memory },
            used: terra_used,
            note: t
                .wheel
                .doubt
                .map_or_else(|| "neither bulldozing nor suction is in it".to_owned(), |d| d.text().to_owned()),
        });
    }
    out
}

fn join(a: &str, b: &str) -> String {
    if b.is_empty() { a.to_owned() } else { format!("{a}; {b}") }
}

/// Sum of the parts, ends with ends.
fn sum(parts: &[NeedPart]) -> Range<Force> {
    parts.iter().fold(Range::hull(Force::ZERO, Force::ZERO, Force::ZERO), |a, p| a.plus(&p.range))
}

/// Product of a range of positive numbers with one of any sign: the corners decide.
fn product<Q: unmire_model::range::Scalar>(a: &Range<Q>, b: &Range<f64>) -> Range<Q> {
    let times = |x: Q, y: f64| x.si() * y;
    let corners =
        [times(a.low(), b.low()), times(a.low(), b.high()), times(a.high(), b.low()), times(a.high(), b.high())];
    let mut low = corners[0];
    let mut high = corners[0];
    for c in corners {
        // Not a number is kept.
        if c < low || c.is_nan() {
            low = c;
        }
        if c > high || c.is_nan() {
            high = c;
        }
    }
    Range::hull(Q::of_si(low), Q::of_si(times(a.likely(), b.likely())), Q::of_si(high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::trail::{Input, Trail};
    use unmire_model::vehicle::Tyres;
    use unmire_model::{Mass, Silent};

    fn exact<Q: unmire_model::range::Scalar>(q: Q) -> Input<Range<Q>> {
        Input::assumed(Range::hull(q, q, q), "test")
    }

    struct Parts {
        vehicle: Vehicle,
        stuck: Stuck,
        ground: Ground,
        way_out: WayOut,
    }
    impl Parts {
        fn scene(&self) -> Scene<'_> {
            Scene { vehicle: &self.vehicle, stuck: &self.stuck, ground: &self.ground, way_out: &self.way_out }
        }
    }

    fn parts(depth: Depth, grade_deg: f64) -> Parts {
        Parts {
            vehicle: Vehicle {
                name: "v".into(),
                mass: exact(Mass::from_kg(2800.0)),
                payload: None,
                wheelbase: None,
                track: None,
                cg_height: None,
                points: vec![],
                winch: None,
                tyres: None,
            },
            stuck: Stuck {
                depth: Input::assumed(depth, "test"),
                mire_share: None,
                obstacle: None,
                locked_share: None,
                drive_helps: false,
                bellied: false,
                unloadable: None,
                overturned: false,
            },
            ground: Ground {
                surface: Input::assumed("mud_shallow".to_owned(), "test"),
                soil: None,
                method: NeedMethod::Doctrine,
                saturated: false,
            },
            way_out: WayOut {
                bearing: Input::assumed(Angle::ZERO, "test"),
                grade: exact(Angle::from_deg(grade_deg)),
                side_slope: Input::assumed(Angle::ZERO, "test"),
                distance: exact(Length::from_m(6.0)),
            },
        }
    }

    const W: f64 = 2800.0 * unmire_model::STANDARD_GRAVITY;

    #[test]
    fn closed_form_not_mired_is_rolling_and_slope() {
        let n = need(&parts(Depth::NotMired, 4.0).scene(), &mut Silent).unwrap();
        let th = 4.0_f64.to_radians();
        assert!((n.total.likely().as_n() - W * (0.25 * libm::cos(th) + libm::sin(th))).abs() < 1e-6);
        let sum: f64 = n.parts.iter().map(|p| p.range.high().as_n()).sum();
        assert!((sum - n.total.high().as_n()).abs() < 1e-9);
    }

    #[test]
    fn closed_form_mired_adds_the_sine_and_never_one_weight() {
        let n = need(&parts(Depth::Wheel, 4.0).scene(), &mut Silent).unwrap();
        let g = libm::sin(4.0_f64.to_radians());
        assert!((n.total.low().as_n() - W * (0.5 + g)).abs() < 1e-6);
        assert!((n.total.high().as_n() - W * (1.0 + g)).abs() < 1e-6);
        let coarse = n.alternatives.iter().find(|a| a.name.contains("one weight")).unwrap();
        assert!((coarse.range.likely().as_n() - 2.0 * W).abs() < 1e-6 && !coarse.used);
        assert!(n.warnings.iter().any(|w| w.code == "mire-from-memory"));
    }

    #[test]
    fn closed_form_the_share_that_the_case_states_replaces_the_band() {
        let mut p = parts(Depth::Cab, 0.0);
        p.stuck.mire_share = Some(Input::assumed(Range::new(0.8, 1.0, 1.2).unwrap(), "test"));
        let n = need(&p.scene(), &mut Silent).unwrap();
        assert!((n.total.high().as_n() - 1.2 * W).abs() < 1e-6);
        assert!(n.warnings.iter().all(|w| w.code != "mire-from-memory"));
    }

    #[test]
    fn closed_form_actions_lower_the_need_and_unloading_the_weight() {
        let mut p = parts(Depth::WheelArch, 3.0);
        p.stuck.unloadable = Some(exact(Mass::from_kg(300.0)));
        let before = need(&p.scene(), &mut Silent).unwrap();
        let dug = need_after(&p.scene(), &[ActionKind::Dig], &mut Silent).unwrap();
        let both = need_after(&p.scene(), &[ActionKind::Dig, ActionKind::Unload], &mut Silent).unwrap();
        assert!(dug.total.likely() < before.total.likely() && both.total.likely() < dug.total.likely());
        let w = 2500.0 * unmire_model::STANDARD_GRAVITY;
        let g = libm::sin(3.0_f64.to_radians());
        // Digging halves at its likely value; unloading's own factor is 1 there.
        assert!((both.total.likely().as_n() - w * (1.5 * 0.5 + g)).abs() < 1e-6);
    }

    #[test]
    fn closed_form_the_wheels_give_nothing_at_the_high_end_and_at_most_the_traction_at_the_low_end() {
        let mut p = parts(Depth::Wheel, 0.0);
        p.stuck.drive_helps = true;
        let without = need(&p.scene(), &mut Silent).unwrap();
        assert!(without.warnings.iter().any(|w| w.code == "own-wheels-not-counted"));
        p.ground.soil = Some(Input::assumed("clayey_soil_thailand_38".to_owned(), "test"));
        p.vehicle.tyres = Some(Tyres { diameter: Length::from_m(0.8), width: Length::from_m(0.255) });
        let with = need(&p.scene(), &mut Silent).unwrap();
        assert_eq!(with.total.high(), without.total.high());
        assert!(with.total.low() < without.total.low());
        let help = with.parts.iter().find(|q| q.name == "own-wheels").unwrap().range.low();
        assert!(-help < without.total.low() && help < Force::ZERO);
    }

    #[test]
    fn closed_form_a_bogged_wheel_sends_terramechanics_back_to_the_doctrine() {
        let mut p = parts(Depth::NotMired, 0.0);
        p.ground.method = NeedMethod::Terramechanics;
        p.vehicle.tyres = Some(Tyres { diameter: Length::from_m(0.8), width: Length::from_m(0.255) });
        p.ground.soil = Some(Input::assumed("sandy_loam_lll_22".to_owned(), "test"));
        let bogged = need(&p.scene(), &mut Silent).unwrap();
        assert_eq!(bogged.method, NeedMethod::Doctrine);
        assert!(bogged.warnings.iter().any(|w| w.code == "terramechanics-not-valid" && w.text.contains("bogged")));
        p.ground.soil = Some(Input::assumed("dry_sand_lll".to_owned(), "test"));
        let sand = need(&p.scene(), &mut Silent).unwrap();
        assert_eq!(sand.method, NeedMethod::Terramechanics);
        assert!((sand.total.likely() / Force::from_n(W) - 0.28).abs() < 0.02);
        assert!(sand.alternatives.iter().any(|a| a.used));
    }

    #[test]
    fn closed_form_downhill_never_becomes_a_negative_need_in_silence() {
        let n = need(&parts(Depth::NotMired, -30.0).scene(), &mut Silent).unwrap();
        assert_eq!(n.total.high(), Force::ZERO);
        assert!(n.warnings.iter().any(|w| w.code == "may-run-away"));
        assert!(can_run_away(&parts(Depth::NotMired, -3.0).way_out));
        assert!(!can_run_away(&parts(Depth::NotMired, 0.0).way_out));
    }

    #[test]
    fn closed_form_a_side_slope_under_the_wheels_is_no_runaway_but_a_way_out_to_the_side_is() {
        let mut p = parts(Depth::NotMired, 0.0);
        p.way_out.side_slope = Input::assumed(Angle::from_deg(20.0), "test");
        assert!(!can_run_away(&p.way_out));
        p.way_out.bearing = Input::assumed(Angle::from_deg(90.0), "test");
        assert!(can_run_away(&p.way_out));
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_need() {
        let mut p = parts(Depth::WheelArch, 5.0);
        p.stuck.bellied = true;
        p.stuck.locked_share = Some(exact(0.25));
        p.stuck.drive_helps = true;
        p.ground.soil = Some(Input::assumed("dry_sand_lll".to_owned(), "test"));
        p.vehicle.tyres = Some(Tyres { diameter: Length::from_m(0.8), width: Length::from_m(0.255) });
        let mut trail = Trail::default();
        let a = need_after(&p.scene(), &ActionKind::ALL, &mut Silent).unwrap();
        let b = need_after(&p.scene(), &ActionKind::ALL, &mut trail).unwrap();
        assert_eq!(a, b);
        assert!(trail.steps.len() >= 6);
    }

    #[test]
    fn closed_form_an_unknown_surface_lists_the_known_ones() {
        let mut p = parts(Depth::NotMired, 0.0);
        p.ground.surface = Input::assumed("bog_of_doom".to_owned(), "test");
        let e = need(&p.scene(), &mut Silent).unwrap_err();
        assert!(e.to_string().contains("bog_of_doom") && e.to_string().contains("wet_grass"));
    }
}
