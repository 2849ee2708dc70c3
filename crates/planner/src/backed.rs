//! What stands behind an anchor or a parked vehicle: whether it is counted, and what it and the tie between them then carry.
//!
//! Front and back are judged as two in a row ([`series`]). That is taken where it is better than the front one alone; a front
//! that holds what is asked needs nobody behind it. What is not known of the tie or of the one behind counts for nothing.

use crate::context::Context;
use crate::parked::at_the_highest_point;
use crate::parts::{Demand, anchor_kind, capacity, share_of};
use unmire_audit::assess::{Fitting, Pulls, margin_of};
use unmire_audit::facts::{BackedFact, Capacity, Counted, Facts, PartFact, PartKind};
use unmire_audit::verdict::Verdict;
use unmire_mechanics::anchor::series::{Gives, InSeries, Tie, WIDEST_TIE, carried, series};
use unmire_mechanics::anchor::{AnchorCapacity, AnchorMode, movement_at_ultimate, movement_parked, parked};
use unmire_mechanics::hitch::choker_share;
use unmire_model::anchor::{Anchor, TieBack};
use unmire_model::gear::{Piece, PieceKind, StrapUse};
use unmire_model::vehicle::Helper;
use unmire_model::{Angle, Force, Length, Range, Recorder, Silent, Vec3};

/// Slack of a tie between two anchors that a crew has made tight by hand: our own judgement.
const SLACK: [Length; 3] = [Length::ZERO, Length::from_cm(1.0), Length::from_cm(3.0)];
/// Slack of a tie between two vehicles, taken up by moving one: our own judgement.
const SLACK_OF_VEHICLES: [Length; 3] = [Length::ZERO, Length::from_cm(5.0), Length::from_cm(20.0)];
/// Stiffness of a tie whose label does not help: our own judgement, as for straps that share.
const UNKNOWN_EA: [Force; 3] = [Force::from_kn(200.0), Force::from_kn(400.0), Force::from_kn(800.0)];

/// A front anchor or vehicle with what stands behind it, before it is judged.
pub struct Pending<'a> {
    part: usize,
    demand: Demand,
    tie: &'a TieBack,
    piece: Option<&'a Piece>,
    back: Back<'a>,
    link: Result<Link, &'static str>,
}
enum Back<'a> {
    Anchor(Option<&'a Anchor>),
    Helper,
}
struct Link {
    front: InSeries,
    tie: Tie,
    back: InSeries,
    stated: bool,
}

fn range<Q: unmire_model::range::Scalar>([low, likely, high]: [Q; 3]) -> Range<Q> {
    Range::hull(low, likely, high)
}

