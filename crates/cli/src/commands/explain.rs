//! `unmire explain CODE`: the text behind a code, a policy or a source.

use crate::args::ExplainArgs;
use crate::status::{Status, Trouble};
use crate::{engine, files, output};
use unmire_audit::Policy;
use unmire_sheet::codes as codebook;
use unmire_sheet::terminal::page::{Page, Paint};

pub fn run(a: &ExplainArgs) -> Result<Status, Trouble> {
    let width = output::width(a.width);
    let code = a.code.trim().trim_start_matches('[').trim_end_matches(']');
    let text = match code {
        "codes" => codes(width),
        "policies" => policies(width),
        "sources" => sources(width),
        _ => match codebook::explain(code) {
            Some(doc) => wrapped(&doc, width),
            None => policy(code, width).or_else(|| source(code, width)).ok_or_else(|| no_such(code))?,
        },
    };
    output::print(&text)?;
    Ok(Status::Passes)
}

/// Paragraphs wrapped with their own indents.
fn wrapped(text: &str, width: usize) -> String {
    let mut page = Page::new(width, false);
    for line in text.lines() {
        let body = line.trim_start();
        if body.is_empty() {
            page.gap();
        } else {
            page.para(line.len() - body.len(), body);
        }
    }
    page.finish()
}

fn codes(width: usize) -> String {
    let mut page = Page::new(width, false);
    for (code, title) in codebook::all() {
        page.flow(0, 2, &[(code, Paint::Strong), (": ", Paint::Plain), (title, Paint::Plain)]);
    }
    page.finish()
}

fn policies(width: usize) -> String {
    let mut page = Page::new(width, false);
    for (i, p) in Policy::all().iter().enumerate() {
        page.gap();
        let default = if i == 0 { " (the default)" } else { "" };
        page.flow(
            0,
            2,
            &[(p.name, Paint::Strong), (default, Paint::Plain), (": ", Paint::Plain), (p.title, Paint::Plain)],
        );
        page.para(2, p.doc);
    }
    page.finish()
}

fn policy(name: &str, width: usize) -> Option<String> {
    let p = Policy::by_name(name)?;
    let mut page = Page::new(width, false);
    page.flow(0, 2, &[(p.name, Paint::Strong), (": ", Paint::Plain), (p.title, Paint::Plain)]);
    page.gap();
    page.para(0, p.doc);
    page.heading("What it asks of each kind of part");
    for row in p.rows() {
        page.item(0, "-", &[(row.part.word(), Paint::Strong), (": ", Paint::Plain), (&row.in_words(), Paint::Plain)]);
        if !row.note.is_empty() {
            page.para(2, row.note);
        }
    }
    Some(page.finish())
}

fn sources(width: usize) -> String {
    let mut page = Page::new(width, false);
    for s in unmire_tables::sources::SOURCES {
        let title = engine::source_title(s.key).unwrap_or_default();
        page.flow(0, 2, &[(s.key, Paint::Strong), (": ", Paint::Plain), (&title, Paint::Plain)]);
    }
    page.finish()
}

fn source(key: &str, width: usize) -> Option<String> {
    let s = unmire_tables::source(key)?;
    let mut page = Page::new(width, false);
    page.flow(0, 2, &[(s.key, Paint::Strong), (": ", Paint::Plain), (&engine::source_title(key)?, Paint::Plain)]);
    for (head, text) in [("Where in it: ", s.place), ("Mind: ", s.note)] {
        if !text.is_empty() {
            page.flow(2, 4, &[(head, Paint::Strong), (text, Paint::Plain)]);
        }
    }
    Some(page.finish())
}

fn no_such(code: &str) -> Trouble {
    let all = codebook::all()
        .map(|(code, _)| code)
        .chain(Policy::names())
        .chain(unmire_tables::sources::SOURCES.iter().map(|s| s.key));
    let near =
        all.min_by_key(|c| files::distance(code, c)).filter(|c| files::distance(code, c) <= 2.max(code.len() / 3));
    let hint = match near {
        Some(c) => format!("did you mean '{c}'? 'unmire explain codes' lists the codes"),
        None => "'unmire explain codes' lists the codes, 'policies' and 'sources' the rest".into(),
    };
    Trouble::hint(format!("there is no code '{code}'"), hint)
}
