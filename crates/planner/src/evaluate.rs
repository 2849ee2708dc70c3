//! One rigging with all its pieces, from geometry to facts. The search, the check of a given rig and the explanation
//! all come through here.

use crate::build::{Built, NotBuilt, build};
use crate::context::Context;
use crate::loads::{Loads, first_tension, solve};
use crate::parts::{Collector, Demand, Parts};
use crate::rigging::{Pull, Rigging, Veh};
use crate::sharing::{self, Shares};
use crate::{backed, crossing, parked, steadiness};
use core::cell::OnceCell;
use unmire_audit::facts::{CrossingFact, Facts, PartKind, WinchFact};
use unmire_mechanics::rig::{Equilibrium, RigError, Solver};
use unmire_mechanics::winch::{WinchAt, fairlead_angle, fairlead_limit, hand_winch_stall, winch_at};
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::layout::Layout;
use unmire_model::{Angle, Force, Length, Range, Silent, Vec3};

/// Why a rigging has no facts.
#[derive(Clone, Debug, PartialEq)]
pub enum NoRig {
    /// Its pieces do not make it.
    Pieces(NotBuilt),
    /// It has no certified balance.
    Statics(RigError),
    /// A line would cross what it must not.
    Crosses {
        /// Which leg.
        leg: String,
        /// What.
        obstacle: String,
    },
    /// The winch's data make no sense.
    Winch(String),
}
impl core::fmt::Display for NoRig {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Pieces(e) => write!(f, "{e}"),
            Self::Statics(e) => write!(f, "{e}"),
            Self::Crosses { leg, obstacle } => write!(f, "the line from {leg} would cross {obstacle}"),
            Self::Winch(e) => f.write_str(e),
        }
    }
}
impl NoRig {
    /// Whether longer gear could mend it.
    #[must_use]
    pub fn is_short(&self) -> bool {
        matches!(
            self,
            Self::Pieces(NotBuilt::LineTooShort { .. } | NotBuilt::TooFarApart { .. } | NotBuilt::Hitch { .. })
        )
    }
}
impl From<NotBuilt> for NoRig {
    fn from(e: NotBuilt) -> Self {
        Self::Pieces(e)
    }
}
impl From<RigError> for NoRig {
    fn from(e: RigError) -> Self {
        Self::Statics(e)
    }
}

/// A rigging solved, before connectors are chosen or judged.
pub struct Solved {
    /// The structure.
    pub built: Built,
    /// What everything carries.
    pub loads: Loads,
    /// The winch with its line off at the start.
    pub winch: Option<WinchAt>,
    /// The puller's least ability, where it is no winch.
    pub ability: Option<Force>,
    /// What legs get that share, once somebody has asked: it takes as long as a dozen equilibria and more.
    shares: OnceCell<Shares>,
}
impl Solved {
    /// Works out what legs get that share. From then on the facts reckon with it.
    pub fn share_out(&self, ctx: &Context<'_>, rigging: &Rigging<'_>) {
        self.shares.get_or_init(|| sharing::of(ctx, rigging, &self.built, &self.loads));
    }
    /// Whether that has been worked out.
    #[must_use]
    pub fn is_shared_out(&self) -> bool {
        self.shares.get().is_some()
    }
}

/// Length of the line from its start to its end, without what lengthens it.
fn line_length(eq: &Equilibrium, built: &Built) -> Length {
    eq.legs.iter().filter(|l| l.line == 0).map(|l| l.length).sum::<Length>() - built.lengthened
}

/// Builds and solves a rigging whose straps, blocks and extensions are chosen.
///
/// # Errors
/// Says what does not fit or does not balance.
pub fn solve_rigging(
    ctx: &Context<'_>,
    solver: &mut Solver,
    rigging: &Rigging<'_>,
    need: Force,
) -> Result<Solved, NoRig> {
    solve_rigging_near(ctx, solver, rigging, need, Equilibrium::default())
}

