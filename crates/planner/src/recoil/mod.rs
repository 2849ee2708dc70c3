//! What happens if something lets go: the energy in every member, what flies when each part fails, the ground to keep clear
//! over all of it, and where people can stand.
//!
//! | module | answers |
//! |---|---|
//! | `members` | what stretches, how far, with how much energy in it |
//! | `chain` | which part hangs on which, from the line outwards |
//! | `fail` | what flies when a part fails |
//! | `places` | where somebody can stand, and what flies at the cabs |
//! | `said` | the words beside it, and what was seen when lines parted |

mod chain;
mod fail;
pub(crate) mod members;
mod places;
mod said;

pub(crate) use chain::name_of as point_name;
pub use places::{Cab, Place};
pub use said::Seen;

use crate::context::Context;
use crate::evaluate::{Solved, facts, solve_rigging};
use crate::keep_out;
use crate::plan::{Options, PlanError, check, plan};
use crate::present::{TieLine, seconds, ties};
use crate::report::{KeepOut, Plan, PolicyWords, Site};
use crate::rigging::{Pull, Rigging, Veh, resolve};
use fail::Loaded;
use members::{Member, Members, members, tie_members};
use unmire_audit::facts::PartKind;
use unmire_audit::verdict::{Effect, Finding};
use unmire_mechanics::recoil::Bound;
pub use unmire_mechanics::recoil::StandClear;
use unmire_mechanics::rig::Solver;
use unmire_model::case::Case;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::trail::{Recorder, Trail};
use unmire_model::{Energy, Force, Length, Mass, Range, Silent, Speed, Vec3};

/// Energy in one member.
#[derive(Clone, Debug, PartialEq)]
pub struct Stored {
    /// As in the checks: a piece's id, or `line of W1`.
    pub name: String,
    /// What it does there.
    pub what: String,
    /// Its length.
    pub length: Length,
    /// Its pull at work, high end.
    pub work: Force,
    /// Its pull at stall; none where nothing can stall.
    pub stall: Option<Force>,
    /// Stiffness EA.
    pub ea: Option<Range<Force>>,
    /// Mass of a metre of it.
    pub mass_per_metre: Option<Range<Mass>>,
    /// Energy at work: from its stiffest to its softest.
    pub energy_work: Option<Range<Energy>>,
    /// Energy at stall.
    pub energy_stall: Option<Range<Energy>>,
    /// The greatest speed of its free end.
    pub tip: Option<Speed>,
    /// Why something of it is not known.
    pub unknown_because: Option<String>,
}

/// One thing that flies.
#[derive(Clone, Debug, PartialEq)]
pub struct Fly {
    /// What.
    pub what: String,
    /// From where, by name.
    pub from: String,
    /// From where.
    pub at: Vec3,
    /// Along which way, in words.
    pub way: String,
    /// The way it sets off, of length one.
    pub direction: Vec3,
    /// Whether legs at an angle throw it: sideways, out of the line.
    pub aside: bool,
    /// Its mass; zero at the low end for a bare end. None if not known.
    pub mass: Option<Range<Mass>>,
    /// Whether some of its mass is a band because nobody weighed it.
    pub mass_assumed: bool,
    /// No faster than this, and what sets it.
    pub bound: Option<Bound>,
    /// Energy that it carries at most.
    pub energy: Option<Energy>,
    /// Why its bound is not known.
    pub unknown_because: Option<String>,
}

/// The failure of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Failure {
    /// Its name, as in the checks.
    pub part: String,
    /// Its kind.
    pub kind: PartKind,
    /// What it does there.
    pub role: String,
    /// All that is stored in what lets go with it: at stall if something can stall, else at the high end of work.
    pub energy: Option<Energy>,
    /// The same at the high end of work.
    pub energy_work: Option<Energy>,
    /// Why it is not known.
    pub unknown_because: Option<String>,
    /// What flies.
    pub flies: Vec<Fly>,
}
impl Failure {
    /// No faster than this, over all that flies; none if that of one is not known.
    #[must_use]
    pub fn speed(&self) -> Option<Speed> {
        let mut most = Speed::ZERO;
        for f in &self.flies {
            most = most.max(f.bound?.speed);
        }
        (!self.flies.is_empty()).then_some(most)
    }
}

