//! One anchor: the answer first, then why, then what to watch, then how to build it.

use super::Options;
use super::page::{Page, Paint, kept};
use super::table::{Cell, Column, table};
use super::words::{asked, capacity, load, paint as word_paint, sentence, stopped, times, verdict};
use unmire_model::quantity::show::{Round, Units, show_angle};
use unmire_model::{Force, Length, Range};
use unmire_planner::anchor::{Advice, AnchorPart, AnchorReport, BuildKind, BuildSheet, Chart, Measure, SharedReport};

/// The answer about one anchor as text.
#[must_use]
pub fn report(r: &AnchorReport, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    answer(&mut page, r, u);
    may_get(&mut page, r, u);
    holds(&mut page, r, u);
    watch(&mut page, r, u);
    bark(&mut page, r, u);
    for sheet in &r.build {
        build(&mut page, sheet, u);
    }
    if let Some(c) = &r.chart {
        chart(&mut page, c, u);
    }
    warnings(&mut page, r);
    limits(&mut page, r);
    page.finish()
}

/// Several anchors, a line each: the overview of a case.
#[must_use]
pub fn overview(all: &[AnchorReport], options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    let columns = [
        Column::words("anchor", 6),
        Column::words("what", 12),
        Column::words("answer", 12),
        Column::number("holds"),
        Column::number("may get"),
        Column::words("gives first", 12),
    ];
    let rows: Vec<Vec<Cell>> = all.iter().map(|r| line(r, u)).collect();
    if !table(&mut page, &columns, &rows) {
        for r in all {
            let text = format!("{}, {}: {}. {}", r.id, r.what, r.advice.words(), r.why);
            page.item(0, &r.advice.shape().to_string(), &[(&text, Paint::Plain)]);
        }
    }
    if let Some(r) = all.first() {
        page.gap();
        if let Some(l) = r.load {
            page.para(
                0,
                &format!(
                    "For {}: one straight line for the whole load. 'unmire plan' looks for rigs that ask less of an anchor.",
                    asked_load(l, u)
                ),
            );
        }
        page.para(0, &format!("Policy: {}. 'may get' is at work, alone.", r.policy.name));
    }
    page.finish()
}

/// What each of several anchors gets of one pull, and whether it holds it.
#[must_use]
pub fn shared(r: &SharedReport, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    let best = r.ways.iter().find(|w| w.verdict.passes());
    let (mark, head, paint) = match best {
        Some(w) => {
            let stop = w.stop_load().map_or_else(String::new, |s| format!(": stop at {} of line pull", capacity(u, s)));
            (w.verdict.shape(), format!("SHARE IT by {}{stop}", w.how), word_paint(w.verdict))
        }
        None => ('■', "FIND ANOTHER: together they do not hold it either".to_owned(), Paint::Bad),
    };
    page.item(0, &mark.to_string(), &[(&head, paint)]);
    page.para(2, &format!("For {}, all together. Policy: {}.", asked_load(r.load, u), r.policy));
    page.para(
        2,
        &format!(
            "The ring lies {} ahead of the stuck vehicle's middle and {} to its left; the legs spread over {}.",
            u.show_length(Length::from_m(r.ring.x)),
            u.show_length(Length::from_m(r.ring.y)),
            show_angle(r.included)
        ),
    );
    for w in &r.ways {
        page.heading(&sentence(w.how));
        let columns = [
            Column::words("anchor", 6),
            Column::words("what", 10),
            Column::words("word", 10),
            Column::number("least"),
            Column::number("likely"),
            Column::number("most"),
            Column::number("at stall"),
            Column::number("share"),
        ];
        let rows: Vec<Vec<Cell>> = w.parts.iter().map(|p| part(p, u)).collect();
        if !table(&mut page, &columns, &rows) {
            for row in &rows {
                let text = row.iter().map(|c| c.text.as_str()).collect::<Vec<_>>().join(", ");
                page.item(2, "-", &[(&text, Paint::Plain)]);
            }
        }
        let slack: Vec<&str> = w.parts.iter().filter(|p| p.may_hang_slack).map(|p| p.id.as_str()).collect();
        let slack = if slack.is_empty() { String::new() } else { format!(" May hang slack: {}.", slack.join(", ")) };
        page.para(2, &format!("The most loaded gets up to {:.2} times an even part.{slack}", w.unevenness));
    }
    page.gap();
    page.para(
        0,
        "Least and most are over all that nobody knows exactly: how stiff each anchor is, 5 cm in the length of a leg, the friction of \
         the ring. If one gives, its part falls on the others at once: stay out of reach of all of them.",
    );
    page.finish()
}

