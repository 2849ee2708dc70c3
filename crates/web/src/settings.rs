//! What the reader has chosen: language, units, look.

use crate::catalogue::Language;
use crate::engine::Units;
use crate::tree::Tree;

/// The look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// As the system has it.
    #[default]
    Auto,
    /// Calm and light.
    Light,
    /// Dark, for the night.
    Dark,
    /// Black on white with heavy lines, for a screen in the sun.
    Sun,
}
impl Theme {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Auto, Self::Light, Self::Dark, Self::Sun];
    /// Its word, in the page's `data-theme` too.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Auto => "auto",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Sun => "sun",
        }
    }
    /// By its word.
    #[must_use]
    pub fn by_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.word() == word)
    }
}

/// The word of a set of units.
#[must_use]
pub const fn units_word(units: Units) -> &'static str {
    match units {
        Units::Metric => "metric",
        Units::Us => "us",
    }
}
/// The units with a word.
#[must_use]
pub fn units_by_word(word: &str) -> Option<Units> {
    [Units::Metric, Units::Us].into_iter().find(|u| units_word(*u) == word)
}

/// All that the reader has chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// The language of the page.
    pub language: Language,
    /// The units of what is shown. A case file keeps the units in which each value was written.
    pub units: Units,
    /// The look.
    pub theme: Theme,
}
impl Settings {
    /// What suits a reader whose browser has this language tag.
    #[must_use]
    pub fn for_reader(tag: &str) -> Self {
        let units = if tag.eq_ignore_ascii_case("en-us") { Units::Us } else { Units::Metric };
        Self { language: Language::by_tag(tag).unwrap_or_default(), units, theme: Theme::Auto }
    }
    /// As text to be kept.
    #[must_use]
    pub fn to_text(&self) -> String {
        let (language, units) = (self.language.code(), units_word(self.units));
        // Plain words: nothing in them needs another writing in JSON.
        format!(r#"{{"language":"{language}","units":"{units}","theme":"{}"}}"#, self.theme.word())
    }
    /// From a text that was kept; what can't be read stays as it is here.
    #[must_use]
    pub fn updated(self, text: &str) -> Self {
        let kept = Tree::parse(text).unwrap_or(Tree::Null);
        let word = |key: &str| kept.get(key).and_then(Tree::text).unwrap_or_default();
        Self {
            language: Language::by_tag(word("language")).unwrap_or(self.language),
            units: units_by_word(word("units")).unwrap_or(self.units),
            theme: Theme::by_word(word("theme")).unwrap_or(self.theme),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_settings_survive_being_kept() {
        for language in Language::ALL {
            for units in [Units::Metric, Units::Us] {
                for theme in Theme::ALL {
                    let s = Settings { language, units, theme };
                    assert_eq!(Settings::default().updated(&s.to_text()), s);
                }
            }
        }
        let german = Settings::for_reader("de-DE");
        for broken in ["", "{", "[]", "{\"theme\": 7}", "{\"language\": \"xx\"}"] {
            assert_eq!(german.updated(broken), german);
        }
    }
    #[test]
    fn regress_a_reader_gets_what_the_browser_says() {
        assert_eq!(Settings::for_reader("en-US").units, Units::Us);
        assert_eq!(Settings::for_reader("en-GB").units, Units::Metric);
        assert_eq!(Settings::for_reader("de").language, Language::German);
        assert_eq!(Settings::for_reader("").language, Language::English);
    }
}
