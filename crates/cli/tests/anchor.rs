//! `unmire anchor`: each kind as it was reviewed, the shape of its JSON, its exit status, and what it says of wrong input.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use common::{cases, examples, expect, unmire};
use serde_json::Value;

/// Invented anchors, one a kind and more where the answer differs: the name of the reviewed file, and the words.
const ASKED: &[(&str, &[&str])] = &[
    (
        "pine-holds",
        &[
            "tree",
            "girth=1.2 m",
            "species=scots pine",
            "height=20 m",
            "soil=freely draining",
            "attach_height=0.4 m",
            "--no-signs",
            "--pull",
            "12 kN",
            "--stall",
            "24 kN",
        ],
    ),
    (
        "spruce-shared",
        &[
            "tree",
            "diameter=30 cm",
            "species=norway spruce",
            "height=18 m",
            "soil=gley",
            "rooting=shallow",
            "attach_height=0.5 m",
            "--no-signs",
            "--pull",
            "14 kN",
            "--strap",
            "75 mm",
        ],
    ),
    ("tree-nobody-looked-at", &["tree", "girth=1.2 m", "attach_height=0.4 m", "--pull", "12 kN"]),
    ("tree-hollow", &["tree", "diameter=60 cm", "attach_height=0.4 m", "signs.cavity=true", "--pull", "12 kN"]),
    (
        "stump",
        &[
            "stump",
            "diameter=40 cm .. 44 cm",
            "conifer=true",
            "cut_height=0.5 m",
            "felled_ago=1 year .. 2 years",
            "attach_height=0.2 m",
            "--no-signs",
            "--pull",
            "8 kN",
        ],
    ),
    (
        "boulder",
        &[
            "boulder",
            "radius=0.7 m",
            "mass=4 t .. 6 t",
            "size=[\"1.4 m\", \"1.4 m\", \"1.1 m\"]",
            "on=fine sand",
            "attach_height=0.3 m",
            "--no-signs",
            "--pull",
            "10 kN",
        ],
    ),
    (
        "rock-bolts",
        &[
            "rock-bolts",
            "count=2",
            "rock=limestone",
            "hole=25 mm",
            "bond=0.5 m",
            "bar=90 kN",
            "grouted=true",
            "proof=30 kN",
            "attach_height=0.1 m",
            "--pull",
            "12 kN",
        ],
    ),
    (
        "pickets",
        &[
            "pickets",
            "stakes=wood",
            "rows=[3, 2, 1]",
            "driven=1.0 m",
            "spacing=1 m",
            "earth.soil=loam",
            "attach_height=0.1 m",
            "--pull",
            "6 kN",
        ],
    ),
    (
        "deadman",
        &[
            "deadman",
            "log={ diameter = \"30 cm\", length = \"1.5 m\" }",
            "depth=1.2 m",
            "line_rise=14 deg up",
            "earth.soil=loam",
            "attach_height=0 m",
            "--pull",
            "15 kN",
        ],
    ),
    (
        "deadman-too-small",
        &[
            "deadman",
            "log={ diameter = \"20 cm\", length = \"1.0 m\" }",
            "depth=0.9 m",
            "line_rise=14 deg up",
            "earth.soil=wet sand",
            "attach_height=0 m",
            "--pull",
            "25 kN",
        ],
    ),
    ("plates", &["plates", "what=screw plates", "count=2", "proof=20 kN", "attach_height=0.1 m", "--pull", "9 kN"]),
];

#[test]
fn regress_every_kind_is_as_reviewed() {
    for (name, words) in ASKED {
        let mut arguments = vec!["anchor"];
        arguments.extend_from_slice(words);
        arguments.extend_from_slice(&["--width", "80"]);
        let r = unmire(&arguments);
        assert!(r.status == 0 || r.status == 1, "{name}: {}", r.stderr);
        let command: Vec<String> = words
            .iter()
            .map(|w| if w.contains([' ', '[', '{']) { format!("'{w}'") } else { (*w).to_owned() })
            .collect();
        let text = format!("$ unmire anchor {}\n{}exit status {}\n", command.join(" "), r.stdout, r.status);
        expect(&examples().join("anchor").join(format!("{name}.expected.txt")), &text);
    }
}

