//! `unmire schema [case|kit|rig|plan]`

use crate::args::{SchemaArgs, SchemaOf};
use crate::output;
use crate::status::{Status, Trouble};

pub fn run(a: &SchemaArgs) -> Result<Status, Trouble> {
    let schema = match a.of {
        SchemaOf::Plan => unmire_sheet::json::schema_plan(),
        SchemaOf::Case | SchemaOf::Kit | SchemaOf::Rig => {
            return Err(Trouble::new("the schema of case files is not built in yet"));
        }
    };
    let text = serde_json::to_string_pretty(&schema).map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
    output::print(&format!("{text}\n"))?;
    Ok(Status::Passes)
}
