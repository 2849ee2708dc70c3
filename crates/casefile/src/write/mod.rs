//! From document to text that reads back to the same document.

mod amount;
mod anchor;
mod case;
mod drive;
mod kinetic;
mod kit;
mod layout;

use unmire_model::Vec3;
use unmire_model::case::Case;
use unmire_model::gear::Piece;
use unmire_model::kinetic::BarePull;
use unmire_model::layout::Layout;
use unmire_model::rig::{Drive, Motion, Structure, Turn};

pub(crate) use amount::exact;
pub(crate) use anchor::signs;

/// Writes a case. What is assumed is written as such, so that it can be seen and changed.
///
/// Reading the text gives the same case; only the line numbers are new, and places are coordinates, girths diameters.
#[must_use]
pub fn write_case(case: &Case) -> String {
    let mut out = Out::default();
    case::case(&mut out, case);
    out.text
}

/// Writes a bag as a kit file.
#[must_use]
pub fn write_kit(pieces: &[Piece]) -> String {
    let mut out = Out::default();
    out.key("schema", &quoted(crate::KIT_SCHEMA));
    kit::pieces(&mut out, pieces);
    out.text
}

/// Writes a rig as the `[rig]` table of a case file.
#[must_use]
pub fn write_layout(rig: &Layout) -> String {
    let mut out = Out::default();
    layout::layout(&mut out, rig);
    out.text
}

/// Writes a bare kinetic problem.
#[must_use]
pub fn write_kinetic(problem: &BarePull) -> String {
    let mut out = Out::default();
    kinetic::problem(&mut out, problem);
    out.text
}

/// Writes a bare rig.
#[must_use]
pub fn write_rig(rig: &Structure) -> String {
    let mut out = Out::default();
    let name = |i: &usize| rig.nodes.get(*i).map_or(String::new(), |n| n.name.clone());
    out.key("schema", &quoted(crate::RIG_SCHEMA));
    for n in &rig.nodes {
        out.header("[[point]]");
        out.key("name", &quoted(&n.name));
        out.key("at", &place(n.at));
        out.key("fixed", if n.fixed { "true" } else { "false" });
        if n.weight.as_n() != 0.0 {
            out.key("weight", &exact(n.weight));
        }
    }
    for s in &rig.slings {
        out.header("[[sling]]");
        out.key("name", &quoted(&s.name));
        out.key("between", &list(&[name(&s.a), name(&s.b)]));
        out.key("rest_length", &exact(s.rest_length));
        out.key("ea", &exact(s.ea));
    }
    for l in &rig.lines {
        out.header("[[line]]");
        out.key("name", &quoted(&l.name));
        out.key("path", &list(&l.path.iter().map(name).collect::<Vec<_>>()));
        if !l.turns.is_empty() {
            let turns: Vec<String> = l
                .turns
                .iter()
                .map(|t| match t {
                    Turn::Sheave { ratio } => number(*ratio),
                    Turn::Ring { friction } => format!("{{ ring = {} }}", number(*friction)),
                })
                .collect();
            out.key("turns", &format!("[{}]", turns.join(", ")));
        }
        let motion = match l.motion {
            Motion::Hauling => "hauling",
            Motion::Lowering => "lowering",
            Motion::Frictionless => "frictionless",
        };
        out.key("motion", &quoted(motion));
        match &l.drive {
            Drive::Tension(t) => out.key("tension", &exact(*t)),
            Drive::Pull { points, direction, force } => out.key(
                "pull",
                &format!(
                    "{{ points = {}, direction = {}, force = {} }}",
                    list(&points.iter().map(name).collect::<Vec<_>>()),
                    place(*direction),
                    exact(*force)
                ),
            ),
            Drive::Length { rest_length, ea } => {
                out.key("length", &format!("{{ rest = {}, ea = {} }}", exact(*rest_length), exact(*ea)));
            }
        }
    }
    out.text
}

/// The text in the making.
#[derive(Default)]
pub(crate) struct Out {
    pub(crate) text: String,
}
impl Out {
    pub(crate) fn header(&mut self, header: &str) {
        self.text.push('\n');
        self.text.push_str(header);
        self.text.push('\n');
    }
    pub(crate) fn comment(&mut self, text: &str) {
        self.text.push_str("# ");
        self.text.push_str(text);
        self.text.push('\n');
    }
    pub(crate) fn key(&mut self, name: &str, value: &str) {
        self.text.push_str(name);
        self.text.push_str(" = ");
        self.text.push_str(value);
        self.text.push('\n');
    }
}

/// A text between quotes.
pub(crate) fn quoted(s: &str) -> String {
    let mut out = String::with_capacity(s.len() + 2);
    out.push('"');
    for c in s.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A list of texts.
pub(crate) fn list<S: AsRef<str>>(items: &[S]) -> String {
    format!("[{}]", items.iter().map(|i| quoted(i.as_ref())).collect::<Vec<_>>().join(", "))
}

/// A bare number that reads back to the same bits.
pub(crate) fn number(v: f64) -> String {
    format!("{v:?}")
}

/// Coordinates.
pub(crate) fn place(v: Vec3) -> String {
    format!("[{}, {}, {}]", number(v.x), number(v.y), number(v.z))
}

/// A direction in space.
pub(crate) fn vector(v: Vec3) -> String {
    let words = [
        ("ahead", Vec3::new(1.0, 0.0, 0.0)),
        ("back", Vec3::new(-1.0, 0.0, 0.0)),
        ("left", Vec3::new(0.0, 1.0, 0.0)),
        ("right", Vec3::new(0.0, -1.0, 0.0)),
        ("up", Vec3::UP),
        ("down", -Vec3::UP),
    ];
    words.iter().find(|(_, w)| *w == v).map_or_else(|| place(v), |(word, _)| quoted(word))
}
