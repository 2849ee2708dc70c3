//! Writing to the two streams: a reader that goes away is no error, colour only where it can be shown.

use crate::status::Trouble;
use std::io::{self, IsTerminal, Write};

/// When to paint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Color {
    /// If standard output is a terminal, `NO_COLOR` is not set and `TERM` is not `dumb`.
    Auto,
    /// Even into a file or a pipe.
    Always,
    /// Not at all.
    Never,
}
impl Color {
    /// Whether to paint now.
    pub fn wanted(self) -> bool {
        let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
        match self {
            Self::Always => true,
            Self::Never => false,
            Self::Auto => {
                io::stdout().is_terminal() && !set("NO_COLOR") && std::env::var_os("TERM").is_none_or(|t| t != "dumb")
            }
        }
    }
}

/// Text wider than this is hard to follow; only an explicit wish goes beyond it.
const WIDEST: usize = 110;
/// The width where nothing is known.
const USUAL: usize = 80;

/// Columns to write in: the wish, or the terminal's width, or `COLUMNS`, or 80.
pub fn width(wish: Option<u16>) -> usize {
    if let Some(w) = wish {
        return usize::from(w);
    }
    let seen = terminal_size::terminal_size().map(|(w, _)| usize::from(w.0));
    let told = || std::env::var("COLUMNS").ok().and_then(|c| c.trim().parse::<usize>().ok());
    let found = if io::stdout().is_terminal() { seen } else { None }.or_else(told).unwrap_or(USUAL);
    found.clamp(unmire_sheet::terminal::page::NARROWEST, WIDEST)
}

/// Writes to standard output.
pub fn print(text: &str) -> Result<(), Trouble> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        Err(e) => Err(Trouble::new(format!("cannot write to standard output: {e}"))),
        Ok(()) => Ok(()),
    }
}

/// Writes to standard error. If even that fails nobody is there to be told.
pub fn tell(text: &str) {
    let mut err = io::stderr().lock();
    let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}

/// Says what went wrong.
pub fn complain(trouble: &Trouble) {
    match trouble {
        Trouble::Rendered(text) => tell(&ended(text)),
        Trouble::Said { what, hint } => {
            tell(&ended(&format!("error: {what}")));
            if let Some(h) = hint {
                tell(&ended(&format!("hint: {h}")));
            }
        }
    }
}
fn ended(text: &str) -> String {
    if text.ends_with('\n') { text.to_owned() } else { format!("{text}\n") }
}
