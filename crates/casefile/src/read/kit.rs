//! Pieces of the bag.

use super::kinetic::stretching;
use crate::keys::kit::{COMMON, PIECE_WORDS};
use crate::walk::{Mistake, Node, Walk, either, nearest};
use std::collections::BTreeMap;
use unmire_model::gear::{
    Bearing, Condition, EyeStyle, Label, Material, Piece, PieceKind, Rope, Stitching, Strap, StrapUse,
};
use unmire_model::kinetic::Stretching;
use unmire_model::{Force, Length, Mass};

/// Most pieces after `count` was expanded.
const MOST_PIECES: usize = 1000;

/// A material by its place among the words.
pub(crate) const MATERIAL: [Material; 7] = [
    Material::Polyester,
    Material::Nylon,
    Material::Hmpe,
    Material::Polypropylene,
    Material::SteelWire,
    Material::Chain,
    Material::Unknown,
];
const STRAP_USE: [StrapUse; 5] =
    [StrapUse::TreeStrap, StrapUse::RoundSling, StrapUse::Extension, StrapUse::Bridle, StrapUse::Kinetic];

/// The pieces of a kit file.
pub(super) fn kit(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Vec<Piece>> {
    n.word(w, "schema");
    if n.has("title") {
        n.text(w, "title");
    }
    let pieces = n.tables(w, "piece")?;
    let out: Vec<Piece> = pieces.iter().filter_map(|p| piece(w, p)).flatten().collect();
    unique(w, &out, &pieces);
    Some(out)
}

/// Tells of ids that are given twice.
pub(super) fn unique(w: &mut Walk<'_>, pieces: &[Piece], nodes: &[Node<'_, '_>]) {
    if pieces.len() > MOST_PIECES {
        let span = nodes.first().map_or(0..0, |n| n.span.clone());
        w.tell(
            Mistake::new("too-many", span, format!("{} pieces are more than a bag", pieces.len()))
                .expected(format!("at most {MOST_PIECES}")),
        );
    }
    let mut seen: BTreeMap<&str, u32> = BTreeMap::new();
    for p in pieces {
        if let Some(line) = seen.insert(&p.id, p.line) {
            let span = nodes.iter().find(|n| n.line(w) == p.line).map_or(0..0, |n| n.span_of("id"));
            w.tell(
                Mistake::new("duplicate-id", span, format!("the id \"{}\" is already used on line {line}", p.id))
                    .expected("an id of its own for each piece")
                    .hint("several alike are one row with count = 2; their ids are then K2-1 and K2-2"),
            );
        }
    }
}

/// One row: a piece, or several alike.
pub(super) fn piece(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Vec<Piece>> {
    let told = w.found.len();
    let id = n.id(w, "id");
    let count = if n.has("count") { n.whole(w, "count") } else { Some(1) };
    let condition = condition(w, n);
    let mass: Option<Mass> = n.one(w, "mass");
    let index = n.word(w, "kind")?;
    let word = PIECE_WORDS.get(index)?;
    for (key, _) in n.table.iter() {
        let name: &str = key.get_ref().as_ref();
        if n.section.key(name).is_none() || COMMON.contains(&name) || word.keys.contains(&name) {
            continue;
        }
        let mut all: Vec<&str> = COMMON.to_vec();
        all.extend(word.keys);
        w.tell(
            Mistake::new("unknown-key", key.span(), format!("a {} has no `{name}`", word.word))
                .expected(format!("one of: {}", all.join(", ")))
                .maybe_hint(nearest(name, word.keys.iter().copied()).map(|k| format!("did you mean `{k}`?"))),
        );
    }
    for need in word.need {
        if !n.has(need) {
            n.miss(w, need, &format!("a {} needs it", word.word));
        }
    }
    let label = if word.rated && !n.has("label") {
        n.miss(w, "label", "a piece without a rating is 'unknown' and never passes; say \"missing\" if there is none");
        None
    } else if n.has("label") {
        n.label(w, "label")
    } else {
        Some(Label::Missing)
    };
    let kind = kind(w, n, index);
    if w.found.len() > told {
        return None;
    }
    let (id, count, kind, label) = (id?, count?, kind?, label?);
    let line = n.line(w);
    let one =
        |id: String| Piece { id, kind: kind.clone(), label: label.clone(), condition: condition.clone(), mass, line };
    Some(if n.has("count") && count > 1 {
        (1..=count).map(|i| one(format!("{id}-{i}"))).collect()
    } else {
        vec![one(id)]
    })
}

fn condition(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Condition {
    let said = if n.has("condition") { n.word(w, "condition") } else { Some(1) };
    let reason = if n.has("reason") { n.text(w, "reason") } else { None };
    match (said, reason) {
        (Some(2), Some(reason)) => Condition::Reject { reason },
        (Some(2), None) if !n.has("reason") => {
            n.miss(w, "reason", "a rejected piece must say why");
            Condition::NotChecked
        }
        (Some(i), Some(_)) if i != 2 => {
            w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of("reason"),
                    "a reason for rejecting a piece that is not rejected",
                )
                .expected("condition = \"rejected\" with it, or no reason")
                .example("condition = \"rejected\""),
            );
            Condition::NotChecked
        }
        (Some(0), None) => Condition::Checked,
        _ => Condition::NotChecked,
    }
}

fn material(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Material> {
    if !n.has("material") {
        return None;
    }
    n.word(w, "material").and_then(|i| MATERIAL.get(i).copied())
}

fn word_or<T: Copy>(w: &mut Walk<'_>, n: &Node<'_, '_>, name: &'static str, words: &[T], absent: T) -> T {
    if !n.has(name) {
        return absent;
    }
    n.word(w, name).and_then(|i| words.get(i).copied()).unwrap_or(absent)
}

fn kind(w: &mut Walk<'_>, n: &Node<'_, '_>, index: usize) -> Option<PieceKind> {
    let word = PIECE_WORDS.get(index)?.word;
    let length = |w: &mut Walk<'_>, name: &'static str| if n.has(name) { n.one::<Length>(w, name) } else { None };
    let flag = |w: &mut Walk<'_>, name: &'static str| if n.has(name) { n.flag(w, name) } else { None };
    Some(match word {
        "rope" => {
            let (material, diameter, len, kinetic) =
                (material(w, n), length(w, "diameter"), length(w, "length"), flag(w, "kinetic"));
            let stretching = stretching(w, n, kinetic.unwrap_or(true));
            PieceKind::Rope(Rope {
                material: material?,
                diameter: diameter?,
                length: len?,
                kinetic: kinetic?,
                stretching,
            })
        }
        "bow shackle" => PieceKind::Shackle { bow: true, pin: length(w, "pin") },
        "dee shackle" => PieceKind::Shackle { bow: false, pin: length(w, "pin") },
        "soft shackle" => PieceKind::SoftShackle,
        "hook" => PieceKind::Hook { latch: flag(w, "latch")? },
        "block" => PieceKind::Block {
            bearing: word_or(
                w,
                n,
                "bearing",
                &[Bearing::Plain, Bearing::Bronze, Bearing::Roller, Bearing::Unknown],
                Bearing::Unknown,
            ),
            sheave: length(w, "sheave"),
            line_max: length(w, "line_max"),
        },
        "ring" => PieceKind::Ring {
            groove: length(w, "groove"),
            friction: if n.has("friction") { n.input_range::<f64>(w, "friction") } else { None },
        },
        "hand winch" => {
            let line = length(w, "line");
            let stall = if n.has("stall") { n.input_range::<Force>(w, "stall") } else { None };
            PieceKind::HandWinch { line: line?, stall }
        }
        "load cell" => PieceKind::LoadCell,
        "damper" => PieceKind::Damper,
        "shovel" => PieceKind::Shovel,
        "boards" => PieceKind::Boards,
        "chock" => PieceKind::Chock,
        "pump" => PieceKind::Pump,
        "jack" => PieceKind::Jack,
        "current meter" => PieceKind::CurrentMeter,
        "tilt meter" => PieceKind::TiltMeter,
        "movement marker" => PieceKind::MovementMarker,
        "other" => PieceKind::Other(if n.has("what") { n.text(w, "what")? } else { return None }),
        _ => strap(w, n, STRAP_USE.get(index).copied()?)?,
    })
}

fn strap(w: &mut Walk<'_>, n: &Node<'_, '_>, made_for: StrapUse) -> Option<PieceKind> {
    let material = material(w, n);
    let length = if n.has("length") { n.one::<Length>(w, "length") } else { None };
    let width = n.one::<Length>(w, "width");
    let eyes = word_or(
        w,
        n,
        "eyes",
        &[EyeStyle::Flat, EyeStyle::Folded, EyeStyle::Twisted, EyeStyle::FoldedTwisted, EyeStyle::Unknown],
        EyeStyle::Unknown,
    );
    let stitching =
        word_or(w, n, "stitching", &[Stitching::Along, Stitching::Across, Stitching::Unknown], Stitching::Unknown);
    let sleeve = n.flag(w, "sleeve").unwrap_or(false);
    let mut rating = |name: &'static str| {
        let label = n.label(w, name)?;
        label.rating().cloned()
    };
    let (choker_label, basket_label) = (rating("choker_label"), rating("basket_label"));
    let stretch = n.one::<f64>(w, "stretch");
    // Only the row of a kinetic strap has these keys: of any other they were told of as unknown.
    let stretching = if made_for == StrapUse::Kinetic { stretching(w, n, true) } else { Stretching::default() };
    Some(PieceKind::Strap(Strap {
        made_for,
        material: material?,
        length: length?,
        width,
        eyes,
        stitching,
        sleeve,
        choker_label,
        basket_label,
        stretch,
        stretching,
    }))
}

/// Tells of a piece that is not there, or not of the kind that its place needs.
pub(super) fn refer<'k>(
    w: &mut Walk<'_>,
    kit: &'k [Piece],
    id: &str,
    span: core::ops::Range<usize>,
    place: &str,
    fits: impl Fn(&PieceKind) -> bool,
) -> Option<&'k Piece> {
    let Some(piece) = kit.iter().find(|p| p.id == id) else {
        let ids: Vec<&str> = kit.iter().map(|p| p.id.as_str()).collect();
        let several = kit.iter().find(|p| p.id.strip_prefix(id).is_some_and(|t| t.starts_with('-')));
        let hint = several
            .map(|p| format!("there are several of \"{id}\": say which, \"{}\" and so on", p.id))
            .or_else(|| nearest(id, ids.iter().copied()).map(|n| format!("did you mean \"{n}\"?")));
        let first: Vec<&str> = ids.iter().copied().take(12).collect();
        let mut expected =
            if first.is_empty() { "the kit is empty".to_owned() } else { format!("one of {}", either(&first)) };
        if ids.len() > first.len() {
            expected.push_str(", …");
        }
        w.tell(
            Mistake::new("unknown-id", span, format!("no piece \"{id}\" in the kit"))
                .expected(expected)
                .maybe_hint(hint),
        );
        return None;
    };
    if !fits(&piece.kind) {
        let candidates: Vec<&str> = kit.iter().filter(|p| fits(&p.kind)).map(|p| p.id.as_str()).take(12).collect();
        let word = PIECE_WORDS.get(word_index(&piece.kind)).map_or("piece", |p| p.word);
        w.tell(Mistake::new("wrong-piece", span, format!("\"{id}\" is a {word} and can't be {place}")).expected(
            if candidates.is_empty() { "there is none such in the kit".into() } else { either(&candidates) },
        ));
        return None;
    }
    Some(piece)
}

