//! Rows about anchors that share a pull: small rigs put together from a row's numbers.

use crate::row::Row;
use unmire_mechanics::anchor::sharing::{AnchorShare, Joined, SharingLeg, share};
use unmire_model::{Force, Length, Range, Silent, Vec3};

fn exact(v: f64) -> Range<f64> {
    Range::hull(v, v, v)
}

/// A leg that all but keeps its length, on an anchor of this stiffness.
fn leg(x: f64, y: f64, long: f64, ea: f64, k: f64) -> SharingLeg {
    let ea = Force::from_n(ea);
    SharingLeg {
        anchor: Vec3::new(x, y, 0.0),
        length: Length::from_m(long),
        error: Length::ZERO,
        ea: Range::hull(ea, ea, ea),
        stiffness: exact(k),
    }
}

/// The first or second anchor's part of a pull along x.
///
/// - `a`, `b`: two legs of 7.9 m on all but rigid anchors, at these angles to the pull.
/// - `k1`, `k2`, `k3`: legs side by side on anchors of these stiffnesses.
/// - `friction`: a line through a ring far away, its ends on two anchors close together.
pub fn shared(r: &Row) -> Result<AnchorShare, String> {
    let pull = Vec3::new(r.num("pull")?, 0.0, 0.0);
    let (legs, how) = if r.has("a") {
        let (a, b, long) = (r.num("a")?, r.num("b")?, 7.9);
        let at = |angle: f64, side: f64| leg(-long * libm::cos(angle), side * long * libm::sin(angle), long, 1e12, 1e9);
        (vec![at(a, 1.0), at(b, -1.0)], Joined::Fixed)
    } else if r.has("friction") {
        let at = |side: f64| leg(0.0, side * 1e-3, 50.0, 1e7, 1e9);
        let how = Joined::Equalising { friction: exact(r.num("friction")?), between: None };
        (vec![at(1.0), at(-1.0)], how)
    } else {
        let k = |key: &str| r.has(key).then(|| r.num(key)).transpose();
        let all = [k("k1")?, k("k2")?, k("k3")?];
        (all.into_iter().flatten().map(|k| leg(0.0, 0.0, 3.0, 1e12, k)).collect(), Joined::Fixed)
    };
    let which: usize = r.count("anchor")?.try_into().map_err(|e| format!("{e}"))?;
    let all = share(pull, &legs, &how, &mut Silent).map_err(|e| e.to_string())?;
    all.anchors.get(which.wrapping_sub(1)).cloned().ok_or_else(|| format!("there is no anchor {which}"))
}
