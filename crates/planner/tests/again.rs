//! A rig that was found, judged again: the same to the last digit. And nobody disturbs a search by watching it.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

use unmire_casefile::{Document, read, write_layout};
use unmire_model::case::Case;
use unmire_planner::{Options, Progress, check, check_layout, plan, plan_watched};

/// Every example that is a case without a rig of its own.
fn cases() -> Vec<(String, String, Case)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut out = Vec::new();
    for entry in std::fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|x| x != "toml") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let mut kit = |p: &str| std::fs::read_to_string(folder.join(p)).map_err(|e| e.to_string());
        if let Ok(Document::Case(case)) = read(&text, &mut kit)
            && case.rig.is_none()
        {
            out.push((path.display().to_string(), text, *case));
        }
    }
    assert!(out.len() >= 5);
    out
}

#[test]
fn regress_a_rig_that_was_found_is_the_same_when_it_is_judged_again() {
    for (name, text, case) in cases() {
        let found = plan(&case, &Options::default()).unwrap();
        for p in &found.plans {
            let layout = p.layout.as_ref().unwrap();
            let actions: Vec<&str> = p.actions.iter().map(|a| a.word.as_str()).collect();
            let again = check_layout(&case, layout, &actions, &Options::default()).unwrap();
            assert_eq!(again.plans.first(), Some(p), "{name}: {}", p.summary);
            // Written into the case file it is that rig still.
            let with = format!("{text}\n{}", write_layout(layout));
            let folder = std::path::Path::new(&name).parent().unwrap().to_owned();
            let mut kit = |p: &str| std::fs::read_to_string(folder.join(p)).map_err(|e| e.to_string());
            let Ok(Document::Case(given)) = read(&with, &mut kit) else { panic!("{name}: {with}") };
            if actions.is_empty() {
                let from_file = check(&given, &Options::default()).unwrap();
                let [there] = from_file.plans.as_slice() else { panic!("{name}: one rig") };
                assert_eq!((there.verdict, &there.checks, &there.legs), (p.verdict, &p.checks, &p.legs), "{name}");
            }
        }
    }
}

#[test]
fn regress_an_action_that_nobody_knows_is_refused() {
    let (_, _, case) = cases().remove(0);
    let found = plan(&case, &Options::default()).unwrap();
    let layout = found.plans.first().and_then(|p| p.layout.as_ref()).unwrap();
    assert!(check_layout(&case, layout, &["pray"], &Options::default()).is_err());
}

#[test]
fn regress_watching_changes_nothing_and_ends_at_the_end() {
    for (name, _, case) in cases() {
        let mut seen: Vec<Progress> = Vec::new();
        let watched = plan_watched(&case, &Options::default(), &mut |p| seen.push(p)).unwrap();
        assert_eq!(watched, plan(&case, &Options::default()).unwrap(), "{name}");
        let last = seen.last().unwrap();
        assert_eq!(last.done, last.choices, "{name}");
        assert!(seen.windows(2).all(|w| w[0].done <= w[1].done && w[0].looked_at <= w[1].looked_at), "{name}");
    }
}
