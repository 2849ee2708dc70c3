//! How a number is written by people: signs, thousands groups, fractions; and what is refused because it could be
//! read in two ways.

use super::text::TextError;

/// A number found at the start of a text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scanned {
    /// Its value.
    pub(super) value: f64,
    /// How many bytes it took.
    pub(super) len: usize,
    /// Whether a sign was written.
    pub(super) signed: bool,
}

const SPACES: [char; 4] = [' ', '\u{a0}', '\u{2009}', '\u{202f}'];

/// Whether this is a space that may stand inside a number.
pub(super) fn is_space(c: char) -> bool {
    SPACES.contains(&c) || c == '\t'
}

fn digits(s: &str) -> usize {
    s.bytes().take_while(u8::is_ascii_digit).count()
}

fn refuse(at: usize, len: usize, message: String, hint: impl Into<String>) -> TextError {
    TextError {
        at,
        len: len.max(1),
        message,
        expected:
            "a number with a point before decimals and, if anything, a comma or a space between groups of three digits"
                .into(),
        example: "9,500 lb   or   30 000 N   or   1.5 t".into(),
        hint: Some(hint.into()),
    }
}

/// Reads the number at the start of `s`. `at` is where `s` starts in the whole text, for the error's position.
///
/// # Errors
/// If there is none, or it could be read in two ways (`1,5`), or it is too large.
pub(super) fn scan(s: &str, at: usize) -> Result<Scanned, TextError> {
    let (sign, mut i) = match s.chars().next() {
        Some('-') => ("-", 1),
        Some('+') => ("+", 1),
        Some('\u{2212}') => ("-", '\u{2212}'.len_utf8()),
        _ => ("", 0),
    };
    let body = &s[i..];
    let first = digits(body);
    if first == 0 {
        let word: String = s.chars().take_while(|c| !is_space(*c)).take(20).collect();
        return Err(TextError {
            at,
            len: word.len().max(1),
            message: if word.is_empty() {
                "a number is missing here".into()
            } else {
                format!("`{word}` is not a number")
            },
            expected: "a number in ordinary digits; not-a-number and infinity are no quantities".into(),
            example: "0.5 t".into(),
            hint: body.starts_with('.').then(|| format!("write a zero before the point: 0{}", body.trim_end())),
        });
    }
    let mut clean = String::with_capacity(16);
    clean.push_str(sign);
    clean.push_str(&body[..first]);
    i += first;
    let mut group: Option<char> = None;
    let mut fraction = None;
    while let Some(c) = s[i..].chars().next() {
        let after = &s[i + c.len_utf8()..];
        let run = digits(after);
        if run == 0 || !(is_space(c) || matches!(c, ',' | '_' | '\'' | '\u{2019}')) {
            break;
        }
        let whole = &s[..i + c.len_utf8() + run];
        if is_space(c) && group.is_none() && after[run..].starts_with('/') {
            fraction = Some(i + c.len_utf8());
            break;
        }
        let proper = run == 3
            && first <= 3
            && !body.starts_with('0')
            && group.is_none_or(|g| g == c || (is_space(g) && is_space(c)));
        if !proper {
            return Err(match c {
                ',' if run != 3 => refuse(
                    at,
                    whole.len(),
                    format!("`{whole}` could be read in two ways: the comma only separates thousands here"),
                    format!("for a decimal write a point: {}", whole.replacen(',', ".", 1)),
                ),
                c if is_space(c) => refuse(
                    at,
                    whole.len(),
                    format!("`{whole}` is two numbers where one was expected"),
                    "groups of thousands have exactly three digits: 30 000; a range is written 2 t .. 3 t",
                ),
                _ => refuse(
                    at,
                    whole.len(),
                    format!("`{whole}` is not in proper groups of thousands"),
                    "write it without separators, or in groups of three digits: 12,500",
                ),
            });
        }
        group = Some(c);
        clean.push_str(&after[..run]);
        i += c.len_utf8() + run;
    }
    // A fraction: 3/4, or after a whole number: 1 3/4.
    let numerator_at = fraction.unwrap_or(usize::from(!sign.is_empty()) * (s.len() - body.len()));
    let numerator = digits(&s[numerator_at..]);
    let tail = &s[numerator_at + numerator..];
    if (fraction.is_some() || group.is_none()) && tail.starts_with('/') {
        let den = digits(&tail[1..]);
        let end = numerator_at + numerator + 1 + den;
        let n = s[numerator_at..numerator_at + numerator].parse::<f64>();
        let d = tail[1..1 + den].parse::<f64>();
        let whole = if fraction.is_some() { clean.parse::<f64>() } else { Ok(0.0) };
        return match (whole, n, d) {
            (Ok(w), Ok(n), Ok(d)) if d > 0.0 => {
                let v = w.abs() + n / d;
                Ok(Scanned { value: if sign == "-" { -v } else { v }, len: end, signed: !sign.is_empty() })
            }
            _ => Err(refuse(
                at,
                end,
                format!("`{}` is not a fraction", &s[..end]),
                "write it as 3/4, or as a decimal: 0.75",
            )),
        };
    }
    if let Some(rest) = s[i..].strip_prefix('.') {
        let run = digits(rest);
        if run == 0 && !rest.starts_with('.') {
            return Err(refuse(
                at,
                i + 1,
                format!("`{}` has nothing after its point", &s[..=i]),
                "write the decimals, or leave the point out",
            ));
        }
        if run > 0 {
            clean.push('.');
            clean.push_str(&rest[..run]);
            i += 1 + run;
            let next = &s[i..];
            let more = next.starts_with(['.', ',']) && digits(&next[1..]) > 0;
            if more {
                let end = i + 1 + digits(&next[1..]);
                return Err(refuse(
                    at,
                    end,
                    format!("`{}` could be read in two ways", &s[..end]),
                    "one point before the decimals, commas or spaces between groups of three digits before it",
                ));
            }
        }
    }
    if s[i..].starts_with(['e', 'E']) {
        let tail = &s[i + 1..];
        let sign_len = usize::from(tail.starts_with(['+', '-']));
        let run = digits(&tail[sign_len..]);
        if run > 0 {
            clean.push('e');
            clean.push_str(&tail[..sign_len + run]);
            i += 1 + sign_len + run;
        }
    }
    match clean.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(Scanned { value, len: i, signed: !sign.is_empty() }),
        _ => Err(refuse(at, i, format!("`{}` is too large to be a number", &s[..i.min(40)]), "check the digits")),
    }
}
