//! The files of the app before they are packed: what stands in `crates/web/static`, and what is filled in.

use super::lean::lean;
use super::pack;
use crate::util;
use std::path::Path;

/// One file of the app.
pub struct File {
    /// Its path in the app, with forward slashes.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}
impl File {
    /// A file.
    pub fn new(path: &str, bytes: Vec<u8>) -> Self {
        Self { path: path.to_owned(), bytes }
    }
}

/// What the parts of the style are joined from, in the order of their names.
const STYLES: &str = "style/";
/// The content security policy, one directive a line.
const POLICY: &str = "policy.txt";
/// The page.
const PAGE: &str = "index.html";
/// The service worker.
const KEEPER: &str = "sw.js";
/// A directive that browsers heed in a header only.
const HEADER_ONLY: &str = "frame-ancestors";

/// Every file of the folder as it stands, sorted.
pub fn statics(dir: &Path) -> Result<Vec<File>, String> {
    let kinds = ["html", "js", "css", "txt", "svg", "png", "webmanifest"];
    let paths = util::files_below(dir, &kinds);
    let read = |p: std::path::PathBuf| {
        let bytes = std::fs::read(&p).map_err(|e| format!("{}: {e}", p.display()))?;
        Ok(File { path: util::relative(dir, &p), bytes })
    };
    paths.into_iter().map(read).collect()
}

/// The static files with their blanks filled; `made` are the files that the page needs beside them.
///
/// The style is joined from its parts, the page gets the policy, and the service worker the list of all files with
/// the hash of each, from which its version follows.
pub fn filled(statics: Vec<File>, made: &[File]) -> Result<Vec<File>, String> {
    let mut style = Vec::new();
    let mut policy = String::new();
    let mut keeper = String::new();
    let mut out = Vec::new();
    for f in statics {
        if f.path.starts_with(STYLES) {
            style.extend(f.bytes);
            continue;
        }
        match f.path.as_str() {
            POLICY => policy = text(f)?,
            KEEPER => keeper = text(f)?,
            _ => out.push(f),
        }
    }
    let style = lean(&String::from_utf8(style).map_err(|e| format!("{STYLES}: {e}"))?);
    out.push(File::new("style.css", style.into_bytes()));
    let page = out.iter_mut().find(|f| f.path == PAGE).ok_or("there is no page")?;
    let words = String::from_utf8(std::mem::take(&mut page.bytes)).map_err(|e| format!("{PAGE}: {e}"))?;
    let heeded: Vec<&str> = policy.lines().filter(|l| !l.starts_with(HEADER_ONLY)).collect();
    page.bytes = blank(&words, PAGE, "{policy}", &heeded.join("; "))?.into_bytes();
    let mut listed: Vec<(String, String)> =
        out.iter().chain(made).map(|f| (f.path.clone(), pack::hash(&f.bytes))).collect();
    listed.sort();
    let version = pack::hash(format!("{keeper}{listed:?}").as_bytes());
    let short: String = version.chars().filter(char::is_ascii_alphanumeric).take(16).collect();
    let rows: Vec<String> = listed.iter().map(|(path, hash)| format!("  \"{path}\": \"sha256-{hash}\"")).collect();
    let keeper = blank(&keeper, KEEPER, "\"{files}\"", &format!("{{\n{}\n}}", rows.join(",\n")))?;
    let keeper = blank(&keeper, KEEPER, "{version}", &short)?;
    out.push(File::new(KEEPER, keeper.into_bytes()));
    Ok(out)
}

fn text(f: File) -> Result<String, String> {
    String::from_utf8(f.bytes).map_err(|e| format!("{}: {e}", f.path))
}

/// Fills the one place where a word stands.
fn blank(text: &str, file: &str, word: &str, with: &str) -> Result<String, String> {
    match text.matches(word).count() {
        1 => Ok(text.replacen(word, with, 1)),
        n => Err(format!("{file}: {word} should stand in it once, and stands there {n} times")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn some(policy: &str) -> Vec<File> {
        let file = |path: &str, text: &str| File::new(path, text.as_bytes().to_vec());
        vec![
            file("index.html", "<meta content=\"{policy}\">"),
            file("policy.txt", policy),
            file("style/1.css", "a{}"),
            file("style/2.css", "b{}"),
            file("sw.js", "const version = \"{version}\", files = \"{files}\";"),
        ]
    }
    fn of<'f>(files: &'f [File], path: &str) -> &'f str {
        let f = files.iter().find(|f| f.path == path).unwrap();
        core::str::from_utf8(&f.bytes).unwrap()
    }

    #[test]
    fn the_page_gets_the_policy_and_the_style_its_parts() {
        let out = filled(some("default-src 'none'\nframe-ancestors 'none'\nimg-src 'self'"), &[]).unwrap();
        assert_eq!(of(&out, "index.html"), "<meta content=\"default-src 'none'; img-src 'self'\">");
        assert_eq!(of(&out, "style.css"), "a{}b{}\n");
        assert!(out.iter().all(|f| f.path != "policy.txt"));
    }
    #[test]
    fn the_service_worker_lists_every_file_but_itself_and_its_version_follows_from_them() {
        let made = |text: &str| vec![File::new("app.js", text.as_bytes().to_vec())];
        let (one, other) = (filled(some(""), &made("1")).unwrap(), filled(some(""), &made("2")).unwrap());
        for path in ["index.html", "style.css", "app.js"] {
            assert!(of(&one, "sw.js").contains(&format!("\"{path}\": \"sha256-")), "{path}");
        }
        assert!(!of(&one, "sw.js").contains("\"sw.js\""));
        let version = |out: &[File]| of(out, "sw.js").split('"').nth(1).unwrap().to_owned();
        assert_eq!(version(&one).len(), 16);
        assert_ne!(version(&one), version(&other));
        assert_eq!(version(&one), version(&filled(some(""), &made("1")).unwrap()));
    }
    #[test]
    fn a_template_without_its_blank_is_refused() {
        let mut files = some("");
        files[0].bytes = b"<meta>".to_vec();
        assert!(filled(files, &[]).is_err());
    }
}
