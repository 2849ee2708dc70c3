//! From a case to ranked rigs: every choice with its best pieces, under every set of actions worth weighing.

use crate::about::about_the_case;
use crate::choices::choices;
use crate::context::Context;
use crate::demand;
use crate::evaluate::{line_short, solve_rigging};
use crate::fill::{Filled, Filler, finish};
use crate::holding;
use crate::present::{add_beside, present};
use crate::pull::{Brief, brief, most_to_let_down};
use crate::rank::{Rank, rank, rigging_minutes};
use crate::report::{Demand, Plan, PolicyWords, Report};
use crate::rigging::{Grip, NoSuch, Pull, Rigging, resolve};
use crate::screen::{Longest, look};
use crate::site;
use unmire_audit::policy::Policy;
use unmire_audit::verdict::{Effect, Finding, Grade};
use unmire_mechanics::MechanicsError;
use unmire_mechanics::ground::{ActionKind, Need};
use unmire_mechanics::rig::Solver;
use unmire_model::Silent;
use unmire_model::case::Case;
use unmire_model::layout::{Family, Layout};

/// What the caller wants.
#[derive(Clone, Debug)]
pub struct Options {
    /// By which policy.
    pub policy: Policy,
    /// Whether the working is kept.
    pub explain: bool,
    /// How many rigs to report.
    pub limit: usize,
}
impl Default for Options {
    fn default() -> Self {
        Self { policy: Policy::default_policy(), explain: false, limit: 5 }
    }
}

/// Why there is no report at all.
#[derive(Clone, Debug, PartialEq)]
pub enum PlanError {
    /// The need can't be reckoned: a surface or a soil in no table, a number that is none.
    Need(MechanicsError),
    /// The case gives no rig to check.
    NoRig,
    /// There are not so many rigs in the ranking.
    NoSuchRig {
        /// How many there are.
        found: usize,
    },
    /// The rig names something that the case does not have.
    NoSuch(NoSuch),
    /// The rig can't be built or has no balance.
    Rig(String),
}
impl core::fmt::Display for PlanError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Need(e) => write!(f, "the need can't be reckoned: {e}"),
            Self::NoRig => {
                f.write_str("the case gives no rig to check: add a [rig] table, or use `plan` to look for one")
            }
            Self::NoSuchRig { found: 0 } => f.write_str("no rig could be made for this case: there is nothing to play"),
            Self::NoSuchRig { found } => {
                write!(f, "the ranking has {found} rigs; the one that was asked for is not among them")
            }
            Self::NoSuch(e) => write!(f, "{e}"),
            Self::Rig(e) => write!(f, "the rig can't be judged: {e}"),
        }
    }
}
impl core::error::Error for PlanError {}

/// One rigging under one set of actions.
pub(crate) struct Entry<'a> {
    pub filled: Filled<'a>,
    pub set: usize,
    pub choice: usize,
    pub rank: Rank,
}

/// The needs of a case under each set of actions.
pub(crate) struct Needs {
    pub sets: Vec<(Vec<ActionKind>, Need)>,
}
impl Needs {
    pub(crate) fn of(case: &Case) -> Result<Self, PlanError> {
        let mut sets = Vec::new();
        for set in demand::action_sets(case) {
            let need = demand::need_for(case, &set, &mut Silent).map_err(PlanError::Need)?;
            sets.push((set, need));
        }
        Ok(Self { sets })
    }
    /// The set that leaves the least need at its high end.
    fn least(&self) -> usize {
        let high = |n: &Need| n.total.high().as_n();
        (0..self.sets.len())
            .min_by(|&a, &b| {
                let of = |i: usize| self.sets.get(i).map_or(f64::INFINITY, |(_, n)| high(n));
                of(a).total_cmp(&of(b))
            })
            .unwrap_or(0)
    }
}

/// How far a search is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Choices of family, anchors, hitch and attachment that are dealt with.
    pub done: usize,
    /// Of how many. Grows once more if a holding line is added.
    pub choices: usize,
    /// Riggings looked at so far.
    pub looked_at: usize,
}

/// Looks for rigs.
///
/// # Errors
/// If the need can't be reckoned.
pub fn plan(case: &Case, options: &Options) -> Result<Report, PlanError> {
    plan_watched(case, options, &mut |_| {})
}

