//! One helper and one rope: window, peak, travel, every part at the peak, and what flies.

use super::inputs::{Between, add, inputs, run_up};
use super::rig::{self, Allows, AtTension};
use crate::context::Context;
use crate::demand;
use crate::plan::Options;
use crate::rank::minutes;
use crate::recoil::{Thrown, thrown};
use crate::report::{Action, PlacedPiece, PlanCheck};
use crate::words;
use core::cmp::Ordering;
use core::fmt;
use unmire_audit::verdict::{Effect, Finding, Verdict};
use unmire_mechanics::ground::{ActionKind, Need};
use unmire_mechanics::kinetic::{
    Asked, History, KineticRope, Law, NoWindow, Practice, PractisedPull, PullInputs, PullRange, RopeRange, Window,
    kinetic_history, kinetic_range, practices, run_up_window,
};
use unmire_mechanics::rig::Solver;
use unmire_model::case::Case;
use unmire_model::gear::Piece;
use unmire_model::trail::Mute;
use unmire_model::vehicle::Helper;
use unmire_model::{Energy, Force, Length, Mass, Range, Recorder, Speed, Time};
use unmire_tables::generated::kinetic_practice;

/// Way that one pull must bring where nobody says: several light tugs are taught, and one that brings less is not worth its risk. Our own
/// judgement.
const TRAVEL: Length = Length::from_m(0.5);

/// Where the speed comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpeedFrom {
    /// The case states it.
    Stated,
    /// The case states a slack: from rest through it at full throttle.
    Slack,
    /// The slow end of the window.
    Window,
    /// What a club teaches: there is no window and nobody stated one.
    Practice,
}
impl SpeedFrom {
    /// The stable word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stated => "stated",
            Self::Slack => "slack",
            Self::Window => "window",
            Self::Practice => "practice",
        }
    }
}

/// What the chain allows in the rope, and the part that sets it.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// So much.
    pub force: Force,
    /// The part.
    pub part: String,
}

/// Why there is no window of run-up.
#[derive(Clone, Debug, PartialEq)]
pub enum NoRunUp {
    /// The dynamics say so.
    None(NoWindow),
    /// What a part allows is not known.
    PartUnknown(String),
    /// The stuck one of a bare problem can't move.
    Fixed,
}
impl NoRunUp {
    /// The code.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::None(n) => n.code(),
            Self::PartUnknown(_) => "kinetic-part-unknown",
            Self::Fixed => "kinetic-fixed",
        }
    }
}
impl fmt::Display for NoRunUp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::None(n) => write!(f, "{n}"),
            Self::PartUnknown(p) => {
                write!(f, "what {p} allows is not known, so nobody can say what is too much; unknown never passes")
            }
            Self::Fixed => write!(f, "the stuck one can't move: no speed is enough"),
        }
    }
}

