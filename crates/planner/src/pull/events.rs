//! What happens on the way, in words: codes, what it is about, what to do.

use super::path::Path;
use super::place::mark;
use super::report::Event;
use super::stage::{Change, Played};
use super::walk::Ended;
use crate::demand;
use crate::rigging::{Pull, Rigging};
use crate::words;
use unmire_audit::verdict::{Effect, Finding};
use unmire_mechanics::ground::ActionKind;
use unmire_mechanics::rig::RigError;
use unmire_mechanics::standing::Warning;
use unmire_model::Length;
use unmire_model::case::Case;
use unmire_model::ground::Depth;

struct Words {
    code: &'static str,
    subject: String,
    text: String,
    remedy: &'static str,
}

/// All that happens in a stage, by rising way.
pub(crate) fn of(stage: usize, offset: f64, rigging: &Rigging<'_>, p: &Played) -> Vec<Event> {
    let mut out: Vec<Event> = Vec::new();
    let puller = words::puller(rigging);
    let mut add = |s: f64, w: Words, must_stop: bool, ends_stage: bool| {
        out.push(Event {
            stage,
            travel: Length::from_m(offset + s),
            code: w.code,
            subject: w.subject,
            text: w.text,
            remedy: w.remedy.to_owned(),
            must_stop,
            ends_stage,
        });
    };
    let ended_by = p.stopped_by();
    for c in &p.changes {
        for bit in 0..64 {
            let one = 1_u64 << bit;
            if c.up & one == 0 {
                continue;
            }
            let Some(w) = of_mark(one, bit, &puller, p) else { continue };
            let ends = ended_by & one != 0 && c.s == p.to;
            add(c.s, w, ends, ends);
        }
        of_change(c, &puller, &mut add);
    }
    match &p.ended {
        Ended::Way | Ended::Mark(_) => {}
        Ended::Statics(e) => add(p.to, of_statics(e), true, true),
        Ended::Winch(e) => {
            let text = format!("What is told of the puller makes no sense from there on: {e}.");
            add(
                p.to,
                Words { code: "no-balance", subject: puller.clone(), text, remedy: "Check its figures." },
                true,
                true,
            );
        }
    }
    if let Some(m) = &p.failed {
        let before = p.moments.first();
        let short = m.parts.iter().enumerate().find(|(i, part)| {
            let passed = before.and_then(|b| b.parts.get(*i)).is_none_or(|b| b.check.verdict.passes());
            !part.check.verdict.passes() && passed
        });
        let rule = m.findings.iter().find(|f| {
            f.effect >= Effect::Unknown
                && !before.is_some_and(|b| b.findings.iter().any(|g| g.code == f.code && g.subject == f.subject))
        });
        let (subject, text) = match (short, rule) {
            (Some((_, part)), _) => {
                let word = part.check.verdict.word();
                (part.name.clone(), format!("Further on {} ({}) is {word}.", part.name, part.what))
            }
            (None, Some(f)) => (f.subject.clone(), format!("Further on: {}", f.text)),
            (None, None) => ("rig".to_owned(), "Further on the rig no longer passes.".to_owned()),
        };
        add(
            p.to,
            Words { code: "falls-short", subject, text, remedy: "Stop there, secure the vehicle, and rig anew." },
            true,
            true,
        );
    }
    unmire_model::order::sort_by(&mut out, |a, b| a.travel.as_m().total_cmp(&b.travel.as_m()));
    out
}

fn of_mark(one: u64, bit: u32, puller: &str, p: &Played) -> Option<Words> {
    let words =
        |code, subject: &str, text: String, remedy| Some(Words { code, subject: subject.to_owned(), text, remedy });
    match one {
        mark::TWO_BLOCKING => words(
            "two-blocking",
            "line",
            "A leg of the line is as short as its block and hook are long: drawn on, they are torn against each other."
                .to_owned(),
            "Stop there. Rig to an anchor further out, or shorten the strap.",
        ),
        mark::FAIRLEAD => words(
            "fairlead-limit",
            puller,
            "The line leaves the fairlead further from square than it may.".to_owned(),
            "Turn the line with a block nearer to square, or take an anchor straight ahead.",
        ),
        mark::WEAK => words(
            "winch-weak",
            puller,
            format!("The work asks for more than {puller} can give there."),
            "Pay line out to a lower layer, take a block for another part of line, or dig.",
        ),
        mark::RUBS => words(
            "line-rubs",
            "line",
            "A line comes to lie across what it must not cross.".to_owned(),
            "Stop before it. Turn the line with a block, or rig from another anchor.",
        ),
        mark::NO_NEED => words(
            "no-need",
            "stuck vehicle",
            "Nothing needs to be pulled there: the slope can take the vehicle, and the line goes slack.".to_owned(),
            "Let it down on a line that holds it back; nobody downhill.",
        ),
        mark::LINE_OUT => words(
            "line-short",
            puller,
            "More line is off the drum than may be.".to_owned(),
            "Rig to a nearer anchor, or lengthen the line at its dead end.",
        ),
        mark::MAY_STALL => words(
            "may-stall",
            puller,
            format!("{puller} may stop there: the pull reaches the low end of its stall."),
            "Let go of the button when the line stands still; it heats fastest when it does not turn.",
        ),
        _ if (mark::SLACK..mark::SLACK + 24).contains(&bit) => {
            let name = p.sharing.get((bit - mark::SLACK) as usize)?;
            words(
                "strap-slack",
                name,
                format!("{name} goes slack: the other legs carry all of it."),
                "Expect it: the direction of the pull swings. Move the block or take the leg off.",
            )
        }
        _ if (mark::WIDE..mark::WIDE + 24).contains(&bit) => {
            let name = p.meeting.get((bit - mark::WIDE) as usize)?;
            words(
                "legs-open",
                name,
                format!("The legs that meet at the {name} open beyond 120 degrees."),
                "Lengthen the legs, or take anchors that stand closer.",
            )
        }
        _ => None,
    }
}

