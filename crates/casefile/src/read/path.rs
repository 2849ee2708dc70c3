//! The stretches of the way out.

use super::site::{self, Survey};
use crate::walk::{Mistake, Node, Walk};
use unmire_model::Length;
use unmire_model::ground::{Ahead, Stretch};

/// The stretches under the way out; none if there is one straight way.
pub(super) fn stretches(w: &mut Walk<'_>, way_out: &Node<'_, '_>, survey: &Survey) -> Vec<Stretch> {
    if !way_out.has("stretch") {
        return Vec::new();
    }
    let nodes = way_out.tables(w, "stretch").unwrap_or_default();
    nodes.iter().filter_map(|n| stretch(w, n, survey)).collect()
}

fn stretch(w: &mut Walk<'_>, n: &Node<'_, '_>, survey: &Survey) -> Option<Stretch> {
    let surfaces = w.known.surfaces;
    let length = n.input_one::<Length>(w, "length");
    let turned = n.has("direction") || n.has("bearing");
    let bearing = if turned { site::direction(w, n, survey, "direction", "bearing") } else { None };
    let grade = n.input_slopes(w, "grade");
    let side_slope = n.input_slope(w, "side_slope");
    let surface = n.table_key(w, "surface", surfaces);
    let holds = n.input_range::<f64>(w, "holds");
    let ahead = match (surface, holds) {
        (Some(_), Some(_)) => {
            w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of("holds"),
                    "`surface` says that it rolls on this stretch, and `holds` how much the ground holds",
                )
                .expected("one of them")
                .hint("`holds` includes rolling; keep it where the ground holds more than rolling"),
            );
            return None;
        }
        (Some(s), None) => Ahead::Surface(s),
        (None, Some(h)) => Ahead::Share(h),
        (None, None) => Ahead::AsFound,
    };
    Some(Stretch { length: length?, bearing, grade, side_slope, ahead })
}