/// A kinetic pull of one helper on one rope.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The worst word on its parts at the high end of the peak.
    pub verdict: Verdict,
    /// Who pulls.
    pub helper: String,
    /// On which rope.
    pub rope: String,
    /// The chain in one sentence.
    pub summary: String,
    /// The pieces.
    pub pieces: Vec<PlacedPiece>,
    /// Whether no steel connects the two vehicles.
    pub without_steel: bool,
    /// What to do first.
    pub actions: Vec<Action>,
    /// The need along the way out, after that.
    pub need: Range<Force>,
    /// Tension in the rope over pull along the way out.
    pub per_pull: f64,
    /// The pull as it was put to the mechanics.
    pub inputs: PullInputs,
    /// Speed when the rope becomes taut.
    pub speed: Range<Speed>,
    /// Where it comes from.
    pub speed_from: SpeedFrom,
    /// Slack that is laid out.
    pub slack: Range<Length>,
    /// Whether nobody stated that slack.
    pub slack_assumed: bool,
    /// Way that one pull must bring.
    pub asked: Length,
    /// Fastest speed that was looked at.
    pub fastest: Speed,
    /// Peak, stretch, travel.
    pub pull: PullRange,
    /// What happens with everything likely.
    pub likely: History,
    /// What happens at the greatest peak.
    pub high: History,
    /// What the chain allows in the rope; none if a part is not known.
    pub limit: Option<Limit>,
    /// Speeds between too little and too much, or why there are none.
    pub window: Result<Window, NoRunUp>,
    /// Energy that the rope takes up at the high end of the peak, by its stiffest to its softest law.
    pub rope_energy: Range<Energy>,
    /// Every part at the high end of the peak, worst first.
    pub checks: Vec<PlanCheck>,
    /// Capacity ÷ load ÷ what is asked, the least.
    pub lowest_margin: Option<f64>,
    /// Rules of thumb beside it.
    pub practices: Vec<Practice>,
    /// What flies, and the ground to keep clear.
    pub thrown: Thrown,
    /// From the stuck vehicle to where the puller can come to stand.
    pub room: Length,
    /// About how long rigging and pulling take.
    pub time: Range<Time>,
    /// What must be told.
    pub findings: Vec<Finding>,
}
impl Answer {
    /// Whether it may be done: every part holds at the high end of the peak, there is a window, the speed is not below it, and every bound of
    /// what flies is known.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.verdict.passes() && self.window.is_ok() && !self.too_slow() && !self.too_fast() && self.thrown.is_known()
    }
    /// Whether all of the speed lies under the window.
    #[must_use]
    pub fn too_slow(&self) -> bool {
        self.window.as_ref().is_ok_and(|w| self.speed.high() < w.slowest)
    }
    /// Whether some of the speed lies over the window.
    #[must_use]
    pub fn too_fast(&self) -> bool {
        self.window.as_ref().is_ok_and(|w| self.speed.high() > w.fastest)
    }
    /// What passes first, then the better word, the greater margin, the lower peak, the name.
    #[must_use]
    pub fn by_merit(&self, o: &Self) -> Ordering {
        let margin = |a: &Self| a.lowest_margin.unwrap_or(0.0);
        o.passes()
            .cmp(&self.passes())
            .then(self.verdict.cmp(&o.verdict))
            .then(o.window.is_ok().cmp(&self.window.is_ok()))
            .then(margin(o).total_cmp(&margin(self)))
            .then(self.pull.peak.high().as_n().total_cmp(&o.pull.peak.high().as_n()))
            .then(self.helper.cmp(&o.helper))
            .then(self.rope.cmp(&o.rope))
    }
}

/// The better of the chain without steel and that with all of the kit.
///
/// # Errors
/// Why there is none.
pub(super) fn best<const TOLD: bool>(
    case: &Case,
    soft: Option<&Case>,
    options: &Options,
    helper: &Helper,
    rope: &Piece,
    actions: &[ActionKind],
    need: &Need,
) -> Result<Answer, String> {
    let quiet = |case| of::<TOLD, _>(case, options, helper, rope, actions, need, &mut Mute::default());
    let without = soft.and_then(|c| quiet(c).ok());
    match without {
        Some(a) if a.passes() => Ok(a),
        // Steel between the vehicles only where it is what makes it pass.
        Some(a) => Ok(quiet(case).ok().filter(Answer::passes).unwrap_or(a)),
        None => quiet(case),
    }
}

