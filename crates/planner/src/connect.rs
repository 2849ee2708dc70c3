//! Which shackle goes where: a bottleneck assignment, solved exactly.
//!
//! First the best verdict that all connectors together can reach, then the greatest lowest margin, then the smallest
//! ids in rigging order, so that the answer is one and the same every time.

use crate::context::Context;
use crate::evaluate::is_connector;
use crate::rigging::{Grip, Pull, Rigging, Tie};
use unmire_audit::assess::{Fitting, Pulls, margin_of};
use unmire_audit::facts::{Capacity, Facts};
use unmire_audit::verdict::Verdict;
use unmire_model::gear::{Piece, PieceKind};

/// Every connector slot of a rigging, in the order in which parts are collected.
pub fn slots<'r, 'a>(rigging: &'r mut Rigging<'a>) -> Vec<&'r mut &'a Piece> {
    fn grip<'r, 'a>(g: &'r mut Grip<'a>, out: &mut Vec<&'r mut &'a Piece>) {
        match g {
            Grip::Anchors(legs) => out.extend(legs.iter_mut().flat_map(|l| l.connectors.iter_mut())),
            Grip::Point { connectors, .. } | Grip::Bridle { connectors, .. } => out.extend(connectors.iter_mut()),
            Grip::Winch { .. } => {}
        }
    }
    fn tie<'r, 'a>(t: &'r mut Tie<'a>, out: &mut Vec<&'r mut &'a Piece>) {
        out.extend(t.connectors.iter_mut());
        grip(&mut t.grip, out);
    }
    let mut out = Vec::with_capacity(8);
    match &mut rigging.pull {
        Pull::Winch { .. } => {}
        Pull::Tow { connectors, .. } => out.extend(connectors.iter_mut()),
        Pull::Hand { held_by, .. } => grip(held_by, &mut out),
    }
    for stop in &mut rigging.stops {
        out.extend(stop.connectors.iter_mut());
        grip(&mut stop.grip, &mut out);
    }
    if let Some(t) = &mut rigging.tie_back {
        tie(t, &mut out);
    }
    if let Some(t) = &mut rigging.holding {
        tie(t, &mut out);
    }
    out
}

/// Gives every slot of a rigging as many connectors as it needs, all of them a stand-in.
pub fn open_slots<'a>(rigging: &mut Rigging<'a>, stand_in: &'a Piece) {
    fn grip<'a>(g: &mut Grip<'a>, stand_in: &'a Piece) {
        match g {
            Grip::Anchors(legs) => {
                for leg in legs {
                    leg.connectors = vec![stand_in; 1 + leg.extensions.len()];
                }
            }
            Grip::Point { connectors, .. } => *connectors = vec![stand_in],
            Grip::Bridle { connectors, .. } => *connectors = vec![stand_in; 3],
            Grip::Winch { .. } => {}
        }
    }
    fn tie<'a>(t: &mut Tie<'a>, stand_in: &'a Piece) {
        t.connectors = vec![stand_in; t.line.len().max(1)];
        grip(&mut t.grip, stand_in);
    }
    match &mut rigging.pull {
        Pull::Winch { .. } => {}
        Pull::Tow { connectors, line, .. } => *connectors = vec![stand_in; line.len().max(1)],
        Pull::Hand { held_by, .. } => grip(held_by, stand_in),
    }
    for stop in &mut rigging.stops {
        let meets = usize::from(matches!(&stop.grip, Grip::Anchors(legs) if legs.len() > 1));
        stop.connectors = vec![stand_in; stop.extensions.len() + meets];
        grip(&mut stop.grip, stand_in);
    }
    for t in rigging.tie_back.iter_mut().chain(&mut rigging.holding) {
        tie(t, stand_in);
    }
}

/// Whether a piece can be a connector.
#[must_use]
pub fn connects(piece: &Piece) -> bool {
    matches!(piece.kind, PieceKind::Shackle { .. } | PieceKind::SoftShackle)
}

/// Whether a piece can be the connector of a part on which legs spread: a bow takes them, a dee does not.
fn fits(piece: &Piece, spreads: bool) -> bool {
    connects(piece) && (!spreads || !matches!(piece.kind, PieceKind::Shackle { bow: false, .. }))
}

