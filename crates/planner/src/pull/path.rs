//! The way out as the vehicle goes it: where it stands after so many metres, and what holds it back there.
//!
//! Stretches follow each other along the ground. At a corner the vehicle turns with the way over about one wheelbase, half of it
//! before the corner and half behind, so that the angle between its heading and its way stays what it was.

use crate::demand::need_for;
use unmire_mechanics::MechanicsError;
use unmire_mechanics::ground::{ActionKind, Need};
use unmire_model::case::Case;
use unmire_model::ground::{Ahead, Depth, Stretch};
use unmire_model::vehicle::Helper;
use unmire_model::{Angle, Force, Length, Range, Silent, Vec3};

/// Wheelbase where none is told: our own judgement. It only matters at corners of the way.
const WHEELBASE: f64 = 2.8;

/// Where the vehicle stands, seen from where it stood at the start.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    /// The ground under the middle of its wheelbase.
    pub at: Vec3,
    /// By how much it has turned, left being positive.
    pub turned: Angle,
}
impl Pose {
    /// A place of the site as the vehicle there sees it.
    #[must_use]
    pub fn seen(&self, p: Vec3) -> Vec3 {
        (p - self.at).turned(-self.turned)
    }
    /// A place that the vehicle there sees, on the site.
    #[must_use]
    pub fn on_site(&self, p: Vec3) -> Vec3 {
        self.at + p.turned(self.turned)
    }
}

/// One stretch, made ready.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Where it begins, metres of way.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Direction seen from above, from the vehicle's heading at the start.
    pub bearing: Angle,
    /// Slope along it, likely.
    pub grade: Angle,
    /// What must be overcome along it.
    pub need: Range<Force>,
    /// What of it, at its high end, lifts the vehicle: negative where the slope helps.
    pub lift: Force,
    /// The stretch as the case tells it; none where the way is one straight line as found.
    stretch: Option<Stretch>,
}

/// The part of a need that lifts, high end.
fn lift(need: &Need) -> Force {
    need.parts.iter().filter(|p| p.name == "grade").map(|p| p.range.high()).fold(Force::ZERO, |a, b| a + b)
}

/// The way out.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Its stretches; one at least.
    pub legs: Vec<Leg>,
    /// How long it is: the high end of the distance.
    pub length: f64,
    /// By how much the stretches fell short of it: the last one was drawn on.
    pub drawn_on: f64,
    /// Over how much way the vehicle turns at a corner.
    turn: f64,
    /// Where each stretch's straight part would begin if corners were not rounded.
    corners: Vec<Vec3>,
}

impl Path {
    /// The way of a case, with the need of each stretch after these actions.
    ///
    /// # Errors
    /// As the need: a surface in no table, a number that is none.
    pub fn of(case: &Case, actions: &[ActionKind]) -> Result<Self, MechanicsError> {
        let length = case.way_out.distance.value.high().as_m();
        if !(length.is_finite() && length > 0.0) {
            return Err(MechanicsError::BadInput {
                what: "the distance to ground it can drive on",
                got: length,
                expected: "greater than zero, for example 8 m",
            });
        }
        let mut legs = Vec::new();
        let mut at = 0.0;
        for s in &case.path {
            let long = s.length.value.as_m();
            if !(long.is_finite() && long > 0.0) {
                return Err(MechanicsError::BadInput {
                    what: "the length of a stretch of the way out",
                    got: long,
                    expected: "greater than zero, for example 3 m",
                });
            }
            if at >= length {
                break;
            }
            let need = need_for(&on_stretch(case, Some(s)), actions, &mut Silent)?;
            legs.push(Leg {
                from: at,
                to: (at + long).min(length),
                bearing: s.bearing.as_ref().map_or(case.way_out.bearing.value, |b| b.value),
                grade: s.grade.as_ref().map_or(case.way_out.grade.value, |g| g.value).likely(),
                need: need.total,
                lift: lift(&need),
                stretch: Some(s.clone()),
            });
            at += long;
        }
        let drawn_on = if legs.is_empty() { 0.0 } else { (length - at).max(0.0) };
        match legs.last_mut() {
            Some(last) => last.to = length,
            None => {
                let need = need_for(case, actions, &mut Silent)?;
                legs.push(Leg {
                    from: 0.0,
                    to: length,
                    bearing: case.way_out.bearing.value,
                    grade: case.way_out.grade.value.likely(),
                    need: need.total,
                    lift: lift(&need),
                    stretch: None,
                });
            }
        }
        let base = case.vehicle.wheelbase.as_ref().map_or(WHEELBASE, |w| w.value.as_m());
        let shortest = legs.iter().map(|l| l.to - l.from).fold(base, f64::min);
        let mut path = Self { legs, length, drawn_on, turn: shortest, corners: Vec::new() };
        path.corners = path.corners();
        Ok(path)
    }