/// One helper on one rope of a case.
///
/// # Errors
/// Why it can't be reckoned.
pub(super) fn of<const TOLD: bool, R: Recorder>(
    case: &Case,
    options: &Options,
    helper: &Helper,
    rope: &Piece,
    actions: &[ActionKind],
    need: &Need,
    rec: &mut R,
) -> Result<Answer, String> {
    // A case without its steel is another copy: the same things by name.
    let helper = case.helpers.iter().find(|h| h.vehicle.name == helper.vehicle.name).ok_or("no such helper")?;
    let rope = case.piece(&rope.id).ok_or("no such rope")?;
    // A load cell is a lump of steel, and nobody reads it in time.
    let ctx = Context::without_load_cell(case, &options.policy);
    let rigging = rig::chain(&ctx, helper, rope)?;
    let mut solver = Solver::default();
    let trial = Force::from_kn(20.0);
    let first = rig::at(&ctx, &mut solver, &rigging, trial)?;
    let wish = run_up(&ctx);
    let travel = wish.travel.as_ref().map_or(TRAVEL, |t| t.value);
    let (mut pull, mut findings) = {
        let between = Between { ctx: &ctx, helper, rope, rigging: &rigging };
        inputs::<TOLD, _>(&between, &first, need, travel, rec)?
    };
    let fastest = fastest::<TOLD>(&wish, &mut findings)?;
    if wish.travel.is_none() {
        add::<TOLD>(
            &mut findings,
            "kinetic-travel-assumed",
            "run-up",
            "Nobody says how far one pull must bring it: half a metre, our own judgement.",
            "State `travel` in [kinetic].",
        );
    }
    let allows = allowed(&ctx, &mut solver, &rigging, &first, trial, rec)?;
    let window = match &allows {
        Allows::Known(limit, _) => {
            let asked = Asked { travel, limit: *limit, fastest };
            run_up_window(&pull, &asked, rec).map_err(|e| e.to_string())?.window.map_err(NoRunUp::None)
        }
        Allows::Unknown(part) => Err(NoRunUp::PartUnknown(part.clone())),
    };
    let nothing = Range::hull(Length::ZERO, Length::ZERO, Length::ZERO);
    let exact = |v: Speed| Range::hull(v, v, v);
    let (speed, through, speed_from) = match (&wish.speed, &wish.slack, &window) {
        (Some(v), ..) => (v.value, nothing, SpeedFrom::Stated),
        (None, Some(s), _) => (exact(Speed::ZERO), s.value, SpeedFrom::Slack),
        (None, None, Ok(w)) => (exact(w.slowest), nothing, SpeedFrom::Window),
        (None, None, Err(_)) => (taught_speed(fastest)?, nothing, SpeedFrom::Practice),
    };
    pull.speed = speed;
    pull.slack = through;
    let range = kinetic_range(&pull, rec).map_err(|e| e.to_string())?;
    let history = |p| kinetic_history(p, &mut Mute::default()).map_err(|e| e.to_string());
    let (likely, high) = (history(&range.likely_problem)?, history(&range.high_problem)?);
    let peak = range.peak.high();
    let rope_energy = pull.rope.energy_at(peak).map_err(|e| e.to_string())?;
    let secant = secant(&pull.rope, peak)?;
    let ctx = ctx.stretched(rope, secant);
    let there = rig::at(&ctx, &mut solver, &rigging, peak)?;
    let site = crate::site::of(case);
    let thrown = thrown::<TOLD>(&ctx, &rigging, &there.solved, &[], &site, rec);
    if TOLD {
        findings.extend(range.warnings.iter().map(|w| demand::finding(w, &rope.id)));
        findings.extend(rig::findings(&there));
        findings.extend(thrown.findings.iter().cloned());
    }
    let closing = Range::hull(range.low.closing_speed, range.likely.closing_speed, range.high.closing_speed);
    let slack = slack::<TOLD>(&wish, &mut findings)?;
    let practised = PractisedPull {
        strength: rope.label.rating().map(|r| r.force),
        lighter: lighter(&pull.puller_mass, &pull.stuck_mass),
        stuck: pull.stuck_mass,
        closing,
        slack,
    };
    let length = pull.rope.length.high();
    let margins = there.judged.checks.iter().filter_map(unmire_audit::verdict::Check::margin);
    let mut out = Answer {
        verdict: there.verdict(),
        helper: helper.vehicle.name.clone(),
        rope: rope.id.clone(),
        summary: said(&rigging, rope),
        pieces: words::places(&rigging),
        without_steel: there.steel.is_empty(),
        actions: demand::actions_in_words(case, actions).map_err(|e| e.to_string())?,
        need: need.total,
        per_pull: there.per_pull,
        inputs: pull,
        speed: closing,
        speed_from,
        slack,
        slack_assumed: wish.slack.is_none(),
        asked: travel,
        fastest,
        room: length + range.stretch.high() + range.travel.high(),
        pull: range,
        likely,
        high,
        limit: match allows {
            Allows::Known(force, part) => Some(Limit { force, part }),
            Allows::Unknown(_) => None,
        },
        window,
        rope_energy,
        lowest_margin: margins.reduce(f64::min),
        checks: there.checks,
        practices: if TOLD { practices(&practised) } else { Vec::new() },
        thrown,
        time: minutes(&rigging, actions),
        findings,
    };
    if TOLD {
        about_the_speed(&mut out);
    }
    Ok(out)
}

