//! One anchor from words: the same keys and the same reader as in a case file.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{Dice, read_case};
use unmire_casefile::keys::anchor::ANCHOR_KINDS;
use unmire_casefile::{Known, WordError, anchor_from_words, keys_of_anchor, write_case};
use unmire_model::anchor::{Anchor, AnchorKind, DeadmanShape, Stakes};
use unmire_model::trail::Origin;
use unmire_model::{Force, Length, Time, Vec3};

const KNOWN: Known<'static> = Known {
    surfaces: &[],
    soils: &[],
    species: &["oak", "scots_pine"],
    anchor_soils: &["loam", "firm_clay", "unknown"],
    rocks: &["granite_or_basalt", "limestone"],
    foundations: &["gravel_coarse_sand", "sound_rock"],
    policies: &[],
};

fn good(kind: &str, words: &[(&str, &str)]) -> Anchor {
    anchor_from_words(kind, words, &KNOWN).unwrap_or_else(|e| panic!("{kind} {words:?}: {e:?}"))
}
fn bad(kind: &str, words: &[(&str, &str)]) -> Vec<WordError> {
    match anchor_from_words(kind, words, &KNOWN) {
        Ok(a) => panic!("{kind} {words:?} reads: {a:?}"),
        Err(e) => e,
    }
}

#[test]
fn regress_words_make_an_anchor_of_every_kind() {
    let a = good(
        "tree",
        &[
            ("girth", "1.2 m .. 1.3 m"),
            ("attach_height", "{ value = \"0.4 m\", assumed = \"not measured\" }"),
            ("species", "Scots pine"),
            ("signs.dead", "false"),
            ("signs.leaning", " true "),
        ],
    );
    assert_eq!((a.id.as_str(), a.position, a.uncertainty), ("anchor", Vec3::ZERO, Length::ZERO));
    assert!(a.attach_height.is_assumed());
    let AnchorKind::Tree(t) = &a.kind else { panic!("{a:?}") };
    assert_eq!((t.signs.dead, t.signs.leaning, t.signs.fungus), (Some(false), Some(true), None));
    assert_eq!(t.species.as_deref(), Some("scots_pine"));
    // The words are no file, so their lines mean nothing.
    assert_eq!((&t.diameter.origin, a.line), (&Origin::File { line: 0 }, 0));

    let a = good("stump", &[("diameter", "60 cm"), ("attach_height", "0.2 m"), ("felled_ago", "2 .. 4 years")]);
    let AnchorKind::Stump(s) = &a.kind else { panic!("{a:?}") };
    assert_eq!(s.felled_ago.as_ref().unwrap().value.high(), Time::from_year(4.0));

    let size = "[\"1.2 m .. 1.4 m\", \"1 m\", \"0.8 m\"]";
    let a = good("boulder", &[("radius", "0.5 m"), ("size", size), ("attach_height", "0.2 m"), ("earth.soil", "loam")]);
    let AnchorKind::Boulder(b) = &a.kind else { panic!("{a:?}") };
    assert_eq!(b.size.as_ref().unwrap()[0].value.high(), Length::from_m(1.4));
    assert_eq!(b.earth.as_ref().unwrap().soil.value, "loam");

    for kind in ["rock bolts", "rock_bolts", "rock-bolts", "Rock Bolts"] {
        let words =
            [("count", "2"), ("rock", "limestone"), ("hole", "32 mm"), ("bond", "0.5 m"), ("attach_height", "0 m")];
        assert!(matches!(good(kind, &words).kind, AnchorKind::RockBolts(b) if b.count == 2), "{kind}");
    }
    let words = [
        ("stakes", "wood"),
        ("rows", "[3, 2, 1]"),
        ("driven", "0.9 m"),
        ("earth", "{ soil = \"loam\" }"),
        ("attach_height", "0.1 m"),
    ];
    assert!(
        matches!(good("pickets", &words).kind, AnchorKind::Pickets(p) if p.rows == [3, 2, 1] && p.stakes == Stakes::Wood)
    );
    let words = [
        ("log.diameter", "25 cm"),
        ("log.length", "1.8 m"),
        ("depth", "1 m"),
        ("line_rise", "1 in 4 up"),
        ("earth.soil", "loam"),
        ("attach_height", "0 m"),
    ];
    assert!(
        matches!(good("deadman", &words).kind, AnchorKind::Deadman(d) if matches!(d.shape, DeadmanShape::Log { .. }))
    );
    // What looks like a number or like yes stays a text where a text is wanted.
    let words = [("what", "3"), ("count", "3"), ("proof", "'30 kN'"), ("attach_height", "\"0 m\"")];
    assert!(matches!(good("plates", &words).kind, AnchorKind::Plates(p)
        if p.what == "3" && p.proof.as_ref().unwrap().value == Force::from_kn(30.0)));
    assert!(
        matches!(good("made", &[("what", "true"), ("attach_height", "1 m")]).kind, AnchorKind::Made { what } if what == "true")
    );
    let a = good("other", &[("what", "{ a pier }"), ("attach_height", "1 m"), ("id", "P"), ("position", "[1, 2, 3]")]);
    assert_eq!((a.id.as_str(), a.position), ("P", Vec3::new(1.0, 2.0, 3.0)));
}

