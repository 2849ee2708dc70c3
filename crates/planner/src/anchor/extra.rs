//! What stands beside the number: how to see that it gives, what its bark bears, how to build it.

use super::{BarkLook, Build, Question, Watch};
use unmire_mechanics::MechanicsError;
use unmire_mechanics::anchor::watch::{movement_of_mark, stop_rotation};
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::{Length, Silent};

/// Height of the mark that a crew can see move.
const MARK: Length = Length::from_m(1.0);

/// How to see that an anchor gives.
pub(super) fn watch(anchor: &Anchor) -> Result<Option<Watch>, MechanicsError> {
    if !matches!(anchor.kind, AnchorKind::Tree(_) | AnchorKind::Stump(_)) {
        return Ok(Some(watch_ground()));
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
pub(super) fn bark(_q: &Question<'_>) -> Result<Option<BarkLook>, MechanicsError> {
    Ok(None)
}

/// How to build one that holds the load.
pub(super) fn build(_q: &Question<'_>) -> Result<Vec<Build>, MechanicsError> {
    Ok(Vec::new())
}
