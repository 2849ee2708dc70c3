//! The vehicle's axes on its ground, in the case's frame.

use unmire_model::ground::WayOut;
use unmire_model::{Angle, Vec3};

/// Unit vectors of the vehicle as it stands on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroundAxes {
    /// Ahead along the ground.
    pub ahead: Vec3,
    /// To its left along the ground.
    pub left: Vec3,
    /// Square to the ground.
    pub up: Vec3,
}
impl GroundAxes {
    /// A point of the vehicle's own frame (ahead, left, above the ground) in the case's frame.
    ///
    /// # Source
    /// `statics` (change of axes).
    #[must_use]
    pub fn point(&self, p: Vec3) -> Vec3 {
        self.ahead * p.x + self.left * p.y + self.up * p.z
    }
    /// A vector of the case's frame by the vehicle's axes: ahead, left, up.
    ///
    /// # Source
    /// `statics` (change of axes).
    #[must_use]
    pub fn parts(&self, v: Vec3) -> Vec3 {
        Vec3::new(v.dot(self.ahead), v.dot(self.left), v.dot(self.up))
    }
    /// Side slope under the vehicle, its left side high being positive.
    ///
    /// # Source
    /// `statics`: the rise of the left axis.
    #[must_use]
    pub fn side_slope(&self) -> Angle {
        Angle::from_rad(libm::asin(self.left.z.clamp(-1.0, 1.0)))
    }
    /// Slope under the vehicle along its heading, nose high being positive.
    ///
    /// # Source
    /// `statics`: the rise of the forward axis.
    #[must_use]
    pub fn nose_slope(&self) -> Angle {
        Angle::from_rad(libm::asin(self.ahead.z.clamp(-1.0, 1.0)))
    }
}

/// The vehicle's axes from the way out: the ground plane rises by the grade along the way out and by the side slope across it
/// (left high positive); the vehicle's heading is the case's x axis seen from above.
///
/// # Source
/// `statics` (plane through two slopes), derived.
#[must_use]
pub fn ground_axes(way_out: &WayOut, grade: Angle) -> GroundAxes {
    let along = Vec3::new(1.0, 0.0, 0.0).turned(way_out.bearing.value);
    let across = Vec3::new(0.0, 1.0, 0.0).turned(way_out.bearing.value);
    let (ga, gc) = (grade.tan(), way_out.side_slope.value.tan());
    let rise = |v: Vec3| Vec3::new(v.x, v.y, v.dot(along) * ga + v.dot(across) * gc);
    let level = GroundAxes { ahead: Vec3::new(1.0, 0.0, 0.0), left: Vec3::new(0.0, 1.0, 0.0), up: Vec3::UP };
    let ahead = rise(Vec3::new(1.0, 0.0, 0.0)).unit().unwrap_or(level.ahead);
    let across_ground = rise(Vec3::new(0.0, 1.0, 0.0));
    let up = ahead.cross(across_ground).unit().unwrap_or(level.up);
    GroundAxes { ahead, left: up.cross(ahead), up }
}
