//! Reads labels as they are printed: the force, what kind of force, the design factor.

use crate::key::Kind;
use crate::keys::label::LABEL;
use crate::walk::{Found, Mistake, Node, Walk, assignment};
use toml::de::DeValue;
use unmire_model::Force;
use unmire_model::gear::{Label, Rating, RatingKind};
use unmire_model::letters::is_letter;
use unmire_model::quantity::text::{TextError, read_one};

/// What a text on a part says.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Print {
    /// The force, or why it can't be told.
    pub(crate) force: Result<Force, TextError>,
    /// Its kind, if the text tells.
    pub(crate) kind: Option<RatingKind>,
    /// Design factor, if the text tells.
    pub(crate) factor: Option<f64>,
    /// The number before `T`, `ton` or nothing, for a check against what it is said to mean.
    pub(crate) number: Option<f64>,
}

const WORKING: &[&str] = &["working load limit", "safe working load", "w.l.l.", "wll", "swl", "working load"];
const BREAKING: &[&str] = &[
    "minimum breaking strength",
    "minimum breaking load",
    "minimum breaking force",
    "min. breaking strength",
    "min breaking strength",
    "breaking strength",
    "breaking load",
    "breaking force",
    "m.b.s.",
    "mbs",
    "mbl",
    "mbf",
    "min. break",
    "min break",
];

/// Takes the first of some words out of a text; it must not be a part of a longer word.
fn take_word(text: &mut String, words: &[&str]) -> bool {
    for word in words {
        let lower = text.to_ascii_lowercase();
        let mut from = 0;
        while let Some(i) = lower[from..].find(word).map(|i| i + from) {
            let end = i + word.len();
            let free = !lower[..i].ends_with(is_letter) && !lower[end..].starts_with(is_letter);
            if free {
                text.replace_range(i..end, " ");
                return true;
            }
            from = end;
        }
    }
    false
}

/// A design factor that somebody may print; another number stays in the text and is told of.
fn believable(t: &str) -> Option<f64> {
    t.parse().ok().filter(|f| (1.0..=20.0).contains(f))
}

/// Takes `(7:1)`, `7:1`, `SF 7` or `DF 7` out of a text.
fn take_factor(text: &mut String) -> Option<f64> {
    if let Some(colon) = text.find(":1") {
        let after = &text[colon + 2..];
        let start = text[..colon]
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.'))
            .map_or(0, |i| i + text[i..].chars().next().map_or(1, char::len_utf8));
        if !after.starts_with(|c: char| c.is_ascii_digit())
            && let Some(v) = believable(&text[start..colon])
        {
            text.replace_range(start..colon + 2, " ");
            return Some(v);
        }
    }
    let lower = text.to_ascii_lowercase();
    for word in ["safety factor", "design factor", "sf", "df"] {
        if let Some(i) = lower.find(word) {
            let tail = &text[i + word.len()..];
            let skip = tail.len() - tail.trim_start_matches([' ', ':', '=']).len();
            let run = tail[skip..].bytes().take_while(|b| b.is_ascii_digit() || *b == b'.').count();
            if let Some(v) = believable(&tail[skip..skip + run]) {
                let end = i + word.len() + skip + run;
                text.replace_range(i..end, " ");
                return Some(v);
            }
        }
    }
    None
}

/// Reads the text on a part.
pub(crate) fn read_print(print: &str) -> Print {
    let mut text = print.to_owned();
    let factor = take_factor(&mut text);
    let working = take_word(&mut text, WORKING);
    let breaking = take_word(&mut text, BREAKING) || take_word(&mut text, &["bs", "bl"]);
    let kind = match (working, breaking) {
        (true, false) => Some(RatingKind::Working),
        (false, true) => Some(RatingKind::Breaking),
        _ => None,
    };
    let rest =
        text.trim_matches(|c: char| c.is_whitespace() || "()[]:;,=/-".contains(c)).trim_end_matches('.').to_owned();
    let number = rest.split(|c: char| is_letter(c) || c.is_whitespace()).next().and_then(|n| n.parse::<f64>().ok());
    let force = if working && breaking {
        Err(TextError {
            at: 0,
            len: print.len(),
            message: "the text has a working load limit and a breaking strength".into(),
            expected: "one of them in the text".into(),
            example: "WLL 2 t (7:1)".into(),
            hint: Some("give the working load limit, and the other as its design factor: (7:1)".into()),
        })
    } else {
        read_one::<Force>(&rest)
    };
    Print { force, kind, factor, number }
}

fn same(a: Force, b: Force) -> bool {
    (a - b).abs().as_n() <= 0.01 * b.abs().as_n()
}

