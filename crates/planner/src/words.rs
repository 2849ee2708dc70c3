//! Pieces, points and rigs in the crew's words. No numbers but lengths as the file gives them; views print the loads.

use crate::report::PlacedPiece;
use crate::rigging::{Grip, Leg, Pull, Rigging, Stop, Tie, Veh};
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::gear::{Piece, PieceKind, StrapUse};
use unmire_model::layout::{Family, Hitch};

/// What a piece is.
#[must_use]
pub fn piece(p: &Piece) -> String {
    let length = |m: f64| if (m - m.round()).abs() < 0.05 { format!("{m:.0} m") } else { format!("{m:.1} m") };
    let what = match &p.kind {
        PieceKind::Strap(s) => {
            let name = match s.made_for {
                StrapUse::TreeStrap => "tree strap",
                StrapUse::RoundSling => "round sling",
                StrapUse::Extension => "extension strap",
                StrapUse::Bridle => "bridle",
                StrapUse::Kinetic => "kinetic strap",
            };
            match s.width {
                Some(w) => format!("{name} {} x {:.0} mm", length(s.length.as_m()), w.as_mm()),
                None => format!("{name} {}", length(s.length.as_m())),
            }
        }
        PieceKind::Rope(r) => format!("rope {} x {:.0} mm", length(r.length.as_m()), r.diameter.as_mm()),
        PieceKind::Shackle { bow: true, .. } => "bow shackle".to_owned(),
        PieceKind::Shackle { bow: false, .. } => "dee shackle".to_owned(),
        PieceKind::SoftShackle => "soft shackle".to_owned(),
        PieceKind::Hook { .. } => "hook".to_owned(),
        PieceKind::Block { .. } => "snatch block".to_owned(),
        PieceKind::Ring { .. } => "recovery ring".to_owned(),
        PieceKind::HandWinch { .. } => "hand winch".to_owned(),
        PieceKind::Damper => "line damper".to_owned(),
        PieceKind::Shovel => "shovel".to_owned(),
        PieceKind::Boards => "boards".to_owned(),
        PieceKind::Chock => "chock".to_owned(),
        PieceKind::Pump => "tyre pump".to_owned(),
        PieceKind::Jack => "jack".to_owned(),
        PieceKind::LoadCell => "load cell".to_owned(),
        PieceKind::CurrentMeter => "current meter".to_owned(),
        PieceKind::TiltMeter => "tilt meter".to_owned(),
        PieceKind::MovementMarker => "movement marker".to_owned(),
        PieceKind::Other(s) => s.clone(),
    };
    match p.label.rating() {
        Some(r) if !r.as_printed.is_empty() => format!("{what}, label {}", r.as_printed),
        _ => what,
    }
}

/// A block by its id, without saying 'block' twice.
#[must_use]
pub fn block(p: &Piece) -> String {
    named(if matches!(p.kind, PieceKind::Ring { .. }) { "ring" } else { "block" }, &p.id)
}

/// A noun with an id, without saying the noun twice.
#[must_use]
pub fn named(noun: &str, id: &str) -> String {
    if id.to_ascii_lowercase().contains(noun) { id.to_owned() } else { format!("{noun} {id}") }
}

/// What an anchor is.
#[must_use]
pub fn anchor(a: &Anchor) -> String {
    match &a.kind {
        AnchorKind::Tree(t) => {
            let species = t.species.as_deref().map(|s| s.replace('_', " ")).unwrap_or_else(|| match t.conifer {
                Some(true) => "conifer".to_owned(),
                Some(false) => "broadleaf".to_owned(),
                None => "tree".to_owned(),
            });
            format!("{species} {:.0} cm", t.diameter.value.likely().as_cm())
        }
        AnchorKind::Stump(s) => format!("stump {:.0} cm", s.diameter.value.likely().as_cm()),
        AnchorKind::Boulder(_) => "boulder".to_owned(),
        AnchorKind::RockBolts(b) => format!("{} rock bolts", b.count),
        AnchorKind::Pickets(p) => {
            let rows: Vec<String> = p.rows.iter().map(u32::to_string).collect();
            format!("pickets {}", rows.join("-"))
        }
        AnchorKind::Deadman(_) => "deadman".to_owned(),
        AnchorKind::Plates(p) => p.what.clone(),
        AnchorKind::Made { what } | AnchorKind::Other { what, .. } => what.clone(),
    }
}

fn vehicle(v: Veh<'_>) -> String {
    match v {
        Veh::Stuck(_) => "the stuck vehicle".to_owned(),
        Veh::Helper(h) => h.vehicle.name.clone(),
    }
}