/// The place of a piece's word in [`PIECE_WORDS`].
pub(crate) fn word_index(kind: &PieceKind) -> usize {
    let word = match kind {
        PieceKind::Strap(s) => match s.made_for {
            StrapUse::TreeStrap => "tree strap",
            StrapUse::RoundSling => "round sling",
            StrapUse::Extension => "extension strap",
            StrapUse::Bridle => "bridle",
            StrapUse::Kinetic => "kinetic strap",
        },
        PieceKind::Rope(_) => "rope",
        PieceKind::Shackle { bow: true, .. } => "bow shackle",
        PieceKind::Shackle { bow: false, .. } => "dee shackle",
        PieceKind::SoftShackle => "soft shackle",
        PieceKind::Hook { .. } => "hook",
        PieceKind::Block { .. } => "block",
        PieceKind::Ring { .. } => "ring",
        PieceKind::HandWinch { .. } => "hand winch",
        PieceKind::LoadCell => "load cell",
        PieceKind::Damper => "damper",
        PieceKind::Shovel => "shovel",
        PieceKind::Boards => "boards",
        PieceKind::Chock => "chock",
        PieceKind::Pump => "pump",
        PieceKind::Jack => "jack",
        PieceKind::CurrentMeter => "current meter",
        PieceKind::TiltMeter => "tilt meter",
        PieceKind::MovementMarker => "movement marker",
        PieceKind::Other(_) => "other",
    };
    PIECE_WORDS.iter().position(|p| p.word == word).unwrap_or(0)
}
