//! The planner behind the page: a case's text in, the report out, exactly as the command line makes it.
//!
//! Plain data on both sides, so that a job can cross to a worker and its answer back. The same function serves the
//! worker (a whole search) and the page itself (one rig while a finger moves).

use crate::document::{Complaint, complaints};
use serde::Serialize;
use unmire_audit::Policy;
use unmire_casefile::{Document, Known};
use unmire_model::case::Case;
use unmire_model::quantity::show;
use unmire_planner::pull::PullOptions;
use unmire_planner::report::Report;
use unmire_planner::{Options, PlanError, Progress};
use unmire_sheet::{json, svg};
use unmire_tables::{anchor_soil, bekker, foundation_friction, rock_bond, rolling, species};

/// What is to be done with a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Look for rigs.
    Plan,
    /// Judge the rig that the case gives; balance a bare rig.
    Check,
    /// Play the whole pull: with the rig that the case gives, else with one of the ranking.
    Pull,
}

/// The reader's units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// kN, t, kg, m, mm.
    #[default]
    Metric,
    /// lbf, lb, ft, in.
    Us,
}
impl From<Units> for show::Units {
    fn from(u: Units) -> Self {
        match u {
            Units::Metric => Self::Metric,
            Units::Us => Self::Us,
        }
    }
}

/// A job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Job {
    /// What is to be done.
    pub kind: Kind,
    /// The text of the case file.
    pub text: String,
    /// How, if not as usual.
    pub options: Wishes,
}

/// How a job is to be done; what is left out is as in the command line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Wishes {
    /// What the file is called.
    pub name: String,
    /// The kit files that the case may refer to: path and text.
    pub kits: Vec<(String, String)>,
    /// The policy, if not the one that the case names.
    pub policy: Option<String>,
    /// How many ranked rigs to give.
    pub limit: usize,
    /// For a pull: which rig of the ranking, from zero, where the case gives none.
    pub rig: usize,
    /// Whether to keep the working behind every number.
    pub explain: bool,
    /// For a check: what was done before the pull, in the words that a plan gives its actions.
    pub actions: Vec<String>,
    /// Units of the drawings.
    pub units: Units,
    /// Whether to draw.
    pub drawings: bool,
}
impl Default for Wishes {
    fn default() -> Self {
        Self {
            name: "case.toml".to_owned(),
            kits: Vec::new(),
            policy: None,
            limit: 5,
            rig: 0,
            explain: false,
            actions: Vec::new(),
            units: Units::Metric,
            drawings: true,
        }
    }
}

/// What comes of a job.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// A report.
    Report(Finding),
    /// The text can't be read as a case: everything that is wrong with it.
    Complaints(Vec<Complaint>),
    /// It can be read, and no report can be made of it.
    Trouble(String),
}

/// A report in the forms in which it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The JSON that the command line prints, byte for byte.
    pub json: String,
    /// The drawing of each rig, in their order; of the site alone if there is none.
    pub drawings: Vec<String>,
    /// Each rig as the `[rig]` table of a case file, in their order; empty for a bare rig.
    pub rigs: Vec<String>,
}

/// Does a job. `watch` is told how far a search is.
pub fn answer(job: &Job, watch: &mut dyn FnMut(Progress)) -> Answer {
    let case = match read(&job.text, &job.options.kits) {
        Ok(Document::Case(case)) => case,
        Ok(Document::Rig(structure)) if job.kind == Kind::Check => {
            return match unmire_planner::balance(&structure, &job.options.name) {
                Ok(mut report) => {
                    if !job.options.explain {
                        report.plans.iter_mut().for_each(|p| p.trail.steps.clear());
                    }
                    shown(&report, &job.options)
                }
                Err(e) => Answer::Trouble(format!("{}: {e}", job.options.name)),
            };
        }
        Ok(Document::Rig(_)) => return Answer::Trouble("a bare rig can be balanced, not planned".to_owned()),
        Ok(Document::Kinetic(_)) => {
            return Answer::Trouble("a bare kinetic problem has no vehicle to plan for".to_owned());
        }
        Ok(Document::Kit(_)) => return Answer::Trouble("this is a kit file: a bag alone is no case".to_owned()),
        Err(found) => return Answer::Complaints(complaints(&job.text, &found)),
    };
    let wishes = &job.options;
    let done = match job.kind {
        Kind::Plan => planned(&case, wishes, watch).map(|r| shown(&r, wishes)),
        Kind::Check => checked(&case, wishes).map(|r| shown(&r, wishes)),
        Kind::Pull => pulled(&case, wishes),
    };
    done.unwrap_or_else(Answer::Trouble)
}