/// Chooses the connectors for facts that were made with stand-ins, and puts them into the facts. Gives the chosen pieces
/// in slot order; none if the kit has too few that fit.
///
/// `taken` are pieces that the rig uses elsewhere; `rest` is the verdict and lowest margin of all other parts.
pub fn choose<'f, 'a: 'f>(
    ctx: &Context<'a>,
    facts: &mut Facts<'f>,
    taken: &[&Piece],
    rest: (Verdict, Option<f64>),
) -> Option<Vec<&'a Piece>> {
    let pulls = Pulls::of(facts);
    let parts: Vec<usize> = (0..facts.parts.len())
        .filter(|&i| {
            facts.parts.get(i).is_some_and(|p| {
                is_connector(p.kind) && !p.piece.is_some_and(|q| matches!(q.kind, PieceKind::LoadCell))
            })
        })
        .collect();
    let pieces: Vec<&'a Piece> = ctx
        .case
        .kit
        .iter()
        .filter(|p| connects(p) && crate::choices::usable(p) && !taken.iter().any(|t| core::ptr::eq(*t, *p)))
        .collect();
    if parts.len() > pieces.len() {
        return None;
    }
    // The table of words and margins: slot by piece.
    let mut table: Vec<Vec<Option<(Verdict, f64)>>> = Vec::with_capacity(parts.len());
    for &part in &parts {
        let spreads = facts.connectors.iter().any(|c| c.part == part && c.spread.is_some());
        let fact = facts.parts.get(part)?;
        let detector = Fitting::of(fact, facts).is_in(&facts.detectors);
        let mut probe = fact.clone();
        let row = pieces
            .iter()
            .map(|piece| {
                if !fits(piece, spreads) {
                    return None;
                }
                probe.capacity = capacity_of(ctx, piece);
                let (verdict, margin) = margin_of(&probe, ctx.policy, &pulls, detector);
                Some((verdict, margin.unwrap_or(f64::INFINITY)))
            })
            .collect();
        table.push(row);
    }
    let allowed = |v: Verdict, m: f64| {
        table
            .iter()
            .map(|row| row.iter().map(|c| c.is_some_and(|(cv, cm)| cv <= v && cm >= m)).collect::<Vec<bool>>())
            .collect::<Vec<_>>()
    };
    let all = [Verdict::Holds, Verdict::HoldsBelowStopLoad, Verdict::Unknown, Verdict::Overloaded];
    let verdict = all.into_iter().find(|&v| matching(&allowed(v, f64::NEG_INFINITY)).is_some())?;
    let verdict = verdict.worse(rest.0);
    // The greatest lowest margin that still lets every slot have a piece.
    let mut margins: Vec<f64> =
        table.iter().flatten().flatten().filter(|(v, _)| *v <= verdict).map(|(_, m)| *m).collect();
    unmire_model::order::sort_by(&mut margins, f64::total_cmp);
    margins.dedup();
    let (mut low, mut high) = (0, margins.len());
    while high - low > 1 {
        let middle = low.midpoint(high);
        let bound = margins.get(middle).copied().unwrap_or(f64::NEG_INFINITY);
        if matching(&allowed(verdict, bound)).is_some() { low = middle } else { high = middle }
    }
    let bound = margins.get(low).copied().unwrap_or(f64::NEG_INFINITY);
    let bound = rest.1.map_or(bound, |m| bound.min(m));
    // The smallest ids in slot order.
    let mut open = allowed(verdict, bound);
    let mut chosen = Vec::with_capacity(parts.len());
    for slot in 0..parts.len() {
        let mut found = None;
        for piece in 0..pieces.len() {
            if !open.get(slot).and_then(|r| r.get(piece)).copied().unwrap_or(false) {
                continue;
            }
            let mut tried = open.clone();
            for (i, row) in tried.iter_mut().enumerate() {
                for (j, cell) in row.iter_mut().enumerate() {
                    *cell = *cell && ((i == slot) == (j == piece));
                }
            }
            if matching(&tried).is_some() {
                open = tried;
                found = Some(piece);
                break;
            }
        }
        chosen.push(*pieces.get(found?)?);
    }
    for (&part, piece) in parts.iter().zip(&chosen) {
        put(ctx, facts, part, piece);
    }
    Some(chosen)
}

fn capacity_of(ctx: &Context<'_>, piece: &Piece) -> Capacity {
    let s = ctx.strength(piece);
    Capacity {
        breaking: s.breaking,
        working: s.working,
        holding: None,
        stated: false,
        reduction: 1.0,
        unknown_because: s.unknown_because,
    }
}

fn put<'f, 'a: 'f>(ctx: &Context<'a>, facts: &mut Facts<'f>, part: usize, piece: &'a Piece) {
    if let Some(fact) = facts.parts.get_mut(part) {
        fact.name.clone_from(&piece.id);
        fact.piece = Some(piece);
        fact.capacity = capacity_of(ctx, piece);
    }
    if let Some(connector) = facts.connectors.iter_mut().find(|c| c.part == part) {
        connector.piece = piece;
    }
}

/// A piece for every slot, or none if there is no way: augmenting paths.
fn matching(allowed: &[Vec<bool>]) -> Option<Vec<usize>> {
    fn augment(slot: usize, allowed: &[Vec<bool>], holder: &mut [Option<usize>], seen: &mut [bool]) -> bool {
        let Some(row) = allowed.get(slot) else { return false };
        for (piece, &ok) in row.iter().enumerate() {
            if !ok || seen.get(piece).copied().unwrap_or(true) {
                continue;
            }
            if let Some(s) = seen.get_mut(piece) {
                *s = true;
            }
            let free = match holder.get(piece).copied().flatten() {
                None => true,
                Some(other) => augment(other, allowed, holder, seen),
            };
            if free {
                if let Some(h) = holder.get_mut(piece) {
                    *h = Some(slot);
                }
                return true;
            }
        }
        false
    }
    let pieces = allowed.first().map_or(0, Vec::len);
    let mut holder = vec![None; pieces];
    for slot in 0..allowed.len() {
        let mut seen = vec![false; pieces];
        if !augment(slot, allowed, &mut holder, &mut seen) {
            return None;
        }
    }
    let mut out = vec![usize::MAX; allowed.len()];
    for (piece, slot) in holder.iter().enumerate() {
        if let Some(cell) = slot.and_then(|s| out.get_mut(s)) {
            *cell = piece;
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::matching;

    #[test]
    fn closed_form_a_matching_is_found_only_where_there_is_one() {
        let both_want_the_same = vec![vec![true, false], vec![true, false]];
        assert_eq!(matching(&both_want_the_same), None);
        let must_swap = vec![vec![true, true], vec![true, false]];
        assert_eq!(matching(&must_swap), Some(vec![1, 0]));
    }
}
