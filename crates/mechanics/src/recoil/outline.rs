//! One outline of all the discs that people stay out of.
//!
//! The union of discs is exact: each circle keeps the arcs that lie in no other disc, and the arcs are linked where circles
//! cross. Only then are arcs drawn as corners, outside the circle. Ground that the outline encloses counts as inside.

use core::f64::consts::PI;
use unmire_model::{Length, Vec3};

/// Angle that one side of the drawn outline spans at most.
const STEP: f64 = PI / 24.0;
/// Two crossings nearer than this are one, in metres.
const SAME: f64 = 1e-6;

/// A disc seen from above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Its middle; height does not count.
    pub at: Vec3,
    /// Its radius.
    pub radius: Length,
}

/// The outline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// Closed rings of x, y in metres, counter-clockwise, none inside another.
    pub rings: Vec<Vec<(f64, f64)>>,
    /// Whether they are one outline. If circles meet in a way that can't be told apart they are left as they are, one ring a
    /// disc: no ground is lost.
    pub joined: bool,
}

#[derive(Clone, Copy)]
struct Circle {
    x: f64,
    y: f64,
    r: f64,
}
/// An arc of a circle that lies in no other disc: from one angle counter-clockwise to another, and the disc that it runs into.
#[derive(Clone, Copy)]
struct Arc {
    on: usize,
    from: f64,
    to: f64,
    into: Option<usize>,
}
impl Circle {
    fn at(self, angle: f64) -> (f64, f64) {
        (self.x + self.r * libm::cos(angle), self.y + self.r * libm::sin(angle))
    }
    fn apart(self, o: Self) -> f64 {
        libm::hypot(self.x - o.x, self.y - o.y)
    }
}

/// The outline of all discs together, drawn outside them: every point of every disc lies inside.
///
/// # Source
/// `derived`: plane geometry.
#[must_use]
pub fn outline_of(discs: &[Disc]) -> Outline {
    let circles = kept(discs);
    let arcs: Vec<Arc> = (0..circles.len()).flat_map(|i| free_arcs(&circles, i)).collect();
    match linked(&circles, &arcs) {
        Some(loops) => {
            let mut rings: Vec<Vec<(f64, f64)>> = loops
                .iter()
                .map(|l| l.iter().flat_map(|a| drawn(&circles, *a)).collect::<Vec<_>>())
                // A loop that runs the other way encloses ground that lies in no disc: it counts as inside.
                .filter(|ring| area(ring) > 0.0)
                .collect();
            // What lies within another ring is inside already.
            let all = rings.clone();
            rings.retain(|ring| {
                let enclosed = |o: &Vec<(f64, f64)>| o != ring && ring.first().is_some_and(|p| inside(o, *p));
                !all.iter().any(enclosed)
            });
            Outline { rings, joined: true }
        }
        None => {
            let whole = |i: usize| Arc { on: i, from: 0.0, to: 2.0 * PI, into: None };
            Outline { rings: (0..circles.len()).map(|i| drawn(&circles, whole(i))).collect(), joined: false }
        }
    }
}

/// Whether a point lies within a closed ring.
#[must_use]
pub fn inside(ring: &[(f64, f64)], p: (f64, f64)) -> bool {
    let mut within = false;
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        if (a.1 > p.1) != (b.1 > p.1) && p.0 < a.0 + (b.0 - a.0) * (p.1 - a.1) / (b.1 - a.1) {
            within = !within;
        }
    }
    within
}

/// The discs that no other one holds.
fn kept(discs: &[Disc]) -> Vec<Circle> {
    let all: Vec<Circle> = discs
        .iter()
        .map(|d| Circle { x: d.at.x, y: d.at.y, r: d.radius.as_m() })
        .filter(|c| c.x.is_finite() && c.y.is_finite() && c.r.is_finite() && c.r > 0.0)
        .collect();
    let mut out: Vec<Circle> = Vec::with_capacity(all.len());
    for (i, c) in all.iter().enumerate() {
        let held = all.iter().enumerate().any(|(j, o)| {
            let over = o.r - c.r - c.apart(*o);
            // Of two that are the same the first stays.
            i != j && (over > SAME || (over >= -SAME && (o.r > c.r + SAME || (o.r >= c.r - SAME && j < i))))
        });
        if !held {
            out.push(*c);
        }
    }
    out
}

/// The arcs of a circle that lie in no other disc.
fn free_arcs(circles: &[Circle], i: usize) -> Vec<Arc> {
    let Some(c) = circles.get(i).copied() else { return Vec::new() };
    // Covered spans: where they begin, where they end, by which disc.
    let mut covered: Vec<(f64, f64, usize)> = Vec::new();
    for (j, o) in circles.iter().enumerate() {
        let d = c.apart(*o);
        if i == j || d >= c.r + o.r - SAME {
            continue;
        }
        let half = libm::acos(((d * d + c.r * c.r - o.r * o.r) / (2.0 * d * c.r)).clamp(-1.0, 1.0));
        let middle = libm::atan2(o.y - c.y, o.x - c.x);
        let start = wrapped(middle - half);
        covered.push((start, start + 2.0 * half, j));
    }
    if covered.is_empty() {
        return vec![Arc { on: i, from: 0.0, to: 2.0 * PI, into: None }];
    }
    unmire_model::order::sort_by(&mut covered, |a, b| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2)));
    // Go round once, from the first span on; what reaches over the end of the turn covers its beginning.
    let turn = 2.0 * PI;
    let over = covered.iter().map(|s| s.1 - turn).fold(f64::NEG_INFINITY, f64::max);
    let mut reach = covered.first().map_or(over, |s| s.1.max(over));
    let again = covered.first().map(|s| (s.0 + turn, s.1 + turn, s.2));
    let mut out = Vec::new();
    for (from, to, j) in covered.iter().copied().skip(1).chain(again) {
        if from > reach + SAME / c.r {
            out.push(Arc { on: i, from: reach, to: from, into: Some(j) });
        }
        reach = reach.max(to);
    }
    out
}

