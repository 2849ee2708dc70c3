//! Where rules put what they have to say. In quiet mode only the worst effect is kept and no text is made, so that the
//! search can ask the same rules.

use crate::verdict::{Effect, Finding};

/// What a finding says; its code and effect come from the rule.
pub struct Words {
    /// What it is about.
    pub subject: String,
    /// A sentence in plain words, with the numbers.
    pub text: String,
    /// What to do about it.
    pub remedy: String,
}
impl Words {
    /// From its three texts.
    pub fn new(subject: impl Into<String>, text: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { subject: subject.into(), text: text.into(), remedy: remedy.into() }
    }
}

/// The findings of a rig.
#[derive(Debug, Default)]
pub struct Findings {
    list: Vec<Finding>,
    worst: Option<Effect>,
    quiet: bool,
}
impl Findings {
    /// Keeps every finding.
    #[must_use]
    pub const fn loud() -> Self {
        Self { list: Vec::new(), worst: None, quiet: false }
    }
    /// Keeps the worst effect only.
    #[must_use]
    pub const fn quiet() -> Self {
        Self { list: Vec::new(), worst: None, quiet: true }
    }
    /// Takes a finding; the words are only made if they are kept.
    pub fn add(&mut self, code: &'static str, effect: Effect, words: impl FnOnce() -> Words) {
        self.worst = self.worst.max(Some(effect));
        if !self.quiet {
            let Words { subject, text, remedy } = words();
            self.list.push(Finding { code, effect, subject, text, remedy });
        }
    }
    /// The worst effect so far.
    #[must_use]
    pub const fn worst(&self) -> Option<Effect> {
        self.worst
    }
    /// All of them, the worst first, else in the order of the rules.
    #[must_use]
    pub fn into_list(mut self) -> Vec<Finding> {
        unmire_model::order::sort_by_key(&mut self.list, |f| core::cmp::Reverse(f.effect));
        self.list
    }
}
