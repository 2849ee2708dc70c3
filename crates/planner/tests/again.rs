//! A rig that was found, judged again: the same to the last digit. And nobody disturbs a search by watching it.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

use unmire_casefile::{Document, read, write_layout};
use unmire_model::Force;
use unmire_model::case::Case;
use unmire_planner::{Glance, Glancer, Options, Progress, check, check_layout, plan, plan_watched};

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

/// A glance sees what the report says of the start; the whole pull may only make it worse.
#[test]
fn regress_a_glance_sees_what_a_report_says_and_never_better_of_a_rig_that_fails() {
    let options = Options::default();
    let (mut same, mut seen) = (0, 0);
    for (file, _, case) in cases() {
        for found in plan(&case, &options).unwrap().plans {
            let layout = found.layout.as_ref().unwrap();
            let actions: Vec<&str> = found.actions.iter().map(|a| a.word.as_str()).collect();
            let glance = unmire_planner::glance(&case, layout, &actions, &options).unwrap();
            assert_eq!((&glance.points, &glance.legs), (&found.points, &found.legs), "{file}");
            assert_eq!(glance.verdict.worse(found.verdict), found.verdict, "{file}: a glance sees worse");
            if found.pull.is_none() {
                let weakest = found.weakest.and_then(|i| found.checks.get(i)).map(|c| c.part.clone());
                assert_eq!(
                    (glance.verdict, glance.lowest_margin, glance.weakest, glance.stop),
                    (found.verdict, found.lowest_margin, weakest, found.stop.line_pull),
                    "{file}"
                );
                same += 1;
            }
            seen += 1;
        }
    }
    assert!(same > 3 && seen > same, "{same} of {seen}");
}

/// The same rig but for rounding: it was searched from elsewhere.
fn alike(a: &Glance, b: &Glance, file: &str) {
    let near = |x: f64, y: f64| (x - y).abs() <= 1e-9 * x.abs().max(y.abs());
    let both = |x: Option<f64>, y: Option<f64>| x.is_some() == y.is_some() && near(x.unwrap_or(0.0), y.unwrap_or(0.0));
    assert_eq!((a.verdict, &a.weakest), (b.verdict, &b.weakest), "{file}");
    assert!(both(a.lowest_margin, b.lowest_margin), "{file}: {:?} {:?}", a.lowest_margin, b.lowest_margin);
    assert!(both(a.stop.map(Force::as_n), b.stop.map(Force::as_n)), "{file}: {:?} {:?}", a.stop, b.stop);
    assert_eq!((a.points.len(), a.legs.len()), (b.points.len(), b.legs.len()), "{file}");
    for (p, q) in a.points.iter().zip(&b.points) {
        assert_eq!((&p.name, &p.kind), (&q.name, &q.kind), "{file}");
        assert!((p.at - q.at).norm() < 1e-8, "{file}: {p:?} {q:?}");
    }
    for (p, q) in a.legs.iter().zip(&b.legs) {
        assert_eq!((&p.member, &p.from, &p.to), (&q.member, &q.from, &q.to), "{file}");
        let (stall, other) = (p.tension_stall.map(Force::as_n), q.tension_stall.map(Force::as_n));
        assert!(near(p.tension_work.as_n(), q.tension_work.as_n()) && both(stall, other), "{file}: {p:?} {q:?}");
        assert!((p.length - q.length).as_m().abs() < 1e-8, "{file}: {p:?} {q:?}");
    }
}

/// The same where an anchor was moved: what a page shows while a finger does that.
#[test]
fn regress_a_glance_agrees_with_the_report_where_an_anchor_was_moved() {
    let options = Options::default();
    let (mut same, mut worse) = (0, 0);
    for (file, _, mut case) in cases() {
        let found = plan(&case, &options).unwrap().plans;
        for k in 0..case.anchors.len() {
            let home = case.anchors[k].position;
            let before = case.clone();
            case.anchors[k].position = home + unmire_model::Vec3::new(-0.3, 0.6, 0.0);
            for found in &found {
                let layout = found.layout.as_ref().unwrap();
                let actions: Vec<&str> = found.actions.iter().map(|a| a.word.as_str()).collect();
                let glance = unmire_planner::glance(&case, layout, &actions, &options);
                let report = check_layout(&case, layout, &actions, &options);
                let mut glancer = Glancer::of(&before, &actions, &options).unwrap();
                // A finger that has been elsewhere: there the next search begins, and it finds the same.
                let mut far = before.clone();
                for by in [(0.0, 0.0), (4.0, -3.0), (-2.5, 2.0)] {
                    far.anchors[k].position = home + unmire_model::Vec3::new(by.0, by.1, 0.0);
                    let _ = glancer.glance(&far, layout);
                }
                let again = glancer.glance(&case, layout);
                assert_eq!(again.is_ok(), glance.is_ok(), "{file}: {again:?}");
                if let (Ok(again), Ok(glance)) = (&again, &glance) {
                    alike(again, glance, &file);
                }
                // The vehicle is moved: all anchors are elsewhere, seen from it.
                let mut all = case.clone();
                all.anchors.iter_mut().for_each(|a| a.position += unmire_model::Vec3::new(-1.5, 0.7, 0.0));
                let (again, fresh) =
                    (glancer.glance(&all, layout), unmire_planner::glance(&all, layout, &actions, &options));
                assert_eq!(again.is_ok(), fresh.is_ok(), "{file}: {again:?}");
                if let (Ok(again), Ok(fresh)) = (&again, &fresh) {
                    alike(again, fresh, &file);
                }
                let (Ok(glance), Ok(report)) = (&glance, &report) else {
                    assert_eq!(glance.is_err(), report.is_err(), "{file}: one of both fails");
                    continue;
                };
                let now = &report.plans[0];
                assert_eq!((&glance.points, &glance.legs), (&now.points, &now.legs), "{file}");
                assert_eq!(glance.verdict.worse(now.verdict), now.verdict, "{file}: a glance sees worse");
                if now.pull.is_none() {
                    assert_eq!((glance.verdict, glance.lowest_margin), (now.verdict, now.lowest_margin), "{file}");
                    same += 1;
                }
                worse += usize::from(now.verdict != found.verdict);
            }
            case.anchors[k].position = home;
        }
    }
    assert!(same > 5 && worse > 0, "{same}, {worse} changed their verdict");
}
