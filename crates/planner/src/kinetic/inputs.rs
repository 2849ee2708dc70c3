//! A kinetic pull as ranges, from the case: who pulls with what, what holds the stuck one, what the rope does.

use super::rig::AtTension;
use crate::context::Context;
use crate::demand;
use crate::parked::pulls_on;
use crate::rigging::{Rigging, Veh};
use unmire_audit::verdict::{Effect, Finding};
use unmire_mechanics::anchor::{AnchorMode, parked};
use unmire_mechanics::ground::Need;
use unmire_mechanics::kinetic::{PullInputs, ResistanceRange, RopeState, TIME_LIMIT, rope_of_piece};
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::kinetic::{RunUp, Stretching};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::vehicle::Helper;
use unmire_model::{Angle, Force, Length, Range, Recorder, Speed};

/// What is told of a rope that stretches.
fn told(rope: &Piece) -> Option<&Stretching> {
    match &rope.kind {
        PieceKind::Strap(s) => Some(&s.stretching),
        PieceKind::Rope(r) => Some(&r.stretching),
        _ => None,
    }
}

/// A helper and a rope with the chain between the two vehicles.
pub(super) struct Between<'r, 'a> {
    pub ctx: &'r Context<'a>,
    pub helper: &'a Helper,
    pub rope: &'a Piece,
    pub rigging: &'r Rigging<'a>,
}

/// The pull without its run-up, and what was assumed in it.
///
/// # Errors
/// What is not known.
pub(super) fn inputs<const TOLD: bool, R: Recorder>(
    between: &Between<'_, '_>,
    at: &AtTension,
    need: &Need,
    travel: Length,
    rec: &mut R,
) -> Result<(PullInputs, Vec<Finding>), String> {
    let Between { ctx, helper, rope, rigging } = *between;
    let mut findings = Vec::new();
    let name = &helper.vehicle.name;
    let eq = &at.solved.loads.poor;
    let traction = crate::parked::towed(helper, eq, &at.solved.built, rec.common())?;
    if TOLD {
        findings.extend(traction.warnings.iter().map(|w| demand::finding(w, name)));
    }
    let reason = traction.reason.unwrap_or_else(|| "what its tyres give is not known".to_owned());
    let traction = traction.pull.ok_or_else(|| format!("{name}: {reason}"))?;
    let holds = brakes(helper, rigging, at, rec);
    if helper.slope.value != Angle::ZERO {
        add::<TOLD>(
            &mut findings,
            "kinetic-puller-slope",
            name,
            "The weight of the puller along its slope is taken into what its tyres give and what its brakes hold.",
            "",
        );
    }
    let (resistance, slope) = resistance::<TOLD, _>(ctx, at, need, &mut findings, rec);
    let stretching = told(rope);
    let state = stretching.map_or(RopeState::Unknown, |s| s.state);
    let wet = stretching.and_then(|s| s.wet).unwrap_or(ctx.wet);
    let range = rope_of_piece(rope, state, wet, rec).map_err(|e| format!("{}: {e}", rope.id))?;
    if !range.assumed {
        add::<TOLD>(
            &mut findings,
            "kinetic-loss-assumed",
            &rope.id,
            "Its stretch was measured; what it loses on its way back is a placeholder. It sets how far the vehicle comes, and not the peak.",
            "",
        );
    }
    let nothing = Range::hull(Length::ZERO, Length::ZERO, Length::ZERO);
    let still = Range::hull(Speed::ZERO, Speed::ZERO, Speed::ZERO);
    let way = ctx.case.way_out.distance.value.high();
    let inputs = PullInputs {
        puller_mass: helper.vehicle.moving_mass(),
        stuck_mass: need.weight.increasing(|w| unmire_model::Mass::from_kg(w.as_n() / unmire_model::STANDARD_GRAVITY)),
        speed: still,
        slack: nothing,
        traction,
        puller_slope: Angle::ZERO,
        holds,
        resistance,
        stuck_slope: slope,
        rope: range,
        travel_limit: Some(way.max(travel)),
        time_limit: TIME_LIMIT,
    };
    Ok((inputs, findings))
}

