//! The whole pull in short, for the ranking of plans: one rig, one stage, its worst moments; no rows, no next stage.

use super::events;
use super::moments::{Judge, Moment};
use super::path::Path;
use super::stage::{Before, Grain, Played, play};
use crate::context::Context;
use crate::report::PlanPull;
use crate::rigging::Rigging;
use unmire_audit::judge::Judgement;
use unmire_audit::verdict::{Effect, Finding};
use unmire_mechanics::ground::ActionKind;
use unmire_mechanics::winch::rests;
use unmire_model::layout::Layout;
use unmire_model::{Force, Length, Range, Time};

/// Steps of the way.
const STEPS: f64 = 40.0;
/// Moments that are judged besides the worst ones.
const JUDGED: usize = 3;

/// A pull that was played for a plan.
pub(crate) struct Brief {
    /// In short.
    pub pull: PlanPull,
    moments: Vec<Moment>,
}

/// Plays the pull of a rig from the start to where it must be rigged anew; none if it can't be played.
pub(crate) fn brief(
    ctx: &Context<'_>,
    rigging: &Rigging<'_>,
    layout: &Layout,
    actions: &[ActionKind],
) -> Option<Brief> {
    let path = Path::of(ctx.case, actions).ok()?;
    let judge = Judge { case: ctx.case, policy: ctx.policy, path: &path, layout, wet: ctx.wet, full: false };
    let grain = Grain { spacing: path.length / STEPS, judged: JUDGED, full: false };
    let played = play(ctx, &judge, &path, rigging, grain, &Before::default()).ok()?;
    let told = events::of(0, 0.0, rigging, &played);
    let why_it_ends = events::why_it_ends(&played, &told);
    let margin = played.margin();
    let weakest = margin.and_then(|(m, s)| {
        let at = played.moments.iter().find(|x| x.s == s && x.margin == Some(m))?;
        let part = at.parts.iter().find(|p| p.check.margin() == Some(m))?;
        Some((part.name.clone(), Length::from_m(s)))
    });
    let pull = PlanPull {
        verdict: played.verdict(),
        arrives: played.arrives(),
        reaches: Length::from_m(played.to),
        length: Length::from_m(path.length),
        why_it_ends,
        weakest,
        lowest_margin: margin.map(|m| m.0),
        pull_work: played.pull_work,
        stop_load: played.stop_load(),
        pulling: played.time,
        resting: resting(&played),
        charge: played.electric.is_some().then_some(played.charge),
    };
    Some(Brief { pull, moments: played.moments })
}

/// How long the motor rests. Where its maker does not say, the shortest run and the longest rest come from different texts: they
/// are not put together, and the shortest run goes with its own text's rest.
pub(crate) fn resting(p: &Played) -> Range<Time> {
    let Some(e) = &p.electric else { return Range::hull(Time::ZERO, Time::ZERO, Time::ZERO) };
    let longest = if p.flags.duty_assumed { e.rest.likely() } else { e.rest.high() };
    let at = |h: f64, t: Time| t * f64::from(rests(h));
    Range::hull(at(p.heat.low(), e.rest.low()), at(p.heat.likely(), e.rest.likely()), at(p.heat.high(), longest))
}

impl Brief {
    /// Puts the worst of the way into the judgement of the start: loads at their greatest, capacities at their least, the worst
    /// word, the least stop load, and what rules say on the way and did not say at its start.
    pub fn worsen(&self, j: &mut Judgement) {
        let mut findings: Vec<Finding> = Vec::new();
        for m in &self.moments {
            j.verdict = j.verdict.worse(m.verdict);
            j.stop_load = least(j.stop_load, m.stop_load);
            for (c, p) in j.checks.iter_mut().zip(&m.parts) {
                let n = &p.check;
                c.demand_work = most(c.demand_work, n.demand_work);
                c.demand_stall = most(c.demand_stall, n.demand_stall);
                c.capacity = match (c.capacity, n.capacity) {
                    (Some(a), Some(b)) => Some(a.min(b)),
                    _ => None,
                };
                c.stop_load = least(c.stop_load, n.stop_load);
                c.verdict = c.verdict.worse(n.verdict);
            }
            for f in m.findings.iter().filter(|f| f.effect > Effect::Note) {
                // The rule of the stop load names all its parts at once, and the least stop load is taken above.
                let same = |g: &Finding| g.code == f.code && (g.subject == f.subject || g.code == "stop-load");
                if !j.findings.iter().any(same) && !findings.iter().any(same) {
                    findings.push(Finding { text: format!("After {:.1} m: {}", m.s, f.text), ..f.clone() });
                }
            }
        }
        j.findings.extend(findings);
        unmire_model::order::sort_by_key(&mut j.findings, |f| core::cmp::Reverse(f.effect));
        let margin = |c: &unmire_audit::verdict::Check| c.margin();
        let weakest = j.checks.iter().enumerate().filter_map(|(i, c)| Some((i, margin(c)?)));
        let weakest = weakest.min_by(|a, b| a.1.total_cmp(&b.1));
        j.weakest = weakest.map(|w| w.0);
        j.lowest_margin = weakest.map(|w| w.1);
    }
}

fn least(a: Option<Force>, b: Option<Force>) -> Option<Force> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}
fn most(a: Option<Force>, b: Option<Force>) -> Option<Force> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    }
}