fn wrapped(angle: f64) -> f64 {
    let turn = 2.0 * PI;
    let a = angle % turn;
    if a < 0.0 { a + turn } else { a }
}

/// Arcs in closed loops; nothing if an end finds no beginning.
fn linked(circles: &[Circle], arcs: &[Arc]) -> Option<Vec<Vec<Arc>>> {
    let mut used = vec![false; arcs.len()];
    let mut out = Vec::new();
    for start in 0..arcs.len() {
        if used.get(start).copied()? {
            continue;
        }
        let mut ring = Vec::new();
        let mut at = start;
        loop {
            *used.get_mut(at)? = true;
            let arc = *arcs.get(at)?;
            ring.push(arc);
            let Some(into) = arc.into else { break };
            let end = circles.get(arc.on)?.at(arc.to);
            let gap = |k: &usize| {
                let begins = arcs.get(*k).and_then(|a| circles.get(a.on).map(|c| c.at(a.from)));
                begins.map_or(f64::INFINITY, |b| libm::hypot(b.0 - end.0, b.1 - end.1))
            };
            let on_it = (0..arcs.len()).filter(|k| arcs.get(*k).is_some_and(|a| a.on == into && a.into.is_some()));
            let next = on_it.min_by(|a, b| gap(a).total_cmp(&gap(b)))?;
            if gap(&next) > 100.0 * SAME {
                return None;
            }
            if next == start {
                break;
            }
            if used.get(next).copied()? {
                return None;
            }
            at = next;
        }
        out.push(ring);
    }
    Some(out)
}

/// The corners of an arc, on or outside it: its beginning, then where its tangents meet. Its end is the beginning of the next.
fn drawn(circles: &[Circle], arc: Arc) -> Vec<(f64, f64)> {
    let Some(c) = circles.get(arc.on).copied() else { return Vec::new() };
    let span = arc.to - arc.from;
    let mut n = 1.0;
    while span / n > STEP + 1e-12 {
        n += 1.0;
    }
    let step = span / n;
    let far = Circle { r: c.r / libm::cos(step / 2.0), ..c };
    let mut out = Vec::new();
    if arc.into.is_some() {
        out.push(c.at(arc.from));
    }
    let mut k = 0.5;
    while k < n {
        out.push(far.at(arc.from + k * step));
        k += 1.0;
    }
    out
}

/// Twice the area, positive for a ring that runs counter-clockwise.
fn area(ring: &[(f64, f64)]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn disc(x: f64, y: f64, r: f64) -> Disc {
        Disc { at: Vec3::new(x, y, 0.0), radius: Length::from_m(r) }
    }

    #[test]
    fn closed_form_two_circles_that_cross_have_the_area_of_both_less_the_lens() {
        let o = outline_of(&[disc(0.0, 0.0, 1.0), disc(1.0, 0.0, 1.0)]);
        assert!(o.joined && o.rings.len() == 1);
        let lens = 2.0 * PI / 3.0 - 3.0_f64.sqrt() / 2.0;
        let exact = 2.0 * PI - lens;
        let drawn = area(&o.rings[0]) / 2.0;
        assert!(drawn >= exact && drawn < exact * 1.002, "{drawn} for {exact}");
    }

    #[test]
    fn closed_form_one_within_another_or_twice_the_same_is_one_circle() {
        let one = outline_of(&[disc(3.0, 4.0, 10.0)]);
        assert_eq!(one.rings.len(), 1);
        assert_eq!(outline_of(&[disc(3.0, 4.0, 10.0), disc(3.0, 4.0, 10.0), disc(5.0, 4.0, 2.0)]), one);
        // Touching from within.
        assert_eq!(outline_of(&[disc(3.0, 4.0, 10.0), disc(8.0, 4.0, 5.0)]), one);
    }

    #[test]
    fn closed_form_apart_they_are_two_and_a_hole_is_filled() {
        assert_eq!(outline_of(&[disc(0.0, 0.0, 1.0), disc(9.0, 0.0, 1.0)]).rings.len(), 2);
        let six: Vec<Disc> = (0..6)
            .map(|i| f64::from(i) * PI / 3.0)
            .map(|a| disc(10.0 * libm::cos(a), 10.0 * libm::sin(a), 6.0))
            .collect();
        let o = outline_of(&six);
        assert!(o.joined && o.rings.len() == 1 && inside(&o.rings[0], (0.0, 0.0)));
        // An island in the hole is inside already.
        let with_island: Vec<Disc> = six.into_iter().chain([disc(0.0, 0.0, 1.0)]).collect();
        assert_eq!(outline_of(&with_island).rings.len(), 1);
    }

    #[test]
    fn closed_form_nothing_comes_of_nothing() {
        assert!(outline_of(&[]).rings.is_empty());
        assert!(outline_of(&[disc(f64::NAN, 0.0, 1.0), disc(0.0, 0.0, 0.0)]).rings.is_empty());
    }
}
