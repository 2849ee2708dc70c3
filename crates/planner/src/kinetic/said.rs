//! The words.

use super::Answer;
use unmire_mechanics::kinetic::{End, Event};
use unmire_model::case::Case;

/// Why there is no answer at all.
pub(super) fn none(case: &Case) -> String {
    let rope = case.kit.iter().any(|p| super::is_kinetic(p) && unmire_mechanics::kinetic::fit_for_kinetic(p).is_ok());
    let driver = case.helpers.iter().any(|h| h.can_tow);
    match (rope, driver) {
        (false, false) => {
            "there is no rope or strap in the kit that may be snatched on, and no helper's vehicle that can drive"
        }
        (false, true) => "there is no rope or strap in the kit that may be snatched on",
        (true, false) => "no helper's vehicle is there that can drive",
        (true, true) => "no chain could be reckoned between the two vehicles",
    }
    .to_owned()
}

/// What comes before every number.
pub(super) fn first(best: Option<&Answer>) -> Vec<String> {
    let steel = best.is_none_or(|a| !a.without_steel);
    let mut out =
        vec!["A kinetic pull kills people. Where a winch can do it, winch. Where digging does it, dig.".to_owned()];
    out.push(if steel {
        "Metal in the line becomes a projectile: shackle, hook, tow ball, torn-off bracket, through a windscreen. Soft shackles on rated points, or none of this."
            .to_owned()
    } else {
        "Metal in the line becomes a projectile: nothing of steel goes between the two vehicles; what tears off a vehicle is metal all the same."
            .to_owned()
    });
    out.extend(
        [
            "Rated recovery points only, on both vehicles, pulled as they are made to be pulled. Never a tow ball, a tie-down, a bumper, an axle or a part of the suspension.",
            "Never on chain, wire rope, winch line, tow straps or any other static gear, and never two ropes joined by a shackle.",
            "Both drivers alone in their vehicles, belted in, bonnet up or screen covered toward the rope. Everybody else outside the ground to keep clear: nobody between, nobody in line behind either vehicle, nobody at an open door.",
            "One person signals, from outside, seen by both drivers. One gentle pull at the slow end; stop; look at every part; dig before the next one is any faster.",
            "Training, the makers' instructions and local rules come first. Who was not trained for this does not do it.",
        ]
        .map(str::to_owned),
    );
    out
}

/// The stable word of what happened.
#[must_use]
pub const fn event(e: Event) -> &'static str {
    match e {
        Event::Taut => "taut",
        Event::BreaksAway => "breaks-away",
        Event::Sticks => "sticks",
        Event::RollsBack => "rolls-back",
        Event::PullerStops => "puller-stops",
        Event::PullerDragged => "puller-dragged",
        Event::PullerHolds => "puller-holds",
        Event::GreatestStretch => "greatest-stretch",
        Event::BeyondFormer => "beyond-former",
        Event::Slack => "slack",
        Event::Parts => "parts",
        Event::TravelReached => "travel-reached",
    }
}

/// The stable word of why the reckoning ended.
#[must_use]
pub const fn end(e: End) -> &'static str {
    match e {
        End::NeverTaut => "never-taut",
        End::Slack => "slack",
        End::AtRest => "at-rest",
        End::Parted => "parted",
        End::TravelReached => "travel-reached",
        End::StillMoving => "still-moving",
    }
}

/// The same in a sentence.
#[must_use]
pub const fn end_in_words(e: End) -> &'static str {
    match e {
        End::NeverTaut => "the rope never becomes taut",
        End::Slack => "the rope goes slack, and what moves then coasts",
        End::AtRest => "both stand with the rope still loaded: mind what is left in it",
        End::Parted => "the rope parts",
        End::TravelReached => "the stuck one came as far as was asked, and the driver lifts off",
        End::StillMoving => "the time was up with something still moving",
    }
}
