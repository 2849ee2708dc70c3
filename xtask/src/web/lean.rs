//! Takes out of scripts and styles what only people read: comments that have lines of their own, and the space before a line.

/// A text without comments that fill whole lines and without the space before each line. What stands in a line stays as it is.
pub fn lean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut inside = false;
    for line in text.lines().map(str::trim) {
        let opens = line.starts_with("/*");
        if inside || opens {
            inside = !line.contains("*/");
            let behind = line.split_once("*/").map_or("", |(_, rest)| rest.trim());
            if behind.is_empty() {
                continue;
            }
            out.push_str(behind);
        } else if line.is_empty() || line.starts_with("//") {
            continue;
        } else {
            out.push_str(line);
        }
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::lean;

    #[test]
    fn comments_and_indents_go_and_nothing_else() {
        let script = "/** What it does.\n * @param {number} x\n */\nfunction f(x) {\n    // Twice.\n    return x * 2; // so\n}\n\n/* short */ f('//');\n";
        assert_eq!(lean(script), "function f(x) {\nreturn x * 2; // so\n}\nf('//');\n");
        assert_eq!(lean("a {\n  b: c;\n}\n/* more\n   of it */\nd {}\n"), "a {\nb: c;\n}\nd {}\n");
    }
}
