//! Reads slopes: a grade (`12 %`, rise over run), an angle (`7 deg`) or a ratio (`1 in 8`), and which way they go.
//!
//! A slope that is not level must say which way it goes, by a word or by a sign that is written out: a number that
//! could be up or down is asked about. A slope may be stated twice, `12 % (7 deg)`, and then both must agree.

use super::number::{is_space, scan};
use super::text::{LONGEST, TextError, about, split_range};
use crate::{Angle, Range};

/// Which words tell the way of a slope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Along a direction: up is positive.
    Along,
    /// Across it: the left side high is positive.
    Across,
    /// Along a vehicle's heading: nose up is positive.
    Nose,
}
impl Way {
    const fn words(self) -> (&'static [&'static str], &'static [&'static str]) {
        match self {
            Self::Along => (&["up", "uphill"], &["down", "downhill"]),
            Self::Across => (
                &["left high", "left side high", "right low", "right side low"],
                &["right high", "right side high", "left low", "left side low"],
            ),
            Self::Nose => (&["nose up", "up", "uphill"], &["nose down", "down", "downhill"]),
        }
    }
    /// What is expected, for an error.
    #[must_use]
    pub const fn expected(self) -> &'static str {
        match self {
            Self::Along => "a slope in deg or % with `up` or `down`, or `level`",
            Self::Across => "a slope in deg or % with `left high` or `right high`, or `level`",
            Self::Nose => "a slope in deg or % with `nose up` or `nose down`, or `level`",
        }
    }
    /// An example, for an error.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Along => "4 deg up",
            Self::Across => "10 % left high",
            Self::Nose => "5 deg nose down",
        }
    }
    /// The word that is written back for a positive and a negative slope.
    #[must_use]
    pub const fn written(self) -> (&'static str, &'static str) {
        match self {
            Self::Along => ("up", "down"),
            Self::Across => ("left high", "right high"),
            Self::Nose => ("nose up", "nose down"),
        }
    }
}

/// Two statements of one slope may differ by this much: what rounding to whole degrees and per cents does.
const AGREE: Angle = Angle::from_deg(0.6);

struct Slope {
    angle: Angle,
    /// +1 or −1 if a word said so.
    way: Option<f64>,
    signed: bool,
    at: usize,
    len: usize,
}

fn wrong(way: Way, at: usize, len: usize, message: String, hint: Option<String>) -> TextError {
    TextError { at, len: len.max(1), message, expected: way.expected().into(), example: way.example().into(), hint }
}

/// A number with its unit at the start of `s`; gives the angle, whether it was signed, and how many bytes it took.
fn magnitude(s: &str, at: usize, way: Way) -> Result<(Angle, bool, usize), TextError> {
    let n = scan(s, at)?;
    let rest = &s[n.len..];
    let gap = rest.len() - rest.trim_start_matches(is_space).len();
    let word = &rest[gap..];
    let here = n.len + gap;
    for (unit, kind) in [
        ("%", 0),
        ("per cent", 0),
        ("percent", 0),
        ("degrees", 1),
        ("degree", 1),
        ("deg", 1),
        ("\u{b0}", 1),
        ("rad", 2),
    ] {
        if word.starts_with(unit) {
            let angle = match kind {
                0 => Angle::of_grade(n.value * 0.01),
                1 => Angle::from_deg(n.value),
                _ => Angle::from_rad(n.value),
            };
            return Ok((angle, n.signed, here + unit.len()));
        }
    }
    let run = word.strip_prefix("in ").map(|r| (r, 3)).or_else(|| word.strip_prefix(':').map(|r| (r, 1)));
    if let Some((tail, skip)) = run
        && let Ok(d) = scan(tail, at + here + skip)
        && d.value > 0.0
    {
        return Ok((Angle::of_grade(n.value / d.value), n.signed, here + skip + d.len));
    }
    Err(wrong(
        way,
        at,
        n.len,
        format!("`{}` does not say whether it is degrees or per cent", s.trim()),
        Some("deg is an angle; % is a grade, rise over run; 1 in 8 is a grade too".into()),
    ))
}

fn part(s: &str, at: usize, way: Way) -> Result<Slope, TextError> {
    let cut = s.trim_start();
    let at = at + s.len() - cut.len();
    let s = cut.trim_end();
    if s.eq_ignore_ascii_case("level") {
        return Ok(Slope { angle: Angle::ZERO, way: None, signed: false, at, len: s.len() });
    }
    let (mut angle, signed, mut i) = magnitude(s, at, way)?;
    let skip = |i: usize| i + s[i..].len() - s[i..].trim_start().len();
    i = skip(i);
    let bracket = s[i..].starts_with('(');
    if bracket || s[i..].starts_with('=') {
        let inner = skip(i + 1);
        let (second, _, used) = magnitude(&s[inner..], at + inner, way)?;
        let end = inner + used;
        if (second - angle).abs() > AGREE {
            return Err(wrong(
                way,
                at,
                end,
                format!(
                    "`{}` contradicts itself: the first is {:.1} deg, the second {:.1} deg",
                    s.get(..end + usize::from(bracket)).unwrap_or(s),
                    angle.as_deg(),
                    second.as_deg()
                ),
                Some("a grade in per cent is rise over run: 12 % is 6.8 deg; state it once".into()),
            ));
        }
        // The steeper of two statements that agree.
        if second.abs() > angle.abs() {
            angle = second;
        }
        i = skip(end);
        if bracket {
            if !s[i..].starts_with(')') {
                return Err(wrong(way, at + i, 1, "the bracket is not closed".into(), None));
            }
            i = skip(i + 1);
        }
    }
    let word = s[i..].split(is_space).filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ").to_ascii_lowercase();
    let (plus, minus) = way.words();
    let said = if word.is_empty() {
        None
    } else if plus.contains(&word.as_str()) {
        Some(1.0)
    } else if minus.contains(&word.as_str()) {
        Some(-1.0)
    } else {
        return Err(wrong(
            way,
            at + i,
            s.len() - i,
            format!("`{}` does not tell which way the slope goes", &s[i..]),
            None,
        ));
    };
    if said.is_some() && angle.as_rad() < 0.0 {
        return Err(wrong(
            way,
            at,
            s.len(),
            format!("`{s}` has both a minus sign and a word for its way: they could cancel or agree"),
            Some("leave the sign out".into()),
        ));
    }
    Ok(Slope { angle, way: said, signed, at, len: s.len() })
}

