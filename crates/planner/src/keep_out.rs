//! The ground to keep clear, over everything that can fail: a whole disc round every loaded hard point and the inside of every
//! redirect, in one outline. Never a cone, and a damper never shrinks it.
//!
//! Whatever fails throws from a loaded hard point, so the discs round all of them are the union over all failures. The inside of
//! a redirect lies in the discs round its three points: each is at least as wide as the line is long.

use crate::context::Context;
use crate::evaluate::Solved;
use crate::recoil::members::{Member, members};
use crate::report::KeepOut;
use crate::rigging::{Grip, Leg, Pull, Rigging, Tie};
use unmire_audit::verdict::{Effect, Finding};
use unmire_mechanics::recoil::{Disc, Lengths, StandClear, keep_out_radius, outline_of, published_distances};
use unmire_mechanics::rig::Equilibrium;
use unmire_model::anchor::AnchorKind;
use unmire_model::{Length, Recorder, Vec3};

/// Stretch that is reckoned with where nothing tells how a line stretches: our own judgement.
const STRETCH_UNKNOWN: f64 = 0.10;

/// A tie-back or a holding line as the ground sees it: its two ends and its stretch.
pub(crate) struct Second {
    pub ends: [Vec3; 2],
    pub members: Vec<Member>,
}

/// What the ground was reckoned from.
pub(crate) struct Ground {
    pub keep_out: KeepOut,
    /// Every loaded hard point with its radius.
    pub discs: Vec<Disc>,
    /// What was assumed.
    pub findings: Vec<Finding>,
    /// Every published rule, also those that are meant for straps between vehicles, as if they counted for this line.
    pub rules: Vec<StandClear>,
}

/// The keep-out ground of a solved rig.
pub(crate) fn of(
    ctx: &Context<'_>,
    solved: &Solved,
    rigging: &Rigging<'_>,
    seconds: &[Second],
    rec: &mut impl Recorder,
) -> Ground {
    let eq = solved.loads.stall.as_ref().unwrap_or(&solved.loads.poor);
    let mut findings = Vec::new();
    let tensioned: Length = eq.legs.iter().map(|l| l.length).sum();
    let all = members(ctx, rigging, solved);
    let line: Vec<&Member> = all.line.iter().chain(&all.extensions).filter_map(|i| all.all.get(*i)).collect();
    let longest = tensioned + stretch(&line, &mut findings);
    let whole = match &rigging.pull {
        Pull::Winch { winch, .. } => winch.line.length.max(tensioned),
        _ => tensioned,
    };
    // One radius for all of it. Whichever is greater: so many times the longest tensioned line with its stretch, or the whole
    // line; a tie-back or a holding line may be the longest of all.
    let mut radius = keep_out_radius(longest, whole, rec).unwrap_or(whole * 2.0);
    for second in seconds {
        let [a, b] = second.ends;
        let distance = Length::from_m((b - a).norm());
        let line: Vec<&Member> = second.members.iter().collect();
        let own = distance + stretch(&line, &mut findings);
        radius = radius.max(keep_out_radius(own, distance, rec).unwrap_or(distance * 2.0));
    }
    let mut points: Vec<Vec3> = Vec::new();
    for (i, node) in solved.built.structure.nodes.iter().enumerate() {
        let loaded = eq.forces.get(i).is_some_and(|f| f.norm() > 1.0) || !node.fixed;
        if let (true, Some(at)) = (loaded, eq.positions.get(i)) {
            points.push(*at);
        }
    }
    points.extend(seconds.iter().flat_map(|s| s.ends));
    // What stands behind an anchor or a helper is loaded too.
    points.extend(behind(ctx, rigging));
    let discs: Vec<Disc> = points.into_iter().map(|at| Disc { at, radius }).collect();
    let outline = outline_of(&discs);
    // The rules that count in strap lengths are about straps between vehicles: here, a tow.
    let strap = match &rigging.pull {
        Pull::Tow { line, .. } => Some(line.iter().filter_map(|p| crate::build::length_of(p)).sum::<Length>()),
        _ => None,
    };
    let lengths = Lengths {
        longest_line: longest,
        paid_out: tensioned,
        strap,
        farthest: farthest(&discs),
        tree: tallest(rigging),
    };
    let others = published_distances(&lengths)
        .into_iter()
        .map(|r| (r.what.to_owned(), r.distance, r.source.to_owned()))
        .collect();
    let keep_out = KeepOut {
        rule: "a whole disc round every loaded hard point, its radius 1.5 times the longest tensioned line with its stretch or the whole line, whichever is longer; and the inside of every redirect; over everything that can fail, in one outline".to_owned(),
        rings: outline.rings,
        radius,
        others,
        exceptions: exceptions(&rigging.pull),
    };
    let as_if = Lengths { strap: strap.or(Some(tensioned)), ..lengths };
    Ground { keep_out, discs, findings, rules: published_distances(&as_if) }
}

