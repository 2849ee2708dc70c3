//! What the answers say.

use super::pieces::{self, Piece};
use super::{AnswerError, is_unknown};
use crate::keys::case::DEPTH;
use crate::place::read_heading;
use crate::walk::{nearest, plain};
use std::collections::BTreeMap;
use unmire_model::anchor::TreeSigns;
use unmire_model::quantity::slope::{Way, read_slope};
use unmire_model::quantity::text::{TextError, read_one, read_range};
use unmire_model::{Force, Length, Mass};

/// Where the tree stands.
pub(super) struct Tree {
    /// Distance as written: a length, or a number of paces.
    pub(super) distance: Distance,
    /// Direction as written.
    pub(super) direction: String,
    /// Height difference, if said.
    pub(super) rise: Option<Length>,
}
/// A distance.
pub(super) enum Distance {
    /// By tape.
    Tape(Length),
    /// By paces.
    Paces(f64),
}
/// A winch's line, as far as it is known.
#[derive(Default)]
pub(super) struct Line {
    pub(super) length: Option<Length>,
    pub(super) diameter: Option<Length>,
    pub(super) material: Option<&'static str>,
    pub(super) label: Option<String>,
}
/// Yes, no, or nobody knows.
pub(super) enum Known<T> {
    /// There is none.
    None,
    /// This.
    Some(T),
    /// Nobody knows.
    Unknown,
}

/// All answers. What is not known is `None`.
pub(super) struct Answers {
    pub(super) mass: Option<String>,
    pub(super) depth: Option<&'static str>,
    pub(super) grade: Option<String>,
    pub(super) side: Option<String>,
    pub(super) distance: Option<String>,
    pub(super) anchor: Known<Tree>,
    pub(super) girth: Option<String>,
    pub(super) signs: TreeSigns,
    pub(super) winch: Known<String>,
    pub(super) line: Line,
    pub(super) people: Option<(u32, u32)>,
    pub(super) pieces: Vec<Piece>,
}

/// Reads all answers.
pub(super) fn parse(answers: &BTreeMap<String, String>) -> Result<Answers, Vec<AnswerError>> {
    let mut wrong = Vec::new();
    let get = |id: &str| answers.get(id).map(|a| a.trim()).filter(|a| !is_unknown(a));
    let mut keep = |id: &str, r: Result<(), String>| {
        if let Err(message) = r {
            wrong.push(AnswerError { id: id.to_owned(), message });
        }
    };
    let text = |e: TextError| e.to_string();
    let quantity = |id: &str, check: &dyn Fn(&str) -> Result<(), TextError>| match get(id) {
        Some(a) => check(a).map(|()| Some(a.to_owned())).map_err(text),
        None => Ok(None),
    };
    let mass = quantity("mass", &|a| read_range::<Mass>(a).map(drop));
    let distance = quantity("distance", &|a| read_range::<Length>(a).map(drop));
    for (id, r) in [("mass", &mass), ("distance", &distance)] {
        keep(id, r.as_ref().map(drop).map_err(Clone::clone));
    }
    let depth = match get("depth") {
        Some(a) => word(a).map(Some),
        None => Ok(None),
    };
    keep("depth", depth.as_ref().map(drop).map_err(Clone::clone));
    let slope = match get("slope") {
        Some(a) => slopes(a),
        None => Ok((None, None)),
    };
    keep("slope", slope.as_ref().map(drop).map_err(Clone::clone));
    let anchor = match get("anchor") {
        Some(a) if none(a) => Ok(Known::None),
        Some(a) => tree(a).map(Known::Some),
        None => Ok(Known::Unknown),
    };
    keep("anchor", anchor.as_ref().map(drop).map_err(Clone::clone));
    let girth = get("girth").map_or_else(|| Ok((None, TreeSigns::default())), girth);
    keep("girth", girth.as_ref().map(drop).map_err(Clone::clone));
    let winch = match get("winch") {
        Some(a) if none(a) => Ok(Known::None),
        Some(a) => read_one::<Force>(a).map(|_| Known::Some(a.to_owned())).map_err(text),
        None => Ok(Known::Unknown),
    };
    keep("winch", winch.as_ref().map(drop).map_err(Clone::clone));
    let line = get("line").map_or_else(|| Ok(Line::default()), line);
    keep("line", line.as_ref().map(drop).map_err(Clone::clone));
    let people = match get("people") {
        Some(a) => people(a).map(Some),
        None => Ok(None),
    };
    keep("people", people.as_ref().map(drop).map_err(Clone::clone));
    let bag = get("pieces").filter(|a| !none(a)).map_or_else(|| Ok(Vec::new()), pieces::parse);
    keep("pieces", bag.as_ref().map(drop).map_err(Clone::clone));
    let made = (|| {
        let (grade, side) = slope.ok()?;
        let (girth, signs) = girth.ok()?;
        Some(Answers {
            mass: mass.ok()?,
            depth: depth.ok()?,
            grade,
            side,
            distance: distance.ok()?,
            anchor: anchor.ok()?,
            girth,
            signs,
            winch: winch.ok()?,
            line: line.ok()?,
            people: people.ok()?,
            pieces: bag.ok()?,
        })
    })();
    match made {
        Some(a) if wrong.is_empty() => Ok(a),
        _ => Err(wrong),
    }
}

