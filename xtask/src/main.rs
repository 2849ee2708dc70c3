//! Every chore of the repository: `cargo xtask <chore>`.
#![allow(clippy::print_stdout, clippy::print_stderr)]

mod chores;
mod docs;
mod scan;
mod tables;
mod tidy;
mod util;
mod web;

use std::path::Path;
use std::process::ExitCode;
use util::Outcome;

/// A chore: its name, what it does, and the function.
struct Chore {
    name: &'static str,
    about: &'static str,
    run: fn(&Path, &[String]) -> Outcome,
}

/// Every chore, in the order in which the help lists them.
const CHORES: &[Chore] = &[
    Chore {
        name: "run",
        about: "the main job on an example, or on the case named after it; then the app, served",
        run: chores::run,
    },
    Chore {
        name: "test",
        about: "format, tidy, the app's build, all tests (a browser's too), lints",
        run: chores::test,
    },
    Chore { name: "setup", about: "add what a bare machine lacks: the wasm32 target", run: |r, _| chores::setup(r) },
    Chore { name: "web", about: "build the app for the browser", run: |r, _| web::build(r) },
    Chore { name: "tidy", about: "the rules that a machine can hold", run: |r, _| tidy::run(r) },
    Chore { name: "tables", about: "generate crates/tables/src/generated from data/", run: |r, _| tables::run(r) },
    Chore { name: "docs", about: "generate docs/data.md and VALIDATION.md", run: |r, _| docs::run(r) },
    Chore {
        name: "examples",
        about: "write the examples' expected outputs anew; review the diff",
        run: |r, _| chores::examples(r),
    },
    Chore { name: "shots", about: "picture every screen of the app anew; look at them", run: |r, _| chores::shots(r) },
    Chore { name: "bench", about: "run the benchmarks", run: chores::bench },
];

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let (name, rest) = args.split_first().map_or(("", &[][..]), |(n, r)| (n.as_str(), r));
    let Some(chore) = CHORES.iter().find(|c| c.name == name) else {
        if !name.is_empty() {
            eprintln!("no chore is called `{name}`");
        }
        eprintln!("usage: cargo xtask <chore>");
        for c in CHORES {
            eprintln!("  {:<10} {}", c.name, c.about);
        }
        return ExitCode::from(2);
    };
    match (chore.run)(&util::root(), rest) {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("{e}");
            eprintln!("xtask {name}: failed");
            ExitCode::FAILURE
        }
    }
}