#[test]
fn regress_every_answer_fits_its_schema_and_its_exit_status() {
    let schema: Value = serde_json::from_str(&unmire(&["schema", "anchor"]).stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let hold = |arguments: &[&str]| {
        let r = unmire(arguments);
        let v: Value = serde_json::from_str(&r.stdout).unwrap_or_else(|e| panic!("{arguments:?}: {e} {}", r.stderr));
        let errors: Vec<String> = validator.iter_errors(&v).map(|e| format!("{e} at {}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{arguments:?}: {errors:#?}");
        assert_eq!(r.status, i32::from(!v["passes"].as_bool().unwrap()), "{arguments:?}");
        v
    };
    for (name, words) in ASKED {
        for explain in [&[][..], &["--explain"]] {
            let mut arguments = vec!["anchor", "--json"];
            arguments.extend_from_slice(words);
            arguments.extend_from_slice(explain);
            let v = hold(&arguments);
            let steps = v["anchors"][0]["trail"].as_array().unwrap().len();
            let reckoned = v["anchors"][0]["holds"].is_object();
            assert_eq!(steps > 0, !explain.is_empty() && reckoned, "{name}: {steps} steps");
        }
    }
    let v = hold(&["anchor", "wheel-deep-mud.toml", "near", "far", "--share", "--pull", "20 kN", "--json"]);
    assert_eq!(v["shared"]["ways"].as_array().map(Vec::len), Some(2));
    for case in cases() {
        if common::verb(&case) == "plan" && unmire(&["anchor", &case]).status != 2 {
            hold(&["anchor", &case, "--json"]);
        }
    }
}

#[test]
fn regress_an_anchor_that_holds_more_never_gets_a_worse_answer() {
    let rank = |girth: &str| {
        let r = unmire(&[
            "anchor",
            "--json",
            "tree",
            girth,
            "species=scots pine",
            "attach_height=0.4 m",
            "--no-signs",
            "--pull",
            "20 kN",
        ]);
        let v: Value = serde_json::from_str(&r.stdout).unwrap();
        let word = v["anchors"][0]["advice"].as_str().unwrap().to_owned();
        ["find another", "share it", "use it"].iter().position(|w| *w == word).unwrap_or_else(|| panic!("{word}"))
    };
    let ranks: Vec<usize> =
        ["girth=0.5 m", "girth=0.8 m", "girth=1.1 m", "girth=1.4 m", "girth=2 m"].map(rank).to_vec();
    assert!(ranks.is_sorted(), "{ranks:?}");
    assert!(ranks.first() < ranks.last(), "{ranks:?}");
}

#[test]
fn balance_what_two_get_of_one_pull_adds_up_to_it_at_least() {
    let r = unmire(&["anchor", "wheel-deep-mud.toml", "near", "far", "--share", "--pull", "20 kN", "--json"]);
    let v: Value = serde_json::from_str(&r.stdout).unwrap();
    for way in v["shared"]["ways"].as_array().unwrap() {
        let of =
            |k: &str| way["anchors"].as_array().unwrap().iter().map(|a| a["work"][k].as_f64().unwrap()).sum::<f64>();
        assert!(of("likely_n") >= 20e3 * (1.0 - 1e-9), "{way}");
        assert!(of("high_n") >= of("likely_n") && of("low_n") <= of("likely_n"), "{way}");
        assert!(way["unevenness"].as_f64().unwrap() >= 1.0, "{way}");
    }
}

#[test]
fn regress_the_chart_is_written_and_what_has_none_says_so() {
    let pine = ["anchor", "tree", "girth=1.2 m", "attach_height=0.4 m", "--no-signs", "--svg", "-"];
    let r = unmire(&pine);
    assert!(r.stdout.starts_with("<svg") && r.stdout.contains("diameter, cm"), "{}", r.stdout);
    let r = unmire(&["anchor", "plates", "what=screws", "count=1", "proof=20 kN", "attach_height=0 m", "--svg", "-"]);
    assert_eq!(r.status, 2);
    assert!(r.stderr.contains("no measure to draw a chart against"), "{}", r.stderr);
}

#[test]
fn regress_wrong_input_names_the_word_and_exits_with_two() {
    let wrong: &[(&[&str], &[&str])] = &[
        (&["tree", "girt=1.2 m", "attach_height=0.4 m"], &["girt", "did you mean `girth`"]),
        (&["tree", "girth=1.2", "attach_height=0.4 m"], &["girth", "unit"]),
        (&["tree", "girth=1.2 m"], &["attach_height"]),
        (&["tree", "girth"], &["'girth' is no key=value"]),
        (&["tree", "girth=-1 m", "attach_height=0.4 m"], &["girth"]),
        (&["tree", "girth=1.2 m", "species=ok", "attach_height=0.4 m"], &["species", "oak"]),
        (&["pickets", "stakes=wood", "rows=[0]", "driven=1 m", "earth.soil=loam", "attach_height=0.1 m"], &["rows"]),
        (&["tree", "girth=1.2 m", "attach_height=0.4 m", "--pull", "12"], &["--pull 12", "unit"]),
        (&["tree", "girth=1.2 m", "attach_height=0.4 m", "--pull", "0 kN"], &["--pull is nothing"]),
        (&["tree", "girth=1.2 m", "attach_height=0.4 m", "--stall", "20 kN"], &["--pull"]),
        (&["tree", "girth=1.2 m", "attach_height=0.4 m", "--pull", "20 kN", "--stall", "10 kN"], &["--stall is less"]),
        (&["tree", "girth=1.2 m", "attach_height=0.4 m", "--pull", "11 MN"], &["no line pulls that much"]),
        (&["no-such-file.toml"], &["no-such-file.toml", "rock-bolts"]),
        (&["wheel-deep-mud.toml", "nea"], &["did you mean 'near'"]),
        (&["wheel-deep-mud.toml", "--no-signs"], &["--no-signs"]),
        (&["wheel-deep-mud.toml", "near", "--share"], &["two or three anchors, here are 1"]),
        (&["wheel-deep-mud.toml", "near", "near", "--share"], &["'near' is named twice"]),
        (&["wheel-deep-mud.toml", "near", "fa", "--share"], &["no anchor 'fa'", "far"]),
    ];
    for (words, said) in wrong {
        let mut arguments = vec!["anchor"];
        arguments.extend_from_slice(words);
        let r = unmire(&arguments);
        assert_eq!(r.status, 2, "{words:?}: {}{}", r.stdout, r.stderr);
        for s in *said {
            assert!(r.stderr.contains(s), "{words:?} says: {}", r.stderr);
        }
        assert!(r.stdout.is_empty(), "{words:?}");
    }
}

#[test]
fn regress_a_kind_without_words_lists_the_words_it_knows() {
    for (kind, word) in [
        ("tree", "girth"),
        ("stump", "felled_ago"),
        ("rock-bolts", "proof"),
        ("pickets", "rows"),
        ("deadman", "line_rise"),
    ] {
        let r = unmire(&["anchor", kind]);
        assert_eq!(r.status, 0, "{kind}");
        assert!(r.stdout.contains(word) && r.stdout.contains("attach_height"), "{kind}: {}", r.stdout);
    }
}

#[test]
fn regress_a_plan_says_why_an_anchor_is_not_known_and_never_passes_it() {
    let text = std::fs::read_to_string(examples().join("wet-grass.toml")).unwrap();
    let open = text.replace(", frozen_top = false", "");
    assert_ne!(open, text);
    let r = common::unmire_fed(&examples(), &["plan", "-", "--json"], &open);
    let v: Value = serde_json::from_str(&r.stdout).unwrap_or_else(|e| panic!("{e}: {}", r.stderr));
    assert_eq!((r.status, v["passes"].as_bool()), (1, Some(false)));
    let why = v["findings"].as_array().unwrap().iter().find(|f| f["code"] == "anchor-not-known");
    let why = why.and_then(|f| f["text"].as_str()).unwrap_or_default();
    assert!(why.contains("a frozen crust over wet soil"), "{why}");
}

#[test]
fn regress_what_was_not_told_or_goes_beyond_is_said() {
    let codes = |arguments: &[&str]| {
        let mut all = vec!["anchor", "--json"];
        all.extend_from_slice(arguments);
        let r = unmire(&all);
        let v: Value = serde_json::from_str(&r.stdout).unwrap_or_else(|e| panic!("{arguments:?}: {e} {}", r.stderr));
        let found = v["anchors"][0]["findings"].as_array().unwrap();
        found.iter().map(|f| f["code"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    let tree = ["tree", "diameter=30 cm", "attach_height=0.4 m", "--no-signs", "--pull", "5 kN"];
    let with = |more: &[&str]| {
        let mut all = tree.to_vec();
        all.extend_from_slice(more);
        codes(&all)
    };
    let has = |codes: &[String], code: &str| codes.iter().any(|c| c == code);
    assert!(has(&with(&[]), "stall-not-told"));
    assert!(!has(&with(&["--stall", "9 kN"]), "stall-not-told"));
    assert!(has(&with(&[]), "tree-soil-unknown"), "the soil of an unknown species");
    assert!(has(&with(&["--strap", "5 mm"]), "bark-overloaded"));
    assert!(!has(&with(&["--strap", "100 mm"]), "bark-overloaded"));
    assert!(has(&with(&["holds=900 kN"]), "stated-above-model"));
    assert!(!has(&with(&["holds=20 kN"]), "stated-above-model"));
    assert!(has(&codes(&["unequal-trees.toml", "birch"]), "tie-not-counted"));
    let plate = ["plates", "what=s", "count=1", "proof=20 kN", "attach_height=0.1 m", "--pull", "5 kN"];
    assert!(!has(&codes(&plate), "proof-ground-wetter"));
    assert!(has(&codes(&[&plate[..], &["--saturated"]].concat()), "proof-ground-wetter"));
}

#[test]
fn regress_many_plates_behind_one_bridle_count_as_four() {
    let low = |count: &str| {
        let r = unmire(&["anchor", "--json", "plates", "what=s", count, "proof=20 kN", "attach_height=0.1 m"]);
        let v: Value = serde_json::from_str(&r.stdout).unwrap();
        v["anchors"][0]["holds"]["low_n"].as_f64().unwrap()
    };
    assert!((low("count=4") - 40e3).abs() < 1e-6);
    assert!((low("count=20") - 40e3).abs() < 1e-6);
    assert!(low("count=3") < low("count=4"));
}

#[test]
fn regress_a_shared_pull_that_needs_a_stop_load_names_it() {
    let shared = ["anchor", "unequal-trees.toml", "pine", "birch", "--share", "--watched"];
    let r = unmire(&shared);
    let v: Value = serde_json::from_str(&unmire(&[&shared[..], &["--json"]].concat()).stdout).unwrap();
    for way in v["shared"]["ways"].as_array().unwrap() {
        let below = way["verdict"] == "holds below a stop load";
        assert_eq!(below, way["stop_load_n"].is_number(), "{way}");
        if below {
            let stop = way["stop_load_n"].as_f64().unwrap();
            assert!(
                stop < v["shared"]["load_stall_n"].as_f64().unwrap()
                    && stop >= v["shared"]["load_work_n"].as_f64().unwrap()
            );
        }
    }
    assert!(r.status == 1 || r.stdout.contains("stop at"), "{}", r.stdout);
}
