//! A kinetic pull: the answer, the blunt words, the window, the force at every part, what flies, who stands where.

use super::Options;
use super::page::{Page, Paint, kept};
use super::recoil::{self, energy};
use super::rest;
use super::table::{Cell, Column, table};
use super::words::{self, UNKNOWN, capacity, load, margin, sentence, stopped, times};
use unmire_audit::verdict::Verdict;
use unmire_model::quantity::show::{Round, Units, show_share, significant};
use unmire_model::{Energy, Force, Length, Range, Speed};
use unmire_planner::kinetic::{
    Answer, BareReport, End, History, KineticReport, NoRunUp, Outcome, SpeedFrom, Window, end_in_words, event_word,
};
use unmire_planner::report::PlanCheck;

/// The answer of a case as text.
#[must_use]
pub fn report(r: &KineticReport, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    headline(&mut page, r, u);
    blunt(&mut page, &r.words);
    if let Some(a) = r.answers.first() {
        answer(&mut page, a, u);
    }
    others(&mut page, r, u);
    refused(&mut page, r);
    let findings: Vec<_> = r.answers.first().into_iter().flat_map(|a| &a.findings).chain(&r.findings).collect();
    if !findings.is_empty() {
        page.heading("What to know about these numbers");
        rest::findings(&mut page, &findings);
    }
    page.heading("What this says and what it does not");
    page.para(
        0,
        "Reckoned: two vehicles on one line, a rope without mass, mire that holds and may let go, one pull. Not reckoned: a second snatch, \
         vehicles that pitch or swing, ruts and steps, a rope that whips, damage nobody saw. The loads are ranges because nobody knows a \
         rope's stretch better; judge by the high end. Local rules, manufacturers' instructions and licensed practice come first.",
    );
    page.finish()
}

/// The answer to a bare problem as text.
#[must_use]
pub fn bare(r: &BareReport, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    let o = &r.history.outcome;
    page.heading("A bare kinetic problem");
    page.flow(0, 0, &[(&r.title, Paint::Strong)]);
    page.para(
        0,
        &format!(
            "Peak {}, stretch {}, travel {}. It ends because {}.",
            load(u, o.peak),
            kept(&u.show_length(o.stretch)),
            kept(&u.show_length(o.travel)),
            end_in_words(o.end)
        ),
    );
    if let Some(s) = o.share_of_breaking {
        page.para(0, &format!("That is {} of the force at which the rope parts.", kept(&show_share(s, Round::Up))));
    }
    page.para(
        0,
        &format!(
            "The rope becomes taut at {}; it takes up {}.",
            run_up(u, o.closing_speed, Round::Up),
            energy(u, r.rope_energy)
        ),
    );
    blunt(&mut page, &r.words);
    if let Some(a) = &r.asking {
        page.heading("Between too little and too much");
        let asked = format!(
            "Asked: {} of travel, no more than {} in the rope, looked at up to {}.",
            kept(&u.show_length(a.asked.travel)),
            capacity(u, a.asked.limit),
            run_up(u, a.asked.fastest, Round::Down)
        );
        page.para(0, &asked);
        window(&mut page, &a.window, u);
    }
    happens(&mut page, "What happens", &r.history, u);
    account(&mut page, o, u);
    if !r.warnings.is_empty() {
        page.heading("What to know about these numbers");
        for w in &r.warnings {
            page.item(
                0,
                "!",
                &[(&stopped(&sentence(&w.text)), Paint::Plain), (&format!(" [{}]", w.code), Paint::Faint)],
            );
        }
    }
    page.heading("What this says and what it does not");
    page.para(
        0,
        "Two masses and a rope, with exactly the numbers of the file. Nothing is judged: no part, no ground, nobody's place. A kinetic pull with \
         real vehicles kills people; 'unmire kinetic' with a case says what it takes.",
    );
    page.finish()
}