/// The least that the chain allows in the rope, by its proportions at a trial and at that limit itself: a bridle opens as it stretches.
fn allowed<'a>(
    ctx: &Context<'a>,
    solver: &mut Solver,
    rigging: &crate::rigging::Rigging<'a>,
    first: &AtTension,
    trial: Force,
    rec: &mut impl Recorder,
) -> Result<Allows, String> {
    let a = rig::limit(first, trial, &mut Mute::default())?;
    let Allows::Known(f, _) = &a else { return Ok(a) };
    let again = rig::at(ctx, solver, rigging, *f)?;
    let b = rig::limit(&again, *f, rec)?;
    Ok(match (&a, &b) {
        (Allows::Known(x, _), Allows::Known(y, _)) if x < y => a,
        _ => b,
    })
}

fn row(key: &str) -> Option<&'static kinetic_practice::Row> {
    kinetic_practice::ROWS.iter().find(|r| r.key == key)
}
fn missing(key: &str) -> String {
    format!("table kinetic_practice has no row {key} with its figures")
}

/// The fastest that is looked at: as stated, else what a club teaches.
fn fastest<const TOLD: bool>(
    wish: &unmire_model::kinetic::RunUp,
    findings: &mut Vec<Finding>,
) -> Result<Speed, String> {
    if let Some(v) = &wish.fastest {
        return Ok(v.value);
    }
    let taught = row("speed-club").and_then(|r| r.high).map(Speed::from_mph).ok_or_else(|| missing("speed-club"))?;
    add::<TOLD>(
        findings,
        "kinetic-fastest-assumed",
        "run-up",
        "Nobody says how fast at most: what a club teaches, 5 mph, is the fastest that is looked at.",
        "State `fastest` in [kinetic].",
    );
    // A speed that is stated is looked at in any case.
    Ok(wish.speed.as_ref().map_or(taught, |s| s.value.high().max(taught)))
}

/// What a club teaches, from slow to fast, but no faster than what is looked at.
fn taught_speed(fastest: Speed) -> Result<Range<Speed>, String> {
    let r = row("speed-club").ok_or_else(|| missing("speed-club"))?;
    let (low, high) = r.low.zip(r.high).ok_or_else(|| missing("speed-club"))?;
    let (low, high) = (Speed::from_mph(low).min(fastest), Speed::from_mph(high).min(fastest));
    Ok(Range::hull(low, (low + high) * 0.5, high))
}

/// The slack: as stated, else a guide's.
fn slack<const TOLD: bool>(
    wish: &unmire_model::kinetic::RunUp,
    findings: &mut Vec<Finding>,
) -> Result<Range<Length>, String> {
    if let Some(s) = &wish.slack {
        return Ok(s.value);
    }
    let taught = row("slack-guide").and_then(|r| r.high).map(Length::from_m).ok_or_else(|| missing("slack-guide"))?;
    add::<TOLD>(
        findings,
        "kinetic-slack-assumed",
        "run-up",
        "Nobody says how much slack is laid out: a guide's 1 m. It sets no speed here; the driver holds the speed.",
        "State `slack` in [kinetic].",
    );
    Ok(Range::hull(taught, taught, taught))
}

