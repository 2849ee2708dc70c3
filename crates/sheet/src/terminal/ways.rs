//! Winch, kinetic or neither: a small table, and the advice.

use super::page::{Page, Paint, kept};
use super::table::{Cell, Column, table};
use super::words::{self, NONE, load_or, stopped, times};
use unmire_model::quantity::show::Units;
use unmire_planner::kinetic::Way;
use unmire_planner::report::Report;

/// The ways side by side, if the case has a kinetic rope and a helper that can drive.
pub(super) fn write(page: &mut Page, r: &Report, u: Units) {
    let Some(ways) = &r.ways else { return };
    page.heading("Winch, kinetic or neither");
    page.item(0, "!", &[(&ways.advice, Paint::Careful)]);
    let columns = [
        Column::words("Way", 8),
        Column::words("Verdict", 10),
        Column::number("At work"),
        Column::number("At most"),
        Column::number("Room"),
        Column::number("Clear"),
        Column::number("Pieces"),
        Column::number("Takes"),
        Column::number("People"),
    ];
    let cells = |w: &Way| {
        let length =
            |l: Option<unmire_model::Length>| l.map_or_else(|| NONE.to_owned(), |l| kept(&u.show_length_needed(l)));
        [
            w.word.to_owned(),
            w.verdict.map_or_else(|| NONE.to_owned(), words::verdict),
            load_or(u, w.load_work, NONE),
            load_or(u, w.load_most, NONE),
            length(w.room),
            length(w.keep_out),
            w.pieces.to_string(),
            w.time.as_ref().map_or_else(|| NONE.to_owned(), times),
            w.exposed.to_string(),
        ]
    };
    let rows: Vec<Vec<Cell>> = ways.all.iter().map(|w| cells(w).into_iter().map(Cell::new).collect()).collect();
    if !table(page, &columns, &rows) {
        // What loads nothing has no numbers: what there is to say of it stands below.
        for w in ways.all.iter().filter(|w| w.verdict.is_some()) {
            let [word, verdict, work, most, room, clear, pieces, takes, people] = cells(w);
            let text = format!(
                ": {verdict}; {work} at work, {most} at most; room {room}, clear {clear}; {pieces} pieces; {takes}; {people} inside"
            );
            page.item(0, "-", &[(&word, Paint::Strong), (&text, Paint::Plain)]);
        }
    }
    page.flow(
        0,
        0,
        &[(
            "At work and at most: the greatest force on any part, at most with the winch stalled or at the high end of the kinetic peak. Room: \
             straight from the stuck vehicle. Clear: radius of the ground to keep clear. People: who is inside it.",
            Paint::Faint,
        )],
    );
    for w in &ways.all {
        let rig = if w.summary.is_empty() { String::new() } else { format!("{} ", stopped(&w.summary)) };
        let passes = if w.passes || w.word == "neither" { "" } else { "Does not pass. " };
        let who = if w.exposed > 0 { format!(" Inside: {}.", w.who) } else { String::new() };
        let text = format!(": {rig}{passes}{}{who}", stopped(&w.why));
        page.item(0, "-", &[(w.word, Paint::Strong), (&text, Paint::Plain)]);
    }
}
