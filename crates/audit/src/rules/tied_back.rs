//! Anchors and vehicles that another one holds from behind.

use crate::facts::{BackedFact, Counted, Facts};
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use unmire_model::anchor::TieBack;
use unmire_model::layout::{Hold, Puller, Who};
use unmire_model::{Force, Range};

const CODE: &str = "tied-back";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Tied back to what stands behind",
    checks: "Anchors and parked vehicles that another one holds from behind: what it adds, when it begins to work, and whether it or the piece between them is used elsewhere in the rig.",
    why: "The one behind does nothing until the front one has moved as far as the tie is slack and stretches. A tree may give after four centimetres at a low strap: a tie with more slack and stretch than that adds nothing, however strong what it leads to is.",
    example: "A birch that holds 8 kN, tied to an oak by a strap with 5 cm of slack: together 8 kN.",
    to_do: "Tie low, in line with the pull, and make the tie tight before the pull. Watch both, and stop at the first movement.",
    grade: Grade::OwnJudgement,
    sources: &["wac-296-54-569", "statics", "own-judgement"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    in_two_places(facts, out);
    for b in &facts.backed {
        let Some(front) = facts.parts.get(b.part) else { continue };
        let effect = match b.counted {
            Counted::Spare => Effect::Note,
            Counted::Together | Counted::Not(_) => Effect::Caution,
        };
        out.add(CODE, effect, || Words::new(&front.name, text(&front.name, b), RULE.to_do));
    }
}

fn text(front: &str, b: &BackedFact) -> String {
    let BackedFact { back, with, .. } = b;
    match (b.counted, &b.together) {
        (Counted::Not(why), _) => {
            format!("{front} is tied back to {back} with {with}, and {back} is not counted: {why}.")
        }
        (Counted::Spare, _) => format!("{front} holds what is asked alone; {back} behind it is spare."),
        (Counted::Together, Some((all, starts))) => {
            let range =
                |r: &Range<Force>| format!("{} at least, likely {}", say::capacity(r.low()), say::capacity(r.likely()));
            let alone = b.alone.as_ref().map_or_else(String::new, |a| format!(" ({front} alone: {})", range(a)));
            let nothing = if b.alone.is_some_and(|a| a.low() >= all.low()) {
                format!(" At the low end {back} adds nothing: {front} may give before the tie bears.")
            } else {
                String::new()
            };
            format!(
                "{front} and {back} behind it hold {}{alone}; {back} begins to work at a pull of {} at the latest, and {} gives first.{nothing}",
                range(all),
                say::load(starts.high()),
                b.first
            )
        }
        (Counted::Together, None) => format!("{front} is tied back to {back} with {with}."),
    }
}

/// What stands behind in a tie stands nowhere else.
fn in_two_places(facts: &Facts, out: &mut Findings) {
    let case = facts.case;
    let anchors = case.anchors.iter().filter_map(|a| Some((a.id.as_str(), a.tied_back.as_ref()?, false)));
    let helpers = case.helpers.iter().filter_map(|h| Some((h.vehicle.name.as_str(), h.backed_by.as_ref()?, true)));
    for (front, TieBack { to, with }, vehicle) in anchors.chain(helpers) {
        let used = |name: &str| {
            if vehicle { uses_helper(facts, name) } else { find::legs(facts.layout).any(|l| l.anchor == name) }
        };
        if used(front) && used(to) {
            out.add(CODE, Effect::Bars, || {
                Words::new(
                    to,
                    format!("{to} holds {front} from behind and stands in the rig itself: it can't do both."),
                    "Use another anchor, or take the tie off and say so.",
                )
            });
        }
        let ties =
            |i: usize| facts.backed.iter().any(|b| b.counted == Counted::Together && b.with == *with && b.part < i);
        let elsewhere =
            facts.parts.iter().enumerate().any(|(i, p)| {
                p.piece.is_some_and(|piece| piece.id == *with) && !(ties(i) && p.role.starts_with("ties "))
            });
        if elsewhere {
            out.add(CODE, Effect::Bars, || {
                Words::new(
                    with,
                    format!("{with} ties {front} back to {to} and stands in the rig too."),
                    "Use another piece in one of the two places.",
                )
            });
        }
    }
}

