//! The working behind the numbers: symbol = formula = numbers = value, where each input came from, and the source.
//!
//! It prints the trail that the computation itself left. Nothing is computed again.

use crate::terminal::Options;
use crate::terminal::page::{Page, Paint, kept};
use unmire_model::quantity::show::{Round, Units, significant};
use unmire_model::trail::{Dimension, Origin, Step, StepInput, Trail};
use unmire_planner::report::Report;

/// Gives the title of a source by its key.
pub type Titles<'a> = dyn Fn(&str) -> Option<String> + 'a;

/// Gives the title of a source where it is named first, later its key alone.
struct Sources<'a> {
    titles: &'a Titles<'a>,
    named: Vec<String>,
}
impl Sources<'_> {
    fn name(&mut self, key: &str) -> String {
        if self.named.iter().any(|k| k == key) {
            return format!("[{key}]");
        }
        self.named.push(key.to_owned());
        (self.titles)(key).map_or_else(|| format!("[{key}]"), |t| format!("{t} [{key}]"))
    }
}

/// The working of every rig of a report that kept one.
#[must_use]
pub fn report(r: &Report, options: &Options, titles: &Titles<'_>) -> String {
    let mut page = Page::new(options.width, options.colour);
    let mut any = false;
    for (i, p) in r.plans.iter().enumerate().filter(|(_, p)| !p.trail.steps.is_empty()) {
        any = true;
        let of = if r.plans.len() > 1 { format!(" of rig {}", i + 1) } else { String::new() };
        page.heading(&format!("The working{of}"));
        write(&mut page, &p.trail, options.units, titles);
    }
    if !any {
        page.heading("The working");
        page.para(0, "None was kept.");
    }
    format!("\n{}", page.finish())
}

/// The working of one thing that is no rig: an anchor by its id.
#[must_use]
pub fn working(of: &str, trail: &Trail, options: &Options, titles: &Titles<'_>) -> String {
    let mut page = Page::new(options.width, options.colour);
    page.heading(&format!("The working of {of}"));
    if trail.steps.is_empty() {
        page.para(0, "None was kept.");
    }
    write(&mut page, trail, options.units, titles);
    format!("\n{}", page.finish())
}

/// One trail.
pub fn write(page: &mut Page, trail: &Trail, u: Units, titles: &Titles<'_>) {
    let mut sources = Sources { titles, named: Vec::new() };
    for (i, s) in trail.steps.iter().enumerate() {
        page.gap();
        page.flow(0, 4, &[(&format!("{}. {}", i + 1, s.what), Paint::Strong)]);
        formula(page, s, u);
        for input in &s.inputs {
            let from = origin(&input.origin, &mut sources);
            page.flow(
                4,
                6,
                &[
                    (&format!("{} = {}", input.symbol, three(input.si, input.dimension, u)), Paint::Plain),
                    (&format!(" ({from})"), Paint::Faint),
                ],
            );
        }
        for n in &s.notes {
            page.flow(4, 6, &[("note: ", Paint::Strong), (n, Paint::Plain)]);
        }
        page.flow(4, 6, &[(&format!("source: {}", sources.name(s.source)), Paint::Faint)]);
    }
}

fn formula(page: &mut Page, s: &Step, u: Units) {
    let numbers = in_numbers(s, u);
    let result = three(s.si, s.dimension, u);
    let mut text = if s.formula.contains('=') { s.formula.to_owned() } else { format!("{} = {}", s.symbol, s.formula) };
    if let Some(n) = numbers.filter(|n| *n != result) {
        text += &format!("\n= {n}");
    }
    let likely = if s.si[0].to_bits() == s.si[2].to_bits() { "" } else { "   (low .. likely .. high)" };
    page.flow(2, 6, &[(&text, Paint::Plain), (&format!("\n= {result}"), Paint::Strong), (likely, Paint::Faint)]);
}

