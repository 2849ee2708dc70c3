//! The one place where the program meets the rooms below: reading a case, planning, checking, balancing.
//!
//! Everything else in this crate knows only the types that come back.

use crate::files::{self, Source};
use crate::status::Trouble;
use unmire_audit::Policy;
use unmire_casefile::{Document, Known};
use unmire_mechanics::rig::RigError;
use unmire_model::case::Case;
use unmire_model::rig::Structure;
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

/// Reads a case file; the complaints come back rendered for `width` columns.
pub fn read(source: &Source, width: usize) -> Result<Given, Trouble> {
    let surfaces = rolling::ROWS.iter().map(|r| r.key).collect::<Vec<_>>();
    let soils = bekker::ROWS.iter().map(|r| r.key).collect::<Vec<_>>();
    let kinds = species::ROWS.iter().map(|r| r.key).collect::<Vec<_>>();
    let foundations = foundation_friction::ROWS.iter().map(|r| r.key).collect::<Vec<_>>();
    let anchor_soils = anchor_soil::ROWS.iter().map(|r| r.key).collect::<Vec<_>>();
    let rocks = rock_bond::ROWS.iter().map(|r| r.key).collect::<Vec<_>>();
    let known = Known {
        surfaces: &surfaces,
        soils: &soils,
        species: &kinds,
        anchor_soils: &anchor_soils,
        rocks: &rocks,
        foundations: &foundations,
        policies: &Policy::names(),
    };
    let mut resolve = |path: &str| files::read_beside(&source.folder, path);
    match unmire_casefile::read_bytes(&source.bytes, &mut resolve, &known) {
        Ok(Document::Case(case)) => Ok(Given::Case(case)),
        Ok(Document::Rig(structure)) => Ok(Given::Bare(structure)),
        Ok(Document::Kit(_)) => Err(Trouble::hint(
            format!("{} is a kit file: a bag alone is no case", source.name),
            "a case file points at it with a line like  kit = \"bag.toml\"",
        )),
        Err(complaints) => {
            let mut text = unmire_casefile::render(&complaints, &source.name, width);
            let many = complaints.len();
            text += &format!("{} {} in {}\n", many, if many == 1 { "mistake" } else { "mistakes" }, source.name);
            Err(Trouble::Rendered(text))
        }
    }
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

/// Looks for rigs.
pub fn plan(case: &Case, policy: Policy, explain: bool, limit: usize) -> Result<Report, Trouble> {
    unmire_planner::plan(case, &Options { policy, explain, limit }).map_err(|e| trouble(&e))
}

/// Checks the rig that the case gives.
pub fn check(case: &Case, policy: Policy, explain: bool) -> Result<Report, Trouble> {
    unmire_planner::check(case, &Options { policy, explain, limit: 1 }).map_err(|e| trouble(&e))
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
