//! For one choice of family, anchors, hitch and attachment: the best pieces of the kit, proved best.
//!
//! Order of what is best: verdict, lowest margin, fewest pieces, least length of straps and ropes, then the smallest
//! ids in rigging order. Pieces that shape the rig (straps, blocks, extensions) are tried exhaustively; pieces that are
//! alike in every respect are tried once, and a piece that is weaker than an unused one of the same shape and smaller id
//! is not tried at all, since swapping the two can't make the rig worse. Connectors, which shape nothing, are assigned by [`crate::connect`].

use crate::connect;
use crate::context::Context;
use crate::evaluate::{NoRig, Solved, facts, line_short, solve_rigging};
use crate::parked::{reach_short, surely_closes_up, surely_short};
use crate::rigging::{Grip, Pull, Rigging};
use unmire_audit::assess::{Fitting, Pulls, margin_of};
use unmire_audit::facts::{Detectors, Facts};
use unmire_audit::judge::judge_quietly;
use unmire_audit::policy::Policy;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::rig::Solver;
use unmire_model::gear::{Piece, PieceKind, StrapUse};
use unmire_model::layout::{Hitch, Layout};
use unmire_model::{Force, Length, Range};

/// What a rig is ranked by within its choice: smaller is better.
#[derive(Clone, Debug, PartialEq)]
pub struct Key {
    /// The word.
    pub verdict: Verdict,
    /// Lowest margin; none if no part's margin is known.
    pub margin: Option<f64>,
    /// Number of pieces.
    pub pieces: usize,
    /// Length of straps and ropes.
    pub length: Length,
    /// Places in the kit, in rigging order.
    pub ids: Vec<usize>,
}
impl Key {
    /// Whether this one is better than another.
    #[must_use]
    pub fn better_than(&self, other: &Self) -> bool {
        let margin = |k: &Self| k.margin.unwrap_or(f64::INFINITY);
        self.verdict
            .cmp(&other.verdict)
            .then(margin(other).total_cmp(&margin(self)))
            .then(self.pieces.cmp(&other.pieces))
            .then(self.length.as_m().total_cmp(&other.length.as_m()))
            .then(self.ids.cmp(&other.ids))
            .is_lt()
    }
}

/// The best pieces for a choice.
#[derive(Clone, Debug)]
pub struct Filled<'a> {
    /// The rigging with its pieces.
    pub rigging: Rigging<'a>,
    /// The load cell in the line, if one is used.
    pub cell: Option<&'a Piece>,
    /// What it is ranked by.
    pub key: Key,
    /// Line pull not to go past.
    pub stop_load: Option<Force>,
    /// Tension at the winch at work.
    pub pull_work: Force,
    /// Whether it leaves the vehicle less steady than is wished for, or free to run away on a steep way.
    pub unsteady: bool,
    /// Whether only a detector is missing for it to hold below a stop load.
    pub lacks_detector: bool,
}

/// A place for a piece that shapes the rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Slot {
    Block(usize),
    Strap(At, usize),
    Bridle(At),
    /// Lengthens the line at the dead end (no leg), or the strap of one anchor leg of a stop.
    Extension(usize, Option<usize>),
    TowLine,
    TieLine,
    HoldLine,
}
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    Stop(usize),
    Held,
    Tie,
    Holding,
}

/// Everything that the search for one choice needs.
pub struct Filler<'s, 'a> {
    /// The case.
    pub ctx: &'s Context<'a>,
    /// The solver and its buffers.
    pub solver: &'s mut Solver,
    /// The need after the plan's actions.
    pub need: Range<Force>,
    /// How many riggings were solved.
    pub solved: usize,
    /// Why the last one that failed did.
    pub trouble: Option<NoRig>,
    /// Whether one of the last ones was too short.
    short: bool,
    /// Whether lines may cross what they must not: only to show the best attempt where nothing else is left.
    crossing: bool,
}

