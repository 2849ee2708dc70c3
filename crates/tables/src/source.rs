//! The register of sources, and how a figure is known.

use crate::generated::sources::SOURCES;

/// How a figure is known. Only the first two count as published.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum How {
    /// Read in the source's own text.
    Read,
    /// Read in a text that quotes or reprints the source.
    Secondary,
    /// Worked out here from other figures.
    Derived,
    /// A fact of the trade; no source was found.
    CommonPractice,
    /// Recalled, and not checked against the page.
    Memory,
    /// A judgement of this project.
    OwnJudgement,
}
impl How {
    /// Whether it may be called published.
    #[must_use]
    pub const fn is_published(self) -> bool {
        matches!(self, Self::Read | Self::Secondary)
    }
    /// In words, as the output prints it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Read => "read in the source",
            Self::Secondary => "quoted in a second text",
            Self::Derived => "derived here",
            Self::CommonPractice => "common practice, no source",
            Self::Memory => "from memory, not checked",
            Self::OwnJudgement => "our own judgement",
        }
    }
}

/// A source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// Its key.
    pub key: &'static str,
    /// Title.
    pub title: &'static str,
    /// Who stands behind it.
    pub body: &'static str,
    /// Edition or year; empty if not known.
    pub year: &'static str,
    /// Where in it.
    pub place: &'static str,
    /// How it was had.
    pub access: How,
    /// What the reader must know.
    pub note: &'static str,
}

/// A text for whoever looks something up in the lists of the program. No report and no working prints it, and the app has
/// no such lists: there it is left out, for all files of the app together may weigh 700 kB.
pub(crate) const fn listed(text: &'static str) -> &'static str {
    if cfg!(target_arch = "wasm32") { "" } else { text }
}

/// The source with a key.
#[must_use]
pub fn source(key: &str) -> Option<&'static Source> {
    SOURCES.iter().find(|s| s.key == key)
}
