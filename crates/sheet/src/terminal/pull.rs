//! A pull that was played, as text: three lines to act on, the stages, a chart, a table, the worst moments, what happens on the
//! way. The chart is of plain blocks: it reads in every font and at every width, and the table says the same in numbers.

use super::Options;
use super::page::{Page, Paint, kept, width_of};
use super::table::{Cell, Column, table};
use super::words::{self, NONE, UNKNOWN, asked, capacity, load, load_or, loads, margin, stopped, times};
use unmire_audit::verdict::{Effect, Finding};
use unmire_model::quantity::show::{Round, Units, show_share, show_time, significant};
use unmire_model::{Force, Length, Range};
use unmire_planner::pull::report::{Event, Lowering, Pull, Row, Stage, Steady, Worst};

/// Rows of the table.
const ROWS: usize = 14;
/// Rows of the chart.
const BARS: usize = 20;
/// Rows about steadiness.
const STEADY: usize = 6;

/// The pull as text.
#[must_use]
pub fn pull(p: &Pull, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    headline(&mut page, p, u);
    page.gap();
    page.flow(0, 0, &[(&p.title, Paint::Strong)]);
    page.flow(0, 2, &[(&format!("Policy {}.", p.policy), Paint::Plain)]);
    if !p.stages.is_empty() {
        stages(&mut page, p, u);
        chart(&mut page, p, u);
        rows(&mut page, p, u);
        worst(&mut page, p, u);
    }
    events(&mut page, "Stop there", &p.stops, "!", Paint::Careful, u);
    events(&mut page, "On the way", &p.events, "-", Paint::Plain, u);
    steady(&mut page, p, u);
    lowering(&mut page, &p.lowering, u);
    findings(&mut page, &p.findings);
    limits(&mut page);
    page.finish()
}

/// A place on the way: to a tenth of a metre, or a foot; rounded down, so that nobody goes on past a stop.
fn way(u: Units, l: Length) -> String {
    kept(&match u {
        Units::Metric => format!("{:.1} m", (l.as_m() * 10.0 + 1e-6).floor() / 10.0),
        Units::Us => format!("{:.0} ft", (l.as_foot() + 1e-6).floor()),
    })
}
/// When on the way something is.
pub(super) fn after(u: Units, l: Length) -> String {
    if l.as_m() < 1e-6 { "at the start".to_owned() } else { format!("after {}", way(u, l)) }
}
/// How long a line is.
fn long(u: Units, l: Length) -> String {
    kept(&u.show_length(l))
}

fn headline(page: &mut Page, p: &Pull, u: Units) {
    if p.stages.is_empty() {
        page.item(0, "1", &[("Nothing is pulled: ", Paint::Strong), ("no rig could be made.", Paint::Careful)]);
        let down = "the slope can take it. See below what could let it down, and what nobody has told.";
        page.item(0, "2", &[("Let it down: ", Paint::Strong), (down, Paint::Plain)]);
        return;
    }
    let far = if p.arrives() {
        format!("to the last metre, {}", way(u, p.length))
    } else {
        format!("{} of {}; it ends there", way(u, p.reached), way(u, p.length))
    };
    let rigs = match p.stages.len() {
        1 => "one rig".to_owned(),
        n => format!("{n} rigs, one after the other"),
    };
    page.item(
        0,
        "1",
        &[
            ("The pull: ", Paint::Strong),
            (&words::verdict(p.verdict), words::paint(p.verdict)),
            (&format!(": {far}, with {rigs}."), Paint::Plain),
        ],
    );
    let first = p.stops.first().map_or_else(
        || "nowhere on the way but by the stop load and by what you see.".to_owned(),
        |e| format!("{}: {}", after(u, e.travel), stopped(&e.text)),
    );
    page.item(0, "2", &[("First stop: ", Paint::Strong), (&first, Paint::Plain)]);
    let weakest = p.worst.first().map_or_else(|| UNKNOWN.to_owned(), |w| moment(w, u));
    page.item(0, "3", &[("Weakest moment: ", Paint::Strong), (&weakest, Paint::Plain)]);
}