#[test]
fn regress_a_bad_word_is_named_with_what_was_expected() {
    let attach = ("attach_height", "0.4 m");
    let girth = ("girth", "1.2 m");
    let tree = |more: (&'static str, &'static str)| ("tree", vec![girth, attach, more]);
    let soil = |more: (&'static str, &'static str)| {
        ("pickets", vec![("stakes", "wood"), ("rows", "[1]"), ("driven", "1 m"), ("attach_height", "0 m"), more])
    };
    // Kind and words; the word at fault, the code, what the message, the expectation or the hint says.
    let cases = [
        (("tre", vec![girth, attach]), "kind", "unknown-word", "did you mean \"tree\"?"),
        (("tree", vec![("girt", "1.2 m"), attach]), "girt", "unknown-key", "did you mean `girth`?"),
        (("tree", vec![girth]), "attach_height", "missing-key", "Height of the attachment"),
        (("tree", vec![attach]), "girth", "missing-key", "or give `diameter`"),
        (("tree", vec![("girth", "1.2"), attach]), "girth", "bad-value", "no unit"),
        (("tree", vec![("girth", "2"), attach]), "girth", "no-unit", "a length with its unit"),
        (("tree", vec![("girth", "1,2 m"), attach]), "girth", "bad-value", "comma"),
        (("tree", vec![("girth", "12 m .. 40 m"), attach]), "girth", "out-of-range", "3 cm to 16 m"),
        (("tree", vec![("girth", ""), attach]), "girth", "bad-value", "nothing is written here"),
        (("tree", vec![girth, attach, girth]), "girth", "duplicate-key", "given twice"),
        (tree(("girth.x", "1")), "girth.x", "duplicate-key", "`girth` before it"),
        (tree(("kind", "stump")), "kind", "duplicate-key", "given twice"),
        (tree(("species", "scotspine")), "species", "unknown-word", "did you mean \"scots pine\"?"),
        (tree(("soil", "peat")), "soil", "unknown-word", "deep peat"),
        (tree(("signs.ded", "true")), "signs.ded", "unknown-key", "did you mean `dead`?"),
        (tree(("signs.dead", "no")), "signs.dead", "wrong-type", "true or false"),
        (tree(("signs", "none")), "signs", "wrong-type", "a table"),
        (tree(("radius", "1 m")), "radius", "unknown-key", "`radius` is a key of kind \"boulder\" or \"other\""),
        (tree(("tied_back", "{ to = \"A\", with = \"K\" }")), "tied_back", "unknown-id", "on its own"),
        (tree(("tied_back.to", "A")), "tied_back.to", "unknown-id", "on its own"),
        (tree(("", "1")), "", "unknown-key", "is not a key"),
        (tree(("girth\n[x]", "1")), "girth\n[x]", "unknown-key", "did you mean `girth`?"),
        (tree(("diameter", "58 cm")), "girth", "contradiction", "one of them"),
        (tree(("bearing", "20 deg")), "bearing", "missing-key", "tells nothing without a distance"),
        (soil(("earth.cohesion", "20 kPa")), "earth.soil", "missing-key", "[earth]"),
        (soil(("earth", "{}")), "earth.soil", "missing-key", "[earth]"),
        (soil(("earth.soil", "mud")), "earth.soil", "unknown-word", "firm clay"),
        (soil(("earth", "loam")), "earth", "wrong-type", "a table"),
    ];
    for ((kind, words), word, code, says) in cases {
        let all = bad(kind, &words);
        let found = all.iter().find(|e| e.word == word && e.code == code);
        let said = found.unwrap_or_else(|| panic!("{kind} {words:?}: {all:#?}")).to_string();
        assert!(said.contains(says), "{kind} {words:?}: {said}");
        assert_eq!(all.len(), 1, "{kind} {words:?}: {all:#?}");
    }
    let pickets = bad("pickets", &[("rows", "3-2-1"), ("stakes", "iron"), ("driven", "2 m")]);
    let at: Vec<&str> = pickets.iter().map(|e| e.word.as_str()).collect();
    assert_eq!(at.len(), 5, "everything at once: {pickets:#?}");
    for word in ["rows", "stakes", "driven", "earth", "attach_height"] {
        assert!(at.contains(&word), "{word}: {at:?}");
    }
    assert!(bad("deadman", &[]).iter().all(|e| e.code == "missing-key"));
}

