//! The JSON Schema of the documents, made from the same tables of keys as the reader.

use crate::key::{Key, Kind, Need, Quantity, Section};
use crate::keys::{bare, case, kinetic, kit, label};
use serde_json::{Map, Value, json};

/// The JSON Schema (draft 2020-12) of a case, a bag, a bare rig and a bare kinetic problem, for editors that complete and check TOML.
#[must_use]
pub fn schema() -> Value {
    let mut defs = Map::new();
    let roots: Vec<Value> =
        [&case::CASE, &kit::KIT, &bare::BARE, &kinetic::PROBLEM].into_iter().map(|s| section(s, &mut defs)).collect();
    defs.insert("label".into(), label_schema());
    defs.insert("place".into(), place_schema());
    let [case, kit, rig, problem] = <[Value; 4]>::try_from(roots).unwrap_or_default();
    // Which document it is hangs on `schema` alone, so that an editor tells of the mistakes of that one only.
    let when = |word: &str, then: Value| {
        json!({
            "if": { "properties": { "schema": { "const": word } }, "required": ["schema"] },
            "then": then,
        })
    };
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:unmire:documents:1",
        "title": "unmire documents",
        "description": "A case, a bag of gear, a bare rig, or a bare kinetic problem, written as TOML. The program itself checks more than this schema can: units, references, contradictions.",
        "type": "object",
        "required": ["schema"],
        "properties": { "schema": { "enum": [crate::CASE_SCHEMA, crate::KIT_SCHEMA, crate::RIG_SCHEMA, crate::KINETIC_SCHEMA] } },
        "allOf": [when(crate::CASE_SCHEMA, case), when(crate::KIT_SCHEMA, kit), when(crate::RIG_SCHEMA, rig), when(crate::KINETIC_SCHEMA, problem)],
        "$defs": defs,
    })
}

/// The name of a section among the definitions. Sections of one name differ by what they are for.
fn definition(s: &'static Section) -> String {
    let bare = [bare::POINT.about, bare::SLING.about, bare::LINE.about, bare::PULL.about, bare::LENGTH.about];
    let rig = [crate::keys::layout::AT_POINT.about];
    if bare.contains(&s.about) {
        format!("bare_{}", s.name)
    } else if rig.contains(&s.about) {
        format!("rig_{}", s.name)
    } else {
        s.name.trim_start_matches("the ").replace(' ', "_")
    }
}

/// The properties of a section and the names of those that must be there.
fn properties(s: &'static Section, defs: &mut Map<String, Value>) -> (Map<String, Value>, Vec<&'static str>) {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for key in s.keys {
        properties.insert(key.name.into(), property(key, defs));
        if matches!(key.need, Need::Must(_)) {
            required.push(key.name);
        }
    }
    (properties, required)
}

