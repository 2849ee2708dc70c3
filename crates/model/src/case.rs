//! The case: everything that somebody said about one stuck vehicle.

use crate::anchor::Anchor;
use crate::gear::Piece;
use crate::ground::{Ground, Stretch, Stuck, WayOut};
use crate::kinetic::RunUp;
use crate::layout::Layout;
use crate::vehicle::{Helper, Vehicle};
use crate::{Angle, Vec3};

/// Which north a bearing counts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum North {
    /// True north.
    True,
    /// Magnetic north.
    Magnetic,
    /// The grid of a map.
    Grid,
}

/// What an obstacle bars.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bars {
    /// No line may cross it: a rock edge, a fence, water with a current, a road with traffic.
    Lines,
    /// It is people's only way out, and no loaded line may cross it.
    EscapePath,
}

/// Ground that no line may cross, as a closed polygon or an open polyline seen from above.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Its id.
    pub id: String,
    /// What it is, in words.
    pub what: String,
    /// What it bars.
    pub bars: Bars,
    /// Its corners; three or more make an area, two a line.
    pub outline: Vec<Vec3>,
    /// The line of the file.
    pub line: u32,
}

/// The people there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct People {
    /// How many.
    pub total: u32,
    /// How many were trained for this.
    pub trained: u32,
}

/// A case.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its title.
    pub title: String,
    /// The compass bearing of the stuck vehicle's heading, clockwise from north, if taken.
    pub heading: Option<(Angle, North)>,
    /// The stuck vehicle. Its frame is the case's frame.
    pub vehicle: Vehicle,
    /// How it is stuck.
    pub stuck: Stuck,
    /// The ground under it.
    pub ground: Ground,
    /// The way out.
    pub way_out: WayOut,
    /// Its stretches from where the vehicle stands; empty: straight on, and all of it as found.
    pub path: Vec<Stretch>,
    /// Anchors.
    pub anchors: Vec<Anchor>,
    /// Obstacles.
    pub obstacles: Vec<Obstacle>,
    /// Helpers' vehicles.
    pub helpers: Vec<Helper>,
    /// People.
    pub people: People,
    /// The kit.
    pub kit: Vec<Piece>,
    /// What it says of a kinetic pull; none: nothing.
    pub run_up: Option<RunUp>,
    /// A rig that somebody wants checked.
    pub rig: Option<Layout>,
    /// The policy that the case asks for, by name.
    pub policy: Option<String>,
}
impl Case {
    /// The unit vector of the way out along the ground, uphill included.
    #[must_use]
    pub fn way_out_direction(&self, grade: Angle) -> Vec3 {
        let level = Vec3::new(1.0, 0.0, 0.0).turned(self.way_out.bearing.value);
        level * grade.cos() + Vec3::UP * grade.sin()
    }
    /// A piece of the kit by its id.
    #[must_use]
    pub fn piece(&self, id: &str) -> Option<&Piece> {
        self.kit.iter().find(|p| p.id == id)
    }
    /// An anchor by its id.
    #[must_use]
    pub fn anchor(&self, id: &str) -> Option<&Anchor> {
        self.anchors.iter().find(|a| a.id == id)
    }
}