/// As [`plan`], and tells after every choice how far it is. Watching changes nothing in the result.
///
/// # Errors
/// As [`plan`].
pub fn plan_watched(case: &Case, options: &Options, watch: &mut dyn FnMut(Progress)) -> Result<Report, PlanError> {
    let needs = Needs::of(case)?;
    let ctx = Context::of(case, &options.policy);
    let wide = options.limit.max(LEAST_LOOKED_FOR);
    let mut ends = vec![0, needs.least()];
    ends.dedup();
    let mut search = Search {
        ctx: &ctx,
        solver: Solver::default(),
        needs: &needs,
        ends,
        limit: wide,
        crossing: false,
        entries: Vec::new(),
        looked_at: 0,
        troubles: Vec::new(),
        progress: Progress { done: 0, choices: 0, looked_at: 0 },
        watch,
    };
    let mut all = choices(case);
    search.run(&all, 0);
    // A holding line where the vehicle could roll over or run away: added to the rigs that are best without one.
    if holding::is_needed(&ctx) {
        let first = all.len();
        let mut best: Vec<usize> = sorted(&mut search.entries).iter().map(|e| e.choice).collect();
        best.dedup();
        best.truncate(6);
        let held: Vec<Rigging<'_>> =
            best.iter().filter_map(|&c| all.get(c)).flat_map(|c| holding::variants(&ctx, c)).collect();
        search.run(&held, first);
        all.extend(held);
    }
    // Every line would cross something: the best attempts are shown all the same, barred by the rule about it.
    if search.entries.is_empty() && !case.obstacles.is_empty() {
        search.crossing = true;
        search.run(&all, 0);
    }
    let Search { mut solver, mut entries, looked_at, troubles, .. } = search;
    let mut finalists: Vec<Finalist<'_, '_>> = pick(&mut entries, wide + MORE_FINALISTS)
        .into_iter()
        .filter_map(|entry| Finalist::of(&ctx, &needs, entry))
        .collect();
    let played = finalists.iter().filter(|f| f.brief.is_some()).count();
    unmire_model::order::sort_by(&mut finalists, |a, b| a.rank.compare(&b.rank));
    finalists.truncate(options.limit);
    let mut plans = Vec::with_capacity(finalists.len());
    for f in &finalists {
        let filled = &f.entry.filled;
        if let Some(plan) = present(&ctx, &mut solver, filled, f.actions, f.need, f.brief.as_ref(), options.explain) {
            plans.push(plan);
        }
    }
    let mut out = report(&ctx, case, &needs, plans, looked_at);
    out.played = played;
    if !out.passes() {
        out.findings.extend(no_rig(&all, &out.plans, &troubles));
        out.findings.extend(let_down(case, &options.policy));
    }
    Ok(out)
}

/// How many more rigs are played than are shown: one that comes first at its start may break on the way.
const MORE_FINALISTS: usize = 3;
/// A search looks for at least so many rigs: which one comes first must not hang on how many are shown.
const LEAST_LOOKED_FOR: usize = 5;

/// A rig among the best, by the worst moment of its whole pull.
struct Finalist<'e, 'a> {
    entry: &'e Entry<'a>,
    actions: &'e [ActionKind],
    need: &'e Need,
    brief: Option<Brief>,
    rank: Rank,
}
impl<'e, 'a> Finalist<'e, 'a> {
    fn of(ctx: &Context<'a>, needs: &'e Needs, entry: &'e Entry<'a>) -> Option<Self> {
        let (actions, need) = needs.sets.get(entry.set)?;
        let mut rigging = entry.filled.rigging.clone();
        add_beside(ctx.case, &mut rigging);
        let passes = entry.filled.key.verdict.passes();
        let brief = if passes { brief(ctx, &rigging, &rigging.layout(), actions) } else { None };
        let rank = match &brief {
            Some(b) => {
                let time = rigging_minutes(&rigging, actions).plus(&b.pull.pulling).plus(&b.pull.resting);
                entry.rank.over_the_pull(&b.pull, time.likely().as_min())
            }
            None => entry.rank.clone(),
        };
        Some(Self { entry, actions, need, brief, rank })
    }
}

/// Where nothing passes and the slope takes the vehicle: what must be held when it is let down.
fn let_down(case: &Case, policy: &Policy) -> Option<Finding> {
    let t = most_to_let_down(case, policy)?;
    Some(Finding {
        code: "no-need",
        effect: Effect::Caution,
        subject: "way out".to_owned(),
        text: format!(
            "The slope can take the vehicle down it: a line that lets it down must hold up to {:.1} kN.",
            (t.high().as_kn() * 10.0).ceil() / 10.0
        ),
        remedy: "'unmire pull CASE' tells what could hold it. Name what stands uphill; nobody downhill.".to_owned(),
    })
}

