//! `unmire plan CASE`

use super::show;
use crate::args::PlanArgs;
use crate::engine::{self, Given};
use crate::status::{Status, Trouble};
use crate::{files, output};

pub fn run(a: &PlanArgs) -> Result<Status, Trouble> {
    let source = files::read(&a.case)?;
    match engine::read(&source, output::width(a.view.width))? {
        Given::Bare(_) => Err(Trouble::hint(
            format!("{} holds a bare rig: there is nothing to plan in it", source.name),
            format!("'unmire check {}' balances it", source.name),
        )),
        Given::Case(case) => {
            let policy = engine::policy(a.policy.as_deref(), &case)?;
            let report = engine::plan(&case, policy, a.view.explain, usize::from(a.limit))?;
            show::report(&report, &a.view)
        }
    }
}
