//! `unmire examples [DIR]`: writes the invented cases. All of them or, if one is in the way, none.

use crate::args::ExamplesArgs;
use crate::status::{Status, Trouble};
use crate::{files, output};
use std::fmt::Write as _;

mod embedded {
    include!(concat!(env!("OUT_DIR"), "/examples.rs"));
}

pub fn run(a: &ExamplesArgs) -> Result<Status, Trouble> {
    if a.list {
        let lines: String =
            embedded::EXAMPLES.iter().map(|(name, text)| format!("{name}: {}\n", title(text))).collect();
        output::print(&lines)?;
        return Ok(Status::Passes);
    }
    let there: Vec<String> = embedded::EXAMPLES
        .iter()
        .map(|(name, _)| a.folder.join(name))
        .filter(|p| p.exists())
        .map(|p| p.display().to_string())
        .collect();
    if !there.is_empty() && !a.force {
        return Err(Trouble::hint(
            format!("nothing was written, for there is already: {}", there.join(", ")),
            "name another folder, or write over them with --force",
        ));
    }
    let mut told = String::new();
    for (name, text) in embedded::EXAMPLES {
        let path = a.folder.join(name);
        let folder = path.parent().unwrap_or(&a.folder);
        let cannot = |e| Trouble::new(format!("cannot make the folder {}: {e}", folder.display()));
        std::fs::create_dir_all(folder).map_err(cannot)?;
        if a.force {
            files::write(&path, text)?
        } else {
            files::write_new(&path, text)?
        }
        let _ = writeln!(told, "{}", path.display());
    }
    output::print(&told)?;
    Ok(Status::Passes)
}

/// The title that the file gives itself.
fn title(text: &str) -> &str {
    text.lines()
        .find_map(|l| {
            l.trim().strip_prefix("title")?.trim_start().strip_prefix('=')?.trim().strip_prefix('"')?.split('"').next()
        })
        .unwrap_or("a kit or a part of an example")
}