/// Who may be inside, and on which conditions.
fn exceptions(pull: &Pull<'_>) -> Vec<String> {
    let puller = match pull {
        Pull::Winch { .. } => {
            "The winch's operator: at the end of a remote lead outside the ground to keep clear; or inside a cab behind a raised bonnet or a covered screen, out of the line of every leg, and only where the vehicle's maker allows it."
        }
        Pull::Hand { .. } => {
            "Whoever works the lever can't do it from outside: alone, to the side of the winch, never in line with its line or over it, and away from it while nothing is to be moved."
        }
        Pull::Tow { .. } => {
            "The driver who tows: in the cab, belted in, alone, the screen toward the line covered if it can be."
        }
    };
    vec![
        puller.to_owned(),
        "A driver in the stuck vehicle: only where the plan needs one, belted in, nobody else aboard.".to_owned(),
    ]
}

/// By how much a line is longer at its greatest load: the softest line stretches most.
fn stretch(line: &[&Member], findings: &mut Vec<Finding>) -> Length {
    let mut sum = Length::ZERO;
    for m in line {
        let pull = m.pull.most();
        let share = m.stuff.as_ref().ok().map(|s| pull / s.ea.low()).filter(|s| s.is_finite() && *s >= 0.0);
        if share.is_none() && !findings.iter().any(|f| f.subject == m.name) {
            let why = m.stuff.as_ref().err().cloned().unwrap_or_else(|| "its pull is not known".to_owned());
            findings.push(Finding {
                code: "stretch-assumed",
                effect: Effect::Note,
                subject: m.name.clone(),
                text: format!(
                    "How far {} stretches is not known ({why}): the ground to keep clear is reckoned with a tenth of its length.",
                    m.name
                ),
                remedy: "Give its label and, if it is printed, its stretch.".to_owned(),
            });
        }
        sum += m.length * share.unwrap_or(STRETCH_UNKNOWN);
    }
    sum
}

/// How far apart the two most distant hard points are, seen from above.
fn farthest(discs: &[Disc]) -> Option<Length> {
    let apart = |a: &Disc, b: &Disc| (a.at - b.at).level().norm();
    let pairs = discs.iter().enumerate().flat_map(|(i, a)| discs.iter().skip(i + 1).map(move |b| apart(a, b)));
    pairs.reduce(f64::max).map(Length::from_m)
}

/// Every anchor's leg of a rig.
pub(crate) fn anchor_legs<'r, 'a>(rigging: &'r Rigging<'a>) -> Vec<&'r Leg<'a>> {
    let of = |g: &'r Grip<'a>| match g {
        Grip::Anchors(legs) => legs.iter().collect::<Vec<_>>(),
        _ => Vec::new(),
    };
    let hand = match &rigging.pull {
        Pull::Hand { held_by, .. } => of(held_by),
        _ => Vec::new(),
    };
    let ties = rigging.tie_back.iter().chain(&rigging.holding).flat_map(|t: &'r Tie<'a>| of(&t.grip));
    rigging.stops.iter().flat_map(|s| of(&s.grip)).chain(hand).chain(ties).collect()
}

/// Height of the tallest tree that the rig pulls on, at its high end.
fn tallest(rigging: &Rigging<'_>) -> Option<Length> {
    let height = |l: &Leg<'_>| match &l.anchor.kind {
        AnchorKind::Tree(t) => t.height.as_ref().map(|h| h.value.high()),
        _ => None,
    };
    anchor_legs(rigging).into_iter().filter_map(height).reduce(Length::max)
}

/// Anchors and helpers behind those that the rig pulls on.
fn behind(ctx: &Context<'_>, rigging: &Rigging<'_>) -> Vec<Vec3> {
    let mut out = Vec::new();
    for leg in anchor_legs(rigging) {
        if let Some(back) = leg.anchor.tied_back.as_ref().and_then(|t| ctx.case.anchor(&t.to)) {
            out.push(back.attachment());
        }
    }
    let pulled = ctx.case.helpers.iter().filter(|h| {
        let winch =
            matches!(&rigging.pull, Pull::Winch { on: crate::rigging::Veh::Helper(p), .. } if core::ptr::eq(*p, *h));
        let grip = |g: &Grip<'_>| match g {
            Grip::Point { on, .. } | Grip::Bridle { on, .. } | Grip::Winch { on, .. } => {
                on.vehicle().name == h.vehicle.name
            }
            Grip::Anchors(_) => false,
        };
        let ties = rigging.tie_back.iter().chain(&rigging.holding).any(|t| grip(&t.grip));
        winch || ties || rigging.stops.iter().any(|s| grip(&s.grip))
    });
    for helper in pulled {
        if let Some(name) = &helper.backed_by
            && let Some(second) = ctx.case.helpers.iter().find(|h| h.vehicle.name == name.to)
        {
            out.push(second.position);
        }
    }
    out
}

/// The inside of every turn of the line: before, at and after the block.
pub(crate) fn insides(eq: &Equilibrium, solved: &Solved) -> Vec<(String, [Vec3; 3])> {
    let Some(line) = solved.built.structure.lines.first() else { return Vec::new() };
    let at = |i: usize| eq.positions.get(i).copied();
    let name = |i: usize| crate::recoil::point_name(solved, i);
    line.path
        .windows(3)
        .filter_map(|w| match w {
            [a, b, c] => Some((name(*b), [at(*a)?, at(*b)?, at(*c)?])),
            _ => None,
        })
        .collect()
}
