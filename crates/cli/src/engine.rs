//! The one place where the program meets the rooms below: reading a case, planning, checking, balancing.
//!
//! Everything else in this crate knows only the types that come back.

use crate::files::{self, Source};
use crate::status::Trouble;
use unmire_audit::Policy;
use unmire_casefile::{Document, Known, anchor_from_words, keys_of_anchor};
use unmire_mechanics::rig::RigError;
use unmire_model::anchor::Anchor;
use unmire_model::case::Case;
use unmire_model::kinetic::BarePull;
use unmire_model::rig::Structure;
use unmire_planner::kinetic::{BareReport, KineticReport};
use unmire_planner::pull::PullOptions;
use unmire_planner::pull::report::Pull;
use unmire_planner::recoil::{NoRecoil, RecoilReport};
use unmire_planner::report::Report;
use unmire_planner::{Options, PlanError};
use unmire_tables::{anchor_soil, bekker, foundation_friction, rock_bond, rolling, species};

/// What a file holds.
#[derive(Debug)]
pub enum Given {
    /// A case.
    Case(Box<Case>),
    /// A bare rig.
    Bare(Structure),
}

/// The keys of the tables that the reader checks words against.
struct Tables {
    surfaces: Vec<&'static str>,
    soils: Vec<&'static str>,
    species: Vec<&'static str>,
    anchor_soils: Vec<&'static str>,
    rocks: Vec<&'static str>,
    foundations: Vec<&'static str>,
    policies: Vec<&'static str>,
}
impl Tables {
    fn new() -> Self {
        Self {
            surfaces: rolling::ROWS.iter().map(|r| r.key).collect(),
            soils: bekker::ROWS.iter().map(|r| r.key).collect(),
            species: species::ROWS.iter().map(|r| r.key).collect(),
            anchor_soils: anchor_soil::ROWS.iter().map(|r| r.key).collect(),
            rocks: rock_bond::ROWS.iter().map(|r| r.key).collect(),
            foundations: foundation_friction::ROWS.iter().map(|r| r.key).collect(),
            policies: Policy::names().to_vec(),
        }
    }
    fn known(&self) -> Known<'_> {
        Known {
            surfaces: &self.surfaces,
            soils: &self.soils,
            species: &self.species,
            anchor_soils: &self.anchor_soils,
            rocks: &self.rocks,
            foundations: &self.foundations,
            policies: &self.policies,
        }
    }
}

/// Reads a file; the complaints come back rendered for `width` columns.
fn document(source: &Source, width: usize) -> Result<Document, Trouble> {
    let tables = Tables::new();
    let known = tables.known();
    let mut resolve = |path: &str| files::read_beside(&source.folder, path);
    match unmire_casefile::read_bytes(&source.bytes, &mut resolve, &known) {
        Ok(Document::Kit(_)) => Err(Trouble::hint(
            format!("{} is a kit file: a bag alone is no case", source.name),
            "a case file points at it with a line like  kit = \"bag.toml\"",
        )),
        Ok(document) => Ok(document),
        Err(complaints) => {
            let mut text = unmire_casefile::render(&complaints, &source.name, width);
            let many = complaints.len();
            text += &format!("{} {} in {}\n", many, if many == 1 { "mistake" } else { "mistakes" }, source.name);
            Err(Trouble::Rendered(text))
        }
    }
}

/// What a case or a bare rig holds.
pub fn read(source: &Source, width: usize) -> Result<Given, Trouble> {
    match document(source, width)? {
        Document::Case(case) => Ok(Given::Case(case)),
        Document::Rig(structure) => Ok(Given::Bare(structure)),
        Document::Kinetic(_) | Document::Kit(_) => Err(Trouble::hint(
            format!("{} is a bare kinetic problem: it has no vehicle, no ground and no kit", source.name),
            "'unmire kinetic' reads it",
        )),
    }
}

/// What can be snatched on.
#[derive(Debug)]
pub enum Snatched {
    /// A case.
    Case(Box<Case>),
    /// A bare problem.
    Bare(Box<BarePull>),
}

/// What a case or a bare kinetic problem holds.
pub fn snatched(source: &Source, width: usize) -> Result<Snatched, Trouble> {
    match document(source, width)? {
        Document::Case(case) => Ok(Snatched::Case(case)),
        Document::Kinetic(problem) => Ok(Snatched::Bare(problem)),
        Document::Rig(_) | Document::Kit(_) => Err(Trouble::hint(
            format!("{} holds a bare rig: nothing in it moves", source.name),
            "give a case, or a bare kinetic problem; 'unmire schema kinetic-problem' describes one",
        )),
    }
}

/// The anchor that words of the command line describe: `key=value` each. With `walked_round`, every sign that nobody
/// answered counts as looked for and not found.
pub fn anchor(kind: &str, words: &[String], walked_round: bool) -> Result<Anchor, Trouble> {
    let mut pairs: Vec<(String, String)> = Vec::with_capacity(words.len());
    for word in words {
        let Some((key, value)) = word.split_once('=') else {
            return Err(Trouble::hint(
                format!("'{word}' is no key=value"),
                format!("for example girth='1.2 m'; 'unmire anchor {}' lists the keys", kind.replace(' ', "-")),
            ));
        };
        pairs.push((key.trim().to_owned(), value.trim().to_owned()));
    }
    if walked_round {
        let signs = keys_of_anchor(kind).unwrap_or_default();
        for sign in signs.iter().filter(|k| k.within.is_some_and(|w| w.name == "signs")) {
            if !pairs.iter().any(|(k, _)| *k == sign.name() || k == "signs") {
                pairs.push((sign.name(), "false".to_owned()));
            }
        }
    }
    let tables = Tables::new();
    let given: Vec<(&str, &str)> = pairs.iter().map(|(k, v)| (k.as_str(), v.as_str())).collect();
    anchor_from_words(kind, &given, &tables.known()).map_err(|errors| {
        let mut text = String::new();
        for e in &errors {
            let at = if e.word.is_empty() { String::new() } else { format!("{}: ", e.word) };
            text += &format!("error: {at}{e}\n");
        }
        Trouble::Rendered(text)
    })
}