#[test]
fn regress_the_keys_of_a_kind_are_listed_and_can_be_used_as_they_are_shown() {
    assert!(keys_of_anchor("hedge").is_none());
    for kind in ANCHOR_KINDS {
        let keys = keys_of_anchor(kind).unwrap();
        for k in &keys {
            assert!(!k.name().is_empty() && !k.key.about.is_empty() && !k.expected().is_empty());
        }
        // Every key with its own example, as far as the examples can stand together.
        let skip: &[&str] = match *kind {
            "tree" | "stump" => &["diameter"],
            "deadman" => &["log.", "wheel."],
            _ => &[],
        };
        let shown: Vec<(String, &str)> = keys
            .iter()
            .map(|k| (k.name(), k.key.example))
            .filter(|(name, _)| !skip.iter().any(|s| name.starts_with(s)))
            .collect();
        let words: Vec<(&str, &str)> = shown.iter().map(|(k, v)| (k.as_str(), *v)).collect();
        let a = anchor_from_words(kind, &words, &Known::default()).unwrap_or_else(|e| panic!("{kind}: {e:#?}"));
        assert!(a.stated_capacity.is_some(), "{kind}");
        // Without one that must be there it is missed by its name.
        for k in keys.iter().filter(|k| k.required()) {
            let name = k.name();
            let root = name.split('.').next().unwrap_or(&name);
            let less: Vec<(&str, &str)> = words.iter().copied().filter(|(n, _)| !n.starts_with(root)).collect();
            let told = anchor_from_words(kind, &less, &Known::default()).unwrap_err();
            assert!(told.iter().any(|e| e.code == "missing-key" && e.word == root), "{kind} {name}: {told:#?}");
        }
    }
    let names: Vec<String> = keys_of_anchor("rock_bolts").unwrap().iter().map(|k| k.name()).collect();
    assert_eq!(names, ["count", "rock", "hole", "bond", "bar", "grouted", "proof", "attach_height", "holds"]);
}

/// An anchor that a case file gives is the same from words.
#[test]
fn regress_words_read_what_a_case_file_reads() {
    let mut tried = 0;
    for seed in 0..60 {
        let text = write_case(&Dice(seed).case());
        let case = read_case(&text);
        let tables = text.split("\n\n").filter(|t| t.trim_start().starts_with("[[anchor]]"));
        for (anchor, table) in case.anchors.iter().zip(tables) {
            let words: Vec<(&str, &str)> = table
                .lines()
                .filter_map(|l| l.split_once(" = "))
                .filter(|(k, _)| *k != "tied_back" && *k != "kind")
                .collect();
            let kind = table.lines().find_map(|l| l.strip_prefix("kind = ")).unwrap().trim_matches('"');
            let mut from_words =
                anchor_from_words(kind, &words, &Known::default()).unwrap_or_else(|e| panic!("{e:#?}\n{table}"));
            let mut from_file = anchor.clone();
            from_file.tied_back = None;
            common::anchor_unlined(&mut from_file);
            common::anchor_unlined(&mut from_words);
            assert_eq!(from_words, from_file, "{table}");
            tried += 1;
        }
    }
    assert!(tried > 60, "{tried}");
}

#[test]
fn regress_no_words_make_it_panic() {
    let bits = [
        "girth",
        ".",
        "signs",
        "earth",
        "dead",
        "=",
        "\"",
        "'",
        "{",
        "}",
        "[",
        "]",
        "#",
        "\n",
        "\0",
        "1",
        " m",
        "true",
        "é",
        ",",
        "value",
        "assumed",
        "\\",
        "\u{85}",
        "size",
        "rows",
        "1e9",
        "-",
        "tied_back",
        "'''",
    ];
    let mut dice = Dice(11);
    let mut told = 0;
    for _ in 0..6000 {
        let text = |d: &mut Dice| (0..d.below(6)).map(|_| d.pick(&bits)).collect::<String>();
        let words: Vec<(String, String)> = (0..dice.below(4)).map(|_| (text(&mut dice), text(&mut dice))).collect();
        let words: Vec<(&str, &str)> = words.iter().map(|(k, v)| (k.as_str(), v.as_str())).collect();
        let kind = if dice.yes() { dice.pick(ANCHOR_KINDS).to_owned() } else { text(&mut dice) };
        if let Err(all) = anchor_from_words(&kind, &words, &KNOWN) {
            assert!(!all.is_empty() && all.iter().all(|e| !e.message.is_empty()));
            told += 1;
        }
    }
    assert!(told > 5000, "{told}");
}