/// What comes before every number but the answer.
fn blunt(page: &mut Page, words: &[String]) {
    page.heading("Read this first");
    for w in words {
        page.item(0, "!", &[(w, Paint::Plain)]);
    }
}

/// A speed of a run-up: km/h or mph, in tenths.
fn run_up(u: Units, v: Speed, round: Round) -> String {
    let (value, unit) = match u {
        Units::Metric => (v.as_km_h(), "km/h"),
        Units::Us => (v.as_mph(), "mph"),
    };
    let tenths = value * 10.0;
    let tenths = if round == Round::Up { (tenths - 1e-9).ceil() } else { (tenths + 1e-9).floor() };
    kept(&format!("{:.1} {unit}", tenths / 10.0))
}
fn run_ups(u: Units, r: &Range<Speed>) -> String {
    let (low, high) = (run_up(u, r.low(), Round::Down), run_up(u, r.high(), Round::Up));
    if low == high { high } else { format!("{low} to {high}") }
}

fn headline(page: &mut Page, r: &KineticReport, u: Units) {
    page.heading("Kinetic pull");
    page.flow(0, 0, &[(&r.title, Paint::Strong)]);
    let Some(a) = r.answers.first() else {
        let why = r.none_because.as_deref().unwrap_or("nothing could be reckoned");
        page.item(0, "■", &[("No kinetic pull: ", Paint::Bad), (&stopped(why), Paint::Bad)]);
        return;
    };
    let (mark, paint, text) = match (&a.window, a.passes()) {
        (Ok(w), true) => (
            "●",
            Paint::Good,
            format!(
                "It passes under policy {}, inside its window only: {} to {} when the rope becomes taut.",
                r.policy.name,
                run_up(u, w.slowest, Round::Up),
                run_up(u, w.fastest, Round::Down)
            ),
        ),
        _ => (if unknown(a) { "?" } else { "■" }, if unknown(a) { Paint::Open } else { Paint::Bad }, no(a, u)),
    };
    page.item(0, mark, &[(&text, paint)]);
    page.para(0, &stopped(&a.summary));
    let weakest = match &a.limit {
        Some(l) => format!("the weakest part, {}, allows {} in the rope", l.part, capacity(u, l.force)),
        None => "what the chain allows is unknown".to_owned(),
    };
    page.para(
        0,
        &format!(
            "Peak in the rope: up to {}, likely {}; {weakest}.",
            load(u, a.pull.peak.high()),
            load(u, a.pull.peak.likely())
        ),
    );
    if !a.actions.is_empty() {
        let first: Vec<&str> = a.actions.iter().map(|x| x.text.as_str()).collect();
        page.item(0, "!", &[("First: ", Paint::Strong), (&first.join(" "), Paint::Plain)]);
    }
}

fn unknown(a: &Answer) -> bool {
    a.verdict == Verdict::Unknown || matches!(a.window, Err(NoRunUp::PartUnknown(_)))
}

/// Why not.
fn no(a: &Answer, u: Units) -> String {
    let mut why = Vec::new();
    if let Err(e) = &a.window {
        why.push(e.to_string());
    }
    if let Ok(w) = &a.window {
        if a.too_slow() {
            why.push(format!(
                "{} is under the window, which begins at {}",
                run_ups(u, &a.speed),
                run_up(u, w.slowest, Round::Up)
            ));
        }
        if a.too_fast() {
            why.push(format!(
                "{} goes over the window, which ends at {}",
                run_ups(u, &a.speed),
                run_up(u, w.fastest, Round::Down)
            ));
        }
    }
    let short: Vec<&str> =
        a.checks.iter().filter(|c| c.verdict == Verdict::Overloaded).map(|c| c.part.as_str()).collect();
    if !short.is_empty() {
        why.push(format!("short of what the policy asks at the high end of the peak: {}", short.join(", ")));
    }
    let open: Vec<&str> = a.checks.iter().filter(|c| c.verdict == Verdict::Unknown).map(|c| c.part.as_str()).collect();
    if !open.is_empty() {
        why.push(format!("nobody knows enough about {}", open.join(", ")));
    }
    if !a.thrown.is_known() {
        why.push("how hard it recoils is not known".to_owned());
    }
    if why.is_empty() {
        why.push("what the rules say bars it, see the end".to_owned());
    }
    format!("No kinetic pull: {}.", why.join("; "))
}

