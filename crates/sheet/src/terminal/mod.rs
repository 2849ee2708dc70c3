//! The report as text for a terminal: three lines to act on first, then the gate, the loads, the steps, the cautions.
//!
//! Words first, then shape, then colour: every verdict is written out, its shape says the same, and colour says nothing
//! that they don't. No line is wider than asked for.

pub mod anchor;
mod bare;
mod failing;
mod headline;
pub mod kinetic;
mod loads;
pub mod page;
mod pull;
pub mod recoil;
mod rest;
mod site_need;
mod table;
mod ways;
mod words;

pub use pull::pull;

use page::Page;
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Plan, Report};

/// How the reader wants it.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// The greatest width of a line, in columns.
    pub width: usize,
    /// Units.
    pub units: Units,
    /// Whether the screen can show colour.
    pub colour: bool,
}
impl Default for Options {
    fn default() -> Self {
        Self { width: 80, units: Units::Metric, colour: false }
    }
}

/// The report as text.
#[must_use]
pub fn report(r: &Report, options: &Options) -> String {
    let mut page = Page::new(options.width, options.colour);
    let u = options.units;
    if r.policy.is_none() {
        bare::write(&mut page, r, u);
        return page.finish();
    }
    match r.plans.first() {
        Some(best) if r.passes() => passing(&mut page, r, best, u),
        _ => {
            failing::write(&mut page, r, u);
            ways::write(&mut page, r, u);
            rest::case_findings(&mut page, r);
        }
    }
    rest::limits(&mut page, r);
    page.finish()
}

fn passing(page: &mut Page, r: &Report, best: &Plan, u: Units) {
    headline::write(page, best, u);
    rest::title(page, r);
    rest::gate(page, r);
    site_need::write(page, r, best, u);
    let heading = if best.pull.is_some() { "Loads over the whole pull, worst first" } else { "Loads, worst first" };
    loads::write(page, best, heading, u);
    loads::legs(page, best, u);
    rest::winch(page, best, u);
    rest::stability(page, best, u);
    rest::pull(page, best, u);
    rest::pieces(page, best);
    rest::steps(page, best);
    rest::stop(page, best, u);
    rest::cautions(page, best);
    rest::keep_out(page, best, u);
    rest::other_policies(page, best);
    rest::other_rigs(page, r, u);
    ways::write(page, r, u);
    rest::case_findings(page, r);
}
