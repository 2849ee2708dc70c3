//! What is to be said of a case whatever the rig: points that are refused, anchors ruled out or not known.

use crate::choices::ruled_out;
use crate::context::Context;
use crate::demand;
use unmire_audit::verdict::{Effect, Finding};
use unmire_model::Angle;
use unmire_model::case::Case;
use unmire_model::vehicle::PointKind;

/// What is to be said of the case whatever the rig: anchors ruled out or not known, points refused, pieces out of use.
pub(crate) fn about_the_case(ctx: &Context<'_>, case: &Case) -> Vec<Finding> {
    let mut out = Vec::new();
    for p in &case.vehicle.points {
        let what = match p.kind {
            PointKind::RecoveryPoint => continue,
            PointKind::TowBall => "a tow ball",
            PointKind::TieDown => "a transport tie-down",
            PointKind::Suspension => "a part of the suspension, steering or axle",
            PointKind::UnratedBar => "a bar, rack or bumper without a rating",
            PointKind::Unidentified => "nobody knows what it is",
        };
        out.push(Finding {
            code: "refused-point",
            effect: Effect::Note,
            subject: format!("point {}", p.id),
            text: format!("No hook goes on point {}: {what}.", p.id),
            remedy: "Find a recovery point that is made and rated for it, and state its kind and its label.".to_owned(),
        });
    }
    for a in &case.anchors {
        if let Some(sign) = ruled_out(a) {
            let sign = sign.replace('_', " ");
            out.push(Finding {
                code: "anchor-ruled-out",
                effect: Effect::Note,
                subject: a.id.clone(),
                text: format!("Anchor {} is left out: {sign}.", a.id),
                remedy: "Find another anchor.".to_owned(),
            });
        } else if let Some(known) = ctx.anchor(a, Angle::ZERO) {
            if known.ultimate.is_none() {
                let why = known.reason.as_deref().unwrap_or("not enough is known of it");
                out.push(Finding {
                    code: "anchor-not-known",
                    effect: Effect::Note,
                    subject: a.id.clone(),
                    text: demand::sentence(&format!("what {} holds is not known: {why}", a.id)),
                    remedy: format!(
                        "Find it out ('unmire anchor CASE {}' tells what is missing), or use another.",
                        a.id
                    ),
                });
            }
            for w in &known.warnings {
                out.push(demand::finding(w, &a.id));
            }
        }
    }
    out
}
