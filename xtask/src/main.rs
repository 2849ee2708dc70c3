//! Every chore of the repository: `cargo xtask <chore>`.
#![allow(clippy::print_stdout, clippy::print_stderr)]

mod tables;
mod util;

fn main() -> std::process::ExitCode {
    let root = util::root();
    match tables::run(&root) {
        Ok(()) => std::process::ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("{e}");
            std::process::ExitCode::FAILURE
        }
    }
}