    /// The stretch at a place of the way; where two meet, the one that begins there if `ahead`.
    #[must_use]
    pub fn leg(&self, s: f64, ahead: bool) -> usize {
        let begins = |l: &Leg| if ahead { l.from <= s } else { l.from < s };
        self.legs.iter().rposition(begins).unwrap_or(0)
    }

    /// Unit vector along a stretch's direction, in the frame of the start, level part turned by `more`.
    fn along(&self, leg: usize, more: Angle) -> Vec3 {
        let Some(l) = self.legs.get(leg) else { return Vec3::ZERO };
        let level = Vec3::new(1.0, 0.0, 0.0).turned(l.bearing + more);
        level * l.grade.cos() + Vec3::UP * l.grade.sin()
    }

    /// Starts of the stretches, walking the rounded way.
    fn corners(&self) -> Vec<Vec3> {
        let mut out = Vec::with_capacity(self.legs.len());
        let mut at = Vec3::ZERO;
        for (i, l) in self.legs.iter().enumerate() {
            out.push(at);
            at += self.step(i, l.from, l.to);
        }
        out
    }

    /// Half of the turn at the corner before this stretch, and at the one behind it: left positive, zero at the ends.
    fn turns(&self, leg: usize) -> (f64, f64) {
        let bearing = |i: usize| self.legs.get(i).map(|l| l.bearing.as_rad());
        let Some(own) = bearing(leg) else { return (0.0, 0.0) };
        let before = leg.checked_sub(1).and_then(bearing).map_or(0.0, |b| small(own - b));
        let behind = bearing(leg + 1).map_or(0.0, |b| small(b - own));
        (0.5 * before, 0.5 * behind)
    }

    /// Direction at a place of a stretch, relative to the stretch's own: still turning in, straight, or turning out.
    fn bend(&self, leg: usize, s: f64) -> f64 {
        let Some(l) = self.legs.get(leg) else { return 0.0 };
        let half = 0.5 * self.turn;
        let (before, behind) = self.turns(leg);
        let into = (s - l.from) / half;
        let out = (l.to - s) / half;
        let mut bend = 0.0;
        if into < 1.0 {
            bend -= before * (1.0 - into);
        }
        if out < 1.0 {
            bend += behind * (1.0 - out);
        }
        bend
    }

    /// The way between two places of one stretch, as a vector.
    fn step(&self, leg: usize, from: f64, to: f64) -> Vec3 {
        let Some(l) = self.legs.get(leg) else { return Vec3::ZERO };
        let half = 0.5 * self.turn;
        let (before, behind) = self.turns(leg);
        let mut sum = Vec3::ZERO;
        // Three pieces, each an arc of one circle or straight: turning in, straight on, turning out.
        let cuts = [
            (l.from, (l.from + half).min(l.to), before != 0.0),
            ((l.from + half).min(l.to), (l.to - half).max(l.from + half).min(l.to), false),
            ((l.to - half).max(l.from + half).min(l.to), l.to, behind != 0.0),
        ];
        for (a, b, curved) in cuts {
            let (a, b) = (a.max(from), b.min(to));
            if b <= a {
                continue;
            }
            let (first, last) = (self.bend(leg, a), self.bend(leg, b));
            let delta = last - first;
            if !curved || delta.abs() < 1e-9 {
                sum += self.along(leg, Angle::from_rad(0.5 * (first + last))) * (b - a);
            } else {
                // Chord of an arc: its length is 2 R sin(δ / 2), R = way / δ, along the middle direction.
                let level = libm::sin(0.5 * delta) / (0.5 * delta);
                let middle = self.along(leg, Angle::from_rad(0.5 * (first + last)));
                sum += Vec3::new(middle.x * level, middle.y * level, middle.z) * (b - a);
            }
        }
        sum
    }

