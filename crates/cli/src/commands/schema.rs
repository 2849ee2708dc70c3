//! `unmire schema [case|kit|rig|kinetic-problem|plan|pull|anchor|recoil|kinetic]`

use crate::args::{SchemaArgs, SchemaOf};
use crate::output;
use crate::status::{Status, Trouble};
use serde_json::Value;

pub fn run(a: &SchemaArgs) -> Result<Status, Trouble> {
    let schema = match a.of {
        None => unmire_casefile::schema(),
        Some(SchemaOf::Case) => one(unmire_casefile::CASE_SCHEMA)?,
        Some(SchemaOf::Kit) => one(unmire_casefile::KIT_SCHEMA)?,
        Some(SchemaOf::Rig) => one(unmire_casefile::RIG_SCHEMA)?,
        Some(SchemaOf::Plan) => unmire_sheet::json::schema_plan(),
        Some(SchemaOf::Pull) => unmire_sheet::json::schema_pull(),
        Some(SchemaOf::Anchor) => unmire_sheet::json::anchor::schema(),
        Some(SchemaOf::Kinetic) => unmire_sheet::json::kinetic::schema(),
        Some(SchemaOf::KineticProblem) => one(unmire_casefile::KINETIC_SCHEMA)?,
        Some(SchemaOf::Recoil) => unmire_sheet::json::recoil::schema(),
    };
    let text = serde_json::to_string_pretty(&schema).map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
    output::print(&format!("{text}\n"))?;
    Ok(Status::Passes)
}

/// The part of the common schema that is about one document, with the definitions that it needs.
fn one(word: &str) -> Result<Value, Trouble> {
    let mut all = unmire_casefile::schema();
    let branch = all["allOf"]
        .as_array()
        .and_then(|a| a.iter().find(|b| b["if"]["properties"]["schema"]["const"] == word))
        .map(|b| b["then"].clone());
    let Some(branch) = branch else { return Err(Trouble::new(format!("there is no schema of {word}"))) };
    all["title"] = word.into();
    all["$id"] = format!("urn:{}", word.replace(['.', '/'], ":")).into();
    all["properties"]["schema"] = serde_json::json!({ "const": word });
    all["allOf"] = Value::Array(vec![branch]);
    Ok(all)
}