impl<'s, 'a> Filler<'s, 'a> {
    /// A search that has not looked at anything yet.
    #[must_use]
    pub fn new(ctx: &'s Context<'a>, solver: &'s mut Solver, need: Range<Force>) -> Self {
        Self { ctx, solver, need, solved: 0, trouble: None, short: false, crossing: false }
    }
    /// Lets lines cross what they must not; the rule about it then bars the rig.
    #[must_use]
    pub fn across_obstacles(mut self, allowed: bool) -> Self {
        self.crossing = allowed;
        self
    }
    fn fails(&mut self, why: NoRig) {
        self.short |= why.is_short();
        self.trouble = Some(why);
    }
    /// The best pieces for a choice, or none if the kit can't make it.
    pub fn best(&mut self, choice: &Rigging<'a>) -> Option<Filled<'a>> {
        let mut variants = vec![choice.clone()];
        // A choker reaches further than a basket and takes less: only where no basket does.
        variants.extend(with_chokers(choice));
        for variant in variants {
            // The fewest extensions with which everything reaches.
            for count in 0..=3_usize {
                let mut best = None;
                self.short = false;
                for split in 0..=count {
                    let (line, tie) = (count - split, split);
                    if (tie > 2) || (line > 2) || (tie > 0 && variant.tie_back.is_none() && variant.holding.is_none()) {
                        continue;
                    }
                    for places in extension_places(&variant, line) {
                        let slots = slots_of(&variant, &places, line, tie);
                        let mut used = Vec::with_capacity(8);
                        let mut work = variant.clone();
                        self.descend(&mut work, &slots, 0, &mut used, &mut best);
                    }
                }
                if best.is_some() {
                    return best;
                }
                // Nothing was too short: longer gear mends nothing.
                if !self.short {
                    break;
                }
            }
        }
        None
    }

    fn descend(
        &mut self,
        work: &mut Rigging<'a>,
        slots: &[Slot],
        next: usize,
        used: &mut Vec<&'a Piece>,
        best: &mut Option<Filled<'a>>,
    ) {
        let Some(&slot) = slots.get(next) else {
            self.leaf(work, best);
            return;
        };
        let kit = &self.ctx.case.kit;
        for (i, piece) in kit.iter().enumerate() {
            let is_used = |p: &Piece| used.iter().any(|u| core::ptr::eq(*u, p));
            let free = |j: usize, p: &Piece| {
                crate::choices::usable(p) && belongs(p, slot) && !self.ctx.holds_back(j) && !is_used(p)
            };
            if !free(i, piece) {
                continue;
            }
            if kit.iter().take(i).enumerate().any(|(j, e)| free(j, e) && self.not_weaker(e, piece)) {
                continue;
            }
            put(work, slot, piece);
            used.push(piece);
            self.descend(work, slots, next + 1, used, best);
            used.pop();
            take(work, slot);
        }
    }

    /// Whether the first piece has the same shape as the second and is as strong or stronger by every meaning.
    fn not_weaker(&self, first: &Piece, second: &Piece) -> bool {
        let (a, b) = (self.ctx.strength(first), self.ctx.strength(second));
        let at_least = |x: Option<Force>, y: Option<Force>| match (x, y) {
            (_, None) => true,
            (Some(x), Some(y)) => x >= y,
            (None, Some(_)) => false,
        };
        same_shape(&first.kind, &second.kind)
            && first.mass == second.mass
            && at_least(a.breaking, b.breaking)
            && at_least(a.working, b.working)
            && self.ctx.stiffness(first) == self.ctx.stiffness(second)
            && first.condition == second.condition
            && a.kind_unstated == b.kind_unstated
    }

    fn leaf(&mut self, work: &Rigging<'a>, best: &mut Option<Filled<'a>>) {
        self.solved += 1;
        let Some(stand_in) = self.ctx.case.kit.iter().find(|p| connect::connects(p)) else {
            return;
        };
        if let Some(short_by) = reach_short(work).or_else(|| surely_short(work)) {
            self.fails(NoRig::Pieces(crate::build::NotBuilt::LineTooShort { short_by }));
            return;
        }
        if surely_closes_up(work) {
            self.fails(NoRig::Pieces(crate::build::NotBuilt::TooClose));
            return;
        }
        let mut rigging = work.clone();
        connect::open_slots(&mut rigging, stand_in);
        let solved = match solve_rigging(self.ctx, self.solver, &rigging, self.need.high()) {
            Ok(solved) => solved,
            Err(trouble) => {
                self.fails(trouble);
                return;
            }
        };
        if let Some(short_by) = line_short(&solved, &rigging) {
            self.fails(NoRig::Pieces(crate::build::NotBuilt::LineTooShort { short_by }));
            return;
        }
        if !self.crossing
            && let Some((leg, obstacle)) = crate::crossing::of(self.ctx, &solved).into_iter().next()
        {
            self.fails(NoRig::Crosses { leg, obstacle: obstacle.what.clone() });
            return;
        }
        let found = finish(self.ctx, &rigging, &solved, self.need, best.as_ref().map(|b| &b.key));
        if let Some(found) = found
            && best.as_ref().is_none_or(|b| found.key.better_than(&b.key))
        {
            *best = Some(found);
        }
    }
}

/// Chooses connectors and ranks a solved rigging: with the kit's load cell in the line, or without it where only then it passes.
/// None if there are too few connectors, or if it can't beat the key that is given.
#[must_use]
pub fn finish<'a>(
    ctx: &Context<'a>,
    rigging: &Rigging<'a>,
    solved: &Solved,
    need: Range<Force>,
    to_beat: Option<&Key>,
) -> Option<Filled<'a>> {
    let cell = ctx.detectors.load_cell.as_ref().and_then(|id| ctx.case.piece(id));
    let Some(cell) = cell else { return finish_with(ctx, rigging, solved, need, None, to_beat).ok().flatten() };
    // If it can't beat the best with a cell's help and without the cell's own part, it can't without it either.
    let with = finish_with(ctx, rigging, solved, need, Some(cell), to_beat).ok()?;
    match with {
        Some(with) if with.key.verdict.passes() => Some(with),
        with => {
            let without = finish_with(ctx, rigging, solved, need, None, None).ok().flatten();
            match (with, without) {
                (Some(w), Some(o)) if o.key.verdict.passes() || !w.key.better_than(&o.key) => Some(o),
                (Some(w), _) => Some(w),
                (None, o) => o,
            }
        }
    }
}