    /// Where the vehicle stands after so much way.
    #[must_use]
    pub fn pose(&self, s: f64) -> Pose {
        let leg = self.leg(s, true);
        let (Some(l), Some(start), Some(first)) = (self.legs.get(leg), self.corners.get(leg), self.legs.first()) else {
            return Pose::default();
        };
        let at = *start + self.step(leg, l.from, s.min(l.to));
        let turned = small(l.bearing.as_rad() - first.bearing.as_rad()) + self.bend(leg, s);
        Pose { at, turned: Angle::from_rad(turned) }
    }

    /// The case as it is after so much way: the vehicle stands at the origin again and the site has moved. A helper that tows
    /// has driven on with it.
    #[must_use]
    pub fn moved(&self, case: &Case, s: f64, ahead: bool, towing: Option<&str>) -> Case {
        let pose = self.pose(s);
        let leg = self.leg(s, ahead);
        let stretch = self.legs.get(leg).and_then(|l| l.stretch.as_ref());
        let mut out = on_stretch(case, stretch);
        if let Some((heading, _)) = &mut out.heading {
            *heading = *heading - pose.turned;
        }
        for a in &mut out.anchors {
            a.position = pose.seen(a.position);
        }
        for o in &mut out.obstacles {
            for p in &mut o.outline {
                *p = pose.seen(*p);
            }
        }
        for h in &mut out.helpers {
            if towing != Some(h.vehicle.name.as_str()) {
                stand(h, &pose);
            }
        }
        // The vehicle's angle to its way stays: the bearing of the way from its heading is that of the start.
        if let Some(first) = self.legs.first() {
            out.way_out.bearing.value = first.bearing;
        }
        let left = |d: Length| Length::from_m((d.as_m() - s).max(0.01));
        let d = &case.way_out.distance.value;
        out.way_out.distance.value = Range::hull(left(d.low()), left(d.likely()), left(d.high()));
        out.path = self
            .legs
            .iter()
            .enumerate()
            .skip(leg)
            .filter_map(|(_, l)| {
                let mut rest = l.stretch.clone()?;
                rest.length.value = Length::from_m((l.to - l.from.max(s)).max(0.01));
                // What was left to the way out is said outright: the way out is now that of the stretch it stands on.
                let mut bearing = rest.bearing.unwrap_or_else(|| case.way_out.bearing.clone());
                bearing.value = bearing.value - pose.turned;
                rest.bearing = Some(bearing);
                rest.grade = rest.grade.or_else(|| Some(case.way_out.grade.clone()));
                rest.side_slope = rest.side_slope.or_else(|| Some(case.way_out.side_slope.clone()));
                Some(rest)
            })
            .collect();
        out
    }
}

/// A turn between half a turn right and half a turn left.
fn small(a: f64) -> f64 {
    let full = 2.0 * core::f64::consts::PI;
    let turns = (a / full).round();
    a - turns * full
}

fn stand(h: &mut Helper, pose: &Pose) {
    h.position = pose.seen(h.position);
    h.heading = h.heading - pose.turned;
}

/// The case as if it stood on this stretch: what holds it back there, and the slopes.
fn on_stretch(case: &Case, stretch: Option<&Stretch>) -> Case {
    let mut out = case.clone();
    let Some(s) = stretch else { return out };
    if let Some(g) = &s.grade {
        out.way_out.grade = g.clone();
    }
    if let Some(g) = &s.side_slope {
        out.way_out.side_slope = g.clone();
    }
    match &s.ahead {
        Ahead::AsFound => {}
        Ahead::Surface(surface) => {
            free(&mut out);
            out.stuck.depth.value = Depth::NotMired;
            out.stuck.mire_share = None;
            out.ground.surface = surface.clone();
            // The soil that was described is the one of the hole.
            out.ground.soil = None;
        }
        Ahead::Share(share) => {
            free(&mut out);
            out.stuck.depth.value = Depth::Wheel;
            out.stuck.mire_share = Some(share.clone());
            out.ground.soil = None;
        }
    }
    out
}

/// What held it where it was found and does not go with it.
fn free(case: &mut Case) {
    case.stuck.obstacle = None;
    case.stuck.bellied = false;
}

#[cfg(test)]
#[path = "path_tests.rs"]
mod tests;
