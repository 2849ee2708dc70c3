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
        "The stem weighs more than those in the tests, or none is listed for this soil. The likely value draws the straight \
         line on; the low end grows more slowly beyond it.",
        "Do not count on the likely value or the high end.",
    ),
    note(
        "tree-second-opinion",
        "Two studies disagree on this species",
        "Trees of one species were pulled in two regions, and held very differently for their mass. The lower value counts at \
         the low end.",
        "Trust the low end; share between two trees if it is not enough.",
    ),
    note(
        "tree-from-memory",
        "The strength of this wood is recalled",
        "The book it stands in was not opened for this row; its low end is reduced for that.",
        "Compare with a handbook before you count on the stem.",
    ),
    note(
        "tree-too-thin",
        "Too thin for an anchor",
        "No test was made with a stem under 10 cm. The low end counts in proportion to its diameter.",
        "Take a thicker tree, or share between several.",
    ),
    note(
        "tree-too-thick",
        "Thicker than anything that was tested",
        "Over 1.2 m the low end counts no more than a tree of 1.2 m.",
        "Look for rot: a tree of this age often is hollow.",
    ),
    note(
        "strap-may-climb",
        "The strap may slide up the stem",
        "The line rises so steeply that friction on the bark does not keep the strap down; a higher strap has a longer lever.",
        "Lead the line lower with a block near the ground, or take an anchor that stands higher.",
    ),
    // Stumps.
    note(
        "stump-model",
        "What a stump holds is our own judgement",
        "No pull test of a stump was read. It is reckoned as the root plate of the tree that stood there, without that tree's \
         weight and with roots that rot.",
        "Pull it on proof first, watch its base, and tie it back to a second one.",
    ),
    note(
        "stump-tree-estimated",
        "The tree that stood on the stump is estimated",
        "A stump is thicker than its stem was at breast height: 70 to 95 % of it are taken, and the height is not known.",
        "Measure a standing neighbour of the same age if there is one.",
    ),
    note(
        "stump-age-unknown",
        "Nobody said when the tree was felled",
        "Fine roots lose most of their strength in two or three years. Ten years count.",
        "Look at the cut and the bark, ask the owner, and say it as a range.",
    ),
    note(
        "stump-repeated-pulls",
        "Repeated pulls weaken a stump",
        "In logging the hold of stumps changed within hours of repeated loading.",
        "Few pulls, without jerks. Watch the base at every one; take another anchor when it has moved.",
    ),
    note(
        "strap-height-raised",
        "A low strap is reckoned a little higher",
        "Below the least height the stem's bending formula means nothing; the strap is reckoned at that height, which \
         makes the stem weaker and not stronger.",
        "Nothing. Keep the strap low.",
    ),
    // Anchors of rock and earth.
    note(
        "anchor-soil-unknown",
        "The soil of the anchor is not known",
        "The poorest soil that is listed counts at the low end: soft clay or sand under water.",
        "Dig a spade deep and say what it is: loam, clay that a thumb presses, sand, gravel.",
    ),
    note(
        "anchor-soil-saturated",
        "The anchor stands in saturated ground",
        "Soil under water weighs little more than half and sand holds half of what loam does; clay counts with its low end.",
        "Build on higher ground, deeper, or share the pull.",
    ),
    note(
        "boulder-level-ground",
        "A boulder is reckoned on level ground",
        "Friction under it, its weight, and the edge that it tips over. Pulled down a slope it holds less.",
        "Pull it up the slope or across. Mark the ground at its edge and stop when it moves.",
    ),
    note(
        "boulder-mass-by-size",
        "The boulder's mass comes from its size",
        "Between an ellipsoid and a squared block of hard stone, which is nearly a factor of two.",
        "Measure all three sides. Dig at its foot: what shows is often the top of more, or all there is.",
    ),
    note(
        "boulder-friction-unknown",
        "What the boulder stands on is not told",
        "The friction of the poorest ground counts at the low end.",
        "Look under its edge: rock, gravel, sand, silt, clay.",
    ),
    note(
        "boulder-base-assumed",
        "The boulder's length is not told",
        "Its width where the strap lies counts as the length that it tips over.",
        "Give its length along the pull, its breadth and its height.",
    ),
    note(
        "boulder-earth-unknown",
        "The soil before the boulder is not told",
        "Its buried front is not counted.",
        "Name the soil in front of it if the boulder would hold with it.",
    ),
    note(
        "bridle-shares-unevenly",
        "Several share a pull through a bridle",
        "Legs are never equally long: the shortest takes most until it moves. At the low end each counts with half.",
        "Make the legs long and as equal as you can, and look at all of them when the line comes tight.",
    ),
    note(
        "proof-pull-direction",
        "A proof pull shows what it showed",
        "It counts in the direction of the work, in the same ground, with nothing dug near it since.",
        "Pull on proof again if the direction or the weather changed.",
    ),
    note(
        "rock-bolts-bar-unknown",
        "The strength of bar and eye is not told",
        "Up to the proof pull it has been shown; beyond it they may break first, and they break without warning.",
        "Read the maker's data and state it.",
    ),
    note(
        "rock-bolts-proof-odd",
        "The proof pull is more than the bolt could hold",
        "By what is told of rock, hole, length and bar it could not have held that. The lower counts.",
        "Check the figures: a length in place of a diameter, kilonewtons in place of pounds.",
    ),
    note(
        "deadman-creeps",
        "A deadman moves before it bites",
        "Earth pressure grows as the face moves, by two to ten per cent of its depth.",
        "Pull slowly to take up the movement, stop, tighten, and mark the strap at the mouth of the trench.",
    ),
    note(
        "deadman-own-strength",
        "Whether the buried thing breaks is not reckoned",
        "Within the table's proportion sound wood is meant to hold. Rotten wood, a wheel's rim, a plank are another matter.",
        "Use sound, green wood, strap it in the middle; state its strength if somebody knows it.",
    ),
    note(
        "deadman-too-long",
        "The deadman is longer than its thickness allows",
        "The ends of a log longer than five times its diameter, or of a beam longer than nine times its face, bend back and press on nothing.",
        "Cut it, or take a thicker one.",
    ),
    note(
        "deadman-wheel",
        "A wheel as a deadman",
        "No table speaks of wheels: it counts as a square face of the same area. It stands upright, flat side to the pull, the strap through it and round a bar behind.",
        "Bury it deeper than you think and pull it on proof.",
    ),
    note(
        "deadman-line-steeper",
        "The line rises more steeply than its trench",
        "A line that is lifted presses less earth: the steeper of both counts.",
        "Cut the trench flatter and longer, or hold the line down.",
    ),
    note(
        "deadman-shallow",
        "The deadman lies shallower than the table",
        "The table begins with the middle at 3 ft (0.9 m). Above it the holding power is taken down with the square of the depth.",
        "Dig to 0.9 m.",
    ),
    note(
        "deadman-deep",
        "The deadman lies deeper than the table",
        "The table ends with the middle at 7 ft (2.1 m): deeper counts as there.",
        "A longer or thicker log does more than a deeper hole. Nobody enters a trench deeper than 1.2 m unshored.",
    ),
    note(
        "deadman-steep",
        "The line rises more steeply than 1 in 1",
        "The value for an upright line counts; it is recalled and not checked against its page.",
        "Cut a flatter trench for the line.",
    ),
    note(
        "pickets-shallow",
        "Pickets driven less deep than the rule",
        "What a picket holds goes with the square of its depth, or worse.",
        "Drive them 0.9 m (3 ft) deep, steel ones 1 m.",
    ),
    note(
        "pickets-high-line",
        "The line lies high on the pickets",
        "What they are listed with is for a line near the ground; a longer lever leans them earlier.",
        "Attach it at the foot, not more than 0.1 m up.",
    ),
    note(
        "pickets-layout-unlisted",
        "A layout of pickets that no table lists",
        "It counts as the strongest listed layout within it.",
        "Build 1-1, 1-1-1, 2-1 or 3-2-1.",
    ),
    note(
        "pickets-steel-working-load",
        "Steel pickets have a published working load",
        "What they hold is not published. The working load counts as the likely value; some bars in gravelly soil gave at less than a third of it.",
        "Pull the holdfast on proof before the work.",
    ),
    note(
        "pickets-spacing",
        "The rows of pickets are too near, too far, or not measured",
        "Pickets behind work through a tight lashing and in earth of their own: 0.9 to 1.8 m (3 to 6 ft) from row to row. Otherwise only the front row counts at the low end.",
        "Measure and state the distance.",
    ),
    // Helpers.
    note(
        "parked-by-friction",
        "A parked vehicle holds by its tyres",
        "Tyres on soft ground let go without warning.",
        "Chock all wheels; tie it back to an anchor if the pull comes near what it holds; mark the ground and watch it.",
    ),
    note(
        "parked-chocked",
        "Chocks count as brakes, and as no more",
        "No published figure says what a chock adds to a vehicle that is pulled. With every wheel against one, all of its \
         weight counts as standing on wheels that do not turn; that is our own judgement. The tyres still slide, chock and all, \
         where the ground gives.",
        "Dig the chocks in on the side of the pull, and look again when the line is taut.",
    ),
    note(
        "parked-not-chocked",
        "The wheels of the parked vehicle are not chocked",
        "Only the braked wheels hold it; a parking brake acts on one axle, and the other wheels roll.",
        "Put a chock before every wheel on the side of the pull and say chocked = true.",
    ),
    note(
        "parked-tipping-not-checked",
        "Whether the pull tips the parked vehicle was not checked",
        "A line above the wheels turns the vehicle over them when pull times height is more than weight times half the \
         wheelbase or half the track. Without these measures nothing can be said.",
        "Give its wheelbase, its track and the height of its centre of gravity; attach the line low.",
    ),
    note(
        "parked-tips",
        "The parked vehicle may tip by itself",
        "At the low end its slope alone turns it over a line of its wheels: it holds nothing.",
        "Do not use it there; nobody on its low side.",
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
        "stated-above-model",
        "Stated to hold more than any model of it",
        "The case states more than the anchor's own measures allow at the very most. A proof pull can show that; a guess can't.",
        "State what a proof pull in the direction of the work showed, or leave it out and let it be reckoned.",
    ),
    note(
        "proof-ground-wetter",
        "A proof pull and wetter ground",
        "Plates and screws lose hold as the ground soaks. What they held on drier ground tells nothing of now.",
        "Pull each again, in the direction of the work, before it is used.",
    ),
    note(
        "stall-not-told",
        "The load at winch stall was not told",
        "Only the load at work is judged. A winch pulls more than the work needs when something jams or the button is held.",
        "Give what it gets when the winch stalls; leave it out only where nothing can stall.",
    ),
    note(
        "tie-not-counted",
        "What stands behind an anchor is not counted here",
        "The answer for one anchor takes it alone. A plan counts what a tie behind it adds.",
        "Look at the plan, or at both anchors together.",
    ),
    note(
        "bark-overloaded",
        "The strap presses harder than the bark stands",
        "Where the strap slips the bark peels, and a girdled tree dies.",
        "A wider strap, a basket in place of a choker, a thicker trunk, or two trees.",
    ),
    note(
        "anchor-not-known",
        "What an anchor holds is not known",
        "A question about it is open, a measure is missing, or no model and no proof pull tells what it holds. What is not known never passes.",
        "Answer what is open, measure it, pull it on proof and state what it held, or use another.",
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
    NOTES.iter().chain(crate::codes_pull::NOTES).chain(crate::codes_kinetic::NOTES).chain(crate::codes_recoil::NOTES)
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