/// The words that a kind of anchor knows, as a text; nothing if there is no such kind.
pub fn anchor_words(kind: &str, width: usize) -> Option<String> {
    let keys = keys_of_anchor(kind)?;
    let rows = keys.iter().map(|k| (k.name(), k.required(), k.key.about, k.expected(), k.key.example));
    Some(unmire_sheet::terminal::anchor::words(kind, rows, width))
}

/// The policy: the wish, or what the case names, or the default.
pub fn policy(wish: Option<&str>, case: &Case) -> Result<Policy, Trouble> {
    let Some(name) = wish.or(case.policy.as_deref()) else { return Ok(Policy::default_policy()) };
    Policy::by_name(name).ok_or_else(|| {
        let near = Policy::names().into_iter().min_by_key(|n| files::distance(name, n));
        Trouble::hint(
            format!("there is no policy '{name}'"),
            format!("did you mean '{}'? There are: {}", near.unwrap_or_default(), Policy::names().join(", ")),
        )
    })
}

/// Looks for rigs, and sets winch, kinetic and neither side by side.
pub fn plan(case: &Case, policy: Policy, explain: bool, limit: usize) -> Result<Report, Trouble> {
    let options = Options { policy, explain, limit };
    let mut report = unmire_planner::plan(case, &options).map_err(|e| trouble(&e))?;
    report.ways = unmire_planner::kinetic::ways(case, &options, &report);
    Ok(report)
}

/// Plays the whole pull: of the rig that the case gives, else of that place in the ranking, from zero.
pub fn pull(case: &Case, policy: Policy, rig: usize, steps: usize, stages: usize) -> Result<Pull, Trouble> {
    unmire_planner::pull::play(case, &PullOptions { policy, steps, stages, rig }).map_err(|e| trouble(&e))
}

/// Checks the rig that the case gives.
pub fn check(case: &Case, policy: Policy, explain: bool) -> Result<Report, Trouble> {
    unmire_planner::check(case, &Options { policy, explain, limit: 1 }).map_err(|e| trouble(&e))
}

/// A kinetic pull.
pub fn kinetic(case: &Case, policy: Policy, explain: bool) -> Result<KineticReport, Trouble> {
    unmire_planner::kinetic::kinetic(case, &Options { policy, explain, limit: 1 }).map_err(|e| trouble(&e))
}

/// A bare kinetic problem.
pub fn bare_kinetic(problem: &BarePull, name: &str, explain: bool) -> Result<BareReport, Trouble> {
    unmire_planner::kinetic::bare(problem, name, explain).map_err(|e| Trouble::new(format!("{name}: {e}")))
}

/// What happens if something lets go.
pub fn recoil(case: &Case, policy: Policy, explain: bool) -> Result<RecoilReport, Trouble> {
    unmire_planner::recoil::recoil(case, &Options { policy, explain, limit: 1 }).map_err(|e| match &e {
        NoRecoil::Plan(e) => trouble(e),
        NoRecoil::NoRig => {
            Trouble::hint(e.to_string(), "'unmire plan' tells what is missing for a rig, and why each way fails")
        }
    })
}

fn trouble(e: &PlanError) -> Trouble {
    match e {
        PlanError::NoRig => Trouble::hint(
            "the case gives no rig to check",
            "add a [rig] table to it ('unmire schema case' describes one), or look for rigs with 'unmire plan'",
        ),
        e => Trouble::new(e.to_string()),
    }
}

/// Why a bare rig has no solution.
#[derive(Debug)]
pub enum Unbalanced {
    /// What was given makes no rig.
    Input(Trouble),
    /// It is a rig, and it does not hold still.
    Rig(Trouble),
}

/// Balances a bare rig. Its working is always kept below; it is shown only if it was asked for.
pub fn balance(structure: &Structure, title: &str, explain: bool) -> Result<Report, Unbalanced> {
    let balanced = unmire_planner::balance(structure, title).map(|mut report| {
        if !explain {
            report.plans.iter_mut().for_each(|p| p.trail.steps.clear());
        }
        report
    });
    balanced.map_err(|e| {
        let said = Trouble::new(format!("{title}: {e}"));
        match e {
            RigError::Empty
            | RigError::TooLarge { .. }
            | RigError::BadValue { .. }
            | RigError::NoSuchPoint { .. }
            | RigError::BadMember { .. }
            | RigError::Coincident { .. } => Unbalanced::Input(said),
            _ => Unbalanced::Rig(said),
        }
    })
}

/// The title of a source by its key, with who stands behind it and how it is known.
pub fn source_title(key: &str) -> Option<String> {
    let s = unmire_tables::source(key)?;
    let year = if s.year.is_empty() { String::new() } else { format!(", {}", s.year) };
    Some(format!("{}, {}{year} ({})", s.title, s.body, s.access.words()))
}
