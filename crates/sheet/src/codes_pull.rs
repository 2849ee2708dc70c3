//! The texts behind the remarks about a pull from start to end: drive, heat, battery, path.

use crate::codes::{Note, note};

/// These remarks.
pub(crate) const NOTES: &[Note] = &[
    note(
        "drive-assumed",
        "What drives the winch is not told",
        "An electric motor at 12 V stands in. Current, speed, heat and charge all hang on it.",
        "Say what drives it: electric with its voltage, hydraulic, or a capstan.",
    ),
    note(
        "current-assumed",
        "The current is a band",
        "No data sheet of this winch is given. A straight line through what one trade page prints for a 9,000 lb winch stands in, \
         by the share of the rated pull, with wide ends.",
        "Give two or more lines of its data sheet, or clamp a meter round its cable.",
    ),
    note(
        "speed-assumed",
        "The speed of the line is a band",
        "No data sheet of this winch is given. An envelope of three published winches stands in: a factor of two from end to end, \
         and so are the time, the charge and the heat.",
        "Give two or more lines of its data sheet, or time a metre of line under load.",
    ),
    note(
        "sheet-fitted",
        "The data sheet goes up and down",
        "Current must rise with the pull and speed must fall. The points do not; one straight line through all of them stands in.",
        "Look for a slip of the pen in the points.",
    ),
    note(
        "duty-assumed",
        "How long the motor may run is a band",
        "Makers and other texts differ by a factor of nine. The low end is a maker's twenty seconds at the full rated pull, the \
         high end three minutes from hobby texts; heat grows with the square of the current.",
        "Give the maker's longest run and rest. Feel the motor: too hot for a hand is too hot to go on.",
    ),
    note(
        "battery-untold",
        "The battery is not described",
        "The charge that is drawn is told; what is left in the battery and how far its voltage sags is not known.",
        "Give its capacity, how full it is, and what the alternator spares. Keep the engine running while you winch.",
    ),
];