/// What ties the two together.
fn tie_of(ctx: &Context<'_>, piece: Option<&Piece>, length: Length, off: Option<Angle>) -> Result<Tie, &'static str> {
    let piece = piece.ok_or("the piece between them is not in the kit")?;
    if !crate::choices::usable(piece) {
        return Err("the piece between them is out of use");
    }
    match &piece.kind {
        PieceKind::Strap(s) if s.made_for == StrapUse::Kinetic => return Err("a kinetic strap is no tie"),
        PieceKind::Rope(r) if r.kinetic => return Err("a kinetic rope is no tie"),
        PieceKind::Strap(_) | PieceKind::Rope(_) => {}
        _ => return Err("only a strap or a rope ties them together"),
    }
    if crate::build::length_of(piece).is_none_or(|l| l < length) {
        return Err("the piece between them is too short for the distance");
    }
    let off = off.ok_or("the two stand on the same spot")?;
    if off > WIDEST_TIE {
        return Err("the tie stands more than 30° off the line of pull");
    }
    let strength = ctx.strength(piece);
    // Its ends lie round something: as weak as in a choker.
    let holds =
        strength.breaking.or(strength.working).ok_or("what the piece between them is rated for is not known")?;
    let ea = ctx.stiffness_range(piece).unwrap_or(range(UNKNOWN_EA));
    Ok(Tie { length, ea, slack: range(SLACK), holds: holds * choker_share(), off })
}

fn in_series(moves: Option<Range<Length>>, c: &AnchorCapacity, gives: Gives) -> Option<InSeries> {
    let ultimate = c.ultimate.filter(|u| u.low() > Force::ZERO)?;
    Some(InSeries { moves: moves?, ultimate, gives })
}

/// What stands behind an anchor that is pulled along this direction, if something does.
pub(crate) fn anchor<'a>(
    ctx: &Context<'a>,
    front: &'a Anchor,
    part: usize,
    pull: Vec3,
    known: Option<&AnchorCapacity>,
    demand: Demand,
) -> Option<Pending<'a>> {
    let tie = front.tied_back.as_ref()?;
    let case = ctx.case;
    let back = case.anchor(&tie.to);
    let piece = case.piece(&tie.with);
    let link = || {
        let back = back.ok_or("it is not in the case")?;
        if crate::choices::ruled_out(back).is_some() {
            return Err("a sign rules it out");
        }
        let way = back.attachment() - front.attachment();
        let length = Length::from_m(way.norm());
        let tie = tie_of(ctx, piece, length, way.angle_to(-pull))?;
        let held = ctx.anchor(back, Angle::ZERO).ok_or("what it holds is not known")?;
        let one = |a: &Anchor, c: &AnchorCapacity| in_series(movement_at_ultimate(a).ok(), c, Gives::Softens);
        Ok(Link {
            front: known.and_then(|k| one(front, k)).ok_or("what the front one holds is not known, or nothing")?,
            back: one(back, &held).ok_or("what it holds is not known, or nothing")?,
            stated: held.stated,
            tie,
        })
    };
    Some(Pending { part, demand, tie, piece, back: Back::Anchor(back), link: link() })
}

/// What stands behind a parked vehicle that is pulled along this direction, if something does.
pub(crate) fn helper<'a>(
    ctx: &Context<'a>,
    front: &'a Helper,
    part: usize,
    pull: Vec3,
    known: Option<&AnchorCapacity>,
    demand: Demand,
) -> Option<Pending<'a>> {
    let tie = front.backed_by.as_ref()?;
    let case = ctx.case;
    let back = case.helpers.iter().find(|h| h.vehicle.name == tie.to);
    let piece = case.piece(&tie.with);
    let link = || {
        let back = back.ok_or("it is not in the case")?;
        let way = back.position - front.position;
        // It runs from point to point: as long as the piece that joins them.
        let length = piece.and_then(crate::build::length_of).ok_or("the piece between them has no length")?;
        let tie = Tie { slack: range(SLACK_OF_VEHICLES), ..tie_of(ctx, piece, length, way.angle_to(-pull))? };
        let on_it = [at_the_highest_point(back, -way)];
        let held = parked::parked(back, &on_it, &mut Silent).map_err(|_| "what it holds can't be reckoned")?;
        let one = |c: &AnchorCapacity| {
            let gives = if c.mode == AnchorMode::TyresSlide { Gives::Slides } else { Gives::Softens };
            in_series(movement_parked().ok(), c, gives)
        };
        Ok(Link {
            front: known.and_then(one).ok_or("what the front one holds is not known, or nothing")?,
            back: one(&held).ok_or("what it holds is not known, or nothing")?,
            stated: false,
            tie,
        })
    };
    Some(Pending { part, demand, tie, piece, back: Back::Helper, link: link() })
}