fn part(p: &AnchorPart, u: Units) -> Vec<Cell> {
    vec![
        Cell::new(&p.id),
        Cell::new(&p.what),
        Cell::painted(verdict(p.verdict), word_paint(p.verdict)),
        Cell::new(load(u, p.work.low())),
        Cell::new(load(u, p.work.likely())),
        Cell::new(load(u, p.work.high())),
        Cell::new(p.stall.map_or_else(|| "-".to_owned(), |s| load(u, s))),
        Cell::new(format!("{:.0}-{:.0} %", (p.share.low() * 100.0).floor(), (p.share.high() * 100.0).ceil())),
    ]
}

/// The words by which a kind of anchor is described: name, whether it must be there, what it is, what is expected, an example.
#[must_use]
pub fn words<'a>(
    kind: &str,
    keys: impl Iterator<Item = (String, bool, &'a str, String, &'a str)>,
    width: usize,
) -> String {
    let mut page = Page::new(width, false);
    page.heading(&format!("What describes this kind of anchor: {kind}"));
    for (name, must, about, expected, example) in keys {
        let head = if must { format!("{name} (must be there)") } else { name };
        page.flow(2, 2, &[(&head, Paint::Strong)]);
        page.para(6, &format!("{about} {}. For example {}", sentence(&expected), kept(example)));
    }
    page.gap();
    page.para(0, &format!("As in: unmire anchor {} key='value' ... --pull '18 kN'", kind.replace(' ', "-")));
    page.finish()
}

fn line(r: &AnchorReport, u: Units) -> Vec<Cell> {
    let answer = format!("{} {}", r.advice.shape(), advised(r.advice));
    vec![
        Cell::new(&r.id),
        Cell::new(&r.what),
        Cell::painted(answer, paint(r.advice)),
        Cell::new(r.holds.map_or_else(|| "unknown".to_owned(), |h| u.show_capacity_range(&h))),
        Cell::new(r.limits.map_or_else(|| "-".to_owned(), |l| u.show_capacity(l.work))),
        Cell::new(if r.ruled_out { "ruled out" } else { r.gives }),
    ]
}

fn paint(a: Advice) -> Paint {
    match a {
        Advice::Use => Paint::Good,
        Advice::UseBelowStopLoad | Advice::Share { .. } => Paint::Careful,
        Advice::FindAnother => Paint::Bad,
        Advice::NotKnown => Paint::Open,
    }
}

fn advised(a: Advice) -> String {
    match a {
        Advice::Share { anchors } => format!("share it among {anchors}"),
        a => a.words().to_owned(),
    }
}

fn asked_load(l: unmire_planner::anchor::Load, u: Units) -> String {
    let stall = l.stall.map_or_else(String::new, |s| format!(", {} if the winch stalls", load(u, s)));
    format!("{} at work{stall}", load(u, l.work))
}

fn answer(page: &mut Page, r: &AnchorReport, u: Units) {
    let mut head = advised(r.advice).to_uppercase();
    match (r.advice, r.load, r.limits) {
        (Advice::Use, None, Some(l)) => head += &format!(" up to {}", capacity(u, l.work)),
        (Advice::UseBelowStopLoad | Advice::Share { .. }, ..) => {
            if let Some(s) = r.stop_load {
                head += &format!(": stop at {} of line pull", capacity(u, s));
            }
        }
        _ => {}
    }
    if let Some(s) = r.watched_stop {
        head += &format!(", OR WATCH IT AND STOP AT {}", capacity(u, s));
    }
    page.item(0, &r.advice.shape().to_string(), &[(&head, paint(r.advice))]);
    let height = u.show_length(r.attach_height);
    page.para(2, &format!("{}, {}, attached {height} above the ground. {}", r.id, r.what, stopped(&r.why)));
    if let Some(l) = r.load {
        page.para(2, &format!("Asked for: {}.", asked_load(l, u)));
    }
    if let Some(s) = r.watched_stop {
        page.para(
            2,
            &format!(
                "Or alone, if somebody watches it through the whole pull and stops at {} of line pull.",
                capacity(u, s)
            ),
        );
    }
}

