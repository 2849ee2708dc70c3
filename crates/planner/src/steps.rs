//! What the crew does, in order, with the cautions where they act. Common practice of the trade unless a source is named;
//! local rules, makers' instructions and licensed practice come first.

use crate::report::{Action, GateItem, StepItem, StopRule};
use crate::rigging::{Grip, Pull, Rigging};
use crate::words;
use unmire_audit::assess::Fitting;
use unmire_audit::facts::{Counted, Facts};
use unmire_audit::judge::Judgement;
use unmire_audit::verdict::Verdict;
use unmire_model::case::Case;
use unmire_model::gear::{PieceKind, RatingKind};
use unmire_model::layout::Hitch;

/// The gate before any plan: nothing is rigged until each is answered.
#[must_use]
pub fn gate() -> Vec<GateItem> {
    let item = |word, text: &str| GateItem { word, text: text.to_owned() };
    vec![
        item("people", "Is everybody out, counted, unhurt and uphill or well aside of it?"),
        item("held", "Is the vehicle held: brake, gear, chocks, or a holding line where it can roll or slide?"),
        item("traffic", "Is traffic stopped or warned on both sides?"),
        item("water", "Is the water not rising, not moving it, and not in the way of the people?"),
        item("slope", "Can it roll over or run away, now or when it comes free? Nobody on the low side."),
        item("fire", "No fire, no hot parts in dry grass, extinguisher at hand?"),
        item("fuel", "No fuel, gas or battery acid leaking?"),
    ]
}

