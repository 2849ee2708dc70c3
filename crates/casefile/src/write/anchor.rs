//! Anchors.

use super::case::{flag, spoken};
use super::kit::pick;
use super::{Out, amount, exact, place, quoted};
use crate::keys::anchor::{ANCHOR_KINDS, ROOTING, SOIL_GROUPS, STAKES};
use unmire_model::anchor::{
    Anchor, AnchorKind, Boulder, Deadman, DeadmanShape, Earth, Pickets, Plates, RockBolts, Rooting, SoilGroup, Stakes,
    Stump, Tree,
};
use unmire_model::quantity::slope::Way;
use unmire_model::quantity::text::Written;
use unmire_model::trail::Input;
use unmire_model::{Length, Range};

/// An anchor.
pub(super) fn anchor(out: &mut Out, a: &Anchor) {
    out.header("[[anchor]]");
    out.key("id", &quoted(&a.id));
    let index = match &a.kind {
        AnchorKind::Tree(_) => 0,
        AnchorKind::Stump(_) => 1,
        AnchorKind::Boulder(_) => 2,
        AnchorKind::RockBolts(_) => 3,
        AnchorKind::Pickets(_) => 4,
        AnchorKind::Deadman(_) => 5,
        AnchorKind::Plates(_) => 6,
        AnchorKind::Made { .. } => 7,
        AnchorKind::Other { .. } => 8,
    };
    out.key("kind", &quoted(ANCHOR_KINDS.get(index).copied().unwrap_or("other")));
    out.key("position", &place(a.position));
    out.key("uncertainty", &exact(a.uncertainty));
    out.key("attach_height", &amount::one(&a.attach_height));
    range(out, "holds", a.stated_capacity.as_ref());
    if let Some(t) = &a.tied_back {
        out.key("tied_back", &format!("{{ to = {}, with = {} }}", quoted(&t.to), quoted(&t.with)));
    }
    match &a.kind {
        AnchorKind::Tree(t) => tree(out, t),
        AnchorKind::Stump(s) => stump(out, s),
        AnchorKind::Boulder(b) => boulder(out, b),
        AnchorKind::RockBolts(b) => rock_bolts(out, b),
        AnchorKind::Pickets(p) => pickets(out, p),
        AnchorKind::Deadman(d) => deadman(out, d),
        AnchorKind::Plates(p) => plates(out, p),
        AnchorKind::Made { what } => out.key("what", &quoted(what)),
        AnchorKind::Other { what, radius } => {
            out.key("what", &quoted(what));
            if let Some(r) = radius {
                out.key("radius", &exact(*r));
            }
        }
    }
}

fn one<Q: Written>(out: &mut Out, name: &str, value: Option<&Input<Q>>) {
    if let Some(v) = value {
        out.key(name, &amount::one(v));
    }
}
fn range<Q: Written>(out: &mut Out, name: &str, value: Option<&Input<Range<Q>>>) {
    if let Some(v) = value {
        out.key(name, &amount::range(v));
    }
}
fn table_key(out: &mut Out, name: &str, value: &Input<String>) {
    out.key(name, &amount::marked(spoken(&value.value), &value.origin));
}

fn wood(out: &mut Out, species: Option<&String>, conifer: Option<bool>, diameter: &Input<Range<Length>>) {
    if let Some(s) = species {
        out.key("species", &spoken(s));
    }
    if let Some(c) = conifer {
        flag(out, "conifer", c);
    }
    out.key("diameter", &amount::range(diameter));
}
fn roots(out: &mut Out, soil: SoilGroup, rooting: Rooting) {
    let soils = [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat, SoilGroup::Unknown];
    out.key("soil", &pick(&soils, soil, SOIL_GROUPS));
    out.key("rooting", &pick(&[Rooting::Shallow, Rooting::Medium, Rooting::Deep], rooting, ROOTING));
}
/// Signs as far as they are answered, on one line.
pub(crate) fn signs(out: &mut Out, all: &[(&str, Option<bool>)]) {
    let said: Vec<String> = all.iter().filter_map(|(name, v)| v.map(|v| format!("{name} = {v}"))).collect();
    if !said.is_empty() {
        out.key("signs", &format!("{{ {} }}", said.join(", ")));
    }
}

