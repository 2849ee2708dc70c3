//! `unmire kinetic CASE` and `unmire kinetic PROBLEM`

use crate::args::KineticArgs;
use crate::engine::{self, Snatched};
use crate::status::{Status, Trouble};
use crate::{files, output};
use unmire_sheet::{explain, json, svg, terminal};

pub fn run(a: &KineticArgs) -> Result<Status, Trouble> {
    let source = files::read(&a.case)?;
    let width = output::width(a.view.width);
    let options = terminal::Options { width, units: a.view.units.into(), colour: a.view.color.wanted() };
    let u = options.units;
    let working = |of: &str, trail| explain::working(of, trail, &options, &engine::source_title);
    match engine::snatched(&source, width)? {
        Snatched::Case(case) => {
            let policy = engine::policy(a.policy.as_deref(), &case)?;
            let r = engine::kinetic(&case, policy, a.view.explain)?;
            let status = if r.passes() { Status::Passes } else { Status::NonePasses };
            let shown = Shown {
                drawing: a.view.svg.as_ref().map(|_| svg::kinetic::draw_case(&r, u)),
                json: a.view.json.then(|| json::kinetic::document(&r)),
            };
            show(a, shown, status, || {
                let mut text = terminal::kinetic::report(&r, &options);
                if a.view.explain {
                    text.push_str(&working("the kinetic pull", &r.trail));
                }
                text
            })
        }
        Snatched::Bare(problem) => {
            let r = engine::bare_kinetic(&problem, &source.name, a.view.explain)?;
            let status = if r.passes() { Status::Passes } else { Status::NonePasses };
            let shown = Shown {
                drawing: a.view.svg.as_ref().map(|_| svg::kinetic::draw_bare(&r, u)),
                json: a.view.json.then(|| json::kinetic::bare_document(&r)),
            };
            show(a, shown, status, || {
                let mut text = terminal::kinetic::bare(&r, &options);
                if a.view.explain {
                    text.push_str(&working("the problem", &r.trail));
                }
                text
            })
        }
    }
}

/// What was asked for besides the text.
struct Shown {
    /// A drawing, if one was asked for; none in it if there is nothing to draw.
    drawing: Option<Option<String>>,
    /// The JSON.
    json: Option<json::kinetic::KineticDocument>,
}

fn show(a: &KineticArgs, shown: Shown, status: Status, text: impl FnOnce() -> String) -> Result<Status, Trouble> {
    if let (Some(file), Some(drawing)) = (&a.view.svg, shown.drawing) {
        let drawing =
            drawing.ok_or_else(|| Trouble::hint("there is nothing to draw", "without '--svg' the text says why"))?;
        if file.as_os_str() == "-" {
            output::print(&drawing)?;
            return Ok(status);
        }
        files::write(file, &drawing)?;
    }
    if let Some(d) = &shown.json {
        let text = json::kinetic::to_text(d).map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
        output::print(&text)?;
        return Ok(status);
    }
    output::print(&text())?;
    Ok(status)
}
