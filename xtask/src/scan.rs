//! A small reader of Rust text: enough to find functions, their doc comments, their return types and their bodies.
//! It is no parser; what it can't tell apart it treats as code.

/// A function.
#[derive(Debug)]
pub struct Function {
    /// Its name.
    pub name: String,
    /// Whether it is `pub` (and not `pub(crate)`).
    pub public: bool,
    /// Whether it is under `#[test]`.
    pub test: bool,
    /// Whether it stands in a part that is compiled for tests only.
    pub in_tests: bool,
    /// Its doc comment, one line a line.
    pub docs: String,
    /// Its return type as written; empty for none.
    pub returns: String,
    /// Its body, comments and strings left in.
    pub body: String,
    /// The line on which `fn` stands, counted from one.
    pub line: usize,
}

/// The text with comments, strings and characters blanked, so that braces and words in them don't count.
/// Length and line breaks stay.
pub fn mask(text: &str) -> String {
    let b = text.as_bytes();
    let mut out = b.to_vec();
    let blank = |out: &mut [u8], from: usize, to: usize| {
        for c in out.iter_mut().take(to).skip(from) {
            if *c != b'\n' {
                *c = b' ';
            }
        }
    };
    let at = |i: usize| b.get(i).copied().unwrap_or(0);
    let mut i = 0;
    while i < b.len() {
        let end = match (at(i), at(i + 1)) {
            (b'/', b'/') => find(b, i, b"\n").unwrap_or(b.len()),
            (b'/', b'*') => find(b, i + 2, b"*/").map_or(b.len(), |e| e + 2),
            (b'r', b'"' | b'#') if !is_word(at(i.wrapping_sub(1))) => match raw_string(b, i) {
                Some(end) => end,
                None => {
                    i += 1;
                    continue;
                }
            },
            (b'"', _) => quoted(b, i, b'"'),
            (b'\'', b'\\') => quoted(b, i, b'\''),
            (b'\'', _) if char_literal(text, i).is_some() => char_literal(text, i).unwrap_or(i + 1),
            _ => {
                i += 1;
                continue;
            }
        };
        blank(&mut out, i, end);
        i = end;
    }
    String::from_utf8_lossy(&out).into_owned()
}

fn find(b: &[u8], from: usize, what: &[u8]) -> Option<usize> {
    b.get(from..)?.windows(what.len()).position(|w| w == what).map(|p| p + from)
}

fn is_word(c: u8) -> bool {
    c.is_ascii_alphanumeric() || c == b'_'
}

fn quoted(b: &[u8], start: usize, quote: u8) -> usize {
    let mut i = start + 1;
    while i < b.len() {
        match b[i] {
            b'\\' => i += 1,
            c if c == quote => return i + 1,
            _ => {}
        }
        i += 1;
    }
    b.len()
}

fn raw_string(b: &[u8], start: usize) -> Option<usize> {
    let hashes = b.get(start + 1..)?.iter().take_while(|c| **c == b'#').count();
    if b.get(start + 1 + hashes) != Some(&b'"') {
        return None;
    }
    let mut close = vec![b'"'];
    close.extend(std::iter::repeat_n(b'#', hashes));
    find(b, start + 2 + hashes, &close).map(|e| e + close.len())
}

fn char_literal(text: &str, start: usize) -> Option<usize> {
    let rest = text.get(start + 1..)?;
    let c = rest.chars().next()?;
    rest[c.len_utf8()..].starts_with('\'').then_some(start + 1 + c.len_utf8() + 1)
}

/// The position after the bracket that closes the one at `open`.
fn closing(masked: &[u8], open: usize, pair: (u8, u8)) -> usize {
    let mut depth = 0_usize;
    for (i, c) in masked.iter().enumerate().skip(open) {
        if *c == pair.0 {
            depth += 1;
        } else if *c == pair.1 {
            depth -= 1;
            if depth == 0 {
                return i + 1;
            }
        }
    }
    masked.len()
}

/// The parts that are compiled for tests only: from `#[cfg(test)]` to the end of its module.
fn test_parts(masked: &str) -> Vec<(usize, usize)> {
    masked
        .match_indices("#[cfg(test)]")
        .map(|(i, _)| {
            let open = find(masked.as_bytes(), i, b"{").unwrap_or(masked.len());
            (i, closing(masked.as_bytes(), open, (b'{', b'}')))
        })
        .collect()
}

