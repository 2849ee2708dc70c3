//! Broken TOML: tells of each broken statement once and takes it out, so that the rest can still be judged.
//!
//! A bracket or quote that is left open swallows all that follows, and a parser then trips over every line. So the
//! first place where it trips is told, the statement to blame is blanked (its bytes become spaces, all else keeps its
//! place), and the parser starts again.

use crate::walk::{Mistake, Walk};
use core::ops::Range;
use toml::de::DeTable;

/// Most broken statements that are told of.
const MOST: usize = 20;

/// The text without its broken statements; nothing if what is left means nothing.
pub(crate) fn mend(w: &mut Walk<'_>, text: &str) -> Option<String> {
    let mut rest = text.to_owned();
    for _ in 0..MOST {
        let (_, errors) = DeTable::parse_recoverable(&rest);
        let first = errors
            .iter()
            .filter(|e| !e.message().contains("duplicate key"))
            .map(|e| (e.span().unwrap_or(0..0), e.message().to_owned()))
            .min_by_key(|(span, _)| span.start);
        let Some((span, message)) = first else { return Some(rest) };
        if message.contains("recurs") {
            w.tell(
                Mistake::new("toml", span, "this is nested too deep to be a case")
                    .expected("at most five levels of tables and lists"),
            );
            return None;
        }
        let blame = blame(&rest, span.clone());
        let header = rest[blame.lines.clone()].trim_start().starts_with('[');
        if blame.open {
            let first_line = rest[blame.lines.clone()].lines().next().unwrap_or("").trim_end();
            let indent = first_line.len() - first_line.trim_start().len();
            let at = blame.lines.start + indent..blame.lines.start + first_line.len();
            w.tell(
                Mistake::new("toml", at, "a bracket or quote that opens here is never closed")
                    .expected("each [ { and \" closed before the next key")
                    .example("position = [22.0, 1.5, 0.9]"),
            );
        } else {
            w.tell(
                Mistake::new("toml", span, format!("broken TOML: {message}"))
                    .expected("key = value, one to a line; texts between quotes")
                    .example("mass = \"2.4 t\""),
            );
        }
        if header {
            // What stands under a broken header belongs nowhere.
            return None;
        }
        if let Some((key, _)) = rest[blame.lines.clone()].split_once('=') {
            w.lost.insert(key.trim().trim_matches('"').to_owned());
        }
        let (from, to) = (w.lines.line(blame.lines.start), w.lines.line(blame.lines.end.saturating_sub(1)));
        w.broken.extend(from..=to);
        if !blank(&mut rest, blame.lines) {
            return None;
        }
    }
    None
}

struct Blame {
    /// The lines of the statement.
    lines: Range<usize>,
    /// Whether it was left open and the parser tripped only later.
    open: bool,
}

/// Whether a line starts a statement: a key with its equals sign, or a header.
fn starts(line: &str) -> bool {
    let t = line.trim_start();
    let header = t.starts_with('[') && t.trim_end().ends_with(']') && !t.contains(',') && !t.contains('{');
    let key = t.split_once('=').is_some_and(|(k, _)| {
        let k = k.trim();
        !k.is_empty() && k.chars().all(|c| unmire_model::letters::is_word(c) || "_-.\"".contains(c))
    });
    header || key
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |i| i + 1)
}
fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |i| at + i)
}
fn boundary(text: &str, at: usize) -> usize {
    (0..=at.min(text.len())).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0)
}

fn blame(text: &str, span: Range<usize>) -> Blame {
    let at = boundary(text, span.start);
    let (mut start, end) = (line_start(text, at), line_end(text, at));
    let line = &text[start..end];
    let before_value = line.find('=').is_none_or(|i| at < start + i + 1) || line.trim_start().starts_with('[');
    let fresh = at == start + (line.len() - line.trim_start().len());
    // The parser trips at the start of a statement that is in order by itself: an earlier one is open.
    if starts(line) && fresh && before_value && start > 0 && DeTable::parse_recoverable(line).1.is_empty() {
        let stop = start;
        let mut s = start;
        while s > 0 {
            s = line_start(text, s - 1);
            if starts(&text[s..line_end(text, s)]) {
                return Blame { lines: s..stop, open: true };
            }
        }
    }
    while start > 0 && !starts(&text[start..line_end(text, start)]) {
        start = line_start(text, start - 1);
    }
    if !starts(&text[start..line_end(text, start)]) {
        start = line_start(text, at);
    }
    Blame { lines: start..end, open: false }
}

/// Turns all but line ends into spaces; false if there was nothing left to turn.
fn blank(text: &mut String, lines: Range<usize>) -> bool {
    let old = &text[lines.clone()];
    let new: String = old
        .chars()
        .flat_map(|c| {
            core::iter::repeat_n(if c == '\n' { '\n' } else { ' ' }, if c == '\n' { 1 } else { c.len_utf8() })
        })
        .collect();
    let changed = old.chars().any(|c| !c.is_whitespace());
    text.replace_range(lines, &new);
    changed
}
