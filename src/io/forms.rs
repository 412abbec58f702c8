//! The data from which the page's forms are made: the table of the job file's fields. The page builder writes it into the page.

use serde_json::{Map, Value, json};
use timber::draft::{LISTS, OwnDraft, SawDraft};
use timber::fields::{Field, Holds, Row};

/// Every list's fields, by the list's name; the job's own fields are under `job`.
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
