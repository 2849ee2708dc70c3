//! The text behind the codes of kinetic pulls.

use crate::codes::{Note, note};

/// Remarks about kinetic pulls.
pub(crate) const NOTES: &[Note] = &[
    note(
        "kinetic-may-part",
        "The rope may part",
        "At the high end of everything the peak is not below the least force at which the rope may part. A rope that parts \
         throws what hangs on it.",
        "Slower, or a stronger and not shorter rope, or dig first. Nobody stands near.",
    ),
    note(
        "kinetic-beyond-law",
        "The rope is stretched beyond its law",
        "The law of its stretch ends at the breaking strength or at the last measured point; beyond it the last slope was \
         drawn on. The number is no more than a hint there.",
        "Slower; or give more points of the rope's law.",
    ),
    note(
        "kinetic-rolls-on",
        "Once free it does not stop by itself",
        "The slope takes more than the ground holds once the vehicle is free: it rolls on, towards the puller.",
        "Somebody at its brakes, chocks ready, the puller out of its way; or lower it on a line instead.",
    ),
    note(
        "kinetic-rolls-back",
        "It would roll back",
        "Where it comes to rest its slope takes more than the ground there holds.",
        "Somebody at its brakes, a chock that follows the wheel, or a holding line.",
    ),
    note(
        "kinetic-still-moving",
        "Still moving at the time limit",
        "Something was still moving when the reckoning ended: its travel is counted up to then.",
        "State the travel at which the driver lifts off.",
    ),
    note(
        "kinetic-snatch-again",
        "A second snatch",
        "When the rope goes slack the puller still moves: who stays on the throttle makes the rope taut once more, at a speed \
         that nobody chose. That snatch is not in the peak.",
        "Lift off as soon as the stuck vehicle moves, and brake when the rope falls.",
    ),
    note(
        "kinetic-puller-like-a-rock",
        "The stopped puller is taken for a rock",
        "What its brakes hold on its ground is not told. Taken to stand like a rock, it gives the stuck vehicle all that the rope \
         gives back: the travel is on the long side.",
        "State the friction of the puller's tyres on its ground.",
    ),
    note(
        "kinetic-law-assumed",
        "How this rope stretches is assumed",
        "No measured law of a kinetic rope was found. Stiffness over strength is published from 1 to 10; the band here lies between, by \
         what the rope went through, and what it loses on its way back is a placeholder. The peak goes with the root of the stiffness.",
        "Judge by the high end. Say whether the rope is new, worked or just used; give its stretch if the label has it.",
    ),
    note(
        "kinetic-limit-under-resistance",
        "No run-up helps: the weakest part allows less than it takes",
        "To break away the rope must carry at least what holds the vehicle. At the high end that is more than the weakest \
         part allows, so every speed that is enough is too much.",
        "Dig, lower tyre pressures, lay boards; or rig a winch with more parts of line.",
    ),
    note(
        "kinetic-traction-too-much",
        "Traction alone is too much",
        "A puller that drives into a taut rope makes up to twice its traction. That is over what the weakest part allows.",
        "Less throttle, stated as less traction; or stronger parts.",
    ),
    note(
        "kinetic-never-enough",
        "No speed that was looked at frees it",
        "At the high end of what holds it the vehicle does not come as far as asked, even at the fastest speed. A heavier puller \
         and less resistance help; more speed is not the answer.",
        "Dig first, then look again. Or winch.",
    ),
    note(
        "kinetic-too-much-before-enough",
        "Enough is already too much",
        "The speed that frees it at the high end of what holds it makes a peak that the weakest part does not allow.",
        "Dig first: less resistance lowers both. A softer or longer rope lowers the peak. Or winch.",
    ),
    note(
        "kinetic-not-a-line",
        "Not a rope or strap",
        "Only a rope or strap can be stretched between two vehicles.",
        "Name a rope or strap that is made for kinetic pulls.",
    ),
    note(
        "kinetic-chain",
        "Chain is refused for kinetic pulls",
        "Chain gives way by next to nothing: the run-up ends within centimetres, at a force that no label covers, and what \
         breaks is steel in flight.",
        "A rope or strap that is made for kinetic pulls.",
    ),
    note(
        "kinetic-wire",
        "Wire rope is refused for kinetic pulls",
        "Wire rope stretches by about 2 % before it breaks: the run-up ends within centimetres, and steel flies.",
        "A rope or strap that is made for kinetic pulls.",
    ),
    note(
        "kinetic-winch-line",
        "Winch line is refused for kinetic pulls",
        "High-modulus rope stretches by about 2 % before it breaks. The same pull makes nearly three times the peak of a \
         kinetic rope.",
        "A rope or strap that is made for kinetic pulls.",
    ),
    note(
        "kinetic-static-strap",
        "A static strap is refused for kinetic pulls",
        "Tree straps, slings, extensions and bridles are made for steady pulls.",
        "A rope or strap that is made for kinetic pulls.",
    ),
    note(
        "kinetic-low-stretch",
        "It stretches too little",
        "Gear under 5 % of stretch at its rating counts as static, whatever it is sold as.",
        "A rope or strap that stretches by 20 to 30 %.",
    ),
    note(
        "kinetic-not-made-for-it",
        "Not said to be made for kinetic pulls",
        "A loose rope counts as static unless the kit says kinetic = true.",
        "Say so if the maker does; else take another rope.",
    ),
    note(
        "kinetic-unknown-law",
        "Nothing is known of its stretch",
        "Its material is not known, or no figures for kinetic ropes of that material were found. Without its stretch there is no \
         peak, and unknown never passes.",
        "State the material; or take a nylon rope.",
    ),
    note(
        "kinetic-unknown-strength",
        "Its breaking strength is not known",
        "The label is missing, or gives a working load limit without the factor between it and the breaking strength.",
        "Find the label or the maker's sheet; without it the rope stays out.",
    ),
    note("kinetic-rejected", "It is out of use", "Something was found at the look before use.", "Take another piece."),
    note(
        "kinetic-energy-not-accounted",
        "A kinetic rope in a winch line",
        "It stores many times the energy of the line, and the rig was reckoned without it: what breaks flies further, and the \
         keep-out ground is too small.",
        "A static rope or strap as the extension.",
    ),
    note(
        "kinetic-fault",
        "A figure of it is not in order",
        "A number of the label or the piece can't be right.",
        "Mend the figure that is named.",
    ),
];
