//! The same need by other rules, each named with its standing.

use super::arithmetic::product;
use super::mired::doctrines;
use super::need::{NamedEstimate, Scene};
use super::rolling::{grade_by_sixty, rolling, slope_by_fifteen};
use super::terramechanics::Terra;
use crate::lookup;
use unmire_model::ground::Depth;
use unmire_model::{Force, Range};
use unmire_tables::How;

/// What the other rules say of the same need.
pub(super) fn alternatives(
    scene: &Scene<'_>,
    weight: &Range<Force>,
    terra: Option<&Terra>,
    terra_used: bool,
    along: &Range<Force>,
) -> Vec<NamedEstimate> {
    let depth = scene.stuck.depth.value;
    let slope = scene.way_out.grade.value;
    let mut out = Vec::new();
    for d in doctrines(depth) {
        out.push(NamedEstimate {
            name: format!("{}: {}", d.family, d.key),
            range: product(weight, &d.share).plus(along),
            source: d.source,
            how: d.how,
            used: false,
            note: join(d.condition, d.note),
        });
        if d.family == "us-multiples" && slope.high().as_rad() > 0.0 {
            let g = lookup::grade_as_one_weight();
            out.push(NamedEstimate {
                name: format!("{}: {} with the grade as one weight", d.family, d.key),
                range: product(weight, &d.share).plus(&product(weight, &g.share)),
                source: g.source,
                how: g.how,
                used: false,
                note: "deliberately coarse; instead of the sine of the slope, never added to it".to_owned(),
            });
        }
    }
    let scheme = if depth == Depth::NotMired {
        lookup::ground_factor(&scene.ground.surface.value)
    } else {
        lookup::ground_factor("bog")
    };
    if let Some((key, share, source, how)) = scheme {
        let margin = 1.0 + lookup::commonwealth_margin().share.likely();
        let hill = Range::hull(
            grade_by_sixty(weight.low(), slope.low()),
            grade_by_sixty(weight.likely(), slope.likely()),
            grade_by_sixty(weight.high(), slope.high()),
        );
        out.push(NamedEstimate {
            name: format!("commonwealth scheme: {key}"),
            range: product(weight, &Range::hull(share, share, share)).plus(&hill).increasing(|f: Force| f * margin),
            source,
            how,
            used: false,
            note: "weight ÷ ground factor, degrees ÷ 60 of the weight, and a quarter on the sum".to_owned(),
        });
    }
    if depth == Depth::NotMired
        && let Ok(r) = rolling(&scene.ground.surface.value)
    {
        let hill = Range::hull(
            slope_by_fifteen(weight.low(), slope.low()),
            slope_by_fifteen(weight.likely(), slope.likely()),
            slope_by_fifteen(weight.high(), slope.high()),
        );
        out.push(NamedEstimate {
            name: "trade: a quarter of the weight for 15 degrees".to_owned(),
            range: product(weight, &r.share).plus(&hill),
            source: "4x4-australia-2016",
            how: How::Read,
            used: false,
            note: "linear; up to 4.5 % under the sine below 30 degrees".to_owned(),
        });
    }
    if scene.stuck.bellied {
        let h = lookup::hung_on_rock();
        out.push(NamedEstimate {
            name: "club: hung up".to_owned(),
            range: product(weight, &h.share).plus(along),
            source: h.source,
            how: h.how,
            used: false,
            note: "three weights where the vehicle hangs on rock".to_owned(),
        });
    }
    if let Some(t) = terra {
        out.push(NamedEstimate {
            name: "terramechanics: compaction under four rigid wheels".to_owned(),
            range: t.total.plus(along),
            source: "bekker",
            how: if t.how == How::Memory { t.how } else { How::Memory },
            used: terra_used,
            note: t
                .wheel
                .doubt
                .map_or_else(|| "neither bulldozing nor suction is in it".to_owned(), |d| d.text().to_owned()),
        });
    }
    out
}

fn join(a: &str, b: &str) -> String {
    if b.is_empty() { a.to_owned() } else { format!("{a}; {b}") }
}
