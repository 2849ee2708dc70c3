//! Where on the page a point of the ground is: one scale both ways, the way out pointing up.

use unmire_model::{Angle, Vec3};

/// A place on the page.
pub(super) type Spot = (f64, f64);

/// A box on the page or on the ground: least and greatest of both coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub min: Spot,
    pub max: Spot,
}
impl Area {
    /// The box of some places; none if there is no place.
    pub fn of(places: impl IntoIterator<Item = Spot>) -> Option<Self> {
        let mut all = places.into_iter().filter(|p| p.0.is_finite() && p.1.is_finite());
        let first = all.next()?;
        Some(all.fold(Self { min: first, max: first }, Self::with))
    }
    /// Grown so that it holds a place.
    pub fn with(self, p: Spot) -> Self {
        Self { min: (self.min.0.min(p.0), self.min.1.min(p.1)), max: (self.max.0.max(p.0), self.max.1.max(p.1)) }
    }
    /// Grown by so much on every side.
    pub fn grown(self, by: f64) -> Self {
        Self { min: (self.min.0 - by, self.min.1 - by), max: (self.max.0 + by, self.max.1 + by) }
    }
    pub fn width(self) -> f64 {
        self.max.0 - self.min.0
    }
    pub fn height(self) -> f64 {
        self.max.1 - self.min.1
    }
    pub fn middle(self) -> Spot {
        (0.5 * (self.min.0 + self.max.0), 0.5 * (self.min.1 + self.max.1))
    }
    pub fn holds(self, p: Spot) -> bool {
        p.0 >= self.min.0 && p.0 <= self.max.0 && p.1 >= self.min.1 && p.1 <= self.max.1
    }
    /// The area that two boxes share.
    pub fn shared(self, o: Self) -> f64 {
        let w = self.max.0.min(o.max.0) - self.min.0.max(o.min.0);
        let h = self.max.1.min(o.max.1) - self.min.1.max(o.min.1);
        if w > 0.0 && h > 0.0 { w * h } else { 0.0 }
    }
}

/// How the ground is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum View {
    /// From above, this direction (left of x positive) pointing up the page.
    Plan {
        /// The direction.
        up: Angle,
    },
    /// From the side: x or y to the right, z up.
    Side {
        /// Whether y is to the right and not x.
        along_y: bool,
    },
}
impl View {
    /// Right and down, in metres.
    pub fn flat(self, p: Vec3) -> Spot {
        match self {
            Self::Plan { up } => {
                let (s, c) = (up.sin(), up.cos());
                (p.x * s - p.y * c, -(p.x * c + p.y * s))
            }
            Self::Side { along_y: false } => (p.x, -p.z),
            Self::Side { along_y: true } => (p.y, -p.z),
        }
    }
}

/// The mapping of one panel.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    view: View,
    /// Page units a metre.
    pub scale: f64,
    middle: Spot,
    /// The panel on the page.
    pub panel: Area,
}
impl Frame {
    /// Fits a piece of ground (in the view's metres) into a panel at a place, no wider and no higher than given.
    pub fn fit(view: View, ground: Area, at: Spot, width: f64, height: (f64, f64)) -> Self {
        let (w, h) = (ground.width().max(1e-3), ground.height().max(1e-3));
        let scale = (width / w).min(height.1 / h);
        let high = (h * scale).clamp(height.0, height.1);
        let panel = Area { min: at, max: (at.0 + width, at.1 + high) };
        Self { view, scale, middle: ground.middle(), panel }
    }
    /// Where a point is on the page; nowhere if it is no ordinary point.
    pub fn spot(&self, p: Vec3) -> Option<Spot> {
        p.is_finite().then(|| self.place(self.view.flat(p)))
    }
    /// Where a point seen from above is on the page; nowhere if it is no ordinary point.
    pub fn level(&self, p: (f64, f64)) -> Option<Spot> {
        self.spot(Vec3::new(p.0, p.1, 0.0))
    }
    /// Where corners seen from above are.
    pub fn outline(&self, corners: &[(f64, f64)]) -> Vec<Spot> {
        corners.iter().filter_map(|c| self.level(*c)).collect()
    }
    fn place(&self, flat: Spot) -> Spot {
        let c = self.panel.middle();
        (c.0 + (flat.0 - self.middle.0) * self.scale, c.1 + (flat.1 - self.middle.1) * self.scale)
    }
    /// The direction of a level vector on the page, of length one; none for no direction.
    pub fn direction(&self, v: Vec3) -> Option<Spot> {
        let f = self.view.flat(v);
        let len = libm::hypot(f.0, f.1);
        (len > 1e-9).then(|| (f.0 / len, f.1 / len))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_the_way_out_points_up_and_left_stays_left() {
        let v = View::Plan { up: Angle::from_deg(30.0) };
        let out = v.flat(Vec3::new(1.0, 0.0, 0.0).turned(Angle::from_deg(30.0)));
        assert!(out.0.abs() < 1e-12 && (out.1 + 1.0).abs() < 1e-12);
        let left = v.flat(Vec3::new(1.0, 0.0, 0.0).turned(Angle::from_deg(120.0)));
        assert!((left.0 + 1.0).abs() < 1e-12 && left.1.abs() < 1e-12);
    }

    #[test]
    fn closed_form_distances_are_to_scale() {
        let ground = Area { min: (-10.0, -20.0), max: (10.0, 20.0) };
        let f = Frame::fit(View::Plan { up: Angle::from_deg(0.0) }, ground, (5.0, 7.0), 600.0, (100.0, 500.0));
        let (a, b) = (f.level((3.0, 1.0)).unwrap(), f.level((0.0, 5.0)).unwrap());
        assert!((libm::hypot(a.0 - b.0, a.1 - b.1) - 5.0 * f.scale).abs() < 1e-9);
        assert!(f.outline(&[(20.0, 10.0), (-20.0, -10.0)]).into_iter().all(|p| f.panel.holds(p)));
        assert_eq!(f.level((f64::NAN, 0.0)), None);
    }
}
