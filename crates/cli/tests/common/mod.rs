//! Runs the program as its users do.

#![allow(dead_code, reason = "each test file uses some of these")]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// What came of a run.
pub struct Run {
    pub status: i32,
    pub stdout: String,
    pub stderr: String,
}

fn program() -> Command {
    let mut c = Command::new(env!("CARGO_BIN_EXE_unmire"));
    for name in ["NO_COLOR", "COLUMNS", "TERM"] {
        c.env_remove(name);
    }
    c
}
fn told(o: Output) -> Run {
    Run {
        status: o.status.code().unwrap_or(-1),
        stdout: String::from_utf8(o.stdout).unwrap(),
        stderr: String::from_utf8(o.stderr).unwrap(),
    }
}

/// Runs it in the folder of the examples.
pub fn unmire(arguments: &[&str]) -> Run {
    unmire_in(&examples(), arguments)
}
/// Runs it in a folder.
pub fn unmire_in(folder: &Path, arguments: &[&str]) -> Run {
    told(program().current_dir(folder).args(arguments).stdin(Stdio::null()).output().unwrap())
}
/// Runs it with a text on standard input.
pub fn unmire_fed(folder: &Path, arguments: &[&str], input: &str) -> Run {
    let mut child = program()
        .current_dir(folder)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    // The program may stop reading before the end.
    let _ = stdin.write_all(input.as_bytes());
    drop(stdin);
    told(child.wait_with_output().unwrap())
}

/// The folder of the examples.
pub fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// The case files of the examples, in order.
pub fn cases() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(examples())
        .unwrap()
        .filter_map(|e| e.unwrap().file_name().into_string().ok())
        .filter(|n| n.ends_with(".toml"))
        .collect();
    names.sort();
    names
}

/// The verb that suits an example: a rig that is given is checked, everything else is planned.
pub fn verb(case: &str) -> &'static str {
    let text = std::fs::read_to_string(examples().join(case)).unwrap();
    let given = text.lines().any(|l| l.trim() == "[rig]") || text.contains("unmire.rig/1");
    if given { "check" } else { "plan" }
}

/// A folder of its own for a test, removed when it is dropped.
pub struct Folder(pub PathBuf);
impl Folder {
    pub fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("unmire-test-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }
}
impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Holds a text against the reviewed file; `UPDATE_EXPECT=1` writes it anew.
pub fn expect(path: &Path, text: &str) {
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        std::fs::write(path, text).unwrap();
        return;
    }
    let expected = std::fs::read_to_string(path).unwrap_or_default();
    if text != expected {
        let first = text.lines().zip(expected.lines()).position(|(a, b)| a != b).unwrap_or(0);
        let line = |t: &str| t.lines().nth(first).unwrap_or_default().to_owned();
        panic!(
            "{} differs from what was reviewed, first in line {}:\n  was: {}\n  now: {}\nUPDATE_EXPECT=1 writes it anew; look at it with git diff",
            path.file_name().unwrap().to_string_lossy(),
            first + 1,
            line(&expected),
            line(text)
        );
    }
}
