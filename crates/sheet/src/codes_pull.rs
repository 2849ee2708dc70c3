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
    note(
        "sheet-outside",
        "The pull goes beyond the data sheet",
        "The last straight piece of the sheet is drawn on; beyond the rated pull the speed is taken to fall straight to nothing at the stall.",
        "Give the sheet's lines up to the rated pull.",
    ),
    note(
        "way-as-found",
        "Nobody said where the mire ends",
        "What the mire holds is taken over the whole way out, as the distance is told until ground it can drive on.",
        "Walk the way out and give its stretches: how long, what ground, how steep.",
    ),
    note(
        "way-drawn-on",
        "The stretches end before the way does",
        "The last stretch is drawn on to the high end of the distance.",
        "Give stretches up to ground it can drive on.",
    ),
    note(
        "actions-first-metres",
        "Digging helps where it was done",
        "Digging, draining and boards lower the need at the wheels. Ahead of them the mire is as it was, and the wheels may sink in again.",
        "Carry on with them as far as the mire reaches, or stop and do it again before the wheels sink in.",
    ),
    note(
        "two-blocking",
        "Block and hook meet",
        "A leg of the line has become as short as the fittings at its ends: drawn on, they are torn against each other or against the fairlead.",
        "Stop well before it. Rig to an anchor further out, or shorten the strap.",
    ),
    note(
        "winch-weak",
        "The puller is too weak there",
        "With more line on the drum it lies on a higher layer, where the winch pulls less than the work asks.",
        "Take a block for another part of line, pay line out, or lower the need.",
    ),
    note(
        "line-rubs",
        "A line comes to lie on an obstacle",
        "As the vehicle moves a leg swings across what no line may cross.",
        "Stop before it; turn the line with a block or rig from another anchor.",
    ),
    note(
        "no-need",
        "The slope takes it",
        "Nothing needs to be pulled there: the line goes slack and the vehicle can run.",
        "Let it down on a line that holds it back, and keep the low side clear.",
    ),
    note(
        "fairlead-limit",
        "The line leaves the fairlead too far from square",
        "It then piles up at one side of the drum and wears on the fairlead. Where the maker gives no limit the trade's 15 degrees stand in, from memory.",
        "Turn the line with a block nearer to square, or turn the vehicle.",
    ),
    note(
        "may-stall",
        "The motor may stop",
        "The pull reaches the low end of the winch's stall on that layer.",
        "Let go of the button when the line stands still.",
    ),
    note(
        "strap-slack",
        "A strap goes slack",
        "Legs that share no longer do: the others carry all of it.",
        "Move the block, or take the leg off before it jerks taut again.",
    ),
    note(
        "legs-open",
        "Legs open beyond 120 degrees",
        "Each leg then carries more than the whole pull.",
        "Lengthen the legs, or take anchors that stand closer.",
    ),
    note(
        "layer-change",
        "The next layer begins",
        "The same torque on a greater radius pulls less and winds faster.",
        "See that the line lies turn beside turn.",
    ),
    note(
        "motor-warm",
        "The motor is due for a rest at the cautious end",
        "By the shortest run that a maker gives, heat growing with the square of the current, the first run from cold is used up.",
        "Feel it; let it rest if it is too hot for a hand.",
    ),
    note(
        "motor-hot",
        "The motor is due for a rest",
        "By the likely run from cold, heat growing with the square of the current.",
        "Stop, secure the vehicle, let the motor get cold.",
    ),
    note(
        "battery-low",
        "The voltage may fall too far",
        "At the low end of what the battery gives it falls to where one stops.",
        "Keep the engine running, pull in short runs, watch the voltmeter.",
    ),
    note(
        "battery-flat",
        "The voltage falls too far",
        "By the likely figures of the battery it falls to where one stops: relays chatter and the motor heats.",
        "Stop; let the engine charge it, or bring a second battery.",
    ),
    note(
        "falls-short",
        "A part that was strong enough no longer is",
        "At the start the rig passes. Beyond this place a load has grown or a rule bars it.",
        "Stop there, secure the vehicle, and rig anew.",
    ),
    note(
        "no-balance",
        "The rig has no balance beyond this place",
        "No shape of the rig carries the pull any more.",
        "Stop before it and rig anew.",
    ),
    note(
        "no-next-rig",
        "No rig brings it further",
        "From there nothing in the kit and on the ground passes.",
        "Secure the vehicle there; find another anchor, another way out, or more gear.",
    ),
    note(
        "stages",
        "More stages than were asked for",
        "The planning of stages ends there, not the way.",
        "Ask for more stages.",
    ),
];
