//! What the forms of the page are made from: the table of the job file's fields. The builder of the page puts it into the page.

use serde_json::{Map, Value, json};
use timber::draft::{LISTS, OwnDraft, SawDraft};
use timber::fields::{Field, Holds, Row};

/// Every list of fields by its name; the job's own are called `job`.
pub fn value() -> Value {
    let own = [("job", OwnDraft::FIELDS), ("saw", SawDraft::FIELDS)];
    let lists = own.into_iter().chain(LISTS).map(|(list, fields)| {
        let fields: Vec<Value> = fields.iter().map(form).collect();
        (list.to_owned(), fields.into())
    });
    Value::Object(lists.collect::<Map<_, _>>())
}

fn form(field: &Field) -> Value {
    let choices = match field.holds {
        Holds::Word(words) => Some(words.iter().map(choice).collect::<Vec<_>>()),
        _ => None,
    };
    json!({
        "name": field.name, "label": field.label, "hint": field.hint, "holds": field.holds.word(), "choices": choices,
    })
}

fn choice((value, label): &(&str, &str)) -> Value {
    json!({ "value": value, "label": label })
}
