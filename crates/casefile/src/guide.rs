//! The description of the documents for people, made from the same tables of keys as the reader.

use crate::key::{Kind, Need, Section};
use crate::keys::{bare, case, kinetic, kit, label};

/// The documents as Markdown: every table, every key, what it is, what its absence means, an example.
#[must_use]
pub fn guide() -> String {
    let mut out = String::from(
        "# The documents\n\n\
         Made from the reader's own tables of keys; do not edit.\n\n\
         A document is TOML. Quantities are texts with a unit: `\"9,500 lb\"`, `\"2.4 t\"`, `\"20 kN\"`, `\"3 in\"`. A range is\n\
         `\"low .. high\"` or `\"low .. likely .. high\"`; `\"about 2.4 t\"` is ±10 %, which is our own reading of the word. A ton\n\
         that could be short, metric or long is refused, and so is a comma that could be a decimal point. A slope says which\n\
         way it goes: `\"4 deg up\"`, `\"10 % left high\"`. What is assumed says so: `{ value = \"0.8 m\", assumed = \"not measured\" }`.\n\n\
         Places are metres ahead of the middle of the stuck vehicle's wheelbase, to its left, and up.\n",
    );
    let mut seen = Vec::new();
    let roots: [(&str, &'static Section); 4] = [
        (crate::CASE_SCHEMA, &case::CASE),
        (crate::KIT_SCHEMA, &kit::KIT),
        (crate::RIG_SCHEMA, &bare::BARE),
        (crate::KINETIC_SCHEMA, &kinetic::PROBLEM),
    ];
    for (word, root) in roots {
        out.push_str(&format!("\n## `schema = \"{word}\"`\n"));
        section(&mut out, root, &mut seen, String::new());
    }
    out.push_str("\n## A label\n");
    section(&mut out, &label::LABEL, &mut seen, "label".into());
    out
}

fn section(out: &mut String, s: &'static Section, seen: &mut Vec<&'static str>, path: String) {
    if seen.contains(&s.about) {
        return;
    }
    seen.push(s.about);
    if !path.is_empty() {
        out.push_str(&format!("\n### `{path}`\n"));
    }
    out.push_str(&format!("\n{}\n\n| key | what | if left out | example |\n|---|---|---|---|\n", s.about));
    for k in s.keys {
        let absent = match k.need {
            Need::Must(why) => format!("**must be there**: {why}"),
            Need::May(absent) => absent.to_owned(),
        };
        let mut about = k.about.to_owned();
        match k.kind {
            Kind::Words(words) if words.len() > 1 => about.push_str(&format!(" One of: {}.", words.join(", "))),
            Kind::One(_, low, high) | Kind::Range(_, low, high) | Kind::Ranges(_, _, low, high) => {
                about.push_str(&format!(" {low} to {high}."))
            }
            _ => {}
        }
        if k.assumable {
            about.push_str(" May be marked as assumed.");
        }
        out.push_str(&format!("| `{}` | {about} | {absent} | `{}` |\n", k.name, k.example));
    }
    for k in s.keys {
        let (sub, list) = match k.kind {
            Kind::Table(sub) => (sub, false),
            Kind::Many(sub, _) | Kind::Kinds(sub, ..) => (sub, true),
            _ => continue,
        };
        let under = path.split(['[', ']']).find(|p| !p.is_empty()).unwrap_or("");
        let name = if under.is_empty() { k.name.to_owned() } else { format!("{under}.{}", k.name) };
        let here = if list { format!("[[{name}]]") } else { format!("[{name}]") };
        section(out, sub, seen, here.clone());
        if let Kind::Kinds(_, kinds, _) = k.kind {
            for kind in kinds {
                section(out, kind, seen, format!("{here} kind = \"{}\"", kind.name));
            }
        }
    }
}
