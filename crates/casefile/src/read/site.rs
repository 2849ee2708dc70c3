//! The place: the survey, obstacles, helpers; and where each thing stands.

use super::vehicle::vehicle;
use crate::place::wrapped;
use crate::walk::{Mistake, Node, Walk};
use unmire_model::case::{Bars, North, Obstacle};
use unmire_model::trail::Input;
use unmire_model::vehicle::{Helper, Vehicle};
use unmire_model::{Angle, Length, Vec3};

/// Two statements of one place or direction may differ by this much beside the stated uncertainty.
const AGREE_M: f64 = 0.5;
/// Two statements of one direction may differ by this much: what a hand-held compass gives.
const AGREE_TURN: Angle = Angle::from_deg(5.0);

/// What was said once for all.
#[derive(Default)]
pub(super) struct Survey {
    /// Compass bearing of the heading, and which north.
    pub(super) heading: Option<(Angle, North)>,
    /// Whether a heading was tried at all, so that its absence is not told twice.
    tried: bool,
    pace: Option<Length>,
    /// How far off a position may be.
    pub(super) uncertainty: Option<Length>,
}

/// Reads it.
pub(super) fn survey(w: &mut Walk<'_>, case: &Node<'_, '_>) -> Survey {
    if !case.has("survey") {
        return Survey::default();
    }
    let Some(n) = case.table(w, "survey") else { return Survey { tried: true, ..Survey::default() } };
    let tried = n.has("heading") || n.has("north");
    let heading = n.bearing(w, "heading");
    let north = n.word(w, "north").and_then(|i| [North::True, North::Magnetic, North::Grid].get(i).copied());
    if n.has("heading") && !n.has("north") {
        n.miss(w, "north", "true and magnetic north may be 20 deg apart");
    }
    if n.has("north") && !n.has("heading") {
        n.miss(w, "heading", "a north without the vehicle's heading ties no bearing to it");
    }
    let pace = n.one(w, "pace");
    let uncertainty = n.one(w, "uncertainty");
    Survey { heading: heading.map(|h| h.value).zip(north), tried, pace, uncertainty }
}

/// A direction from the stuck vehicle's heading, said as such, by compass, or both if they agree.
pub(super) fn direction(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    survey: &Survey,
    relative: &'static str,
    compass: &'static str,
) -> Option<Input<Angle>> {
    let told = w.found.len();
    let r = if n.has(relative) { n.heading(w, relative) } else { None };
    let c = if n.has(compass) { n.bearing(w, compass) } else { None };
    let c = match (c, survey.heading) {
        (Some(b), Some((h, _))) => Some(Input::new(wrapped(h - b.value), b.origin)),
        (Some(_), None) => {
            if !survey.tried {
                w.tell(
                    Mistake::new(
                        "missing-key",
                        n.span_of(compass),
                        format!(
                            "`{compass}` is a compass bearing, and the file does not say how the stuck vehicle stands"
                        ),
                    )
                    .expected("`heading` and `north` in [survey]")
                    .example("[survey] heading = \"310 deg\", north = \"magnetic\""),
                );
            }
            None
        }
        (None, _) => None,
    };
    match (r, c) {
        (Some(r), Some(c)) => {
            let apart = wrapped(r.value - c.value);
            if apart.abs() > AGREE_TURN {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span_of(compass),
                        format!("`{relative}` and `{compass}` are {:.0} deg apart", apart.abs().as_deg()),
                    )
                    .expected("one of them, or two that agree within 5 deg")
                    .hint("left of the heading is a smaller bearing, right a larger one"),
                );
                return None;
            }
            Some(r)
        }
        (Some(r), None) => Some(r),
        (None, Some(c)) => Some(c),
        (None, None) => {
            if w.found.len() == told && !n.has(relative) && !n.has(compass) {
                n.miss(w, relative, &format!("give `{relative}`, or `{compass}` by compass"));
            }
            None
        }
    }
}

/// A place: coordinates, or distance with direction and rise, or both if they agree. With how far off it may be.
pub(super) fn place(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    survey: &Survey,
    stuck: Option<&Vehicle>,
    relative: &'static str,
    uncertainty: Option<Length>,
) -> Option<Vec3> {
    let polar = n.has("distance") || n.has("paces");
    let at = if n.has("position") { n.position(w, "position") } else { None };
    if !polar {
        if !n.has("position") {
            n.miss(
                w,
                "position",
                "without it nothing can be reached; or give `distance` or `paces` with a direction and `rise`",
            );
        }
        for extra in [relative, "bearing", "rise", "from", "pace"] {
            if n.has(extra) {
                w.tell(
                    Mistake::new(
                        "missing-key",
                        n.span_of(extra),
                        format!("`{extra}` tells nothing without a distance"),
                    )
                    .expected("`distance` or `paces` beside it, or only `position`")
                    .example("distance = \"22 m\""),
                );
                return None;
            }
        }
        return at;
    }
    let paced = paced(w, n, survey, stuck, relative);
    match (at, paced) {
        (Some(a), Some(b)) => {
            let apart = (a - b).norm();
            let room = uncertainty.map_or(0.0, Length::as_m) + AGREE_M;
            if apart > room {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span_of("position"),
                        format!("`position` and the distance put it at two places, {apart:.1} m apart"),
                    )
                    .expected("one of them, or two that agree within the uncertainty"),
                );
                return None;
            }
            Some(a)
        }
        (Some(_), None) if n.has("position") => None,
        (_, b) => b,
    }
}

