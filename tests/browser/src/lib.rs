//! The app as a person uses it: a real browser, the real program, real clicks and keys.
//!
//! One browser serves all trials. Each trial gets a server of its own on a free port, so a store and a service worker of
//! its own. A trial fails if it panics, or if the browser's console has a warning or an error that it did not take.
//!
//! ```text
//! cargo test -p unmire-browser                 builds the app and the program first
//! cargo test -p unmire-browser -- offline      the trials with that in their name
//! UNMIRE_QUICK=1 cargo test …                  with a build of the app that is quick and large
//! UNMIRE_SHOTS=folder cargo test …             keeps the screenshots that trials take
//! UNMIRE_SLOWER=6 cargo test …                 as on a processor that is six times slower
//! ```
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a trial that cannot go on has failed")]
#![allow(clippy::print_stderr, reason = "says what it builds")]

mod audit;
mod driver;
mod page;
mod paper;
mod program;
mod server;
mod trap;

pub use driver::Stage;
pub use page::{DESKTOP, PHONE, Page, Size, TABLET};
pub use paper::{A4, LETTER, Paper, pages};
pub use program::{folder_of_output, root};
pub use server::{Host, Server};
pub use thirtyfour::Key;

use libtest_mimic::{Arguments, Trial};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::process::ExitCode;
use std::sync::{Arc, Mutex, PoisonError};

/// One trial: its name and what it does with a page on which the app has just opened.
pub type Named = (&'static str, fn(&Page<'_>));

/// Runs trials as `cargo test` does, one after another in one browser.
#[must_use]
pub fn run(trials: &[Named]) -> ExitCode {
    let mut arguments = Arguments::from_args();
    arguments.test_threads = Some(1);
    let stage: Arc<Mutex<Option<Stage>>> = Arc::default();
    let trials = trials.iter().map(|&(name, act)| {
        let stage = Arc::clone(&stage);
        Trial::test(name, move || {
            let mut held = stage.lock().unwrap_or_else(PoisonError::into_inner);
            let stage = held.get_or_insert_with(Stage::start);
            play(stage, name, act);
            Ok(())
        })
    });
    let conclusion = libtest_mimic::run(&arguments, trials.collect());
    // The browser goes and its folder with it.
    drop(stage.lock().unwrap_or_else(PoisonError::into_inner).take());
    if conclusion.has_failed() { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// Plays one act outside of the trials, on a page on which the app has just opened: for measuring.
pub fn once(act: impl FnOnce(&Page<'_>)) {
    let stage = Stage::start();
    let page = Page::new(&stage, Server::start(stage.program()));
    page.size(PHONE);
    page.open();
    act(&page);
    page.leave();
}

fn play(stage: &Stage, name: &str, act: fn(&Page<'_>)) {
    stage.forget_console();
    let server = Server::start(stage.program());
    let page = Page::new(stage, server);
    let outcome = catch_unwind(AssertUnwindSafe(|| {
        page.size(PHONE);
        if let Some(times) = std::env::var("UNMIRE_SLOWER").ok().and_then(|t| t.parse().ok()) {
            page.slower(times);
        }
        page.open();
        act(&page);
        let said = page.console();
        assert!(said.is_empty(), "the console says: {said:#?}");
    }));
    if let Err(fault) = outcome {
        let kept = page.keep_failure(name);
        eprintln!("{name}: what the page looked like is in {}", kept.display());
        eprintln!("{name}: the console said {:#?}", page.console());
        page.leave();
        resume_unwind(fault);
    }
    page.leave();
}
