//! Kinetic pulls: what is told of a rope that is made to stretch, what a case says of the run-up, and a bare problem of two masses
//! and a rope with no vehicle or ground.

use crate::{Angle, Force, Input, Length, Mass, Range, Speed, Time};

/// What a rope went through before this pull. It sets the stiffness more than anything else.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RopeState {
    /// Never loaded.
    New,
    /// Loaded before, and rested since.
    Worked,
    /// Pulled within the last quarter of an hour or so: not yet recovered.
    JustUsed,
    /// Not told: the whole band.
    #[default]
    Unknown,
}
impl RopeState {
    /// Every state, with the key of its row in table `kinetic_law`.
    pub const ALL: [(Self, &'static str); 4] =
        [(Self::New, "new"), (Self::Worked, "worked"), (Self::JustUsed, "just-used"), (Self::Unknown, "unknown")];
    /// The key of its row.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Worked => "worked",
            Self::JustUsed => "just-used",
            Self::Unknown => "unknown",
        }
    }
}

/// A measured stretch of a rope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elongation {
    /// Share of the breaking strength at which it was measured.
    pub at: f64,
    /// Stretch there ÷ slack length.
    pub stretch: f64,
}

/// What is told of a rope or strap that is made to stretch, beyond its label and its size.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stretching {
    /// How it is made: `double braid`, `plaited`; for the reader only.
    pub construction: Option<String>,
    /// What it went through.
    pub state: RopeState,
    /// Whether it is wet through; none: as wet as the case's ground.
    pub wet: Option<bool>,
    /// Measured stretches, by rising share and rising stretch; empty if there are none.
    pub elongation: Vec<Elongation>,
}
impl Stretching {
    /// Whether nothing is told.
    #[must_use]
    pub fn is_silent(&self) -> bool {
        *self == Self::default()
    }
}

/// What a case says of a kinetic pull.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RunUp {
    /// Speed at which the rope becomes taut.
    pub speed: Option<Input<Range<Speed>>>,
    /// Slack that is laid out.
    pub slack: Option<Input<Range<Length>>>,
    /// Way that one pull must bring it.
    pub travel: Option<Input<Length>>,
    /// Fastest speed that is looked at.
    pub fastest: Option<Input<Speed>>,
    /// Share of what holds it that still holds once it has moved.
    pub moving: Option<Input<Range<f64>>>,
    /// Way over which that falls to 37 % of the difference.
    pub over: Option<Input<Length>>,
}

/// What holds the stuck one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Resistance {
    /// The same all the way.
    Constant(Force),
    /// `R(s) = R_m + (R_b − R_m) e^(−s/d)` after s metres: it breaks away and then runs easier.
    Decaying {
        /// To break away: R_b.
        breakaway: Force,
        /// Far from there: R_m, not more than R_b.
        moving: Force,
        /// Way d over which the difference falls to 37 %.
        over: Length,
    },
    /// It does not move.
    Fixed,
}

/// The loading law of a bare problem's rope; strain is stretch ÷ slack length.
#[derive(Clone, Debug, PartialEq)]
pub enum BareLaw {
    /// Force in proportion to strain.
    Linear {
        /// A force.
        strength: Force,
        /// The strain at that force.
        strain: f64,
    },
    /// `strength · (ε / strain)^exponent`.
    Power {
        /// Breaking strength that scales it.
        strength: Force,
        /// Strain there.
        strain: f64,
        /// Exponent.
        exponent: f64,
    },
    /// `strength · (c₁u + c₂u² + c₃u³)`, `u = ε / strain`; the three add up to one.
    Polynomial {
        /// Breaking strength that scales it.
        strength: Force,
        /// Strain there.
        strain: f64,
        /// The three coefficients.
        c: [f64; 3],
    },
    /// Straight lines between points of strain and force.
    Measured(Vec<(f64, Force)>),
}

/// The rope of a bare problem.
#[derive(Clone, Debug, PartialEq)]
pub struct BareRope {
    /// Slack length.
    pub length: Length,
    /// Loading law.
    pub law: BareLaw,
    /// Way back: share of the greatest stretch that is left when slack, and the exponent; none: it comes back as it went.
    pub unloading: Option<(f64, f64)>,
    /// More force for every metre a second by which it is being stretched, N·s/m.
    pub viscous: f64,
    /// Force at which it parts; none: never.
    pub breaking: Option<Force>,
}

/// The puller of a bare problem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarePuller {
    /// All of it that moves.
    pub mass: Mass,
    /// Speed at the start of the slack.
    pub speed: Speed,
    /// What its tyres give along the line while it drives, less its own rolling resistance.
    pub traction: Force,
    /// Rise of its ground in the direction of the pull.
    pub slope: Angle,
    /// What its brakes hold once it has been stopped; none: it stands like a rock.
    pub brakes: Option<Force>,
}

/// The stuck one of a bare problem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BareStuck {
    /// All of it that moves.
    pub mass: Mass,
    /// What holds it.
    pub resistance: Resistance,
    /// Rise of its ground in the direction of the pull.
    pub slope: Angle,
}

/// What is asked about the run-up of a bare problem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BareAsked {
    /// Way that counts as freed.
    pub travel: Length,
    /// Greatest tension that the weakest part allows.
    pub limit: Force,
    /// Fastest closing speed that is looked at.
    pub fastest: Speed,
}

/// A bare kinetic problem: exactly the numbers given, no vehicle and no ground.
#[derive(Clone, Debug, PartialEq)]
pub struct BarePull {
    /// A title.
    pub title: Option<String>,
    /// The one that pulls.
    pub puller: BarePuller,
    /// The one that is stuck.
    pub stuck: BareStuck,
    /// The rope.
    pub rope: BareRope,
    /// Slack that the puller drives through.
    pub slack: Length,
    /// Way of the stuck one at which the driver lifts off; none: never.
    pub travel_limit: Option<Length>,
    /// When the reckoning ends at the latest; none: the usual 20 s.
    pub time_limit: Option<Time>,
    /// What is asked about the run-up; none: nothing.
    pub asked: Option<BareAsked>,
}
