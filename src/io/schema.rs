//! The JSON Schema of the job file, made from the one table of fields.

use super::fields::{self, Field, Holds};
use crate::job::limits;
use serde_json::{Map, Value, json};

/// The schema as indented JSON.
pub fn text() -> String {
    // Plain data always serialises.
    serde_json::to_string_pretty(&value()).unwrap_or_default()
}

/// The schema as a value.
pub fn value() -> Value {
    let mut properties = Map::new();
    properties.insert("format".into(), json!({ "const": super::job_file::FORMAT }));
    properties.insert(
        "version".into(),
        json!({ "const": super::job_file::VERSION }),
    );
    for field in fields::JOB {
        properties.insert(field.name.into(), property(field));
    }
    properties.insert(
        "saw".into(),
        object("The saw, and what is worth keeping.", fields::SAW),
    );
    properties.insert(
        "sections".into(),
        list("Timber cross-sections as bought.", fields::SECTION),
    );
    properties.insert(
        "yard".into(),
        list("The lengths the yard sells.", fields::YARD),
    );
    properties.insert(
        "shed".into(),
        list(
            "Boards already owned; they are used free of charge.",
            fields::SHED,
        ),
    );
    properties.insert("parts".into(), list("The cutting list.", fields::PART));
    properties.insert("set_outs".into(), set_outs());
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Lengthwise job",
        "description": "A piece to be built, the timber there is, and what to make smallest. Lengths are a number in the unit of the job, or text as people write them.",
        "type": "object",
        "required": ["format", "version"],
        "additionalProperties": false,
        "properties": properties,
        "$defs": {
            "length": {
                "description": "1200, 1200 mm, 1.2 m, 1m20, 47.25\", 47 1/4\", 3' 11 1/4\", with a decimal comma where the job says so.",
                "type": ["number", "string"]
            }
        }
    })
}

fn set_outs() -> Value {
    json!({
        "description": "Named calculations that yield parts.",
        "type": "array",
        "items": {
            "type": "object",
            "required": ["kind"],
            "properties": { "name": { "type": "string" }, "kind": { "type": "string" } },
            "additionalProperties": { "type": ["string", "number", "boolean", "array"] }
        }
    })
}

fn list(about: &str, fields: &[Field]) -> Value {
    let mut item = object("", fields);
    if let Value::Object(item) = &mut item {
        item.remove("description");
    }
    json!({ "description": about, "type": "array", "maxItems": limits::ROWS, "items": item })
}

fn object(about: &str, fields: &[Field]) -> Value {
    let properties: Map<String, Value> = fields
        .iter()
        .map(|field| (field.name.to_owned(), property(field)))
        .collect();
    // A section may be left out where there is only one, which a schema cannot say.
    let needed: Vec<&str> = fields
        .iter()
        .filter(|field| field.needed && field.name != "section")
        .map(|field| field.name)
        .collect();
    json!({
        "description": about,
        "type": "object",
        "required": needed,
        "additionalProperties": false,
        "properties": properties,
    })
}

fn property(field: &Field) -> Value {
    let mut shape = match field.holds {
        Holds::Text => json!({ "type": ["string", "number"] }),
        Holds::Length => json!({ "$ref": "#/$defs/length" }),
        Holds::TwoLengths => json!({ "anyOf": [
            { "$ref": "#/$defs/length" },
            { "type": "array", "items": { "$ref": "#/$defs/length" }, "minItems": 2, "maxItems": 2 },
        ]}),
        Holds::Count => json!({ "type": ["integer", "string"], "minimum": 0 }),
        Holds::Money => json!({ "type": ["number", "string"], "minimum": 0 }),
        Holds::Word(words) => json!({ "enum": words }),
        Holds::Stretches => json!({ "anyOf": [
            { "type": "string" },
            { "type": "array", "items": {
                "type": "array", "items": { "$ref": "#/$defs/length" }, "minItems": 2, "maxItems": 2 } },
        ]}),
        Holds::Names => json!({ "anyOf": [
            { "type": "string" },
            { "type": "array", "items": { "type": "string" }, "minItems": 1 },
        ]}),
        Holds::Ends => json!({ "anyOf": [
            { "type": ["string", "number"] },
            { "type": "array", "items": { "type": ["string", "number"] }, "minItems": 2, "maxItems": 2 },
        ]}),
    };
    if let Value::Object(shape) = &mut shape {
        shape.insert("description".into(), field.about.into());
    }
    shape
}