fn answer(page: &mut Page, a: &Answer, u: Units) {
    page.heading("Between too little and too much");
    page.para(
        0,
        &format!(
            "Asked of one pull: {} of travel, looked at up to {}. Too little is judged where the ground holds most, too much where the peak is highest.",
            kept(&u.show_length(a.asked)),
            run_up(u, a.fastest, Round::Down)
        ),
    );
    window(page, &a.window, u);
    pull(page, a, u);
    page.heading("Force at every part at the high end of the peak, worst first");
    parts(page, &a.checks, u);
    happens(page, "What happens, with everything likely", &a.likely, u);
    happens(page, "What happens at the greatest peak", &a.high, u);
    account(page, &a.high.outcome, u);
    page.heading(&format!("Pieces (about {})", times(&a.time)));
    for p in &a.pieces {
        page.item(0, "-", &[(&p.id, Paint::Strong), (&format!(", {}: {}", p.what, p.place), Paint::Plain)]);
    }
    page.para(
        0,
        &format!(
            "Room: {} straight from the stuck vehicle to where the puller can come to stand, and room to brake beyond it.",
            kept(&u.show_length_needed(a.room))
        ),
    );
    practices(page, a, u);
    let t = &a.thrown;
    recoil::failures(page, &t.failures, &t.seen, u);
    recoil::ground(page, t, false, u);
    recoil::places(page, &t.places, &t.keep_out, u);
    recoil::cabs(page, &t.cabs, u);
}

fn window(page: &mut Page, w: &Result<Window, NoRunUp>, u: Units) {
    let w = match w {
        Ok(w) => w,
        Err(why) => {
            page.item(
                0,
                "■",
                &[
                    ("There is no window: ", Paint::Bad),
                    (&stopped(&why.to_string()), Paint::Plain),
                    (&format!(" [{}]", why.code()), Paint::Faint),
                ],
            );
            return;
        }
    };
    let text = if w.slowest == Speed::ZERO {
        format!("From a steady pull without a run-up up to {}.", run_up(u, w.fastest, Round::Down))
    } else {
        format!("{} to {}.", run_up(u, w.slowest, Round::Up), run_up(u, w.fastest, Round::Down))
    };
    let capped = if w.capped { " Its fast end is only the fastest that was looked at." } else { "" };
    page.item(0, "●", &[(&text, Paint::Good), (capped, Paint::Plain)]);
    page.para(
        0,
        &format!(
            "Peak at its slow end up to {}, at its fast end up to {}. Begin at the slow end.",
            load(u, w.peak_at_slowest),
            load(u, w.peak_at_fastest)
        ),
    );
    let needed = match w.slack_needed {
        _ if w.slowest == Speed::ZERO => "no slack is needed".to_owned(),
        Some(l) => {
            format!("{} of slack is enough for the slow end where the tyres give least", kept(&u.show_length_needed(l)))
        }
        None => "no slack is enough where the tyres give least".to_owned(),
    };
    let allowed = w.slack_allowed.map_or_else(
        || "no slack is too much".to_owned(),
        |l| format!("more than {} is too much where they give most", kept(&u.show_length_available(l))),
    );
    let both = w.slack_needed.zip(w.slack_allowed).is_some_and(|(n, a)| n <= a);
    let so = if both || w.slowest == Speed::ZERO {
        ""
    } else {
        " The slack can't set the speed here: the driver has to hold it."
    };
    page.para(0, &format!("From rest at full throttle {needed}; {allowed}.{so}"));
}

