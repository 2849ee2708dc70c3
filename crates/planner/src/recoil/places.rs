//! Where somebody can stand outside the ground to keep clear, and what flies at the cabs inside it.

use super::{Failure, Fly};
use crate::context::Context;
use crate::report::{KeepOut, Site};
use crate::rigging::{Pull, Veh};
use unmire_mechanics::recoil::{Disc, StandClear, inside};
use unmire_model::{Angle, Energy, Length, Speed, Vec3};

/// How far outside the edge a place is taken. Our own judgement: a step back, not a margin.
const STEP_BACK: f64 = 2.0;
/// Directions that are looked at round the rig.
const ROUND: usize = 72;
/// Nearer than this to a line of flight, in degrees, no place is offered, however far off. Our own judgement, and no cone: all of
/// these places lie outside the whole discs.
const OFF_LINE: f64 = 30.0;
/// From this slope on, in degrees, nobody is sent to the low side. Our own judgement.
const STEEP: f64 = 3.0;
/// Nearer than this to straight downhill is the low side, in degrees.
const LOW_SIDE: f64 = 60.0;
/// How many places are offered at most.
const MOST: usize = 6;
/// They lie at least so far apart, seen from the middle of the rig, in degrees.
const APART: f64 = 30.0;

/// A place where somebody can stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Where, x and y.
    pub at: (f64, f64),
    /// For whom.
    pub who: &'static str,
    /// Where that is, in words.
    pub whereabouts: String,
    /// How far from the stuck vehicle.
    pub distance: Length,
    /// Least angle to a line of flight, seen from where it begins.
    pub off_line: Angle,
    /// Distance to the nearest loaded hard point.
    pub nearest: Length,
    /// Published rules that ask for more distance than this place has from the nearest loaded hard point.
    pub short_of: Vec<String>,
}

/// A cab that somebody may sit in.
#[derive(Clone, Debug, PartialEq)]
pub struct Cab {
    /// The vehicle.
    pub vehicle: String,
    /// Who would sit there.
    pub who: &'static str,
    /// What flies at it: the part that fails, and what then comes.
    pub flies_at_it: Vec<String>,
    /// No faster than this, over all of that.
    pub speed: Option<Speed>,
    /// Energy of the worst of it.
    pub energy: Option<Energy>,
    /// On which conditions.
    pub conditions: Vec<&'static str>,
}

/// Places outside, the one farthest off every line of flight first.
pub(crate) fn places(
    ctx: &Context<'_>,
    keep_out: &KeepOut,
    rules: &[StandClear],
    discs: &[Disc],
    failures: &[Failure],
    site: &Site,
) -> Vec<Place> {
    let n = discs.len().max(1) as f64;
    let middle = discs.iter().fold(Vec3::ZERO, |m, d| m + d.at * (1.0 / n));
    let downhill = downhill(site);
    let mut all: Vec<(f64, Place)> = Vec::new();
    for k in 0..ROUND {
        let bearing = 2.0 * core::f64::consts::PI * k as f64 / ROUND as f64;
        let ahead = Vec3::new(libm::cos(bearing), libm::sin(bearing), 0.0);
        let Some(edge) = farthest_edge(&keep_out.rings, (middle.x, middle.y), ahead) else { continue };
        let at = middle + ahead * (edge + STEP_BACK);
        let spot = (at.x, at.y);
        if keep_out.rings.iter().any(|r| inside(r, spot)) || on_obstacle(site, spot) {
            continue;
        }
        let from_vehicle = Vec3::new(at.x, at.y, 0.0);
        if downhill.and_then(|d| from_vehicle.angle_to(d)).is_some_and(|a| a.as_deg() < LOW_SIDE) {
            continue;
        }
        let Some(off) = off_line(failures, at) else { continue };
        if off.as_deg() < OFF_LINE {
            continue;
        }
        let nearest = discs.iter().map(|d| (d.at - at).level().norm()).fold(f64::INFINITY, f64::min);
        let short_of = rules.iter().filter(|r| r.distance.as_m() > nearest).map(|r| r.what.to_owned()).collect();
        let place = Place {
            at: spot,
            who: "an observer, the signaller, an operator on a remote lead",
            whereabouts: whereabouts(ctx, from_vehicle),
            distance: Length::from_m(from_vehicle.norm()),
            off_line: off,
            nearest: Length::from_m(nearest),
            short_of,
        };
        all.push((bearing, place));
    }
    unmire_model::order::sort_by(&mut all, |a, b| {
        b.1.off_line.as_rad().total_cmp(&a.1.off_line.as_rad()).then(a.0.total_cmp(&b.0))
    });
    let mut out: Vec<(f64, Place)> = Vec::new();
    for (bearing, place) in all {
        let near = |other: f64| {
            let d = (bearing - other).abs().to_degrees();
            d.min(360.0 - d) < APART
        };
        if out.len() < MOST && !out.iter().any(|(b, _)| near(*b)) {
            out.push((bearing, place));
        }
    }
    out.into_iter().map(|(_, p)| p).collect()
}

/// Which way is down, level; none where it is nearly flat.
fn downhill(site: &Site) -> Option<Vec3> {
    let (along, across) = site.slopes;
    let ahead = Vec3::new(1.0, 0.0, 0.0).turned(site.way_out);
    let left = Vec3::new(0.0, 1.0, 0.0).turned(site.way_out);
    // Up along the way out is positive, and so is a left side that is higher.
    let down = -(ahead * along.tan() + left * across.tan());
    let slope = Angle::from_rad(libm::atan(down.norm()));
    (slope.as_deg() >= STEEP).then_some(down)
}