fn tree(out: &mut Out, t: &Tree) {
    wood(out, t.species.as_ref(), t.conifer, &t.diameter);
    range(out, "height", t.height.as_ref());
    roots(out, t.soil, t.rooting);
    signs(out, &t.signs.each());
}

fn stump(out: &mut Out, s: &Stump) {
    wood(out, s.species.as_ref(), s.conifer, &s.diameter);
    one(out, "cut_height", s.height.as_ref());
    range(out, "felled_ago", s.felled_ago.as_ref());
    roots(out, s.soil, s.rooting);
    signs(out, &s.signs.each());
}

fn earth(out: &mut Out, e: &Earth) {
    let mut keys = vec![format!("soil = {}", amount::marked(spoken(&e.soil.value), &e.soil.origin))];
    keys.extend(e.friction_angle.as_ref().map(|a| format!("friction_angle = {}", amount::range(a))));
    keys.extend(e.cohesion.as_ref().map(|c| format!("cohesion = {}", amount::range(c))));
    out.key("earth", &format!("{{ {} }}", keys.join(", ")));
}

fn boulder(out: &mut Out, b: &Boulder) {
    out.key("radius", &exact(b.radius));
    range(out, "mass", b.mass.as_ref());
    if let Some(size) = &b.size {
        out.key("size", &format!("[{}]", size.each_ref().map(amount::range).join(", ")));
    }
    if let Some(on) = &b.on {
        table_key(out, "on", on);
    }
    range(out, "buried", b.buried.as_ref());
    if let Some(e) = &b.earth {
        earth(out, e);
    }
    signs(out, &b.signs.each());
}

fn rock_bolts(out: &mut Out, b: &RockBolts) {
    out.key("count", &b.count.to_string());
    table_key(out, "rock", &b.rock);
    out.key("hole", &amount::range(&b.hole));
    out.key("bond", &amount::range(&b.bond));
    one(out, "bar", b.bar.as_ref());
    if let Some(g) = b.grouted {
        flag(out, "grouted", g);
    }
    one(out, "proof", b.proof.as_ref());
}

fn pickets(out: &mut Out, p: &Pickets) {
    out.key("stakes", &pick(&[Stakes::Wood, Stakes::Steel], p.stakes, STAKES));
    out.key("rows", &format!("[{}]", p.rows.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")));
    out.key("driven", &amount::range(&p.driven));
    one(out, "spacing", p.spacing.as_ref());
    earth(out, &p.earth);
}

fn deadman(out: &mut Out, d: &Deadman) {
    let range = amount::range::<Length>;
    let (word, shape) = match &d.shape {
        DeadmanShape::Log { diameter, length } => {
            ("log", format!("{{ diameter = {}, length = {} }}", range(diameter), range(length)))
        }
        DeadmanShape::Beam { face, length } => {
            ("beam", format!("{{ face = {}, length = {} }}", range(face), range(length)))
        }
        DeadmanShape::Wheel { diameter } => ("wheel", format!("{{ diameter = {} }}", range(diameter))),
    };
    out.key(word, &shape);
    out.key("depth", &range(&d.depth));
    out.key("line_rise", &amount::slope(&d.line_rise, Way::Along));
    earth(out, &d.earth);
    one(out, "own_strength", d.own_strength.as_ref());
}

fn plates(out: &mut Out, p: &Plates) {
    out.key("what", &quoted(&p.what));
    out.key("count", &p.count.to_string());
    one(out, "proof", p.proof.as_ref());
    one(out, "depth", p.depth.as_ref());
    if let Some(e) = &p.earth {
        earth(out, e);
    }
}