fn pull(page: &mut Page, a: &Answer, u: Units) {
    page.heading("The pull that was reckoned");
    let from = match a.speed_from {
        SpeedFrom::Stated => "as the case states",
        SpeedFrom::Slack => "from rest at full throttle through the slack",
        SpeedFrom::Window => "the slow end of the window",
        SpeedFrom::Practice => "what a club teaches, there being no window",
    };
    page.para(0, &format!("Speed when the rope becomes taut: {}, {from}.", run_ups(u, &a.speed)));
    let columns = [Column::words("", 22), Column::number("Low"), Column::number("Likely"), Column::number("High")];
    let row = |name: &str, cells: [String; 3]| {
        let mut out = vec![Cell::new(name)];
        out.extend(cells.map(Cell::new));
        out
    };
    let forces = |r: &Range<Force>| r.values().map(|f| load(u, f));
    let lengths = |r: &Range<Length>| r.values().map(|l| kept(&u.show_length(l)));
    let energies = |r: &Range<Energy>| r.values().map(|e| energy(u, e));
    let mut rows = vec![
        row("Peak in the rope", forces(&a.pull.peak)),
        row("Stretch of the rope", lengths(&a.pull.stretch)),
        row("Travel, coasting included", lengths(&a.pull.travel)),
        row("Energy in the rope at the high peak", energies(&a.rope_energy)),
        row("What holds it to break away", forces(&a.inputs.resistance.breakaway)),
        row("What the puller's tyres give", forces(&a.inputs.traction)),
    ];
    if let Some(h) = &a.inputs.holds {
        rows.push(row("What its brakes hold", forces(h)));
    }
    if !table(page, &columns, &rows) {
        for r in &rows {
            let texts: Vec<&str> = r.iter().map(|c| c.text.as_str()).collect();
            if let [name, low, likely, high] = texts.as_slice() {
                page.item(0, "-", &[(&format!("{name}: {low}, likely {likely}, up to {high}"), Paint::Plain)]);
            }
        }
    }
}

fn parts(page: &mut Page, all: &[PlanCheck], u: Units) {
    let columns = [
        Column::words("Part", 20),
        Column::number("Peak"),
        Column::number("Capacity"),
        Column::number("Ratio"),
        Column::number("Asked"),
        Column::words("Verdict", 10),
    ];
    let cells = |c: &PlanCheck| {
        [
            format!("{}, {}", c.part, c.what),
            words::load_or(u, c.demand_work, UNKNOWN),
            c.capacity.map_or_else(|| UNKNOWN.to_owned(), |f| capacity(u, f)),
            margin(c.ratio_work),
            c.required_work.map_or_else(|| UNKNOWN.to_owned(), words::asked),
            words::verdict(c.verdict),
        ]
    };
    let rows: Vec<Vec<Cell>> = all
        .iter()
        .map(|c| {
            let mut row: Vec<Cell> = cells(c).into_iter().map(Cell::new).collect();
            if let Some(last) = row.last_mut() {
                last.paint = words::paint(c.verdict);
            }
            row
        })
        .collect();
    if !table(page, &columns, &rows) {
        for c in all {
            let [name, peak, most, ratio, asked, verdict] = cells(c);
            let text = format!("{name}: {peak} at the peak, {most}, ratio {ratio}, asked {asked}: ");
            page.item(0, "-", &[(&text, Paint::Plain), (&verdict, words::paint(c.verdict))]);
        }
    }
    for c in all.iter().filter(|c| c.verdict == Verdict::Unknown) {
        let why = c.unknown_because.as_deref().unwrap_or("its load or its capacity is not known");
        page.item(0, "?", &[(&format!("{} is unknown: {why}.", c.part), Paint::Plain)]);
    }
}

