//! The tables of keys hold together: bounds and examples can be read, words match the reader.

use unmire_casefile::key::{Kind, Need, Quantity, Section};
use unmire_casefile::keys::{anchor, bare, case, kinetic, kit};
use unmire_model::quantity::text::{Written, read_one, read_range};
use unmire_model::{Angle, Charge, Current, Force, Length, Mass, Ohms, Pressure, Speed, Time, Voltage};

fn each(section: &'static Section, seen: &mut Vec<&'static str>, visit: &mut impl FnMut(&'static Section)) {
    visit(section);
    for k in section.keys {
        let (common, kinds): (_, &[&'static Section]) = match k.kind {
            Kind::Table(s) | Kind::Many(s, _) => (s, &[]),
            Kind::Kinds(s, kinds, _) => (s, kinds),
            _ => continue,
        };
        for s in [common].iter().chain(kinds) {
            if !seen.contains(&s.about) {
                seen.push(s.about);
                each(s, seen, visit);
            }
        }
    }
}

fn all(mut visit: impl FnMut(&'static Section)) {
    let mut seen = Vec::new();
    for root in [&case::CASE, &kit::KIT, &bare::BARE, &kinetic::PROBLEM] {
        each(root, &mut seen, &mut visit);
    }
}

fn bounds<Q: Written>(low: &str, high: &str) -> bool {
    matches!((read_one::<Q>(low), read_one::<Q>(high)), (Ok(a), Ok(b)) if a.si() <= b.si())
}

#[test]
fn regress_every_bound_can_be_read() {
    let mut n = 0;
    all(|s| {
        for k in s.keys {
            let (Kind::One(q, low, high) | Kind::Range(q, low, high) | Kind::Ranges(_, q, low, high)) = k.kind else {
                continue;
            };
            let good = match q {
                Quantity::Mass => bounds::<Mass>(low, high),
                Quantity::Force => bounds::<Force>(low, high),
                Quantity::Length => bounds::<Length>(low, high),
                Quantity::Angle => bounds::<Angle>(low, high),
                Quantity::Pressure => bounds::<Pressure>(low, high),
                Quantity::Time => bounds::<Time>(low, high),
                Quantity::Speed => bounds::<Speed>(low, high),
                Quantity::Current => bounds::<Current>(low, high),
                Quantity::Voltage => bounds::<Voltage>(low, high),
                Quantity::Charge => bounds::<Charge>(low, high),
                Quantity::Ohms => bounds::<Ohms>(low, high),
                Quantity::Ratio => bounds::<f64>(low, high),
            };
            assert!(good, "{}.{}: {low} {high}", s.name, k.name);
            n += 1;
        }
    });
    assert!(n > 60, "{n}");
}

#[test]
fn regress_every_example_value_can_be_read() {
    all(|s| {
        for k in s.keys {
            let bare = k.example.trim_matches('"');
            match k.kind {
                Kind::Words(words) => assert!(words.contains(&bare), "{}.{}", s.name, k.name),
                Kind::Range(Quantity::Force, ..) => assert!(read_range::<Force>(bare).is_ok(), "{}.{}", s.name, k.name),
                Kind::Range(Quantity::Length, ..) => {
                    assert!(read_range::<Length>(bare).is_ok(), "{}.{}", s.name, k.name)
                }
                Kind::Range(Quantity::Current, ..) => {
                    assert!(read_range::<Current>(bare).is_ok(), "{}.{}", s.name, k.name)
                }
                Kind::Range(Quantity::Charge, ..) => {
                    assert!(read_range::<Charge>(bare).is_ok(), "{}.{}", s.name, k.name)
                }
                Kind::Range(Quantity::Ohms, ..) => assert!(read_range::<Ohms>(bare).is_ok(), "{}.{}", s.name, k.name),
                Kind::Range(Quantity::Time, ..) => assert!(read_range::<Time>(bare).is_ok(), "{}.{}", s.name, k.name),
                Kind::Range(Quantity::Speed, ..) => assert!(read_range::<Speed>(bare).is_ok(), "{}.{}", s.name, k.name),
                Kind::Range(Quantity::Pressure, ..) => {
                    assert!(read_range::<Pressure>(bare).is_ok(), "{}.{}", s.name, k.name)
                }
                Kind::Range(Quantity::Mass, ..) => assert!(read_range::<Mass>(bare).is_ok(), "{}.{}", s.name, k.name),
                _ => {}
            }
            assert!(!k.about.is_empty() && !k.example.is_empty(), "{}.{}", s.name, k.name);
            let (Need::Must(why) | Need::May(why)) = k.need;
            assert!(!why.is_empty(), "{}.{}", s.name, k.name);
        }
    });
}

#[test]
fn regress_the_words_of_pieces_are_one_list() {
    let words: Vec<_> = kit::PIECE_WORDS.iter().map(|p| p.word).collect();
    assert_eq!(words, kit::PIECE_KINDS);
    for p in kit::PIECE_WORDS {
        for key in p.keys.iter().chain(kit::COMMON) {
            assert!(kit::PIECE.key(key).is_some(), "{} {key}", p.word);
        }
        assert!(p.need.iter().all(|n| p.keys.contains(n)), "{}", p.word);
    }
}

#[test]
fn regress_the_kinds_of_anchors_are_one_list() {
    let words: Vec<_> = anchor::KINDS.iter().map(|k| k.name).collect();
    assert_eq!(words, anchor::ANCHOR_KINDS);
    // A key is either common or of a kind, so that a table has each of them once.
    for kind in anchor::KINDS {
        assert!(kind.keys.iter().all(|k| anchor::ANCHOR.key(k.name).is_none()), "{}", kind.name);
    }
}