/// What no connector can mend is already worse than the best.
struct Beaten;

fn finish_with<'a>(
    ctx: &Context<'a>,
    rigging: &Rigging<'a>,
    solved: &Solved,
    need: Range<Force>,
    cell: Option<&'a Piece>,
    to_beat: Option<&Key>,
) -> Result<Option<Filled<'a>>, Beaten> {
    let mut rigging = rigging.clone();
    // Rules look at what the layout says of puller and shape; names of connectors are not among it.
    let layout: Layout = rigging.layout();
    let mut f = facts(ctx, &rigging, &layout, solved, need, cell);
    let taken: Vec<&Piece> = rigging.pieces().into_iter().filter(|p| !connect::connects(p)).collect();
    let beaten = |f: &Facts<'_>| {
        to_beat.is_some_and(|best| {
            // The cell's own part is left out: the rig may go without it. That it is there only helps the others.
            let (verdict, margin) = rest_of(ctx, f, false);
            verdict > best.verdict
                || (verdict == best.verdict && margin.unwrap_or(f64::INFINITY) < best.margin.unwrap_or(f64::INFINITY))
        })
    };
    if beaten(&f) {
        return Err(Beaten);
    }
    // Legs that share are shared out only where the likely case is not beaten yet: it never gets better by it.
    if crate::sharing::shares(&rigging) && !solved.is_shared_out() {
        solved.share_out(ctx, &rigging);
        f = facts(ctx, &rigging, &layout, solved, need, cell);
        if beaten(&f) {
            return Err(Beaten);
        }
    }
    let rest = rest_of(ctx, &f, true);
    let Some(chosen) = connect::choose(ctx, &mut f, &taken, rest) else { return Ok(None) };
    let summary = judge_quietly(&f, ctx.policy);
    let pull_work = f.pull_work;
    let lacks_detector = !summary.verdict.passes() && watched(&f, ctx.policy).passes();
    let unsteady = crate::steadiness::is_unsteady(ctx, f.stability.as_ref());
    drop(f);
    for (slot, piece) in connect::slots(&mut rigging).into_iter().zip(&chosen) {
        *slot = piece;
    }
    let pieces = rigging.pieces();
    let key = Key {
        verdict: summary.verdict,
        margin: summary.lowest_margin,
        pieces: pieces.len(),
        length: pieces.iter().filter_map(|p| crate::build::length_of(p)).sum(),
        ids: pieces.iter().map(|p| ctx.place(p)).collect(),
    };
    if let Some(cell) = cell {
        rigging.beside.push(cell);
    }
    Ok(Some(Filled { rigging, cell, key, stop_load: summary.stop_load, pull_work, unsteady, lacks_detector }))
}

/// What the verdict would be with every kind of detector there.
#[must_use]
pub fn watched(f: &Facts<'_>, policy: &Policy) -> Verdict {
    let mut all = f.clone();
    let some = || Some(String::new());
    all.detectors = Detectors { load_cell: some(), current: true, tilt_meter: some(), movement_marker: some() };
    judge_quietly(&all, policy).verdict
}

