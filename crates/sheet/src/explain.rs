//! The working behind the numbers: symbol = formula = numbers = value, where each input came from, and the source.
//!
//! It prints the trail that the computation itself left. Nothing is computed again.

use crate::json;
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

/// A step as it is shown, whether it comes from a computation or from the JSON.
struct Line<'a> {
    symbol: &'a str,
    formula: &'a str,
    dimension: Dimension,
    si: [f64; 3],
    inputs: Vec<Put<'a>>,
}
/// What went into it.
#[derive(Clone, Copy)]
struct Put<'a> {
    symbol: &'a str,
    dimension: Dimension,
    si: [f64; 3],
}
impl<'a> From<&'a Step> for Line<'a> {
    fn from(s: &'a Step) -> Self {
        let put = |i: &'a StepInput| Put { symbol: i.symbol, dimension: i.dimension, si: i.si };
        let inputs = s.inputs.iter().map(put).collect();
        Self { symbol: s.symbol, formula: s.formula, dimension: s.dimension, si: s.si, inputs }
    }
}
impl Line<'_> {
    /// Formula, the numbers in it where they are not the result itself, and the result.
    fn words(&self, u: Units) -> (String, Option<String>, String) {
        let result = three(self.si, self.dimension, u);
        let formula = self.formula.to_owned();
        let text = if self.formula.contains('=') { formula } else { format!("{} = {formula}", self.symbol) };
        (text, in_numbers(self, u).filter(|n| *n != result), result)
    }
}

/// A step of the working in words and numbers, for a page that lays them out itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// What it gives.
    pub what: String,
    /// The formula.
    pub formula: String,
    /// The formula with the likely values in it, where that reads as a sum.
    pub numbers: Option<String>,
    /// The result: one number, or low, likely and high.
    pub result: String,
    /// What went in: symbol and number, and where it came from.
    pub inputs: Vec<(String, String)>,
    /// What the reader must know.
    pub notes: Vec<String>,
    /// The source of the formula.
    pub source: String,
}

/// A step of the JSON as [`report`] prints it.
#[must_use]
pub fn worked(s: &json::TrailStep, u: Units, titles: &Titles<'_>) -> Worked {
    let si = |a: Option<f64>, b: Option<f64>, c: Option<f64>| [a, b, c].map(|x| x.unwrap_or(f64::NAN));
    let put = |i: &'_ json::TrailInput| si(i.low, i.likely, i.high);
    let line = Line {
        symbol: &s.symbol,
        formula: &s.formula,
        dimension: json::dimension(&s.dimension),
        si: si(s.low, s.likely, s.high),
        inputs: s
            .inputs
            .iter()
            .map(|i| Put { symbol: &i.symbol, dimension: json::dimension(&i.dimension), si: put(i) })
            .collect(),
    };
    let source = |key: &str| titles(key).map_or_else(|| format!("[{key}]"), |t| format!("{t} [{key}]"));
    let from = |o: &json::Origin| {
        let text = o.text.clone().unwrap_or_default();
        match (o.kind.as_str(), o.line, &o.source) {
            ("file", Some(line), _) => format!("line {line} of the file"),
            ("file", None, _) => "given by the calling program".to_owned(),
            ("table", _, Some(key)) => format!("table {text}: {}", source(key)),
            ("assumed", ..) => format!("ASSUMED: {text}"),
            ("policy", ..) => format!("policy, row {text}"),
            ("earlier", ..) => "worked out above".to_owned(),
            ("constant", _, Some(key)) => format!("constant: {}", source(key)),
            (kind, ..) => format!("{kind} {text}"),
        }
    };
    let (formula, numbers, result) = line.words(u);
    let inputs = line.inputs.iter().zip(&s.inputs);
    Worked {
        what: s.what.clone(),
        formula,
        numbers,
        result,
        inputs: inputs
            .map(|(i, j)| (format!("{} = {}", i.symbol, three(i.si, i.dimension, u)), from(&j.origin)))
            .collect(),
        notes: s.notes.clone(),
        source: source(&s.source),
    }
}

fn formula(page: &mut Page, s: &Step, u: Units) {
    let (mut text, numbers, result) = Line::from(s).words(u);
    if let Some(n) = numbers {
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
fn in_numbers(s: &Line<'_>, u: Units) -> Option<String> {
    let right = s.formula.split_once('=').map_or(s.formula, |(_, r)| r).trim();
    let mut symbols: Vec<&Put<'_>> = s.inputs.iter().filter(|i| !i.symbol.is_empty()).collect();
    // The longer name first: `L with stretch` before `L`.
    unmire_model::order::sort_by_key(&mut symbols, |i| core::cmp::Reverse(i.symbol.len()));
    let is_name = |c: char| unmire_model::letters::is_word(c) || matches!(c, '_' | '\'');
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

fn likely(i: &Put<'_>, u: Units) -> String {
    let (k, unit) = unit(i.dimension, u);
    with_unit(&significant(i.si[1] * k, 4, Round::Nearest), unit)
}

/// Low, likely, high with the unit once; a single number if they are the same.
fn three(si: [f64; 3], d: Dimension, u: Units) -> String {
    if si.iter().any(|x| !x.is_finite()) {
        return "not known".to_owned();
    }
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
