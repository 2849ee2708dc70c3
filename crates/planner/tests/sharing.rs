//! Anchors that share, anchors and vehicles that another one backs: from the case to the checks.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use unmire_casefile::Document;
use unmire_model::case::Case;
use unmire_model::{Force, Vec3};
use unmire_planner::report::{Plan, PlanCheck};
use unmire_planner::{Options, check, plan};

/// The example with two unequal trees, with its bag.
fn trees(change: impl FnOnce(String) -> String) -> Case {
    let examples = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(format!("{examples}/unequal-trees.toml")).unwrap();
    let mut kit = |path: &str| std::fs::read_to_string(format!("{examples}/{path}")).map_err(|e| e.to_string());
    match unmire_casefile::read(&change(text), &mut kit) {
        Ok(Document::Case(case)) => *case,
        Ok(_) => panic!("not a case"),
        Err(found) => panic!("{}", found.iter().map(|d| d.message.clone()).collect::<Vec<_>>().join("\n")),
    }
}
fn as_it_is(text: String) -> String {
    text
}
fn untied(text: String) -> String {
    text.replace("tied_back = { to = \"oak\", with = \"ext\" }\n", "")
}
fn checked(case: &Case, explain: bool) -> Plan {
    check(case, &Options { explain, ..Options::default() }).unwrap().plans.remove(0)
}
fn of<'p>(plan: &'p Plan, part: &str) -> &'p PlanCheck {
    plan.checks.iter().find(|c| c.part == part).unwrap_or_else(|| panic!("no {part}"))
}
fn told<'p>(plan: &'p Plan, code: &str) -> Vec<&'p str> {
    plan.findings.iter().filter(|f| f.code == code).map(|f| f.text.as_str()).collect()
}

#[test]
fn balance_each_leg_and_its_anchor_are_judged_by_the_most_they_may_get() {
    let plan = checked(&trees(untied), false);
    // The most over the whole pull, for the winch's mount as for every part.
    let whole = of(&plan, "mount of W1").demand_work.unwrap();
    assert!(whole >= plan.winch.as_ref().unwrap().pull);
    for (anchor, strap) in [("pine", "strap-1"), ("birch", "strap-2")] {
        let likely = plan.legs.iter().find(|l| l.member == strap).unwrap();
        let (tree, leg) = (of(&plan, anchor), of(&plan, strap));
        assert!(leg.demand_work.unwrap() > likely.tension_work && leg.demand_work.unwrap() < whole);
        assert!(leg.demand_stall.unwrap() > likely.tension_stall.unwrap());
        assert!((tree.demand_work.unwrap() - leg.demand_work.unwrap()).abs() < Force::from_n(1e-3));
    }
    // What they meet in carries the pull itself and no more.
    assert!((of(&plan, "bow-1").demand_work.unwrap() - whole).abs() < Force::from_n(1e-3));
    let text = told(&plan, "shared-anchors");
    assert!(text[0].contains("may get up to"), "{text:?}");
}

#[test]
fn balance_legs_in_the_likely_case_hold_the_pull() {
    let plan = checked(&trees(untied), false);
    let at = |name: &str| plan.points.iter().find(|p| p.name == name).unwrap().at;
    let ring = at("dead end");
    let sum = plan.legs.iter().fold(Vec3::ZERO, |sum, l| {
        let far = if l.from == "dead end" { at(&l.to) } else { at(&l.from) };
        sum + (far - ring).unit().unwrap() * l.tension_work.as_n()
    });
    assert!(sum.norm() < 1e-3, "{sum:?}");
}

#[test]
fn what_nobody_knows_of_one_anchor_leaves_the_share_unknown() {
    let rotten = |t: String| {
        untied(t).replace(
            "id = \"birch\"\nkind = \"tree\"",
            "id = \"birch\"\nkind = \"other\"\nwhat = \"a post\"\nradius = \"10 cm\"",
        )
    };
    let cut = |t: String| {
        let t = rotten(t);
        let from = t.find("species = \"birch\"").unwrap();
        let to = from + t[from..].find("attach_height").unwrap();
        let signs = t[to..].find("signs").unwrap() + to;
        let end = signs + t[signs..].find('\n').unwrap();
        format!("{}{}{}", &t[..from], &t[to..signs], &t[end..])
    };
    let plan = checked(&trees(cut), false);
    assert!(!plan.verdict.passes());
    assert!(told(&plan, "shared-anchors")[0].contains("is not known"), "{:?}", told(&plan, "shared-anchors"));
}