/// The policy that was asked for, or the case's own.
fn policy(case: &Case, wishes: &Wishes) -> Result<Policy, String> {
    match wishes.policy.as_deref().or(case.policy.as_deref()) {
        None => Ok(Policy::default_policy()),
        Some(name) => Policy::by_name(name).ok_or_else(|| format!("there is no policy '{name}'")),
    }
}

fn pulled(case: &Case, wishes: &Wishes) -> Result<Answer, String> {
    let options = PullOptions { policy: policy(case, wishes)?, rig: wishes.rig, ..PullOptions::default() };
    let pull = unmire_planner::pull::play(case, &options).map_err(|e| e.to_string())?;
    let json = json::pull_to_text(&pull).map_err(|e| format!("cannot write JSON: {e}"))?;
    Ok(Answer::Report(Finding { json, drawings: Vec::new(), rigs: Vec::new() }))
}

fn options(case: &Case, wishes: &Wishes) -> Result<Options, String> {
    Ok(Options { policy: policy(case, wishes)?, explain: wishes.explain, limit: wishes.limit })
}

fn planned(case: &Case, wishes: &Wishes, watch: &mut dyn FnMut(Progress)) -> Result<Report, String> {
    let options = options(case, wishes)?;
    let mut report = unmire_planner::plan_watched(case, &options, watch).map_err(|e| e.to_string())?;
    report.ways = unmire_planner::kinetic::ways(case, &options, &report);
    Ok(report)
}

fn checked(case: &Case, wishes: &Wishes) -> Result<Report, String> {
    let layout = case.rig.as_ref().ok_or_else(|| PlanError::NoRig.to_string())?;
    let actions: Vec<&str> = wishes.actions.iter().map(String::as_str).collect();
    unmire_planner::check_layout(case, layout, &actions, &options(case, wishes)?).map_err(|e| e.to_string())
}

fn shown(report: &Report, wishes: &Wishes) -> Answer {
    let json = match json::to_text(report) {
        Ok(json) => json,
        Err(e) => return Answer::Trouble(format!("cannot write JSON: {e}")),
    };
    let draw = |i: usize| svg::draw_plan(report, i, wishes.units.into());
    let drawings = if wishes.drawings { (0..report.plans.len().max(1)).map(draw).collect() } else { Vec::new() };
    let rigs = report.plans.iter().filter_map(|p| p.layout.as_ref()).map(unmire_casefile::write_layout).collect();
    Answer::Report(Finding { json, drawings, rigs })
}

/// Reads a document as the command line does: words are checked against the tables, kits are taken from those at hand.
///
/// # Errors
/// Everything that is wrong with it.
pub fn read(text: &str, kits: &[(String, String)]) -> Result<Document, Vec<unmire_casefile::Diagnostic>> {
    macro_rules! keys {
        ($table:ident) => {
            &$table::ROWS.iter().map(|r| r.key).collect::<Vec<_>>()
        };
    }
    let known = Known {
        surfaces: keys!(rolling),
        soils: keys!(bekker),
        species: keys!(species),
        anchor_soils: keys!(anchor_soil),
        rocks: keys!(rock_bond),
        foundations: keys!(foundation_friction),
        policies: &Policy::names(),
    };
    let mut resolve = |path: &str| kit(path, kits);
    unmire_casefile::read_with(text, &mut resolve, &known)
}