/// Everything.
#[derive(Clone, Debug, PartialEq)]
pub struct RecoilReport {
    /// The case's title.
    pub title: String,
    /// The policy that the rig was judged by.
    pub policy: Option<PolicyWords>,
    /// The rig, judged.
    pub plan: Plan,
    /// Whether the case gives it; else it is the best that was found.
    pub given: bool,
    /// The site, for drawings.
    pub site: Site,
    /// What is thrown when a part lets go.
    pub thrown: Thrown,
    /// The working.
    pub trail: Trail,
}
impl RecoilReport {
    /// Exit status 0: the rig passes under its policy, and every bound is known.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.plan.verdict.passes() && self.thrown.is_known()
    }
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum NoRecoil {
    /// As for a plan or a check.
    Plan(PlanError),
    /// No rig could be made.
    NoRig,
}
impl core::fmt::Display for NoRecoil {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Plan(e) => write!(f, "{e}"),
            Self::NoRig => {
                f.write_str("no rig could be made from this kit and this ground: there is nothing to let go")
            }
        }
    }
}
impl core::error::Error for NoRecoil {}

/// What happens if something lets go of the rig that the case gives, or else of the best that is found.
///
/// # Errors
/// If there is no rig, or it can't be judged.
pub fn recoil(case: &Case, options: &Options) -> Result<RecoilReport, NoRecoil> {
    let quiet = Options { explain: false, limit: 1, ..options.clone() };
    let given = case.rig.is_some();
    let report = if given { check(case, &quiet) } else { plan(case, &quiet) }.map_err(NoRecoil::Plan)?;
    let best = report.plans.into_iter().next().ok_or(NoRecoil::NoRig)?;
    let mut out = of_plan(case, options, best, report.site)?;
    out.policy = report.policy;
    out.given = given;
    Ok(out)
}

/// The same for a plan that was made of this case.
///
/// # Errors
/// If the plan has no layout, or it can't be built again.
pub fn of_plan(case: &Case, options: &Options, plan: Plan, site: Site) -> Result<RecoilReport, NoRecoil> {
    let ctx = Context::of(case, &options.policy);
    let layout = plan.layout.clone().ok_or(NoRecoil::NoRig)?;
    let rigging = resolve(case, &layout).map_err(|e| NoRecoil::Plan(PlanError::NoSuch(e)))?;
    let need = plan.demand.force;
    let solved = solve_rigging(&ctx, &mut Solver::default(), &rigging, need.high())
        .map_err(|e| NoRecoil::Plan(PlanError::Rig(e.to_string())))?;
    let cell: Option<&Piece> = rigging.beside.iter().copied().find(|p| matches!(p.kind, PieceKind::LoadCell));
    let facts = facts(&ctx, &rigging, &layout, &solved, need, cell);
    let ties = ties(&ctx, &rigging, &facts);
    let mut trail = Trail::default();
    let rig = Rig { ctx: &ctx, rigging: &rigging, solved: &solved, ties: &ties };
    Ok(if options.explain {
        let mut out = rig.report(plan, site, &mut trail);
        out.trail = trail;
        out
    } else {
        rig.report(plan, site, &mut Silent)
    })
}

/// A rig, solved.
struct Rig<'r, 'a> {
    ctx: &'r Context<'a>,
    rigging: &'r Rigging<'a>,
    solved: &'r Solved,
    ties: &'r [TieLine<'r>],
}

/// What is thrown when a part of a solved rig lets go, whatever the rig is for.
#[derive(Clone, Debug, PartialEq)]
pub struct Thrown {
    /// Whether something stalls; else the high end of work counts.
    pub at_stall: bool,
    /// The members.
    pub members: Vec<Stored>,
    /// What the line and its grips store together at work, high end.
    pub energy_work: Option<Energy>,
    /// At stall.
    pub energy_stall: Option<Energy>,
    /// Every failure.
    pub failures: Vec<Failure>,
    /// The ground to keep clear.
    pub keep_out: KeepOut,
    /// The middle of every disc that it is made of.
    pub hard_points: Vec<Vec3>,
    /// Every published rule, as if it counted for this line.
    pub rules: Vec<StandClear>,
    /// The inside of every turn.
    pub bights: Vec<(String, Vec<(f64, f64)>)>,
    /// Where somebody can stand.
    pub places: Vec<Place>,
    /// What flies at the cabs.
    pub cabs: Vec<Cab>,
    /// Dampers on the line.
    pub dampers: usize,
    /// The words.
    pub words: Vec<String>,
    /// What was seen when lines parted.
    pub seen: Vec<Seen>,
    /// What must be told beside it.
    pub findings: Vec<Finding>,
}
impl Thrown {
    /// Whether every bound is known.
    #[must_use]
    pub fn is_known(&self) -> bool {
        !self.failures.is_empty() && self.failures.iter().all(|f| f.energy.is_some() && f.speed().is_some())
    }
}