fn of_change(c: &Change, puller: &str, add: &mut impl FnMut(f64, Words, bool, bool)) {
    let words = |code, text: String, remedy| Words { code, subject: puller.to_owned(), text, remedy };
    if let Some(layer) = c.layer {
        let text = format!("The line begins to lie on layer {layer}: the winch pulls less and winds faster.");
        add(c.s, words("layer-change", text, "See that it lies turn beside turn."), false, false);
    }
    if c.warm {
        let text = "At the cautious end the motor is due for its first rest.".to_owned();
        add(c.s, words("motor-warm", text, "Feel it; let it rest if it is too hot for a hand."), false, false);
    }
    if let Some(runs) = c.hot {
        let text = format!("The motor has used up {runs} {} from cold.", if runs == 1 { "run" } else { "runs" });
        add(
            c.s,
            words("motor-hot", text, "Stop and let it rest until it is cold; secure the vehicle meanwhile."),
            true,
            false,
        );
    }
    if c.sag.0 {
        let text = "At its low end the battery's voltage falls to where one stops.".to_owned();
        add(
            c.s,
            words("battery-low", text, "Keep the engine running, pull in short runs, watch the voltmeter."),
            false,
            false,
        );
    }
    if c.sag.1 {
        let text = "The battery's voltage falls to where one stops.".to_owned();
        add(
            c.s,
            words("battery-flat", text, "Stop; let the engine charge it, or bring a second battery."),
            true,
            false,
        );
    }
}

fn of_statics(e: &RigError) -> Words {
    let (code, remedy) = match e {
        RigError::ClosedUp { .. } => ("two-blocking", "Stop well before it. Rig to an anchor further out."),
        _ => ("no-balance", "Stop before it and rig anew."),
    };
    Words { code, subject: "rig".to_owned(), text: format!("Further on the rig has no balance: {e}."), remedy }
}

/// Why a stage ends, in one sentence.
pub(crate) fn why_it_ends(p: &Played, events: &[Event]) -> String {
    if p.arrives() {
        return "The way out is at its end.".to_owned();
    }
    let end = events.iter().rev().find(|e| e.ends_stage);
    end.map_or_else(|| "It is told to stop there.".to_owned(), |e| e.text.clone())
}

fn finding(code: &'static str, subject: &str, text: String, remedy: &str) -> Finding {
    Finding { code, effect: Effect::Caution, subject: subject.to_owned(), text, remedy: remedy.to_owned() }
}

/// What is to be said of the way.
pub(crate) fn about_the_way(case: &Case, path: &Path, actions: &[ActionKind]) -> Vec<Finding> {
    let mut out = Vec::new();
    let mired = case.stuck.depth.value != Depth::NotMired;
    if case.path.is_empty() && mired {
        out.push(finding(
            "way-as-found",
            "way out",
            "Nobody said where the mire ends: what it holds is taken over the whole way.".to_owned(),
            "Walk the way out and give its stretches: how long, what ground, how steep.",
        ));
    }
    if path.drawn_on > 0.05 {
        let text = format!("The stretches end {:.1} m before the way does: the last one is drawn on.", path.drawn_on);
        out.push(finding("way-drawn-on", "way out", text, "Give the stretches up to ground it can drive on."));
    }
    if mired && actions.iter().any(|a| !matches!(a, ActionKind::Unload | ActionKind::AirDown)) {
        out.push(finding(
            "actions-first-metres",
            "way out",
            "Digging, draining and boards help where they were done: ahead of them the need is again that of the mire."
                .to_owned(),
            "Dig and lay boards as far as the mire reaches, or stop and do it again before the wheels sink in.",
        ));
    }
    out
}

/// What is to be said of the puller.
pub(crate) fn about_the_puller(rigging: &Rigging<'_>, p: &Played) -> Vec<Finding> {
    let puller = words::puller(rigging);
    let mut all: Vec<Warning> = p.flags.warnings();
    if matches!(rigging.pull, Pull::Tow { .. }) {
        all.retain(|w| w.code != "speed-assumed");
    }
    if p.outside && !p.flags.speed_assumed {
        all.push(Warning::new(
            "sheet-outside",
            "the pull goes beyond the last line of the data sheet: it is drawn on straight",
        ));
    }
    all.iter().map(|w| demand::finding(w, &puller)).collect()
}