/// Where a part has least to spare, and, since that may be elsewhere, the most that it carries on the whole way.
fn moment(w: &Worst, u: Units) -> String {
    let mut t = format!("{} ({}) {}, margin {}", w.part, w.what, after(u, w.travel_margin), margin(w.margin));
    match (w.demand, w.demand_stall) {
        (Some(d), Some(s)) => {
            t += &format!("; on the whole way at most {} at work, {} at stall", load(u, d), load(u, s))
        }
        (Some(d), None) => t += &format!("; on the whole way at most {} at work", load(u, d)),
        (None, Some(s)) => t += &format!("; on the whole way at most {} at stall", load(u, s)),
        (None, None) => {}
    }
    match w.capacity {
        Some(c) => t += &format!("; {} {}.", w.capacity_kind, capacity(u, c)),
        None => t += "; capacity unknown.",
    }
    t
}

fn stages(page: &mut Page, p: &Pull, u: Units) {
    page.heading(&format!("Stages (about {} in all)", times(&p.time)));
    for (i, s) in p.stages.iter().enumerate() {
        let span = format!("{} to {}: ", way(u, s.from), way(u, s.to));
        let summary = format!(": {}", stopped(&s.summary));
        page.item(
            0,
            &format!("{}.", i + 1),
            &[(&span, Paint::Strong), (&words::verdict(s.verdict), words::paint(s.verdict)), (&summary, Paint::Plain)],
        );
        if !s.actions.is_empty() {
            page.para(3, &format!("First: {}.", s.actions.join(", ")));
        }
        page.para(3, &stage(s, u));
    }
}

fn stage(s: &Stage, u: Units) -> String {
    let mut t = format!(
        "It ends there: {} Rigging {}, pulling {}",
        stopped(&s.why_it_ends),
        times(&s.rigging),
        times(&s.pulling)
    );
    if s.resting.high().as_s() > 0.0 {
        t += &format!(", rests for the motor {}", times(&s.resting));
    }
    t += ".";
    if s.charge.high().as_as() > 0.0 {
        t += &format!(" Charge: {}.", ampere_hours(&s.charge));
    }
    if let Some(f) = s.stop_load {
        t += &format!(" Stop load: {} line pull at the winch.", capacity(u, f));
    }
    t
}

fn ampere_hours(r: &Range<unmire_model::Charge>) -> String {
    let ah = |q: unmire_model::Charge| significant(q.as_ah(), 2, Round::Up);
    kept(&format!("{}–{} Ah", ah(r.low()), ah(r.high())))
}

/// Some of many, evenly, the first and the last among them.
fn some<T>(all: &[T], most: usize) -> Vec<&T> {
    let n = all.len();
    if n <= most {
        return all.iter().collect();
    }
    let mut out: Vec<&T> = Vec::with_capacity(most);
    let mut last = usize::MAX;
    for k in 0..most {
        let i = k * (n - 1) / (most - 1).max(1);
        if i != last {
            out.extend(all.get(i));
            last = i;
        }
    }
    out
}

fn chart(page: &mut Page, p: &Pull, u: Units) {
    let picked = some(&p.history, BARS);
    let most = p.history.iter().map(|r| r.line_tension.high().as_n()).fold(0.0_f64, f64::max);
    let able = p.history.iter().filter_map(|r| r.ability).map(Force::as_n).fold(0.0_f64, f64::max);
    let full = most.max(able);
    if picked.len() < 2 || full <= 0.0 || !full.is_finite() {
        return;
    }
    page.heading("Line pull on the way");
    page.flow(0, 0, &[("Each row: way, a bar for the line pull at the high end of the need, its number; │ is what the puller can there.", Paint::Faint)]);
    let ways: Vec<String> = picked.iter().map(|r| way(u, r.travel)).collect();
    let pulls: Vec<String> = picked.iter().map(|r| load(u, r.line_tension.high())).collect();
    let widest = |v: &[String]| v.iter().map(|t| width_of(t)).max().unwrap_or(0);
    let (w, n) = (widest(&ways), widest(&pulls));
    let Some(room) = page.width().checked_sub(w + n + 4).filter(|r| *r >= 6) else { return };
    for ((r, at), pull) in picked.iter().zip(&ways).zip(&pulls) {
        let cells = |f: Force| ((f.as_n() / full).clamp(0.0, 1.0) * (room - 1) as f64).round() as usize;
        let bar = cells(r.line_tension.high());
        let mark = r.ability.map(cells);
        let body: String = (0..room)
            .map(|c| {
                if mark == Some(c) {
                    '│'
                } else if c < bar {
                    '█'
                } else {
                    ' '
                }
            })
            .collect();
        let weak = r.ability.is_none_or(|a| a < r.line_tension.high());
        let paint = if weak { Paint::Bad } else { Paint::Plain };
        let left = format!("{}{at}  ", " ".repeat(w - width_of(at)));
        let right = format!("  {}{pull}", " ".repeat(n - width_of(pull)));
        page.raw_line(&[(&left, Paint::Plain), (&body, paint), (&right, Paint::Plain)]);
    }
}

