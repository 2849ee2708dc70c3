//! `unmire recoil CASE`

use crate::args::RecoilArgs;
use crate::engine::{self, Given};
use crate::status::{Status, Trouble};
use crate::{files, output};
use unmire_sheet::{explain, json, svg, terminal};

pub fn run(a: &RecoilArgs) -> Result<Status, Trouble> {
    let source = files::read(&a.case)?;
    let width = output::width(a.view.width);
    let Given::Case(case) = engine::read(&source, width)? else {
        return Err(Trouble::hint(
            format!("{} holds a bare rig: nobody knows what its parts are made of", source.name),
            "give a case with its kit; 'unmire schema case' describes one",
        ));
    };
    let policy = engine::policy(a.policy.as_deref(), &case)?;
    let r = engine::recoil(&case, policy, a.view.explain)?;
    let status = if r.passes() { Status::Passes } else { Status::NonePasses };
    if let Some(file) = &a.view.svg {
        let drawing = svg::recoil::draw(&r, a.view.units.into());
        if file.as_os_str() == "-" {
            output::print(&drawing)?;
            return Ok(status);
        }
        files::write(file, &drawing)?;
    }
    if a.view.json {
        let text = json::recoil::to_text(&r).map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
        output::print(&text)?;
        return Ok(status);
    }
    let options = terminal::Options { width, units: a.view.units.into(), colour: a.view.color.wanted() };
    let mut text = terminal::recoil::report(&r, &options);
    if a.view.explain {
        text.push_str(&explain::working("what flies", &r.trail, &options, &engine::source_title));
    }
    output::print(&text)?;
    Ok(status)
}
