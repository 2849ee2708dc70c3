//! Pieces of the bag.

use super::{Out, amount, exact, quoted};
use crate::keys::kit::{BEARINGS, EYES, PIECE_WORDS, STITCHING};
use crate::keys::label::RATING;
use crate::keys::vehicle::MATERIALS;
use crate::label::read_print;
use crate::read::{MATERIAL, word_index};
use unmire_model::gear::{
    Bearing, Condition, EyeStyle, Label, Material, Piece, PieceKind, Rating, RatingKind, Stitching, Strap,
};

/// All pieces; several alike as one row.
pub(super) fn pieces(out: &mut Out, kit: &[Piece]) {
    let mut i = 0;
    while let Some(first) = kit.get(i) {
        let n = alike(kit, i);
        let id = if n > 1 { first.id.strip_suffix("-1").unwrap_or(&first.id) } else { &first.id };
        piece(out, first, id, n);
        i += n;
    }
}

/// How many pieces from here on are `X-1`, `X-2` … and otherwise the same.
fn alike(kit: &[Piece], from: usize) -> usize {
    let Some(first) = kit.get(from) else { return 1 };
    let Some(base) = first.id.strip_suffix("-1").filter(|b| !b.is_empty()) else { return 1 };
    let same = kit.get(from..).unwrap_or(&[]).iter().enumerate().take(100).take_while(|(k, p)| {
        p.id == format!("{base}-{}", k + 1)
            && p.kind == first.kind
            && p.label == first.label
            && p.condition == first.condition
            && p.mass == first.mass
    });
    same.count().max(1)
}

fn piece(out: &mut Out, p: &Piece, id: &str, count: usize) {
    out.header("[[piece]]");
    out.key("id", &quoted(id));
    let word = PIECE_WORDS.get(word_index(&p.kind));
    out.key("kind", &quoted(word.map_or("other", |w| w.word)));
    if count > 1 {
        out.key("count", &count.to_string());
    }
    if word.is_some_and(|w| w.rated) || p.label != Label::Missing {
        out.key("label", &label(&p.label));
    }
    match &p.condition {
        Condition::Checked => out.key("condition", "\"checked\""),
        Condition::NotChecked => {}
        Condition::Reject { reason } => {
            out.key("condition", "\"rejected\"");
            out.key("reason", &quoted(reason));
        }
    }
    if let Some(m) = p.mass {
        out.key("mass", &exact(m));
    }
    let length = |out: &mut Out, name: &str, l: Option<unmire_model::Length>| {
        if let Some(l) = l {
            out.key(name, &exact(l));
        }
    };
    match &p.kind {
        PieceKind::Strap(s) => strap(out, s),
        PieceKind::Rope(r) => {
            out.key("material", &material(r.material));
            out.key("diameter", &exact(r.diameter));
            out.key("length", &exact(r.length));
            out.key("kinetic", if r.kinetic { "true" } else { "false" });
            super::kinetic::stretching(out, &r.stretching);
        }
        PieceKind::Shackle { pin, .. } => length(out, "pin", *pin),
        PieceKind::Hook { latch } => out.key("latch", if *latch { "true" } else { "false" }),
        PieceKind::Block { bearing, sheave, line_max } => {
            let all = [Bearing::Plain, Bearing::Bronze, Bearing::Roller, Bearing::Unknown];
            out.key("bearing", &pick(&all, *bearing, BEARINGS));
            length(out, "sheave", *sheave);
            length(out, "line_max", *line_max);
        }
        PieceKind::Ring { groove, friction } => {
            length(out, "groove", *groove);
            if let Some(f) = friction {
                out.key("friction", &amount::range(f));
            }
        }
        PieceKind::HandWinch { line, stall } => {
            out.key("line", &exact(*line));
            if let Some(s) = stall {
                out.key("stall", &amount::range(s));
            }
        }
        PieceKind::Other(what) => out.key("what", &quoted(what)),
        PieceKind::SoftShackle
        | PieceKind::Damper
        | PieceKind::Shovel
        | PieceKind::Boards
        | PieceKind::Chock
        | PieceKind::Pump
        | PieceKind::Jack
        | PieceKind::LoadCell
        | PieceKind::CurrentMeter
        | PieceKind::TiltMeter
        | PieceKind::MovementMarker => {}
    }
}

fn strap(out: &mut Out, s: &Strap) {
    out.key("material", &material(s.material));
    out.key("length", &exact(s.length));
    if let Some(w) = s.width {
        out.key("width", &exact(w));
    }
    let eyes = [EyeStyle::Flat, EyeStyle::Folded, EyeStyle::Twisted, EyeStyle::FoldedTwisted, EyeStyle::Unknown];
    out.key("eyes", &pick(&eyes, s.eyes, EYES));
    let stitching = [Stitching::Along, Stitching::Across, Stitching::Unknown];
    out.key("stitching", &pick(&stitching, s.stitching, STITCHING));
    out.key("sleeve", if s.sleeve { "true" } else { "false" });
    if let Some(r) = &s.choker_label {
        out.key("choker_label", &rating(r));
    }
    if let Some(r) = &s.basket_label {
        out.key("basket_label", &rating(r));
    }
    if let Some(v) = s.stretch {
        out.key("stretch", &amount::share(v));
    }
    super::kinetic::stretching(out, &s.stretching);
}

/// The word of a value, by its place.
pub(super) fn pick<T: PartialEq>(all: &[T], value: T, words: &[&str]) -> String {
    let i = all.iter().position(|v| *v == value).unwrap_or(0);
    quoted(words.get(i).copied().unwrap_or_default())
}

/// A material's word.
pub(super) fn material(m: Material) -> String {
    pick(&MATERIAL, m, MATERIALS)
}

/// A label: its text where that says it all, else a table.
pub(super) fn label(l: &Label) -> String {
    match l {
        Label::Missing => "\"missing\"".into(),
        Label::Unreadable => "\"unreadable\"".into(),
        Label::Printed(r) => rating(r),
    }
}

fn rating(r: &Rating) -> String {
    let print = read_print(&r.as_printed);
    let is_word = ["missing", "none", "unreadable"].contains(&r.as_printed.trim().to_ascii_lowercase().as_str());
    let force = print.force.as_ref().is_ok_and(|f| f.as_n().to_bits() == r.force.as_n().to_bits());
    let kind = print.kind.unwrap_or(RatingKind::Unstated) == r.kind;
    let factor = print.factor == r.design_factor;
    if force && kind && factor && !is_word {
        return quoted(&r.as_printed);
    }
    let mut parts = vec![format!("text = {}", quoted(&r.as_printed))];
    if !force {
        parts.push(format!("means = {}", exact(r.force)));
    }
    if !kind {
        parts.push(format!(
            "rating = {}",
            pick(&[RatingKind::Working, RatingKind::Breaking, RatingKind::Unstated], r.kind, RATING)
        ));
    }
    if let (false, Some(f)) = (factor, r.design_factor) {
        parts.push(format!("design_factor = {}", super::number(f)));
    }
    format!("{{ {} }}", parts.join(", "))
}
