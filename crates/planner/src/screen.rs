//! A first look at every choice, with the most favourable pieces that the kit could give it: what can't be among the
//! rigs that are reported need not have its pieces chosen.
//!
//! The look is optimistic in four ways: each strap is the longest of its kind (legs that share then meet at the smallest
//! angle), a piece may stand in two places, only what no piece can change is judged (line, mount, points, anchors, the
//! winch's ability), and the fewest pieces that the choice can have are counted. Straps of another length move a block by
//! some decimetres and so change these margins by little; [`SLACK`] stands for that. It is a bound for practice and no proof.

use crate::connect;
use crate::context::Context;
use crate::evaluate::{Solved, facts, line_short, solve_rigging};
use crate::parked::{surely_closes_up, surely_short};
use crate::rank::{ROOM, Rank};
use crate::rigging::{Grip, Pull, Rigging, Tie};
use crate::steadiness::is_unsteady;
use unmire_audit::assess::{Fitting, Pulls, margin_of};
use unmire_audit::facts::PartKind;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::rig::Solver;
use unmire_model::gear::{Piece, PieceKind, StrapUse};
use unmire_model::layout::Hitch;
use unmire_model::{Force, Length, Range};

/// By how much the margin of an anchor or a point may be better with other pieces than it looked. Our own judgement.
const SLACK: f64 = 1.03;
/// The same where anchors share: straps of other lengths share otherwise.
const SHARED_SLACK: f64 = 1.3;

/// The longest usable piece of each kind.
pub struct Longest<'a> {
    strap: Option<&'a Piece>,
    bridle: Option<&'a Piece>,
    line: Option<&'a Piece>,
    block: Option<&'a Piece>,
    connector: Option<&'a Piece>,
    /// How many pieces can lengthen something.
    lines: usize,
}
impl<'a> Longest<'a> {
    /// Those of a kit.
    #[must_use]
    pub fn of(kit: &'a [Piece]) -> Self {
        let longest = |wanted: &dyn Fn(&PieceKind) -> bool| {
            kit.iter().filter(|p| crate::choices::usable(p) && wanted(&p.kind)).max_by(|a, b| {
                let length = |p: &Piece| crate::build::length_of(p).map_or(0.0, Length::as_m);
                length(a).total_cmp(&length(b))
            })
        };
        let lengthens = |k: &PieceKind| match k {
            PieceKind::Strap(s) => s.made_for == StrapUse::Extension,
            PieceKind::Rope(r) => !r.kinetic,
            _ => false,
        };
        Self {
            strap: longest(
                &|k| matches!(k, PieceKind::Strap(s) if matches!(s.made_for, StrapUse::TreeStrap | StrapUse::RoundSling)),
            ),
            bridle: longest(&|k| matches!(k, PieceKind::Strap(s) if s.made_for == StrapUse::Bridle)),
            line: longest(&lengthens),
            block: longest(&|k| matches!(k, PieceKind::Block { .. } | PieceKind::Ring { .. })),
            connector: kit.iter().find(|p| connect::connects(p)),
            lines: kit.iter().filter(|p| crate::choices::usable(p) && lengthens(&p.kind)).count(),
        }
    }

    fn fill(&self, choice: &Rigging<'a>, lengthen: usize) -> Option<Rigging<'a>> {
        let mut out = choice.clone();
        let extra = |n: usize| -> Option<Vec<&'a Piece>> {
            if n == 0 { Some(Vec::new()) } else { self.line.map(|p| vec![p; n]) }
        };
        let grip = |g: &mut Grip<'a>, more: usize| -> Option<()> {
            match g {
                Grip::Anchors(legs) => {
                    for leg in legs {
                        if leg.hitch != Hitch::Straight {
                            leg.strap = Some(self.strap?);
                            leg.extensions = extra(more)?;
                        }
                    }
                }
                Grip::Bridle { strap, .. } => *strap = Some(self.bridle?),
                Grip::Point { .. } | Grip::Winch { .. } => {}
            }
            Some(())
        };
        let tie = |t: &mut Tie<'a>| -> Option<()> {
            if !matches!(t.grip, Grip::Winch { .. }) {
                t.line = extra(self.lines.min(2))?;
            }
            grip(&mut t.grip, 0)
        };
        match &mut out.pull {
            Pull::Tow { line, .. } => *line = extra(1)?,
            Pull::Hand { held_by, .. } => grip(held_by, 0)?,
            Pull::Winch { .. } => {}
        }
        let last = out.stops.len().saturating_sub(1);
        let shares = out.stops.iter().any(|s| matches!(&s.grip, Grip::Anchors(l) if l.len() > 1));
        // As the search does: on the first anchor that holds a block, else at the dead end.
        let first_block = out.stops.iter().take(last).position(|s| matches!(&s.grip, Grip::Anchors(_)));
        let tow = matches!(out.pull, Pull::Tow { .. });
        for (i, stop) in out.stops.iter_mut().enumerate() {
            if i < last {
                stop.block = Some(self.block?);
            }
            let several = matches!(&stop.grip, Grip::Anchors(l) if l.len() > 1);
            let on_leg = several || (!shares && first_block == Some(i));
            grip(&mut stop.grip, if on_leg && !tow { lengthen } else { 0 })?;
            if i == last && !tow && first_block.is_none() && !several {
                stop.extensions = extra(lengthen)?;
            }
        }
        out.tie_back.as_mut().map(tie).unwrap_or(Some(()))?;
        out.holding.as_mut().map(tie).unwrap_or(Some(()))?;
        connect::open_slots(&mut out, self.connector?);
        Some(out)
    }
}