fn may_get(page: &mut Page, r: &AnchorReport, u: Units) {
    let Some(l) = &r.limits else { return };
    page.heading("What it may be given");
    let columns =
        [Column::words("how", 8), Column::number("at work"), Column::number("at stall"), Column::words("", 10)];
    let or = |f: Option<Force>| f.map_or_else(|| "not judged".to_owned(), |f| capacity(u, f));
    let basis = match l.required_stall {
        Some(s) if (s - l.required_work).abs() > 1e-9 => {
            format!("{}, {} times the work, {} the stall", l.basis, asked(l.required_work), asked(s))
        }
        _ => format!("{}, {} times the load", l.basis, asked(l.required_work)),
    };
    let mut rows =
        vec![vec![Cell::new("alone"), Cell::new(capacity(u, l.work)), Cell::new(or(l.stall)), Cell::new(basis)]];
    for s in &r.shared {
        rows.push(vec![
            Cell::new(format!("{} like it", s.anchors)),
            Cell::new(capacity(u, s.work)),
            Cell::new(or(s.stall)),
            Cell::new(format!("one may get {:.0} %", (s.greatest_share * 100.0).ceil())),
        ]);
    }
    if !table(page, &columns, &rows) {
        for row in &rows {
            let text = row.iter().map(|c| c.text.as_str()).collect::<Vec<_>>().join(", ");
            page.item(2, "-", &[(&text, Paint::Plain)]);
        }
    }
    let like = if r.shared.is_empty() {
        String::new()
    } else {
        format!(
            " Like it: legs of {} spread over {}, joined by a line in a ring, at the worst of what nobody knows.",
            u.show_length(unmire_planner::anchor::LEG),
            show_angle(unmire_planner::anchor::SPREAD)
        )
    };
    page.para(0, &format!("Policy: {} ({}).{like}", r.policy.name, r.policy.grade.word()));
}

fn holds(page: &mut Page, r: &AnchorReport, u: Units) {
    if r.ways.is_empty() && r.holds.is_none() {
        return;
    }
    page.heading("What it holds before it gives: low, likely, high");
    if let (true, Some(h)) = (r.ways.is_empty(), &r.holds) {
        let from = if r.stated { " (stated)" } else { "" };
        page.flow(2, 4, &[(&three(u, h), Paint::Strong), (&format!("  {}{from}", r.gives), Paint::Plain)]);
    }
    for (i, w) in r.ways.iter().enumerate() {
        let paint = if i == 0 { Paint::Strong } else { Paint::Plain };
        page.item(2, "-", &[(&three(u, &w.holds), paint), (&format!("  {}", w.words), Paint::Plain)]);
    }
}

/// `36 .. 72 .. 123 kN`: strengths are rounded down.
fn three(u: Units, r: &Range<Force>) -> String {
    let shown = r.values().map(|f| u.show_capacity(f));
    let split = shown.each_ref().map(|t| t.rsplit_once(' ').unwrap_or((t.as_str(), "")));
    let [(low, a), (likely, b), (high, c)] = split;
    if r.low() == r.high() {
        kept(&shown[2])
    } else if a == b && b == c {
        kept(&format!("{low} .. {likely} .. {high} {c}"))
    } else {
        kept(&shown.join(" .. "))
    }
}

fn watch(page: &mut Page, r: &AnchorReport, u: Units) {
    let Some(w) = &r.watch else { return };
    page.heading("Watch it through the whole pull");
    page.para(2, &stopped(&w.text));
    if let (Some(tilt), Some((height, movement))) = (w.tilt, w.movement) {
        page.para(
            2,
            &format!(
                "The limit is {:.2} deg at the base: {} at {} above the ground. [{}]",
                (tilt.as_deg() * 100.0 + 1e-9).floor() / 100.0,
                small(u, movement),
                u.show_length(height),
                w.source
            ),
        );
    }
}

/// A length that is read off a ruler.
fn small(u: Units, l: Length) -> String {
    match u {
        Units::Metric => format!("{:.0} mm", (l.as_m() * 1000.0).floor()),
        Units::Us => format!("{:.2} in", (l.as_inch() * 100.0).floor() / 100.0),
    }
}

fn bark(page: &mut Page, r: &AnchorReport, u: Units) {
    let Some(b) = &r.bark else { return };
    page.heading("Its bark");
    let limit = u.show_pressure(b.limit, Round::Down);
    page.para(2, &format!("It stands {limit}; beyond, {}. {}. [{}]", b.gives, sentence(b.season), b.source));
    if let Some((width, pressure)) = b.strap {
        let over = if pressure > b.limit { "more than it stands" } else { "within what it stands" };
        page.para(
            2,
            &format!(
                "A strap {} wide in a basket presses with {}: {over}.",
                small(u, width),
                u.show_pressure(pressure, Round::Up)
            ),
        );
    }
    if let (Some(basket), Some(choker)) = (b.width_basket, b.width_choker) {
        page.para(
            2,
            &format!(
                "For {}: a strap at least {} wide in a basket; {} in a choker, which girdles the stem. No bare wire, no chain.",
                b.pull.map_or_else(|| "this load".to_owned(), |f| load(u, f)),
                wide(u, basket),
                wide(u, choker)
            ),
        );
    }
}

