//! What happens if something lets go: the words first, then energy, then what flies, then the ground and who stands where.

use super::Options;
use super::page::{Page, Paint, kept};
use super::rest;
use super::table::{Cell, Column, table};
use super::words::{self, NONE, UNKNOWN, load, load_or, stopped};
use unmire_model::quantity::show::{Round, Units, show_angle, significant};
use unmire_model::{Energy, Length, Mass, Range, Speed};
use unmire_planner::recoil::{Cab, Failure, Fly, Place, RecoilReport, Seen, Thrown};
use unmire_planner::report::KeepOut;

/// A fragment that carries as much counts as hazardous to a person; the row of the table says by whom.
const HAZARD: &str = "energy";

/// The answer as text.
#[must_use]
pub fn report(r: &RecoilReport, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    headline(&mut page, r, u);
    said(&mut page, r);
    members(&mut page, r, u);
    failures(&mut page, &r.thrown.failures, &r.thrown.seen, u);
    ground(&mut page, &r.thrown, true, u);
    places(&mut page, &r.thrown.places, &r.thrown.keep_out, u);
    cabs(&mut page, &r.thrown.cabs, u);
    seen(&mut page, r, u);
    if !r.thrown.findings.is_empty() {
        page.heading("What to know about these numbers");
        rest::findings(&mut page, &r.thrown.findings.iter().collect::<Vec<_>>());
    }
    page.heading("What this says and what it does not");
    page.para(
        0,
        "Reckoned: the energy that the line, the straps and their fittings store, and upper bounds of speed for a clean break. Not \
         reckoned: a line that whips sideways, what a piece hits and where it goes from there, trees that come down, damage nobody saw. \
         Local rules, manufacturers' instructions and licensed practice come first.",
    );
    page.finish()
}

/// An energy: metric in joules or kilojoules, US in foot-pounds; rounded up.
pub(crate) fn energy(u: Units, e: Energy) -> String {
    let text = match u {
        Units::Metric if e.as_j() < 1000.0 => format!("{} J", significant(e.as_j(), 2, Round::Up)),
        Units::Metric => format!("{} kJ", significant(e.as_kj(), 2, Round::Up)),
        Units::Us => {
            let foot_pound = unmire_model::Force::from_lbf(1.0).over_way(Length::from_foot(1.0));
            format!("{} ft lb", significant(e / foot_pound, 2, Round::Up))
        }
    };
    kept(&text)
}
/// A speed, rounded up.
pub(crate) fn speed(u: Units, s: Speed) -> String {
    kept(&u.show_speed(s, Round::Up))
}
fn energy_or(u: Units, e: Option<Energy>) -> String {
    e.map_or_else(|| UNKNOWN.to_owned(), |e| energy(u, e))
}

/// `0.6–1.7 kg`, `up to 2 kg`, or `bare`.
fn mass(u: Units, m: Option<&Range<Mass>>) -> String {
    let Some(m) = m else { return UNKNOWN.to_owned() };
    if m.high() <= Mass::ZERO {
        return "bare".to_owned();
    }
    let one = |m: Mass, round: Round| match u {
        Units::Metric => significant(m.as_kg(), 2, round),
        Units::Us => significant(m.as_lb(), 2, round),
    };
    let unit = if u == Units::Metric { "kg" } else { "lb" };
    let (low, high) = (one(m.low(), Round::Down), one(m.high(), Round::Up));
    kept(&match m.low() > Mass::ZERO {
        false => format!("up to {high} {unit}"),
        true if low == high => format!("{high} {unit}"),
        true => format!("{low}–{high} {unit}"),
    })
}

fn headline(page: &mut Page, r: &RecoilReport, u: Units) {
    page.heading("What happens if something lets go");
    page.flow(0, 0, &[(&r.title, Paint::Strong)]);
    let from = if r.given { "The rig of the case" } else { "The best rig that was found" };
    page.para(0, &format!("{from}: {}", stopped(&r.plan.summary)));
    if let Some(p) = &r.policy {
        let verdict = words::verdict(r.plan.verdict);
        page.flow(
            0,
            0,
            &[
                (&format!("Policy {}: ", p.name), Paint::Plain),
                (&verdict, words::paint(r.plan.verdict)),
                (". Recoil does not ask whether it holds; it asks what comes if it doesn't.", Paint::Plain),
            ],
        );
    }
    let at = if r.thrown.at_stall {
        "with the winch stalled, or what else pulls at its most"
    } else {
        "at the high end of work"
    };
    let all = if r.thrown.at_stall { r.thrown.energy_stall } else { r.thrown.energy_work };
    let worst = r
        .thrown
        .failures
        .iter()
        .filter_map(|f| f.speed().map(|s| (s, f)))
        .max_by(|a, b| a.0.as_m_s().total_cmp(&b.0.as_m_s()));
    let mut text = format!("In the line and its straps {at}: {}.", energy_or(u, all));
    if let (true, Some((s, f))) = (r.thrown.is_known(), worst) {
        text += &format!(" Nothing flies along it faster than {} ({} fails).", speed(u, s), f.part);
    }
    page.item(0, "!", &[(&text, Paint::Careful)]);
    if !r.thrown.is_known() {
        page.item(0, "?", &[("Not every bound is known: see the end.", Paint::Open)]);
    }
}