/// How far from a point inside the last edge lies in a direction.
fn farthest_edge(rings: &[Vec<(f64, f64)>], from: (f64, f64), ahead: Vec3) -> Option<f64> {
    let mut far: Option<f64> = None;
    for ring in rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if let Some(t) = meets(from, ahead, *a, *b) {
                far = Some(far.map_or(t, |f| f.max(t)));
            }
        }
    }
    far
}

/// How far along a ray from a point a side is met.
fn meets(from: (f64, f64), ahead: Vec3, a: (f64, f64), b: (f64, f64)) -> Option<f64> {
    let (ex, ey) = (b.0 - a.0, b.1 - a.1);
    let det = ahead.x * ey - ahead.y * ex;
    if det.abs() < 1e-12 {
        return None;
    }
    let (dx, dy) = (a.0 - from.0, a.1 - from.1);
    let t = (dx * ey - dy * ex) / det;
    let s = (dx * ahead.y - dy * ahead.x) / det;
    (t >= 0.0 && (0.0..=1.0).contains(&s)).then_some(t)
}

fn on_obstacle(site: &Site, spot: (f64, f64)) -> bool {
    site.obstacles.iter().any(|(_, _, outline, escape)| !escape && outline.len() > 2 && inside(outline, spot))
}

/// Least angle between the way to a place and a line of flight, either way along it.
fn off_line(failures: &[Failure], at: Vec3) -> Option<Angle> {
    let mut least: Option<Angle> = None;
    for fly in failures.iter().flat_map(|f| &f.flies) {
        let to = (at - fly.at).level();
        let Some(angle) = to.angle_to(fly.direction.level()) else { continue };
        least = Some(least.map_or(angle, |l| l.min(angle)));
    }
    least
}

/// In words: from the stuck vehicle, by its own left and right, and by compass where that is known.
fn whereabouts(ctx: &Context<'_>, at: Vec3) -> String {
    let a = libm::atan2(at.y, at.x).to_degrees();
    let side = match a {
        a if a.abs() <= 22.5 => "ahead of the stuck vehicle",
        a if a.abs() >= 157.5 => "behind the stuck vehicle",
        a if a > 112.5 => "behind and left of the stuck vehicle",
        a if a > 67.5 => "left of the stuck vehicle",
        a if a > 0.0 => "ahead and left of the stuck vehicle",
        a if a < -112.5 => "behind and right of the stuck vehicle",
        a if a < -67.5 => "right of the stuck vehicle",
        _ => "ahead and right of the stuck vehicle",
    };
    match &ctx.case.heading {
        Some((heading, _)) => {
            // Bearings count clockwise, angles here count to the left.
            let bearing = (heading.as_deg() - a).rem_euclid(360.0);
            format!("{side}, bearing {bearing:.0} deg")
        }
        None => side.to_owned(),
    }
}

/// Cabs that somebody may sit in, and what flies at them.
pub(crate) fn cabs(pull: &Pull<'_>, failures: &[Failure], site: &Site, reach: Length) -> Vec<Cab> {
    let mut out = Vec::new();
    for (i, (vehicle, outline)) in site.vehicles.iter().enumerate() {
        let stuck = i == 0;
        let who = match pull {
            Pull::Winch { on, .. } if on.is_stuck() == stuck && on.vehicle().name == *vehicle => "the winch's operator",
            Pull::Tow { helper, .. } if !stuck && Veh::Helper(helper).vehicle().name == *vehicle => {
                "the driver who tows"
            }
            _ if stuck => "a driver in the stuck vehicle",
            _ => continue,
        };
        let mut flies_at_it: Vec<String> = Vec::new();
        let (mut speed, mut energy) = (Some(Speed::ZERO), Some(Energy::ZERO));
        let mut any = false;
        for f in failures {
            for fly in f.flies.iter().filter(|fly| hits(outline, fly, reach)) {
                any = true;
                let text = format!("{} if {} fails", fly.what, f.part);
                if !flies_at_it.contains(&text) {
                    flies_at_it.push(text);
                }
                speed = speed.zip(fly.bound).map(|(s, b)| s.max(b.speed));
                energy = energy.zip(fly.energy).map(|(e, x)| e.max(x));
            }
        }
        let mut conditions = vec![
            "only where the plan needs somebody there, and where training and local rules allow it",
            "bonnet up or the screen covered on the side of the line; belted in, low, nobody else aboard",
            "a cab is no proof: what flies can come through the screen",
        ];
        if any {
            conditions.insert(0, "it lies in the line of what flies: outside the ground to keep clear is better");
        }
        out.push(Cab {
            vehicle: vehicle.clone(),
            who,
            flies_at_it,
            speed: speed.filter(|_| any),
            energy: energy.filter(|_| any),
            conditions,
        });
    }
    out
}

/// Whether something that flies straight on comes to a vehicle's outline.
fn hits(outline: &[(f64, f64)], fly: &Fly, reach: Length) -> bool {
    let Some(ahead) = fly.direction.level().unit() else { return false };
    // What sets off from the vehicle itself and away from it does not count: begin a hand's breadth on.
    let begin = fly.at + ahead * 0.3;
    let from = (begin.x, begin.y);
    if inside(outline, from) {
        return true;
    }
    outline
        .iter()
        .zip(outline.iter().cycle().skip(1))
        .filter_map(|(a, b)| meets(from, ahead, *a, *b))
        .any(|t| t <= reach.as_m())
}