fn rows(page: &mut Page, p: &Pull, u: Units) {
    if p.history.is_empty() {
        return;
    }
    page.heading("Step by step");
    page.flow(
        0,
        0,
        &[(
            "High end of the need; what the puller can is its low end. Time is of pulling alone. Ranges stand in the JSON and the CSV.",
            Paint::Faint,
        )],
    );
    let columns = [
        Column::number("Way"),
        Column::number("Need"),
        Column::number("Pull"),
        Column::number("Can"),
        Column::number("Stall"),
        Column::number("Layer"),
        Column::number("Line"),
        Column::number("A"),
        Column::number("Ah"),
        Column::number("Time"),
    ];
    let picked = some(&p.history, ROWS);
    let all: Vec<Vec<Cell>> = picked.iter().map(|r| cells(r, u)).collect();
    if table(page, &columns, &all) {
        return;
    }
    for r in picked {
        let t = format!(
            "{}: need {}, pull {}, layer {}, {} of pulling.",
            way(u, r.travel),
            load(u, r.resistance.high()),
            load(u, r.line_tension.high()),
            r.layer.map_or_else(|| NONE.to_owned(), |l| l.to_string()),
            kept(&show_time(r.time.high()))
        );
        page.item(0, "-", &[(&t, Paint::Plain)]);
    }
}

fn cells(r: &Row, u: Units) -> Vec<Cell> {
    let weak = r.ability.is_none_or(|a| a < r.line_tension.high());
    let pull = load(u, r.line_tension.high());
    vec![
        Cell::new(way(u, r.travel)),
        Cell::new(load(u, r.resistance.high())),
        if weak { Cell::painted(pull, Paint::Bad) } else { Cell::new(pull) },
        Cell::new(r.ability.map_or_else(|| UNKNOWN.to_owned(), |a| capacity(u, a))),
        Cell::new(load_or(u, r.stall_tension, NONE)),
        Cell::new(r.layer.map_or_else(|| NONE.to_owned(), |l| l.to_string())),
        Cell::new(long(u, r.line_out)),
        Cell::new(r.current.map_or_else(|| NONE.to_owned(), |c| significant(c.high().as_a(), 2, Round::Up))),
        Cell::new(significant(r.charge.high().as_ah(), 2, Round::Up)),
        Cell::new(kept(&show_time(r.time.high()))),
    ]
}

fn worst(page: &mut Page, p: &Pull, u: Units) {
    if p.worst.is_empty() {
        return;
    }
    page.heading("The worst moment of every part");
    let many = p.stages.len() > 1;
    for w in &p.worst {
        let stage = if many { format!("stage {}, ", w.stage + 1) } else { String::new() };
        let ratio = |r: Option<f64>, q: Option<f64>| match (r, q) {
            (Some(r), Some(q)) => format!(", ratio {} ({})", kept(&margin(Some(r))), asked(q)),
            (Some(r), None) => format!(", ratio {}", kept(&margin(Some(r)))),
            (None, _) => String::new(),
        };
        let mut t = format!(", {}: {stage}", w.what);
        t += &format!("{} at work {}{}", load_or(u, w.demand, UNKNOWN), after(u, w.travel), ratio(w.ratio, w.required));
        if let (Some(d), Some(at)) = (w.demand_stall, w.travel_stall) {
            t += &format!("; {} at stall {}{}", load(u, d), after(u, at), ratio(w.ratio_stall, w.required_stall));
        }
        page.item(
            0,
            &w.verdict.shape().to_string(),
            &[
                (&w.part, Paint::Strong),
                (&t, Paint::Plain),
                (": ", Paint::Plain),
                (w.verdict.word(), words::paint(w.verdict)),
            ],
        );
    }
}

