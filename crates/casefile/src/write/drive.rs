//! The drive of a winch and the stretches of the way out.

use super::kit::pick;
use super::{Out, amount, exact};
use crate::keys::drive::DRIVES;
use unmire_model::drive::{Battery, Drive, Motor};
use unmire_model::ground::{Ahead, Stretch};
use unmire_model::quantity::slope::Way;

fn inline(keys: &[(&str, String)]) -> String {
    let all: Vec<String> = keys.iter().map(|(k, v)| format!("{k} = {v}")).collect();
    format!("{{ {} }}", all.join(", "))
}

fn battery(b: &Battery) -> String {
    let mut keys = vec![("capacity", amount::range(&b.capacity)), ("filled", amount::range(&b.filled))];
    keys.extend(b.resistance.as_ref().map(|r| ("resistance", amount::range(r))));
    inline(&keys)
}

/// The drive as one value.
pub(super) fn drive(d: &Drive) -> String {
    let kind = match d.motor {
        Motor::Electric(_) => 0,
        Motor::Hydraulic => 1,
        Motor::Capstan { .. } => 2,
    };
    let mut keys = vec![("kind", pick(&[0, 1, 2], kind, DRIVES))];
    match &d.motor {
        Motor::Electric(e) => {
            keys.push(("voltage", amount::one(&e.nominal)));
            keys.extend(e.battery.as_ref().map(|b| ("battery", battery(b))));
            keys.extend(e.alternator.as_ref().map(|a| ("alternator", amount::range(a))));
            keys.extend(e.run_at_rated.as_ref().map(|t| ("run_at_rated", amount::range(t))));
            keys.extend(e.rest.as_ref().map(|t| ("rest", amount::range(t))));
        }
        Motor::Hydraulic => {}
        Motor::Capstan { turns, friction, diameter } => {
            keys.push(("turns", turns.to_string()));
            keys.extend(friction.as_ref().map(|f| ("friction", amount::range(f))));
            keys.extend(diameter.map(|d| ("diameter", exact(d))));
        }
    }
    if !d.sheet.is_empty() {
        let lines: Vec<String> = d
            .sheet
            .iter()
            .map(|p| {
                let mut keys = vec![("pull", exact(p.pull))];
                keys.extend(p.current.map(|c| ("current", exact(c))));
                keys.extend(p.speed.map(|v| ("speed", exact(v))));
                inline(&keys)
            })
            .collect();
        keys.push(("sheet", format!("[{}]", lines.join(", "))));
    }
    inline(&keys)
}

/// The stretches of the way out.
pub(super) fn stretches(out: &mut Out, path: &[Stretch]) {
    for s in path {
        out.header("[[way_out.stretch]]");
        out.key("length", &amount::one(&s.length));
        if let Some(b) = &s.bearing {
            out.key("direction", &amount::marked(amount::heading(b.value), &b.origin));
        }
        if let Some(g) = &s.grade {
            out.key("grade", &amount::slopes(g, Way::Along));
        }
        if let Some(x) = &s.side_slope {
            out.key("side_slope", &amount::slope(x, Way::Across));
        }
        match &s.ahead {
            Ahead::AsFound => {}
            Ahead::Surface(k) => {
                out.key("surface", &amount::marked(super::case::spoken(&k.value), &k.origin));
            }
            Ahead::Share(h) => out.key("holds", &amount::range(h)),
        }
    }
}