/// Adds a remark to what must be told, if anything is told.
#[inline(always)]
pub(super) fn add<const TOLD: bool>(
    to: &mut Vec<Finding>,
    code: &'static str,
    subject: &str,
    text: &str,
    remedy: &str,
) {
    if TOLD {
        to.push(note(code, subject, text, remedy));
    }
}

pub(super) fn note(code: &'static str, subject: &str, text: &str, remedy: &str) -> Finding {
    Finding {
        code,
        effect: Effect::Note,
        subject: subject.to_owned(),
        text: text.to_owned(),
        remedy: remedy.to_owned(),
    }
}

/// What the braked puller holds against the rope; none if nobody can tell, and it then counts as a rock.
fn brakes(helper: &Helper, rigging: &Rigging<'_>, at: &AtTension, rec: &mut impl Recorder) -> Option<Range<Force>> {
    let pulls = pulls_on(Veh::Helper(helper), &at.solved.loads.poor, &at.solved.built, rigging);
    let held = parked::parked(helper, &pulls, rec.common()).ok()?;
    held.ways.iter().find(|w| w.mode == AnchorMode::TyresSlide).map(|w| w.holds)
}

/// What holds the stuck vehicle along the line, and its slope there. The need acts along the way out; a line at an angle to it has to carry
/// more, as everywhere in this program.
fn resistance<const TOLD: bool, R: Recorder>(
    ctx: &Context<'_>,
    at: &AtTension,
    need: &Need,
    findings: &mut Vec<Finding>,
    rec: &mut R,
) -> (ResistanceRange, Range<Angle>) {
    let none = Range::hull(Force::ZERO, Force::ZERO, Force::ZERO);
    let mut sum = need.parts.iter().filter(|p| p.name != "grade").fold(none, |s, p| s.plus(&p.range));
    if sum.low() < Force::ZERO {
        add::<TOLD>(
            findings,
            "kinetic-wheels-help",
            "need",
            "At the low end its own driven wheels give more than the ground holds: nothing holds it there.",
            "",
        );
        sum = sum.increasing(|f| f.max(Force::ZERO));
    }
    let breakaway = sum.increasing(|f| f * at.per_pull);
    // Its weight along the way out comes at the same share into the line: the slope of the line is that much steeper.
    let slope = ctx.case.way_out.grade.value.increasing(|a| {
        let s = (a.sin() * at.per_pull).clamp(-1.0, 1.0);
        Angle::from_rad(libm::asin(s))
    });
    rec.record(|| {
        Step::range(
            "what holds the stuck vehicle, its weight along the slope not counted",
            "R",
            "R = (need − W sin θ) · k",
            &breakaway,
            "statics",
        )
        .input_range("need", &need.total, Origin::Earlier)
        .input("k", at.per_pull, Dimension::Ratio, Origin::Earlier)
        .note("k: tension in the rope over pull along the way out")
    });
    let run_up = ctx.case.run_up.as_ref();
    let lets_go = run_up.and_then(|r| r.moving.as_ref().zip(r.over.as_ref()));
    let resistance = match lets_go {
        Some((share, over)) => {
            ResistanceRange { breakaway, moving: breakaway.combine(&share.value, |r, s| r * s), over: Some(over.value) }
        }
        None => {
            add::<TOLD>(
                findings,
                "kinetic-holds-all-the-way",
                "need",
                "Nobody says that the ground lets go once it moves: it is taken to hold the same all the way. That makes the travel short and the peak no lower.",
                "State `moving` and `over` in [kinetic] if it is known.",
            );
            ResistanceRange::constant(breakaway)
        }
    };
    (resistance, slope)
}

/// What the case says of the run-up, or nothing.
pub(super) fn run_up(ctx: &Context<'_>) -> RunUp {
    ctx.case.run_up.clone().unwrap_or_default()
}