/// Judges every front with and without what stands behind it, and takes the better.
pub(crate) fn resolve<'a>(ctx: &Context<'a>, f: &mut Facts<'a>, pending: Vec<Pending<'a>>) {
    for one in pending {
        let Some(front) = f.parts.get(one.part).cloned() else { continue };
        let mut fact = BackedFact {
            part: one.part,
            back: one.tie.to.clone(),
            with: one.tie.with.clone(),
            alone: front.capacity.holding,
            together: None,
            first: "",
            counted: Counted::Spare,
        };
        match one.link.as_ref().map_err(|why| *why).and_then(|link| together(ctx, f, &front, &one, link, &mut fact)) {
            Ok(Some(parts)) => {
                fact.counted = Counted::Together;
                let [new, rest @ ..] = parts;
                if let Some(old) = f.parts.get_mut(one.part) {
                    *old = new;
                }
                f.parts.extend(rest);
            }
            Ok(None) => {}
            Err(why) => fact.counted = Counted::Not(why),
        }
        f.backed.push(fact);
    }
}

/// The working of every pair.
pub(crate) fn explain(pending: &[Pending<'_>], rec: &mut impl Recorder) {
    for one in pending {
        if let Ok(link) = &one.link {
            let _ = series(&link.front, &link.tie, &link.back, rec);
        }
    }
}

/// The front, the tie and the one behind as they carry the pull together; none where the front one is enough.
fn together<'a>(
    ctx: &Context<'a>,
    f: &Facts<'a>,
    front: &PartFact<'a>,
    one: &Pending<'a>,
    link: &Link,
    fact: &mut BackedFact,
) -> Result<Option<[PartFact<'a>; 3]>, &'static str> {
    let not = "it can't be reckoned for this pull";
    let pair = series(&link.front, &link.tie, &link.back, &mut Silent).map_err(|_| not)?;
    fact.together = Some((pair.ultimate, pair.starts));
    fact.first = pair.first.words();
    let pulls = Pulls::of(f);
    let judge = |p: &PartFact<'_>| margin_of(p, ctx.policy, &pulls, Fitting::of(p, f).is_in(&f.detectors));
    let alone = judge(front);
    if alone.0 == Verdict::Holds {
        return Ok(None);
    }
    let gets = |pull: Force| carried(&link.front, &link.tie, &link.back, pull).map(|c| c.back.high());
    let work = gets(one.demand.work).map_err(|_| not)?;
    let stall = one.demand.stall.map(gets).transpose().map_err(|_| not)?;
    let behind = Demand { work, stall };
    let new = |name: &str, role: String, kind: PartKind, piece: Option<&'a Piece>, capacity: Capacity| PartFact {
        name: name.to_owned(),
        role,
        kind,
        piece,
        demand_work: Some(behind.work),
        demand_stall: behind.stall,
        share: share_of(behind, one.demand),
        station_stall: one.demand.stall,
        capacity,
    };
    let holding = |u: Range<Force>, stated: bool| Capacity {
        breaking: None,
        working: None,
        holding: Some(u),
        stated,
        reduction: 1.0,
        unknown_because: None,
    };
    let piece = one.piece.ok_or(not)?;
    let tied = capacity(ctx.strength(piece), choker_share());
    let kind = match one.back {
        Back::Anchor(a) => a.map_or(PartKind::NaturalAnchor, |a| anchor_kind(&a.kind).0),
        Back::Helper => PartKind::ParkedVehicle,
    };
    let parts = [
        PartFact {
            role: format!("{}, tied back to {}", front.role, one.tie.to),
            capacity: holding(pair.ultimate, false),
            ..front.clone()
        },
        new(&piece.id, format!("ties {} back to {}", front.name, one.tie.to), PartKind::Extension, Some(piece), tied),
        new(&one.tie.to, format!("stands behind {}", front.name), kind, None, holding(link.back.ultimate, link.stated)),
    ];
    let (mut verdict, mut margin) = (Verdict::Holds, f64::INFINITY);
    for p in &parts {
        let (v, m) = judge(p);
        verdict = verdict.worse(v);
        margin = margin.min(m.unwrap_or(f64::INFINITY));
    }
    let better = verdict < alone.0 || (verdict == alone.0 && margin > alone.1.unwrap_or(f64::NEG_INFINITY));
    if better { Ok(Some(parts)) } else { Err("it makes nothing better where both hold least") }
}
