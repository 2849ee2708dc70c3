//! Stop load and what shows it.

use crate::assess::{Fitting, Pulls, assess};
use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::Verdict;
use crate::verdict::{Effect, Grade};
use unmire_model::Force;

const CODE: &str = "stop-load";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Stop load and what shows it",
    checks: "Parts that are enough at work and short at stall: the line pull at the winch not to go past, and whether something in the rig shows it in time.",
    why: "If the button is held, the winch pulls to its stall. Below a stop load such a part holds, but only if somebody sees that load coming: a load cell or a calibrated current for hardware, the turning of its base for a tree, movement for other anchors. A load cell does not tell what a tree stands, and a tilt meter knows nothing of a shackle.",
    example: "A shackle that is good for 30 kN of line pull under a winch that stalls at 50 kN, with a load cell in the line: stop at 30 kN.",
    to_do: "Say the stop load aloud before the pull; one person reads the detector and does nothing else.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement", "whsq-2018", "detter-2023"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, policy: &Policy, out: &mut Findings) {
    let pulls = Pulls::of(facts);
    for fitting in [Fitting::Load, Fitting::Tilt, Fitting::Movement] {
        let is_there = fitting.is_in(&facts.detectors);
        // Asked as if the detector were there, so that what it would bring is known where it is missing.
        let short = || {
            facts.parts.iter().filter(move |p| Fitting::of(p, facts) == fitting).filter_map(|p| {
                let a = assess(p, policy.row(p.kind)?, &pulls, true);
                let stop = a.stop_load.filter(|_| a.verdict == Verdict::HoldsBelowStopLoad)?;
                Some((p.name.as_str(), stop))
            })
        };
        let Some(least) = short().map(|(_, s)| s).reduce(Force::min) else { continue };
        out.add(CODE, Effect::Caution, || {
            let mut names: Vec<&str> = short().map(|(n, _)| n).collect();
            names.dedup();
            let what = format!(
                "At stall {} would be short of what is asked; up to {} of line pull at the winch it is enough",
                say::list(&names),
                say::capacity(least)
            );
            let (text, remedy) = if is_there {
                (format!("{what}."), sign(fitting, least))
            } else {
                (
                    format!("{what}, but nothing in the rig shows that in time."),
                    format!(
                        "With {} it would hold below a stop load. Or use stronger pieces, or less pull.",
                        fitting.words()
                    ),
                )
            };
            Words::new(names.join(", "), text, remedy)
        });
    }
}

fn sign(fitting: Fitting, least: Force) -> String {
    match fitting {
        Fitting::Load => format!(
            "Stop at {} of line pull at the winch, read by one person who does nothing else.",
            say::capacity(least)
        ),
        Fitting::Tilt => {
            "Stop when the base of the tree turns by a quarter of a degree, or the ground behind it lifts.".into()
        }
        Fitting::Movement => "Stop when the anchor moves against its mark at all.".into(),
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PartKind;
    use crate::testkit::*;

    fn with(breaking: f64, cell: bool) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            f.parts.push(part(PartKind::Connector, Some(breaking), None));
            f.parts.push(part(PartKind::Extension, Some(90.0), None));
            f.detectors.load_cell = cell.then(|| "L1".into());
        })
    }
    #[test]
    fn a_stop_load_is_said_with_its_detector() {
        let found = with(60.0, true);
        cautions(&found);
        assert!(found[0].remedy.contains("30 kN"), "{found:?}");
    }
    #[test]
    fn a_missing_detector_is_said() {
        let found = with(60.0, false);
        cautions(&found);
        assert!(found[0].remedy.contains("load cell"), "{found:?}");
    }
    #[test]
    fn a_tree_is_told_its_own_sign() {
        let found = said(super::RULE, |f| {
            f.parts.push(anchor_part(PartKind::NaturalAnchor, "A1", 30.0, 60.0));
            f.detectors.tilt_meter = Some("T1".into());
        });
        cautions(&found);
        assert!(found[0].remedy.contains("quarter of a degree"));
    }
    #[test]
    fn what_holds_or_is_too_weak_at_work_has_no_stop_load() {
        nothing(&said(super::RULE, |f| f.parts.push(part(PartKind::Connector, Some(100.0), None))));
        nothing(&said(super::RULE, |f| f.parts.push(part(PartKind::Connector, Some(15.0), None))));
    }
}
