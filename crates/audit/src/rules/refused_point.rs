//! What the hook is on.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::vehicle::PointKind;

const CODE: &str = "refused-point";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "What the hook is on",
    checks: "Whether every point of a vehicle that the rig pulls on is a recovery point. A tow ball, a tie-down, a part of suspension, steering or axle, an unrated bar and a thing that nobody can name are refused before any force is looked at.",
    why: "Most of the reported deaths behind the Australian strap law were attachments that were never recovery points and were torn off.",
    example: "The rear tie-down of a wagon as the dead end of a double line: refused, whatever the pull.",
    to_do: "Hook to a chassis fitting that is made and rated for recovery. If there is none, pull from the other end or call heavier help.",
    grade: Grade::Published,
    sources: &["strap-standard-2017", "accc-2017", "dewnr-2016"],
    look: Look::Condition(check),
};

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for p in &facts.points {
        let what = match p.kind {
            PointKind::RecoveryPoint => continue,
            PointKind::TowBall => "a tow ball",
            PointKind::TieDown => "a tie-down for transport",
            PointKind::Suspension => "a part of suspension, steering or axle",
            PointKind::UnratedBar => "a bar without a rating",
            PointKind::Unidentified => "something that nobody has identified",
        };
        out.add(CODE, Effect::Bars, || {
            Words::new(
                &p.name,
                format!("{} is {what}: nothing may be hooked to it, whatever the pull.", p.name),
                "Hook to a chassis fitting that is made and rated for recovery.",
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PointFact;
    use crate::testkit::*;
    use unmire_model::vehicle::PointKind;

    fn on(kind: PointKind) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            f.points.push(PointFact { part: 0, name: "stuck R1".into(), id: "R1", kind, off_axis: None, cone: None });
        })
    }
    #[test]
    fn a_tow_ball_and_its_like_are_refused() {
        use PointKind::{Suspension, TieDown, TowBall, Unidentified, UnratedBar};
        for kind in [TowBall, TieDown, Suspension, UnratedBar, Unidentified] {
            bars(&on(kind));
        }
    }
    #[test]
    fn a_recovery_point_is_not() {
        nothing(&on(PointKind::RecoveryPoint));
    }
}
