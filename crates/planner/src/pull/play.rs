//! All stages of a pull: the rig that is asked for first, then what is planned from where each stage ends.

use super::brief::resting;
use super::events;
use super::lowering;
use super::moments::{Judge, worst};
use super::path::{Path, Pose};
use super::report::{Event, Pull, Row, Stage, Steady};
use super::stage::{Before, Grain, Played, history as history_of, play as play_stage};
use super::walk::towing;
use crate::context::{Context, gear_is_wet};
use crate::plan::{Options, PlanError, plan};
use crate::rank::rigging_minutes;
use crate::rigging::{Rigging, resolve};
use crate::words;
use unmire_audit::policy::Policy;
use unmire_audit::verdict::{Effect, Finding, Verdict};
use unmire_mechanics::ground::ActionKind;
use unmire_mechanics::winch::rests;
use unmire_model::case::Case;
use unmire_model::layout::Layout;
use unmire_model::{Length, Mass, Range, Time};

/// Stages shorter than this bring nothing, metres.
const LEAST_PROGRESS: f64 = 0.1;
/// Moments that are judged besides the worst ones.
const JUDGED: usize = 15;

/// What the caller wants.
#[derive(Clone, Debug)]
pub struct PullOptions {
    /// By which policy.
    pub policy: Policy,
    /// How many places the way is cut into at least.
    pub steps: usize,
    /// How many stages are planned at most.
    pub stages: usize,
    /// Which rig of the ranking, from zero, where the case gives none.
    pub rig: usize,
}
impl Default for PullOptions {
    fn default() -> Self {
        Self { policy: Policy::default_policy(), steps: 100, stages: 6, rig: 0 }
    }
}

/// Plays the pull of a case: with the rig that it gives, else with the one of that place in the ranking.
///
/// # Errors
/// If the need can't be reckoned, no rig can be made, or the rig has no balance where it begins.
pub fn play(case: &Case, options: &PullOptions) -> Result<Pull, PlanError> {
    let (layout, actions) = match &case.rig {
        Some(given) => (given.clone(), Vec::new()),
        None => {
            let search = Options { policy: options.policy.clone(), explain: false, limit: options.rig + 5 };
            let report = plan(case, &search)?;
            if report.plans.is_empty()
                && let Some(down) = let_down(case, options)?
            {
                return Ok(down);
            }
            let chosen = report.plans.get(options.rig).ok_or(PlanError::NoSuchRig { found: report.plans.len() })?;
            let layout = chosen.layout.clone().ok_or(PlanError::NoRig)?;
            (layout, kinds(chosen.actions.iter().map(|a| a.word.as_str())))
        }
    };
    play_rig(case, &layout, &actions, options)
}

/// Where no rig pulls and the slope takes the vehicle: nothing is played, and what could let it down is told.
fn let_down(case: &Case, options: &PullOptions) -> Result<Option<Pull>, PlanError> {
    let path = Path::of(case, &[]).map_err(PlanError::Need)?;
    let lowering = lowering::of(case, &path, &options.policy);
    if lowering.is_empty() {
        return Ok(None);
    }
    let mut out = Playing::new(case, options);
    out.pull.lowering = lowering;
    out.pull.verdict = Verdict::Unknown;
    out.pull.findings.extend(events::about_the_way(case, &path, &[]));
    out.give_up("no-next-rig", "No rig pulls it. Where the slope takes it, it must be let down.".to_owned());
    Ok(Some(out.finish()))
}

/// Plays the pull of a case with this rig, after these actions.
///
/// # Errors
/// As [`play`].
pub fn play_rig(
    case: &Case,
    layout: &Layout,
    actions: &[ActionKind],
    options: &PullOptions,
) -> Result<Pull, PlanError> {
    let mut out = Playing::new(case, options);
    let mut now = case.clone();
    let mut layout = layout.clone();
    let mut actions = actions.to_vec();
    while let Some(next) = out.stage(&now, &layout, &actions)? {
        now = next;
        if out.pull.stages.len() >= options.stages.max(1) {
            out.give_up("stages", format!("{} stages are planned; the rest is not.", out.pull.stages.len()));
            break;
        }
        let search = Options { policy: options.policy.clone(), explain: false, limit: 3 };
        let report = plan(&now, &search)?;
        let goes = |p: &&crate::report::Plan| {
            p.verdict.passes() && p.pull.as_ref().is_some_and(|w| w.arrives || w.reaches.as_m() >= LEAST_PROGRESS)
        };
        match report.plans.iter().find(goes).and_then(|p| Some((p.layout.clone()?, p))) {
            Some((l, p)) => {
                actions = kinds(p.actions.iter().map(|a| a.word.as_str()));
                layout = l;
            }
            None => {
                let best = report.plans.first();
                let why = best.map_or_else(String::new, |p| match &p.pull {
                    Some(w) if p.verdict.passes() => format!(" The best attempt ends at once: {}", w.why_it_ends),
                    _ => format!(" The best attempt: {}", p.why),
                });
                out.give_up("no-next-rig", format!("No rig brings it further from there.{why}"));
                break;
            }
        }
    }
    Ok(out.finish())
}

