//! Ten questions make a case; what nobody knows is wide and says so.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{Dice, read_case};
use std::collections::BTreeMap;
use unmire_casefile::{case_from_answers, questions};
use unmire_model::anchor::AnchorKind;
use unmire_model::gear::Label;
use unmire_model::{Force, Mass};

fn answers(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
    pairs.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect()
}

#[test]
fn regress_every_example_is_an_answer_and_together_they_are_a_case() {
    assert!(questions().len() <= 10);
    let all: BTreeMap<_, _> = questions().iter().map(|q| (q.id.to_owned(), q.example.to_owned())).collect();
    for q in questions() {
        assert_eq!(q.check(q.example), Ok(()), "{}", q.id);
        assert_eq!(q.check("don't know"), Ok(()), "{}", q.id);
        assert!(!q.help.is_empty() && !q.unknown.is_empty());
    }
    let c = read_case(&case_from_answers(&all).unwrap());
    assert_eq!(c.vehicle.mass.value.high(), Mass::from_tonne(2.6));
    assert!(!c.vehicle.mass.is_assumed());
    assert!(c.vehicle.cg_height.as_ref().is_some_and(|x| x.is_assumed()));
    assert!((c.way_out.side_slope.value.as_deg() - 6.0).abs() < 1e-12);
    let tree = c.anchor("tree").unwrap();
    assert!((tree.position.norm() - 22.0).abs() < 1e-9 && tree.position.z == 1.0);
    assert!(
        matches!(&tree.kind, AnchorKind::Tree(t) if (t.diameter.value.likely().as_m() - 1.9 / core::f64::consts::PI).abs() < 1e-12)
    );
    assert!(matches!(&tree.kind, AnchorKind::Tree(t) if t.signs.each().iter().all(|(_, s)| *s == Some(false))));
    let winch = c.vehicle.winch.as_ref().unwrap();
    assert_eq!(winch.rated_pull.value, Force::from_lbf(9500.0));
    assert_eq!(winch.line.label.rating().unwrap().force, Force::from_kn(88.0));
    assert_eq!((c.people.total, c.people.trained), (3, 1));
    assert_eq!(c.kit.len(), 5);
    assert_eq!(c.piece("K1").unwrap().label.rating().unwrap().design_factor, Some(7.0));
}

#[test]
fn regress_not_knowing_makes_a_wide_case() {
    let text = case_from_answers(&BTreeMap::new()).unwrap();
    assert!(text.matches("assumed").count() > 10, "{text}");
    let c = read_case(&text);
    assert!(c.vehicle.mass.is_assumed() && c.stuck.depth.is_assumed() && c.way_out.grade.is_assumed());
    assert!(c.vehicle.mass.value.high() > c.vehicle.mass.value.low() * 2.0);
    assert!(c.anchors.is_empty() && c.kit.is_empty());
    assert_eq!(c.vehicle.winch.unwrap().line.label, Label::Missing);
    let none = case_from_answers(&answers(&[("winch", "none"), ("anchor", "none"), ("pieces", "none")])).unwrap();
    assert!(read_case(&none).vehicle.winch.is_none());
}

#[test]
fn regress_other_ways_to_answer() {
    let c = |pairs: &[(&str, &str)]| read_case(&case_from_answers(&answers(pairs)).unwrap_or_else(|e| panic!("{e:?}")));
    let a = c(&[("anchor", "30 paces 10 deg left, 2 m down")]);
    let p = a.anchors[0].position;
    assert!((p.norm() - 22.5).abs() < 1e-9 && p.y > 0.0 && p.z == -2.0, "{p:?}");
    assert!((a.anchors[0].uncertainty.as_m() - 3.38).abs() < 1e-9);
    assert!(a.anchors[0].kind.radius().is_some());
    let a = c(&[("anchor", "72 ft right"), ("girth", "5 ft 6 in")]);
    assert!(a.anchors[0].position.y < -20.0);
    let a = c(&[("slope", "10 % right high")]);
    assert!(a.way_out.grade.is_assumed() && a.way_out.side_slope.value.as_rad() < 0.0);
    let a = c(&[("slope", "level")]);
    assert!(!a.way_out.grade.is_assumed());
    let a = c(&[(
        "pieces",
        "2 shovels; soft shackle; 3x chock; rope, 12 m, 16 mm, MBS 5 t; hook; hand winch, WLL 1.6 t, 3 m; other",
    )]);
    assert_eq!(a.kit.len(), 10);
}