/// The steps of a rig.
#[must_use]
pub fn steps(case: &Case, r: &Rigging<'_>, actions: &[Action], facts: &Facts<'_>, stop: &StopRule) -> Vec<StepItem> {
    let mut out = Vec::new();
    let mut step = |phase, text: String| out.push(StepItem { phase, text });
    for a in actions {
        step("prepare", a.text.clone());
    }
    step("prepare", "Look over every piece before it is rigged: label, wear, cuts, pins, stitching. What fails the look stays in the bag.".to_owned());
    let has_chocks = case.kit.iter().any(|p| matches!(p.kind, PieceKind::Chock));
    match &r.pull {
        Pull::Winch { on, .. } if !on.is_stuck() => {
            let chocks = if has_chocks {
                ", chock its wheels on the side of the pull"
            } else {
                ", block its wheels on the side of the pull"
            };
            step(
                "rig",
                format!(
                    "Park {} in line with the first leg{chocks}, brake on, in neutral or park as its maker says.",
                    on.vehicle().name
                ),
            );
        }
        Pull::Hand { piece, held_by } => {
            step("rig", format!("Hold hand winch {} by {}.", piece.id, words::grip(held_by)));
        }
        _ => {}
    }
    if let Some(t) = &r.tie_back {
        step(
            "rig",
            format!(
                "Tie it back from point {} to {}; take the slack out of the tie-back before anything else, so that it does not become a shock.",
                t.point.id,
                words::grip(&t.grip)
            ),
        );
    }
    if let Some(t) = &r.holding {
        step(
            "rig",
            format!(
                "Set the holding line from point {} to {} first, just tight; it stays tended, just tight, through the whole pull.",
                t.point.id,
                words::grip(&t.grip)
            ),
        );
    }
    for (i, s) in r.stops.iter().enumerate() {
        strap_steps(&s.grip, &mut step);
        match s.block {
            Some(b) => step(
                "rig",
                format!(
                    "Hang {} on {}; close and pin it; the line must run true in its sheave (station {}).",
                    b.id,
                    words::grip(&s.grip),
                    i + 1
                ),
            ),
            None => step("rig", format!("End the line at {}.", words::grip(&s.grip))),
        }
        for e in &s.extensions {
            step("rig", format!("Lengthen the line with {} ({}).", e.id, words::piece(e)));
        }
    }
    step("rig", "Every pin screwed home and every hook or eye seated; shackles pulled along their middle, several legs in the bow and never on the pin; no strap over an edge, none twisted.".to_owned());
    if let Some(w) = &facts.winch {
        step(
            "check",
            format!(
                "At least {:.0} turns stay on the drum; the line lies straight off it and does not pile up to one side.",
                w.wraps_required.ceil()
            ),
        );
    }
    for p in &r.beside {
        match p.kind {
            PieceKind::Damper => step(
                "check",
                format!(
                    "Lay {} on the middle of a leg, the longest one first. It takes some of the fling, none of the danger: the ground to keep clear stays the same.",
                    words::named("damper", &p.id)
                ),
            ),
            PieceKind::TiltMeter => step(
                "check",
                format!(
                    "Fix {} to the base of the anchor tree where it can be read from outside the ground to keep clear, and set it to zero.",
                    words::named("tilt", &p.id)
                ),
            ),
            PieceKind::MovementMarker => step(
                "check",
                format!(
                    "Set the marks of {} beside the anchor, to be read from outside the ground to keep clear.",
                    p.id
                ),
            ),
            _ => {}
        }
    }
    for b in facts.backed.iter().filter(|b| b.counted == Counted::Together) {
        let front = facts.parts.get(b.part).map_or("", |p| &p.name);
        step(
            "check",
            format!(
                "Make {} tight between {front} and {} behind it, low and in line with the pull: slack there lets {front} give before {} bears.",
                b.with, b.back, b.back
            ),
        );
    }
    step(
        "check",
        "One person leads and gives the signals; anybody may call stop, and an unclear signal is a stop.".to_owned(),
    );
    step("check", "Everybody outside the ground to keep clear and outside every angle of the line; nobody between the vehicles, nobody downhill.".to_owned());
    step(
        "pull",
        "Take up the slack gently and stop. This is the moment when badly seated gear lets go: nobody near.".to_owned(),
    );
    step("pull", "Hold, look from outside the ground to keep clear: is every part in line, has an anchor moved? Slack off before anybody goes in to change anything.".to_owned());
    match &r.pull {
        Pull::Tow { .. } => step("pull", "The helper drives away at walking pace on the taut line, no run-up, no jerk. Wheels that spin mean stop.".to_owned()),
        Pull::Hand { .. } => step("pull", "Work the lever steadily; no pipe on the handle, no second person on it.".to_owned()),
        Pull::Winch { .. } => step("pull", "Pull in short runs, watch anchor, line on the drum, heat and voltage; the driver only helps with the wheels when the leader says so.".to_owned()),
    }
    for w in &stop.when {
        step("pull", w.clone());
    }
    let holds =
        if has_chocks { "chocks at the wheels, brake, gear" } else { "brake, gear, something solid at the wheels" };
    step(
        "release",
        format!("When it stands on ground it can drive on: stop, secure it ({holds}) before the line goes slack."),
    );
    step(
        "release",
        "Slack the line off by the winch or the puller, never by hand or by knocking out a pin under load.".to_owned(),
    );
    step("release", "Unhook from the load first, then the blocks, the anchors last; the holding line and the tie-back stay until the freed vehicle is held by itself.".to_owned());
    step(
        "release",
        "Look over and dry every piece; a piece that was loaded past its limit or that anybody doubts goes out of use."
            .to_owned(),
    );
    out
}

fn strap_steps(g: &Grip<'_>, step: &mut impl FnMut(&'static str, String)) {
    let Grip::Anchors(legs) = g else { return };
    for leg in legs {
        let Some(strap) = leg.strap else { continue };
        match leg.hitch {
            Hitch::Basket => step(
                "rig",
                format!(
                    "Put {} ({}) round {} ({}) in a basket: low, flat and untwisted, both eyes in one connector that does not lie on the bark.",
                    words::named("strap", &strap.id),
                    words::piece(strap),
                    leg.anchor.id,
                    words::anchor(leg.anchor)
                ),
            ),
            Hitch::Choker => step(
                "rig",
                format!(
                    "Put {} ({}) round {} ({}) as a choker: low, flat and untwisted, the free end leaving from the side of the trunk toward the pull.",
                    words::named("strap", &strap.id),
                    words::piece(strap),
                    leg.anchor.id,
                    words::anchor(leg.anchor)
                ),
            ),
            Hitch::Straight => {}
        }
    }
    if legs.len() > 1 {
        step("rig", "Bring the legs together in one bow shackle, all legs in the bow; none may be slack when the first pull comes on.".to_owned());
    }
}

