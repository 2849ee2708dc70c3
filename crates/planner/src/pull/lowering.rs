//! Where the slope takes the vehicle: what a lowering line must hold, and what could hold it.

use super::path::Path;
use super::report::{Lowering, LoweringWay};
use crate::choices::{WIDEST_PULL, ruled_out};
use crate::context::Context;
use unmire_audit::policy::Policy;
use unmire_mechanics::ground::rolling;
use unmire_mechanics::lowering::{brake_trunk_load, lowering_tension, winch_brake_holds};
use unmire_mechanics::winch::{bark_friction, capstan_tail, capstan_turns, hand_on_tail, winch_at};
use unmire_model::anchor::AnchorKind;
use unmire_model::case::Case;
use unmire_model::ground::Depth;
use unmire_model::vehicle::Winch;
use unmire_model::{Angle, Force, Length, Mass, Range, Silent, Vec3};

/// Every stretch on which a lowering line is needed.
pub(crate) fn of(case: &Case, path: &Path, policy: &Policy) -> Vec<Lowering> {
    path.legs.iter().filter_map(|l| stretch(case, path, policy, l.from, l.to)).collect()
}

/// What must be held where the slope takes the vehicle on the way out, by the stretch that asks for most; none if it takes it nowhere.
pub(crate) fn most(case: &Case, policy: &Policy) -> Option<Range<Force>> {
    let path = Path::of(case, &[]).ok()?;
    of(case, &path, policy).into_iter().map(|l| l.tension).max_by(|a, b| a.high().as_n().total_cmp(&b.high().as_n()))
}

fn stretch(case: &Case, path: &Path, policy: &Policy, from: f64, to: f64) -> Option<Lowering> {
    let there = path.moved(case, from, true, None);
    let grade = &there.way_out.grade.value;
    let down = |a: Angle| (-a).max(Angle::ZERO);
    let down = Range::hull(down(grade.high()), down(grade.likely()), down(grade.low()));
    if down.high() <= Angle::ZERO {
        return None;
    }
    let weight = there.vehicle.moving_mass().increasing(Mass::weight);
    // In mire nobody knows how little holds it once it is free.
    let share = match there.stuck.depth.value {
        Depth::NotMired => rolling(&there.ground.surface.value).ok()?.share,
        _ => Range::hull(0.0, 0.0, 0.0),
    };
    let tension = lowering_tension(&weight, &down, &share, &mut Silent).ok()?;
    if tension.high() <= Force::ZERO {
        return None;
    }
    Some(Lowering {
        from: Length::from_m(from),
        to: Length::from_m(to),
        tension,
        ways: ways(&there, policy, tension.high()),
    })
}

fn ways(case: &Case, policy: &Policy, tension: Force) -> Vec<LoweringWay> {
    let ctx = Context::of(case, policy);
    let back = -Vec3::new(1.0, 0.0, 0.0).turned(case.way_out.bearing.value);
    let behind = |p: Vec3| p.level().angle_to(back).is_some_and(|a| a <= WIDEST_PULL);
    let mut out = Vec::new();
    let mut winch = |what: String, w: &Winch, line_out: f64| {
        let at = winch_at(w, Length::from_m(line_out), &mut Silent).ok();
        let holds = at.and_then(|a| winch_brake_holds(w.rated_pull.value, a.share.low()).ok());
        out.push(LoweringWay {
            what,
            holds,
            turns: None,
            tail: None,
            note:
                "On its brake; powered out it heats and wears the brake: short runs, line under tension all the time."
                    .to_owned(),
        });
    };
    if let Some(w) = &case.vehicle.winch
        && w.direction.level().angle_to(back).is_some_and(|a| a <= WIDEST_PULL)
        && let Some(a) = case.anchors.iter().find(|a| behind(a.position) && ruled_out(a).is_none())
    {
        winch(format!("winch {} of the stuck vehicle on {}", w.id, a.id), w, a.position.norm());
    }
    for h in &case.helpers {
        if let Some(w) = &h.vehicle.winch
            && behind(h.position)
        {
            winch(format!("winch {} of {}", w.id, h.vehicle.name), w, h.position.norm());
        }
    }
    for a in case.anchors.iter().filter(|a| behind(a.position) && ruled_out(a).is_none()) {
        if !matches!(a.kind, AnchorKind::Tree(_) | AnchorKind::Stump(_)) {
            continue;
        }
        let (hand, mu) = (hand_on_tail(), bark_friction());
        let turns = capstan_turns(tension, hand.low(), mu.low()).ok();
        let tail = turns.and_then(|n| capstan_tail(tension, f64::from(n), &mu, &mut Silent).ok()).map(|t| t.high());
        let load = tail.and_then(|t| brake_trunk_load(tension, t).ok());
        let holds = ctx.anchor(a, Angle::ZERO).and_then(|c| c.ultimate).map(|u| u.low());
        let load = load
            .map_or_else(String::new, |l| format!(" The trunk sees up to {:.1} kN.", (l.as_kn() * 10.0).ceil() / 10.0));
        out.push(LoweringWay {
            what: format!("a line round {} as a brake", a.id),
            holds,
            turns,
            tail,
            note: format!(
                "Turns for the least friction of bark and one person on the tail; on rough bark it may not run at all. A running line burns bark and itself: slow, and on cut wood rather than on a living tree.{load}"
            ),
        });
    }
    out
}
