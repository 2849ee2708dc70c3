//! The command line: help, wrong usage, exit status, streams, files.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use common::{Folder, unmire, unmire_fed, unmire_in};
use std::process::{Command, Stdio};

#[test]
fn regress_help_tells_the_verbs_and_the_exit_status() {
    let r = unmire(&["--help"]);
    assert_eq!((r.status, r.stderr.as_str()), (0, ""));
    for word in ["plan", "check", "new", "explain", "schema", "examples", "completions", "man", "Exit status"] {
        assert!(r.stdout.contains(word), "{word}");
    }
    for verb in ["plan", "check", "new", "explain", "schema", "examples", "completions", "man"] {
        let r = unmire(&[verb, "--help"]);
        assert_eq!(r.status, 0, "{verb}");
        assert!(r.stdout.contains("Usage: unmire"), "{verb}");
    }
    assert_eq!(unmire(&["--version"]).stdout, concat!("unmire ", env!("CARGO_PKG_VERSION"), "\n"));
}

#[test]
fn regress_wrong_usage_exits_with_two_and_suggests() {
    for (arguments, hint) in [
        (&["paln", "x.toml"][..], "'plan'"),
        (&["plan"], "<CASE>"),
        (&["plan", "wet-grass.toml", "--jsn"], "'--json'"),
        (&["plan", "wet-grass.toml", "--units", "metrc"], "'metric'"),
        (&["plan", "wet-grass.toml", "--policy", "regulator-stal"], "'regulator-stall'"),
        (&["plan", "wet-grass.toml", "--color", "alway"], "'always'"),
        (&["plan", "wet-grass.toml", "--width", "3"], "20"),
        (&["plan", "wet-gras.toml"], "did you mean wet-grass.toml"),
        (&["plan", "no-such-thing-at-all.toml"], "unmire examples"),
        (&["plan", "."], "is a folder"),
        (&["plan", "kit/club-bag.toml"], "kit"),
        (&["plan", "bare-redirect.toml"], "unmire check"),
        (&["check", "wet-grass.toml"], "unmire plan"),
        (&["explain", "strength-lin"], "'strength-line'"),
        (&["explain", "qqqqqqqqqqqqqqqq"], "explain codes"),
        (&["schema", "cas"], "'case'"),
        (&["completions", "bsh"], "bash"),
        (&[], "Usage"),
    ] {
        let r = unmire(arguments);
        assert_eq!(r.status, 2, "{arguments:?}: {}", r.stderr);
        assert_eq!(r.stdout, "", "{arguments:?}");
        assert!(r.stderr.contains(hint), "{arguments:?}: {}", r.stderr);
        assert!(!r.stderr.contains("panicked"), "{arguments:?}");
    }
}

#[test]
fn regress_mistakes_in_a_case_are_told_with_their_places() {
    let f = Folder::new("mistakes");
    std::fs::write(f.0.join("bad.toml"), "schema = \"unmire.case/1\"\ntitel = \"x\"\n[vehicle]\nmass = \"2 tons\"\n")
        .unwrap();
    for verb in ["plan", "check"] {
        let r = unmire_in(&f.0, &[verb, "bad.toml"]);
        assert_eq!((r.status, r.stdout.as_str()), (2, ""));
        assert!(r.stderr.contains("bad.toml:2:1") && r.stderr.contains("title"), "{}", r.stderr);
        assert!(r.stderr.contains("bad.toml:4:"), "all mistakes at once: {}", r.stderr);
    }
    for bytes in [&b"\xff\xfe\x00"[..], b"", b"\x00\x01\x02", b"[[[[[[[["] {
        std::fs::write(f.0.join("noise.toml"), bytes).unwrap();
        let r = unmire_in(&f.0, &["plan", "noise.toml"]);
        assert_eq!(r.status, 2, "{bytes:?}");
        assert!(r.stderr.contains("noise.toml") && !r.stderr.contains("panicked"), "{}", r.stderr);
    }
}

#[test]
fn regress_a_case_may_come_from_standard_input() {
    let text = std::fs::read_to_string(common::examples().join("wet-grass.toml")).unwrap();
    let from_file = unmire(&["plan", "wet-grass.toml"]);
    let from_input = unmire_fed(&common::examples(), &["plan", "-"], &text);
    assert_eq!((from_input.status, from_input.stdout), (from_file.status, from_file.stdout));
    let r = unmire_fed(&common::examples(), &["plan", "-"], "nonsense");
    assert_eq!(r.status, 2);
    assert!(r.stderr.contains("<stdin>:1:"), "{}", r.stderr);
}