fn lighter(a: &Range<Mass>, b: &Range<Mass>) -> Range<Mass> {
    Range::hull(a.low().min(b.low()), a.likely().min(b.likely()), a.high().min(b.high()))
}

/// Force ÷ strain of the rope at a tension, by its softest, likely and stiffest law, and no more than what bounds its energy from above.
fn secant(rope: &RopeRange, tension: Force) -> Result<Range<Force>, String> {
    let length = rope.length.likely();
    let of = |law: Law| -> Result<Force, String> {
        let one = KineticRope { length, law, unloading: None, viscous: 0.0, breaking: None };
        let stretch = one.stretch_at(tension).map_err(|e| e.to_string())?;
        let energy = one.energy_at(stretch).map_err(|e| e.to_string())?;
        let straight = tension.as_n() / (stretch / length);
        let by_energy = tension.as_n() * tension.as_n() * length.as_m() / (2.0 * energy.as_j());
        Ok(Force::from_n(straight.min(by_energy)))
    };
    Ok(Range::hull(of(rope.soft)?, of(rope.likely)?, of(rope.stiff)?))
}

/// The chain in one sentence.
fn said(r: &crate::rigging::Rigging<'_>, rope: &Piece) -> String {
    let end = r.stops.first().map_or_else(String::new, |s| words::grip(&s.grip));
    match &r.pull {
        crate::rigging::Pull::Tow { helper, point, .. } => format!(
            "{} takes a run-up on {} ({}) from its point {} to {end}",
            helper.vehicle.name,
            rope.id,
            words::piece(rope),
            point.id
        ),
        _ => words::summary(r),
    }
}

/// What the speed says against the window, and what the slack would do.
fn about_the_speed(a: &mut Answer) {
    let mut add = |code, effect, text: String, remedy: &str| {
        a.findings.push(Finding { code, effect, subject: "run-up".to_owned(), text, remedy: remedy.to_owned() });
    };
    let Ok(w) = &a.window else { return };
    if a.speed.low() < w.slowest && a.speed.high() >= w.slowest {
        add(
            "kinetic-too-slow",
            Effect::Note,
            format!(
                "Some of the speed that is stated is under the window: at the high end of what holds it, it takes {:.1} km/h.",
                (w.slowest.as_km_h() * 10.0).ceil() / 10.0
            ),
            "",
        );
    }
    if a.speed.high() < w.slowest {
        add(
            "kinetic-too-slow",
            Effect::Caution,
            format!(
                "The speed that is stated is under the window: at the high end of what holds it, it takes {:.1} km/h.",
                (w.slowest.as_km_h() * 10.0).ceil() / 10.0
            ),
            "Dig first, so that less is enough. Never simply drive faster than was thought through.",
        );
    }
    if a.speed.high() > w.fastest {
        add(
            "kinetic-too-fast",
            Effect::Bars,
            format!(
                "The speed that is stated goes over the window: no faster than {:.1} km/h.",
                (w.fastest.as_km_h() * 10.0).floor() / 10.0
            ),
            "Slower.",
        );
    }
    let beyond = w.slack_allowed.is_some_and(|s| a.slack.high() > s);
    if beyond && a.speed_from != SpeedFrom::Slack {
        add(
            "kinetic-slack-too-long",
            Effect::Caution,
            format!(
                "Full throttle from rest through this slack goes over the window: no more than {:.1} m of it, or the driver holds the speed down.",
                (w.slack_allowed.map_or(0.0, Length::as_m) * 10.0).floor() / 10.0
            ),
            "Lay out less slack.",
        );
    }
}