/// A width that is needed: rounded up.
fn wide(u: Units, l: Length) -> String {
    match u {
        Units::Metric => format!("{:.0} mm", (l.as_m() * 1000.0 - 1e-9).ceil()),
        Units::Us => format!("{:.1} in", (l.as_inch() * 10.0 - 1e-9).ceil() / 10.0),
    }
}

fn build(page: &mut Page, b: &BuildSheet, u: Units) {
    let what = match b.kind {
        BuildKind::Pickets => "pickets",
        BuildKind::Deadman => "deadman",
        BuildKind::Plates => "plates",
    };
    let holds = b
        .capacity
        .ultimate
        .map_or_else(|| "what it holds is not known".to_owned(), |h| format!("holds {}", three(u, &h)));
    page.heading(&format!("How to build one for {}: {what}, {holds}", load(u, b.pull)));
    if !b.enough {
        let reason = b.reason.as_deref().unwrap_or("it is the strongest that the rules allow");
        page.item(2, "■", &[("Not enough: ", Paint::Bad), (&stopped(reason), Paint::Plain)]);
    }
    for p in &b.pieces {
        let size = match (p.length, p.thickness) {
            (Some(l), Some(t)) => format!(", {} long, {} thick", u.show_length(l), small(u, t)),
            (Some(l), None) => format!(", {} long", u.show_length(l)),
            (None, Some(t)) => format!(", {} thick", small(u, t)),
            (None, None) => String::new(),
        };
        page.item(2, "-", &[(&format!("{} x {}{size}", p.count, p.what), Paint::Plain)]);
    }
    for m in &b.measures {
        let text = match m.measure {
            Measure::Length(l) => u.show_length(l),
            Measure::Angle(a) => show_angle(a),
            Measure::Volume(v) => match u {
                Units::Metric => format!("{v:.1} m3"),
                Units::Us => format!("{:.1} cu yd", v / 0.764_554_857_984),
            },
        };
        page.item(2, "-", &[(&format!("{}: {text}", m.what), Paint::Plain)]);
    }
    for (i, s) in b.steps.iter().enumerate() {
        page.item(2, &format!("{}", i + 1), &[(&stopped(s), Paint::Plain)]);
    }
    if let Some(t) = &b.time {
        page.para(2, &format!("About {} of work.", times(t)));
    }
}

/// Widest bar of the chart.
const BAR: usize = 40;

/// Capacity against the measure: a row each, a bar from low to high with the likely value in it.
fn chart(page: &mut Page, c: &Chart, u: Units) {
    page.heading(&format!("What it would hold by its {}", c.axis.words()));
    let most = c.points.iter().map(|(_, r)| r.high().as_n()).fold(0.0, f64::max);
    let room = page.width().saturating_sub(28).min(BAR);
    if most.is_nan() || most <= 0.0 || room < 8 {
        return;
    }
    let here = c.points.iter().map(|(m, _)| (m.as_m() - c.here.as_m()).abs()).fold(f64::INFINITY, f64::min);
    // Every third point: enough to see the shape.
    for (m, holds) in c.points.iter().step_by(3) {
        let at = |f: Force| ((f.as_n() / most) * (room as f64 - 1.0)) as usize;
        let (low, likely, high) = (at(holds.low()), at(holds.likely()), at(holds.high()));
        let bar: String = (0..room)
            .map(|i| {
                if i == likely {
                    '●'
                } else if (low..=high).contains(&i) {
                    '─'
                } else {
                    ' '
                }
            })
            .collect();
        let mark = if (m.as_m() - c.here.as_m()).abs() <= here { '>' } else { ' ' };
        let measure = u.show_length(*m);
        let text = format!("{mark} {measure:>8} {bar} {}", u.show_capacity(holds.likely()));
        page.flow(0, 0, &[(&kept(text.trim_end()), Paint::Plain)]);
    }
    page.para(2, "The line runs from the low end to the high one; the dot is the likely value.");
}

fn warnings(page: &mut Page, r: &AnchorReport) {
    if r.warnings.is_empty() {
        return;
    }
    page.heading("What to know about this answer");
    for w in &r.warnings {
        page.item(
            2,
            "-",
            &[
                (&stopped(&unmire_planner::demand::sentence(&w.text)), Paint::Plain),
                (&format!(" [{}]", w.code), Paint::Faint),
            ],
        );
    }
}

fn limits(page: &mut Page, r: &AnchorReport) {
    page.gap();
    page.para(
        0,
        &format!(
            "Checked: this anchor alone under the policy {}. Not checked: the strap, the rest of the rig, the people. Look at it \
             before every pull, load it slowly, keep everybody out of its reach; local rules, manufacturers' instructions and \
             trained judgement come first.",
            r.policy.name
        ),
    );
}
