//! Which program is tried: the one that was named, or the one that is built here and now.

use std::path::{Path, PathBuf};
use std::process::Command;

/// The variable that names a program which has the app in it already.
const NAMED: &str = "UNMIRE_PROGRAM";

/// The root of the repository.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().expect("the repository is where it was built")
}

/// The folder of the build output that this very test was built into.
#[must_use]
pub fn folder_of_output() -> PathBuf {
    // <output>/<profile>/deps/<test>
    let exe = std::env::current_exe().expect("a test knows its own file");
    exe.ancestors().nth(3).expect("a test lies in the build output").to_path_buf()
}

/// The program with the app in it. Builds both unless a program was named.
pub(crate) fn program() -> PathBuf {
    if let Some(named) = std::env::var_os(NAMED) {
        let path = PathBuf::from(named);
        assert!(path.is_file(), "{NAMED} names {}, which is no file", path.display());
        return path;
    }
    let output = folder_of_output();
    for args in [&["run", "--quiet", "-p", "xtask", "--", "web"][..], &["build", "--quiet", "-p", "unmire"]] {
        eprintln!("+ cargo {}", args.join(" "));
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        let status = Command::new(cargo)
            .args(args)
            .env("CARGO_TARGET_DIR", &output)
            .current_dir(root())
            .status()
            .expect("cargo can be started");
        assert!(status.success(), "cargo {}: {status}", args.join(" "));
    }
    output.join("debug").join(format!("unmire{}", std::env::consts::EXE_SUFFIX))
}