/// Where nothing passes: what could not even be rigged, and why.
fn no_rig(all: &[Rigging<'_>], plans: &[Plan], troubles: &[(Family, String)]) -> Vec<Finding> {
    let finding = |subject: &str, text: String, remedy: &str| Finding {
        code: "no-rig",
        effect: Effect::Note,
        subject: subject.to_owned(),
        text,
        remedy: remedy.to_owned(),
    };
    if all.is_empty() {
        return vec![finding(
            "rig",
            "Nothing here can pull: no winch, hand winch or towing helper with an anchor or a recovery point in the way out.".to_owned(),
            "Bring something that pulls, find an anchor within 60 degrees of the way out, or choose another way out.",
        )];
    }
    let mut out = Vec::new();
    for family in Family::ALL {
        if plans.iter().any(|p| p.family == family) {
            continue;
        }
        let why: Vec<&str> = troubles.iter().filter(|(f, _)| *f == family).map(|(_, w)| w.as_str()).take(3).collect();
        if !why.is_empty() {
            let text = format!("No {}: {}.", crate::words::family(family), why.join("; "));
            out.push(finding(family.word(), text, ""));
        }
    }
    out
}

/// The search over choices, and what it has found so far.
struct Search<'s, 'a, 'w> {
    ctx: &'s Context<'a>,
    solver: Solver,
    needs: &'s Needs,
    /// The need as found and the least that can be had: these two span what pieces are best.
    ends: Vec<usize>,
    /// How many rigs are looked for.
    limit: usize,
    /// Whether lines may cross what they must not: only to show the best attempt where nothing else is left.
    crossing: bool,
    entries: Vec<Entry<'a>>,
    looked_at: usize,
    /// What could not be rigged, and why.
    troubles: Vec<(Family, String)>,
    progress: Progress,
    /// Who is told of it.
    watch: &'w mut dyn FnMut(Progress),
}
impl<'a> Search<'_, 'a, '_> {
    fn tell(&mut self) {
        self.progress.looked_at = self.looked_at;
        (self.watch)(self.progress);
    }
    /// Fills the choices that can be among the rigs that are reported, family by family, the most promising first, until the
    /// next one can't beat what the family has. Where nothing passes the same is done for what comes nearest. `first` is the
    /// number of the first of these choices among all.
    fn run(&mut self, choices: &[Rigging<'a>], first: usize) {
        self.progress.choices += choices.len();
        let longest = Longest::of(&self.ctx.case.kit);
        let (Some((_, found)), Some((_, least))) = (self.needs.sets.first(), self.needs.sets.get(self.needs.least()))
        else {
            return;
        };
        // What passes only with less need takes the time of the quickest set of actions that is enough.
        let mut by_time: Vec<(f64, &Need)> =
            self.needs.sets.iter().skip(1).map(|(set, n)| (demand::time_of(set).likely().as_min(), n)).collect();
        unmire_model::order::sort_by(&mut by_time, |a, b| a.0.total_cmp(&b.0));
        // A set that takes longer and leaves more need is of no use.
        let mut lowest = f64::INFINITY;
        by_time.retain(|(_, n)| {
            let less = n.total.high().as_n() < lowest;
            lowest = lowest.min(n.total.high().as_n());
            less
        });
        let mut looks: Vec<(usize, Rank)> = Vec::with_capacity(choices.len());
        for (i, choice) in choices.iter().enumerate() {
            self.looked_at += 1;
            let Some(bound) = look(self.ctx, &mut self.solver, &longest, choice, found.total) else { continue };
            let mut best = bound;
            if !best.wants_nothing() {
                for (minutes, need) in &by_time {
                    let Some(eased) = look(self.ctx, &mut self.solver, &longest, choice, need.total) else { continue };
                    let eased = eased.later(*minutes);
                    if eased.compare(&best).is_lt() {
                        best = eased;
                    }
                    if best.wants_nothing() {
                        break;
                    }
                }
            }
            looks.push((i, best));
        }
        unmire_model::order::sort_by(&mut looks, |a, b| a.1.compare(&b.1).then(a.0.cmp(&b.0)));
        let mut shown = Shown { limit: self.limit, ways: Vec::new() };
        // What can't be rigged at all is dealt with.
        self.progress.done += choices.len() - looks.len();
        for (i, bound) in &looks {
            self.tell();
            self.progress.done += 1;
            let Some(choice) = choices.get(*i) else { continue };
            let way_here = way(choice);
            // Whatever pieces it gets, it comes after so many others that nobody will see it.
            if shown.leave_out(choice.family, &way_here, bound) {
                continue;
            }
            let mut seen: Vec<Vec<usize>> = Vec::new();
            let mut best_rank: Option<Rank> = None;
            for &end in &self.ends {
                let Some((_, need)) = self.needs.sets.get(end) else { continue };
                let mut filler = Filler::new(self.ctx, &mut self.solver, need.total).across_obstacles(self.crossing);
                let best = filler.best(choice);
                self.looked_at += filler.solved;
                let Some(best) = best else {
                    let why =
                        filler.trouble.map_or_else(|| "the kit lacks a piece for it".to_owned(), |t| t.to_string());
                    if !self.troubles.iter().any(|(f, w)| *f == choice.family && *w == why) {
                        self.troubles.push((choice.family, why));
                    }
                    continue;
                };
                if seen.contains(&best.key.ids) {
                    continue;
                }
                seen.push(best.key.ids.clone());
                let enough = best.key.verdict.passes();
                // The same pieces under every set of actions: less need against more time.
                for (set, (actions, need)) in self.needs.sets.iter().enumerate() {
                    let filled =
                        if set == end { Some(best.clone()) } else { again(self.ctx, &mut self.solver, &best, need) };
                    if let Some(filled) = filled {
                        let rank = rank(&filled, actions);
                        if best_rank.as_ref().is_none_or(|b| rank.compare(b).is_lt()) {
                            best_rank = Some(rank.clone());
                        }
                        // Nothing that takes more time can come before a rig that wants nothing.
                        let wants_nothing = set == end && rank.wants_nothing();
                        self.entries.push(Entry { filled, set, choice: first + i, rank });
                        if wants_nothing {
                            break;
                        }
                    }
                }
                // What passes with the need as found is not looked for again with less of it.
                if enough {
                    break;
                }
            }
            if let Some(rank) = best_rank {
                shown.ways.push((choice.family, rank, way_here));
            }
        }
        self.tell();
        // Only where nothing passes does anybody ask why a family could not be rigged at all.
        if self.entries.iter().any(|e| e.filled.key.verdict.passes()) {
            return;
        }
        for (i, choice) in choices.iter().enumerate() {
            if !looks.iter().any(|(j, _)| *j == i) && !self.troubles.iter().any(|(f, _)| *f == choice.family) {
                let mut filler = Filler::new(self.ctx, &mut self.solver, least.total).across_obstacles(self.crossing);
                if filler.best(choice).is_none()
                    && let Some(t) = filler.trouble
                {
                    self.troubles.push((choice.family, t.to_string()));
                }
            }
        }
    }
}

/// The ways that were filled, to tell which choices can't be among those that are shown.
struct Shown {
    limit: usize,
    ways: Vec<(Family, Rank, Way)>,
}
impl Shown {
    /// Whether a choice can't come before as many others as are shown: two ways of its own family, or enough of all.
    fn leave_out(&self, family: Family, way: &Way, bound: &Rank) -> bool {
        let mut of_family: Vec<(Family, &Way)> = Vec::new();
        for (f, rank, w) in &self.ways {
            // What does not pass is shown once a family, and only where nothing passes: it counts for its own family only.
            let counts = rank.verdict().passes() || *f == family;
            if counts && rank.by_merit(bound).is_le() && !of_family.contains(&(*f, w)) {
                if w == way {
                    return true;
                }
                of_family.push((*f, w));
            }
        }
        let most = if self.ways.iter().any(|(_, r, _)| r.verdict().passes()) { 2 } else { 1 };
        let own = of_family.iter().filter(|(f, _)| *f == family).count();
        let all: usize = Family::ALL.iter().map(|k| of_family.iter().filter(|(f, _)| f == k).count().min(most)).sum();
        own >= most || all >= self.limit
    }
}

/// The same rigging under another need.
fn again<'a>(ctx: &Context<'a>, solver: &mut Solver, filled: &Filled<'a>, need: &Need) -> Option<Filled<'a>> {
    let mut rigging = filled.rigging.clone();
    rigging.beside.clear();
    let solved = solve_rigging(ctx, solver, &rigging, need.total.high()).ok()?;
    if line_short(&solved, &rigging).is_some() {
        return None;
    }
    finish(ctx, &rigging, &solved, need.total, None)
}

fn sorted<'e, 'a>(entries: &'e mut [Entry<'a>]) -> &'e [Entry<'a>] {
    unmire_model::order::sort_by(entries, |a, b| a.rank.compare(&b.rank));
    entries
}