/// What the first stage of a pull is like from place to place, with this rig and after these actions; nothing is judged, so that
/// the way ends only where the puller, the line or the statics end it.
///
/// # Errors
/// As [`play`].
pub fn history(
    case: &Case,
    layout: &Layout,
    actions: &[ActionKind],
    options: &PullOptions,
) -> Result<Vec<Row>, PlanError> {
    let path = Path::of(case, actions).map_err(PlanError::Need)?;
    let ctx = Context::with_gear(case, &options.policy, gear_is_wet(case));
    let rigging = resolve(case, layout).map_err(PlanError::NoSuch)?;
    let spacing = path.length / options.steps.clamp(1, 100_000) as f64;
    history_of(&ctx, &path, &rigging, spacing).map_err(|e| PlanError::Rig(e.to_string()))
}

/// Actions by their words.
fn kinds<'w>(words: impl Iterator<Item = &'w str>) -> Vec<ActionKind> {
    words.filter_map(|w| ActionKind::ALL.into_iter().find(|a| a.word() == w)).collect()
}

struct Playing<'o> {
    options: &'o PullOptions,
    pull: Pull,
    before: Before,
    wet: bool,
}

impl<'o> Playing<'o> {
    fn new(case: &Case, options: &'o PullOptions) -> Self {
        let d = &case.way_out.distance.value;
        let none = Range::hull(Time::ZERO, Time::ZERO, Time::ZERO);
        Self {
            options,
            pull: Pull {
                title: case.title.clone(),
                policy: options.policy.name.to_owned(),
                length: d.high(),
                likely_length: d.likely(),
                reached: Length::ZERO,
                verdict: Verdict::Holds,
                history: Vec::new(),
                worst: Vec::new(),
                stages: Vec::new(),
                stability: Vec::new(),
                stops: Vec::new(),
                events: Vec::new(),
                lowering: Vec::new(),
                findings: Vec::new(),
                time: none,
            },
            before: Before::default(),
            wet: gear_is_wet(case),
        }
    }

    /// Plays one stage; gives back the case as it is behind it, if there is more to go.
    fn stage(&mut self, case: &Case, layout: &Layout, actions: &[ActionKind]) -> Result<Option<Case>, PlanError> {
        let path = Path::of(case, actions).map_err(PlanError::Need)?;
        let ctx = Context::with_gear(case, &self.options.policy, self.wet);
        let rigging = resolve(case, layout).map_err(PlanError::NoSuch)?;
        let judge = Judge { case, policy: &self.options.policy, path: &path, layout, wet: self.wet, full: true };
        let steps = self.options.steps.clamp(1, 100_000);
        let grain = Grain { spacing: path.length / steps as f64, judged: JUDGED, full: true };
        let first = self.pull.stages.is_empty();
        let played = match play_stage(&ctx, &judge, &path, &rigging, grain, &self.before) {
            Ok(p) => p,
            Err(e) if first => return Err(PlanError::Rig(e.to_string())),
            Err(e) => {
                self.give_up("no-balance", format!("The rig that was planned from there does not balance: {e}."));
                return Ok(None);
            }
        };
        let brings = played.to >= LEAST_PROGRESS || played.arrives();
        self.take(case, &path, &rigging, layout, actions, played);
        let Some(stage) = self.pull.stages.last() else { return Ok(None) };
        if stage.done {
            return Ok(None);
        }
        if !brings {
            self.give_up("no-next-rig", "The rig can't bring it any further from there.".to_owned());
            return Ok(None);
        }
        let to = (stage.to - stage.from).as_m();
        let mut next = path.moved(case, to, true, towing(&rigging));
        unloaded(&mut next, actions);
        next.rig = None;
        let pose = path.pose(to);
        self.before = Before {
            stage: self.before.stage + 1,
            way: self.before.way + to,
            pose: Pose { at: self.before.pose.on_site(pose.at), turned: self.before.pose.turned + pose.turned },
            charge: self.before.charge.plus(&stage.charge),
            time: self.before.time.plus(&stage.pulling),
        };
        Ok(Some(next))
    }

