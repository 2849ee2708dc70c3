//! Planning in the browser: the same bytes as the program gives on this machine.

use serde_json::{Value, json};
use std::path::PathBuf;
use std::process::Command;
use unmire_browser::{Page, root};

/// Asks a worker of its own, as the page does.
const ASK: &str = "
    const worker = new Worker('./worker.js', { type: 'module' });
    const next = () => new Promise((got, lost) => {
        worker.onmessage = e => { if (e.data.kind !== 'progress') got(e.data); };
        worker.onerror = e => lost(e.message);
    });
    const ready = await next();
    if (ready.kind !== 'ready') throw JSON.stringify(ready);
    const answers = [];
    for (const job of a[0]) {
        const start = performance.now();
        const came = next();
        worker.postMessage(job);
        answers.push({ ...await came, took: performance.now() - start });
    }
    worker.terminate();
    return answers;";

pub(crate) fn ask(page: &Page<'_>, jobs: &[Value]) -> Vec<Value> {
    page.js_later(ASK, vec![json!(jobs)]).as_array().cloned().unwrap()
}

pub(crate) fn examples() -> PathBuf {
    root().join("examples")
}

/// Every example with the job that suits it, and the verb of the command line that does the same.
pub(crate) fn jobs() -> Vec<(String, &'static str, Value)> {
    let kit = std::fs::read_to_string(examples().join("kit/club-bag.toml")).unwrap();
    let mut out = Vec::new();
    for entry in std::fs::read_dir(examples()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        if !name.ends_with(".toml") {
            continue;
        }
        let text = std::fs::read_to_string(examples().join(&name)).unwrap();
        let given = text.lines().any(|l| l.trim() == "[rig]") || text.contains("unmire.rig/1");
        let verb = if given { "check" } else { "plan" };
        let options = json!({ "name": name, "kits": [["kit/club-bag.toml", kit]] });
        let job = json!({ "id": out.len(), "kind": verb, "text": text, "options": options });
        out.push((name, verb, job));
    }
    out.sort_by(|a, b| a.0.cmp(&b.0));
    assert!(out.len() >= 8);
    out
}

/// The JSON and the drawing of every example are what the program prints, byte for byte: the browser computes with the
/// same bits.
pub fn regress_every_example_gives_the_bytes_of_the_command_line(page: &Page<'_>) {
    let all = jobs();
    let answers = ask(page, &all.iter().map(|(_, _, job)| job.clone()).collect::<Vec<_>>());
    assert_eq!(answers.len(), all.len());
    for ((name, verb, job), answer) in all.iter().zip(&answers) {
        let run = |what: &[&str]| {
            let mut command = Command::new(page.program());
            let out = command.current_dir(examples()).args([verb, &name.as_str()]).args(what).output().unwrap();
            String::from_utf8(out.stdout).unwrap()
        };
        assert_eq!((&answer["kind"], &answer["id"]), (&json!("report"), &job["id"]), "{name}: {answer}");
        assert!(answer["json"] == run(&["--json"]), "{name}: the JSON differs");
        assert!(answer["drawings"][0] == run(&["--svg", "-"]), "{name}: the drawing differs");
    }
}

/// What is no case comes back with everything that is wrong with it, and what can't be planned with the reason.
pub fn regress_the_worker_says_what_is_wrong(page: &Page<'_>) {
    let answers = ask(
        page,
        &[
            json!({ "id": 7, "kind": "plan", "text": "schema = \"unmire.case/1\"\n[vehicle]\nmass = \"2 tons\"\n" }),
            json!({ "id": 8, "kind": "check", "text": jobs().iter().find(|j| j.1 == "plan").unwrap().2["text"] }),
            json!({ "id": 9, "kind": "dance", "text": "" }),
        ],
    );
    assert_eq!((&answers[0]["kind"], &answers[0]["id"]), (&json!("complaints"), &json!(7)));
    let told: Value = serde_json::from_str(answers[0]["complaints"].as_str().unwrap()).unwrap();
    let mass = told.as_array().unwrap().iter().find(|c| c["path"] == "vehicle.mass").unwrap();
    assert_eq!((&mass["code"], &mass["line"]), (&json!("which-ton"), &json!(3)));
    assert_eq!((&answers[1]["kind"], &answers[1]["id"]), (&json!("trouble"), &json!(8)));
    assert!(answers[1]["what"].as_str().unwrap().contains("no rig to check"));
    assert_eq!((&answers[2]["kind"], &answers[2]["id"]), (&json!("trouble"), &json!(9)));
}

/// What a page can ask for at every move of a finger: one rig, again and again. The bound is wide, for this runs beside
/// other things; the figures are printed.
pub fn regress_a_given_rig_is_judged_at_once(page: &Page<'_>) {
    let (_, _, mut job) = jobs().into_iter().find(|j| j.0 == "check-double-line.toml").unwrap();
    job["options"]["drawings"] = json!(false);
    let answers = ask(page, &vec![job; 30]);
    let mut took: Vec<f64> = answers.iter().skip(5).map(|a| a["took"].as_f64().unwrap()).collect();
    took.sort_by(f64::total_cmp);
    eprintln!("a check takes {:.1} ms at best, {:.1} ms in the middle", took[0], took[took.len() / 2]);
    assert!(answers.iter().all(|a| a["json"] == answers[0]["json"]) && took[0] < 1000.0);
}