#[test]
fn regress_a_kit_counts_from_the_case_file() {
    let with_kit = common::cases()
        .into_iter()
        .find(|c| std::fs::read_to_string(common::examples().join(c)).unwrap().lines().any(|l| l.contains("\"kit/")));
    let case = with_kit.unwrap();
    let f = Folder::new("elsewhere");
    let path = common::examples().join(&case);
    let near = unmire(&[common::verb(&case), &case, "--json"]);
    let far = unmire_in(&f.0, &[common::verb(&case), path.to_str().unwrap(), "--json"]);
    assert_eq!((near.status, near.stdout), (far.status, far.stdout));
}

#[test]
fn regress_colour_is_obeyed_and_adds_no_word() {
    let plain = unmire(&["plan", "wet-grass.toml"]).stdout;
    assert!(!plain.contains('\x1b'), "no colour into a pipe");
    let painted = unmire(&["plan", "wet-grass.toml", "--color", "always"]).stdout;
    assert!(painted.contains("\x1b["));
    let mut stripped = String::new();
    for part in painted.split('\x1b') {
        stripped.push_str(part.strip_prefix('[').and_then(|p| p.split_once('m')).map_or(part, |(_, rest)| rest));
    }
    let trimmed: String = stripped.lines().map(|l| format!("{}\n", l.trim_end())).collect();
    assert_eq!(trimmed, plain);
    assert_eq!(unmire(&["plan", "wet-grass.toml", "--colour", "never"]).stdout, plain);
}

#[test]
fn regress_a_reader_that_goes_away_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_unmire"))
        .current_dir(common::examples())
        .args(["plan", "wet-grass.toml", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let out = child.wait_with_output().unwrap();
    assert_eq!(out.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&out.stderr), "");
}

#[test]
fn regress_the_drawing_is_written_whole_or_not_at_all() {
    let f = Folder::new("svg");
    let path = f.0.join("plan.svg");
    let r = unmire(&["plan", "wet-grass.toml", "--svg", path.to_str().unwrap()]);
    assert_eq!(r.status, 0);
    assert!(std::fs::read_to_string(&path).unwrap().ends_with("</svg>\n"));
    assert_eq!(std::fs::read_dir(&f.0).unwrap().count(), 1, "nothing is left beside it");
    let r = unmire(&["plan", "wet-grass.toml", "--svg", "-"]);
    assert!(r.stdout.starts_with("<?xml"));
    let r = unmire(&["plan", "wet-grass.toml", "--svg", f.0.join("no/such/folder.svg").to_str().unwrap()]);
    assert_eq!(r.status, 2);
    assert!(r.stderr.contains("cannot write"), "{}", r.stderr);
}

#[test]
fn regress_no_line_is_wider_than_asked_for() {
    for case in common::cases() {
        for width in ["40", "80", "120"] {
            let r = unmire(&[common::verb(&case), &case, "--width", width, "--explain"]);
            let most: usize = width.parse().unwrap();
            for line in r.stdout.lines().chain(r.stderr.lines()) {
                assert!(unmire_sheet::terminal::page::width_of(line) <= most, "{case} at {width}: {line}");
            }
        }
    }
}

#[test]
fn regress_examples_are_written_and_never_over_others() {
    let f = Folder::new("examples");
    let r = unmire_in(&f.0, &["examples", "ex"]);
    assert_eq!(r.status, 0, "{}", r.stderr);
    for case in common::cases() {
        let ours = std::fs::read_to_string(f.0.join("ex").join(&case)).unwrap();
        assert_eq!(ours, std::fs::read_to_string(common::examples().join(&case)).unwrap());
        assert!(r.stdout.contains(&case));
    }
    std::fs::write(f.0.join("ex/wet-grass.toml"), "mine").unwrap();
    let r = unmire_in(&f.0, &["examples", "ex"]);
    assert_eq!(r.status, 2);
    assert!(r.stderr.contains("wet-grass.toml") && r.stderr.contains("--force"), "{}", r.stderr);
    assert_eq!(std::fs::read_to_string(f.0.join("ex/wet-grass.toml")).unwrap(), "mine");
    assert_eq!(unmire_in(&f.0, &["examples", "ex", "--force"]).status, 0);
    assert_ne!(std::fs::read_to_string(f.0.join("ex/wet-grass.toml")).unwrap(), "mine");
    assert!(unmire(&["examples", "--list"]).stdout.lines().count() >= common::cases().len());
}