fn none(a: &str) -> bool {
    matches!(a.to_ascii_lowercase().as_str(), "none" | "no" | "nothing")
}

fn word(a: &str) -> Result<&'static str, String> {
    let clean = a.to_ascii_lowercase();
    DEPTH.iter().copied().find(|d| *d == clean).ok_or_else(|| {
        let near = nearest(&clean, DEPTH.iter().copied());
        let near = near.map_or(String::new(), |n| format!("; did you mean {n}?"));
        format!("`{a}` is not one of the words; expected {}{near}", DEPTH.join(", "))
    })
}

/// Along, then across; either alone if its words tell which it is.
fn slopes(a: &str) -> Result<(Option<String>, Option<String>), String> {
    if a.eq_ignore_ascii_case("level") {
        return Ok((Some(a.into()), Some(a.into())));
    }
    let parts: Vec<&str> = a.split([',', ';']).map(str::trim).filter(|p| !p.is_empty()).collect();
    let is_across = |t: &str| read_slope(t, Way::Across);
    let is_along = |t: &str| read_slope(t, Way::Along);
    match parts[..] {
        [one] => match (is_along(one), is_across(one)) {
            (Ok(_), _) => Ok((Some(one.into()), None)),
            (Err(_), Ok(_)) => Ok((None, Some(one.into()))),
            (Err(e), Err(_)) => Err(e.to_string()),
        },
        [along, across] => {
            is_along(along).map_err(|e| format!("along the way out: {e}"))?;
            let r = is_across(across).map_err(|e| format!("across it: {e}"))?;
            if !r.is_exact() {
                return Err("across it one value is wanted: give the steeper end".into());
            }
            Ok((Some(along.into()), Some(across.into())))
        }
        _ => Err(
            "expected the slope along the way out, a comma, the slope across it; for example 4 deg up, 6 deg left high"
                .into(),
        ),
    }
}

fn tree(a: &str) -> Result<Tree, String> {
    let expected = "expected a distance with its direction and, after a comma, how much higher or lower; for example 22 m ahead, 1 m up";
    let (place, height) = match a.split_once(',') {
        Some((p, h)) => (p.trim(), Some(h.trim())),
        None => (a, None),
    };
    let rise = height.map(rise).transpose()?;
    // The direction is the longest tail that reads as one.
    let cut = place
        .char_indices()
        .filter(|(_, c)| c.is_whitespace())
        .map(|(i, _)| i)
        .find(|i| read_heading(&place[*i..]).is_ok());
    let Some(cut) = cut else {
        return Err(format!("`{place}` does not say in which direction; {expected}"));
    };
    let (far, direction) = (place[..cut].trim(), place[cut..].trim());
    let paces = far.strip_suffix("paces").or_else(|| far.strip_suffix("pace"));
    let distance = match paces {
        Some(n) => Distance::Paces(read_one::<f64>(n.trim()).map_err(|e| format!("{e}; {expected}"))?),
        None => Distance::Tape(read_one::<Length>(far).map_err(|e| format!("{e}; {expected}"))?),
    };
    Ok(Tree { distance, direction: direction.to_owned(), rise })
}

