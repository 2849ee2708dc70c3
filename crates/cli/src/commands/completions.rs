//! `unmire completions SHELL`

use crate::args::{Cli, CompletionsArgs};
use crate::output;
use crate::status::{Status, Trouble};
use clap::CommandFactory;

pub fn run(a: &CompletionsArgs) -> Result<Status, Trouble> {
    let mut script = Vec::new();
    clap_complete::generate(a.shell, &mut Cli::command(), "unmire", &mut script);
    output::print(&String::from_utf8_lossy(&script))?;
    Ok(Status::Passes)
}
