//! Pictures of the app: `docs/app.md` shows each that there is, each that it shows is there, and together they stay small.

use crate::util;
use std::collections::BTreeSet;
use std::path::Path;

/// The folder of the pictures.
pub const SCREENS: &str = "docs/screens";
/// The document that shows them.
const SHOWN_IN: &str = "docs/app.md";
/// Most that they may weigh together, bytes.
const MOST: u64 = 2_500_000;
/// What a picture's name ends with.
const ENDING: &str = ".webp";

/// What is wrong with them.
pub fn find(root: &Path) -> Vec<String> {
    let text = match util::read(&root.join(SHOWN_IN)) {
        Ok(text) => text,
        Err(e) => return vec![e],
    };
    let files = util::files_in(&root.join(SCREENS), "webp");
    let weight = files.iter().filter_map(|f| f.metadata().ok()).map(|about| about.len()).sum();
    let there = files.iter().filter_map(|f| Some(f.file_name()?.to_string_lossy().into_owned())).collect();
    compare(&text, &there, weight)
}

fn compare(text: &str, there: &BTreeSet<String>, weight: u64) -> Vec<String> {
    let shown: BTreeSet<String> = text
        .split("screens/")
        .skip(1)
        .filter_map(|rest| Some(format!("{}{ENDING}", rest.split_once(ENDING)?.0)))
        .collect();
    let mut out = Vec::new();
    out.extend(shown.difference(there).map(|f| format!("{SHOWN_IN} shows {SCREENS}/{f}, which is not there")));
    out.extend(there.difference(&shown).map(|f| format!("{SCREENS}/{f} is not shown in {SHOWN_IN}")));
    if there.is_empty() {
        out.push(format!("{SCREENS} has no picture; `cargo xtask shots` makes them"));
    }
    if weight > MOST {
        out.push(format!("the pictures in {SCREENS} weigh {weight} bytes, and {MOST} at most are meant"));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(all: &[&str]) -> BTreeSet<String> {
        all.iter().map(|n| (*n).to_owned()).collect()
    }

    #[test]
    fn regress_what_is_shown_is_there_and_what_is_there_is_shown() {
        let text = "# The app\n<img src=\"screens/a-phone.webp\" alt=\"a\"> ![b](screens/b.webp)\n";
        assert!(compare(text, &names(&["a-phone.webp", "b.webp"]), MOST).is_empty());
        assert_eq!(
            compare(text, &names(&["b.webp"]), 1),
            ["docs/app.md shows docs/screens/a-phone.webp, which is not there"]
        );
        let more = names(&["a-phone.webp", "b.webp", "c.webp"]);
        assert_eq!(compare(text, &more, 1), ["docs/screens/c.webp is not shown in docs/app.md"]);
        assert_eq!(compare("", &names(&[]), 0).len(), 1);
        assert_eq!(compare(text, &names(&["a-phone.webp", "b.webp"]), MOST + 1).len(), 1);
    }
}