    fn take(
        &mut self,
        case: &Case,
        path: &Path,
        rigging: &Rigging<'_>,
        layout: &Layout,
        actions: &[ActionKind],
        mut played: Played,
    ) {
        let (n, offset) = (self.before.stage, self.before.way);
        let told = events::of(n, offset, rigging, &played);
        let resting = resting(&played);
        let rigging_time = rigging_minutes(rigging, actions);
        let why = events::why_it_ends(&played, &told);
        let words_of = |a: &ActionKind| a.word().to_owned();
        let stage = Stage {
            from: Length::from_m(offset),
            to: Length::from_m(offset + played.to),
            verdict: played.verdict(),
            verdict_at_start: played.moments.first().map_or(Verdict::Unknown, |m| m.verdict),
            family: rigging.family,
            summary: words::summary(rigging),
            pieces: words::places(rigging),
            actions: actions.iter().map(words_of).collect(),
            layout: layout.clone(),
            stop_load: played.stop_load(),
            why_it_ends: why,
            done: played.arrives(),
            rigging: rigging_time,
            pulling: played.time,
            resting,
            rests: if played.electric.is_some() { rests(played.heat.likely()) } else { 0 },
            charge: played.charge,
            account: played.account,
        };
        self.pull.verdict = self.pull.verdict.worse(stage.verdict);
        self.pull.reached = stage.to;
        self.pull.time = self.pull.time.plus(&stage.rigging).plus(&stage.pulling).plus(&stage.resting);
        self.pull.stages.push(stage);
        self.pull.history.append(&mut played.rows);
        self.pull.worst.extend(worst(n, offset, &played.moments));
        self.pull.stability.extend(played.moments.iter().map(|m| Steady {
            stage: n,
            travel: Length::from_m(offset + m.s),
            roll_used: m.steady.roll_used,
            pitch_used: m.steady.pitch_used,
            over: m.steady.tip.filter(|t| t.factor.is_some()).map(|t| t.over.word()),
            tip_pull: m.steady.tip_pull,
            sideways: m.steady.sideways,
            holding: m.steady.holding,
            can_run_away: m.steady.can_run_away,
        }));
        for e in told {
            if e.must_stop {
                self.pull.stops.push(e);
            } else {
                self.pull.events.push(e);
            }
        }
        if n == 0 {
            self.pull.lowering = lowering::of(case, path, &self.options.policy);
            self.pull.findings.extend(events::about_the_way(case, path, actions));
        }
        for f in events::about_the_puller(rigging, &played) {
            if !self.pull.findings.iter().any(|g| g.code == f.code && g.subject == f.subject) {
                self.pull.findings.push(f);
            }
        }
        // What the rules say along the way and did not say at its start.
        let at_start: Vec<(&str, String)> = played
            .moments
            .first()
            .map_or_else(Vec::new, |m| m.findings.iter().map(|f| (f.code, f.subject.clone())).collect());
        for m in played.moments.iter().skip(1) {
            for f in m.findings.iter().filter(|f| f.effect > Effect::Note) {
                let new = !at_start.iter().any(|(c, s)| *c == f.code && (*s == f.subject || *c == "stop-load"));
                if new && !self.pull.findings.iter().any(|g| g.code == f.code && g.subject == f.subject) {
                    let text = format!("At {:.1} m: {}", offset + m.s, f.text);
                    self.pull.findings.push(Finding { text, ..f.clone() });
                }
            }
        }
    }

    /// The pull ends short of the last metre.
    fn give_up(&mut self, code: &'static str, text: String) {
        self.pull.stops.push(Event {
            stage: self.before.stage,
            travel: self.pull.reached,
            code,
            subject: "way out".to_owned(),
            text,
            remedy: "Secure the vehicle there; find another anchor, another way out, or more gear.".to_owned(),
            must_stop: true,
            ends_stage: true,
        });
    }

    fn finish(mut self) -> Pull {
        unmire_model::order::sort_by(&mut self.pull.worst, |a, b| {
            let margin = |w: &super::report::Worst| w.margin.unwrap_or(f64::INFINITY);
            b.verdict.cmp(&a.verdict).then(margin(a).total_cmp(&margin(b)))
        });
        self.pull
    }
}

/// What was taken out of the vehicle stays out.
fn unloaded(case: &mut Case, actions: &[ActionKind]) {
    if !actions.contains(&ActionKind::Unload) {
        return;
    }
    let Some(out) = case.stuck.unloadable.take() else { return };
    let less = |m: &Range<Mass>| {
        let o = &out.value;
        let at = |a: Mass, b: Mass| (a - b).max(Mass::ZERO);
        Range::hull(at(m.low(), o.high()), at(m.likely(), o.likely()), at(m.high(), o.low()))
    };
    match &mut case.vehicle.payload {
        Some(p) if p.value.likely() >= out.value.likely() => p.value = less(&p.value),
        _ => case.vehicle.mass.value = less(&case.vehicle.mass.value),
    }
}
