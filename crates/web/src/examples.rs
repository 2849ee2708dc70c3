//! The invented cases: some come with the app, all of them test it.

include!(concat!(env!("OUT_DIR"), "/examples.rs"));

/// An example.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// What its file is called.
    pub file: &'static str,
    /// Its text.
    pub text: &'static str,
}
impl Example {
    /// The title that it gives itself; its file's name if it gives none.
    #[must_use]
    pub fn title(&self) -> String {
        let case = crate::document::CaseText::parse(self.text).ok();
        case.and_then(|c| c.get("title")).unwrap_or_else(|| self.file.to_owned())
    }
    /// Whether it is a bare rig and no case.
    #[must_use]
    pub fn is_bare(&self) -> bool {
        self.text.contains(unmire_casefile::RIG_SCHEMA)
    }
}

/// Every example, in the order of their names.
#[must_use]
pub fn cases() -> Vec<Example> {
    examples(CASES)
}
/// Those that come with the app.
#[must_use]
pub fn shown() -> Vec<Example> {
    examples(SHOWN)
}
fn examples(list: &[(&'static str, &'static str)]) -> Vec<Example> {
    list.iter().map(|&(file, text)| Example { file, text }).collect()
}

/// The kits of the examples, as a job takes them.
#[must_use]
pub fn kits() -> Vec<(String, String)> {
    KITS.iter().map(|(p, t)| ((*p).to_owned(), (*t).to_owned())).collect()
}

#[cfg(test)]
mod tests {
    use super::{cases, shown};

    #[test]
    fn regress_every_case_has_a_title() {
        for case in cases().iter().filter(|c| !c.is_bare()) {
            assert!(!case.title().ends_with(".toml"), "{}", case.file);
        }
        assert!(shown().len() == 4 && shown().iter().all(|s| cases().contains(s)));
    }
}
