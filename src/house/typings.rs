//! The types of a job in TypeScript, from the schema of the job file.
//!
//! The schema is ours and uses few words of its language; one that is not known here is an error, so that no type is wider than the schema
//! without notice. Limits and meanings become comments.

use anyhow::{Context, Result, bail};
use serde_json::{Map, Value};

/// Words that say no more of a type, or that are told as comments.
const NO_TYPE: [&str; 9] = [
    "$schema",
    "title",
    "description",
    "maxItems",
    "minItems",
    "maxLength",
    "maximum",
    "minimum",
    "$defs",
];

/// The types of a job: `Job`, a type for the rows of each of its lists, and `Length`.
pub fn of_job(schema: &Value) -> Result<String> {
    let length = &schema["$defs"]["length"];
    let mut types = format!(
        "{}export type Length = {};\n",
        comment(length, ""),
        type_of(length, "")?
    );
    let fields = schema["properties"]
        .as_object()
        .context("a schema has properties")?;
    let mut job = schema.clone();
    for (name, field) in fields {
        let Some(rows) = field.get("items") else {
            continue;
        };
        let row = row_name(name)?;
        types.push_str(&format!(
            "\n{}export type {row} = {};\n",
            comment(field, ""),
            type_of(rows, "")?
        ));
        job["properties"][name]["items"] = serde_json::json!({ "$ref": format!("#/{row}") });
    }
    types.push_str(&format!(
        "\n{}export type Job = {};\n",
        comment(schema, ""),
        type_of(&job, "")?
    ));
    Ok(types)
}

fn row_name(list: &str) -> Result<&'static str> {
    Ok(match list {
        "sections" => "Section",
        "yard" => "YardLine",
        "yards" => "Yard",
        "shed" => "ShedBoard",
        "parts" => "Part",
        "set_outs" => "SetOut",
        "quantities" => "Quantity",
        other => bail!("the list \"{other}\" of a job has no name for its rows"),
    })
}

fn type_of(schema: &Value, indent: &str) -> Result<String> {
    let of = schema
        .as_object()
        .with_context(|| format!("{schema} is no schema"))?;
    if let Some(known) = of.get("$ref") {
        let known = known.as_str().and_then(|place| place.rsplit('/').next());
        return Ok(match known.context("a reference is a text")? {
            "length" => "Length".into(),
            row => row.into(),
        });
    }
    if let Some(value) = of.get("const") {
        return Ok(value.to_string());
    }
    if let Some(values) = of.get("enum").and_then(Value::as_array) {
        return Ok(values
            .iter()
            .map(Value::to_string)
            .collect::<Vec<_>>()
            .join(" | "));
    }
    if let Some(several) = of
        .get("oneOf")
        .or(of.get("anyOf"))
        .and_then(Value::as_array)
    {
        let types: Result<Vec<String>> = several.iter().map(|one| type_of(one, indent)).collect();
        return Ok(types?.join(" | "));
    }
    let unknown = of.keys().find(|word| {
        !NO_TYPE.contains(&word.as_str())
            && ![
                "type",
                "properties",
                "required",
                "additionalProperties",
                "items",
            ]
            .contains(&word.as_str())
    });
    if let Some(unknown) = unknown {
        bail!("the schema says \"{unknown}\", of which there is no type yet");
    }
    let names = match of.get("type") {
        Some(Value::Array(names)) => names.iter().filter_map(Value::as_str).collect(),
        Some(name) => name.as_str().into_iter().collect(),
        None if of.contains_key("properties") => vec!["object"],
        None => Vec::new(),
    };
    if names.is_empty() {
        bail!("{schema} has no type");
    }
    let types: Result<Vec<String>> = names
        .into_iter()
        .map(|name| named(name, of, indent))
        .collect();
    Ok(types?.join(" | "))
}

fn named(name: &str, of: &Map<String, Value>, indent: &str) -> Result<String> {
    Ok(match name {
        "string" | "boolean" | "null" => name.into(),
        "number" | "integer" => "number".into(),
        "array" => format!(
            "({})[]",
            type_of(of.get("items").context("a list has items")?, indent)?
        ),
        "object" => object(of, indent)?,
        other => bail!("there is no type for \"{other}\" yet"),
    })
}

fn object(of: &Map<String, Value>, indent: &str) -> Result<String> {
    let none = Map::new();
    let fields = of
        .get("properties")
        .and_then(Value::as_object)
        .unwrap_or(&none);
    let required = of.get("required").and_then(Value::as_array);
    let inner = format!("{indent}  ");
    let mut text = String::from("{\n");
    for (name, field) in fields {
        let must = required.is_some_and(|names| names.iter().any(|one| one == name));
        text.push_str(&format!(
            "{}{inner}{name}{}: {};\n",
            comment(field, &inner),
            if must { "" } else { "?" },
            type_of(field, &inner)?
        ));
    }
    text.push_str(&format!("{indent}}}"));
    Ok(text)
}

fn comment(of: &Value, indent: &str) -> String {
    match of["description"].as_str() {
        Some(said) => format!("{indent}/** {} */\n", said.replace("*/", "* /")),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_schema_becomes_a_type_with_its_comments() {
        let schema = json!({
            "$defs": { "length": { "type": ["number", "string"], "maxLength": 9 } },
            "type": "object", "required": ["format"], "additionalProperties": false,
            "properties": {
                "format": { "const": "lengthwise-job" },
                "parts": { "description": "The list.", "type": "array", "items": { "type": "object", "properties": {
                    "length": { "$ref": "#/$defs/length", "description": "How long." },
                    "way": { "enum": ["up", 2] },
                } } },
            },
        });
        let types = of_job(&schema).expect("types");
        assert!(types.contains("export type Length = number | string;"));
        assert!(types.contains("/** The list. */\nexport type Part = {\n  /** How long. */\n  length?: Length;\n  way?: \"up\" | 2;\n};"));
        assert!(types.contains("export type Job = {\n  format: \"lengthwise-job\";\n  /** The list. */\n  parts?: (Part)[];\n};"));
    }

    #[test]
    fn a_word_that_is_not_known_is_no_type() {
        for unknown in [
            json!({ "type": "string", "pattern": "a" }),
            json!({}),
            json!({ "type": "date" }),
        ] {
            assert!(type_of(&unknown, "").is_err(), "{unknown}");
        }
    }
}
