//! `unmire man [DIR]`

use crate::args::{Cli, ManArgs};
use crate::status::{Status, Trouble};
use crate::{files, output};
use clap::{Command, CommandFactory};

pub fn run(a: &ManArgs) -> Result<Status, Trouble> {
    let mut command = Cli::command().disable_help_subcommand(true);
    command.build();
    let Some(folder) = &a.folder else {
        output::print(&page(command)?)?;
        return Ok(Status::Passes);
    };
    std::fs::create_dir_all(folder).map_err(|e| Trouble::new(format!("cannot make {}: {e}", folder.display())))?;
    for sub in command.get_subcommands() {
        let name = format!("unmire-{}", sub.get_name());
        files::write(&folder.join(format!("{name}.1")), &page(sub.clone().name(name))?)?;
    }
    files::write(&folder.join("unmire.1"), &page(command)?)?;
    Ok(Status::Passes)
}

fn page(command: Command) -> Result<String, Trouble> {
    let mut out = Vec::new();
    clap_mangen::Man::new(command)
        .render(&mut out)
        .map_err(|e| Trouble::new(format!("cannot make the man page: {e}")))?;
    Ok(String::from_utf8_lossy(&out).into_owned())
}