#[test]
fn regress_every_code_of_an_output_is_explained() {
    let mut codes = std::collections::BTreeSet::new();
    for case in common::cases() {
        let out = unmire(&[common::verb(&case), &case, "--json"]).stdout;
        let v: serde_json::Value = serde_json::from_str(&out).unwrap();
        let mut look = vec![&v];
        while let Some(v) = look.pop() {
            match v {
                serde_json::Value::Array(a) => look.extend(a),
                serde_json::Value::Object(o) => {
                    codes.extend(o.get("code").and_then(|c| c.as_str()).map(str::to_owned));
                    look.extend(o.values());
                }
                _ => {}
            }
        }
    }
    assert!(codes.len() > 3, "{codes:?}");
    let silent: Vec<&String> = codes.iter().filter(|c| unmire(&["explain", c]).status != 0).collect();
    assert!(silent.is_empty(), "no text behind {silent:?}");
}

#[test]
fn regress_completions_and_man_come_from_the_parser() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let r = unmire(&["completions", shell]);
        assert_eq!(r.status, 0);
        assert!(r.stdout.contains("completions"), "{shell}");
        let values = ["bash", "fish", "zsh"].contains(&shell);
        assert_eq!(r.stdout.contains("regulator-stall"), values, "{shell}: the policies are completed");
    }
    let r = unmire(&["man"]);
    assert!(r.stdout.contains(".TH unmire 1") && r.stdout.contains("Exit status"));
    let f = Folder::new("man");
    assert_eq!(unmire(&["man", f.0.to_str().unwrap()]).status, 0);
    assert!(f.0.join("unmire-plan.1").is_file() && f.0.join("unmire.1").is_file());
}

#[test]
fn regress_bare_help_and_verbs_start_quickly() {
    // A coarse bound against doing work before it is needed; the figure itself is measured elsewhere.
    let start = std::time::Instant::now();
    for _ in 0..10 {
        assert_eq!(unmire(&["--version"]).status, 0);
    }
    assert!(start.elapsed() < std::time::Duration::from_secs(2), "{:?}", start.elapsed());
}

#[test]
fn regress_every_schema_is_one() {
    for (of, word) in [
        (&["schema"][..], None),
        (&["schema", "case"], Some("unmire.case/1")),
        (&["schema", "kit"], Some("unmire.kit/1")),
        (&["schema", "rig"], Some("unmire.rig/1")),
        (&["schema", "plan"], Some("unmire.plan/1")),
    ] {
        let r = unmire(of);
        assert_eq!(r.status, 0, "{of:?}: {}", r.stderr);
        let schema: serde_json::Value = serde_json::from_str(&r.stdout).unwrap();
        let validator = jsonschema::validator_for(&schema).unwrap();
        assert!(!validator.is_valid(&serde_json::json!({})), "{of:?} must ask for something");
        for other in ["unmire.case/1", "unmire.kit/1", "unmire.rig/1", "unmire.plan/1"] {
            let told = validator
                .iter_errors(&serde_json::json!({ "schema": other }))
                .any(|e| e.instance_path().to_string() == "/schema");
            if let Some(word) = word {
                assert_eq!(told, other != word, "{of:?} and {other}");
            }
        }
    }
}

#[test]
fn regress_a_bare_rig_that_does_not_hold_still_is_told_by_name() {
    let f = Folder::new("bare");
    let fixed = "schema = \"unmire.rig/1\"\n[[point]]\nname = \"W\"\nat = [0, 0, 0]\nfixed = true\n";
    let free = "[[point]]\nname = \"B\"\nat = [5, 0, 0]\nfixed = false\n";
    let line = "[[line]]\nname = \"line\"\npath = [\"W\", \"B\"]\ntension = \"20 kN\"\n";
    std::fs::write(f.0.join("loose.toml"), format!("{fixed}{free}{line}")).unwrap();
    let r = unmire_in(&f.0, &["check", "loose.toml", "--json"]);
    assert_eq!((r.status, r.stdout.as_str()), (1, ""), "{}", r.stderr);
    assert!(r.stderr.contains("loose.toml") && r.stderr.contains('B'), "{}", r.stderr);
}