/// As [`solve_rigging`], searched from an equilibrium at work: of the same rig a little elsewhere it is found at once, of another
/// one as ever.
///
/// # Errors
/// As [`solve_rigging`].
pub fn solve_rigging_near(
    ctx: &Context<'_>,
    solver: &mut Solver,
    rigging: &Rigging<'_>,
    need: Force,
    near: Equilibrium,
) -> Result<Solved, NoRig> {
    let mut built = build(rigging, &|p| ctx.stiffness(p))?;
    let mut winch = None;
    let mut ability = None;
    let mut problem = None;
    let stall_of = |eq: &Equilibrium, built: &Built| match &rigging.pull {
        Pull::Winch { winch: w, .. } => match winch_at(w, line_length(eq, built), &mut Silent) {
            Ok(at) => {
                winch = Some(at);
                Some(at.stall.high())
            }
            Err(e) => {
                problem = Some(e.to_string());
                None
            }
        },
        Pull::Hand { piece, .. } => {
            let strength = ctx.strength(piece);
            ability = strength.working.or(Some(Force::from_n(f64::NAN)));
            let stated = match &piece.kind {
                PieceKind::HandWinch { stall, .. } => stall.as_ref().map(|s| &s.value),
                _ => None,
            };
            // Without a rating and without a stated stall it stays no ordinary number, and the rig unknown.
            let rated = strength.working.unwrap_or(Force::from_n(f64::NAN));
            Some(hand_winch_stall(rated, stated).0.high())
        }
        Pull::Tow { helper, .. } => {
            let pull = parked::tow(ctx, helper, eq, built);
            ability = Some(pull.map_or(Force::from_n(f64::NAN), |p| p.low()));
            Some(pull.map_or(Force::from_n(f64::NAN), |p| p.high()))
        }
    };
    let loads = solve(solver, &mut built, rigging, need, ctx.way_out, near, stall_of)?;
    if let Some(problem) = problem {
        return Err(NoRig::Winch(problem));
    }
    // Hand winches have their own line and must reach; a winch's reach is told by its flags.
    if let Pull::Hand { piece: Piece { kind: PieceKind::HandWinch { line, .. }, .. }, .. } = &rigging.pull {
        let needed = line_length(&loads.poor, &built);
        if needed > *line {
            return Err(NotBuilt::LineTooShort { short_by: needed - *line }.into());
        }
    }
    Ok(Solved { built, loads, winch, ability, shares: OnceCell::new() })
}

/// By how much the winch's line is short, minimum turns on the drum included; none if it reaches.
#[must_use]
pub fn line_short(solved: &Solved, rigging: &Rigging<'_>) -> Option<Length> {
    let at = solved.winch.as_ref()?;
    let Pull::Winch { winch, .. } = &rigging.pull else { return None };
    if at.flags.line_short {
        return Some(at.line_out - winch.line.length);
    }
    match (at.turns_left, winch.drum) {
        (Some(turns), Some(drum)) if turns < at.turns_required => {
            let around = core::f64::consts::PI * (drum.diameter + winch.line.diameter).as_m();
            Some(Length::from_m((at.turns_required - turns) * around))
        }
        _ => None,
    }
}

/// Every part of a solved rigging with what is told beside it.
pub(crate) fn parts<'a>(
    ctx: &Context<'a>,
    rigging: &Rigging<'a>,
    solved: &Solved,
    cell: Option<&'a Piece>,
) -> Parts<'a> {
    let mut collector = Collector::new(ctx, &solved.built, &solved.loads, solved.shares.get());
    collector.collect(rigging, cell);
    ties(&mut collector, ctx, rigging, solved);
    parked::collect(&mut collector, ctx, rigging, solved);
    collector.out
}