/// Which of the kits a path means: by the path, or by its file name alone: a browser hands over files without their
/// folders.
#[must_use]
pub fn kit_index(path: &str, kits: &[(String, String)]) -> Option<usize> {
    let name = |p: &str| p.rsplit(['/', '\\']).next().unwrap_or_default().to_owned();
    let exact = kits.iter().position(|(p, _)| p == path);
    exact.or_else(|| kits.iter().position(|(p, _)| name(p) == name(path)))
}
fn kit(path: &str, kits: &[(String, String)]) -> Result<String, String> {
    let found = kit_index(path, kits).and_then(|i| kits.get(i));
    let name = path.rsplit(['/', '\\']).next().unwrap_or_default();
    found.map(|(_, text)| text.clone()).ok_or_else(|| format!("the kit '{name}' is not at hand"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{KITS, cases};

    fn job(name: &str, text: &str) -> Job {
        let kits = KITS.iter().map(|(p, t)| ((*p).to_owned(), (*t).to_owned())).collect();
        let given = text.lines().any(|l| l.trim() == "[rig]") || text.contains("unmire.rig/1");
        let kind = if given { Kind::Check } else { Kind::Plan };
        Job { kind, text: text.to_owned(), options: Wishes { name: name.to_owned(), kits, ..Wishes::default() } }
    }
    fn report(job: &Job) -> Finding {
        match answer(job, &mut |_| {}) {
            Answer::Report(f) => f,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn regress_every_example_gives_what_the_command_line_prints() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
        assert!(cases().len() >= 8);
        for example in cases() {
            let found = report(&job(example.file, example.text));
            let stem = example.file.trim_end_matches(".toml");
            let json = std::fs::read_to_string(folder.join(format!("{stem}.expected.json"))).unwrap();
            assert!(found.json == json, "{}: not the JSON of the command line", example.file);
            let svg = std::fs::read_to_string(folder.join(format!("{stem}.expected.svg"))).unwrap();
            assert!(found.drawings.first() == Some(&svg), "{}: not the drawing of the command line", example.file);
        }
    }
    #[test]
    fn regress_a_pull_is_played() {
        let example = cases().into_iter().find(|c| c.file == "out-of-the-hole.toml").unwrap();
        let mut job = job(example.file, example.text);
        job.kind = Kind::Pull;
        let found = report(&job);
        assert!(found.json.starts_with("{\n  \"schema\": \"unmire.pull/1\"") && found.drawings.is_empty());
        job.options.rig = 40;
        assert!(matches!(answer(&job, &mut |_| {}), Answer::Trouble(t) if t.contains("not among them")));
    }
    #[test]
    fn regress_a_found_rig_put_into_the_case_is_judged_as_it_was_found() {
        let example = cases().into_iter().find(|c| c.file == "wheel-deep-mud.toml").unwrap();
        let mut job = job(example.file, example.text);
        let found = report(&job);
        let plans: json::Document = serde_json::from_str(&found.json).unwrap();
        assert_eq!(found.rigs.len(), plans.plans.len());
        for (rig, plan) in found.rigs.iter().zip(&plans.plans) {
            job.kind = Kind::Check;
            job.text = format!("{}\n{rig}", example.text);
            job.options.actions = plan.actions.iter().map(|a| a.word.clone()).collect();
            let again: json::Document = serde_json::from_str(&report(&job).json).unwrap();
            assert_eq!(again.plans, std::slice::from_ref(plan));
        }
    }
    #[test]
    fn regress_what_is_wrong_is_said() {
        let wrong = |text: &str| answer(&job("a.toml", text), &mut |_| {});
        assert!(matches!(wrong("schema = \"unmire.case/1\"\n"), Answer::Complaints(c) if c.len() > 3));
        assert!(matches!(wrong("schema = \"unmire.kit/1\"\n"), Answer::Complaints(_) | Answer::Trouble(_)));
        let example = cases().into_iter().find(|c| c.file == "wet-grass.toml").unwrap();
        let mut check = job(example.file, example.text);
        check.kind = Kind::Check;
        assert!(matches!(answer(&check, &mut |_| {}), Answer::Trouble(t) if t.contains("no rig to check")));
        let mut policy = job(example.file, example.text);
        policy.options.policy = Some("nobody's".to_owned());
        assert!(matches!(answer(&policy, &mut |_| {}), Answer::Trouble(t) if t.contains("nobody's")));
    }
    #[test]
    fn regress_a_kit_is_found_by_its_file_name() {
        let kits = [("bag.toml".to_owned(), "text".to_owned())];
        assert_eq!(kit("kit/bag.toml", &kits), Ok("text".to_owned()));
        assert!(kit("kit/other.toml", &kits).is_err());
    }
    #[test]
    fn regress_a_job_survives_the_way_to_the_worker() {
        let job = job("a.toml", "text");
        let there: Job = crate::tree::read(&serde_json::to_string(&job).unwrap()).unwrap();
        assert_eq!(there, job);
        let least: Job = crate::tree::read(r#"{ "kind": "plan", "text": "" }"#).unwrap();
        assert_eq!((least.kind, least.options), (Kind::Plan, Wishes::default()));
    }
}
