//! What stands beside the number: how to see that it gives, what its bark bears, how to build it.

use super::limits::Judged;
use super::{BarkLook, Question, Watch};
use unmire_audit::facts::PartKind;
use unmire_mechanics::MechanicsError;
use unmire_mechanics::anchor::watch::{movement_of_mark, stop_rotation};
use unmire_mechanics::anchor::{
    Around, Ask, BarkGives, BuildSheet, Buried, Pulled, band_pressure, bark_limit, build_deadman, build_pickets,
    build_plates, least_width,
};
use unmire_mechanics::standing::Warning;
use unmire_model::anchor::{Anchor, AnchorKind, DeadmanShape};
use unmire_model::ground::Season;
use unmire_model::{Angle, Force, Length, Silent};

/// Height of the mark that a crew can see move.
const MARK: Length = Length::from_m(1.0);

/// How to see that an anchor gives.
pub(super) fn watch(anchor: &Anchor) -> Result<Option<Watch>, MechanicsError> {
    match anchor.kind {
        AnchorKind::Tree(_) | AnchorKind::Stump(_) => {}
        AnchorKind::Deadman(_) | AnchorKind::Plates(_) | AnchorKind::Pickets(_) => return Ok(Some(watch_bite())),
        _ => return Ok(Some(watch_ground())),
    }
    let tilt = stop_rotation()?;
    let moves = movement_of_mark(tilt, MARK, &mut Silent)?;
    Ok(Some(Watch {
        text: "Fix a tilt meter or a straight stick to its foot; stop if the base turns or the ground lifts behind it"
            .to_owned(),
        tilt: Some(tilt),
        movement: Some((MARK, moves)),
        source: "detter-2023",
    }))
}

/// How to see that something buried or driven goes on moving: it gives a little before it bites.
fn watch_bite() -> Watch {
    Watch {
        text: "Mark it against two stakes with a string across. It moves a little while it bites: load it in steps, wait, and \
               stop if the mark goes on moving or the ground heaves"
            .to_owned(),
        tilt: None,
        movement: None,
        source: "common-practice",
    }
}

/// How to see that the ground gives.
pub(super) fn watch_ground() -> Watch {
    Watch {
        text: "Drive two stakes beside it, out of the pull, with a string across; stop at the first movement against the string"
            .to_owned(),
        tilt: None,
        movement: None,
        source: "common-practice",
    }
}

/// What the bark of a living tree bears.
pub(super) fn bark(q: &Question<'_>, pull: Option<Force>) -> Result<Option<BarkLook>, MechanicsError> {
    let AnchorKind::Tree(tree) = &q.anchor.kind else { return Ok(None) };
    let limit = bark_limit(tree, q.season, &mut Silent)?;
    let diameter = tree.diameter.value.low();
    let width = |around| pull.map(|p| least_width(p, around, diameter, 1, limit.pressure)).transpose();
    let basket = Around::Basket { included: Angle::ZERO };
    let strap = match (q.strap, pull) {
        (Some(w), Some(p)) => Some((w, band_pressure(p, basket, w, diameter, 1, &mut Silent)?)),
        _ => None,
    };
    Ok(Some(BarkLook {
        season: match (limit.season_known, limit.season) {
            (false, _) => "season not known, growing counts",
            (true, Season::Growing) => "growing season",
            (true, Season::Dormant) => "dormant season",
        },
        gives: match limit.gives {
            BarkGives::Peels => "the bark peels where the strap slips",
            BarkGives::WoodCrushed => "the wood is crushed across the grain",
        },
        limit: limit.pressure,
        pull,
        width_basket: width(basket)?,
        width_choker: width(Around::Choker)?,
        strap,
        source: "vilkovsky-2022",
    }))
}

/// What must be told of a strap that presses harder than the bark stands.
pub(super) fn bark_warning(b: &BarkLook) -> Option<Warning> {
    let (_, pressure) = b.strap?;
    let text = "the strap presses harder than the bark stands: it may peel it, and a girdled tree dies";
    (pressure > b.limit).then(|| Warning::new("bark-overloaded", text))
}

/// Shares and multiples of the pull that the low end is asked for, tried in turn until the policy passes what is proposed: a
/// policy may judge by the likely value, so that less than the whole pull at the low end can be enough.
const ASKED: [f64; 9] = [0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0, 3.0, 4.0];

/// How to build one that holds the load, where the anchor is one that a crew builds.
pub(super) fn build(q: &Question<'_>) -> Result<Vec<BuildSheet>, MechanicsError> {
    let Some(load) = q.load else { return Ok(Vec::new()) };
    let pull = load.stall.unwrap_or(load.work).max(load.work);
    let ask = |times: f64| Ask {
        pull: pull * times,
        divisor: 1.0,
        pulled: Pulled { saturated: q.saturated, rise: q.rise },
        crew: q.crew,
    };
    let passes = |sheet: &BuildSheet| {
        Judged::new(&sheet.capacity, PartKind::MadeAnchor, q.policy, q.detector).verdict(load, 1.0).0.passes()
    };
    // The least that the policy passes, or the strongest that the rules allow.
    let least = |make: &dyn Fn(&Ask) -> Result<BuildSheet, MechanicsError>| {
        let mut last = None;
        for times in ASKED {
            let mut sheet = make(&ask(times))?;
            let (strongest, passed) = (!sheet.enough, passes(&sheet));
            sheet.pull = pull;
            sheet.enough = passed;
            if passed {
                sheet.reason = None;
            }
            last = Some(sheet);
            if passed || strongest {
                break;
            }
        }
        Ok::<_, MechanicsError>(last)
    };
    let mut sheets = Vec::new();
    match &q.anchor.kind {
        AnchorKind::Pickets(p) => sheets.extend(least(&|a| build_pickets(a, p.stakes, &p.earth, &mut Silent))?),
        AnchorKind::Deadman(d) => {
            let deeper = match &d.shape {
                DeadmanShape::Log { diameter, length } => {
                    Buried::Log { diameter: diameter.value.low(), length: length.value.low() }
                }
                DeadmanShape::Beam { face, length } => {
                    Buried::Beam { face: face.value.low(), length: length.value.low() }
                }
                DeadmanShape::Wheel { diameter } => Buried::Wheel { diameter: diameter.value.low() },
            };
            sheets.extend(least(&|a| build_deadman(a, &deeper, &d.earth, &mut Silent))?);
            if let DeadmanShape::Log { diameter, .. } = &d.shape {
                let longer = Buried::LogThick { diameter: diameter.value.low(), depth: d.depth.value.low() };
                sheets.extend(least(&|a| build_deadman(a, &longer, &d.earth, &mut Silent))?);
            }
        }
        AnchorKind::Plates(p) => {
            if let Some(proof) = &p.proof {
                sheets.extend(least(&|a| build_plates(a, &p.what, proof.value, &mut Silent))?);
            }
        }
        AnchorKind::Tree(_)
        | AnchorKind::Stump(_)
        | AnchorKind::Boulder(_)
        | AnchorKind::RockBolts(_)
        | AnchorKind::Made { .. }
        | AnchorKind::Other { .. } => {}
    }
    Ok(sheets)
}
