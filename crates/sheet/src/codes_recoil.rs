//! The text behind the codes of recoil: what flies when something lets go, and the ground to keep clear.

use crate::codes::{Note, note};

/// Remarks about recoil.
pub(crate) const NOTES: &[Note] = &[
    note(
        "recoil-unknown",
        "How hard it recoils is not known",
        "The energy in a line and the speed of what flies hang on the stiffness and the mass of every part that stretches. For one of \
         them the label, the diameter or the material is missing, so that no bound can be given: not even a high one.",
        "Give what the line says is missing. Until then treat every bound of this rig as too low.",
    ),
    note(
        "recoil-stall-unknown",
        "The pull at stall is not known",
        "The energy grows with the square of the pull. Nobody knows at which pull this puller stops, so neither energy nor speed has a \
         bound.",
        "Give the stall, or the rating of the hand winch.",
    ),
    note(
        "flying-mass-assumed",
        "What flies was not weighed",
        "A shackle is taken by its rating from a supplier's sheet, between the next smaller and the next larger size; other fittings \
         from bands of our own judgement. The low end counts for the speed, the high end for the energy that a fitting carries.",
        "Weigh the piece and give its mass in the kit.",
    ),
    note(
        "line-mass-assumed",
        "The mass of a strap or a line is a band",
        "A light line recoils faster than a heavy one of the same stretch. Where neither mass nor diameter is known a band by the \
         strength stands in, our own judgement, from about half of what fitted rope has.",
        "Weigh the piece and give its mass in the kit.",
    ),
    note(
        "line-material-assumed",
        "Nobody says of what the line is",
        "The softest that it can be counts for the energy, the lightest for the speed: webbing for the line of a hand winch, any strap \
         for a strap. Both bounds are then much too high for wire or chain.",
        "Say of what it is, where the file has a place for it.",
    ),
    note(
        "stretch-assumed",
        "How far the line stretches is not known",
        "The ground to keep clear counts the longest line with its stretch. Without a label, or a row for its material, a tenth of its \
         length stands in: our own judgement.",
        "Give its label and, if it is printed, its stretch.",
    ),
    note(
        "whip-not-bounded",
        "A bare line that whips has no bound here",
        "The speeds are bounds for what flies along a line and for fittings that are thrown. A bare line that is let go in a bend swings \
         sideways, and its tip can be several times faster. Published tests of mooring ropes saw 230 m/s.",
        "Keep the whole ground clear; no side of a loaded line is harmless.",
    ),
    note(
        "backing-not-reckoned",
        "What backs an anchor is not reckoned",
        "A strap or a chain from one anchor to the next takes a share of the load that hangs on how far the first one gives. Its energy \
         is left out; the ground round the second anchor is not.",
        "Keep away from the second anchor as from the first.",
    ),
];
