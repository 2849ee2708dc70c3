//! The text behind every code of an output: rules tell their own, the remarks of formulas and of the search stand here.
//!
//! The terminal, the app and the manual print the same text.

use unmire_audit::rules;

/// A remark that a formula or the search makes beside a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Note {
    /// Its code.
    pub code: &'static str,
    /// A short title.
    pub title: &'static str,
    /// What lies behind it.
    pub says: &'static str,
    /// What to do about it.
    pub to_do: &'static str,
}

pub(crate) const fn note(code: &'static str, title: &'static str, says: &'static str, to_do: &'static str) -> Note {
    Note { code, title, says, to_do }
}

/// All remarks, by what they are about.
pub const NOTES: &[Note] = &[
    // The need.
    note(
        "mire-from-memory",
        "The mire's share is a field multiple",
        "How much of its weight a mired vehicle resists with is taken from field multiples. Their high end is recalled and \
         not checked against the page, their low end comes from club rules; nobody measured your mire.",
        "Pull gently with a load cell in the line and give what it reads as mire_share, or dig and look again.",
    ),
    note(
        "bellied",
        "The belly rests on the ground",
        "A vehicle on its belly drags like a sledge or is held like a stopper. No rule with a source covers it; the band \
         that is added is our own judgement.",
        "Dig the belly free before any pull, then say bellied = false.",
    ),
    note(
        "overturned",
        "The vehicle lies on its side or its roof",
        "Setting it upright is a job of its own: about half of its weight is a value from memory, and the way it comes down \
         on the other side is not reckoned here.",
        "Plan the righting with somebody who has done it; hold the far side.",
    ),
    note(
        "own-wheels-not-counted",
        "Nothing is counted for its own wheels",
        "Driven wheels help, and no published share says by how much. With the soil and the tyres described, computed \
         traction counts at the low end; never at the high end.",
        "Describe soil and tyres if the low end matters. The verdict uses the high end, where wheels give nothing.",
    ),
    note(
        "own-wheels-may-do",
        "Its own wheels may drive it out",
        "At the low end the soil could push back hard enough. At the high end it does not.",
        "Lower the tyre pressure, clear the wheels, try gently without spinning; keep the rig ready.",
    ),
    note(
        "may-run-away",
        "It may roll or slide away by itself",
        "At the low end the slope outweighs what holds the vehicle: no pull is needed to move it, and something must hold \
         it back.",
        "Chock it, set a holding line, and keep the low side clear before anybody touches the rig.",
    ),
    note(
        "terramechanics-not-valid",
        "Terramechanics could not be used",
        "It was asked for, but the soil or the tyres are not described or lie outside what the formula knows. The field \
         doctrine's band is used.",
        "Give ground.soil and the tyres' size, or leave the method at the doctrine.",
    ),
    note(
        "terramechanics-mired",
        "Terramechanics for a mired vehicle",
        "The formula knows how soil is pressed down, neither bulldozing nor suction: the need may be higher.",
        "Take the doctrine's band beside it seriously.",
    ),
    note(
        "terramechanics-scatter",
        "Soil differs from its table",
        "The range comes from the weight alone. How far this soil is from the one in the table is not in it.",
        "Compare with the doctrine's band, and measure with a gentle pull.",
    ),
    // Trees.
    note(
        "tree-model",
        "What a tree holds is a model",
        "Root plates were tested with pulls high on the stem. Carrying that over to a low strap is our own step: the \
         moment at the root plate is what counts.",
        "Watch the base from outside the ground to keep clear; stop at the first movement.",
    ),
    note(
        "tree-no-pull-tests",
        "No pull tests for this species",
        "The wood is known, the root plate is not: the cautious coefficient for conifers or broadleaves is used.",
        "Take a tree of a tested species if one stands as well, or share between two.",
    ),
    note(
        "tree-species-unknown",
        "The species is not known",
        "The lowest measured values of conifers, of broadleaves, or of both are used.",
        "Name the species, or at least say whether it is a conifer.",
    ),
    note(
        "tree-height-unknown",
        "The tree's height is not known",
        "Its mass then comes from the diameter alone, 30 % either way.",
        "Estimate the height as a range: pace off as far as the top lies at 45 degrees.",
    ),
    note(
        "tree-soil-unknown",
        "The soil under the tree is not known",
        "The poorest soil counts at the low end.",
        "Look: free draining, waterlogged in winter, peaty, deep peat.",
    ),
    note(
        "tree-soil-not-distinguished",
        "The tests of this species do not tell soils apart",
        "On poor soil it may hold less than they say.",
        "Be more careful with it on wet or shallow ground.",
    ),
    note(
        "tree-rooting-medium",
        "Rooting depth medium or not known",
        "Shallow rooting counts at the low end.",
        "Look at trees that were blown over near by: how deep do their plates go?",
    ),
    note(
        "tree-saturated",
        "The ground is saturated",
        "Wet soil holds less: the root plate counts with three quarters.",
        "Use a tree on higher ground, or share between two.",
    ),
    note(
        "tree-extrapolated",
        "Heavier than any tree that was tested",
        "The stem weighs more than those in the tests, or none is listed for this soil: the straight line is drawn on \
         beyond its end.",
        "Do not count on the high end.",
    ),
    note(
        "strap-height-raised",
        "A low strap is reckoned a little higher",
        "Below the least height the stem's bending formula means nothing; the strap is reckoned at that height, which \
         makes the stem weaker and not stronger.",
        "Nothing. Keep the strap low.",
    ),
    // Helpers.
    note(
        "parked-by-friction",
        "A parked vehicle holds by its tyres",
        "Tyres on soft ground let go without warning.",
        "Chock all wheels; tie it back to an anchor if the pull comes near what it holds; mark the ground and watch it.",
    ),
    note(
        "parked-slides",
        "The parked vehicle may slide by itself",
        "At the low end of its friction it slides down its own slope without any pull.",
        "Park it elsewhere, or tie it back first.",
    ),
    note(
        "tow-no-grip",
        "The towing vehicle has no grip to spare",
        "At the low end its tyres give nothing beyond moving itself.",
        "Put it on better ground with a longer line, or use it as an anchor instead.",
    ),
    note(
        "driven-share-assumed",
        "How many of its wheels drive is not told",
        "Half of its weight counts at the low end, all of it at the likely one.",
        "Say whether two or four wheels drive.",
    ),
    // The winch.
    note(
        "drum-unknown",
        "The drum is not measured",
        "The layer is not known: the ability is taken as on the fifth layer, the stall as on the first.",
        "Measure the bare drum's diameter and its width between the flanges.",
    ),
    note(
        "drum-doubtful",
        "The line does not fit the drum",
        "It would lie in more than eight layers.",
        "Check diameter, width and the length of the line.",
    ),
    note(
        "line-short",
        "More line is needed than there is",
        "The way from the winch round the blocks is longer than the line on the drum.",
        "Lengthen it with a rated extension at its dead end, or choose nearer anchors.",
    ),
    note(
        "turns-short",
        "Too few turns stay on the drum",
        "The last turns hold the line on the drum by friction; its fixing holds hardly anything.",
        "Lengthen the line, or choose nearer anchors.",
    ),
    note(
        "turns-by-rule",
        "The least number of turns is a rule",
        "The maker's number is not stated: a general rule stands in.",
        "Look it up for this winch, and give it as min_wraps.",
    ),
    note(
        "uneven-winding",
        "Turns that lie unevenly",
        "They put the line one layer higher, where the winch pulls less.",
        "Wind the line on under load, turn by turn, before it matters.",
    ),
    // Rolling over, and the search.
    note(
        "rolls-over",
        "It can roll over under this pull",
        "The line's sideways pull and the side slope use up all that keeps the vehicle upright, on rigid ground; soft \
         ground gives way sooner.",
        "Do not pull. Pull more along the slope, lower, or hold the high side with a second line.",
    ),
    note(
        "anchor-ruled-out",
        "An anchor is left out",
        "It shows a sign that rules it out: dead, leaning, fungus, cavity, lifted roots, edge of a bank, flooded.",
        "Find another anchor. No factor makes up for a rotten one.",
    ),
    note(
        "no-rig",
        "A family of rigs could not be made",
        "Pieces are missing, nothing reaches, or a line would cross what it must not.",
        "The text names the least that is wanting.",
    ),
];

/// The remark with this code.
#[must_use]
pub fn find(code: &str) -> Option<&'static Note> {
    notes().find(|n| n.code == code)
}
fn notes() -> impl Iterator<Item = &'static Note> {
    NOTES.iter().chain(crate::codes_pull::NOTES)
}

/// The text behind a code, of a rule or a remark; paragraphs in lines, with their indents.
#[must_use]
pub fn explain(code: &str) -> Option<String> {
    rules::explain(code).or_else(|| {
        let n = find(code)?;
        Some(format!("{}: {}\n\nWhat lies behind it\n  {}\n\nWhat to do\n  {}\n", n.code, n.title, n.says, n.to_do))
    })
}

/// Every code with its title.
pub fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    rules::RULES.iter().map(|r| (r.code, r.title)).chain(notes().map(|n| (n.code, n.title)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_every_code_stands_once_and_has_a_text() {
        let mut codes: Vec<&str> = all().map(|(code, _)| code).collect();
        let many = codes.len();
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(codes.len(), many);
        for code in codes {
            let text = explain(code).unwrap_or_default();
            assert!(text.starts_with(code) && text.contains("What to do"), "{code}: {text}");
        }
    }
}
