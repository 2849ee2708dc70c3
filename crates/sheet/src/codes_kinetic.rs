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
        "kinetic-no-answer",
        "No kinetic pull can be thought of",
        "It takes a rope or strap that may be snatched on, a helper's vehicle that can drive, and a chain of rated parts between the two.",
        "Winch, or dig; or bring what is missing.",
    ),
    note(
        "kinetic-no-chain",
        "This helper and this rope make no pull",
        "Something that the reckoning needs is not known or not there: the grip of the puller's tyres, connectors, recovery points that look \
         at each other. Or the vehicle would roll by itself.",
        "Give what is missing, or take another helper or another rope.",
    ),
    note(
        "kinetic-nor-after-actions",
        "Not after digging and the like either",
        "Every set of actions that the case and the kit allow was looked at; after none of them a kinetic pull passes. The numbers shown are \
         those of the need as found.",
        "A winch, more gear, or more digging than was reckoned with.",
    ),
    note(
        "kinetic-part-unknown",
        "What a part allows is not known",
        "A part of the chain has no readable label, so nobody can say what peak is too much. Unknown never passes, and a kinetic pull finds \
         the weakest part.",
        "Find its rating, or take another part.",
    ),
    note(
        "kinetic-fixed",
        "It can't move",
        "The problem says that the stuck one does not move: no speed is enough.",
        "State what holds it, if it can move.",
    ),
    note(
        "kinetic-policy-steady",
        "The policy's ratios are for steady pulls",
        "No published ratio of strength over load for kinetic pulls was found. The policy's ratios at work are held against the high end \
         of the peak: the least that can be asked, not a proof.",
        "Where a maker or a local rule asks more for kinetic pulls, that counts.",
    ),
    note(
        "kinetic-steel-in-line",
        "Steel between the vehicles",
        "A shackle, a hook or a load cell in a line that snaps back is a projectile. The search takes soft shackles wherever the kit's are \
         enough; here they are not, or there are too few.",
        "Soft shackles that are rated for the peak, with no edge to lie on.",
    ),
    note(
        "kinetic-too-slow",
        "Slower than the window",
        "At the high end of what holds it the speed that is stated does not bring it as far as asked. Each pull in vain loads every part for nothing.",
        "Dig first, so that less is enough.",
    ),
    note(
        "kinetic-too-fast",
        "Faster than the window",
        "Some of the speed that is stated makes a peak that the weakest part does not allow.",
        "Slower. If that is too little, dig; there may be no window at all.",
    ),
    note(
        "kinetic-slack-too-long",
        "So much slack is too much",
        "Full throttle from rest through this slack gets beyond the fast end of the window where the tyres give most.",
        "Lay out less, or hold the speed down; a driver who watches the meter does not watch the signaller.",
    ),
    note(
        "kinetic-travel-assumed",
        "How far one pull must bring it is assumed",
        "Half a metre: several light tugs are taught, and one that brings less is not worth its risk. Our own judgement.",
        "State `travel` in [kinetic].",
    ),
    note(
        "kinetic-fastest-assumed",
        "The fastest speed is a club's",
        "5 mph, about 8 km/h, as one club teaches; it also says to stop and dig after two pulls at that speed.",
        "State `fastest` in [kinetic].",
    ),
    note(
        "kinetic-slack-assumed",
        "The slack is a guide's",
        "About 1 m laid in an S, as one guide teaches. It is compared with the window and sets no speed.",
        "State `slack` in [kinetic].",
    ),
    note(
        "kinetic-holds-all-the-way",
        "The ground is taken not to let go",
        "What holds the vehicle is taken to be the same all the way. That makes the travel short and the peak no lower: the cautious side of both.",
        "State `moving` and `over` in [kinetic] if it is known.",
    ),
    note(
        "kinetic-wheels-help",
        "Its own wheels give more than holds it",
        "At the low end of the need its driven wheels would move it alone: nothing holds it there, and the low end is counted as nothing.",
        "Try to drive it out first.",
    ),
    note(
        "kinetic-puller-slope",
        "The puller stands on a slope",
        "The weight along its slope is taken into what its tyres give and what its brakes hold, while it drives and once it stands.",
        "Level firm ground for the puller, if there is any.",
    ),
    note(
        "kinetic-loss-assumed",
        "What the rope loses is a placeholder",
        "No published loss of a kinetic rope was found. It sets how far the stuck vehicle comes after the peak; no loss is taken off the peak.",
        "Count on the low end of the travel.",
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
