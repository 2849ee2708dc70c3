//! Direction of pull on a recovery point.

use crate::facts::Facts;
use crate::findings::{Findings, Words};
use crate::policy::Policy;
use crate::rules::say;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Grade};
use unmire_model::Angle;
use unmire_model::vehicle::PointKind;

const CODE: &str = "point-direction";

/// The rule.
pub const RULE: Rule = Rule {
    code: CODE,
    title: "Direction of pull on a recovery point",
    checks: "The angle between the pull and the direction in which the point is made to be pulled, against the most that its maker allows.",
    why: "A point that is strong along the chassis may bend or tear when it is pulled sideways; its rating says nothing of that.",
    example: "A maker allows 30 degrees, the line stands at 42 degrees: barred.",
    to_do: "Move the line nearer to the point's own direction, use a bridle to two points, or turn the line with a block.",
    grade: Grade::OwnJudgement,
    sources: &["own-judgement"],
    look: Look::Condition(check),
};

/// Beyond this angle a point without a stated limit deserves a look: at 45 degrees as much of the pull is across the
/// point as along it. Own judgement.
const LOOK_CLOSER: Angle = Angle::from_deg(45.0);

enum Told {
    Beyond(Angle, Angle),
    Wide(Angle),
    Unknown,
}

fn check(facts: &Facts, _: &Policy, out: &mut Findings) {
    for p in facts.points.iter().filter(|p| p.kind == PointKind::RecoveryPoint) {
        let (effect, text) = match (p.off_axis, p.cone) {
            (Some(off), Some(cone)) if off > cone || !off.is_finite() => (Effect::Bars, Told::Beyond(off, cone)),
            (Some(_), Some(_)) => continue,
            (Some(off), None) if off > LOOK_CLOSER => (Effect::Caution, Told::Wide(off)),
            (Some(_), None) => continue,
            (None, _) => (Effect::Note, Told::Unknown),
        };
        out.add(CODE, effect, || match text {
            Told::Beyond(off, cone) => Words::new(
                &p.name,
                format!(
                    "{} is pulled {} off its own direction; its maker allows {}.",
                    p.name,
                    say::angle(off),
                    say::angle(cone)
                ),
                "Bring the line nearer to the point's direction, with a block or from another anchor.",
            ),
            Told::Wide(off) => Words::new(
                &p.name,
                format!(
                    "{} is pulled {} off its own direction, and its maker's limit is not stated.",
                    p.name,
                    say::angle(off)
                ),
                "Ask the maker what it allows, use a bridle to two points, or bring the line nearer to its direction.",
            ),
            Told::Unknown => Words::new(
                &p.name,
                format!("The direction in which {} is made to be pulled is not stated.", p.name),
                "State its direction, and the angle that its maker allows.",
            ),
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::facts::PointFact;
    use crate::testkit::*;
    use unmire_model::Angle;
    use unmire_model::vehicle::PointKind;

    fn pulled(off: Option<f64>, cone: Option<f64>) -> Vec<crate::verdict::Finding> {
        said(super::RULE, |f| {
            f.points.push(PointFact {
                part: 0,
                name: "stuck R1".into(),
                id: "R1",
                kind: PointKind::RecoveryPoint,
                off_axis: off.map(Angle::from_deg),
                cone: cone.map(Angle::from_deg),
            });
        })
    }
    #[test]
    fn beyond_the_makers_angle_is_barred() {
        bars(&pulled(Some(42.0), Some(30.0)));
        bars(&pulled(Some(f64::NAN), Some(30.0)));
    }
    #[test]
    fn wide_without_a_limit_is_a_caution_and_no_direction_a_note() {
        cautions(&pulled(Some(60.0), None));
        notes(&pulled(None, Some(30.0)));
    }
    #[test]
    fn within_the_limit_nothing_is_said() {
        nothing(&pulled(Some(30.0), Some(30.0)));
        nothing(&pulled(Some(20.0), None));
    }
}