/// What may stand in a formula beside symbols and numbers.
const FUNCTIONS: [&str; 16] =
    ["max", "min", "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "exp", "ln", "log", "sqrt", "abs", "e", "π"];

/// The right side of the formula with the likely values in place of the symbols; nothing if words stand in it that
/// are no symbols, for then numbers would not read as a sum.
fn in_numbers(s: &Step, u: Units) -> Option<String> {
    let right = s.formula.split_once('=').map_or(s.formula, |(_, r)| r).trim();
    let mut symbols: Vec<&StepInput> = s.inputs.iter().filter(|i| !i.symbol.is_empty()).collect();
    // The longer name first: `L with stretch` before `L`.
    unmire_model::order::sort_by_key(&mut symbols, |i| core::cmp::Reverse(i.symbol.len()));
    let is_name = |c: char| c.is_alphanumeric() || matches!(c, '_' | '\'');
    let mut out = String::new();
    let mut rest = right;
    let mut any = false;
    while let Some(first) = rest.chars().next() {
        let found = symbols
            .iter()
            .find(|i| rest.strip_prefix(i.symbol).is_some_and(|after| !after.chars().next().is_some_and(is_name)));
        if let Some(i) = found {
            any = true;
            out.push_str(&kept(&likely(i, u)));
            rest = rest.get(i.symbol.len()..).unwrap_or_default();
        } else if is_name(first) {
            let end = rest.find(|c| !is_name(c) && c != '.').unwrap_or(rest.len());
            let (word, after) = rest.split_at(end);
            let number = word.trim_end_matches('.').parse::<f64>().is_ok();
            if !number && !FUNCTIONS.contains(&word) {
                return None;
            }
            out.push_str(word);
            rest = after;
        } else {
            out.push(first);
            rest = rest.get(first.len_utf8()..).unwrap_or_default();
        }
    }
    any.then_some(out)
}

fn likely(i: &StepInput, u: Units) -> String {
    let (k, unit) = unit(i.dimension, u);
    with_unit(&significant(i.si[1] * k, 4, Round::Nearest), unit)
}

/// Low, likely, high with the unit once; a single number if they are the same.
fn three(si: [f64; 3], d: Dimension, u: Units) -> String {
    let (k, unit) = unit(d, u);
    let number = |x: f64| significant(x * k, 4, Round::Nearest);
    let [a, b, c] = si.map(number);
    if a == c { kept(&with_unit(&b, unit)) } else { kept(&with_unit(&format!("{a} .. {b} .. {c}"), unit)) }
}
fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() { number.to_owned() } else { format!("{number} {unit}") }
}

/// The unit that the working is shown in, and what SI is multiplied by to get there.
fn unit(d: Dimension, u: Units) -> (f64, &'static str) {
    use unmire_model::{Angle, Force, Length, Mass, Pressure, Speed};
    let us = u == Units::Us;
    match d {
        Dimension::Force if us => (Force::from_n(1.0).as_lbf(), "lbf"),
        Dimension::Force => (1e-3, "kN"),
        Dimension::Mass if us => (Mass::from_kg(1.0).as_lb(), "lb"),
        Dimension::Mass => (1.0, "kg"),
        Dimension::Length if us => (Length::from_m(1.0).as_foot(), "ft"),
        Dimension::Length => (1.0, "m"),
        Dimension::Angle => (Angle::from_rad(1.0).as_deg(), "deg"),
        Dimension::Pressure if us => (Pressure::from_pa(1.0).as_psi(), "psi"),
        Dimension::Pressure => (1e-3, "kPa"),
        Dimension::Area => (1.0, "m²"),
        Dimension::Time => (1.0, "s"),
        Dimension::Energy => (1e-3, "kJ"),
        Dimension::Moment => (1e-3, "kN·m"),
        Dimension::Speed if us => (Speed::from_m_s(1.0).as_mph(), "mph"),
        Dimension::Speed => (1.0, "m/s"),
        Dimension::MomentPerMass => (1.0, "N·m/kg"),
        Dimension::Density => (1.0, "kg/m³"),
        Dimension::Volume => (1.0, "m³"),
        Dimension::Current => (1.0, "A"),
        Dimension::Voltage => (1.0, "V"),
        Dimension::Charge => (1.0 / 3600.0, "A·h"),
        Dimension::Ohms => (1e3, "mΩ"),
        Dimension::Ratio | Dimension::Count | Dimension::Other => (1.0, ""),
    }
}

fn origin(o: &Origin, sources: &mut Sources<'_>) -> String {
    match o {
        Origin::File { line: 0 } => "given by the calling program".into(),
        Origin::File { line } => format!("line {line} of the file"),
        Origin::Table { table, row, source: key } => format!("table {table}, row {row}: {}", sources.name(key)),
        Origin::Assumed(why) => format!("ASSUMED: {why}"),
        Origin::Policy(row) => format!("policy, row {row}"),
        Origin::Earlier => "worked out above".into(),
        Origin::Constant(key) => format!("constant: {}", sources.name(key)),
    }
}