/// Worst verdict and lowest margin of all parts that are no connector slots, with or without the load cell.
fn rest_of(ctx: &Context<'_>, f: &Facts<'_>, with_cell: bool) -> (Verdict, Option<f64>) {
    let pulls = Pulls::of(f);
    let mut worst = Verdict::Holds;
    let mut lowest: Option<f64> = None;
    for part in &f.parts {
        let cell = part.piece.is_some_and(|p| matches!(p.kind, PieceKind::LoadCell));
        if crate::evaluate::is_connector(part.kind) && !(cell && with_cell) {
            continue;
        }
        let detector = Fitting::of(part, f).is_in(&f.detectors);
        let (v, m) = margin_of(part, ctx.policy, &pulls, detector);
        worst = worst.worse(v);
        lowest = match (lowest, m) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
    }
    (worst, lowest)
}

fn same_shape(a: &PieceKind, b: &PieceKind) -> bool {
    match (a, b) {
        (PieceKind::Strap(x), PieceKind::Strap(y)) => {
            // Hitch labels would change the strength in a hitch: then they must be the same too.
            x == y
        }
        (a, b) => a == b,
    }
}

/// Whether a piece is of a kind that goes into a slot.
fn belongs(piece: &Piece, slot: Slot) -> bool {
    match (&piece.kind, slot) {
        (PieceKind::Block { .. } | PieceKind::Ring { .. }, Slot::Block(_)) => true,
        (PieceKind::Strap(s), Slot::Strap(..)) => matches!(s.made_for, StrapUse::TreeStrap | StrapUse::RoundSling),
        (PieceKind::Strap(s), Slot::Bridle(_)) => s.made_for == StrapUse::Bridle,
        (PieceKind::Strap(s), Slot::Extension(..) | Slot::TowLine | Slot::TieLine | Slot::HoldLine) => {
            s.made_for == StrapUse::Extension
        }
        (PieceKind::Rope(r), Slot::Extension(..) | Slot::TowLine | Slot::TieLine | Slot::HoldLine) => !r.kinetic,
        _ => false,
    }
}

fn slots_of(choice: &Rigging<'_>, extensions: &[Slot], line: usize, tie: usize) -> Vec<Slot> {
    let mut out = Vec::with_capacity(10);
    let grip = |g: &Grip<'_>, at: At, out: &mut Vec<Slot>| match g {
        Grip::Anchors(legs) => {
            for (j, leg) in legs.iter().enumerate() {
                if leg.hitch != Hitch::Straight {
                    out.push(Slot::Strap(at, j));
                }
            }
        }
        Grip::Bridle { .. } => out.push(Slot::Bridle(at)),
        Grip::Point { .. } | Grip::Winch { .. } => {}
    };
    match &choice.pull {
        Pull::Winch { .. } => {}
        // A line that is already chosen stays.
        Pull::Tow { line: chosen, .. } if !chosen.is_empty() => {}
        Pull::Tow { .. } => out.extend(core::iter::repeat_n(Slot::TowLine, line.max(1))),
        Pull::Hand { held_by, .. } => grip(held_by, At::Held, &mut out),
    }
    let last = choice.stops.len().saturating_sub(1);
    for (i, stop) in choice.stops.iter().enumerate() {
        if i < last {
            out.push(Slot::Block(i));
        }
        grip(&stop.grip, At::Stop(i), &mut out);
    }
    out.extend(extensions);
    if let Some(t) = &choice.tie_back {
        grip(&t.grip, At::Tie, &mut out);
        out.extend(core::iter::repeat_n(Slot::TieLine, tie));
    }
    if let Some(t) = &choice.holding {
        grip(&t.grip, At::Holding, &mut out);
        if choice.tie_back.is_none() {
            out.extend(core::iter::repeat_n(Slot::HoldLine, tie));
        }
    }
    out
}