/// All facts of a solved rigging; where legs share, by the likely case only until [`Solved::share_out`] was asked.
#[must_use]
pub fn facts<'f, 'a: 'f>(
    ctx: &'f Context<'a>,
    rigging: &Rigging<'a>,
    layout: &'f Layout,
    solved: &Solved,
    need: Range<Force>,
    cell: Option<&'a Piece>,
) -> Facts<'f> {
    let stability = steadiness::of(ctx, solved, rigging);
    let Parts { parts, hitches, points, connectors, turns, parked, backed: pending, .. } =
        parts(ctx, rigging, solved, cell);
    let winch = match (&rigging.pull, &solved.winch) {
        (Pull::Winch { on, winch }, Some(at)) => {
            let start = solved.built.start;
            let eq = &solved.loads.poor;
            let leg = eq.legs.iter().find(|l| l.line == 0);
            let at_point = |i: usize| eq.positions.get(i).copied().unwrap_or(Vec3::ZERO);
            let along = leg.map_or(Vec3::ZERO, |l| at_point(l.to) - at_point(start));
            let angle = fairlead_angle(on.direction(winch.direction), along, &mut Silent).unwrap_or(Angle::HALF_TURN);
            Some(WinchFact {
                id: winch.id.clone(),
                layer: at.layer,
                ability: Some(at.pull.low()),
                pull_work: solved.loads.pull_work(),
                stall: at.stall.high(),
                stall_assumed: at.flags.stall_assumed,
                line_out: at.line_out,
                line_length: winch.line.length,
                wraps_left: at.turns_left,
                wraps_required: at.turns_required,
                fairlead_angle: angle,
                fairlead_limit: fairlead_limit(winch),
            })
        }
        _ => None,
    };
    let mut detectors = ctx.detectors.clone();
    detectors.load_cell = cell.map(|c| c.id.clone());
    detectors.current =
        detectors.current && matches!(&rigging.pull, Pull::Winch { winch, .. } if winch.current_calibrated);
    let mut facts = Facts {
        case: ctx.case,
        layout,
        need,
        pull_work: solved.loads.pull_work(),
        pull_stall: solved.loads.pull_stall(),
        parts,
        hitches,
        points,
        connectors,
        turns,
        parked,
        sharing: solved.shares.get().map_or_else(Vec::new, Shares::facts),
        backed: Vec::new(),
        winch,
        stability,
        crossings: crossing::of(ctx, solved)
            .into_iter()
            .map(|(leg, obstacle)| CrossingFact { leg, obstacle })
            .collect(),
        detectors,
        puller_ability: solved.ability,
    };
    backed::resolve(ctx, &mut facts, pending);
    facts
}

/// The tie-back of a helper that pulls, and the holding line of the stuck vehicle.
fn ties<'a>(collector: &mut Collector<'_, 'a>, ctx: &Context<'a>, rigging: &Rigging<'a>, solved: &Solved) {
    if let (Some(tie), Pull::Winch { on, .. }) = (&rigging.tie_back, &rigging.pull) {
        // The tie-back is rated for the whole pull on the helper: its tyres may slide.
        let helper_force = |eq: &Equilibrium| parked::force_on(*on, eq, &solved.built, rigging);
        let from = on.place(tie.point.position);
        let to = parked::tie_end(tie);
        let along = (to - from).unit();
        let needed = |eq: &Equilibrium| {
            let f = helper_force(eq);
            match along {
                // The tie-back holds what it can along its own line; the level pull must be met by its component.
                Some(u) => {
                    let cos = -(f.unit().map_or(f64::NAN, |d| d.dot(u)));
                    if cos > 0.1 { f.norm() / cos } else { f64::NAN }
                }
                None => f64::NAN,
            }
        };
        let demand = Demand { work: solved.loads.work(needed), stall: solved.loads.at_stall(needed) };
        collector.tie(*on, tie, demand, "tie-back", along.unwrap_or(Vec3::UP));
    }
    if let Some(tie) = &rigging.holding {
        let on = Veh::Stuck(&ctx.case.vehicle);
        let from = on.place(tie.point.position);
        let along = (parked::tie_end(tie) - from).unit().unwrap_or(Vec3::UP);
        let needed = steadiness::holding_force(ctx, solved, tie);
        let demand = Demand { work: needed, stall: None };
        collector.tie(on, tie, demand, "holding line", along);
    }
}

/// Whether a kind of part is a slot for a connector.
#[must_use]
pub const fn is_connector(kind: PartKind) -> bool {
    matches!(kind, PartKind::Connector | PartKind::BlockConnector)
}

/// Tension at the winch of an equilibrium.
#[must_use]
pub fn tension(eq: &Equilibrium) -> Force {
    Force::from_n(first_tension(eq))
}
