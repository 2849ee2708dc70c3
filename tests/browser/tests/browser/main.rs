//! The trials of the app in a browser.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a trial that cannot go on has failed")]

mod plan;
mod serve;
mod start;

use std::process::ExitCode;
use unmire_browser::Named;

/// Lists functions with their names.
macro_rules! trials {
    ($($module:ident :: $name:ident),* $(,)?) => {
        &[$((concat!(stringify!($module), "::", stringify!($name)), $module::$name)),*]
    };
}

#[rustfmt::skip]
const ALL: &[Named] = trials![
    start::regress_the_page_opens_and_names_the_app,
    start::regress_manifest_and_service_worker_are_there,
    plan::regress_every_example_gives_the_bytes_of_the_command_line,
    plan::regress_the_worker_says_what_is_wrong,
    serve::regress_files_come_with_their_guards,
    serve::regress_a_taken_port_is_said,
    serve::regress_ctrl_c_ends_it_cleanly,
];

fn main() -> ExitCode {
    unmire_browser::run(ALL)
}
