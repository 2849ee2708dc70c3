//! Whether the vehicle can run away once it is free.

use unmire_model::ground::WayOut;

/// Whether the vehicle can run away once it is free: the slope along its wheels now, or along the way out where it will stand,
/// against the least rolling resistance of firm ground.
///
/// # Source
/// `statics`; least rolling share 0.01, `carvill-1993` (secondary).
#[must_use]
pub fn can_run_away(way_out: &WayOut) -> bool {
    let least = 0.01;
    [way_out.grade.value.low(), way_out.grade.value.high()].into_iter().any(|grade| {
        let nose = crate::stability::ground_axes(way_out, grade).nose_slope();
        let tan = grade.abs().max(nose.abs()).tan();
        // Not a number counts as steep.
        tan > least || tan.is_nan()
    })
}