/// What a rig that is solved throws. If it is not told, only what flies and the ground to keep clear.
pub(crate) fn thrown<const TOLD: bool>(
    ctx: &Context<'_>,
    rigging: &Rigging<'_>,
    solved: &Solved,
    ties: &[TieLine<'_>],
    site: &Site,
    rec: &mut impl Recorder,
) -> Thrown {
    Rig { ctx, rigging, solved, ties }.thrown::<TOLD>(site, rec)
}

impl Rig<'_, '_> {
    fn report(&self, plan: Plan, site: Site, rec: &mut impl Recorder) -> RecoilReport {
        RecoilReport {
            title: self.ctx.case.title.clone(),
            policy: None,
            given: false,
            thrown: self.thrown::<true>(&site, rec),
            plan,
            site,
            trail: Trail::default(),
        }
    }

    fn thrown<const TOLD: bool>(&self, site: &Site, rec: &mut impl Recorder) -> Thrown {
        let loads = &self.solved.loads;
        let at_stall = loads.stall.is_some() || loads.stall_unknown;
        let eq = loads.stall.as_ref().unwrap_or(&loads.poor);
        let mut all = members(self.ctx, self.rigging, self.solved);
        let main: Vec<usize> = all.main().collect();
        let tie_at: Vec<Vec<usize>> = self.ties.iter().filter(|_| TOLD).map(|t| self.add_tie(t, &mut all)).collect();
        let ground = keep_out::of(self.ctx, self.solved, self.rigging, &seconds(self.ties), rec.common());
        let members_out: Vec<Stored> =
            if TOLD { all.all.iter().map(|m| stored(m, at_stall, rec)).collect() } else { Vec::new() };
        let stations = chain::stations(self.ctx, self.rigging, self.solved, eq, &all);
        let loaded = Loaded { members: &all, stations: &stations, at_stall };
        let mut failures = fail::failures(&loaded, rec);
        debug_assert!(TOLD || self.ties.is_empty(), "ties are left out");
        for (tie, own) in self.ties.iter().zip(&tie_at).filter(|_| TOLD) {
            let items = chain::tie_items(self.tied(tie), tie, own, &all);
            let ends = [(tie.from.0.as_str(), tie.from.2), (tie.to.0.as_str(), tie.to.2)];
            // A holding line has no stall of its own: its members say so.
            let held = Loaded { members: &all, stations: &[], at_stall: tie.stall.is_some() };
            failures.extend(fail::tie_failures(&held, &items, ends, rec));
        }
        if !TOLD {
            return Thrown {
                at_stall,
                members: members_out,
                energy_work: None,
                energy_stall: None,
                keep_out: ground.keep_out,
                hard_points: Vec::new(),
                rules: Vec::new(),
                bights: Vec::new(),
                places: Vec::new(),
                cabs: Vec::new(),
                dampers: 0,
                words: Vec::new(),
                seen: Vec::new(),
                findings: Vec::new(),
                failures,
            };
        }
        let together = |pull: &dyn Fn(&Member) -> Force| loaded.energy(main.iter().copied(), pull).ok();
        let energy_stall = if at_stall { together(&|m: &Member| m.pull.stall.unwrap_or(m.pull.work)) } else { None };
        let energy_work = together(&|m: &Member| m.pull.work);
        let mut findings = ground.findings;
        self.remarks(&failures, &all, &mut findings);
        let bights = keep_out::insides(eq, self.solved)
            .into_iter()
            .map(|(name, corners)| (name, corners.iter().map(|c| (c.x, c.y)).collect()))
            .collect();
        let pulling = &self.rigging.pull;
        Thrown {
            at_stall,
            places: places::places(self.ctx, &ground.keep_out, &ground.rules, &ground.discs, &failures, site),
            cabs: places::cabs(pulling, &failures, site, ground.keep_out.radius),
            hard_points: ground.discs.iter().map(|d| d.at).collect(),
            members: members_out,
            energy_work,
            energy_stall,
            keep_out: ground.keep_out,
            rules: ground.rules,
            bights,
            dampers: self.rigging.beside.iter().filter(|p| matches!(p.kind, PieceKind::Damper)).count(),
            words: said::words(self.rigging, &failures),
            seen: said::seen(),
            findings,
            failures,
        }
    }

    fn tied(&self, tie: &TieLine<'_>) -> Veh<'_> {
        match (&self.rigging.pull, tie.member) {
            (Pull::Winch { on, .. }, "tie-back") => *on,
            _ => Veh::Stuck(&self.ctx.case.vehicle),
        }
    }

    fn add_tie(&self, tie: &TieLine<'_>, all: &mut Members) -> Vec<usize> {
        let length = Length::from_m((tie.to.2 - tie.from.2).norm());
        let pull = members::Pulled { work: tie.work, stall: tie.stall };
        let mut own = Vec::new();
        for m in tie_members(tie.tie, tie.member, length, pull) {
            own.push(all.all.len());
            all.all.push(m);
        }
        own
    }

    /// What was assumed or is not known.
    fn remarks(&self, failures: &[Failure], all: &Members, out: &mut Vec<Finding>) {
        let mut add = |code, effect, subject: String, text: String, remedy: &str| {
            out.push(Finding { code, effect, subject, text, remedy: remedy.to_owned() });
        };
        let mut told: Vec<&str> = Vec::new();
        for f in failures {
            let why = f.unknown_because.as_deref();
            let why = why.or_else(|| f.flies.iter().find_map(|x| x.unknown_because.as_deref()));
            if let Some(why) = why
                && !told.contains(&why)
            {
                told.push(why);
                add(
                    "recoil-unknown",
                    Effect::Unknown,
                    f.part.clone(),
                    format!("How hard it recoils is not known: {why}."),
                    "Give what is missing. Until then treat every bound here as too low.",
                );
            }
        }
        if self.solved.loads.stall_unknown {
            add(
                "recoil-stall-unknown",
                Effect::Unknown,
                "winch".to_owned(),
                "Nobody knows at which pull it stalls: neither energy nor speed has a bound.".to_owned(),
                "Give the stall, or the rating of the hand winch.",
            );
        }
        let weigh: Vec<&str> = {
            let mut names = Vec::new();
            for p in self.rigging.pieces() {
                let flies = unmire_mechanics::recoil::Flying::of_piece(&p.kind).is_some();
                if flies && p.mass.is_none() && !names.contains(&p.id.as_str()) {
                    names.push(p.id.as_str());
                }
            }
            names
        };
        if !weigh.is_empty() {
            add(
                "flying-mass-assumed",
                Effect::Note,
                weigh.join(", "),
                "Nobody weighed it: a band stands in, its low end for the speed and its high end for what it carries."
                    .to_owned(),
                "Weigh it and give its mass in the kit.",
            );
        }
        let mut by_strength: Vec<&str> = Vec::new();
        let mut no_material: Vec<&str> = Vec::new();
        for m in &all.all {
            let Ok(s) = &m.stuff else { continue };
            if s.mass_assumed && !by_strength.contains(&m.name.as_str()) {
                by_strength.push(&m.name);
            }
            if s.material_assumed && !no_material.contains(&m.name.as_str()) {
                no_material.push(&m.name);
            }
        }
        if !by_strength.is_empty() {
            add(
                "line-mass-assumed",
                Effect::Note,
                by_strength.join(", "),
                "The mass of a metre of it is a band by its strength.".to_owned(),
                "Weigh it and give its mass in the kit.",
            );
        }
        if !no_material.is_empty() {
            add(
                "line-material-assumed",
                Effect::Note,
                no_material.join(", "),
                "Nobody says of what it is: the softest that it can be counts for its energy, the lightest for its speed."
                    .to_owned(),
                "Say of what it is, if the file has a place for it.",
            );
        }
        add(
            "whip-not-bounded",
            Effect::Note,
            "line".to_owned(),
            "The bounds are for what flies along a line and for the fittings that are thrown. A bare line that swings sideways \
             whips; nothing here bounds that."
                .to_owned(),
            "Keep the whole ground clear; no side of a loaded line is harmless.",
        );
        if crate::keep_out::anchor_legs(self.rigging).iter().any(|l| l.anchor.tied_back.is_some()) {
            add(
                "backing-not-reckoned",
                Effect::Note,
                "anchor".to_owned(),
                "What ties one anchor to the next stores energy too; it is not reckoned. The ground round the second anchor is."
                    .to_owned(),
                "Keep away from it as from the first.",
            );
        }
    }
}

fn stored(m: &Member, at_stall: bool, rec: &mut impl Recorder) -> Stored {
    let most = if at_stall { m.pull.most() } else { m.pull.work };
    let counted = m.energy(most, rec);
    let same = most == m.pull.work;
    let energy_work = if same { counted } else { m.energy(m.pull.work, &mut Silent) };
    Stored {
        name: m.name.clone(),
        what: m.what.clone(),
        length: m.length,
        work: m.pull.work,
        stall: m.pull.stall,
        ea: m.stuff.as_ref().ok().map(|s| s.ea),
        mass_per_metre: m.stuff.as_ref().ok().map(|s| s.mass_per_metre),
        energy_work,
        energy_stall: m.pull.stall.and_then(|s| m.energy(s, &mut Silent)),
        tip: m.tip(most),
        unknown_because: m.stuff.as_ref().err().cloned(),
    }
}