fn events(page: &mut Page, head: &str, all: &[Event], mark: &str, paint: Paint, u: Units) {
    if all.is_empty() {
        return;
    }
    page.heading(head);
    for e in all {
        let t = format!("After {}: {}: {} {}", way(u, e.travel), e.subject, stopped(&e.text), stopped(&e.remedy));
        page.item(0, mark, &[(t.trim_end(), paint), (&format!(" [{}]", e.code), Paint::Faint)]);
    }
}

fn steady(page: &mut Page, p: &Pull, u: Units) {
    if p.stability.is_empty() {
        return;
    }
    page.heading("Rolling, pitching and running away");
    let mut last = String::new();
    for s in some(&p.stability, STEADY) {
        let text = stands(s, u);
        if text != last {
            page.item(0, "-", &[(&text, Paint::Plain)]);
        }
        last = text;
    }
}

fn stands(s: &Steady, u: Units) -> String {
    let share =
        |r: &Option<Range<f64>>| r.map_or_else(|| UNKNOWN.to_owned(), |r| kept(&show_share(r.high(), Round::Up)));
    let mut t =
        format!("After {}: roll {}, pitch {} used up", way(u, s.travel), share(&s.roll_used), share(&s.pitch_used));
    match (&s.tip_pull, s.over) {
        (Some(f), Some(over)) => {
            t += &format!("; it would tip over its {over} at {} of line pull", capacity(u, f.low()))
        }
        _ => t += "; no pull in this direction tips it",
    }
    match s.holding {
        Some(f) if f.as_n() > 0.0 => t += &format!("; a holding line must take {}", load(u, f)),
        Some(_) => {}
        None => t += "; what a holding line must take is unknown",
    }
    t + "."
}

fn lowering(page: &mut Page, all: &[Lowering], u: Units) {
    if all.is_empty() {
        return;
    }
    page.heading("Letting it down");
    for l in all {
        let t = format!(
            "From {} to {} the slope can take it: a lowering line must hold {}.",
            way(u, l.from),
            way(u, l.to),
            loads(u, &l.tension)
        );
        page.para(0, &t);
        if l.ways.is_empty() {
            page.item(0, "!", &[("Nothing that the case names stands uphill to hold it.", Paint::Careful)]);
        }
        for w in &l.ways {
            let holds =
                w.holds.map_or_else(|| "what it holds is unknown".to_owned(), |f| format!("holds {}", capacity(u, f)));
            let turns = match (w.turns, w.tail) {
                (Some(n), Some(t)) => format!(", {n} turns, the tail held with up to {}", load(u, t)),
                _ => String::new(),
            };
            page.item(0, "-", &[(&format!("{}: {holds}{turns}. {}", w.what, stopped(&w.note)), Paint::Plain)]);
        }
    }
}

fn findings(page: &mut Page, all: &[Finding]) {
    if all.is_empty() {
        return;
    }
    page.heading("What to know");
    for f in all {
        let mark = match f.effect {
            Effect::Note => "-",
            Effect::Caution => "!",
            Effect::Unknown => "?",
            Effect::Bars => "■",
        };
        let text = format!("{}: {} {}", f.subject, stopped(&f.text), stopped(&f.remedy));
        page.item(
            0,
            mark,
            &[(text.trim_end(), words::paint_effect(f.effect)), (&format!(" [{}]", f.code), Paint::Faint)],
        );
    }
}

fn limits(page: &mut Page) {
    page.heading("What this says and what it does not");
    page.para(
        0,
        "The vehicle goes its way slowly and steadily; jerks, sinking on the way, a line that snags or piles up are not in it. Current, \
         speed, heat and charge are bands unless the case gives a data sheet. Local rules, makers' instructions and licensed \
         practice come first. 'unmire explain CODE' tells what stands behind a code in [brackets].",
    );
}
