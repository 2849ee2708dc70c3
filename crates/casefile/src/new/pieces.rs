//! The bag in one line.

use super::answer::material;
use crate::keys::kit::{PIECE_WORDS, PieceWord};
use crate::label::read_print;
use unmire_model::Length;
use unmire_model::quantity::text::read_one;

/// A piece as somebody named it.
pub(super) struct Piece {
    pub(super) kind: &'static PieceWord,
    pub(super) count: u32,
    pub(super) label: Option<String>,
    pub(super) length: Option<Length>,
    pub(super) width: Option<Length>,
    pub(super) material: Option<&'static str>,
}

const EXPECTED: &str = "expected number and kind, then its label, length and width with commas between; for example 2 bow shackle, WLL 4.75 t (6:1)";

/// Reads the bag.
pub(super) fn parse(a: &str) -> Result<Vec<Piece>, String> {
    a.split(';').map(str::trim).filter(|p| !p.is_empty()).map(piece).collect()
}

/// Whether a text can stand as a label.
pub(super) fn check_label(t: &str) -> Result<(), String> {
    match read_print(t).force {
        Ok(_) => Ok(()),
        Err(e) if e.message.contains("can mean short tons") || e.message.contains("has no unit") => Err(format!(
            "`{t}` does not say which unit: a shackle's digits are tonnes (1000 kg) under one specification and short tons (2000 lb) \
             under another, 10 % apart; write t or short tons as the part or its maker says, or leave the label out"
        )),
        Err(_) => Err(format!("`{t}` is neither a label with a force, nor a length, nor a material; {EXPECTED}")),
    }
}

fn piece(t: &str) -> Result<Piece, String> {
    let mut fields = t.split(", ").flat_map(|f| f.split(" ,")).map(str::trim).filter(|f| !f.is_empty());
    let head = fields.next().unwrap_or("");
    let digits = head.bytes().take_while(u8::is_ascii_digit).count();
    let count = if digits == 0 { 1 } else { head[..digits].parse::<u32>().unwrap_or(0) };
    if !(1..=100).contains(&count) {
        return Err(format!("`{head}`: from 1 to 100 alike; {EXPECTED}"));
    }
    let name = head[digits..].trim_start_matches([' ', 'x', '\u{d7}']).trim().to_ascii_lowercase();
    let singular = name.strip_suffix('s').unwrap_or(&name);
    let found =
        PIECE_WORDS.iter().find(|p| p.word == name || p.word == singular || p.word.strip_suffix('s') == Some(singular));
    let Some(kind) = found else {
        let near = crate::walk::nearest(&name, PIECE_WORDS.iter().map(|p| p.word));
        let near = near.map_or(String::new(), |n| format!("; did you mean {n}?"));
        let all: Vec<&str> = PIECE_WORDS.iter().map(|p| p.word).collect();
        return Err(format!("`{name}` is no kind of piece{near}; the kinds are {}", all.join(", ")));
    };
    let mut out = Piece { kind, count, label: None, length: None, width: None, material: None };
    for field in fields {
        if let Some(m) = material(field) {
            out.material = Some(m);
        } else if let Ok(l) = read_one::<Length>(field) {
            if l.as_m() < 0.3 {
                out.width = Some(l);
            } else {
                out.length = Some(l);
            }
        } else {
            check_label(field)?;
            out.label = Some(field.to_owned());
        }
    }
    Ok(out)
}
