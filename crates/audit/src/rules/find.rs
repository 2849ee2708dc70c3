//! Where rules look things up: labels of parts, legs of a layout, pieces beside the rig. Nothing here allocates.

use crate::assess::pulling_winch;
use crate::facts::{Facts, PartFact, PartKind};
use crate::strength::GearClass;
use unmire_model::anchor::{Anchor, Tree};
use unmire_model::gear::{Label, Piece, PieceKind};
use unmire_model::layout::{AnchorLeg, Hold, Layout, Puller};
use unmire_model::vehicle::RecoveryPoint;

/// The label of a part with its class, wherever it stands: on the piece, the winch's line, its mount, a vehicle's point.
pub fn label<'a>(facts: &Facts<'a>, index: usize, part: &PartFact<'a>) -> Option<(&'a Label, GearClass)> {
    if let Some(piece) = part.piece {
        return Some((&piece.label, GearClass::of_piece(piece)));
    }
    match part.kind {
        PartKind::Line => pulling_winch(facts).map(|w| (&w.line.label, GearClass::of_line(w.line.material))),
        PartKind::WinchMount => pulling_winch(facts).map(|w| (&w.mount, GearClass::Unpublished)),
        PartKind::RecoveryPoint => point(facts, index).map(|p| (&p.label, GearClass::Unpublished)),
        _ => None,
    }
}

/// The vehicle's point behind a part. Two vehicles may use one id; then the vehicle's name in the fact decides.
fn point<'a>(facts: &Facts<'a>, part: usize) -> Option<&'a RecoveryPoint> {
    let fact = facts.points.iter().find(|p| p.part == part)?;
    let case = facts.case;
    let vehicles = || core::iter::once(&case.vehicle).chain(case.helpers.iter().map(|h| &h.vehicle));
    let of = |named: bool| {
        vehicles()
            .filter(move |v| !named || fact.name.contains(v.name.as_str()))
            .find_map(|v| v.points.iter().find(|p| p.id == fact.id))
    };
    of(true).or_else(|| of(false))
}

/// Every hold of a layout.
pub fn holds(layout: &Layout) -> impl Iterator<Item = &Hold> {
    let body = match &layout.puller {
        Puller::HandWinch { held_by, .. } => Some(held_by.as_ref()),
        Puller::Winch { .. } | Puller::Tow { .. } => None,
    };
    let second = layout.tie_back.iter().chain(&layout.holding).map(|h| &h.hold);
    layout.stations.iter().map(|s| &s.hold).chain(second).chain(body)
}

/// Every leg to an anchor.
pub fn legs(layout: &Layout) -> impl Iterator<Item = &AnchorLeg> {
    holds(layout).flat_map(|h| match h {
        Hold::Anchors(legs) => legs.as_slice(),
        Hold::Point { .. } | Hold::Bridle { .. } | Hold::Winch { .. } => &[],
    })
}

/// Anchors that the rig uses, each once.
pub fn anchors<'a>(facts: &Facts<'a>) -> impl Iterator<Item = &'a Anchor> {
    let layout = facts.layout;
    facts.case.anchors.iter().filter(move |a| legs(layout).any(|l| l.anchor == a.id))
}

/// Trees among them.
pub fn trees<'a>(facts: &Facts<'a>) -> impl Iterator<Item = (&'a Anchor, &'a Tree)> {
    anchors(facts).filter_map(|a| match &a.kind {
        unmire_model::anchor::AnchorKind::Tree(t) => Some((a, t)),
        _ => None,
    })
}

/// Pieces of the kit that lie beside the rig and carry nothing.
pub fn beside<'a>(facts: &Facts<'a>) -> impl Iterator<Item = &'a Piece> {
    let case = facts.case;
    facts.layout.beside.iter().filter_map(move |id| case.piece(id))
}

/// Whether a connector is of metal.
pub fn is_metal(facts: &Facts, id: &str) -> bool {
    facts
        .case
        .piece(id)
        .is_some_and(|p| matches!(p.kind, PieceKind::Shackle { .. } | PieceKind::Hook { .. } | PieceKind::LoadCell))
}

/// Pieces that carry load, each once, in the order of the parts.
pub fn pieces<'a, 'f>(facts: &'f Facts<'a>) -> impl Iterator<Item = &'a Piece> + use<'a, 'f> {
    let parts = &facts.parts;
    parts.iter().enumerate().filter_map(move |(i, p)| {
        let piece = p.piece?;
        let seen = parts.get(..i)?.iter().any(|q| q.piece.is_some_and(|other| other.id == piece.id));
        (!seen).then_some(piece)
    })
}

/// Above a limit; what is no ordinary number counts as above every limit.
pub fn above<T: PartialOrd>(value: T, limit: T) -> bool {
    value.partial_cmp(&limit).is_none_or(core::cmp::Ordering::is_gt)
}
/// Below a limit; what is no ordinary number counts as below every limit.
pub fn below<T: PartialOrd>(value: T, limit: T) -> bool {
    value.partial_cmp(&limit).is_none_or(core::cmp::Ordering::is_lt)
}
