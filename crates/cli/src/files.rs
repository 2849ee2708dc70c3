//! Reading what somebody names and writing what somebody asked for, without leaving half a file behind.

use crate::status::Trouble;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// A case file larger than this is no case file.
pub const LARGEST: u64 = 8 * 1024 * 1024;

/// What was read, with the name it is called by and the folder its own paths count from.
#[derive(Debug)]
pub struct Source {
    /// What it is called in messages.
    pub name: String,
    /// What stands in it, which may be no text at all.
    pub bytes: Vec<u8>,
    /// The folder that a kit path counts from.
    pub folder: PathBuf,
}

/// Reads a file, or standard input for `-`.
pub fn read(path: &Path) -> Result<Source, Trouble> {
    if path.as_os_str() == "-" {
        let bytes = bytes_of(io::stdin().lock(), "standard input")?;
        return Ok(Source { name: "<stdin>".into(), bytes, folder: PathBuf::from(".") });
    }
    let name = path.display().to_string();
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p.to_owned(),
        _ => PathBuf::from("."),
    };
    let bytes = bytes_of(open(path)?, &name)?;
    Ok(Source { name, bytes, folder })
}

/// Reads a file that another one names.
pub fn read_beside(folder: &Path, path: &str) -> Result<String, String> {
    let full = folder.join(path);
    let shown = full.display().to_string();
    let bytes = open(&full).and_then(|f| bytes_of(f, &shown)).map_err(|t| match t {
        Trouble::Said { what, hint: Some(hint) } => format!("{what}; {hint}"),
        Trouble::Said { what, hint: None } | Trouble::Rendered(what) => what,
    })?;
    String::from_utf8(bytes).map_err(|_| format!("{shown} is no text in UTF-8"))
}

fn open(path: &Path) -> Result<File, Trouble> {
    let name = path.display();
    if path.is_dir() {
        return Err(Trouble::hint(format!("{name} is a folder"), "name a case file in it"));
    }
    File::open(path).map_err(|e| match e.kind() {
        io::ErrorKind::NotFound => Trouble::hint(
            format!("there is no file {name}"),
            match nearest_file(path) {
                Some(near) => format!("did you mean {}?", near.display()),
                None => "'unmire examples' writes some case files to start from, 'unmire new' asks for one".into(),
            },
        ),
        _ => Trouble::new(format!("cannot read {name}: {e}")),
    })
}

fn bytes_of(from: impl Read, name: &str) -> Result<Vec<u8>, Trouble> {
    let mut bytes = Vec::new();
    from.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|e| Trouble::new(format!("cannot read {name}: {e}")))?;
    if bytes.len() as u64 > LARGEST {
        return Err(Trouble::new(format!("{name} is larger than {} MB: that is no case file", LARGEST / 1024 / 1024)));
    }
    Ok(bytes)
}

/// The file in the same folder whose name is most like it.
fn nearest_file(path: &Path) -> Option<PathBuf> {
    let want = path.file_name()?.to_str()?;
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let names = fs::read_dir(folder).ok()?.take(2000).filter_map(|e| e.ok()?.file_name().into_string().ok());
    let (near, far) = names.map(|n| (distance(want, &n), n)).min().map(|(d, n)| (n, d))?;
    (far <= 2.max(want.len() / 4)).then(|| path.with_file_name(near))
}

/// How many letters must change to make one word of the other.
pub fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().take(64).collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().take(64).enumerate() {
        let mut left = i + 1;
        let mut diagonal = i;
        for (j, cb) in b.iter().enumerate() {
            let above = row.get(j + 1).copied().unwrap_or(usize::MAX);
            let here = (diagonal + usize::from(ca != *cb)).min(left + 1).min(above + 1);
            diagonal = above;
            if let Some(cell) = row.get_mut(j) {
                *cell = left;
            }
            left = here;
        }
        if let Some(cell) = row.last_mut() {
            *cell = left;
        }
    }
    row.last().copied().unwrap_or(0)
}

/// Writes a whole file or nothing of it: beside its place first, then renamed into it.
pub fn write(path: &Path, text: &str) -> Result<(), Trouble> {
    let cannot = |e: io::Error| Trouble::new(format!("cannot write {}: {e}", path.display()));
    let Some(name) = path.file_name() else {
        return Err(Trouble::new(format!("{} is no file name", path.display())));
    };
    if !path.exists() || path.is_file() {
        let mut beside = std::ffi::OsString::from(".");
        beside.push(name);
        beside.push(format!(".{}.part", std::process::id()));
        let part = path.with_file_name(beside);
        let written = File::create(&part).and_then(|mut f| f.write_all(text.as_bytes()).and_then(|()| f.sync_all()));
        return written.and_then(|()| fs::rename(&part, path)).map_err(|e| {
            let _ = fs::remove_file(&part);
            cannot(e)
        });
    }
    // A device or a pipe cannot be renamed into.
    fs::write(path, text).map_err(cannot)
}

/// Writes a file that must not be there yet.
pub fn write_new(path: &Path, text: &str) -> Result<(), Trouble> {
    let opened = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = opened.map_err(|e| match e.kind() {
        io::ErrorKind::AlreadyExists => {
            Trouble::hint(format!("{} is there already", path.display()), "--force writes over it")
        }
        _ => Trouble::new(format!("cannot write {}: {e}", path.display())),
    })?;
    file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).map_err(|e| {
        let _ = fs::remove_file(path);
        Trouble::new(format!("cannot write {}: {e}", path.display()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_distance_of_words() {
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("abc", ""), 3);
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("metric", "metric"), 0);
        assert_eq!(distance("ab", "ba"), 2);
    }

    #[test]
    fn regress_a_new_file_never_replaces_one() {
        let path = std::env::temp_dir().join(format!("unmire-new-{}.toml", std::process::id()));
        write_new(&path, "a").unwrap();
        assert!(matches!(write_new(&path, "b"), Err(Trouble::Said { .. })));
        assert_eq!(fs::read_to_string(&path).unwrap(), "a");
        write(&path, "c").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "c");
        fs::remove_file(&path).unwrap();
    }
}
