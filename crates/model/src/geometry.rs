//! Points and vectors, metres, right-handed: x along the stuck vehicle's heading, y to its left, z up.

use crate::Angle;
use core::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A vector, or a point seen from the origin: the ground under the middle of the stuck vehicle's wheelbase.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// Ahead of the stuck vehicle.
    pub x: f64,
    /// To its left.
    pub y: f64,
    /// Up.
    pub z: f64,
}

impl Vec3 {
    /// The origin.
    pub const ZERO: Self = Self::new(0.0, 0.0, 0.0);
    /// Up.
    pub const UP: Self = Self::new(0.0, 0.0, 1.0);
    /// From its coordinates.
    #[must_use]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }
    /// Scalar product.
    #[must_use]
    pub fn dot(self, o: Self) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }
    /// Vector product.
    #[must_use]
    pub fn cross(self, o: Self) -> Self {
        Self::new(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }
    /// Length.
    #[must_use]
    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }
    /// The unit vector along it, or nothing if it is too short to have a direction.
    #[must_use]
    pub fn unit(self) -> Option<Self> {
        let n = self.norm();
        if n > 1e-12 && n.is_finite() { Some(self * (1.0 / n)) } else { None }
    }
    /// The angle between two vectors, or nothing if one has no direction.
    #[must_use]
    pub fn angle_to(self, o: Self) -> Option<Angle> {
        let (a, b) = (self.unit()?, o.unit()?);
        Some(Angle::from_rad(libm::atan2(a.cross(b).norm(), a.dot(b))))
    }
    /// Turned about the vertical, left being positive.
    #[must_use]
    pub fn turned(self, angle: Angle) -> Self {
        let (s, c) = (angle.sin(), angle.cos());
        Self::new(c * self.x - s * self.y, s * self.x + c * self.y, self.z)
    }
    /// Seen from above.
    #[must_use]
    pub fn level(self) -> Self {
        Self::new(self.x, self.y, 0.0)
    }
    /// Whether all coordinates are ordinary numbers.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite() && self.z.is_finite()
    }
}
impl Add for Vec3 {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}
impl Sub for Vec3 {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}
impl Neg for Vec3 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}
impl Mul<f64> for Vec3 {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self::new(self.x * k, self.y * k, self.z * k)
    }
}
impl AddAssign for Vec3 {
    fn add_assign(&mut self, o: Self) {
        *self = *self + o;
    }
}
impl SubAssign for Vec3 {
    fn sub_assign(&mut self, o: Self) {
        *self = *self - o;
    }
}
