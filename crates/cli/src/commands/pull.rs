//! `unmire pull CASE`

use crate::args::PullArgs;
use crate::engine::{self, Given};
use crate::status::{Status, Trouble};
use crate::{files, output};
use std::path::Path;
use unmire_sheet::{json, pull_csv, svg, terminal};

pub fn run(a: &PullArgs) -> Result<Status, Trouble> {
    let source = files::read(&a.case)?;
    let width = output::width(a.width);
    let Given::Case(case) = engine::read(&source, width)? else {
        return Err(Trouble::hint(
            format!("{} holds a bare rig: there is no vehicle in it to be pulled", source.name),
            format!("'unmire check {}' balances it", source.name),
        ));
    };
    let policy = engine::policy(a.policy.as_deref(), &case)?;
    let rig = usize::from(a.rig).saturating_sub(1);
    let pull = engine::pull(&case, policy, rig, usize::from(a.steps), usize::from(a.stages))?;
    let status = if pull.passes() { Status::Passes } else { Status::NonePasses };
    let mut told = false;
    if let Some(file) = &a.svg {
        let picture = svg::draw_pull(&pull, a.units.into())
            .ok_or_else(|| Trouble::new("there is nothing to draw: the vehicle does not move"))?;
        told |= put(file, &picture)?;
    }
    if let Some(file) = &a.csv {
        let text = pull_csv::csv(&pull).map_err(|e| Trouble::new(format!("cannot write CSV: {e}")))?;
        told |= put(file, &text)?;
    }
    if told {
        return Ok(status);
    }
    if a.json {
        let text = json::pull_to_text(&pull).map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
        output::print(&text)?;
        return Ok(status);
    }
    let options = terminal::Options { width, units: a.units.into(), colour: a.color.wanted() };
    output::print(&terminal::pull(&pull, &options))?;
    Ok(status)
}

/// Into a file, or with '-' to standard output; tells whether it was that.
fn put(file: &Path, text: &str) -> Result<bool, Trouble> {
    if file.as_os_str() == "-" {
        output::print(text)?;
        return Ok(true);
    }
    files::write(file, text)?;
    Ok(false)
}
