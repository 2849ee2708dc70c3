//! Which leg of the rig crosses what it must not, seen from above.

use crate::context::Context;
use crate::evaluate::Solved;
use unmire_model::Vec3;
use unmire_model::case::Obstacle;

/// Names of legs that cross an obstacle's outline or lie in it.
#[must_use]
pub fn of<'a>(ctx: &Context<'a>, solved: &Solved) -> Vec<(String, &'a Obstacle)> {
    let mut out = Vec::new();
    if ctx.case.obstacles.is_empty() {
        return out;
    }
    let eq = &solved.loads.poor;
    let nodes = &solved.built.structure.nodes;
    let at = |i: usize| eq.positions.get(i).copied();
    let name = |i: usize| nodes.get(i).map_or("?", |n| n.name.as_str());
    let legs = eq.legs.iter().map(|l| (l.from, l.to));
    let slings = solved.built.structure.slings.iter().map(|s| (s.a, s.b));
    for (a, b) in legs.chain(slings) {
        let (Some(from), Some(to)) = (at(a), at(b)) else { continue };
        for obstacle in &ctx.case.obstacles {
            if crosses(from, to, &obstacle.outline) {
                out.push((format!("{} to {}", name(a), name(b)), obstacle));
            }
        }
    }
    out
}

/// Whether a straight line meets an outline: two corners make a line, three or more an area.
#[must_use]
pub fn crosses(from: Vec3, to: Vec3, outline: &[Vec3]) -> bool {
    let closed = outline.len() > 2;
    let n = outline.len();
    let sides = if closed { n } else { n.saturating_sub(1) };
    let mut corners = outline.iter().cycle();
    let mut previous = corners.next();
    for _ in 0..sides {
        let next = corners.next();
        if let (Some(a), Some(b)) = (previous, next)
            && meet(from, to, *a, *b)
        {
            return true;
        }
        previous = next;
    }
    closed && (inside(from, outline) || inside(to, outline))
}

fn side(a: Vec3, b: Vec3, p: Vec3) -> f64 {
    (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)
}
fn meet(p: Vec3, q: Vec3, a: Vec3, b: Vec3) -> bool {
    let (d1, d2, d3, d4) = (side(a, b, p), side(a, b, q), side(p, q, a), side(p, q, b));
    let on = |a: Vec3, b: Vec3, p: Vec3| {
        p.x >= a.x.min(b.x) && p.x <= a.x.max(b.x) && p.y >= a.y.min(b.y) && p.y <= a.y.max(b.y)
    };
    if d1 * d2 < 0.0 && d3 * d4 < 0.0 {
        return true;
    }
    (d1 == 0.0 && on(a, b, p)) || (d2 == 0.0 && on(a, b, q)) || (d3 == 0.0 && on(p, q, a)) || (d4 == 0.0 && on(p, q, b))
}
/// Whether a place lies in an area, seen from above.
#[must_use]
pub fn inside(p: Vec3, outline: &[Vec3]) -> bool {
    let mut odd = false;
    let mut previous = outline.last();
    for b in outline {
        if let Some(a) = previous
            && (a.y > p.y) != (b.y > p.y)
            && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x
        {
            odd = !odd;
        }
        previous = Some(b);
    }
    odd
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_a_line_through_an_area_or_into_it_crosses() {
        let v = |x, y| Vec3::new(x, y, 0.0);
        let square = [v(2.0, -1.0), v(4.0, -1.0), v(4.0, 1.0), v(2.0, 1.0)];
        assert!(crosses(v(0.0, 0.0), v(6.0, 0.0), &square));
        assert!(crosses(v(0.0, 0.0), v(3.0, 0.0), &square));
        assert!(crosses(v(2.5, 0.0), v(3.0, 0.0), &square));
        assert!(!crosses(v(0.0, 2.0), v(6.0, 2.0), &square));
        let fence = [v(3.0, -5.0), v(3.0, 5.0)];
        assert!(crosses(v(0.0, 0.0), v(6.0, 0.0), &fence));
        assert!(!crosses(v(0.0, 0.0), v(2.0, 0.0), &fence));
        assert!(!crosses(v(0.0, 6.0), v(6.0, 6.0), &fence));
    }
}
