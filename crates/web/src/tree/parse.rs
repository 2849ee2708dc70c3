//! From a text to a tree.

use super::Tree;

/// How deep lists and objects may be nested: no document of ours needs ten.
const DEEPEST: u32 = 64;

/// The value that a whole text is.
pub(super) fn whole(text: &str) -> Option<Tree> {
    let mut p = Parser { text, at: 0 };
    let value = p.value(0)?;
    p.space();
    (p.at == text.len()).then_some(value)
}

struct Parser<'t> {
    text: &'t str,
    at: usize,
}
impl Parser<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }
    fn space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\n' | b'\r' | b'\t')) {
            self.at += 1;
        }
    }
    /// Goes past what is expected here, with space before it.
    fn take(&mut self, what: &str) -> bool {
        self.space();
        let there = self.rest().starts_with(what);
        if there {
            self.at += what.len();
        }
        there
    }
    fn value(&mut self, depth: u32) -> Option<Tree> {
        self.space();
        match self.peek()? {
            b'"' => self.string().map(Tree::Text),
            b'{' | b'[' if depth >= DEEPEST => None,
            b'[' => {
                let mut all = Vec::new();
                self.members("[", "]", |p| {
                    all.push(p.value(depth + 1)?);
                    Some(())
                })?;
                Some(Tree::List(all))
            }
            b'{' => {
                let mut all = Vec::new();
                self.members("{", "}", |p| {
                    p.space();
                    let name = p.string()?;
                    p.take(":").then_some(())?;
                    all.push((name, p.value(depth + 1)?));
                    Some(())
                })?;
                Some(Tree::Object(all))
            }
            b't' => self.take("true").then_some(Tree::Flag(true)),
            b'f' => self.take("false").then_some(Tree::Flag(false)),
            b'n' => self.take("null").then_some(Tree::Null),
            _ => self.number(),
        }
    }
    fn members(&mut self, open: &str, close: &str, mut one: impl FnMut(&mut Self) -> Option<()>) -> Option<()> {
        self.take(open).then_some(())?;
        if self.take(close) {
            return Some(());
        }
        loop {
            one(self)?;
            if self.take(close) {
                return Some(());
            }
            self.take(",").then_some(())?;
        }
    }
    fn number(&mut self) -> Option<Tree> {
        let rest = self.rest();
        let end = rest.find(|c: char| !matches!(c, '0'..='9' | '+' | '-' | '.' | 'e' | 'E')).unwrap_or(rest.len());
        let number = rest.get(..end)?;
        // Rust reads more than JSON allows, such as `+1` and `.5`; nobody writes these here.
        let n = number.parse::<f64>().ok()?;
        self.at += end;
        n.is_finite().then_some(Tree::Number(n))
    }
    fn string(&mut self) -> Option<String> {
        self.take("\"").then_some(())?;
        let mut out = String::new();
        loop {
            let rest = self.rest();
            let plain = rest.find(['"', '\\'])?;
            out.push_str(rest.get(..plain)?);
            let sign = *rest.as_bytes().get(plain)?;
            self.at += plain + 1;
            if sign == b'"' {
                return Some(out);
            }
            let escape = self.peek()?;
            self.at += 1;
            out.push(match escape {
                b'n' => '\n',
                b't' => '\t',
                b'r' => '\r',
                b'b' => '\u{8}',
                b'f' => '\u{c}',
                b'u' => self.coded()?,
                b'"' | b'\\' | b'/' => char::from(escape),
                _ => return None,
            });
        }
    }
    /// The character behind `\u`.
    fn coded(&mut self) -> Option<char> {
        let first = self.four()?;
        if !(0xD800..0xDC00).contains(&first) {
            return char::from_u32(first);
        }
        self.rest().starts_with("\\u").then_some(())?;
        self.at += 2;
        let second = self.four()?;
        (0xDC00..0xE000).contains(&second).then_some(())?;
        char::from_u32(0x10000 + ((first - 0xD800) << 10) + (second - 0xDC00))
    }
    fn four(&mut self) -> Option<u32> {
        let digits = self.rest().get(..4)?;
        let code = u32::from_str_radix(digits, 16).ok()?;
        self.at += 4;
        Some(code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    fn same(tree: &Tree, value: &Value) -> bool {
        match (tree, value) {
            (Tree::Null, Value::Null) => true,
            (Tree::Flag(a), Value::Bool(b)) => a == b,
            (Tree::Number(a), Value::Number(b)) => b.as_f64().is_some_and(|b| a.to_bits() == b.to_bits()),
            (Tree::Text(a), Value::String(b)) => a == b,
            (Tree::List(a), Value::Array(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b)),
            (Tree::Object(a), Value::Object(b)) => {
                a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.0 == *b.0 && same(&a.1, b.1))
            }
            _ => false,
        }
    }

    #[test]
    fn other_program_reads_the_same_tree() {
        let more = [
            r#" [ 1 , -2.5e-3,0.1,1e300, true,false , null , "" ] "#,
            r#"{"a\n\t\"\\\/\u00e9\ud83d\ude00": {"b":[[],{}]}}"#,
            "17",
            "\"\\b\\f\\r ü\"",
        ];
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
        let examples = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path());
        let files = examples.filter(|p| p.extension().is_some_and(|e| e == "json"));
        let files: Vec<String> = files.map(|p| std::fs::read_to_string(p).unwrap()).collect();
        assert!(files.len() > 8);
        for text in files.iter().map(String::as_str).chain(more) {
            let value: Value = serde_json::from_str(text).unwrap();
            assert!(same(&whole(text).unwrap(), &value), "{text}");
        }
    }
    #[test]
    fn regress_what_is_no_json_is_refused() {
        let deep = "[".repeat(100) + &"]".repeat(100);
        let wrong = [
            "",
            " ",
            "{",
            "[1",
            "[1,]",
            "{\"a\"}",
            "{\"a\":}",
            "{a:1}",
            "\"",
            "\"\\x\"",
            "\"\\ud83d\"",
            "1 2",
            "nul",
            "-",
            "1e999",
            "[1}",
            &deep,
        ];
        for text in wrong {
            assert_eq!(whole(text), None, "{text}");
        }
    }
}
