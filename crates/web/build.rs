//! Puts invented examples into the app, and its words in all languages as one text: each key once.

use std::collections::BTreeMap;
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
    words()
}

/// Every key with its words, separated by tabs: `part.key`, English, German. What a language lacks is empty.
fn words() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("text");
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut all: BTreeMap<String, [String; 2]> = BTreeMap::new();
    for (i, name) in ["en.toml", "de.toml"].into_iter().enumerate() {
        let mut part = String::new();
        for (n, line) in fs::read_to_string(folder.join(name))?.lines().enumerate() {
            if let Some(head) = line.strip_prefix('[').and_then(|l| l.strip_suffix(']')) {
                part = head.to_owned();
                continue;
            }
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let pair = line.split_once(" = \"").and_then(|(k, v)| Some((k, v.strip_suffix('"')?)));
            let (key, text) = pair.filter(|(_, v)| !v.contains(['"', '\\', '\t'])).ok_or_else(|| {
                format!(
                    "{name}, line {}: `key = \"words\"` is expected, with no quote and no stroke in the words",
                    n + 1
                )
            })?;
            if let Some(place) = all.entry(format!("{part}.{key}")).or_default().get_mut(i) {
                text.clone_into(place);
            }
        }
    }
    let lines: String = all.iter().map(|(k, [en, de])| format!("{k}\t{en}\t{de}\n")).collect();
    fs::write(Path::new(&env::var("OUT_DIR")?).join("words.txt"), lines)?;
    Ok(())
}
