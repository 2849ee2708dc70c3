//! `unmire check CASE`

use super::show;
use crate::args::CheckArgs;
use crate::engine::{self, Given, Unbalanced};
use crate::status::{Status, Trouble};
use crate::{files, output};

pub fn run(a: &CheckArgs) -> Result<Status, Trouble> {
    let source = files::read(&a.case)?;
    let report = match engine::read(&source, output::width(a.view.width))? {
        Given::Bare(structure) => {
            if a.policy.is_some() {
                return Err(Trouble::new(format!("{} holds a bare rig: no policy judges it", source.name)));
            }
            match engine::balance(&structure, &source.name, a.view.explain) {
                Ok(report) => report,
                Err(Unbalanced::Input(trouble)) => return Err(trouble),
                Err(Unbalanced::Rig(trouble)) => {
                    output::complain(&trouble);
                    return Ok(Status::NonePasses);
                }
            }
        }
        Given::Case(case) => {
            let policy = engine::policy(a.policy.as_deref(), &case)?;
            engine::check(&case, policy, a.view.explain)?
        }
    };
    show::report(&report, &a.view)
}