fn rise(h: &str) -> Result<Length, String> {
    let lower = h.to_ascii_lowercase();
    let (number, sign) = if let Some(n) = lower.strip_suffix("up").or_else(|| lower.strip_suffix("higher")) {
        (n, 1.0)
    } else if let Some(n) = lower.strip_suffix("down").or_else(|| lower.strip_suffix("lower")) {
        (n, -1.0)
    } else if lower == "level" {
        return Ok(Length::ZERO);
    } else {
        return Err(format!("`{h}` does not say whether the tree stands higher or lower; for example 1 m up"));
    };
    read_one::<Length>(number.trim()).map(|l| l * sign).map_err(|e| e.to_string())
}

/// The girth, then what was seen of the tree. What nobody looked for stays unanswered.
fn girth(a: &str) -> Result<(Option<String>, TreeSigns), String> {
    let names: Vec<String> = TreeSigns::default().each().iter().map(|(name, _)| name.replace('_', " ")).collect();
    let (mut girth, mut none, mut found) = (None, false, Vec::new());
    // A comma alone may be a decimal one.
    let fields = a.split(';').flat_map(|f| f.split(", ")).map(str::trim).filter(|f| !f.is_empty());
    for (i, field) in fields.enumerate() {
        let clean = plain(field);
        if clean == "no signs" || clean == "no sign" || i > 0 && self::none(&clean) {
            none = true;
        } else if let Some(sign) = names.iter().position(|n| *n == clean) {
            found.push(sign);
        } else if is_unknown(field) || clean == "not looked" {
            // Nothing is said.
        } else if i == 0 {
            read_range::<Length>(field).map_err(|e| e.to_string())?;
            girth = Some(field.to_owned());
        } else {
            let near = nearest(&clean, names.iter().map(String::as_str));
            let near = near.map_or(String::new(), |n| format!("; did you mean {n}?"));
            return Err(format!(
                "`{field}` is not a sign that is known here{near}; expected no signs, not looked, or what was found: {}",
                names.join(", ")
            ));
        }
    }
    if none && !found.is_empty() {
        return Err("no signs, and a sign beside it; expected one of the two, for example 1.9 m; no signs".into());
    }
    let is = |i: usize| match none {
        true => Some(false),
        false => found.contains(&i).then_some(true),
    };
    let signs = TreeSigns {
        dead: is(0),
        leaning: is(1),
        fungus: is(2),
        cavity: is(3),
        lifted_roots: is(4),
        bank_edge: is(5),
        flooded: is(6),
        frozen_top: is(7),
    };
    Ok((girth, signs))
}

/// What a word for a line's material means.
pub(super) fn material(t: &str) -> Option<&'static str> {
    Some(match t.to_ascii_lowercase().as_str() {
        "synthetic" | "synthetic rope" | "hmpe" | "hmpe rope" => "hmpe",
        "wire" | "steel" | "steel wire" | "wire rope" | "steel rope" => "steel wire",
        "polyester" => "polyester",
        "nylon" | "polyamide" => "nylon",
        "polypropylene" => "polypropylene",
        "chain" => "chain",
        _ => return None,
    })
}

fn line(a: &str) -> Result<Line, String> {
    let mut out = Line::default();
    // Commas stand inside numbers, so a semicolon or a comma with a space divides.
    for field in a.split(';').flat_map(|f| f.split(", ")).map(str::trim).filter(|f| !f.is_empty()) {
        if let Some(m) = material(field) {
            out.material = Some(m);
        } else if let Ok(l) = read_one::<Length>(field) {
            if l.as_m() < 0.3 {
                out.diameter = Some(l);
            } else {
                out.length = Some(l);
            }
        } else {
            pieces::check_label(field)?;
            out.label = Some(field.to_owned());
        }
    }
    Ok(out)
}

fn people(a: &str) -> Result<(u32, u32), String> {
    let numbers: Vec<u32> = a.split(|c: char| !c.is_ascii_digit()).filter_map(|n| n.parse().ok()).collect();
    match numbers[..] {
        [total] => Ok((total, 0)),
        [total, trained] if trained <= total => Ok((total, trained)),
        [_, _] => Err("there can't be more trained people than people".into()),
        _ => Err("expected two numbers: people, and trained people; for example 3, 1".into()),
    }
}