fn happens(page: &mut Page, heading: &str, h: &History, u: Units) {
    page.heading(heading);
    for s in &h.samples {
        let Some(e) = s.event else { continue };
        let text = format!(
            "{:.2} s: {}; {} in the rope, the stuck one has moved {}",
            s.time.as_s(),
            event_word(e).replace('-', " "),
            load(u, s.tension),
            kept(&u.show_length(s.stuck_travel))
        );
        page.item(0, "-", &[(&text, Paint::Plain)]);
    }
    let o = &h.outcome;
    let coast = match (o.coast, o.end) {
        (_, End::AtRest | End::NeverTaut) => String::new(),
        (Some(l), _) if l <= Length::ZERO => String::new(),
        (Some(l), _) => format!(" It coasts {} from there.", kept(&u.show_length(l))),
        (None, _) => " Nothing but its brakes stops it from there.".to_owned(),
    };
    page.para(0, &format!("{}.{coast}", sentence(end_in_words(o.end))));
}

/// Where the energy came from and went.
fn account(page: &mut Page, o: &Outcome, u: Units) {
    let e = &o.energy;
    let signed = |e: Energy| if e < Energy::ZERO { format!("−{}", energy(u, -e)) } else { energy(u, e) };
    page.para(
        0,
        &format!(
            "Energy: {} of run-up, {} of traction, {} of weights; against it {} of what holds, {} of dragging, {} lost in the rope, {} left in it, {} of motion left. The rope held up to {}.",
            signed(e.run_up),
            signed(e.traction),
            signed(e.weights),
            signed(e.resistance),
            signed(e.dragging),
            signed(e.rope_loss),
            signed(e.rope_left),
            signed(e.motion_left),
            signed(e.rope_greatest)
        ),
    );
}

fn practices(page: &mut Page, a: &Answer, u: Units) {
    page.heading("Rules of thumb, and this pull; they disagree, and none is reckoned with");
    for p in &a.practices {
        let here = match (&p.here, p.kept) {
            (None, _) => String::new(),
            (Some(h), kept_it) => {
                let number = |v: f64, round| significant(v, 2, round);
                let word = match kept_it {
                    Some(true) => "kept",
                    Some(false) => "not kept",
                    None => "kept in part",
                };
                format!(" Here {} to {} {}: {word}.", number(h.low(), Round::Down), number(h.high(), Round::Up), p.per)
            }
        };
        let text = format!("{}{here}", stopped(&sentence(p.what)));
        page.item(0, "-", &[(&text, Paint::Plain), (&format!(" [{}, {}]", p.source, p.how.words()), Paint::Faint)]);
    }
    let slack = if a.slack_assumed { "taken" } else { "stated" };
    page.para(
        0,
        &format!(
            "Slack: {} to {}, {slack}.",
            kept(&u.show_length(a.slack.low())),
            kept(&u.show_length(a.slack.high()))
        ),
    );
}

fn others(page: &mut Page, r: &KineticReport, u: Units) {
    if r.answers.len() < 2 {
        return;
    }
    page.heading("Other helpers and ropes");
    for a in r.answers.iter().skip(1) {
        let window = match &a.window {
            Ok(w) => format!("window {} to {}", run_up(u, w.slowest, Round::Up), run_up(u, w.fastest, Round::Down)),
            Err(why) => format!("no window: {why}"),
        };
        let text = format!("{} on {}: ", a.helper, a.rope);
        let rest = format!("; peak up to {}; {window}.", load(u, a.pull.peak.high()));
        page.item(
            0,
            "-",
            &[(&text, Paint::Strong), (&words::verdict(a.verdict), words::paint(a.verdict)), (&rest, Paint::Plain)],
        );
    }
}

fn refused(page: &mut Page, r: &KineticReport) {
    if r.refused.is_empty() {
        return;
    }
    page.heading("Not for a kinetic pull");
    for x in &r.refused {
        let mark = if x.unknown { "?" } else { "■" };
        page.item(
            0,
            mark,
            &[
                (&x.piece, Paint::Strong),
                (&format!(", {}: {}", x.what, stopped(&x.why)), Paint::Plain),
                (&format!(" [{}]", x.code), Paint::Faint),
            ],
        );
    }
}
