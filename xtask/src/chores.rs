//! The chores that call cargo: run, test, setup, examples, bench.

use crate::util::{self, Outcome};
use crate::{tidy, web};
use std::path::Path;
use std::process::Command;

/// The rooms that must build for the browser.
const WASM_ROOMS: &[&str] = &["model", "tables", "mechanics", "audit", "planner", "casefile", "sheet", "web"];
/// Where cases by chance begin. Here always at the same place, so that a run tells of the change and not of luck; another number, or
/// `cargo test`, tries others.
const SEED: &str = "PROPTEST_RNG_SEED";
/// The target of the browser.
pub const WASM: &str = "wasm32-unknown-unknown";
/// The example that `run` shows when no case is named.
const SHOWN_FIRST: &str = "examples/wheel-deep-mud.toml";

/// `cargo xtask run [CASE] [options of unmire plan]`: the main job on an example, then the app until somebody ends it.
pub fn run(root: &Path, args: &[String]) -> Outcome {
    let (case, rest) = match args.split_first() {
        Some((first, rest)) if !first.starts_with('-') => (first.clone(), rest),
        _ => (example(root)?, args),
    };
    let mut all = vec!["run", "--quiet", "-p", "unmire", "--", "plan", case.as_str()];
    all.extend(rest.iter().map(String::as_str));
    // Exit status 1 of `plan` means 'no rig holds', which is an answer and not a failure of the chore.
    let status = util::status(root, &util::cargo(), &all)?;
    if !matches!(status.code(), Some(0 | 1)) {
        return Err(format!("unmire plan {case}: {status}"));
    }
    web::build(root)?;
    util::run(root, &util::cargo(), &["run", "--quiet", "-p", "unmire", "--", "serve"])
}

fn example(root: &Path) -> Result<String, String> {
    if root.join(SHOWN_FIRST).is_file() {
        return Ok(SHOWN_FIRST.to_owned());
    }
    let first = util::files_in(&root.join("examples"), "toml").into_iter().next();
    first.map(|p| util::relative(root, &p)).ok_or_else(|| "examples/ holds no case".to_owned())
}

/// `cargo xtask setup`: what rustup can add. A C compiler is needed before any of this can be built.
pub fn setup(root: &Path) -> Outcome {
    let installed = Command::new("rustup").args(["target", "list", "--installed"]).current_dir(root).output();
    match installed {
        Ok(o) if String::from_utf8_lossy(&o.stdout).lines().any(|l| l.trim() == WASM) => Ok(()),
        Ok(_) => util::run(root, "rustup", &["target", "add", WASM]),
        Err(e) => Err(format!("rustup could not be started ({e}); add the target {WASM} by hand")),
    }
}

/// `cargo xtask test`: everything that must hold before a change goes in. Goes on after a failure and names them all.
pub fn test(root: &Path, args: &[String]) -> Outcome {
    let cargo = util::cargo();
    let mut failed: Vec<String> = Vec::new();
    let mut step = |name: &str, outcome: Outcome| {
        if let Err(e) = outcome {
            eprintln!("{name}: {e}");
            failed.push(name.to_owned());
        }
    };
    step("format", util::run(root, &cargo, &["fmt", "--all", "--check"]));
    step("tidy", tidy::run(root));
    step("web", web::build(root));
    step("tests", tests(root, args));
    step(
        "clippy",
        util::run(root, &cargo, &["clippy", "--workspace", "--all-targets", "--keep-going", "--", "-D", "warnings"]),
    );
    step("wasm32", wasm(root));
    if failed.is_empty() {
        println!("all of it holds: format, tidy, tests, clippy, wasm32");
        Ok(())
    } else {
        Err(format!("failed: {}", failed.join(", ")))
    }
}

/// All tests, those in a browser among them: these try the program that was built for the others.
fn tests(root: &Path, more: &[String]) -> Outcome {
    let seed = std::env::var(SEED).unwrap_or_else(|_| "1".to_owned());
    let program = util::output()?.join("debug").join(format!("unmire{}", std::env::consts::EXE_SUFFIX));
    eprintln!("+ cargo test --workspace --no-fail-fast {}", more.join(" "));
    let status = Command::new(util::cargo())
        .args(["test", "--workspace", "--no-fail-fast"])
        .args(more)
        .env("UNMIRE_PROGRAM", program)
        .env(SEED, seed)
        .current_dir(root)
        .status()
        .map_err(|e| e.to_string())?;
    if status.success() { Ok(()) } else { Err(format!("cargo test: {status}")) }
}

/// Lints what runs in the browser as the browser's compiler sees it.
fn wasm(root: &Path) -> Outcome {
    setup(root)?;
    let packages: Vec<String> = WASM_ROOMS.iter().map(|r| format!("unmire-{r}")).collect();
    let mut args = vec!["clippy", "--lib", "--bins", "--target", WASM];
    for p in &packages {
        args.extend(["-p", p.as_str()]);
    }
    args.extend(["--", "-D", "warnings"]);
    util::run(root, &util::cargo(), &args)
}

/// The crates whose tests hold outputs against reviewed files.
const WITH_REVIEWED_FILES: &[&str] = &["unmire-casefile", "unmire-sheet", "unmire"];

/// `cargo xtask examples`: the reviewed files, written anew.
pub fn examples(root: &Path) -> Outcome {
    for package in WITH_REVIEWED_FILES {
        eprintln!("+ UPDATE_EXPECT=1 cargo test -p {package}");
        let status = Command::new(util::cargo())
            .args(["test", "--quiet", "-p", package])
            .env("UPDATE_EXPECT", "1")
            .current_dir(root)
            .status()
            .map_err(|e| e.to_string())?;
        if !status.success() {
            return Err(format!("{package}: {status}"));
        }
    }
    println!("written; now read `git diff` line by line");
    Ok(())
}

/// `cargo xtask shots`: the pictures of `docs/app.md`, made anew in a browser.
pub fn shots(root: &Path) -> Outcome {
    let folder = root.join(tidy::SCREENS);
    let status = Command::new(util::cargo())
        .args(["test", "-p", "unmire-browser", "--test", "browser"])
        .env("UNMIRE_SCREENS", &folder)
        .current_dir(root)
        .status()
        .map_err(|e| e.to_string())?;
    if !status.success() {
        return Err(format!("the pictures: {status}"));
    }
    println!("written to {}; now look at each of them", tidy::SCREENS);
    Ok(())
}

/// `cargo xtask bench [options of cargo bench]`.
pub fn bench(root: &Path, args: &[String]) -> Outcome {
    let mut all = vec!["bench", "--workspace"];
    all.extend(args.iter().map(String::as_str));
    util::run(root, &util::cargo(), &all)
}
