//! Gives short names to what the app's module and its script call each other by. The glue ends such a name with sixteen digits
//! that are there by chance, which no compression makes shorter; some 240 names stand in both files.

use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasm_encoder::{ExportSection, ImportSection, Module};
use wasmparser::{Export, Import, ImportSectionReader, Parser, Payload};

/// How many digits a name ends with.
const DIGITS: usize = 16;

/// Script and module with short names.
pub fn shortened(script: &str, wasm: &[u8]) -> Result<(String, Vec<u8>), String> {
    let said = |e: &dyn std::fmt::Display| format!("short names: {e}");
    let mut names = Names::of(wasm).map_err(|e| said(&e))?;
    let mut known = vec![false; names.0.len()];
    let mut new = String::with_capacity(script.len());
    for piece in pieces(script) {
        match names.0.iter().position(|n| n == piece) {
            Some(i) => {
                known[i] = true;
                new.push_str(&short(i));
            }
            None if piece.starts_with('$') && (0..names.0.len()).any(|i| short(i) == piece) => {
                return Err(said(&format!("the script has {piece} already")));
            }
            None => new.push_str(piece),
        }
    }
    if let Some(i) = known.iter().position(|k| !k) {
        return Err(said(&format!("the script doesn't know {}", names.0[i])));
    }
    let mut module = Module::new();
    names.parse_core_module(&mut module, Parser::new(0), wasm).map_err(|e| said(&e))?;
    Ok((new, module.finish()))
}

/// Whether a letter can stand in a name.
fn of_a_name(b: u8) -> bool {
    b.is_ascii_alphanumeric() || b == b'_' || b == b'$'
}

/// A script as names and what stands between them.
fn pieces(script: &str) -> impl Iterator<Item = &str> {
    let mut rest = script;
    core::iter::from_fn(move || {
        let first = of_a_name(*rest.as_bytes().first()?);
        let end = rest.bytes().position(|b| of_a_name(b) != first).unwrap_or(rest.len());
        let (piece, after) = rest.split_at(end);
        rest = after;
        Some(piece)
    })
}

/// A name that is none in the glue: it has no dollar signs.
fn short(i: usize) -> String {
    format!("${i}$")
}

/// The names that get another one, in its order.
struct Names(Vec<String>);

impl Names {
    fn of(wasm: &[u8]) -> wasmparser::Result<Self> {
        let mut all = Vec::new();
        let mut seen = |name: &str| {
            if by_chance(name) && !all.iter().any(|n| n == name) {
                all.push(name.to_owned());
            }
        };
        for part in Parser::new(0).parse_all(wasm) {
            match part? {
                Payload::ImportSection(section) => {
                    for import in section.into_imports() {
                        seen(import?.name);
                    }
                }
                Payload::ExportSection(section) => {
                    for export in section {
                        seen(export?.name);
                    }
                }
                _ => {}
            }
        }
        Ok(Self(all))
    }
    fn now(&self, name: &str) -> String {
        self.0.iter().position(|n| n == name).map_or_else(|| name.to_owned(), short)
    }
}

/// Whether a name ends with digits that are there by chance; a number may follow where several would be alike.
fn by_chance(name: &str) -> bool {
    let number = |end: &str| !end.is_empty() && end.len() < DIGITS && end.bytes().all(|b| b.is_ascii_digit());
    let name = name.rsplit_once('_').filter(|(_, end)| number(end)).map_or(name, |(begin, _)| begin);
    let digits = |end: &str| end.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
    let at = name.len().checked_sub(DIGITS).filter(|at| name.is_char_boundary(*at));
    at.map(|at| name.split_at(at))
        .is_some_and(|(begin, end)| (begin.ends_with('_') || begin.ends_with("_h")) && digits(end))
}

impl Reencode for Names {
    type Error = Infallible;

    fn parse_import_section(&mut self, to: &mut ImportSection, from: ImportSectionReader<'_>) -> Result<(), Error> {
        for import in from.into_imports() {
            let import = import?;
            let name = self.now(import.name);
            utils::parse_import(self, to, Import { name: &name, ..import })?;
        }
        Ok(())
    }
    fn parse_export(&mut self, to: &mut ExportSection, export: Export<'_>) -> Result<(), Error> {
        let name = self.now(export.name);
        utils::parse_export(self, to, Export { name: &name, ..export })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{EntityType, ExportKind, TypeSection};

    fn module(names: [&str; 3]) -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut imports = ImportSection::new();
        imports.import("./app_bg.js", names[0], EntityType::Function(0));
        imports.import("./app_bg.js", names[1], EntityType::Function(0));
        let mut exports = ExportSection::new();
        exports.export(names[2], ExportKind::Func, 1);
        exports.export("memory", ExportKind::Func, 0);
        let mut module = Module::new();
        module.section(&types).section(&imports).section(&exports);
        module.finish()
    }

    #[test]
    fn names_with_digits_by_chance_become_short_on_both_sides_and_others_stay() {
        let long = ["__wbg_fill_0123456789abcdef", "__wbindgen_cast", "wasm_bindgen__invoke__hfedcba9876543210"];
        let script =
            "{ __wbg_fill_0123456789abcdef: () => wasm.wasm_bindgen__invoke__hfedcba9876543210(), __wbindgen_cast }";
        let (script, wasm) = shortened(script, &module(long)).unwrap();
        assert_eq!(script, "{ $0$: () => wasm.$1$(), __wbindgen_cast }");
        assert_eq!(wasm, module(["$0$", "__wbindgen_cast", "$1$"]));
        wasmparser::validate(&wasm).unwrap();
    }
    #[test]
    fn a_name_that_begins_with_another_one_is_its_own() {
        let long = ["i__h0123456789abcdef", "i__h0123456789abcdef_5", "i__h0123456789abcdef_55"];
        let (script, wasm) =
            shortened("a.i__h0123456789abcdef_55(i__h0123456789abcdef_5,i__h0123456789abcdef)", &module(long)).unwrap();
        assert_eq!((script.as_str(), wasm), ("a.$2$($1$,$0$)", module(["$0$", "$1$", "$2$"])));
    }
    #[test]
    fn a_name_that_only_one_side_knows_is_a_fault() {
        let wasm = module(["__wbg_fill_0123456789abcdef", "b", "c"]);
        assert!(shortened("nothing", &wasm).unwrap_err().contains("__wbg_fill_0123456789abcdef"));
        assert!(shortened("$0$ __wbg_fill_0123456789abcdef", &wasm).unwrap_err().contains("already"));
    }
}
