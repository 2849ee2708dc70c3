//! Puts into the program what stands outside its source: the invented example cases, and the app for the browser if it
//! was built.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, error::Error, fs};

fn main() -> Result<(), Box<dyn Error>> {
    let out = PathBuf::from(env::var("OUT_DIR")?);
    fs::write(out.join("examples.rs"), examples()?)?;
    fs::write(out.join("app.rs"), app(&out)?)?;
    Ok(())
}

/// Every file of the examples folder that a reader would start from.
fn examples() -> Result<String, Box<dyn Error>> {
    let folder = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("../../examples");
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut names = Vec::new();
    for part in ["", "kit/", "kinetic/"] {
        let Ok(entries) = fs::read_dir(folder.join(part)) else { continue };
        for entry in entries {
            let name = entry?.file_name().to_string_lossy().into_owned();
            if name.ends_with(".toml") {
                names.push(format!("{part}{name}"));
            }
        }
    }
    names.sort();
    let mut code = String::from("/// Name and text of every example.\npub const EXAMPLES: &[(&str, &str)] = &[\n");
    for name in names {
        let path = folder.join(&name).canonicalize()?;
        writeln!(code, "    ({name:?}, include_str!({:?})),", path.display().to_string())?;
    }
    code.push_str("];\n");
    Ok(code)
}

/// Every file of the app, as `cargo xtask web` lists them beside the build output; none if it was not built.
///
/// The files are copied first, so that a build of the app at the same time can't mix two versions.
fn app(out: &Path) -> Result<String, Box<dyn Error>> {
    let folder = output(out)?.join("web");
    // A folder that is not there would count as changed at every build.
    fs::create_dir_all(&folder)?;
    println!("cargo:rerun-if-changed={}", folder.display());
    let list = fs::read_to_string(folder.join("files.txt")).unwrap_or_default();
    let copies = out.join("app");
    let _ = fs::remove_dir_all(&copies);
    let mut code = String::from("/// Every file of the app.\npub const FILES: &[File] = &[\n");
    for line in list.lines() {
        let [path, kind, hash] = line.split('\t').collect::<Vec<_>>()[..] else {
            return Err(format!("files.txt: {line}").into());
        };
        let copy = |path: &str| -> Result<String, Box<dyn Error>> {
            let to = copies.join(path);
            fs::create_dir_all(to.parent().unwrap_or(&copies))?;
            fs::copy(folder.join(path), &to)?;
            Ok(to.display().to_string())
        };
        let (plain, small) = (copy(path)?, copy(&format!("{path}.br"))?);
        writeln!(
            code,
            "    File {{ path: {path:?}, kind: {kind:?}, hash: {hash:?}, plain: include_bytes!({plain:?}), \
             small: include_bytes!({small:?}) }},"
        )?;
    }
    code.push_str("];\n");
    Ok(code)
}

/// The folder of the build output, which `CARGO_TARGET_DIR` or a setting of cargo may have put anywhere: `OUT_DIR` is
/// `<output>/<profile>/build/<package>/out`, with the target before the profile where one was named.
fn output(out: &Path) -> Result<PathBuf, Box<dyn Error>> {
    let base = out.ancestors().nth(4).ok_or("OUT_DIR lies in no build folder")?;
    let named = base.file_name().is_some_and(|n| n.to_string_lossy() == env::var("TARGET").unwrap_or_default());
    Ok(if named { base.parent().unwrap_or(base) } else { base }.to_path_buf())
}