fn uses_helper(facts: &Facts, name: &str) -> bool {
    let is = |who: &Who| matches!(who, Who::Helper(n) if n == name);
    let pulls = match &facts.layout.puller {
        Puller::Winch { on } => is(on),
        Puller::Tow { helper, .. } => helper == name,
        Puller::HandWinch { .. } => false,
    };
    pulls
        || find::holds(facts.layout).any(|h| match h {
            Hold::Point { on, .. } | Hold::Bridle { on, .. } | Hold::Winch { on } => is(on),
            Hold::Anchors(_) => false,
        })
}

#[cfg(test)]
mod tests {
    use crate::facts::{BackedFact, Counted, PartKind};
    use crate::testkit::*;
    use crate::verdict::Finding;
    use unmire_model::Range;
    use unmire_model::anchor::TieBack;
    use unmire_model::layout::Hold;

    fn with(counted: Counted) -> Vec<Finding> {
        let range = |a: f64, b: f64| Range::new(kn(a), kn(0.5 * (a + b)), kn(b)).unwrap();
        said(super::RULE, |f| {
            f.parts.push(anchor_part(PartKind::NaturalAnchor, "A1", 8.0, 12.0));
            f.backed.push(BackedFact {
                part: 0,
                back: "A2".into(),
                with: "S9".into(),
                alone: Some(range(8.0, 14.0)),
                together: Some((range(21.0, 30.0), range(0.0, 5.2))),
                first: "the front anchor",
                counted,
            });
        })
    }
    #[test]
    fn what_two_hold_together_is_told() {
        let said = with(Counted::Together);
        cautions(&said);
        let text = &said[0].text;
        assert!(text.contains("hold 21 kN at least, likely 25.5 kN (A1 alone: 8 kN at least, likely 11 kN)"), "{text}");
        assert!(text.contains("at a pull of 5.2 kN at the latest, and the front anchor gives first"), "{text}");
    }
    #[test]
    fn a_spare_one_is_a_note_and_one_that_is_not_counted_a_caution_with_its_reason() {
        notes(&with(Counted::Spare));
        let said = with(Counted::Not("a sign rules it out"));
        cautions(&said);
        assert!(said[0].text.contains("a sign rules it out"));
    }
    fn tied(change: impl FnOnce(&mut unmire_model::layout::Layout)) -> Vec<Finding> {
        told(
            super::RULE,
            |c| c.anchors[0].tied_back = Some(TieBack { to: "A2".into(), with: "S9".into() }),
            change,
            |_| {},
        )
    }
    #[test]
    fn the_one_behind_can_not_stand_in_the_rig_too() {
        nothing(&tied(|_| {}));
        bars(&tied(|l| l.stations[0].hold = Hold::Anchors(vec![leg("A1", "S1"), leg("A2", "S2")])));
        // Without the front one it is an anchor like any other.
        nothing(&tied(|l| l.stations[0].hold = Hold::Anchors(vec![leg("A2", "S2")])));
    }
    #[test]
    fn the_piece_between_them_can_not_stand_in_the_rig_too() {
        let strap: &'static unmire_model::gear::Piece =
            Box::leak(Box::new(piece("S9", strap(unmire_model::gear::StrapUse::Extension, 60.0))));
        let with = |role: &'static str, counted: Option<Counted>| {
            told(
                super::RULE,
                |c| c.anchors[0].tied_back = Some(TieBack { to: "A2".into(), with: "S9".into() }),
                |_| {},
                move |f| {
                    f.parts.push(anchor_part(PartKind::NaturalAnchor, "A1", 8.0, 12.0));
                    let mut tie = of_piece(PartKind::Extension, strap);
                    tie.role = role.into();
                    f.parts.push(tie);
                    f.backed.extend(counted.map(|counted| BackedFact {
                        part: 0,
                        back: "A2".into(),
                        with: "S9".into(),
                        alone: None,
                        together: None,
                        first: "",
                        counted,
                    }));
                },
            )
        };
        bars(&with("tow line", None));
        cautions(&with("ties A1 back to A2", Some(Counted::Together)));
    }
}