/// The best entry of each choice, then at most two of each family, so that the reader sees different ways.
fn pick<'e, 'a>(entries: &'e mut [Entry<'a>], limit: usize) -> Vec<&'e Entry<'a>> {
    let entries = sorted(entries);
    let passes = entries.first().is_some_and(|e| e.filled.key.verdict.passes());
    let most = if passes { 2 } else { 1 };
    let mut out: Vec<&Entry<'_>> = Vec::new();
    for entry in entries {
        if out.len() >= limit {
            break;
        }
        // Where something passes, what does not pass is not a plan.
        if passes && !entry.filled.key.verdict.passes() {
            break;
        }
        let family = |e: &Entry<'_>| -> Family { e.filled.rigging.family };
        let same_way =
            out.iter().any(|e| e.choice == entry.choice || way(&e.filled.rigging) == way(&entry.filled.rigging));
        let of_family = out.iter().filter(|e| family(e) == family(entry)).count();
        if !same_way && of_family < most {
            out.push(entry);
        }
    }
    out
}

/// Family, puller, anchors in order.
type Way = (Family, Option<String>, Vec<Vec<String>>);

/// What tells one way of rigging from another for a reader: family, puller, anchors in order. Which of two alike points of
/// a vehicle is used does not.
fn way(r: &Rigging<'_>) -> Way {
    let anchors = |g: &Grip<'_>| match g {
        Grip::Anchors(legs) => legs.iter().map(|l| l.anchor.id.clone()).collect(),
        _ => Vec::new(),
    };
    let puller = match &r.pull {
        Pull::Winch { winch, .. } => Some(winch.id.clone()),
        Pull::Tow { helper, .. } => Some(helper.vehicle.name.clone()),
        Pull::Hand { piece, .. } => Some(piece.id.clone()),
    };
    let mut grips: Vec<Vec<String>> = r.stops.iter().map(|s| anchors(&s.grip)).collect();
    if let Pull::Hand { held_by, .. } = &r.pull {
        grips.push(anchors(held_by));
    }
    grips.extend(r.tie_back.iter().chain(&r.holding).map(|t| anchors(&t.grip)));
    (r.family, puller, grips)
}