#[test]
fn an_anchor_that_is_tied_back_holds_more_and_the_tie_and_the_one_behind_are_judged_too() {
    let (with, without) = (checked(&trees(as_it_is), false), checked(&trees(untied), false));
    assert!(of(&with, "birch").capacity.unwrap() > of(&without, "birch").capacity.unwrap());
    assert!(with.verdict <= without.verdict);
    for part in ["oak", "ext"] {
        let c = of(&with, part);
        assert!(c.demand_work.unwrap() > Force::ZERO && c.demand_work <= of(&with, "birch").demand_work);
        assert!(!without.checks.iter().any(|c| c.part == part));
    }
    assert!(told(&with, "tied-back")[0].contains("birch and oak behind it hold"));
    assert!(with.steps.iter().any(|s| s.text.contains("Make ext tight between birch and oak")));
}

#[test]
fn a_tie_of_which_too_little_is_known_counts_for_nothing() {
    for (change, why) in [
        ("position = [23.0, -1.9, 0.9]", "position = [20.0, 4.0, 0.8]"),
        ("position = [23.0, -1.9, 0.9]", "position = [33.0, -1.9, 0.9]"),
    ]
    .into_iter()
    .zip(["more than 30°", "too short"])
    {
        let (from, to) = change;
        let plan = checked(&trees(|t| t.replace(from, to)), false);
        let alone = checked(&trees(untied), false);
        assert_eq!(of(&plan, "birch").capacity, of(&alone, "birch").capacity, "{why}");
        assert!(told(&plan, "tied-back")[0].contains(why), "{:?}", told(&plan, "tied-back"));
    }
}

#[test]
fn what_stands_behind_and_the_piece_between_stand_nowhere_else() {
    let case = trees(as_it_is);
    let report = plan(&case, &Options { limit: 50, ..Options::default() }).unwrap();
    assert!(!report.plans.is_empty());
    for p in &report.plans {
        let is_used = |id: &str| p.points.iter().any(|q| q.name == format!("anchor {id}"));
        assert!(!(is_used("birch") && is_used("oak")), "{}", p.summary);
        assert!(!p.pieces.iter().any(|q| q.id == "ext"), "{}", p.summary);
    }
}

#[test]
fn keeping_the_working_changes_no_bit_of_a_share() {
    let case = trees(as_it_is);
    let (plain, mut kept) = (checked(&case, false), checked(&case, true));
    let formulas: Vec<&str> = kept.trail.steps.iter().map(|s| s.what.as_str()).collect();
    for what in ["what anchor 1 of 2 gets", "what two anchors in a row hold together"] {
        assert!(formulas.contains(&what), "{formulas:?}");
    }
    kept.trail = Default::default();
    assert_eq!(plain, kept);
}

/// A helper with a winch that pulls, with another vehicle behind it or without.
fn helpers(backed: bool) -> Case {
    let path = format!("{}/tests/cases/helper-and-hand-winch.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let behind = r#"
[[helper]]
name = "G"
mass = "3.1 t"
wheelbase = "2.9 m"
track = "1.6 m"
cg_height = "0.8 m"
position = [29.0, -0.4, 0.6]
heading = "back"
friction = "0.35 .. 0.5"
slope = "level"
braked_share = "90 % .. 100 %"
chocked = true
can_tow = false
"#;
    let rig = r#"
[rig]
family = "straight-pull"
winch = "H"

[[rig.station]]
point = { on = "stuck", point = "F1", connectors = ["x1"] }
"#;
    let tie = if backed { "backed_by = { to = \"G\", with = \"e2\" }\ncan_tow = true" } else { "can_tow = true" };
    let text = text.replacen("can_tow = true", tie, 1).replace("\n[people]", &format!("{behind}\n[people]"));
    common::parse(&format!("{text}{rig}"))
}

#[test]
fn a_vehicle_behind_a_helper_adds_what_it_holds_once_the_helper_slides() {
    let (with, without) = (checked(&helpers(true), false), checked(&helpers(false), false));
    let (pair, alone) = (of(&with, "H").capacity.unwrap(), of(&without, "H").capacity.unwrap());
    // Friction 0.35 on 3.1 t, and 90 per cent of 0.35 on 2.6 t; what is chocked counts as braked.
    assert!((alone.as_kn() - 0.9 * 0.35 * 2.6 * 9.806_65).abs() < 0.4, "{alone:?}");
    assert!((pair.as_kn() - alone.as_kn() - 0.35 * 3.1 * 9.806_65).abs() < 0.4, "{pair:?} {alone:?}");
    assert!(with.checks.iter().any(|c| c.part == "G") && with.checks.iter().any(|c| c.part == "e2"));
    assert!(told(&with, "tied-back")[0].contains("H and G behind it hold"));
}
