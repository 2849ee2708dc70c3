//! Puts the invented example cases into the program: every file of the examples folder that a reader would start from.

use std::fmt::Write as _;
use std::path::Path;
use std::{env, error::Error, fs};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("../../examples");
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut names = Vec::new();
    for part in ["", "kit/"] {
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
    fs::write(Path::new(&env::var("OUT_DIR")?).join("examples.rs"), code)?;
    Ok(())
}