/// Judges the rig that the case gives.
///
/// # Errors
/// If there is none, it names something that isn't there, or it has no balance.
pub fn check(case: &Case, options: &Options) -> Result<Report, PlanError> {
    check_layout(case, case.rig.as_ref().ok_or(PlanError::NoRig)?, &[], options)
}

/// Judges a rig that stands beside the case, after some actions, named as in [`Action::word`](crate::report::Action):
/// what a page asks at every move of a finger that shifts an anchor of a rig which [`plan`] has found.
///
/// # Errors
/// As [`check`].
pub fn check_layout(case: &Case, layout: &Layout, actions: &[&str], options: &Options) -> Result<Report, PlanError> {
    let needs = Needs::of(case)?;
    let ctx = Context::of(case, &options.policy);
    let rigging = resolve(case, layout).map_err(PlanError::NoSuch)?;
    let actions = crate::glance::actions_named(actions)?;
    let need = demand::need_for(case, &actions, &mut Silent).map_err(PlanError::Need)?;
    let mut solver = Solver::default();
    let plan = crate::present::present_given(&ctx, &mut solver, &rigging, &actions, &need, options.explain)
        .map_err(|e| PlanError::Rig(e.to_string()))?;
    let played = usize::from(plan.pull.is_some());
    let mut out = report(&ctx, case, &needs, vec![plan], 1);
    out.played = played;
    Ok(out)
}

fn report(ctx: &Context<'_>, case: &Case, needs: &Needs, plans: Vec<Plan>, looked_at: usize) -> Report {
    let mut findings = Vec::new();
    let mut as_found: Option<Demand> = None;
    if let Some((_, need)) = needs.sets.first() {
        as_found = Some(demand::words(need));
        findings.extend(need.warnings.iter().map(|w| demand::finding(w, "need")));
    }
    findings.extend(about_the_case(ctx, case));
    Report {
        title: case.title.clone(),
        policy: Some(PolicyWords {
            name: ctx.policy.name.to_owned(),
            title: ctx.policy.title.to_owned(),
            doc: ctx.policy.doc.to_owned(),
            grade: ctx.policy.rows().map(|r| r.grade).min().unwrap_or(Grade::OwnJudgement),
        }),
        demand: as_found,
        findings,
        gate: crate::steps::gate(),
        plans,
        looked_at,
        played: 0,
        ways: None,
        site: site::of(case),
    }
}
