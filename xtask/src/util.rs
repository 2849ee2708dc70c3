//! Small helpers: files, the root of the repository, running a command.

use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus};

/// What a chore gives: nothing, or a message.
pub type Outcome = Result<(), String>;

/// The root of the repository.
pub fn root() -> PathBuf {
    let here = std::env::var("CARGO_MANIFEST_DIR").unwrap_or_else(|_| env!("CARGO_MANIFEST_DIR").to_owned());
    let here = PathBuf::from(here);
    here.parent().map(Path::to_path_buf).unwrap_or(here)
}

/// The folder of the build output, which this program itself was built into.
pub fn output() -> Result<PathBuf, String> {
    let exe = std::env::current_exe().map_err(|e| format!("where is xtask? {e}"))?;
    exe.ancestors().nth(2).map(Path::to_path_buf).ok_or_else(|| format!("{} lies in no build folder", exe.display()))
}

/// A file's text.
pub fn read(path: &Path) -> Result<String, String> {
    std::fs::read_to_string(path).map_err(|e| format!("{}: {e}", path.display()))
}

/// Writes a file if its text is not there already.
pub fn write_if_changed(path: &Path, text: &str) -> Outcome {
    if std::fs::read_to_string(path).ok().as_deref() == Some(text) {
        return Ok(());
    }
    if let Some(dir) = path.parent() {
        std::fs::create_dir_all(dir).map_err(|e| format!("{}: {e}", dir.display()))?;
    }
    std::fs::write(path, text).map_err(|e| format!("{}: {e}", path.display()))
}

/// The files straight in a folder with an ending, sorted.
pub fn files_in(dir: &Path, ending: &str) -> Vec<PathBuf> {
    let mut out: Vec<PathBuf> = std::fs::read_dir(dir)
        .into_iter()
        .flatten()
        .filter_map(|e| e.ok().map(|e| e.path()))
        .filter(|p| p.is_file() && p.extension().is_some_and(|x| x == ending))
        .collect();
    out.sort();
    out
}

/// The files in a folder and below with one of some endings, sorted; build output and hidden folders are left out.
pub fn files_below(dir: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let mut out = Vec::new();
    let mut todo = vec![dir.to_path_buf()];
    while let Some(d) = todo.pop() {
        for e in std::fs::read_dir(&d).into_iter().flatten().filter_map(Result::ok) {
            let (path, name) = (e.path(), e.file_name().to_string_lossy().into_owned());
            if path.is_dir() {
                if name != "target" && name != ".git" {
                    todo.push(path);
                }
            } else if path.extension().is_some_and(|x| endings.iter().any(|w| x == *w)) {
                out.push(path);
            }
        }
    }
    out.sort();
    out
}

/// A path's last part.
pub fn file_name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

/// A path as seen from the root, with forward slashes.
pub fn relative(root: &Path, path: &Path) -> String {
    path.strip_prefix(root).unwrap_or(path).to_string_lossy().replace('\\', "/")
}

/// Runs a command in the root, shows it, and gives its status; an error if it can't start.
pub fn status(root: &Path, program: &str, args: &[&str]) -> Result<ExitStatus, String> {
    let name = Path::new(program).file_name().map_or(program.into(), |n| n.to_string_lossy());
    eprintln!("+ {name} {}", args.join(" "));
    Command::new(program)
        .args(args)
        .current_dir(root)
        .status()
        .map_err(|e| format!("{program} could not be started: {e}"))
}

/// As [`status`]; an error too if the command fails.
pub fn run(root: &Path, program: &str, args: &[&str]) -> Outcome {
    let status = status(root, program, args)?;
    if status.success() { Ok(()) } else { Err(format!("`{}` failed: {status}", args.join(" "))) }
}

/// The cargo that runs us.
pub fn cargo() -> String {
    std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned())
}