fn section(s: &'static Section, defs: &mut Map<String, Value>) -> Value {
    let (properties, required) = properties(s, defs);
    json!({
        "title": s.name,
        "description": s.about,
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

/// A section whose further keys go by the word of its `kind`.
fn section_of_kinds(s: &'static Section, kinds: &[&'static Section], defs: &mut Map<String, Value>) -> Value {
    let (common, required) = properties(s, defs);
    let mut by_kind = Vec::new();
    for kind in kinds {
        let (own, needed) = properties(kind, defs);
        let names: Vec<&str> = kind.keys.iter().chain(s.keys).map(|k| k.name).collect();
        by_kind.push(json!({
            "if": { "properties": { "kind": { "const": kind.name } }, "required": ["kind"] },
            "then": {
                "description": kind.about,
                "properties": own,
                "required": needed,
                "propertyNames": { "enum": names },
            },
        }));
    }
    json!({
        "title": s.name,
        "description": s.about,
        "type": "object",
        "properties": common,
        "required": required,
        "allOf": by_kind,
    })
}

fn refer(s: &'static Section, kinds: &[&'static Section], defs: &mut Map<String, Value>) -> Value {
    let name = definition(s);
    if !defs.contains_key(&name) {
        // A place for it first: the tables have no cycles, but a section may be met again on the way down.
        defs.insert(name.clone(), Value::Null);
        let made = if kinds.is_empty() { section(s, defs) } else { section_of_kinds(s, kinds, defs) };
        defs.insert(name.clone(), made);
    }
    json!({ "$ref": format!("#/$defs/{name}") })
}

fn property(key: &'static Key, defs: &mut Map<String, Value>) -> Value {
    let mut value = kind(&key.kind, defs);
    if key.assumable {
        let assumed = json!({
            "type": "object",
            "description": "An assumed value with the reason for it.",
            "properties": { "value": value, "assumed": { "type": "string", "minLength": 1 } },
            "required": ["value", "assumed"],
            "additionalProperties": false,
        });
        value = json!({ "anyOf": [value, assumed] });
    }
    let tail = match key.need {
        Need::Must(why) => format!("Must be there: {why}."),
        Need::May(absent) => format!("If left out: {absent}."),
    };
    let mut text = format!("{} {tail}", key.about);
    if let Kind::One(_, low, high) | Kind::Range(_, low, high) | Kind::Ranges(_, _, low, high) = key.kind {
        text.push_str(&format!(" From {low} to {high}."));
    }
    text.push_str(&format!(" Example: {}", key.example));
    if let Value::Object(o) = &mut value {
        o.insert("description".into(), text.into());
    }
    value
}

fn kind(k: &'static Kind, defs: &mut Map<String, Value>) -> Value {
    match *k {
        Kind::Text => json!({ "type": "string", "minLength": 1, "maxLength": crate::walk::LONGEST_TEXT }),
        Kind::Id => json!({ "type": "string", "minLength": 1, "maxLength": crate::walk::LONGEST_ID }),
        Kind::TableKey => json!({ "type": "string", "minLength": 1, "maxLength": crate::walk::LONGEST_ID }),
        Kind::Words(words) => json!({ "enum": words }),
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::Whole(low, high) => json!({ "type": "integer", "minimum": low, "maximum": high }),
        Kind::One(Quantity::Ratio, ..) | Kind::Range(Quantity::Ratio, ..) => json!({ "type": ["number", "string"] }),
        Kind::One(..) | Kind::Range(..) | Kind::Bearing => json!({ "type": "string", "pattern": "[0-9]" }),
        Kind::Ranges(n, Quantity::Ratio, ..) => json!({
            "type": "array",
            "items": { "type": ["number", "string", "object"] },
            "minItems": n,
            "maxItems": n,
        }),
        Kind::Ranges(n, ..) => {
            // Each of them may be marked as assumed; the program checks that more closely.
            json!({ "type": "array", "items": { "type": ["string", "object"] }, "minItems": n, "maxItems": n })
        }
        Kind::Counts(most, low, high) => json!({
            "type": "array",
            "items": { "type": "integer", "minimum": low, "maximum": high },
            "minItems": 1,
            "maxItems": most,
        }),
        Kind::Slope(_) | Kind::SlopeRange(_) | Kind::Heading => json!({ "type": "string", "minLength": 1 }),
        Kind::Position => json!({ "$ref": "#/$defs/place", "minItems": 3 }),
        Kind::Outline => {
            json!({ "type": "array", "items": { "$ref": "#/$defs/place" }, "minItems": 2, "maxItems": 200 })
        }
        Kind::Vector => json!({ "anyOf": [
            { "enum": ["ahead", "back", "left", "right", "up", "down"] },
            { "$ref": "#/$defs/place", "minItems": 3 },
        ] }),
        Kind::Label => json!({ "$ref": "#/$defs/label" }),
        Kind::Ids(most) => json!({ "type": "array", "items": { "type": "string", "minLength": 1 }, "maxItems": most }),
        Kind::Turns => json!({ "type": "array", "items": { "anyOf": [
            { "type": "number", "exclusiveMinimum": 0, "maximum": 1 },
            { "type": "object", "properties": { "ring": { "type": "number", "minimum": 0, "maximum": 2 } }, "required": ["ring"], "additionalProperties": false },
        ] } }),
        Kind::Table(s) => refer(s, &[], defs),
        Kind::Many(s, most) => json!({ "type": "array", "items": refer(s, &[], defs), "maxItems": most }),
        Kind::Kinds(s, kinds, most) => {
            json!({ "type": "array", "items": refer(s, kinds, defs), "maxItems": most })
        }
    }
}

fn label_schema() -> Value {
    let mut none = Map::new();
    json!({
        "anyOf": [
            { "type": "string", "minLength": 1, "description": "The text on the part; \"missing\" or \"unreadable\"." },
            section(&label::LABEL, &mut none),
        ],
    })
}

fn place_schema() -> Value {
    json!({
        "type": "array",
        "description": "Ahead, left, up: metres, or texts with units.",
        "items": { "type": ["number", "string"] },
        "minItems": 2,
        "maxItems": 3,
    })
}
