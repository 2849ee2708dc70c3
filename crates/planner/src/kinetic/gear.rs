//! Which gear is refused for a kinetic pull, and why.

use crate::words;
use unmire_mechanics::kinetic::{Unfit, fit_for_kinetic};
use unmire_model::case::Case;
use unmire_model::gear::{Material, PieceKind};
use unmire_model::vehicle::Winch;

/// A piece or a line that may not be snatched on.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// Its id, or `line of W1`.
    pub piece: String,
    /// What it is.
    pub what: String,
    /// The code.
    pub code: &'static str,
    /// Why, as a sentence.
    pub why: String,
    /// Whether it is merely not known enough.
    pub unknown: bool,
}

/// Every line, strap and chain of a case that is refused.
pub(super) fn refused(case: &Case) -> Vec<Refused> {
    let mut out = Vec::new();
    for p in &case.kit {
        let line = matches!(p.kind, PieceKind::Strap(_) | PieceKind::Rope(_));
        if let (true, Err(why)) = (line, fit_for_kinetic(p)) {
            out.push(of(p.id.clone(), words::piece(p), &why));
        } else if matches!(p.kind, PieceKind::HandWinch { .. }) {
            out.push(of(p.id.clone(), words::piece(p), &Unfit::Chain));
        }
    }
    let winches = case.vehicle.winch.iter().chain(case.helpers.iter().filter_map(|h| h.vehicle.winch.as_ref()));
    out.extend(winches.map(winch_line));
    out
}

/// No winch line is snatched on, whatever it is made of.
fn winch_line(winch: &Winch) -> Refused {
    let why = match winch.line.material {
        Material::SteelWire => Unfit::Wire,
        Material::Chain => Unfit::Chain,
        _ => Unfit::WinchLine,
    };
    of(format!("line of {}", winch.id), "winch line".to_owned(), &why)
}

fn of(piece: String, what: String, why: &Unfit) -> Refused {
    Refused { piece, what, code: why.code(), why: crate::demand::sentence(&why.to_string()), unknown: why.is_unknown() }
}
