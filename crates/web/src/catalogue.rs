//! Every word of the page, in the languages that it speaks. Screens name a key; nobody writes a sentence into a screen.
//!
//! What the planner says (checks, steps, cautions) and what is wrong with a case is in the words of the command line,
//! which are English.

/// A language of the page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
}
impl Language {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::English, Self::German];
    /// Its code, as in the `lang` of a page.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }
    /// What it calls itself.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "Deutsch",
        }
    }
    /// By its code, or by a tag that starts with it, such as `de-AT`.
    #[must_use]
    pub fn by_tag(tag: &str) -> Option<Self> {
        let code = tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
        Self::ALL.into_iter().find(|l| l.code() == code)
    }
}

/// Every word: a key, and what it is in each language, in the order of [`Language::ALL`].
const WORDS: &str = include_str!(concat!(env!("OUT_DIR"), "/words.txt"));

/// The words of one language.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Catalogue {
    /// Key and words, by key.
    words: Vec<(&'static str, &'static str)>,
}
impl Catalogue {
    /// Those of a language.
    #[must_use]
    pub fn of(language: Language) -> Self {
        let entry = |line: &'static str| {
            let mut fields = line.split('\t');
            let key = fields.next()?;
            let text = fields.nth(Language::ALL.iter().position(|l| *l == language)?)?;
            (!text.is_empty()).then_some((key, text))
        };
        Self { words: WORDS.lines().filter_map(entry).collect() }
    }
    fn find(&self, key: &str) -> Option<&'static str> {
        let at = self.words.binary_search_by(|(k, _)| (*k).cmp(key)).ok()?;
        self.words.get(at).map(|(_, text)| *text)
    }
    /// Whether there are words for a word that the planner uses.
    #[must_use]
    pub fn has(&self, part: &str, word: &str) -> bool {
        self.find(&format!("{part}.{}", word.replace(' ', "-"))).is_some()
    }
    /// The words behind a key. A key that is not there is shown itself; the tests leave none.
    #[must_use]
    pub fn say(&self, key: &str) -> String {
        self.find(key).unwrap_or(key).to_owned()
    }
    /// The words behind a key with their blanks filled: `{n}` by what is given for `n`.
    #[must_use]
    pub fn fill(&self, key: &str, with: &[(&str, &str)]) -> String {
        let mut rest = self.find(key).unwrap_or(key);
        let mut out = String::with_capacity(2 * rest.len());
        while let Some((before, blank)) = rest.split_once('{') {
            out.push_str(before);
            let name = blank.split_once('}').and_then(|(name, after)| {
                let (_, value) = with.iter().find(|(n, _)| *n == name)?;
                Some((value, after))
            });
            rest = match name {
                Some((value, after)) => {
                    out.push_str(value);
                    after
                }
                // No blank.
                None => {
                    out.push('{');
                    blank
                }
            };
        }
        out + rest
    }
    /// The words for a word that the planner uses, such as a verdict; the word itself if there are none.
    #[must_use]
    pub fn translate(&self, part: &str, word: &str) -> String {
        let key = format!("{part}.{}", word.replace(' ', "-"));
        self.find(&key).unwrap_or(word).to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use unmire_audit::verdict::Verdict;
    use unmire_model::layout::Family;

    /// Parts whose keys are words of the planner and are not written out in the code.
    const TRANSLATED: &[&str] = &[
        "verdict",
        "way",
        "ways-row",
        "family",
        "action",
        "phase",
        "screen",
        "question",
        "gate",
        "kind",
        "key",
        "depth",
        "at",
        "control",
        "label",
        "piece",
        "piece-word",
        "compare-row",
        "pull-fact",
        "hand-fault",
        "thing",
    ];

    fn keys(language: Language) -> BTreeSet<String> {
        Catalogue::of(language).words.into_iter().map(|(key, _)| key.to_owned()).collect()
    }
    fn blanks(text: &str) -> BTreeSet<&str> {
        text.split('{').skip(1).filter_map(|rest| rest.split('}').next()).collect()
    }
    /// Every key that the code names.
    fn named() -> BTreeSet<String> {
        let mut out = BTreeSet::new();
        let mut todo = vec![std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
        while let Some(dir) = todo.pop() {
            for entry in std::fs::read_dir(dir).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    todo.push(path);
                    continue;
                }
                let text = std::fs::read_to_string(&path).unwrap();
                for call in ["say(\"", "fill(\""] {
                    for rest in text.split(call).skip(1) {
                        let key = rest.split('"').next().unwrap_or_default();
                        if key.contains('.')
                            && !key.contains(|c: char| !(c.is_ascii_alphanumeric() || ".-".contains(c)))
                        {
                            out.insert(key.to_owned());
                        }
                    }
                }
            }
        }
        out
    }

    #[test]
    fn regress_every_language_has_every_word() {
        let english = keys(Language::English);
        assert!(english.len() > 20);
        for language in Language::ALL {
            let its = keys(language);
            let missing: Vec<_> = english.symmetric_difference(&its).collect();
            assert!(missing.is_empty(), "{language:?} and English differ in {missing:?}");
            let (one, other) = (Catalogue::of(Language::English), Catalogue::of(language));
            for key in &english {
                let (a, b) = (one.say(key), other.say(key));
                assert!(!a.trim().is_empty() && !b.trim().is_empty(), "{key} is empty");
                assert_eq!(blanks(&a), blanks(&b), "{key}: {language:?} has other blanks");
            }
        }
    }
    #[test]
    fn regress_the_words_are_those_of_the_files() {
        for (language, file) in [(Language::English, "en"), (Language::German, "de")] {
            let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("text/{file}.toml"));
            let text = std::fs::read_to_string(path).unwrap();
            let doc = toml::de::DeTable::parse(&text).unwrap();
            let its = Catalogue::of(language);
            let mut count = 0;
            for (part, table) in doc.get_ref().iter() {
                for (key, item) in table.get_ref().as_table().unwrap().iter() {
                    let key = format!("{}.{}", part.get_ref(), key.get_ref());
                    assert_eq!(its.say(&key), item.get_ref().as_str().unwrap());
                    count += 1;
                }
            }
            assert_eq!(its.words.len(), count);
        }
    }
    #[test]
    fn regress_every_key_in_the_code_has_words_and_every_word_is_used() {
        let (there, named) = (keys(Language::English), named());
        let wanted: Vec<_> = named.difference(&there).collect();
        assert!(wanted.is_empty(), "no words for {wanted:?}");
        let parts = |k: &&String| !TRANSLATED.iter().any(|p| k.starts_with(&format!("{p}.")));
        let idle: Vec<_> = there.difference(&named).filter(parts).collect();
        assert!(idle.is_empty(), "nobody says {idle:?}");
    }
    #[test]
    fn regress_verdicts_and_families_have_words_of_their_own() {
        let german = Catalogue::of(Language::German);
        for verdict in [Verdict::Holds, Verdict::HoldsBelowStopLoad, Verdict::Unknown, Verdict::Overloaded] {
            assert_ne!(german.translate("verdict", verdict.word()), verdict.word());
        }
        for family in Family::ALL {
            assert_ne!(german.translate("family", family.word()), family.word());
            assert_ne!(Catalogue::of(Language::English).translate("family", family.word()), "");
        }
        assert_eq!(german.translate("verdict", "new word"), "new word");
    }
    #[test]
    fn regress_no_language_promises_too_much() {
        for language in Language::ALL {
            for (key, text) in Catalogue::of(language).words {
                let words = text.to_lowercase();
                let found =
                    words.split(|c: char| !c.is_alphabetic()).find(|w| ["safe", "safely", "sicher"].contains(w));
                assert_eq!(found, None, "{key}");
            }
        }
    }
    #[test]
    fn regress_blanks_are_filled_and_languages_found() {
        let c = Catalogue { words: vec![("ab", "{n} of {m}")] };
        assert_eq!(c.fill("ab", &[("n", "1"), ("m", "2")]), "1 of 2");
        assert_eq!(c.fill("ab", &[("n", "{m}"), ("m", "2")]), "{m} of 2");
        let c = Catalogue { words: vec![("ab", "{n}{n} {x} { {n")] };
        assert_eq!(c.fill("ab", &[("n", "1")]), "11 {x} { {n");
        assert_eq!(Language::by_tag("de-AT"), Some(Language::German));
        assert_eq!(Language::by_tag("fr"), None);
    }
}