fn paced(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    survey: &Survey,
    stuck: Option<&Vehicle>,
    relative: &'static str,
) -> Option<Vec3> {
    let tape: Option<Length> = n.one(w, "distance");
    let steps: Option<f64> = n.one(w, "paces");
    let pace = if n.has("pace") { n.one(w, "pace") } else { survey.pace };
    let rise: Option<Length> = n.one(w, "rise");
    let turn = direction(w, n, survey, relative, "bearing");
    if !n.has("rise") {
        n.miss(w, "rise", "the line's angle and the anchor's lever arm need it; write \"0 m\" on level ground");
    }
    let by_paces = match (steps, pace) {
        (Some(s), Some(p)) => Some(p * s),
        (Some(_), None) => {
            if !n.has("pace") {
                n.miss(w, "pace", "paces are no distance until somebody says how long one is");
            }
            return None;
        }
        _ => None,
    };
    let distance = match (tape, by_paces) {
        (Some(t), Some(p)) if (t - p).abs().as_m() > 0.15 * t.as_m() + AGREE_M => {
            w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of("paces"),
                    format!("`distance` and `paces` are {:.1} m apart", (t - p).abs().as_m()),
                )
                .expected("one of them, or two that agree within 15 %"),
            );
            return None;
        }
        (Some(t), _) => t,
        (None, Some(p)) => p,
        (None, None) => return None,
    };
    let (rise, turn) = (rise?, turn?);
    let (d, z) = (distance.as_m(), rise.as_m());
    if z.abs() > d {
        w.tell(
            Mistake::new(
                "contradiction",
                n.span_of("rise"),
                format!(
                    "it is {:.1} m higher or lower than the vehicle, and only {d:.1} m away along the ground",
                    z.abs()
                ),
            )
            .expected("a rise that is less than the distance")
            .hint("the distance is taken along the ground, up the slope"),
        );
        return None;
    }
    if d > 500.0 {
        w.tell(
            Mistake::new("out-of-range", n.span_of("paces"), format!("{d:.0} m away: no line reaches it"))
                .expected("at most 500 m")
                .example("paces = 28"),
        );
        return None;
    }
    let base = base(w, n, stuck)?;
    let level = (d * d - z * z).max(0.0).sqrt();
    Some(base + Vec3::new(level, 0.0, 0.0).turned(turn.value) + Vec3::UP * z)
}

/// From where it was measured, on the ground.
fn base(w: &mut Walk<'_>, n: &Node<'_, '_>, stuck: Option<&Vehicle>) -> Option<Vec3> {
    if !n.has("from") {
        return Some(Vec3::ZERO);
    }
    let id = n.id(w, "from")?;
    if id == "middle" {
        return Some(Vec3::ZERO);
    }
    let stuck = stuck?;
    let found = if id == "winch" {
        stuck.winch.as_ref().map(|x| x.position)
    } else {
        stuck.points.iter().find(|p| p.id == id).map(|p| p.position)
    };
    if found.is_none() {
        let mut ids: Vec<&str> = stuck.points.iter().map(|p| p.id.as_str()).collect();
        ids.extend(["middle", "winch"]);
        let near = crate::walk::nearest(&id, ids.iter().copied()).map(|x| format!("did you mean \"{x}\"?"));
        w.tell(
            Mistake::new("unknown-id", n.span_of("from"), format!("the stuck vehicle has no \"{id}\" to measure from"))
                .expected(crate::walk::either(&ids))
                .maybe_hint(near),
        );
    }
    found.map(Vec3::level)
}

/// An obstacle.
pub(super) fn obstacle(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Obstacle> {
    let id = n.id(w, "id");
    let what = n.text(w, "what");
    let bars = n.word(w, "bars").and_then(|i| [Bars::Lines, Bars::EscapePath].get(i).copied());
    let outline = n.outline(w, "outline");
    let line = n.line(w);
    Some(Obstacle { id: id?, what: what?, bars: bars?, outline: outline?, line })
}

/// A helper.
pub(super) fn helper(w: &mut Walk<'_>, n: &Node<'_, '_>, survey: &Survey, stuck: Option<&Vehicle>) -> Option<Helper> {
    let vehicle = vehicle(w, n);
    let position = place(w, n, survey, stuck, "toward", survey.uncertainty);
    let heading = direction(w, n, survey, "heading", "compass_heading");
    let friction = n.input_range::<f64>(w, "friction");
    let slope = n.input_slope(w, "slope");
    let braked_share = n.input_range::<f64>(w, "braked_share");
    let chocked = n.flag(w, "chocked");
    let backed_by = super::anchor::tie(w, n, "backed_by");
    let can_tow = n.flag(w, "can_tow");
    let line = n.line(w);
    Some(Helper {
        vehicle: vehicle?,
        position: position?,
        heading: heading?.value,
        friction,
        slope: slope?,
        braked_share: braked_share?,
        chocked,
        backed_by,
        can_tow: can_tow?,
        line,
    })
}