fn said(page: &mut Page, r: &RecoilReport) {
    page.heading("Read this first");
    for w in &r.thrown.words {
        page.item(0, "!", &[(&stopped(w), Paint::Plain)]);
    }
}

fn members(page: &mut Page, r: &RecoilReport, u: Units) {
    page.heading("Energy in every member, by its softest");
    let columns = [
        Column::words("Member", 14),
        Column::number("Length"),
        Column::number("Pull"),
        Column::number("At work"),
        Column::number("At stall"),
        Column::number("Free end"),
    ];
    let high = |e: &Option<Range<Energy>>| energy_or(u, e.as_ref().map(Range::high));
    let rows: Vec<Vec<Cell>> = r
        .thrown
        .members
        .iter()
        .map(|m| {
            let pull = m.stall.filter(|_| r.thrown.at_stall).unwrap_or(m.work);
            vec![
                Cell::new(format!("{}, {}", m.name, m.what)),
                Cell::new(u.show_length(m.length)),
                Cell::new(load(u, pull)),
                Cell::new(high(&m.energy_work)),
                Cell::new(if m.stall.is_some() { high(&m.energy_stall) } else { NONE.to_owned() }),
                Cell::new(m.tip.map_or_else(|| UNKNOWN.to_owned(), |s| speed(u, s))),
            ]
        })
        .collect();
    if !table(page, &columns, &rows) {
        for m in &r.thrown.members {
            let stall = if m.stall.is_some() { format!(", {} at stall", high(&m.energy_stall)) } else { String::new() };
            let text = format!(
                "{}, {}, {}: pull {} at work, {} at stall; {} at work{stall}",
                m.name,
                m.what,
                kept(&u.show_length(m.length)),
                load(u, m.work),
                load_or(u, m.stall, NONE),
                high(&m.energy_work)
            );
            page.item(0, "-", &[(&text, Paint::Plain)]);
        }
    }
    let stall =
        if r.thrown.at_stall { format!(", {} at stall", energy_or(u, r.thrown.energy_stall)) } else { String::new() };
    page.para(0, &format!("Line and grips together: {} at work{stall}.", energy_or(u, r.thrown.energy_work)));
}

pub(super) fn failures(page: &mut Page, all: &[Failure], seen: &[Seen], u: Units) {
    page.heading("If this part fails, this flies");
    let hazard = seen.iter().find(|s| s.of == HAZARD);
    if let Some(value) = hazard.and_then(|s| s.value) {
        let limit = energy(u, Energy::from_j(value));
        page.flow(
            0,
            0,
            &[(
                &format!(
                    "Speed and energy are the most that each can have. A piece with {limit} already counts as hazardous to a person. \
                     Speeds: for the lightest that it can be; energies: for the heaviest."
                ),
                Paint::Faint,
            )],
        );
    }
    let columns = [
        Column::words("If this fails", 12),
        Column::words("this flies", 14),
        Column::words("which way", 14),
        Column::number("mass"),
        Column::number("at most"),
        Column::number("with"),
    ];
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for f in all {
        for (i, fly) in f.flies.iter().enumerate() {
            let name = if i == 0 { part(f) } else { String::new() };
            rows.push(vec![
                Cell::painted(name, Paint::Strong),
                Cell::new(fly.what.clone()),
                Cell::new(fly.way.clone()),
                Cell::new(mass(u, fly.mass.as_ref())),
                Cell::new(most(u, fly)),
                Cell::new(energy_or(u, fly.energy)),
            ]);
        }
    }
    if page.width() < 100 || !table(page, &columns, &rows) {
        for f in all {
            let head = format!("{}: ", part(f));
            let lets_go = format!("{} let go", energy_or(u, f.energy));
            page.item(0, "■", &[(&head, Paint::Strong), (&lets_go, Paint::Plain)]);
            for fly in &f.flies {
                let text = format!(
                    "{} ({}), at most {} with {}: {}",
                    fly.what,
                    mass(u, fly.mass.as_ref()),
                    most(u, fly),
                    energy_or(u, fly.energy),
                    stopped(&fly.way)
                );
                page.item(2, "-", &[(&text, Paint::Plain)]);
            }
        }
    }
}
fn part(f: &Failure) -> String {
    format!("{}, {}", f.part, f.role)
}
fn most(u: Units, fly: &Fly) -> String {
    fly.bound.map_or_else(|| UNKNOWN.to_owned(), |b| speed(u, b.speed))
}

