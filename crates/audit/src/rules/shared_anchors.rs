//! Anchors that share a pull.

use crate::facts::{Facts, SharingFact};
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::rules::{find, say};
use crate::verdict::{Effect, Grade};
use core::fmt::Write as _;
use unmire_model::layout::Hold;
use unmire_model::quantity::show::{Round, show_share};

const CODE: &str = "shared-anchors";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Anchors that share a pull",
    checks: "Places where two or more anchors hold one block or dead end together, and how uneven that may become: every leg is judged by the most that it may get.",
    why: "They share by their lengths and stiffness. A slack leg carries nothing, and a buried log creeps before it bites, so that another anchor takes its part.",
    example: "Three birches on one shackle, one strap 20 cm too long: two birches carry all.",
    to_do: "Set the lengths so that all legs come taut together, pull gently, look, and set them again.",
    grade: Grade::CommonPractice,
    sources: &["common-practice", "statics"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for hold in find::holds(facts.layout) {
        let Hold::Anchors(legs) = hold else { continue };
        if legs.len() < 2 {
            continue;
        }
        let names = || legs.iter().map(|l| l.anchor.as_str());
        let known = facts.sharing.iter().find(|s| s.anchors.iter().map(String::as_str).eq(names()));
        let effect = if known.is_some_and(|s| s.unevenness.is_none()) { Effect::Unknown } else { Effect::Caution };
        out.add(CODE, effect, || {
            Words::new(
                names().collect::<Vec<_>>().join(", "),
                format!(
                    "{} share one pull only while all legs are taut; one that slips gives its part to the others{}.",
                    say::list(names()),
                    known.map_or_else(String::new, how_uneven)
                ),
                "Set the lengths so that all come taut together, pull gently, look, and set them again.",
            )
        });
    }
}

/// How uneven it may become.
fn how_uneven(s: &SharingFact) -> String {
    let Some(uneven) = s.unevenness else {
        return "; how uneven that may be is not known, for nobody knows how far they give".to_owned();
    };
    let mut out = String::new();
    if let Some((name, share)) = &s.most {
        let share = show_share(*share, Round::Up);
        let _ = write!(out, ". {name} may get up to {share} of the pull, {} times its even part", say::more(uneven));
    }
    if let Some(way) = s.ring_moves {
        let _ = write!(out, ", and the place where they meet may move {}", say::length_up(way));
    }
    if !s.slack.is_empty() {
        let _ = write!(out, "; likely {} carries nothing, its leg hangs slack", say::list(&s.slack));
    } else if !s.may_hang_slack.is_empty() {
        let _ =
            write!(out, "; {} may hang slack if its leg is some centimetres too long", say::list(&s.may_hang_slack));
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::facts::SharingFact;
    use crate::testkit::*;
    use unmire_model::layout::Hold;

    #[test]
    fn two_anchors_that_share_are_told() {
        cautions(&said_of(super::RULE, |l| {
            l.stations[0].hold = Hold::Anchors(vec![leg("A1", "S1"), leg("A2", "S2")]);
        }));
    }
    fn shared(unevenness: Option<f64>, slack: &[&str], may: &[&str]) -> Vec<crate::verdict::Finding> {
        let names = |list: &[&str]| list.iter().map(|s| (*s).to_owned()).collect::<Vec<_>>();
        let fact = SharingFact {
            anchors: names(&["A1", "A2"]),
            unevenness,
            most: unevenness.map(|_| ("A2".to_owned(), 0.724)),
            slack: names(slack),
            may_hang_slack: names(may),
            ring_moves: unevenness.map(|_| unmire_model::Length::from_m(0.31)),
        };
        told(
            super::RULE,
            |_| {},
            |l| l.stations[0].hold = Hold::Anchors(vec![leg("A1", "S1"), leg("A2", "S2")]),
            |f| f.sharing.push(fact),
        )
    }
    #[test]
    fn how_uneven_it_may_become_is_told_with_the_leg_that_gets_most() {
        let said = shared(Some(1.31), &[], &[]);
        cautions(&said);
        assert!(
            said[0].text.contains("A2 may get up to 73 % of the pull, 1.4 times its even part"),
            "{}",
            said[0].text
        );
    }
    #[test]
    fn slack_legs_are_named() {
        assert!(shared(Some(2.0), &["A1"], &["A1"])[0].text.contains("likely A1 carries nothing"));
        assert!(shared(Some(2.0), &[], &["A1"])[0].text.contains("A1 may hang slack"));
    }
    #[test]
    fn what_nobody_can_tell_is_unknown() {
        unknowns(&shared(None, &[], &[]));
    }
    #[test]
    fn one_alone_is_not() {
        nothing(&said(super::RULE, |_| {}));
    }
}