/// Every function of a file.
pub fn functions(text: &str) -> Vec<Function> {
    let masked = mask(text);
    let m = masked.as_bytes();
    let tests = test_parts(&masked);
    let mut out = Vec::new();
    for (at, _) in masked.match_indices("fn ") {
        if at > 0 && is_word(m[at - 1]) {
            continue;
        }
        let name: String = masked[at + 3..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        if name.is_empty() {
            continue;
        }
        let Some(open) = find(m, at, b"(") else { continue };
        let after = closing(m, open, (b'(', b')'));
        let brace = find(m, after, b"{").unwrap_or(m.len());
        let semicolon = find(m, after, b";").unwrap_or(m.len());
        let (end_of_head, end) =
            if brace < semicolon { (brace, closing(m, brace, (b'{', b'}'))) } else { (semicolon, semicolon) };
        let head = masked[after..end_of_head].split(" where").next().unwrap_or_default();
        let returns = head.trim().strip_prefix("->").map(str::trim).unwrap_or_default().to_owned();
        let line_start = masked[..at].rfind('\n').map_or(0, |p| p + 1);
        let before = &masked[line_start..at];
        let (docs, attributes) = above(text, line_start);
        out.push(Function {
            name,
            public: before.trim_start().starts_with("pub ")
                || before.contains("pub const ")
                || before.contains("pub fn"),
            test: attributes.contains("#[test]"),
            in_tests: tests.iter().any(|(a, b)| (*a..*b).contains(&at)),
            docs,
            returns,
            body: text[end_of_head..end].to_owned(),
            line: text[..at].matches('\n').count() + 1,
        });
    }
    out
}

/// The doc comment and the attributes straight above a line.
fn above(text: &str, line_start: usize) -> (String, String) {
    let (mut docs, mut attributes) = (Vec::new(), String::new());
    for line in text[..line_start].lines().rev().map(str::trim) {
        if let Some(d) = line.strip_prefix("///") {
            docs.push(d.strip_prefix(' ').unwrap_or(d));
        } else if line.starts_with("#[") || line.starts_with("//") {
            attributes.push_str(line);
        } else {
            break;
        }
    }
    docs.reverse();
    (docs.join("\n"), attributes)
}

/// The part of a doc comment under a heading, up to the next one.
pub fn section<'a>(docs: &'a str, heading: &str) -> Option<&'a str> {
    let start = docs.find(heading)? + heading.len();
    let rest = &docs[start..];
    Some(rest.find("\n# ").map_or(rest, |e| &rest[..e]))
}

/// The string literal that is the last argument of each call of a function, as in `Step::new(… , "source")`.
pub fn last_literals(text: &str, call: &str) -> Vec<(usize, String)> {
    let masked = mask(text);
    let mut out = Vec::new();
    for (at, _) in masked.match_indices(call) {
        let open = at + call.len() - 1;
        let end = closing(masked.as_bytes(), open, (b'(', b')'));
        let inside = &text[open..end];
        let tail = inside.rfind('"').map_or("", |q| &inside[q + 1..]);
        let closes_the_call = tail.chars().all(|c| c.is_whitespace() || c == ',' || c == ')');
        if let (Some(last), true) = (inside.split('"').skip(1).step_by(2).last(), closes_the_call) {
            out.push((text[..at].matches('\n').count() + 1, last.to_owned()));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAMPLE: &str = r##"
/// Gives a force. "fn not_me() {"
///
/// # Source
/// `statics`.
///
/// # Errors
/// None.
#[must_use]
pub fn force(x: f64, c: char) -> Force {
    let brace = '}'; let s = "}"; // }
    if x > 0.0 { Force::from_n(x) } else { Step::new("a", "b", x, "statics") }
}
pub(crate) fn inner<'a>(x: &'a str) -> &'a str { x }
#[cfg(test)]
mod tests {
    #[test]
    fn closed_form_force() { assert!(force(1.0, '}') > Force::ZERO); }
}
"##;

    #[test]
    fn functions_are_found_with_docs_returns_and_bodies() {
        let f = functions(SAMPLE);
        let names: Vec<&str> = f.iter().map(|f| f.name.as_str()).collect();
        assert_eq!(names, ["force", "inner", "closed_form_force"]);
        assert!(f[0].public && !f[1].public && f[2].test && f[2].in_tests && !f[0].in_tests);
        assert_eq!(f[0].returns, "Force");
        assert_eq!(section(&f[0].docs, "# Source").map(str::trim), Some("`statics`."));
        assert!(f[0].body.ends_with('}') && f[2].body.contains("force("));
    }
    #[test]
    fn the_last_literal_of_a_call_is_its_source() {
        assert_eq!(last_literals(SAMPLE, "Step::new("), [(12, "statics".to_owned())]);
    }
}