impl Node<'_, '_> {
    /// A label: a text, or a table; `None` if it is absent or wrong.
    pub(crate) fn label(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Label> {
        let f = self.find(w, name)?;
        match f.value {
            DeValue::String(s) => match s.trim().to_ascii_lowercase().as_str() {
                "missing" | "none" => Some(Label::Missing),
                "unreadable" => Some(Label::Unreadable),
                _ => rating(w, &f, s, None),
            },
            DeValue::Table(t) => {
                let node = Node::open(w, t, f.span.clone(), &LABEL);
                let text = node.text(w, "text")?;
                rating(w, &f, &text, Some(&node))
            }
            other => {
                w.tell(crate::walk::wrong_type(&f, other, "a label"));
                None
            }
        }
    }
}

fn rating(w: &mut Walk<'_>, f: &Found<'_, '_>, print: &str, table: Option<&Node<'_, '_>>) -> Option<Label> {
    debug_assert!(matches!(f.key.kind, Kind::Label));
    let told = w.found.len();
    let read = read_print(print);
    let means = table.and_then(|n| n.has("means").then(|| n.one::<Force>(w, "means")).flatten());
    let said = table.and_then(|n| n.has("rating").then(|| n.word(w, "rating")).flatten()).map(|i| {
        [RatingKind::Working, RatingKind::Breaking, RatingKind::Unstated]
            .get(i)
            .copied()
            .unwrap_or(RatingKind::Unstated)
    });
    let factor = table.and_then(|n| n.has("design_factor").then(|| n.one::<f64>(w, "design_factor")).flatten());
    if w.found.len() > told {
        return None;
    }
    let force = match (means, &read.force) {
        (Some(m), Ok(p)) if !same(m, *p) => {
            return refuse(
                w,
                f,
                format!("`{print}` and what it is said to mean differ by more than 1 %"),
                "either leave `means` out or correct it",
            );
        }
        (Some(m), Err(_)) if read.number.is_some_and(|n| !fits_number(m, n)) => {
            return refuse(
                w,
                f,
                format!("`{print}` and what it is said to mean have different numbers"),
                "`means` repeats the number with its unit",
            );
        }
        (Some(m), _) => m,
        (None, Ok(p)) => *p,
        (None, Err(e)) => {
            ask(w, f, print, read.number, e);
            return None;
        }
    };
    if force.as_n() < 100.0 || force.as_n() > 1e7 {
        return refuse(
            w,
            f,
            format!("`{print}` is no believable rating"),
            "from 100 N to 10 MN; check the number and its unit",
        );
    }
    if let (Some(a), Some(b)) = (said, read.kind)
        && a != b
    {
        return refuse(
            w,
            f,
            format!("`{print}` says one kind of rating and `rating` another"),
            "the text on the part counts: leave `rating` out",
        );
    }
    if let (Some(a), Some(b)) = (factor, read.factor)
        && (a - b).abs() > 1e-9
    {
        return refuse(
            w,
            f,
            format!("`{print}` says one design factor and `design_factor` another"),
            "the text on the part counts: leave `design_factor` out",
        );
    }
    Some(Label::Printed(Rating {
        as_printed: print.to_owned(),
        force,
        kind: said.or(read.kind).unwrap_or(RatingKind::Unstated),
        design_factor: factor.or(read.factor),
    }))
}

/// Whether a force is this number of some unit that labels use.
fn fits_number(m: Force, number: f64) -> bool {
    [m.as_tonnef(), m.as_short_tonf(), m.as_long_tonf(), m.as_kn(), m.as_n(), m.as_kgf(), m.as_lbf(), m.as_n() / 10.0]
        .iter()
        .any(|v| (v - number).abs() <= 0.01 * number.abs())
}

fn refuse(w: &mut Walk<'_>, f: &Found<'_, '_>, message: String, hint: &str) -> Option<Label> {
    w.tell(
        Mistake::new("bad-label", f.span.clone(), message)
            .expected(crate::walk::expected(f.key))
            .example(assignment(f.key))
            .hint(hint),
    );
    None
}

fn ask(w: &mut Walk<'_>, f: &Found<'_, '_>, print: &str, number: Option<f64>, e: &TextError) {
    let name = f.key.name;
    let no_unit = e.message.contains("has no unit");
    if no_unit || e.message.contains("can mean short tons") {
        let n = number.map_or("4.75".to_owned(), |n| n.to_string());
        w.tell(
            Mistake::new(
                "which-ton",
                f.span.clone(),
                format!(
                    "`{print}` does not say which unit: a shackle's digits are tonnes (1000 kg) under one specification and short tons (2000 lb) under another, 10 % apart",
                ),
            )
            .expected("the unit that is stated on the part or by its maker")
            .example(format!("{name} = {{ text = \"{print}\", means = \"{n} t\", rating = \"working\" }}"))
            .hint(format!("means = \"{n} short tons\" is the lower reading; if nobody knows the unit, write {name} = \"unreadable\"")),
        );
        return;
    }
    w.tell(
        Mistake::new("bad-label", f.span.clone(), format!("no rating can be read from the label `{print}`: {}", e.message))
            .expected("a force with its unit and, if printed, WLL or MBS and the design factor; or \"missing\" or \"unreadable\"")
            .example(format!("{name} = \"WLL 2 t (7:1)\""))
            .hint(format!(
                "for a text that says more, add what it means: {name} = {{ text = \"…\", means = \"2 t\", rating = \"working\" }}; a choker or basket rating goes into its own key"
            )),
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_prints() {
        let p = read_print("WLL 2 t (7:1)");
        assert_eq!((p.force, p.kind, p.factor), (Ok(Force::from_tonnef(2.0)), Some(RatingKind::Working), Some(7.0)));
        let p = read_print("MBS 88 kN");
        assert_eq!((p.force, p.kind, p.factor), (Ok(Force::from_kn(88.0)), Some(RatingKind::Breaking), None));
        let p = read_print("8 t");
        assert_eq!((p.force, p.kind, p.factor), (Ok(Force::from_tonnef(8.0)), None, None));
        let p = read_print("Min. breaking strength: 20,000 lbs SF 5");
        assert_eq!((p.force, p.kind, p.factor), (Ok(Force::from_lbf(20_000.0)), Some(RatingKind::Breaking), Some(5.0)));
        assert_eq!(read_print("WLL 3250 kg").force, Ok(Force::from_kgf(3250.0)));
        assert!(read_print("WLL 4.75 T").force.unwrap_err().message.contains("short tons"));
        assert_eq!(read_print("4.75 T").number, Some(4.75));
        assert!(read_print("WLL 2 t MBS 14 t").force.is_err());
        assert!(read_print("WLL 2 t (25:1)").force.is_err());
        assert!(read_print("").force.is_err());
        assert!(read_print("WLL").force.is_err());
    }
}