/// When to stop.
///
/// `least_share` is the least that the line's end carries of what the winch pulls, over the range of friction.
#[must_use]
pub fn stop_rule(facts: &Facts<'_>, judgement: &Judgement, least_share: f64) -> StopRule {
    let mut when = Vec::new();
    let line_pull = judgement.stop_load;
    // Between the winch and the cell at the line's end sheaves take their share: with the worst sheaves the cell reads least
    // of what the winch pulls, and that reading must already be the stop.
    let has_cell = facts.parts.iter().any(|p| p.piece.is_some_and(|q| matches!(q.kind, PieceKind::LoadCell)));
    let cell_reading = line_pull.filter(|_| has_cell && least_share.is_finite()).map(|s| s * least_share);
    let mut hardware = false;
    for check in judgement.checks.iter().filter(|c| c.verdict == Verdict::HoldsBelowStopLoad) {
        let Some(part) = facts.parts.get(check.part) else { continue };
        match Fitting::of(part, facts) {
            Fitting::Load => hardware = true,
            Fitting::Tilt => when.push(format!(
                "Stop when the base of {} turns by more than 0.25 degrees, or the ground lifts behind it.",
                part.name
            )),
            Fitting::Movement => when.push(format!("Stop when {} moves against its mark.", part.name)),
        }
    }
    if hardware {
        when.insert(0, "Stop at the stop load; it is shown beside the weakest part.".to_owned());
    }
    for part in &facts.parts {
        if part.kind.is_anchor() && !when.iter().any(|w| w.contains(&format!(" {} ", part.name))) {
            when.push(match Fitting::of(part, facts) {
                Fitting::Tilt => format!("Stop when the base of {} moves or the ground lifts behind it.", part.name),
                _ => format!("Stop when {} moves.", part.name),
            });
        }
    }
    when.push("Stop when anything cracks, slips or jerks, when the winch labours without movement, when a signal is unclear, when anybody calls stop.".to_owned());
    when.dedup();
    StopRule { line_pull, cell_reading, when }
}

/// The cautions of a rig, the gravest first.
#[must_use]
pub fn cautions(case: &Case, r: &Rigging<'_>, facts: &Facts<'_>) -> Vec<String> {
    let mut out = vec![
        "People are killed by fittings that tear off and by being crushed between vehicles: pull on rated recovery points only, and nobody stands in line, inside an angle of the line or between vehicles.".to_owned(),
    ];
    if r.stops.len() > 1 {
        out.push("What holds a block carries up to twice the line's pull; if it lets go, the block flies towards the inside of the angle and beyond it.".to_owned());
    }
    if matches!(r.pull, Pull::Tow { .. }) {
        out.push("A steady tow is not a snatch: low-stretch gear breaks under a run-up.".to_owned());
    }
    if facts
        .parts
        .iter()
        .filter_map(|p| p.piece)
        .filter_map(|p| p.label.rating())
        .any(|r| r.kind == RatingKind::Unstated)
    {
        out.push(
            "A rating without its kind was counted as a breaking strength; ask the maker before trusting it for more."
                .to_owned(),
        );
    }
    if case.people.trained == 0 {
        out.push(
            "Nobody there is trained for this: get help that is, or stay with digging, unloading and boards."
                .to_owned(),
        );
    }
    if facts.stability.as_ref().is_some_and(|s| s.matters) {
        out.push("Side slope or sideways pull: a rigid tipping angle is not what a vehicle on tyres and springs in soft ground will bear. Nobody inside it, nobody on the low side.".to_owned());
    }
    out.push("Checked: strength of every part by its label under the named policy, geometry, line and drum, roll-over on rigid ground. Not checked: hidden damage, roots and ground that nobody can see, shock loads, what was not told. Local rules, makers' instructions and licensed practice come first.".to_owned());
    out
}
