//! What drives a winch, and what it draws and does under load: as its maker printed it, or as somebody measured it.

use crate::{Charge, Current, Force, Input, Length, Ohms, Range, Speed, Time, Voltage};

/// One line of a data sheet: what the winch does at one pull on its first layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetPoint {
    /// Pull on the first layer.
    pub pull: Force,
    /// Current at that pull, if printed.
    pub current: Option<Current>,
    /// Speed of the line at that pull on the first layer, if printed.
    pub speed: Option<Speed>,
}

/// The battery that feeds a winch.
#[derive(Clone, Debug, PartialEq)]
pub struct Battery {
    /// Capacity as printed, at its slow rate.
    pub capacity: Input<Range<Charge>>,
    /// How full it is at the start, 0 to 1.
    pub filled: Input<Range<f64>>,
    /// Inner resistance with the cables, if measured.
    pub resistance: Option<Input<Range<Ohms>>>,
}

/// An electric motor and what feeds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Electrics {
    /// Voltage that it is made for: 12 V or 24 V.
    pub nominal: Input<Voltage>,
    /// The battery, if somebody told.
    pub battery: Option<Battery>,
    /// What the alternator has left for the winch while the engine runs, if told; nothing is counted otherwise.
    pub alternator: Option<Input<Range<Current>>>,
    /// Longest run at the rated pull from cold, if the maker says.
    pub run_at_rated: Option<Input<Range<Time>>>,
    /// Rest until it is cold again, if the maker says.
    pub rest: Option<Input<Range<Time>>>,
}

/// What turns the drum.
#[derive(Clone, Debug, PartialEq)]
pub enum Motor {
    /// An electric motor.
    Electric(Box<Electrics>),
    /// A hydraulic motor: no battery, and heat is no matter of minutes.
    Hydraulic,
    /// A driven capstan: the line goes round it and does not stay on it.
    Capstan {
        /// Whole turns that are laid on.
        turns: u32,
        /// Friction of this line on this capstan, if known.
        friction: Option<Input<Range<f64>>>,
        /// Diameter, if measured.
        diameter: Option<Length>,
    },
}

/// What drives a winch.
#[derive(Clone, Debug, PartialEq)]
pub struct Drive {
    /// What turns the drum.
    pub motor: Motor,
    /// Lines of its data sheet, by rising pull; empty if there is none.
    pub sheet: Vec<SheetPoint>,
}
