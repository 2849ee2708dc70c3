//! Hashes, compression, and the list by which the program embeds the app.

use super::files::File;
use base64::Engine as _;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// The name of the list: a line a file, with path, type and hash, separated by tabs.
pub const LIST: &str = "files.txt";

/// A file with its compressed form.
pub struct Packed {
    /// The file.
    pub file: File,
    /// The same, compressed with brotli.
    pub small: Vec<u8>,
    /// Its media type.
    pub kind: &'static str,
}

/// Compresses every file, on as many threads as there are files; quickly if it is not to be shipped.
pub fn pack(files: Vec<File>, quick: bool) -> Result<Vec<Packed>, String> {
    let packed: Vec<Result<Packed, String>> = std::thread::scope(|scope| {
        let running: Vec<_> = files.into_iter().map(|f| scope.spawn(move || one(f, quick))).collect();
        running.into_iter().map(|t| t.join().unwrap_or_else(|_| Err("compression broke off".to_owned()))).collect()
    });
    let mut packed = packed.into_iter().collect::<Result<Vec<_>, _>>()?;
    packed.sort_by(|a, b| a.file.path.cmp(&b.file.path));
    Ok(packed)
}

fn one(file: File, quick: bool) -> Result<Packed, String> {
    let kind = kind(&file.path)?;
    // Large blocks: one and a half kilobytes less of the program.
    let params = brotli::enc::BrotliEncoderParams {
        quality: if quick { 4 } else { 11 },
        lgwin: 22,
        lgblock: if quick { 0 } else { 21 },
        ..Default::default()
    };
    let mut small = Vec::new();
    brotli::BrotliCompress(&mut file.bytes.as_slice(), &mut small, &params)
        .map_err(|e| format!("{}: {e}", file.path))?;
    Ok(Packed { file, small, kind })
}

/// The media type that a browser needs to be told.
fn kind(path: &str) -> Result<&'static str, String> {
    Ok(match path.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        _ => return Err(format!("{path}: of which media type is it?")),
    })
}

/// The list.
pub fn list(packed: &[Packed]) -> String {
    let mut out = String::new();
    for p in packed {
        let _ = writeln!(out, "{}\t{}\t{}", p.file.path, p.kind, hash(&p.file.bytes));
    }
    out
}

/// SHA-256 in base 64, as browsers write it.
pub fn hash(bytes: &[u8]) -> String {
    base64::engine::general_purpose::STANDARD.encode(Sha256::digest(bytes))
}

/// What is done to the files: a folder that was made in another way is made anew.
const WAY: [&str; 6] = [
    include_str!("files.rs"),
    include_str!("lean.rs"),
    include_str!("mod.rs"),
    include_str!("names.rs"),
    include_str!("order.rs"),
    include_str!("pack.rs"),
];

/// What a finished folder was made from: every input, and this program's own way of doing it.
pub fn stamp(wasm: &[u8], statics: &[File], quick: bool) -> String {
    let mut out = format!("{} {} {quick}\n", hash(WAY.concat().as_bytes()), hash(wasm));
    for f in statics {
        let _ = writeln!(out, "{} {}", f.path, hash(&f.bytes));
    }
    out
}
