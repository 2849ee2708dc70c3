//! What comes out of one kinetic pull.

use unmire_model::{Energy, Force, Length, Speed, Time};

/// Why the reckoning ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The rope never became taut: the puller stops within the slack or does not start.
    NeverTaut,
    /// The rope went slack; what moves then coasts.
    Slack,
    /// Both stand, the rope still holds them: mind the tension that is left in it.
    AtRest,
    /// The rope parted.
    Parted,
    /// The stuck vehicle came as far as was asked; the driver lifts off.
    TravelReached,
    /// The time was up with something still moving.
    StillMoving,
}

/// Something that happens during a pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// The rope is taut.
    Taut,
    /// The stuck vehicle breaks away.
    BreaksAway,
    /// The stuck vehicle comes to rest and sticks.
    Sticks,
    /// The stuck vehicle starts to roll back.
    RollsBack,
    /// The puller has been stopped; from here on it brakes.
    PullerStops,
    /// The rope drags the braked puller back.
    PullerDragged,
    /// The dragged puller comes to rest.
    PullerHolds,
    /// The rope is at a greatest stretch.
    GreatestStretch,
    /// The rope is stretched beyond its greatest stretch before.
    BeyondFormer,
    /// The rope goes slack.
    Slack,
    /// The rope parts.
    Parts,
    /// The stuck vehicle has come as far as was asked.
    TravelReached,
}

/// The state at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Since the rope became taut.
    pub time: Time,
    /// Tension.
    pub tension: Force,
    /// Stretch of the rope; zero or less: slack.
    pub stretch: Length,
    /// Way of the puller since the rope became taut.
    pub puller_travel: Length,
    /// Speed of the puller.
    pub puller_speed: Speed,
    /// Way of the stuck vehicle.
    pub stuck_travel: Length,
    /// Speed of the stuck vehicle.
    pub stuck_speed: Speed,
    /// What happened then; none for a sample between.
    pub event: Option<Event>,
}

/// Where the energy came from and went. What comes in is positive in the first three, what goes or stays is positive in the others.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Energies {
    /// Motion of the puller when the rope became taut.
    pub run_up: Energy,
    /// Work of the puller's traction.
    pub traction: Energy,
    /// Work of both weights along their slopes; negative uphill.
    pub weights: Energy,
    /// Work against what held the stuck vehicle, the coasting after slack not counted.
    pub resistance: Energy,
    /// Work of the braked puller that was dragged back.
    pub dragging: Energy,
    /// Heat in the rope: way back and viscous term.
    pub rope_loss: Energy,
    /// What the rope still holds at the end and would give back.
    pub rope_left: Energy,
    /// Most that the rope took up, by its loading law.
    pub rope_greatest: Energy,
    /// Motion of both at the end.
    pub motion_left: Energy,
    /// What came in less what went out and stayed: zero but for rounding.
    pub unaccounted: Energy,
}

/// What comes out of one kinetic pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// Speed at which the rope becomes taut.
    pub closing_speed: Speed,
    /// Greatest tension.
    pub peak: Force,
    /// When.
    pub peak_at: Time,
    /// Greatest stretch.
    pub stretch: Length,
    /// Greatest strain: stretch ÷ slack length.
    pub strain: f64,
    /// Peak ÷ breaking strength, where the rope has one.
    pub share_of_breaking: Option<f64>,
    /// When the stuck vehicle broke away; none: it did not.
    pub broke_away_at: Option<Time>,
    /// The moment at which the puller was first stopped; none: it was not.
    pub puller_stopped: Option<Sample>,
    /// Travel of the stuck vehicle up to the end.
    pub travel_in_line: Length,
    /// How far it coasts from there by itself; none: it does not stop by itself, or the time was up.
    pub coast: Option<Length>,
    /// Both together.
    pub travel: Length,
    /// Greatest speed of the stuck vehicle.
    pub stuck_speed: Speed,
    /// Speed of the stuck vehicle at the end.
    pub stuck_speed_at_end: Speed,
    /// Speed of the puller at the end. Where the rope went slack and it is not zero, staying on the throttle snatches once more.
    pub puller_speed_at_end: Speed,
    /// Tension at the end.
    pub tension_at_end: Force,
    /// Whether the stuck vehicle, come to rest, would roll back: its slope is steeper than the ground there holds.
    pub rolls_back: bool,
    /// Whether the stretch went beyond what the loading law is made for.
    pub beyond_law: bool,
    /// Why the reckoning ended.
    pub end: End,
    /// When.
    pub ended_at: Time,
    /// The energies.
    pub energy: Energies,
    /// Steps in time that it took.
    pub steps: u32,
}

/// An outcome with what happened on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    /// The outcome.
    pub outcome: Outcome,
    /// One sample a step and one an event, in time order; the coasting after slack is not in it.
    pub samples: Vec<Sample>,
}
