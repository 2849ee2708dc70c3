//! Strength, one rule for every kind of part. The judging itself is [`crate::assess::assess`].

pub mod block;
pub mod block_connector;
pub mod block_strap;
pub mod connector;
pub mod end_strap;
pub mod extension;
pub mod hand_winch;
pub mod line;
pub mod made_anchor;
pub mod natural_anchor;
pub mod parked_vehicle;
pub mod recovery_point;
pub mod winch_mount;

use crate::facts::PartKind;

/// The code of the rule for this kind of part.
#[must_use]
pub const fn code(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Line => line::RULE.code,
        PartKind::Connector => connector::RULE.code,
        PartKind::BlockConnector => block_connector::RULE.code,
        PartKind::Block => block::RULE.code,
        PartKind::BlockStrap => block_strap::RULE.code,
        PartKind::EndStrap => end_strap::RULE.code,
        PartKind::Extension => extension::RULE.code,
        PartKind::RecoveryPoint => recovery_point::RULE.code,
        PartKind::WinchMount => winch_mount::RULE.code,
        PartKind::HandWinch => hand_winch::RULE.code,
        PartKind::NaturalAnchor => natural_anchor::RULE.code,
        PartKind::MadeAnchor => made_anchor::RULE.code,
        PartKind::ParkedVehicle => parked_vehicle::RULE.code,
    }
}
