//! The words beside the numbers, and what was seen when lines parted.

use super::Failure;
use crate::rigging::{Pull, Rigging};
use unmire_audit::facts::PartKind;
use unmire_tables::generated::recoil_seen;

/// What was seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// In words.
    pub what: &'static str,
    /// `speed`, `distance`, `energy`, `accident`.
    pub of: &'static str,
    /// The number, m/s, m or J.
    pub value: Option<f64>,
    /// Key of its source.
    pub source: &'static str,
    /// How it is known.
    pub how: &'static str,
}

/// All of it.
pub(crate) fn seen() -> Vec<Seen> {
    recoil_seen::ROWS
        .iter()
        .map(|r| Seen { what: r.what, of: r.of, value: r.value, source: r.source, how: r.how.words() })
        .collect()
}

/// Blunt words, for this rig.
pub(crate) fn words(rigging: &Rigging<'_>, failures: &[Failure]) -> Vec<String> {
    let metal = failures.iter().any(|f| {
        matches!(f.kind, PartKind::Block | PartKind::BlockConnector | PartKind::Connector | PartKind::RecoveryPoint)
    });
    let mut out = Vec::new();
    if metal {
        out.push("Metal in the line becomes a projectile. A shackle, a hook or a block kills through a windscreen; a soft shackle takes metal out of the line where it is rated for the load and has no edge to lie on.".to_owned());
    }
    out.push("Hook only on rated recovery points; never on a tow ball, a tie-down, a bumper or a part of the suspension. Torn off, it flies with the line.".to_owned());
    out.push("These speeds and energies are upper bounds of a clean break along the line. They say how bad it can be; they make no place harmless.".to_owned());
    out.push("Nobody stands between the vehicles, in line with a loaded line behind or before them, inside a bend of the line, downhill, or astride it. Nobody steps over a loaded line.".to_owned());
    let throws = |way: &str| failures.iter().flat_map(|f| &f.flies).any(|f| f.way.starts_with(way));
    if throws("sideways") {
        out.push("A redirect throws sideways: the inside of the bend is the worst place there is, and the block flies into it.".to_owned());
    }
    if throws("back along both parts") {
        out.push(
            "A block that lets go comes back along both parts of its line, at the vehicle and whoever is in it."
                .to_owned(),
        );
    }
    out.push(
        match &rigging.pull {
            Pull::Winch { .. } => "The operator holds the remote outside the ground to keep clear, or sits in the cab only on the conditions below; the signaller stands outside it where both can be seen.",
            Pull::Hand { .. } => "Whoever works the lever is inside this ground: alone, to the side, never in line. If that is too near for the energy below, this is the wrong tool.",
            Pull::Tow { .. } => "The drivers are belted in and alone; the signaller stands outside the ground to keep clear, where both can be seen.",
        }
        .to_owned(),
    );
    out.push("A damper is laid on the line because the trade does it. No published test of one was found: it is not reckoned, and it shrinks nothing.".to_owned());
    out.push(
        "Training, the makers' instructions and local rules come first; where they ask for more distance, they count."
            .to_owned(),
    );
    out
}