/// Every way to place so many extensions. On the strap of a single anchor that holds a block one brings the block nearer and
/// saves two lengths of line; where anchors share, it may go on any of their legs; else it lengthens the line at its dead end.
fn extension_places(choice: &Rigging<'_>, count: usize) -> Vec<Vec<Slot>> {
    if matches!(choice.pull, Pull::Tow { .. }) || count == 0 {
        return vec![Vec::new()];
    }
    let last = choice.stops.len().saturating_sub(1);
    let legs = |i: usize| match choice.stops.get(i).map(|s| &s.grip) {
        Some(Grip::Anchors(legs)) => legs.len(),
        _ => 0,
    };
    let mut places = Vec::new();
    if let Some(i) = (0..=last).find(|&i| legs(i) > 1) {
        places.extend((0..legs(i)).map(|j| Slot::Extension(i, Some(j))));
    } else if let Some(i) = (0..last).find(|&i| legs(i) == 1) {
        places.push(Slot::Extension(i, Some(0)));
    }
    if places.is_empty() || legs(last) > 1 {
        places.push(Slot::Extension(last, None));
    }
    // Multisets of places: order among extensions on one place does not matter.
    let mut out: Vec<Vec<usize>> = vec![Vec::new()];
    for _ in 0..count {
        out = out
            .iter()
            .flat_map(|set| {
                let from = set.last().copied().unwrap_or(0);
                (from..places.len()).map(|p| {
                    let mut more = set.clone();
                    more.push(p);
                    more
                })
            })
            .collect();
    }
    out.iter().map(|set| set.iter().filter_map(|&p| places.get(p).copied()).collect()).collect()
}

fn grip_at<'r, 'a>(r: &'r mut Rigging<'a>, at: At) -> Option<&'r mut Grip<'a>> {
    match at {
        At::Stop(i) => r.stops.get_mut(i).map(|s| &mut s.grip),
        At::Held => match &mut r.pull {
            Pull::Hand { held_by, .. } => Some(held_by),
            _ => None,
        },
        At::Tie => r.tie_back.as_mut().map(|t| &mut t.grip),
        At::Holding => r.holding.as_mut().map(|t| &mut t.grip),
    }
}

fn set<'a>(r: &mut Rigging<'a>, slot: Slot, piece: Option<&'a Piece>) {
    fn list<'a>(v: &mut Vec<&'a Piece>, piece: Option<&'a Piece>) {
        match piece {
            Some(p) => v.push(p),
            None => {
                v.pop();
            }
        }
    }
    match slot {
        Slot::Block(i) => {
            if let Some(s) = r.stops.get_mut(i) {
                s.block = piece;
            }
        }
        Slot::Strap(at, j) => {
            if let Some(Grip::Anchors(legs)) = grip_at(r, at)
                && let Some(leg) = legs.get_mut(j)
            {
                leg.strap = piece;
            }
        }
        Slot::Bridle(at) => {
            if let Some(Grip::Bridle { strap, .. }) = grip_at(r, at) {
                *strap = piece;
            }
        }
        Slot::Extension(i, leg) => {
            if let Some(s) = r.stops.get_mut(i) {
                match (leg, &mut s.grip) {
                    (None, _) => list(&mut s.extensions, piece),
                    (Some(j), Grip::Anchors(legs)) => {
                        if let Some(leg) = legs.get_mut(j) {
                            list(&mut leg.extensions, piece);
                        }
                    }
                    (Some(_), _) => {}
                }
            }
        }
        Slot::TowLine => {
            if let Pull::Tow { line, .. } = &mut r.pull {
                list(line, piece);
            }
        }
        Slot::TieLine => {
            if let Some(t) = &mut r.tie_back {
                list(&mut t.line, piece);
            }
        }
        Slot::HoldLine => {
            if let Some(t) = &mut r.holding {
                list(&mut t.line, piece);
            }
        }
    }
}
fn put<'a>(r: &mut Rigging<'a>, slot: Slot, piece: &'a Piece) {
    set(r, slot, Some(piece));
}
fn take(r: &mut Rigging<'_>, slot: Slot) {
    set(r, slot, None);
}

/// The same choice with every basket as a choker.
fn with_chokers<'a>(choice: &Rigging<'a>) -> Option<Rigging<'a>> {
    let mut out = choice.clone();
    let mut changed = false;
    let mut choke = |g: &mut Grip<'a>| {
        if let Grip::Anchors(legs) = g {
            for leg in legs {
                if leg.hitch == Hitch::Basket {
                    leg.hitch = Hitch::Choker;
                    changed = true;
                }
            }
        }
    };
    if let Pull::Hand { held_by, .. } = &mut out.pull {
        choke(held_by);
    }
    for stop in &mut out.stops {
        choke(&mut stop.grip);
    }
    for t in out.tie_back.iter_mut().chain(&mut out.holding) {
        choke(&mut t.grip);
    }
    changed.then_some(out)
}
