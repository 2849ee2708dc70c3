//! What drives a winch.

use crate::walk::{Mistake, Node, Walk};
use unmire_model::drive::{Battery, Drive, Electrics, Motor, SheetPoint};
use unmire_model::{Current, Force, Length, Ohms, Speed, Time, Voltage};

/// Keys that only one kind of drive has.
const ELECTRIC: [&str; 5] = ["voltage", "battery", "alternator", "run_at_rated", "rest"];
const CAPSTAN: [&str; 3] = ["turns", "friction", "diameter"];

/// The drive.
pub(super) fn drive(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Drive> {
    let sheet = if n.has("sheet") { sheet(w, n) } else { Some(Vec::new()) };
    // A key that makes no sense of this kind is read none the less, so that what is wrong with it is told as well.
    let nominal = n.input_one::<Voltage>(w, "voltage");
    let battery = if n.has("battery") { n.table(w, "battery").map(|t| battery(w, &t)) } else { Some(None) };
    let alternator = n.input_range::<Current>(w, "alternator");
    let run_at_rated = n.input_range::<Time>(w, "run_at_rated");
    let rest = n.input_range::<Time>(w, "rest");
    let turns = n.whole(w, "turns");
    let friction = n.input_range::<f64>(w, "friction");
    let diameter = n.one::<Length>(w, "diameter");
    let kind = n.word(w, "kind")?;
    let (foreign, what): (&[&[&'static str]], &str) = match kind {
        0 => (&[&CAPSTAN], "an electric drive"),
        1 => (&[&ELECTRIC, &CAPSTAN], "a hydraulic drive"),
        _ => (&[&ELECTRIC], "a capstan"),
    };
    for key in foreign.iter().flat_map(|f| f.iter()).filter(|k| n.has(k)) {
        w.tell(
            Mistake::new("contradiction", n.span_of(key), format!("{what} has no `{key}`"))
                .expected(if CAPSTAN.contains(key) {
                    "kind = \"capstan\" with it"
                } else {
                    "kind = \"electric\" with it"
                })
                .hint("take the key out, or change the kind"),
        );
    }
    let motor = match kind {
        0 => {
            if !n.has("voltage") {
                n.miss(w, "voltage", "the current of an electric winch hangs on it");
            }
            Motor::Electric(Box::new(Electrics {
                nominal: nominal?,
                battery: battery?,
                alternator,
                run_at_rated,
                rest,
            }))
        }
        1 => Motor::Hydraulic,
        _ => {
            if !n.has("turns") {
                n.miss(w, "turns", "what a capstan holds hangs on how often the line goes round it");
            }
            Motor::Capstan { turns: turns?, friction, diameter }
        }
    };
    Some(Drive { motor, sheet: sheet? })
}

fn battery(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Battery> {
    let capacity = n.input_range(w, "capacity");
    let filled = n.input_range::<f64>(w, "filled");
    let resistance = n.input_range::<Ohms>(w, "resistance");
    Some(Battery { capacity: capacity?, filled: filled?, resistance })
}

/// Its lines: by rising pull, with the current not falling and the speed not rising.
fn sheet(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Vec<SheetPoint>> {
    let nodes = n.tables(w, "sheet")?;
    let mut out: Vec<SheetPoint> = Vec::new();
    let told = w.found.len();
    for p in &nodes {
        let pull = p.one::<Force>(w, "pull");
        let current = p.one::<Current>(w, "current");
        let speed = p.one::<Speed>(w, "speed");
        let Some(pull) = pull else { continue };
        if !p.has("current") && !p.has("speed") {
            p.miss(w, "current", "a line of a data sheet says the current, the speed, or both at its pull");
        }
        let mut wrong = |key: &str, what: &str| {
            w.tell(
                Mistake::new("contradiction", p.span_of(key), format!("along the data sheet the {what}"))
                    .expected("lines by rising pull: with more pull a winch draws no less current and is no faster")
                    .hint("look whether two lines, or two columns, changed places"),
            );
        };
        if out.last().is_some_and(|l| l.pull >= pull) {
            wrong("pull", "pull must rise from line to line");
        }
        if let (Some(c), Some(before)) = (current, out.iter().rev().find_map(|l| l.current))
            && c < before
        {
            wrong("current", "current falls while the pull rises");
        }
        if let (Some(v), Some(before)) = (speed, out.iter().rev().find_map(|l| l.speed))
            && v > before
        {
            wrong("speed", "speed rises with the pull");
        }
        out.push(SheetPoint { pull, current, speed });
    }
    (w.found.len() == told).then_some(out)
}