/// The most favourable rank that a choice can have, or none if it can't be rigged at all.
#[must_use]
pub fn look<'a>(
    ctx: &Context<'a>,
    solver: &mut Solver,
    longest: &Longest<'a>,
    choice: &Rigging<'a>,
    need: Range<Force>,
) -> Option<Rank> {
    for lengthen in 0..=longest.lines.min(3) {
        for choked in [false, true] {
            let Some(mut rigging) = longest.fill(choice, lengthen) else { continue };
            // As the search does: a choker reaches further, and is taken where no basket does.
            if choked && !choke(&mut rigging) {
                continue;
            }
            if surely_short(&rigging).is_some() || surely_closes_up(&rigging) {
                continue;
            }
            let Ok(solved) = solve_rigging(ctx, solver, &rigging, need.high()) else { continue };
            if line_short(&solved, &rigging).is_none() {
                return Some(bound(ctx, longest, choice, &rigging, &solved, need, lengthen));
            }
        }
    }
    None
}

/// Makes every basket a choker; tells whether there was one.
fn choke(rigging: &mut Rigging<'_>) -> bool {
    let mut any = false;
    for stop in &mut rigging.stops {
        if let Grip::Anchors(legs) = &mut stop.grip {
            for leg in legs.iter_mut().filter(|l| l.hitch == Hitch::Basket) {
                leg.hitch = Hitch::Choker;
                any = true;
            }
        }
    }
    any
}

/// The rank of a rigging of the most favourable pieces, by what no piece can change.
fn bound<'a>(
    ctx: &Context<'a>,
    longest: &Longest<'a>,
    choice: &Rigging<'a>,
    rigging: &Rigging<'a>,
    solved: &Solved,
    need: Range<Force>,
    lengthen: usize,
) -> Rank {
    let cell = ctx.detectors.load_cell.as_ref().and_then(|id| ctx.case.piece(id));
    let layout = rigging.layout();
    let f = facts(ctx, rigging, &layout, solved, need, cell);
    let pulls = Pulls::of(&f);
    let shares = rigging.stops.iter().any(|s| matches!(&s.grip, Grip::Anchors(l) if l.len() > 1));
    let slack = if shares { SHARED_SLACK } else { SLACK };
    let mut verdict = Verdict::Holds;
    let mut margin: Option<f64> = None;
    for part in f.parts.iter().filter(|p| p.piece.is_none() || p.kind == PartKind::HandWinch) {
        let detector = Fitting::of(part, &f).is_in(&f.detectors);
        let (v, m) = margin_of(part, ctx.policy, &pulls, detector);
        // Just short may be just enough with other pieces.
        let moves = !matches!(part.kind, PartKind::Line | PartKind::WinchMount | PartKind::HandWinch);
        let m = if moves { m.map(|m| m * slack) } else { m };
        let near = m.is_some_and(|m| m >= 1.0);
        verdict = verdict.worse(if near && v == Verdict::Overloaded { Verdict::HoldsBelowStopLoad } else { v });
        margin = match (margin, m) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
    }
    let able = f.winch.as_ref().and_then(|w| w.ability).or(f.puller_ability);
    if able.is_some_and(|a| a * SLACK < f.pull_work) {
        verdict = Verdict::Overloaded;
    }
    let cramped = verdict == Verdict::HoldsBelowStopLoad
        && pulls.stall.is_some_and(|s| s.as_n() * margin.unwrap_or(1.0) < ROOM * f.pull_work.as_n());
    let unsteady = is_unsteady(ctx, f.stability.as_ref());
    // What the choice needs at least: no extensions beyond those without which it does not reach at all.
    let fewest = longest.fill(choice, usize::from(lengthen > 0));
    Rank::bound(verdict, unsteady, cramped, fewest.as_ref().unwrap_or(rigging), f.pull_work, margin)
}
