//! A table that fits: columns of numbers keep their width, columns of words share what is left.

use super::page::{Page, Paint, width_of, wrap};

/// A column.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    /// Its heading.
    pub head: &'static str,
    /// Numbers: set to the right and never wrapped.
    pub number: bool,
    /// The least width at which it can still be read.
    pub least: usize,
}
impl Column {
    pub(super) const fn words(head: &'static str, least: usize) -> Self {
        Self { head, number: false, least }
    }
    pub(super) const fn number(head: &'static str) -> Self {
        Self { head, number: true, least: 0 }
    }
}

/// A cell.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    pub text: String,
    pub paint: Paint,
}
impl Cell {
    pub(super) fn new(text: impl Into<String>) -> Self {
        Self { text: super::page::clean(&text.into()), paint: Paint::Plain }
    }
    pub(super) fn painted(text: impl Into<String>, paint: Paint) -> Self {
        Self { paint, ..Self::new(text) }
    }
}

const BETWEEN: usize = 2;

/// Writes the table if it fits the page. Says whether it did, so that the caller can tell the same in another way.
pub(super) fn table(page: &mut Page, columns: &[Column], rows: &[Vec<Cell>]) -> bool {
    let Some(widths) = widths(page.width(), columns, rows) else { return false };
    let heads: Vec<Cell> = columns.iter().map(|c| Cell::painted(c.head, Paint::Strong)).collect();
    row(page, columns, &widths, &heads);
    for r in rows {
        row(page, columns, &widths, r);
    }
    true
}

fn widths(page: usize, columns: &[Column], rows: &[Vec<Cell>]) -> Option<Vec<usize>> {
    let natural = |i: usize| {
        let head = columns.get(i).map_or(0, |c| width_of(c.head));
        rows.iter().filter_map(|r| r.get(i)).map(|c| width_of(&c.text)).max().unwrap_or(0).max(head)
    };
    let mut widths: Vec<usize> = (0..columns.len()).map(natural).collect();
    let least =
        |i: usize, wide: usize| columns.get(i).map_or(wide, |c| if c.number { wide } else { c.least.min(wide) });
    let room = page.checked_sub(BETWEEN * columns.len().saturating_sub(1))?;
    // Take from the widest column of words until it fits.
    while widths.iter().sum::<usize>() > room {
        let (i, w) = widths.iter().copied().enumerate().filter(|(i, w)| *w > least(*i, *w)).max_by_key(|(_, w)| *w)?;
        *widths.get_mut(i)? = w - 1;
    }
    Some(widths)
}

fn row(page: &mut Page, columns: &[Column], widths: &[usize], cells: &[Cell]) {
    let wrapped: Vec<Vec<String>> = cells.iter().zip(widths).map(|(c, w)| wrap(&c.text, *w)).collect();
    let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
    for n in 0..height {
        let mut line: Vec<(String, Paint)> = Vec::new();
        for (i, (cell, w)) in cells.iter().zip(widths).enumerate() {
            let text = wrapped.get(i).and_then(|lines| lines.get(n)).map_or("", String::as_str);
            let pad = " ".repeat(w.saturating_sub(width_of(text)));
            let number = columns.get(i).is_some_and(|c| c.number);
            if i > 0 {
                line.push((" ".repeat(BETWEEN), Paint::Plain));
            }
            if number {
                line.push((pad, Paint::Plain));
                line.push((text.to_owned(), cell.paint));
            } else {
                line.push((text.to_owned(), cell.paint));
                line.push((pad, Paint::Plain));
            }
        }
        let spans: Vec<(&str, Paint)> =
            line.iter().filter(|(t, _)| !t.is_empty()).map(|(t, p)| (t.as_str(), *p)).collect();
        page.raw_line(&spans);
    }
}
