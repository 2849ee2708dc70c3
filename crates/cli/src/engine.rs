//! The one place where the program meets the rooms below: reading a case, planning, checking, balancing.
//!
//! Everything else in this crate knows only the types that come back.

use crate::files::Source;
use crate::status::Trouble;
use unmire_audit::Policy;
use unmire_model::case::Case;
use unmire_model::rig::Structure;
use unmire_planner::report::Report;

/// What a file holds.
#[derive(Debug)]
pub enum Given {
    /// A case.
    Case(Box<Case>),
    /// A bare rig with its title.
    Bare(Structure, String),
}

/// Reads a case file; the complaints come back rendered for `width` columns.
pub fn read(source: &Source, width: usize) -> Result<Given, Trouble> {
    let _ = (source, width);
    Err(Trouble::new("reading case files is not built in yet"))
}

/// The policy: the wish, or what the case names, or the default.
pub fn policy(wish: Option<&str>, case: &Case) -> Result<Policy, Trouble> {
    let Some(name) = wish.or(case.policy.as_deref()) else { return Ok(Policy::default_policy()) };
    Policy::by_name(name).ok_or_else(|| {
        let near = Policy::names().into_iter().min_by_key(|n| crate::files::distance(name, n));
        Trouble::hint(
            format!("there is no policy '{name}'"),
            format!("did you mean '{}'? There are: {}", near.unwrap_or_default(), Policy::names().join(", ")),
        )
    })
}

/// Looks for rigs.
pub fn plan(case: &Case, policy: Policy, explain: bool, limit: usize) -> Result<Report, Trouble> {
    let _ = (case, policy, explain, limit);
    Err(Trouble::new("planning is not built in yet"))
}

/// Checks the rig that the case gives.
pub fn check(case: &Case, policy: Policy, explain: bool) -> Result<Report, Trouble> {
    let _ = (case, policy, explain);
    Err(Trouble::new("checking is not built in yet"))
}

/// Balances a bare rig.
pub fn balance(structure: &Structure, title: &str) -> Result<Report, Trouble> {
    let _ = (structure, title);
    Err(Trouble::new("balancing is not built in yet"))
}

/// The title of a source by its key, with who stands behind it and how it is known.
pub fn source_title(key: &str) -> Option<String> {
    let s = unmire_tables::source(key)?;
    let year = if s.year.is_empty() { String::new() } else { format!(", {}", s.year) };
    Some(format!("{}, {}{year} ({})", s.title, s.body, s.access.words()))
}
