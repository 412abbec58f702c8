//! The JSON Schema of the job file, made from the one table of fields.

use crate::limits::{self, Most};
use crate::quantities::RULES;
use crate::setout::{KindInfo, Sort, kinds};
use serde_json::{Map, Value, json};
use timber::draft::{
    OwnDraft, PartDraft, SawDraft, SectionDraft, ShedDraft, TermsDraft, YardDraft,
};
use timber::fields::{Field, Holds, Row, Said};

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
    for row in OwnDraft::FIELDS.iter().zip(OwnDraft::SAID) {
        properties.insert(row.0.name.into(), property(row));
    }
    properties.insert(
        "saw".into(),
        object::<SawDraft>("The saw, and what is worth keeping."),
    );
    properties.insert(
        "sections".into(),
        list::<SectionDraft>("Timber cross-sections as bought.", &limits::SECTIONS),
    );
    properties.insert(
        "yard".into(),
        list::<YardDraft>("The lengths the yard sells.", &limits::YARD),
    );
    properties.insert(
        "yards".into(),
        list::<TermsDraft>(
            "The yards and their terms, where there are any to be said.",
            &limits::YARDS,
        ),
    );
    properties.insert(
        "shed".into(),
        list::<ShedDraft>(
            "Boards already owned; they are used free of charge.",
            &limits::SHED,
        ),
    );
    let about = format!(
        "The cutting list; at most {} parts in all, and at most {} different mitre angles in one section.",
        limits::PARTS_IN_ALL.most,
        limits::ANGLES.most
    );
    properties.insert("parts".into(), list::<PartDraft>(&about, &limits::PARTS));
    properties.insert("set_outs".into(), set_outs());
    properties.insert("quantities".into(), quantities());
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
                "type": ["number", "string"],
                "maxLength": limits::FIELD.most,
            }
        }
    })
}

/// A schema for each kind of set-out, from the table that its form is made from.
fn set_outs() -> Value {
    let kinds: Vec<Value> = kinds().into_iter().map(set_out_kind).collect();
    json!({
        "description": "Named calculations that yield parts. A size may be a sum such as [Box] width + 2 x 20 that names sizes of other set-outs.",
        "type": "array",
        "maxItems": limits::SET_OUTS.most,
        "items": { "oneOf": kinds },
    })
}

fn set_out_kind(kind: &KindInfo) -> Value {
    let mut properties = Map::new();
    properties.insert(
        "name".into(),
        json!({ "type": "string", "maxLength": limits::NAME.most }),
    );
    properties.insert("kind".into(), json!({ "const": kind.kind }));
    for field in kind.all_fields() {
        let mut shape = match field.sort {
            Sort::Size | Sort::Length => json!({ "$ref": "#/$defs/length" }),
            Sort::Section | Sort::AnySection => json!({ "anyOf": [
                { "type": "string", "maxLength": limits::FIELD.most },
                { "type": "array", "items": { "type": "string" }, "minItems": 1 },
            ]}),
            Sort::Count { least, most } => {
                json!({ "type": ["integer", "string"], "minimum": least, "maximum": most })
            }
            Sort::Choice(words) => json!({ "enum": words }),
            Sort::Ends => ends(limits::FIELD.most),
            Sort::Face | Sort::Text => {
                json!({ "type": ["string", "number"], "maxLength": limits::NAME.most })
            }
        };
        if let Value::Object(shape) = &mut shape {
            let usual = field.usual.text(false);
            let usually = if usual.is_empty() {
                String::new()
            } else {
                format!(" Usually {usual}.")
            };
            let about = format!("{}: {}{usually}", field.label, field.hint);
            shape.insert("description".into(), about.into());
        }
        properties.insert(field.field.into(), shape);
    }
    json!({
        "title": kind.title,
        "description": kind.about,
        "type": "object",
        "required": ["kind"],
        "additionalProperties": false,
        "properties": properties,
    })
}

fn quantities() -> Value {
    let properties: Map<String, Value> = RULES
        .iter()
        .map(|rule| {
            let about = format!("{}: {}", rule.label, rule.hint);
            let shape = json!({ "description": about, "type": ["number", "string"] });
            (rule.field.to_owned(), shape)
        })
        .collect();
    json!({
        "description": "Rules behind the quantities; what is left out follows common practice.",
        "type": "object",
        "additionalProperties": false,
        "properties": properties,
    })
}

/// Both ends in one text, or one after the other.
fn ends(characters: usize) -> Value {
    json!({ "anyOf": [
        { "type": ["string", "number"], "maxLength": characters },
        { "type": "array", "items": { "type": ["string", "number"] }, "minItems": 2, "maxItems": 2 },
    ]})
}

fn list<R: Row>(about: &str, limit: &Most) -> Value {
    let mut item = object::<R>("");
    if let Value::Object(item) = &mut item {
        item.remove("description");
    }
    json!({ "description": about, "type": "array", "maxItems": limit.most, "items": item })
}

fn object<R: Row>(about: &str) -> Value {
    let rows = R::FIELDS.iter().zip(R::SAID);
    let properties: Map<String, Value> = rows
        .map(|row| (row.0.name.to_owned(), property(row)))
        .collect();
    // The section may be left out where the job has only one; a schema cannot express that, so it is not required.
    let needed: Vec<&str> = R::FIELDS
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

fn property((field, said): (&Field, &Said)) -> Value {
    let characters = field.characters.most;
    let mut shape = match field.holds {
        Holds::Text | Holds::Section => {
            json!({ "type": ["string", "number"], "maxLength": characters })
        }
        Holds::Length => json!({ "$ref": "#/$defs/length" }),
        Holds::TwoLengths => json!({ "anyOf": [
            { "$ref": "#/$defs/length" },
            { "type": "array", "items": { "$ref": "#/$defs/length" }, "minItems": 2, "maxItems": 2 },
        ]}),
        Holds::Count => {
            json!({ "type": ["integer", "string"], "minimum": 0, "maximum": field.most(), "maxLength": characters })
        }
        Holds::Mass => json!({ "type": ["number", "string"], "maxLength": characters }),
        Holds::Sides => json!({ "type": "string", "maxLength": characters }),
        Holds::Money | Holds::Price => {
            json!({ "type": ["number", "string"], "minimum": 0, "maxLength": characters })
        }
        Holds::Word(words) => {
            json!({ "enum": words.iter().map(|(word, _)| word).collect::<Vec<_>>() })
        }
        Holds::Stretches => json!({ "anyOf": [
            { "type": "string", "maxLength": characters },
            { "type": "array", "maxItems": limits::STRETCHES.most, "items": {
                "type": "array", "items": { "$ref": "#/$defs/length" }, "minItems": 2, "maxItems": 2 } },
        ]}),
        Holds::Sections => json!({ "anyOf": [
            { "type": "string", "maxLength": characters },
            { "type": "array", "items": { "type": "string" }, "minItems": 1, "maxItems": limits::CHOICES.most },
        ]}),
        Holds::Ends => ends(characters),
    };
    if let Value::Object(shape) = &mut shape {
        shape.insert("description".into(), said.about.into());
    }
    shape
}