fn list(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// What a grip is, in a few words.
#[must_use]
pub fn grip(g: &Grip<'_>) -> String {
    match g {
        Grip::Anchors(legs) => {
            list(&legs.iter().map(|l| format!("{} ({})", l.anchor.id, anchor(l.anchor))).collect::<Vec<_>>())
        }
        Grip::Point { on, point, .. } => format!("point {} of {}", point.id, vehicle(*on)),
        Grip::Bridle { on, points, .. } => {
            format!("points {} and {} of {} through a bridle", points[0].id, points[1].id, vehicle(*on))
        }
        Grip::Winch { on, winch } => format!("winch {} of {}", winch.id, vehicle(*on)),
    }
}

/// What pulls, in a few words.
#[must_use]
pub fn puller(r: &Rigging<'_>) -> String {
    match &r.pull {
        Pull::Winch { winch, .. } => format!("winch {}", winch.id),
        Pull::Tow { helper, .. } => helper.vehicle.name.clone(),
        Pull::Hand { piece, .. } => named("hand winch", &piece.id),
    }
}

/// The rig in one sentence.
#[must_use]
pub fn summary(r: &Rigging<'_>) -> String {
    let start = match &r.pull {
        Pull::Winch { on, winch } => format!("Winch {} of {}", winch.id, vehicle(*on)),
        Pull::Tow { helper, .. } => format!("{} drives away slowly on a taut line", helper.vehicle.name),
        Pull::Hand { piece, held_by } => format!("Hand winch {} on {}", piece.id, grip(held_by)),
    };
    let mut way = Vec::new();
    for stop in &r.stops {
        way.push(match stop.block {
            Some(b) => format!("round {} on {}", block(b), grip(&stop.grip)),
            None => format!("to {}", grip(&stop.grip)),
        });
    }
    let mut out = format!("{}: line {}", start, way.join(", "));
    if let Some(t) = &r.tie_back {
        out.push_str(&format!(", tied back from point {} to {}", t.point.id, grip(&t.grip)));
    }
    if let Some(t) = &r.holding {
        out.push_str(&format!("; holding line from point {} to {}", t.point.id, grip(&t.grip)));
    }
    out.push('.');
    out
}

/// The family in words.
#[must_use]
pub const fn family(f: Family) -> &'static str {
    match f {
        Family::StraightPull => "straight pull",
        Family::Redirect => "redirected pull",
        Family::DoubleLine => "double-line pull",
        Family::TripleLine => "triple-line pull",
        Family::ReversePull => "own winch pulling it backwards",
        Family::FloatingRedirect => "redirect held between two anchors",
        Family::SharedAnchors => "anchors that share",
        Family::AnchoredHelper => "helper tied back to an anchor",
        Family::SteadyTow => "steady tow",
        Family::HandWinch => "hand winch",
    }
}

/// Every piece with its place.
#[must_use]
pub fn places(r: &Rigging<'_>) -> Vec<PlacedPiece> {
    let mut out = Vec::new();
    let mut put = |p: &Piece, place: String| out.push(PlacedPiece { id: p.id.clone(), what: piece(p), place });
    match &r.pull {
        Pull::Winch { .. } => {}
        Pull::Tow { helper, point, connectors, line } => {
            for p in connectors {
                put(p, format!("at point {} of {}", point.id, helper.vehicle.name));
            }
            for p in line {
                put(p, "the tow line".to_owned());
            }
        }
        Pull::Hand { piece: p, held_by } => {
            put(p, format!("held by {}", grip(held_by)));
            grip_places(held_by, "the hand winch", &mut put);
        }
    }
    for stop in &r.stops {
        stop_places(stop, &mut put);
    }
    for (t, what) in
        r.tie_back.iter().map(|t| (t, "the tie-back")).chain(r.holding.iter().map(|t| (t, "the holding line")))
    {
        tie_places(t, what, &mut put);
    }
    for p in &r.beside {
        let place = match p.kind {
            PieceKind::LoadCell => "in the line at its end",
            PieceKind::Damper => "on the line, in the middle of a leg, the longest one first",
            PieceKind::TiltMeter => "fixed to the base of the anchor tree",
            PieceKind::MovementMarker => "beside the anchor, read from outside the ground to keep clear",
            PieceKind::Chock => "at the wheels of the vehicle that must not move",
            _ => "beside",
        };
        put(p, place.to_owned());
    }
    out
}

fn stop_places(stop: &Stop<'_>, put: &mut impl FnMut(&Piece, String)) {
    let place = grip(&stop.grip);
    let what = match stop.block {
        Some(b) => {
            put(b, format!("on {place}"));
            block(b)
        }
        None => "the line's end".to_owned(),
    };
    for p in &stop.extensions {
        put(p, format!("between the line's end and {place}"));
    }
    for p in &stop.connectors {
        put(p, format!("for {what}"));
    }
    grip_places(&stop.grip, &what, put);
}

fn grip_places(g: &Grip<'_>, what: &str, put: &mut impl FnMut(&Piece, String)) {
    match g {
        Grip::Anchors(legs) => {
            for leg in legs {
                leg_places(leg, what, put);
            }
        }
        Grip::Point { point, connectors, .. } => {
            for p in connectors {
                put(p, format!("at point {}, for {what}", point.id));
            }
        }
        Grip::Bridle { points, strap, connectors, .. } => {
            if let Some(p) = strap {
                put(p, format!("between points {} and {}, for {what}", points[0].id, points[1].id));
            }
            for (i, p) in connectors.iter().enumerate() {
                match points.get(i) {
                    Some(point) => put(p, format!("at point {}, for the bridle", point.id)),
                    None => put(p, format!("in the middle of the bridle, for {what}")),
                }
            }
        }
        Grip::Winch { .. } => {}
    }
}

fn leg_places(leg: &Leg<'_>, what: &str, put: &mut impl FnMut(&Piece, String)) {
    if let Some(p) = leg.strap {
        let how = match leg.hitch {
            Hitch::Basket => "in basket round",
            Hitch::Choker => "as choker round",
            Hitch::Straight => "on",
        };
        put(p, format!("{how} {}, low, flat, for {what}", leg.anchor.id));
    }
    for p in &leg.extensions {
        put(p, format!("lengthens the strap at {}", leg.anchor.id));
    }
    for p in &leg.connectors {
        put(p, format!("at {}, for {what}", leg.anchor.id));
    }
}

fn tie_places(t: &Tie<'_>, what: &str, put: &mut impl FnMut(&Piece, String)) {
    for p in &t.connectors {
        put(p, format!("at point {}, for {what}", t.point.id));
    }
    for p in &t.line {
        put(p, what.to_owned());
    }
    grip_places(&t.grip, what, put);
}
