//! `unmire new [FILE]`: at most ten questions, then a case.

use crate::args::NewArgs;
use crate::status::{Status, Trouble};

pub fn run(a: &NewArgs) -> Result<Status, Trouble> {
    let _ = (&a.file, a.force);
    Err(Trouble::new("the questions are not built in yet"))
}
