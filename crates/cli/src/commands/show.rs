//! A report in the form that was asked for, and the exit status that follows from it.

use crate::args::View;
use crate::status::{Status, Trouble};
use crate::{files, output};
use unmire_planner::report::Report;
use unmire_sheet::{json, terminal};

/// Prints, draws, and tells the status.
pub fn report(r: &Report, view: &View) -> Result<Status, Trouble> {
    let width = output::width(view.width);
    if let Some(file) = &view.svg {
        let drawing = unmire_sheet::svg::draw(r, view.units.into());
        if file.as_os_str() == "-" {
            output::print(&drawing)?;
            return Ok(status(r));
        }
        files::write(file, &drawing)?;
    }
    if view.json {
        let text = json::to_text(r).map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
        output::print(&text)?;
        return Ok(status(r));
    }
    let options = terminal::Options { width, units: view.units.into(), colour: view.color.wanted() };
    let mut text = terminal::report(r, &options);
    if view.explain {
        text.push_str(&unmire_sheet::explain::report(r, &options, &crate::engine::source_title));
    }
    output::print(&text)?;
    Ok(status(r))
}

fn status(r: &Report) -> Status {
    if r.passes() { Status::Passes } else { Status::NonePasses }
}
