//! The places of a pull as a table for spreadsheets: comma-separated, one row a place, SI, one column a leg at the end.

use unmire_model::Range;
use unmire_model::range::Scalar;
use unmire_planner::pull::report::{Pull, Row};

/// Columns before the legs.
const HEADS: [&str; 25] = [
    "stage",
    "travel_m",
    "resistance_low_n",
    "resistance_likely_n",
    "resistance_high_n",
    "line_tension_low_n",
    "line_tension_likely_n",
    "line_tension_high_n",
    "stall_tension_n",
    "ability_n",
    "layer",
    "line_out_m",
    "current_low_a",
    "current_likely_a",
    "current_high_a",
    "charge_low_ah",
    "charge_likely_ah",
    "charge_high_ah",
    "time_low_s",
    "time_likely_s",
    "time_high_s",
    "heat_likely",
    "heat_high",
    "voltage_low_v",
    "filled_low",
];

/// The table.
///
/// # Errors
/// If it cannot be written, which no pull is known to bring about.
pub fn csv(p: &Pull) -> Result<String, csv::Error> {
    let mut out = csv::WriterBuilder::new().flexible(false).from_writer(Vec::new());
    let legs = legs(p);
    let mut head: Vec<String> = HEADS.iter().map(|h| (*h).to_owned()).collect();
    head.extend(legs.iter().map(|(member, from, to)| format!("tension_n {member}: {from} to {to}")));
    out.write_record(&head)?;
    for r in &p.history {
        let mut cells = row(r);
        cells.extend(legs.iter().map(|(member, from, to)| {
            let leg = r.legs.iter().find(|l| l.member == *member && l.from == *from && l.to == *to);
            leg.map_or_else(String::new, |l| number(l.tension.as_n()))
        }));
        out.write_record(&cells)?;
    }
    let bytes = out.into_inner().map_err(|e| csv::Error::from(e.into_error()))?;
    // Every cell is a text of ours or a name from a file that was read as UTF-8.
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// Every leg of every stage, in the order in which they come.
fn legs(p: &Pull) -> Vec<(&str, &str, &str)> {
    let mut out: Vec<(&str, &str, &str)> = Vec::new();
    for l in p.history.iter().flat_map(|r| &r.legs) {
        let key = (l.member.as_str(), l.from.as_str(), l.to.as_str());
        if !out.contains(&key) {
            out.push(key);
        }
    }
    out
}

fn number(v: f64) -> String {
    if v.is_finite() { format!("{v}") } else { String::new() }
}
fn three<Q: Scalar>(r: &Range<Q>, unit: f64) -> [String; 3] {
    r.values().map(|q| number(q.si() / unit))
}
fn or_nothing<Q: Scalar>(r: Option<&Range<Q>>) -> [String; 3] {
    r.map_or_else(Default::default, |r| three(r, 1.0))
}

fn row(r: &Row) -> Vec<String> {
    let mut out = vec![r.stage.to_string(), number(r.travel.as_m())];
    out.extend(three(&r.resistance, 1.0));
    out.extend(three(&r.line_tension, 1.0));
    let force = |f: Option<unmire_model::Force>| f.map_or_else(String::new, |f| number(f.as_n()));
    out.push(force(r.stall_tension));
    out.push(force(r.ability));
    out.push(r.layer.map_or_else(String::new, |l| l.to_string()));
    out.push(number(r.line_out.as_m()));
    out.extend(or_nothing(r.current.as_ref()));
    out.extend(three(&r.charge, 3600.0));
    out.extend(three(&r.time, 1.0));
    let [_, likely, high] = or_nothing(r.heat.as_ref());
    out.push(likely);
    out.push(high);
    let [low, ..] = or_nothing(r.voltage.as_ref());
    out.push(low);
    let [low, ..] = or_nothing(r.filled.as_ref());
    out.push(low);
    out
}