fn signed(p: &Slope, shared: Option<f64>, way: Way, whole: &str) -> Result<Angle, TextError> {
    if p.angle == Angle::ZERO {
        return Ok(Angle::ZERO);
    }
    match p.way.or(if p.signed { Some(1.0) } else { shared }) {
        Some(s) => Ok(p.angle * s),
        None => {
            let (plus, minus) = way.written();
            Err(wrong(
                way,
                p.at,
                p.len,
                format!("`{}` does not say which way it goes", whole.trim()),
                Some(format!("write `{0} {plus}` or `{0} {minus}`", whole.trim())),
            ))
        }
    }
}

/// Reads a slope, or a range of slopes, with its way.
///
/// # Errors
/// If it has no unit, does not say which way it goes, says two things that disagree, or is 90 deg or more.
pub fn read_slope(text: &str, way: Way) -> Result<Range<Angle>, TextError> {
    if text.trim().is_empty() || text.len() > LONGEST {
        return Err(wrong(way, 0, 1, "no slope is written here".into(), None));
    }
    let (body, at, band) = match about(text) {
        Some((rest, at)) => (rest, at, super::text::ABOUT_BAND),
        None => (text, 0, 0.0),
    };
    let texts = split_range(body);
    if texts.len() > 3 {
        return Err(wrong(way, 0, text.len(), "a range has two or three values".into(), None));
    }
    let parts = texts.iter().map(|(s, a)| part(s, at + a, way)).collect::<Result<Vec<_>, _>>()?;
    let shared = parts.last().and_then(|p| p.way);
    let angles = parts.iter().map(|p| signed(p, shared, way, text)).collect::<Result<Vec<_>, _>>()?;
    if let Some((p, _)) = parts.iter().zip(&angles).find(|(_, a)| a.abs() >= Angle::HALF_TURN * 0.5) {
        return Err(wrong(
            way,
            p.at,
            p.len,
            "a slope of 90 deg or more is a wall".into(),
            Some("check the number and its unit".into()),
        ));
    }
    let made = match *angles {
        [one] => {
            let half = one.abs() * band;
            Range::new(one - half, one, one + half)
        }
        _ if band > 0.0 => {
            return Err(wrong(way, 0, text.len(), "`about` and a range say the same thing twice".into(), None));
        }
        [low, high] => Range::between(low, high),
        [low, likely, high] => Range::new(low, likely, high),
        _ => return Err(wrong(way, 0, text.len(), "a range has two or three values".into(), None)),
    };
    made.map_err(|_| {
        wrong(
            way,
            0,
            text.len(),
            format!("the values of `{}` are out of order", text.trim()),
            Some("from the lowest to the highest; down counts as negative: 5 deg down .. 2 deg down".into()),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn deg(t: &str, way: Way) -> [f64; 3] {
        read_slope(t, way).unwrap_or_else(|e| panic!("{t}: {e}")).values().map(Angle::as_deg)
    }
    fn near(a: [f64; 3], b: [f64; 3]) {
        assert!(a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9), "{a:?} {b:?}");
    }

    #[test]
    fn closed_form_slopes() {
        near(deg("4 deg up", Way::Along), [4.0; 3]);
        near(deg("4 deg downhill", Way::Along), [-4.0; 3]);
        near(deg("-4 deg", Way::Along), [-4.0; 3]);
        near(deg("+4\u{b0}", Way::Along), [4.0; 3]);
        near(deg("level", Way::Across), [0.0; 3]);
        near(deg("0 deg", Way::Across), [0.0; 3]);
        near(deg("100 % up", Way::Along), [45.0; 3]);
        near(deg("1 in 1 up", Way::Along), [45.0; 3]);
        near(deg("1:1 down", Way::Along), [-45.0; 3]);
        near(deg("24 deg right low", Way::Across), [24.0; 3]);
        near(deg("24 deg right high", Way::Across), [-24.0; 3]);
        near(deg("2 deg down .. 1 deg up", Way::Along), [-2.0, -0.5, 1.0]);
        near(deg("2 deg .. 3 deg .. 5 deg up", Way::Along), [2.0, 3.0, 5.0]);
        near(deg("about 10 deg up", Way::Along), [9.0, 10.0, 11.0]);
        near(deg("12 % (7 deg) up", Way::Along), [7.0; 3]);
        near(deg("5 deg nose down", Way::Nose), [-5.0; 3]);
    }

    #[test]
    fn regress_what_is_refused() {
        for (t, says) in [
            ("4 deg", "which way"),
            ("4 up", "degrees or per cent"),
            ("-4 deg down", "both a minus sign"),
            ("12 % (20 deg) up", "contradicts"),
            ("12 % (7 deg up", "not closed"),
            ("90 deg up", "wall"),
            ("4 deg sideways", "which way"),
            ("5 deg up .. 2 deg up", "out of order"),
            ("NaN deg up", "not a number"),
            ("", "no slope"),
        ] {
            let e = read_slope(t, Way::Along).unwrap_err();
            assert!(e.to_string().contains(says), "{t}: {e}");
        }
    }
}