/// Looking and finding nothing answers every sign; what was not looked for stays open.
#[test]
fn regress_the_signs_of_the_tree_are_answered_as_they_were_looked_for() {
    let signs = |girth: &str| {
        let text = case_from_answers(&answers(&[("anchor", "22 m ahead, level"), ("girth", girth)])).unwrap();
        let open = text.contains("Until each is answered the tree is 'unknown'");
        let c = read_case(&text);
        match &c.anchors[0].kind {
            AnchorKind::Tree(t) => (t.signs.each().map(|(_, s)| s), t.diameter.is_assumed(), open),
            other => panic!("{other:?}"),
        }
    };
    for none in ["1.9 m; no signs", "1.9 m, no signs", "1.9 m; none", "1.9 m;NO SIGNS"] {
        assert_eq!(signs(none), ([Some(false); 8], false, false), "{none}");
    }
    assert_eq!(signs("no signs"), ([Some(false); 8], true, false));
    assert_eq!(signs("don't know; no signs"), ([Some(false); 8], true, false));
    for open in ["1.9 m", "1.9 m; not looked", "1.9 m; ?"] {
        assert_eq!(signs(open), ([None; 8], false, true), "{open}");
    }
    assert_eq!(signs("don't know"), ([None; 8], true, true));
    let (found, _, open) = signs("1.9 m; leaning, frozen top");
    assert_eq!(found, [None, Some(true), None, None, None, None, None, Some(true)]);
    assert!(open);
}

#[test]
fn regress_a_wrong_answer_says_why() {
    let wrong = [
        ("mass", "2 tons", "short tons"),
        ("mass", "2400", "no unit"),
        ("mass", "2 kg", "believable"),
        ("depth", "weel", "did you mean wheel?"),
        ("slope", "4 deg", "which way"),
        ("slope", "4 deg up, 5 deg", "across"),
        ("distance", "far", "not a number"),
        ("anchor", "22 m", "which direction"),
        ("anchor", "22 m ahead, 1 m", "higher or lower"),
        ("anchor", "2 m ahead, 5 m up", "higher or lower than the vehicle"),
        ("girth", "1,9 m", "comma"),
        ("girth", "40 m", "believable"),
        ("girth", "none", "not a number"),
        ("girth", "1.9 m; yes", "what was found: dead"),
        ("girth", "1.9 m; leening", "did you mean leaning?"),
        ("girth", "1.9 m; leaning; no signs", "one of the two"),
        ("winch", "4.75 T", "short tons"),
        ("line", "28 m; 4 ton", "short tons"),
        ("people", "many", "two numbers"),
        ("people", "1, 3", "more trained"),
        ("pieces", "2 bow shakle, WLL 4.75 t", "did you mean bow shackle?"),
        ("pieces", "2 bow shackle, 4.75 T", "10 % apart"),
        ("pieces", "0 shovel", "from 1 to 100"),
        ("pieces", "block, red", "neither a label"),
    ];
    for (id, answer, says) in wrong {
        let q = questions().iter().find(|q| q.id == id).unwrap();
        let e = q.check(answer).unwrap_err();
        assert!(e.contains(says), "{id} = {answer}: {e}");
    }
    assert!(case_from_answers(&answers(&[("colour", "red")])).is_err());
}

#[test]
fn regress_no_answer_makes_it_panic() {
    let bits = [
        "2",
        " ",
        ",",
        ";",
        "m",
        "t",
        "up",
        "left",
        "deg",
        "ahead",
        "x",
        "bow shackle",
        "é",
        "\"",
        "\n",
        "\\",
        "1e9",
        "..",
        "WLL",
        "none",
        "no signs",
        "leaning",
    ];
    let mut dice = Dice(7);
    for _ in 0..4000 {
        let text: String = (0..dice.below(7)).map(|_| dice.pick(&bits)).collect();
        for q in questions() {
            // Whatever comes back is an answer: that it comes back is what is tested.
            if let Err(e) = q.check(&text) {
                assert!(!e.is_empty(), "{} {text:?}", q.id);
            }
        }
    }
}