/// The ground to keep clear and what it is made of. `drawn`: whether `--svg` of the same verb draws it.
pub(super) fn ground(page: &mut Page, r: &Thrown, drawn: bool, u: Units) {
    page.heading("Ground to keep clear, over everything that can fail");
    let radius = kept(&u.show_length_needed(r.keep_out.radius));
    page.para(
        0,
        &format!(
            "Nobody within {radius} of a loaded hard point, or inside a redirect. The rule: {}",
            stopped(&r.keep_out.rule)
        ),
    );
    for (point, _) in &r.bights {
        page.item(0, "!", &[(&format!("Inside the bend at {point}: nobody, ever."), Paint::Careful)]);
    }
    page.para(0, "Published rules, for this line; they disagree:");
    let mut rules: Vec<_> = r.rules.iter().collect();
    unmire_model::order::sort_by(&mut rules, |a, b| b.distance.as_m().total_cmp(&a.distance.as_m()));
    for s in rules {
        let larger = if s.distance > r.keep_out.radius { ", more than is drawn here" } else { "" };
        let strap = if s.is_for_straps() { " (meant for straps between vehicles)" } else { "" };
        let text = format!("{}: {}{strap}{larger}", kept(&u.show_length_needed(s.distance)), s.what);
        page.item(0, "-", &[(&text, Paint::Plain), (&format!(" [{}, {}]", s.source, s.how.words()), Paint::Faint)]);
    }
    let laid = match r.dampers {
        0 => "No damper is in the rig.".to_owned(),
        1 => "One damper is in the rig.".to_owned(),
        n => format!("{n} dampers are in the rig."),
    };
    page.para(
        0,
        &format!("{laid} No published test of one was found: none is reckoned, and none shrinks this ground."),
    );
    let outline: usize = r.keep_out.rings.iter().map(Vec::len).sum();
    let draws = if drawn { ", '--svg' draws it" } else { "" };
    page.para(0, &format!("Its outline, {outline} corners: '--json' gives their coordinates{draws}."));
}

pub(super) fn places(page: &mut Page, all: &[Place], keep_out: &KeepOut, u: Units) {
    page.heading("Who stands where");
    if all.is_empty() {
        page.item(
            0,
            "■",
            &[("No place was found outside this ground that is aside of every line and not on the low side. Go farther away, or behind solid cover that local rules accept.", Paint::Bad)],
        );
    }
    for (i, p) in all.iter().enumerate() {
        let short = match p.short_of.len() {
            0 => "as far off as every published rule asks".to_owned(),
            1 => "1 published rule asks for more distance".to_owned(),
            n => format!("{n} published rules ask for more distance"),
        };
        let text = format!(
            "{}, {} from it; {} off the nearest line of flight; {} from the nearest loaded hard point: {short}.",
            p.whereabouts,
            kept(&u.show_length(p.distance)),
            kept(&show_angle(p.off_line)),
            kept(&u.show_length_available(p.nearest)),
        );
        page.item(0, &format!("{}.", i + 1), &[(&words::sentence(&text), Paint::Plain)]);
    }
    if let Some(p) = all.first() {
        page.para(
            0,
            &format!("For {}: a place to begin looking, not a promise. Look at it: slope, trees, traffic, a way to step back.", p.who),
        );
    }
    for e in &keep_out.exceptions {
        page.item(0, "-", &[(&format!("Exception: {}", stopped(e)), Paint::Plain)]);
    }
}

pub(super) fn cabs(page: &mut Page, all: &[Cab], u: Units) {
    for c in all {
        let lines = c.flies_at_it.len();
        let head = format!("The cab of {}, {}: ", c.vehicle, c.who);
        let text = if lines == 0 {
            "no line of flight leads straight to it.".to_owned()
        } else {
            format!(
                "{} of the ways above {} straight at it, at most {} with {}.",
                lines,
                if lines == 1 { "leads" } else { "lead" },
                c.speed.map_or_else(|| UNKNOWN.to_owned(), |s| speed(u, s)),
                energy_or(u, c.energy)
            )
        };
        page.item(0, if lines == 0 { "-" } else { "!" }, &[(&head, Paint::Strong), (&text, Paint::Plain)]);
        for w in &c.conditions {
            page.item(2, "-", &[(&stopped(&words::sentence(w)), Paint::Plain)]);
        }
    }
}

fn seen(page: &mut Page, r: &RecoilReport, u: Units) {
    page.heading("What was seen elsewhere when lines parted");
    for s in &r.thrown.seen {
        let value = match (s.of, s.value) {
            ("speed", Some(v)) => format!("{}: ", speed(u, Speed::from_m_s(v))),
            ("distance", Some(v)) => format!("{}: ", kept(&u.show_length(Length::from_m(v)))),
            ("energy", Some(v)) => format!("{}: ", energy(u, Energy::from_j(v))),
            _ => String::new(),
        };
        let text = format!("{value}{}", stopped(s.what));
        page.item(
            0,
            "-",
            &[(&words::sentence(&text), Paint::Plain), (&format!(" [{}, {}]", s.source, s.how), Paint::Faint)],
        );
    }
}
