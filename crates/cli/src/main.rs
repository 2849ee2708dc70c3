//! unmire: the program. It reads files, calls the rooms below, prints what they give, and sets the exit status:
//! 0 if the best rig passes, 1 if none does, 2 if the input or the command is at fault.

mod args;
mod commands;
mod engine;
mod files;
mod output;
mod status;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    // Help and version exit with 0, a wrong command line with 2, both with clap's own words.
    let cli = args::Cli::parse();
    match commands::run(cli) {
        Ok(status) => status.into(),
        Err(trouble) => {
            output::complain(&trouble);
            status::Status::BadInput.into()
        }
    }
}
