//! `cargo xtask web`: the app for the browser, built into `web/` beside the other build output, from where the program
//! embeds it and from where a static host can take it.
//!
//! Steps: compile for wasm32, make the glue, fill the templates, compress, put the whole folder in place at once.

mod files;
mod lean;
mod names;
mod order;
mod pack;

use crate::chores;
use crate::util::{self, Outcome};
use files::File;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// The most that all files together may weigh as they travel, bytes.
const MOST: usize = 700_000;
/// Says which inputs a finished folder was made from.
const STAMP: &str = ".made-from";

/// The variable that asks for a build that is quick and large, for somebody who works on the page.
const QUICK: &str = "UNMIRE_QUICK";

/// Builds the app; if nothing has changed, the folder stays as it is.
pub fn build(root: &Path) -> Outcome {
    let start = Instant::now();
    let quick = std::env::var_os(QUICK).is_some_and(|v| !v.is_empty());
    chores::setup(root)?;
    let program = compile(root, if quick { "wasm-quick" } else { "wasm" })?;
    let compiled = start.elapsed();
    let statics = files::statics(&root.join("crates/web/static"))?;
    let wasm = std::fs::read(&program).map_err(|e| format!("{}: {e}", program.display()))?;
    let stamp = pack::stamp(&wasm, &statics, quick);
    let folder = folder()?;
    if std::fs::read_to_string(folder.join(STAMP)).is_ok_and(|s| s == stamp) {
        println!("web: {} is as it should be", folder.display());
        return Ok(());
    }
    let mut all = glue(wasm)?;
    all.extend(files::filled(statics, &all)?);
    let packed = pack::pack(all, quick)?;
    // Too large an app is not put in place.
    let small = report(&folder, &packed, compiled.as_secs_f64(), start.elapsed().as_secs_f64());
    if small > MOST && !quick {
        return Err(format!("the app travels as {small} bytes; at most {MOST} are allowed"));
    }
    place(&folder, &packed, &stamp)
}

/// Where the app is put.
fn folder() -> Result<PathBuf, String> {
    Ok(util::output()?.join("web"))
}

/// Compiles the crate. Paths of this machine are replaced, so that nobody's folders are shipped and two machines get the
/// same bytes.
fn compile(root: &Path, profile: &str) -> Result<PathBuf, String> {
    let args = ["build", "-p", "unmire-web", "--target", chores::WASM, "--profile", profile];
    eprintln!("+ cargo {}", args.join(" "));
    let output = util::output()?;
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::home_dir().map(|h| h.join(".cargo")))
        .ok_or("there is no cargo home")?;
    let remap = |from: &Path, to: &str| format!("--remap-path-prefix={}={to}", from.display());
    // The last that fits counts: what is inside another comes after it.
    let mut flags = vec![remap(&output, "build"), remap(root, "unmire"), remap(&home, "cargo")];
    let shelves = std::fs::read_dir(home.join("registry/src")).into_iter().flatten().flatten();
    flags.extend(shelves.map(|shelf| remap(&shelf.path(), "cargo")));
    flags.push(remap(&sysroot()?.join("lib/rustlib/src/rust"), "rust"));
    let flags = flags.join("\u{1f}");
    let status = Command::new(util::cargo())
        .args(args)
        .arg("--target-dir")
        .arg(&output)
        .env("CARGO_ENCODED_RUSTFLAGS", flags)
        .current_dir(root)
        .status()
        .map_err(|e| format!("cargo could not be started: {e}"))?;
    if !status.success() {
        return Err(format!("the app does not compile: {status}"));
    }
    Ok(output.join(chores::WASM).join(profile).join("unmire-web.wasm"))
}

/// Where the compiler keeps its own library.
fn sysroot() -> Result<PathBuf, String> {
    let compiler = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let told = Command::new(compiler).args(["--print", "sysroot"]).output();
    let told = told.map_err(|e| format!("the compiler could not be asked for its folder: {e}"))?;
    Ok(PathBuf::from(String::from_utf8_lossy(&told.stdout).trim()))
}

/// The module and the script that joins it to the page.
fn glue(wasm: Vec<u8>) -> Result<Vec<File>, String> {
    let mut bindgen = wasm_bindgen_cli_support::Bindgen::new();
    let said = |e: &dyn std::fmt::Display| format!("wasm-bindgen: {e:#}");
    bindgen
        .input_bytes("app", wasm)
        .web(true)
        .map_err(|e| said(&e))?
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true);
    let mut made = bindgen.generate_output().map_err(|e| said(&e))?;
    if made.snippets().values().any(|s| !s.is_empty()) || !made.local_modules().is_empty() {
        return Err("a library brings scripts of its own; they would have to be listed for offline use".to_owned());
    }
    let (script, module) = names::shortened(&lean::lean(made.js()), &made.wasm_mut().emit_wasm())?;
    Ok(vec![File::new("app.js", script.into_bytes()), File::new("app_bg.wasm", order::ordered(&module)?)])
}

/// Writes everything to a folder beside and swaps the two, so that nobody ever sees half of it.
fn place(folder: &Path, packed: &[pack::Packed], stamp: &str) -> Outcome {
    let (new, old) = (folder.with_extension("new"), folder.with_extension("old"));
    let said = |what: &Path, e: std::io::Error| format!("{}: {e}", what.display());
    for left in [&new, &old] {
        if left.exists() {
            std::fs::remove_dir_all(left).map_err(|e| said(left, e))?;
        }
    }
    let write = |path: &str, bytes: &[u8]| {
        let to = new.join(path);
        if let Some(dir) = to.parent() {
            std::fs::create_dir_all(dir).map_err(|e| said(dir, e))?;
        }
        std::fs::write(&to, bytes).map_err(|e| said(&to, e))
    };
    for p in packed {
        write(&p.file.path, &p.file.bytes)?;
        write(&format!("{}.br", p.file.path), &p.small)?;
    }
    write(pack::LIST, pack::list(packed).as_bytes())?;
    write(STAMP, stamp.as_bytes())?;
    if folder.exists() {
        std::fs::rename(folder, &old).map_err(|e| said(folder, e))?;
    }
    std::fs::rename(&new, folder).map_err(|e| said(&new, e))?;
    if old.exists() {
        std::fs::remove_dir_all(&old).map_err(|e| said(&old, e))?;
    }
    Ok(())
}

/// Tells the sizes and gives that of all files as they travel.
fn report(folder: &Path, packed: &[pack::Packed], compiled: f64, all: f64) -> usize {
    println!("web: {}, compiled in {compiled:.1} s, all in {all:.1} s", folder.display());
    for p in packed {
        println!("  {:>9} {:>9} brotli  {}", p.file.bytes.len(), p.small.len(), p.file.path);
    }
    let (plain, small) = packed.iter().fold((0, 0), |(a, b), p| (a + p.file.bytes.len(), b + p.small.len()));
    println!("  {plain:>9} {small:>9} brotli  together");
    small
}
