//! Puts invented examples into the app.

use std::fmt::Write as _;
use std::path::Path;
use std::{env, error::Error, fs};

/// Those that come with the app, each for something of its own. Each costs every reader more than a kilobyte.
const SHOWN: [&str; 4] = ["check-double-line.toml", "side-slope.toml", "wet-grass.toml", "wheel-deep-mud.toml"];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("../../examples");
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut code = String::new();
    for (list, part) in [("CASES", ""), ("SHOWN", ""), ("KITS", "kit/")] {
        let mut names = Vec::new();
        for entry in fs::read_dir(folder.join(part))? {
            let name = entry?.file_name().to_string_lossy().into_owned();
            if name.ends_with(".toml") && (list != "SHOWN" || SHOWN.contains(&name.as_str())) {
                names.push(format!("{part}{name}"));
            }
        }
        names.sort();
        writeln!(code, "/// Path and text.\npub const {list}: &[(&str, &str)] = &[")?;
        for name in names {
            let path = folder.join(&name).canonicalize()?;
            writeln!(code, "    ({name:?}, include_str!({:?})),", path.display().to_string())?;
        }
        code.push_str("];\n");
    }
    fs::write(Path::new(&env::var("OUT_DIR")?).join("examples.rs"), code)?;
    Ok(())
}
