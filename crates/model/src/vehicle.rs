//! Vehicles: the stuck one and the helpers, their recovery points and winches.

use crate::anchor::TieBack;
use crate::drive::Drive;
use crate::gear::{Label, Material};
use crate::{Angle, Force, Input, Length, Mass, Range, Vec3};

/// What the hook would be on. Only a recovery point may be pulled on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PointKind {
    /// A chassis fitting made and rated for recovery.
    RecoveryPoint,
    /// A tow ball. Refused.
    TowBall,
    /// A transport tie-down. Refused.
    TieDown,
    /// A part of the suspension, steering or axle. Refused.
    Suspension,
    /// A bar, bumper, rack or step without a rating. Refused.
    UnratedBar,
    /// Nobody knows what it is. Refused until known.
    Unidentified,
}

/// A place on a vehicle where gear can be attached.
#[derive(Clone, Debug, PartialEq)]
pub struct RecoveryPoint {
    /// Its id; unique over the vehicle.
    pub id: String,
    /// What it is.
    pub kind: PointKind,
    /// Position in the vehicle's own frame: x ahead of the middle of the wheelbase, y left, z above the ground.
    pub position: Vec3,
    /// The direction in which it is made to be pulled, in the vehicle's frame.
    pub direction: Option<Vec3>,
    /// The most that the pull may deviate from that direction, if the maker says.
    pub cone: Option<Angle>,
    /// Its rating.
    pub label: Label,
    /// The line of the file.
    pub line: u32,
}

/// A drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drum {
    /// Diameter of the bare barrel.
    pub diameter: Length,
    /// Width between the flanges.
    pub width: Length,
}

/// The line on a winch.
#[derive(Clone, Debug, PartialEq)]
pub struct WinchLine {
    /// Of what.
    pub material: Material,
    /// Diameter.
    pub diameter: Length,
    /// Length from the drum's fixing to the end.
    pub length: Length,
    /// Its rating, nearly always a breaking strength.
    pub label: Label,
}

/// A winch on a vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct Winch {
    /// Its id; unique over the case.
    pub id: String,
    /// Where the line leaves the fairlead, in the vehicle's frame.
    pub position: Vec3,
    /// The direction square to the drum, outwards, in the vehicle's frame.
    pub direction: Vec3,
    /// Rated pull on the first layer.
    pub rated_pull: Input<Force>,
    /// What it pulls before it stops, first layer, if measured or published.
    pub stall: Option<Input<Range<Force>>>,
    /// The drum, if measured.
    pub drum: Option<Drum>,
    /// The line.
    pub line: WinchLine,
    /// Turns that must stay on the drum, if the maker says.
    pub min_wraps: Option<u32>,
    /// Rating of the mount on the chassis.
    pub mount: Label,
    /// The most that the line may leave the fairlead away from square, if the maker says.
    pub fairlead_limit: Option<Angle>,
    /// Whether current against pull was calibrated on this very winch.
    pub current_calibrated: bool,
    /// What drives it; nobody said counts as electric at 12 V, with a finding.
    pub drive: Option<Drive>,
    /// The line of the file.
    pub line_no: u32,
}

/// Tyres, for terramechanics and contact pressure.
#[derive(Clone, Debug, PartialEq)]
pub struct Tyres {
    /// Outer diameter.
    pub diameter: Length,
    /// Width of the tread.
    pub width: Length,
}

/// A vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct Vehicle {
    /// Its name, which is its id too.
    pub name: String,
    /// Mass as it stands without what is listed as payload.
    pub mass: Input<Range<Mass>>,
    /// What it carries: people, water, load, mud that sticks.
    pub payload: Option<Input<Range<Mass>>>,
    /// Distance between the axles.
    pub wheelbase: Option<Input<Length>>,
    /// Distance between the middles of the left and right tyres.
    pub track: Option<Input<Length>>,
    /// Height of the centre of gravity as loaded.
    pub cg_height: Option<Input<Range<Length>>>,
    /// Where gear can be attached.
    pub points: Vec<RecoveryPoint>,
    /// Its winch.
    pub winch: Option<Winch>,
    /// Its tyres.
    pub tyres: Option<Tyres>,
}
impl Vehicle {
    /// All that moves: mass and payload.
    #[must_use]
    pub fn moving_mass(&self) -> Range<Mass> {
        match &self.payload {
            Some(p) => self.mass.value.plus(&p.value),
            None => self.mass.value,
        }
    }
}

/// A helper's vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct Helper {
    /// The vehicle.
    pub vehicle: Vehicle,
    /// The ground under the middle of its wheelbase, in the case's frame.
    pub position: Vec3,
    /// Its heading, left of the stuck vehicle's heading being positive.
    pub heading: Angle,
    /// Friction of its tyres on its ground.
    pub friction: Option<Input<Range<f64>>>,
    /// Slope of its ground along its own heading, nose-up being positive.
    pub slope: Input<Angle>,
    /// Share of its weight that stands on braked or chocked wheels.
    pub braked_share: Input<Range<f64>>,
    /// Whether every wheel stands against a chock on the side that it would roll or slide to. `None` means nobody said.
    pub chocked: Option<bool>,
    /// The helper whose vehicle holds it from behind, and the piece between their recovery points.
    pub backed_by: Option<TieBack>,
    /// Whether it can drive: a steady tow.
    pub can_tow: bool,
    /// The line of the file.
    pub line: u32,
}
impl Helper {
    /// A point of the helper's own frame in the case's frame.
    #[must_use]
    pub fn to_case(&self, p: Vec3) -> Vec3 {
        self.position + p.turned(self.heading)
    }
    /// A direction of the helper's own frame in the case's frame.
    #[must_use]
    pub fn direction_to_case(&self, d: Vec3) -> Vec3 {
        d.turned(self.heading)
    }
}
